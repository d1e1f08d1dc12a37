/* What shakes and when, how strong at which speed, and every order asked. */
#include "page.h"

#include "figure.h"
#include "markup.h"
#include "summary.h"
#include "words.h"

#include <math.h>

static enum ht_status put_map(struct ht_text *out,
                              const struct ht_workup *workup,
                              struct ht_error *err)
{
    const struct ht_order_map *map = &workup->orders.map;
    if (map->across == 0 || map->up == 0)
        return HT_OK;
    ht_text_add(out, "<div><section><h2>What shakes, and when</h2>\n<p "
                     "class=\"small\">A part that shakes draws an upright "
                     "ridge at its own order. Shown is what stands above "
                     "the road noise. Left blank: not "
                     "driven.</p>\n<div class=\"plate\">\n");
    enum ht_status status = draw_order_map(out, workup, FIGURE_NARROW, err);
    if (status == HT_OK)
        status = draw_order_map(out, workup, FIGURE_WIDE, err);
    ht_text_add(out, "</div></section></div>\n");
    return status;
}

static void put_curve(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_order_result *chosen = strongest_order(&workup->orders);
    if (!chosen || chosen->bins == 0)
        return;
    struct ht_text speed = { 0 };
    say_speed(&speed, workup);
    markup(out, "<div><section><h2>How strong, at which speed</h2>\n<p "
           "class=\"small\">%t Band: 95" NBSP "%% range. Shaded: what drivers "
           "usually notice, and complain of.</p>\n<div class=\"plate\">\n",
           ht_text_get(&speed));
    ht_text_end(out, &speed);
    draw_level_curve(out, workup, chosen, FIGURE_NARROW);
    draw_level_curve(out, workup, chosen, FIGURE_WIDE);
    ht_text_add(out, "</div></section></div>\n");
}

enum ht_status page_orders(struct ht_text *out,
                           const struct ht_workup *workup,
                           struct ht_error *err)
{
    if (!workup->has_orders)
        return HT_OK;
    ht_text_add(out, "<div class=\"pair figures\">\n");
    enum ht_status status = put_map(out, workup, err);
    put_curve(out, workup);
    ht_text_add(out, "</div>\n");
    return status;
}

/* ---- every order -------------------------------------------------------- */

static void put_order_cells(struct ht_text *out,
                            const struct ht_order_result *r)
{
    struct ht_text text = { 0 };
    if (r->state == HT_SEEN) {
        put_level(&text, &r->level);
    } else if (r->state == HT_NOT_SEEN && isfinite(r->least_seen)) {
        ht_text_add(&text, "below" NBSP);
        put_significant(&text, r->least_seen, 2);
    }
    if (r->state == HT_SEEN && isfinite(r->at_m_s)) {
        ht_text_add(&text, " at ");
        put_speed(&text, r->at_m_s);
    }
    markup(out, "<td>%t</td></tr>\n", ht_text_get(&text));
    ht_text_end(out, &text);
}

void page_order_rows(struct ht_text *out, const struct ht_workup *workup)
{
    enum { ROWS_MOST = 16 };
    const struct ht_order_result *sorted[HT_ORDERS_MAX];
    if (!workup->has_orders)
        return;
    size_t count = orders_by_strength(&workup->orders, sorted, HT_ORDERS_MAX);
    struct ht_text axis = { 0 };
    if (count == 0)
        return;
    put_short(&axis, map_first_edge(&workup->orders));
    ht_text_add(&axis, " to ");
    put_short(&axis, map_first_edge(&workup->orders) *
                         exp2(MAP_CLASSES - 2));
    markup(out, "<section><h2>Every order, strongest first</h2>\n<p "
           "class=\"small\">%t peak, all axes, %s; each step of the axis "
           "doubles. Block: 95" NBSP "%% range. Dotted: up to the smallest "
           "level that would have been seen.</p>\n<table><tr><th>Order</th>"
           "<th class=\"strip\">%t</th><th>Level and range, at its worst "
           "speed</th></tr>\n",
           unit_text(workup->orders.unit), place_word(workup->orders.place),
           ht_text_get(&axis));
    ht_text_end(out, &axis);
    for (size_t i = 0; i < count && i < ROWS_MOST; i++) {
        const char *family = family_class(order_family(workup, sorted[i]));
        struct ht_text name = { 0 };
        put_order_name(&name, sorted[i]->order.name);
        markup(out, "<tr><td><b class=\"%s\">%t</b> %s</td><td "
               "class=\"strip\">", family, ht_text_get(&name),
               state_word(sorted[i]->state));
        ht_text_end(out, &name);
        draw_order_row(out, &workup->orders, sorted[i], family);
        ht_text_add(out, "</td>");
        put_order_cells(out, sorted[i]);
    }
    ht_text_add(out, "</table>\n");
    if (count > ROWS_MOST)
        ht_text_addf(out, "<p class=\"small\">%zu more are in the JSON "
                     "output.</p>\n", count - ROWS_MOST);
    ht_text_add(out, "</section>\n");
}
