#include "text_parts.h"

#include "judged.h"
#include "lines.h"
#include "markup.h"
#include "words.h"

#include <math.h>

static void cell(struct table *table, struct ht_text *text)
{
    table_cell(table, ht_text_get(text));
    ht_text_end(&table->cells, text);
}

static void put_state_level(struct ht_text *out,
                            const struct ht_order_result *r)
{
    ht_text_add(out, state_word(r->state));
    if (r->state == HT_SEEN) {
        ht_text_add(out, " ");
        put_level(out, &r->level);
    } else if (r->state == HT_NOT_SEEN && isfinite(r->least_seen)) {
        ht_text_add(out, ", below ");
        put_significant(out, r->least_seen, 2);
    }
}

static void put_growth(struct ht_text *out, const struct ht_order_result *r)
{
    if (r->state != HT_SEEN || !isfinite(r->exponent))
        return;
    put_number(out, r->exponent, 1);
    ht_text_add(out, NBSP PLUS_MINUS NBSP);
    put_number(out, 1.96 * r->exponent_u, 1);
}

static void put_pull(struct ht_text *out, const struct ht_order_result *r)
{
    if (r->state != HT_SEEN || !isfinite(r->pull_db))
        return;
    put_number(out, r->pull_db, 1);
    ht_text_add(out, NBSP PLUS_MINUS NBSP);
    put_number(out, 1.96 * r->pull_u_db, 1);
}

static void put_row(struct table *table, const struct ht_order_result *r)
{
    struct ht_text text = { 0 };
    put_order_name(&text, r->order.name);
    cell(table, &text);
    put_state_level(&text, r);
    cell(table, &text);
    if (r->state == HT_SEEN && isfinite(r->at_m_s))
        put_speed(&text, r->at_m_s);
    cell(table, &text);
    put_growth(&text, r);
    cell(table, &text);
    put_pull(&text, r);
    cell(table, &text);
}

void text_orders(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_orders *orders = &workup->orders;
    const struct ht_order_result *sorted[HT_ORDERS_MAX];
    size_t count = orders_by_strength(orders, sorted, HT_ORDERS_MAX);
    static const char *const heads[] = { "Order", "Level, 95 % range",
                                         "Worst at", "Growth", "Pull, dB" };
    struct table table = { .align = "cllll" };
    for (size_t i = 0; i < 5; i++)
        table_cell(&table, heads[i]);
    for (size_t i = 0; i < count; i++)
        put_row(&table, sorted[i]);
    ht_text_add(out, "\n");
    table_write(out, &table);
    struct ht_text text = { 0 };
    ht_text_addf(&text, "Level: %s peak, all axes, %s; 95" NBSP "%% range. "
                 "Growth: with speed to this power. Pull: level pulling over "
                 "level on overrun.",
                 unit_text(orders->unit), place_word(orders->place));
    if (!orders->calibrated)
        ht_text_add(&text, " Not calibrated: compare orders, not vehicles.");
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
}
