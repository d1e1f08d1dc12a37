/* What shakes and when, how strong at which speed, and every order asked. */
#include "page.h"

#include "figure.h"
#include "markup.h"
#include "shown.h"
#include "summary.h"
#include "texts.h"
#include "texts_figures.h"
#include "words.h"

#include <math.h>

static enum ht_status put_drawn(struct ht_text *out, const char *heading,
                                draw_function draw,
                                const struct subject *subject,
                                struct ht_error *err)
{
    struct ht_text figure = { 0 };
    enum ht_status status = page_figure(&figure, draw, subject, err);
    if (figure.length) {
        markup(out, "<div><section><h2>%t</h2>\n", heading);
        ht_text_add_bytes(out, ht_text_get(&figure), figure.length);
        ht_text_add(out, "</section></div>\n");
    }
    ht_text_end(out, &figure);
    return status;
}

enum ht_status page_orders(struct ht_text *out,
                           const struct ht_workup *workup,
                           struct ht_error *err)
{
    const struct subject subject = { .workup = workup };
    if (!workup->has_orders)
        return HT_OK;
    ht_text_add(out, "<div class=\"pair figures\">\n");
    enum ht_status status =
        put_drawn(out, REPORT_MAP, drawn_map, &subject, err);
    if (status == HT_OK)
        status = put_drawn(out, REPORT_CURVE, drawn_level, &subject, err);
    ht_text_add(out, "</div>\n");
    return status;
}

/* ---- every order -------------------------------------------------------- */

static void put_order_cells(struct ht_text *out,
                            const struct ht_order_result *r)
{
    struct ht_text text = { 0 };
    if (r->state == HT_SEEN && isfinite(r->at_m_s))
        ht_text_addf(&text, FIGURE_ROW_LEVEL_AT, shown_level(&r->level).text,
                     shown_speed(r->at_m_s).text);
    else if (r->state == HT_SEEN)
        ht_text_add(&text, shown_level(&r->level).text);
    else if (r->state == HT_NOT_SEEN && isfinite(r->least_seen))
        ht_text_addf(&text, FIGURE_ROW_BELOW,
                     shown_significant(r->least_seen, 2).text);
    markup(out, "<td>%t</td></tr>\n", ht_text_get(&text));
    ht_text_end(out, &text);
}

/* What the rows are, and their heads. */
static void put_rows_head(struct ht_text *out, const struct ht_orders *orders)
{
    double first = map_first_edge(orders);
    struct ht_text caption = { 0 }, axis = { 0 };
    ht_text_addf(&caption, FIGURE_ROWS_CAPTION, unit_text(orders->unit),
                 place_word(orders->place));
    ht_text_addf(&axis, FIGURE_ROWS_AXIS, shown_short(first).text,
                 shown_short(first * exp2(MAP_CLASSES - 2)).text);
    markup(out, "<section><h2>%t</h2>\n", REPORT_ORDERS);
    page_note(out, ht_text_get(&caption));
    markup(out, "<table><tr><th>%t</th><th class=\"strip\">%t</th><th>%t</th>"
           "</tr>\n", FIGURE_ROWS_ORDER, ht_text_get(&axis),
           FIGURE_ROWS_LEVEL);
    ht_text_end(out, &caption);
    ht_text_end(out, &axis);
}

static void put_more_rows(struct ht_text *out, size_t more)
{
    struct ht_text text = { 0 };
    if (more == 1)
        ht_text_add(&text, FIGURE_ROWS_ONE_MORE);
    else
        ht_text_addf(&text, FIGURE_ROWS_MORE, more);
    page_note(out, ht_text_get(&text));
    ht_text_end(out, &text);
}

void page_order_rows(struct ht_text *out, const struct ht_workup *workup)
{
    enum { ROWS_MOST = 16 };
    const struct ht_order_result *sorted[HT_ORDERS_MAX];
    struct ht_text name = { 0 };
    if (!workup->has_orders)
        return;
    size_t count = orders_by_strength(&workup->orders, sorted, HT_ORDERS_MAX);
    if (count == 0)
        return;
    put_rows_head(out, &workup->orders);
    for (size_t i = 0; i < count && i < ROWS_MOST; i++) {
        const char *family = family_class(order_family(workup, sorted[i]));
        markup(out, "<tr><td><b class=\"%s\">%t</b> %s</td><td "
               "class=\"strip\">", family,
               order_name(&name, sorted[i]->order.name),
               state_word(sorted[i]->state));
        draw_order_row(out, &workup->orders, sorted[i], family);
        ht_text_add(out, "</td>");
        put_order_cells(out, sorted[i]);
    }
    ht_text_end(out, &name);
    ht_text_add(out, "</table>\n");
    if (count > ROWS_MOST)
        put_more_rows(out, count - ROWS_MOST);
    ht_text_add(out, "</section>\n");
}
