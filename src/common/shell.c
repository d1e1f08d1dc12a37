#include "common/shell.h"

#include <string.h>

static bool is_bare(const char *word)
{
    static const char safe[] = "abcdefghijklmnopqrstuvwxyz"
                               "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./+,:@%-";
    return word[0] && word[strspn(word, safe)] == '\0';
}

void ht_text_shell_word(struct ht_text *text, const char *word)
{
    const char *before = word[0] == '-' ? "./" : "";
    if (is_bare(word)) {
        ht_text_addf(text, "%s%s", before, word);
        return;
    }
    ht_text_addf(text, "'%s", before);
    for (; *word; word++)
        if (*word == '\'')
            ht_text_add(text, "'\\''");
        else
            ht_text_add_bytes(text, word, 1);
    ht_text_add(text, "'");
}
