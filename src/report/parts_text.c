#include "parts.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

static void write_head(struct ht_text *out,
                       const struct ht_parts_request *request)
{
    const struct ht_rotation *rotation = request->rotation;
    ht_text_add(out, "At ");
    ht_text_significant(out, request->speed_m_s * HT_KM_H_PER_M_S, 3);
    ht_text_add(out, " km/h (");
    ht_text_significant(out, request->speed_m_s / HT_M_S_PER_MPH, 3);
    ht_text_add(out, " mph)");
    if (request->gear)
        ht_text_addf(out, " in gear %u", request->gear);
    if (isnan(rotation->circumference_m)) {
        ht_text_add(out, "\n\nThe tyre is not known, so nothing has a "
                         "frequency. Add 'tyre' under 'vehicle'.\n");
        return;
    }
    ht_text_add(out, "; one wheel turn is ");
    ht_text_number(out, rotation->circumference_m, 3);
    ht_text_add(out, " m (");
    ht_text_number(out, rotation->circumference_low_m, 3);
    ht_text_add(out, " to ");
    ht_text_number(out, rotation->circumference_high_m, 3);
    ht_text_add(out, ").\n\n");
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
    ht_text_add(out, " Hz");
    if (strstr(row->part, "mesh")) /* teeth, not turns */
        return;
    write_right(out, row->rpm, 0);
    ht_text_add(out, " rev/min");
}

static void write_pairs(struct ht_text *out, const struct parts_list *list)
{
    for (size_t i = 0; i < list->pairs; i++) {
        const struct parts_pair *pair = &list->pair[i];
        ht_text_add(out, i ? "" : "\nThese lie on each other, or nearly:\n");
        ht_text_addf(out, "  %s and %s", pair->a, pair->b);
        if (pair->same) {
            ht_text_add(out, ": the same in this gear. Another gear parts "
                             "them, or nothing does.\n");
            continue;
        }
        ht_text_add(out, ": ");
        ht_text_number(out, fabs(pair->hz_a - pair->hz_b), 2);
        ht_text_add(out, " Hz apart.\n");
    }
}

static void write_matches(struct ht_text *out, const struct parts_list *list,
                          double hz)
{
    if (isnan(hz))
        return;
    ht_text_add(out, "\nWhat could shake at ");
    ht_text_significant(out, hz, 3);
    ht_text_add(out, list->could_be ? " Hz (within 5 %):\n"
                                    : " Hz: none of these, within 5 %.\n");
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
    for (size_t i = 0; i < list->unknown; i++)
        ht_text_addf(out, "%s  %s\n", i ? "" : "\nNot known how fast:\n",
                     list->part[i].part);
    for (size_t i = 0; i < rotation->notes; i++)
        ht_text_addf(out, "%s%s\n", i ? "" : "\n", rotation->note[i]);
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
                           : ht_fail(err, HT_NO_MEMORY, "out of memory");
}
