#include "parts.h"

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

static void write_head(struct ht_text *out,
                       const struct ht_parts_request *request)
{
    const struct ht_rotation *rotation = request->rotation;
    char turn[40], low[40], high[40];
    write_speed(out, request);
    if (isnan(rotation->circumference_m)) {
        ht_text_add(out, "\n\n" REPORT_PARTS_NO_TYRE "\n");
        return;
    }
    ht_format_number(turn, sizeof turn, rotation->circumference_m, 3);
    ht_format_number(low, sizeof low, rotation->circumference_low_m, 3);
    ht_format_number(high, sizeof high, rotation->circumference_high_m, 3);
    ht_text_addf(out, " " REPORT_PARTS_WHEEL "\n\n", turn, low, high);
}

static void pad(struct ht_text *out, size_t from, size_t width)
{
    size_t used = out->length - from;
    ht_text_addf(out, "%*s", used < width ? (int)(width - used) : 1, "");
}

static void write_right(struct ht_text *out, double value, int decimals)
{
    char number[40];
    ht_format_number(number, sizeof number, value, decimals);
    ht_text_addf(out, "%9s", number);
}

static void write_row(struct ht_text *out, const struct parts_row *row)
{
    size_t start = out->length;
    ht_text_add(out, "  ");
    ht_text_significant(out, row->multiple, row->multiple < 10 ? 2 : 3);
    while (out->length > start && out->bytes[out->length - 1] == '0' &&
           out->length > 2 && memchr(out->bytes + start, '.',
                                     out->length - start))
        out->bytes[--out->length] = '\0';
    if (out->length > start && out->bytes[out->length - 1] == '.')
        out->bytes[--out->length] = '\0';
    ht_text_addf(out, "\xc3\x97 %s", row->part);
    pad(out, start, 27);
    write_right(out, row->hz, 2);
    ht_text_add(out, REPORT_PARTS_HZ);
    if (strstr(row->part, "mesh")) /* teeth, not turns */
        return;
    write_right(out, row->rpm, 0);
    ht_text_add(out, REPORT_PARTS_REV_MIN);
}

static void write_pairs(struct ht_text *out, const struct parts_list *list)
{
    if (list->pairs)
        ht_text_add(out, "\n" REPORT_PARTS_COINCIDE "\n");
    for (size_t i = 0; i < list->pairs; i++) {
        const struct parts_pair *pair = &list->pair[i];
        char apart[40];
        ht_format_number(apart, sizeof apart, fabs(pair->hz_a - pair->hz_b),
                         2);
        if (pair->same)
            ht_text_addf(out, "  " REPORT_PARTS_SAME "\n", pair->a, pair->b);
        else
            ht_text_addf(out, "  " REPORT_PARTS_APART "\n", pair->a, pair->b,
                         apart);
    }
}

static void write_matches(struct ht_text *out, const struct parts_list *list,
                          double hz)
{
    char asked[40];
    if (isnan(hz))
        return;
    ht_format_significant(asked, sizeof asked, hz, 3);
    if (list->could_be == 0) {
        ht_text_addf(out, "\n" REPORT_PARTS_NO_MATCH "\n", asked);
        return;
    }
    ht_text_addf(out, "\n" REPORT_PARTS_MATCHES "\n", asked);
    for (size_t i = 0; i < list->could_be; i++) {
        write_row(out, &list->match[i]);
        ht_text_add(out, list->match[i].away < 0 ? "  -" : "  +");
        ht_text_number(out, 100 * fabs(list->match[i].away), 1);
        ht_text_add(out, " %\n");
    }
}

static void write_notes(struct ht_text *out, const struct parts_list *list,
                        const struct ht_rotation *rotation)
{
    if (list->unknown)
        ht_text_add(out, "\n" REPORT_PARTS_UNKNOWN "\n");
    for (size_t i = 0; i < list->unknown; i++)
        ht_text_addf(out, "  %s\n", list->part[i].part);
    if (rotation->notes)
        ht_text_add(out, "\n");
    for (size_t i = 0; i < rotation->notes; i++)
        ht_text_addf(out, "%s\n", rotation->note[i]);
}

enum ht_status ht_report_parts_text(struct ht_text *out,
                                    const struct ht_parts_request *request,
                                    struct ht_error *err)
{
    struct parts_list list;
    parts_collect(&list, request);
    write_head(out, request);
    for (size_t i = 0; i < list.rows; i++) {
        write_row(out, &list.row[i]);
        ht_text_add(out, "\n");
    }
    write_pairs(out, &list);
    write_matches(out, &list, request->hz);
    write_notes(out, &list, request->rotation);
    return ht_text_ok(out) ? HT_OK
                           : ht_fail(err, REPORT_NO_MEMORY_PARTS);
}
