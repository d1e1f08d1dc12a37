#include "common/shell.h"

#include "printable.h"

#include <string.h>

static bool is_bare(const char *word)
{
    static const char safe[] = "abcdefghijklmnopqrstuvwxyz"
                               "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./+,:@%-";
    return word[0] && word[strspn(word, safe)] == '\0';
}

static bool holds_control(const char *word)
{
    while (*word && !ht_control_length(word))
        word++;
    return *word != '\0';
}

/* $'...', of bash, zsh, ksh and POSIX 2024, 2.2.4. */
static void add_escaped(struct ht_text *text, const char *word)
{
    for (size_t control = 0; *word; word++) {
        if (control == 0)
            control = ht_control_length(word);
        if (control > 0)
            ht_text_addf(text, "\\%03o", (unsigned)(unsigned char)*word);
        else
            ht_text_addf(text, "%s%c", strchr("'\\", *word) ? "\\" : "",
                         *word);
        control -= control > 0;
    }
}

static void add_quoted(struct ht_text *text, const char *word)
{
    for (; *word; word++)
        if (*word == '\'')
            ht_text_add(text, "'\\''");
        else
            ht_text_add_bytes(text, word, 1);
}

void ht_text_shell_word(struct ht_text *text, const char *word)
{
    const char *before = word[0] == '-' ? "./" : "";
    if (is_bare(word)) {
        ht_text_addf(text, "%s%s", before, word);
        return;
    }
    bool control = holds_control(word);
    ht_text_addf(text, "%s'%s", control ? "$" : "", before);
    if (control)
        add_escaped(text, word);
    else
        add_quoted(text, word);
    ht_text_add(text, "'");
}
