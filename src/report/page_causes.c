/* Likely causes: bars, and arrows from where a cause would stand without a
 * finding to where it stands with it. */
#include "page.h"

#include "judged.h"
#include "markup.h"
#include "summary.h"
#include "words.h"

#include <math.h>

enum { BARS_MOST = 6, EXPLAINED = 2, ARROWS_MOST = 3 };

static void put_bar(struct ht_text *out, const struct ht_ranked_cause *cause)
{
    struct ht_text title = { 0 };
    clean_text(&title, cause->title);
    markup(out,
           "<div class=\"row\"><h3>%t</h3><span class=\"likely end\">%s "
           "<b>%d</b>" NBSP "in" NBSP "100</span></div>\n"
           "<svg role=\"img\" aria-label=\"%a: %s, %d in 100\" height=\"14\">"
           "<rect class=\"track\" width=\"100%%\" height=\"14\"/>"
           "<rect class=\"bar\" width=\"%n%%\" height=\"14\"/>",
           ht_text_get(&title), likelihood_word(cause->probability),
           in_100(cause->probability), ht_text_get(&title),
           likelihood_word(cause->probability), in_100(cause->probability),
           100 * cause->probability);
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
    struct ht_text text = { 0 };
    clean_text(&text, influence->text);
    markup(out, "<div class=\"why\"><div class=\"row\"><span>%t</span><span "
           "class=\"end\">without it" NBSP "%d</span></div>\n",
           ht_text_get(&text), in_100(influence->without));
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
        ht_text_add(out, "<p class=\"small\">Nothing measured so far moves "
                         "it.</p>\n");
    ht_text_add(out, "</div>\n");
}

static void put_weighed(struct ht_text *out, const struct ht_ranking *ranking,
                        size_t from)
{
    enum { WEIGHED_MOST = 6 };
    const char *word = "";
    if (from >= ranking->causes)
        return;
    ht_text_add(out, "<p class=\"small\"><b>Also weighed.</b>");
    for (size_t i = from; i < ranking->causes && i < from + WEIGHED_MOST; i++) {
        const struct ht_ranked_cause *cause = &ranking->cause[i];
        const char *own = likelihood_word(cause->probability);
        struct ht_text said = { 0 };
        if (own != word) {
            ht_text_add(&said, i > from ? ". " : " ");
            size_t at = said.length;
            ht_text_add(&said, own);
            capital(&said, at);
            ht_text_add(&said, ": ");
        } else {
            ht_text_add(&said, ", ");
        }
        word = own;
        size_t title = said.length;
        clean_text(&said, cause->title);
        small_letter(&said, title);
        ht_text_addf(&said, NBSP "%d", in_100(cause->probability));
        markup(out, "%t", ht_text_get(&said));
        ht_text_end(out, &said);
    }
    if (ranking->causes > from + WEIGHED_MOST)
        ht_text_addf(out, "; %zu more below that",
                     ranking->causes - from - WEIGHED_MOST);
    ht_text_add(out, ".</p>\n");
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
    ht_text_add(out, "<section><h2>Likely causes</h2>\n<p class=\"small\">Bar: "
                     "how likely. Arrows: what raised it (filled) or lowered "
                     "it (dashed), from its place without that finding. Two "
                     "causes can be true at once.</p>\n");
    for (size_t i = 0; i < bars; i++)
        put_cause(out, &ranking->cause[i], i < EXPLAINED);
    put_weighed(out, ranking, bars);
    ht_text_add(out, "<p class=\"small block-text\">" SAY_NOT_SAFE
                     "</p></section>\n");
}
