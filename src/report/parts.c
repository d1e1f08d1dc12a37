#include "parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Nearer than this, two orders share a line in any short recording (a drive
 * of 100 wheel turns parts orders that are 1 % of a turn apart). */
static const double COINCIDE_RELATIVE = 0.02;
static const double MATCH_RELATIVE = 0.05;

static struct parts_row make_row(const struct ht_parts_request *request,
                                 const struct ht_order *order,
                                 double speed_m_s)
{
    const struct ht_rotation *rotation = request->rotation;
    struct parts_row row = {
        .multiple = order->multiple,
        .hz = ht_order_hz(rotation, order, speed_m_s),
        .speed_m_s = speed_m_s,
    };
    row.rpm = 60 * row.hz / order->multiple;
    (void)snprintf(row.part, sizeof row.part, "%s",
                   rotation->part[order->part].name);
    return row;
}

static void collect_rows(struct parts_list *list,
                         const struct ht_parts_request *request)
{
    const struct ht_rotation *rotation = request->rotation;
    for (size_t i = 0; i < rotation->orders; i++) {
        struct parts_row row =
            make_row(request, &rotation->order[i], request->speed_m_s);
        if (!isnan(row.hz))
            list->row[list->rows++] = row;
    }
    for (size_t p = 0; p < rotation->parts; p++)
        if (isnan(rotation->part[p].turns))
            memcpy(list->part[list->unknown++].part, rotation->part[p].name,
                   sizeof list->part[0].part);
}

static void collect_pairs(struct parts_list *list,
                          const struct ht_parts_request *request)
{
    struct ht_coincidence found[64];
    const struct ht_rotation *rotation = request->rotation;
    list->pairs = ht_rotation_coincide(rotation, COINCIDE_RELATIVE, found,
                                       sizeof found / sizeof found[0]);
    for (size_t i = 0; i < list->pairs; i++) {
        const struct ht_order *a = &rotation->order[found[i].order_a];
        const struct ht_order *b = &rotation->order[found[i].order_b];
        struct parts_pair *pair = &list->pair[i];
        memcpy(pair->a, a->name, sizeof pair->a);
        memcpy(pair->b, b->name, sizeof pair->b);
        pair->hz_a = ht_order_hz(rotation, a, request->speed_m_s);
        pair->hz_b = ht_order_hz(rotation, b, request->speed_m_s);
        pair->same = found[i].relative < 1e-9;
    }
}

bool parts_have_range(const struct ht_parts_request *request)
{
    return request->from_m_s < request->speed_m_s; /* not when it is NAN */
}

static void collect_matches(struct parts_list *list,
                            const struct ht_parts_request *request)
{
    struct ht_hz_match found[16];
    if (isnan(request->hz))
        return;
    double from_m_s = parts_have_range(request) ? request->from_m_s
                                                : request->speed_m_s;
    list->could_be = ht_rotation_match_hz(
        request->rotation, request->hz, from_m_s, request->speed_m_s,
        MATCH_RELATIVE, found, sizeof found / sizeof found[0]);
    for (size_t i = 0; i < list->could_be; i++) {
        list->match[i] =
            make_row(request, &request->rotation->order[found[i].order],
                     found[i].speed_m_s);
        list->match[i].away = found[i].relative;
    }
}

void parts_collect(struct parts_list *list,
                   const struct ht_parts_request *request)
{
    *list = (struct parts_list){ 0 };
    collect_rows(list, request);
    collect_pairs(list, request);
    collect_matches(list, request);
}
