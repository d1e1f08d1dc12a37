#include "text_parts.h"

#include "lines.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <math.h>
#include <string.h>

enum { INFLUENCES_MOST = 3 }; /* each way; all are in the JSON output */

static void put_influences(struct ht_text *out, bool raised,
                           const struct ht_influence *list, size_t count)
{
    struct ht_text text = { 0 }, finding = { 0 };
    for (size_t i = 0; i < count && i < INFLUENCES_MOST; i++) {
        ht_text_addf(&text, raised ? REPORT_LIKELIER : REPORT_LESS_LIKELY,
                     cleaned(&finding, list[i].text),
                     shown_significant(list[i].times, 2).text,
                     in_100(list[i].without));
        put_paragraph(out, "      ", ht_text_get(&text));
        ht_text_end(out, &text);
    }
    ht_text_end(out, &finding);
}

static void put_cause(struct ht_text *out, const struct ht_ranked_cause *cause)
{
    struct ht_text text = { 0 }, title = { 0 };
    ht_text_addf(&text, REPORT_CAUSE_LINE, cleaned(&title, cause->title),
                 likelihood_word(cause->probability),
                 in_100(cause->probability));
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &title);
    put_influences(out, true, cause->raised_by, cause->raised);
    put_influences(out, false, cause->lowered_by, cause->lowered);
}

/* Causes that hold less than 5 in 100 are counted, not listed. */
static void put_rest(struct ht_text *out, size_t rest)
{
    struct ht_text text = { 0 };
    if (rest == 0)
        return;
    if (rest == 1)
        ht_text_add(&text, REPORT_ONE_MORE_CAUSE);
    else
        ht_text_addf(&text, REPORT_MORE_CAUSES, rest);
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

/* The titles of all causes that one reason rules out, as a list. */
static void list_struck(struct ht_text *out, const struct ht_ranking *ranking,
                        size_t first)
{
    struct ht_text title = { 0 };
    for (size_t k = first; k < ranking->struck_out; k++) {
        if (strcmp(ranking->struck[k].why, ranking->struck[first].why) != 0)
            continue;
        if (k > first)
            ht_text_add(out, "; ");
        ht_text_add(out, cleaned(&title, ranking->struck[k].title));
    }
    ht_text_end(out, &title);
}

/* One line for each reason, with all the causes that it rules out. */
static void put_struck(struct ht_text *out, const struct ht_ranking *ranking)
{
    struct ht_text lines = { 0 };
    for (size_t i = 0; i < ranking->struck_out; i++) {
        struct ht_text why = { 0 }, titles = { 0 };
        if (said_before(ranking, i))
            continue;
        list_struck(&titles, ranking, i);
        ht_text_addf(&lines, REPORT_STRUCK_LINE "\n",
                     cleaned(&why, ranking->struck[i].why),
                     ht_text_get(&titles));
        ht_text_end(&lines, &why);
        ht_text_end(&lines, &titles);
    }
    put_list(out, REPORT_STRUCK, ht_text_get(&lines));
    ht_text_end(out, &lines);
}

void text_causes(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_ranking *ranking = &workup->ranking;
    size_t shown = 0;
    ht_text_add(out, "\n" REPORT_CAUSES_LONG "\n");
    while (shown < ranking->causes &&
           (shown == 0 || ranking->cause[shown].probability >= 0.05))
        put_cause(out, &ranking->cause[shown++]);
    put_rest(out, ranking->causes - shown);
    const struct ht_ranked_cause *first = &ranking->cause[0];
    if (ranking->accused && first->repair) {
        struct ht_text text = { 0 };
        put_held(&text, first->repair);
        ht_text_add(out, "\n");
        put_paragraph(out, REPORT_REPAIR, ht_text_get(&text));
        ht_text_end(out, &text);
    }
    put_struck(out, ranking);
}
