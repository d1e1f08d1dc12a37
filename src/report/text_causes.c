#include "text_parts.h"

#include "lines.h"
#include "markup.h"
#include "words.h"

#include <string.h>

#include <math.h>

enum { INFLUENCES_MOST = 3 }; /* each way; all are in the JSON output */

static void put_influences(struct ht_text *out, const char *word,
                           const struct ht_influence *list, size_t count)
{
    for (size_t i = 0; i < count && i < INFLUENCES_MOST; i++) {
        struct ht_text text = { 0 };
        clean_text(&text, list[i].text);
        ht_text_addf(&text, ": ");
        put_significant(&text, list[i].times, 2);
        ht_text_addf(&text, NBSP "times %s; without it" NBSP "%d in 100.", word,
                     in_100(list[i].without));
        put_paragraph(out, "      ", ht_text_get(&text));
        ht_text_end(out, &text);
    }
}

static void put_cause(struct ht_text *out, const struct ht_ranked_cause *cause)
{
    struct ht_text text = { 0 };
    clean_text(&text, cause->title);
    ht_text_addf(&text, ": %s," NBSP "%d" NBSP "in" NBSP "100.",
                 likelihood_word(cause->probability),
                 in_100(cause->probability));
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
    put_influences(out, "likelier", cause->raised_by, cause->raised);
    put_influences(out, "less likely", cause->lowered_by, cause->lowered);
}

/* Causes that hold less than 5 in 100 are counted, not listed. */
static void put_rest(struct ht_text *out, size_t rest)
{
    struct ht_text text = { 0 };
    if (rest == 0)
        return;
    ht_text_addf(&text, "%zu more, each below 5 in 100.", rest);
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
}

static bool said_before(const struct ht_ranking *ranking, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(ranking->struck[k].why, ranking->struck[i].why) == 0)
            return true;
    return false;
}

/* One line for each reason, with all the causes that it rules out. */
static void put_struck(struct ht_text *out, const struct ht_ranking *ranking)
{
    struct ht_text lines = { 0 };
    for (size_t i = 0; i < ranking->struck_out; i++) {
        if (said_before(ranking, i))
            continue;
        clean_text(&lines, ranking->struck[i].why);
        const char *between = ": ";
        for (size_t k = i; k < ranking->struck_out; k++) {
            if (strcmp(ranking->struck[k].why, ranking->struck[i].why) != 0)
                continue;
            ht_text_add(&lines, between);
            clean_text(&lines, ranking->struck[k].id);
            between = ", ";
        }
        ht_text_add(&lines, "\n");
    }
    put_list(out, "Left out: this vehicle cannot have it", ht_text_get(&lines));
    ht_text_end(out, &lines);
}

void text_causes(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_ranking *ranking = &workup->ranking;
    size_t shown = 0;
    ht_text_add(out, "\nLikely causes of the shake. Two can be true at once\n");
    while (shown < ranking->causes &&
           (shown == 0 || ranking->cause[shown].probability >= 0.05))
        put_cause(out, &ranking->cause[shown++]);
    put_rest(out, ranking->causes - shown);
    const struct ht_ranked_cause *first = &ranking->cause[0];
    if (ranking->accused && first->repair) {
        struct ht_text text = { 0 };
        clean_text(&text, first->repair);
        ht_text_add(out, "\n");
        put_paragraph(out, "Repair: ", ht_text_get(&text));
        ht_text_end(out, &text);
    }
    put_struck(out, ranking);
}
