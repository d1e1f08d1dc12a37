/* Looking things up in the table of findings. */
#include "findings/weigh.h"

#include <stdint.h>
#include <string.h>

size_t ht_finding_index(const char *id)
{
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(kinds[i].id, id) == 0)
            return i;
    return SIZE_MAX;
}

static bool is_word(const struct ht_finding_kind *kind, const char *word,
                    bool sound)
{
    if (kind->weigh != ht_weigh_word && kind->weigh != ht_weigh_yokes)
        return false;
    return strcmp(kind->subject, word) == 0 ||
           (sound && kind->sound_word && strcmp(kind->sound_word, word) == 0);
}

bool ht_finding_word_known(const char *word, bool sound)
{
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t i = 0; i < count; i++)
        if (is_word(&kinds[i], word, sound))
            return true;
    return false;
}
