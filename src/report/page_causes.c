/* Likely causes: bars, and arrows from where a cause would stand without a
 * finding to where it stands with it. */
#include "page.h"

#include "judged.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "texts_figures.h"
#include "words.h"

#include <math.h>

enum { BARS_MOST = 6, EXPLAINED = 2, ARROWS_MOST = 3 };

static void put_bar(struct ht_text *out, const struct ht_ranked_cause *cause)
{
    struct ht_text title = { 0 }, label = { 0 };
    const char *word = likelihood_word(cause->probability);
    int hundred = in_100(cause->probability);
    ht_text_addf(&label, FIGURE_CAUSE_BAR, cleaned(&title, cause->title), word,
                 hundred);
    markup(out,
           "<div class=\"row\"><h3>%t</h3><span class=\"likely end\">%s "
           "<b>%d</b>" NBSP "in" NBSP "100</span></div>\n"
           "<svg role=\"img\" aria-label=\"%a\" height=\"14\">"
           "<rect class=\"track\" width=\"100%%\" height=\"14\"/>"
           "<rect class=\"bar\" width=\"%n%%\" height=\"14\"/>",
           ht_text_get(&title), word, hundred, ht_text_get(&label),
           100 * cause->probability);
    ht_text_end(out, &label);
    for (int quarter = 25; quarter < 100; quarter += 25)
        markup(out, "<line class=\"quarter\" x1=\"%d%%\" x2=\"%d%%\" "
               "y2=\"14\"/>", quarter, quarter);
    ht_text_add(out, "</svg>\n");
    ht_text_end(out, &title);
}

/* Heads lie in nested drawings: a path cannot be placed in percent. */
static void put_arrow(struct ht_text *out, double from, double to, bool raised)
{
    const char *head = raised ? "M0 0l-8 -4v8z" : "M0 0l8 -4v8z";
    markup(out,
           "<svg aria-hidden=\"true\" height=\"12\"><line class=\"rail\" "
           "y1=\"6\" x2=\"100%%\" y2=\"6\"/><line class=\"%s\" x1=\"%n%%\" "
           "y1=\"6\" x2=\"%n%%\" y2=\"6\"/><svg x=\"%n%%\" y=\"6\"><path "
           "class=\"%s\" d=\"%s\"/></svg><circle class=\"%s\" cx=\"%n%%\" "
           "cy=\"6\" r=\"3.2\"/></svg>\n",
           raised ? "up" : "down", 100 * from, 100 * to, 100 * to,
           raised ? "up" : "down-head", head, raised ? "start" : "start low",
           100 * from);
}

static void put_influence(struct ht_text *out,
                          const struct ht_ranked_cause *cause,
                          const struct ht_influence *influence, bool raised)
{
    struct ht_text text = { 0 }, without = { 0 };
    put_held(&text, influence->text);
    ht_text_addf(&without, FIGURE_WITHOUT_IT, in_100(influence->without));
    markup(out, "<div class=\"why\"><div class=\"row\"><span>%t</span><span "
           "class=\"end\">%t</span></div>\n",
           ht_text_get(&text), ht_text_get(&without));
    ht_text_end(out, &without);
    put_arrow(out, influence->without, cause->probability, raised);
    ht_text_add(out, "</div>\n");
    ht_text_end(out, &text);
}

static void put_why(struct ht_text *out, const struct ht_ranked_cause *cause)
{
    size_t shown = 0;
    for (size_t i = 0; i < cause->raised && shown < ARROWS_MOST; i++, shown++)
        put_influence(out, cause, &cause->raised_by[i], true);
    for (size_t i = 0; i < cause->lowered && shown < ARROWS_MOST; i++, shown++)
        put_influence(out, cause, &cause->lowered_by[i], false);
}

static void put_cause(struct ht_text *out, const struct ht_ranked_cause *cause,
                      bool explained)
{
    ht_text_add(out, "<div class=\"cause\">");
    put_bar(out, cause);
    if (explained)
        put_why(out, cause);
    if (cause->raised + cause->lowered == 0 && !is_nothing_abnormal(cause))
        page_note(out, FIGURE_NOTHING_MOVES_IT);
    ht_text_add(out, "</div>\n");
}

/* Causes of one likelihood word, as a list; returns where the next begins. */
static size_t list_alike(struct ht_text *out, const struct ht_ranking *ranking,
                         size_t from, size_t end)
{
    const char *word = likelihood_word(ranking->cause[from].probability);
    struct ht_text title = { 0 };
    size_t i = from;
    for (; i < end; i++) {
        const struct ht_ranked_cause *cause = &ranking->cause[i];
        if (likelihood_word(cause->probability) != word)
            break;
        if (i > from)
            ht_text_add(out, "; ");
        ht_text_addf(out, FIGURE_WEIGHED_CAUSE, cleaned(&title, cause->title),
                     in_100(cause->probability));
    }
    ht_text_end(out, &title);
    return i;
}

static void put_weighed(struct ht_text *out, const struct ht_ranking *ranking,
                        size_t from)
{
    enum { WEIGHED_MOST = 6 };
    struct ht_text said = { 0 };
    size_t end = from + WEIGHED_MOST < ranking->causes ? from + WEIGHED_MOST
                                                       : ranking->causes;
    if (from >= ranking->causes)
        return;
    ht_text_add(&said, FIGURE_ALSO_WEIGHED);
    for (size_t i = from; i < end;) {
        struct ht_text list = { 0 };
        double probability = ranking->cause[i].probability;
        i = list_alike(&list, ranking, i, end);
        next_sentence(&said);
        ht_text_addf(&said, FIGURE_WEIGHED, likelihood_first_word(probability),
                     ht_text_get(&list));
        ht_text_end(&said, &list);
    }
    if (ranking->causes > end) {
        next_sentence(&said);
        if (ranking->causes - end == 1)
            ht_text_add(&said, FIGURE_ONE_MORE_BELOW);
        else
            ht_text_addf(&said, FIGURE_MORE_BELOW, ranking->causes - end);
    }
    page_note(out, ht_text_get(&said));
    ht_text_end(out, &said);
}

/* Three bars when they hold the matter, up to six while it is open. */
static size_t count_bars(const struct ht_ranking *ranking)
{
    size_t bars = 0;
    while (bars < ranking->causes && bars < BARS_MOST &&
           ranking->cause[bars].probability >= 0.10)
        bars++;
    return bars ? bars : ranking->causes > 0;
}

void page_causes(struct ht_text *out, const struct ht_workup *workup)
{
    if (!first_cause(workup))
        return;
    const struct ht_ranking *ranking = &workup->ranking;
    size_t bars = count_bars(ranking);
    markup(out, "<section><h2>%t</h2>\n", REPORT_CAUSES);
    page_note(out, FIGURE_CAUSES_CAPTION);
    for (size_t i = 0; i < bars; i++)
        put_cause(out, &ranking->cause[i], i < EXPLAINED);
    put_weighed(out, ranking, bars);
    markup(out, "<p class=\"small block-text\">%t</p></section>\n",
           REPORT_NOT_SAFE);
}
