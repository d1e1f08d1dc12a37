/* Findings from all that was measured and said, and the ranking. */
#include "stages.h"

#include "halfturn/document.h"

/* The known words of checks.seen or checks.sound that is nearest; or NULL. */
static const char *nearest_word(const char *word, bool sound)
{
    const char *names[2 * HT_FINDINGS_MAX + 1] = { NULL };
    size_t kinds, count = 0;
    const struct ht_finding_kind *kind = ht_finding_kinds(&kinds);
    for (size_t i = 0; i < kinds; i++) {
        const char *name = sound ? kind[i].sound_word : kind[i].subject;
        if (name && ht_finding_word_known(name, sound))
            names[count++] = name;
    }
    return ht_nearest_name(word, names);
}

static void name_unknown_words(struct ht_workup *workup, const char *key,
                               const struct ht_words *words, bool sound)
{
    for (size_t i = 0; i < words->count; i++) {
        const char *word = words->text[i];
        if (ht_finding_word_known(word, sound))
            continue;
        const char *near = nearest_word(word, sound);
        ht_stage_missing(workup,
                         "'%.60s' under checks, %s, is not a word that is "
                         "known, and says nothing.%s%s%s",
                         word, key, near ? " Is it '" : "", near ? near : "",
                         near ? "'?" : "");
    }
}

enum ht_status ht_stage_causes(const struct stage *stage)
{
    struct ht_workup *workup = stage->workup;
    struct ht_findings_input input = {
        .sheet = stage->sheet,
        .angles = workup->has_angles ? &workup->angles : NULL,
        .rotation = workup->has_rotation ? &workup->rotation : NULL,
        .turns = workup->has_turns ? &workup->turns : NULL,
        .orders = workup->has_orders ? &workup->orders : NULL,
    };
    if (!stage->options->causes)
        return HT_OK;
    name_unknown_words(workup, "seen", &stage->sheet->checks.seen, false);
    name_unknown_words(workup, "sound", &stage->sheet->checks.sound, true);
    ht_findings_collect(&workup->findings, &input);
    enum ht_status status =
        ht_catalogue_read(&workup->catalogue, stage->options->catalogue_path,
                          stage->err);
    if (status != HT_OK)
        return status;
    struct ht_ranking_request request = {
        .catalogue = workup->catalogue,
        .findings = &workup->findings,
        .sheet = stage->sheet,
    };
    status = ht_ranking_find(&workup->ranking, &request, stage->err);
    workup->has_ranking = status == HT_OK;
    return status;
}
