#include "text_parts.h"

#include "judged.h"
#include "lines.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <math.h>

static void put_state_level(struct ht_text *out,
                            const struct ht_order_result *r)
{
    if (r->state == HT_SEEN)
        ht_text_addf(out, REPORT_SEEN_LEVEL, shown_level(&r->level).text);
    else if (r->state == HT_NOT_SEEN && isfinite(r->least_seen))
        ht_text_addf(out, REPORT_NOT_SEEN_BELOW,
                     shown_significant(r->least_seen, 2).text);
    else
        ht_text_add(out, state_word(r->state));
}

/* Value and half of its 95 % range; nothing when it is not known. */
static void put_range(struct ht_text *out, const struct ht_order_result *r,
                      double value, double u)
{
    if (r->state == HT_SEEN && isfinite(value))
        ht_text_add(out, shown_plus_minus(value, 1.96 * u, 1).text);
}

static void put_row(struct table *table, const struct ht_order_result *r)
{
    struct ht_text text = { 0 };
    (void)order_name(&text, r->order.name);
    table_take(table, &text);
    put_state_level(&text, r);
    table_take(table, &text);
    if (r->state == HT_SEEN && isfinite(r->at_m_s))
        ht_text_add(&text, shown_speed(r->at_m_s).text);
    table_take(table, &text);
    put_range(&text, r, r->exponent, r->exponent_u);
    table_take(table, &text);
    put_range(&text, r, r->pull_db, r->pull_u_db);
    table_take(table, &text);
}

void text_orders(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_orders *orders = &workup->orders;
    const struct ht_order_result *sorted[HT_ORDERS_MAX];
    size_t count = orders_by_strength(orders, sorted, HT_ORDERS_MAX);
    static const char *const heads[] = { REPORT_HEAD_ORDER, REPORT_HEAD_LEVEL,
                                         REPORT_HEAD_WORST, REPORT_HEAD_GROWTH,
                                         REPORT_HEAD_PULL };
    struct table table = { .align = "cllll" };
    for (size_t i = 0; i < 5; i++)
        table_cell(&table, heads[i]);
    for (size_t i = 0; i < count; i++)
        put_row(&table, sorted[i]);
    ht_text_add(out, "\n");
    table_write(out, &table);
    struct ht_text text = { 0 };
    ht_text_addf(&text, REPORT_ORDER_COLUMNS, unit_text(orders->unit),
                 place_word(orders->place));
    if (!orders->calibrated) {
        next_sentence(&text);
        ht_text_add(&text, REPORT_NOT_CALIBRATED);
    }
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
}
