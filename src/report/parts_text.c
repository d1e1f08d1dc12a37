#include "parts.h"

#include "lines.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

static void write_speed(struct ht_text *out,
                        const struct ht_parts_request *request)
{
    char km_h[40], mph[40];
    ht_format_significant(km_h, sizeof km_h,
                          request->speed_m_s * HT_KM_H_PER_M_S, 3);
    ht_format_significant(mph, sizeof mph,
                          request->speed_m_s / HT_M_S_PER_MPH, 3);
    if (request->gear)
        ht_text_addf(out, REPORT_PARTS_AT_GEAR, km_h, mph, request->gear);
    else
        ht_text_addf(out, REPORT_PARTS_AT, km_h, mph);
}

static void end_paragraph(struct ht_text *out, const char *lead,
                          struct ht_text *text)
{
    put_paragraph(out, lead, ht_text_get(text));
    ht_text_end(out, text);
}

static void write_head(struct ht_text *out,
                       const struct ht_parts_request *request)
{
    const struct ht_rotation *rotation = request->rotation;
    struct ht_text text = { 0 };
    char turn[40], low[40], high[40];
    write_speed(&text, request);
    if (isnan(rotation->circumference_m)) {
        end_paragraph(out, "", &text);
        ht_text_add(out, "\n");
        put_paragraph(out, "", REPORT_PARTS_NO_TYRE);
        return;
    }
    ht_format_number(turn, sizeof turn, rotation->circumference_m, 3);
    ht_format_number(low, sizeof low, rotation->circumference_low_m, 3);
    ht_format_number(high, sizeof high, rotation->circumference_high_m, 3);
    ht_text_addf(&text, " " REPORT_PARTS_WHEEL, turn, low, high);
    end_paragraph(out, "", &text);
    ht_text_add(out, "\n");
}

/* 2, 1.5, 41: no more decimals than it has. */
static void write_multiple(struct ht_text *text, double multiple)
{
    char number[40];
    ht_format_significant(number, sizeof number, multiple,
                          multiple < 10 ? 2 : 3);
    size_t length = strlen(number);
    while (strchr(number, '.') && strchr("0.", number[length - 1]))
        number[--length] = '\0';
    ht_text_addf(text, "%s\xc3\x97 ", number);
}

static void add_row(struct table *table, const struct parts_row *row)
{
    struct ht_text text = { 0 };
    char number[40];
    write_multiple(&text, row->multiple);
    clean_text(&text, row->part);
    table_take(table, &text);
    ht_format_number(number, sizeof number, row->hz, 2);
    ht_text_addf(&text, REPORT_PARTS_HZ, number);
    table_take(table, &text);
    ht_format_number(number, sizeof number, row->rpm, 0);
    if (!strstr(row->part, "mesh")) /* teeth, not turns */
        ht_text_addf(&text, REPORT_PARTS_REV_MIN, number);
    table_take(table, &text);
}

static void write_rows(struct ht_text *out, const struct parts_list *list)
{
    struct table table = { .align = "crr" };
    for (size_t i = 0; i < list->rows; i++)
        add_row(&table, &list->row[i]);
    table_write(out, &table);
}

static void write_pairs(struct ht_text *out, const struct parts_list *list)
{
    if (list->pairs)
        ht_text_add(out, "\n" REPORT_PARTS_COINCIDE "\n");
    for (size_t i = 0; i < list->pairs; i++) {
        const struct parts_pair *pair = &list->pair[i];
        struct ht_text text = { 0 }, a = { 0 }, b = { 0 };
        char apart[40];
        ht_format_number(apart, sizeof apart, fabs(pair->hz_a - pair->hz_b),
                         2);
        ht_text_addf(&text,
                     pair->same ? REPORT_PARTS_SAME : REPORT_PARTS_APART,
                     order_name(&a, pair->a), order_name(&b, pair->b), apart);
        ht_text_end(&text, &a);
        ht_text_end(&text, &b);
        end_paragraph(out, "  ", &text);
    }
}

static void say_matches(struct ht_text *out, const struct parts_list *list,
                        const struct ht_parts_request *request)
{
    struct ht_text text = { 0 };
    char hz[40], from[40], to[40];
    bool none = list->could_be == 0;
    ht_format_significant(hz, sizeof hz, request->hz, 3);
    ht_format_significant(from, sizeof from,
                          request->from_m_s * HT_KM_H_PER_M_S, 3);
    ht_format_significant(to, sizeof to, request->speed_m_s * HT_KM_H_PER_M_S,
                          3);
    if (parts_have_range(request))
        ht_text_addf(&text,
                     none ? REPORT_PARTS_NO_MATCH_RANGE
                          : REPORT_PARTS_MATCHES_RANGE,
                     hz, from, to);
    else
        ht_text_addf(&text, none ? REPORT_PARTS_NO_MATCH
                                 : REPORT_PARTS_MATCHES, hz);
    ht_text_add(out, "\n");
    end_paragraph(out, "", &text);
}

/* At which speed, and how far off it is there. */
static void add_match(struct table *table, const struct parts_row *row,
                      bool range)
{
    struct ht_text text = { 0 };
    char number[40];
    add_row(table, row);
    ht_format_significant(number, sizeof number,
                          row->speed_m_s * HT_KM_H_PER_M_S, 3);
    if (range)
        ht_text_addf(&text, REPORT_PARTS_MET_AT, number);
    table_take(table, &text);
    ht_format_number(number, sizeof number, 100 * fabs(row->away), 1);
    if (!range || row->away != 0)
        ht_text_addf(&text, REPORT_PARTS_AWAY, row->away < 0 ? "-" : "+",
                     number);
    table_take(table, &text);
}

static void write_matches(struct ht_text *out, const struct parts_list *list,
                          const struct ht_parts_request *request)
{
    struct table table = { .align = "crrrr" };
    if (isnan(request->hz))
        return;
    say_matches(out, list, request);
    for (size_t i = 0; i < list->could_be; i++)
        add_match(&table, &list->match[i], parts_have_range(request));
    table_write(out, &table);
}

static void write_cleaned(struct ht_text *out, const char *lead,
                          const char *text)
{
    struct ht_text clean = { 0 };
    clean_text(&clean, text);
    end_paragraph(out, lead, &clean);
}

static void write_notes(struct ht_text *out, const struct parts_list *list,
                        const struct ht_rotation *rotation)
{
    if (list->unknown)
        ht_text_add(out, "\n" REPORT_PARTS_UNKNOWN "\n");
    for (size_t i = 0; i < list->unknown; i++)
        write_cleaned(out, "  ", list->part[i].part);
    if (rotation->notes)
        ht_text_add(out, "\n");
    for (size_t i = 0; i < rotation->notes; i++)
        write_cleaned(out, "", rotation->note[i]);
}

enum ht_status ht_report_parts_text(struct ht_text *out,
                                    const struct ht_parts_request *request,
                                    struct ht_error *err)
{
    struct parts_list list;
    parts_collect(&list, request);
    write_head(out, request);
    write_rows(out, &list);
    write_pairs(out, &list);
    write_matches(out, &list, request);
    write_notes(out, &list, request->rotation);
    return ht_text_ok(out) ? HT_OK
                           : ht_fail(err, REPORT_NO_MEMORY_PARTS);
}
