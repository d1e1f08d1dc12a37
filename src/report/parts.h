/* parts.h - the lists behind "what turns how fast", for text and JSON. */
#ifndef HALFTURN_REPORT_PARTS_H
#define HALFTURN_REPORT_PARTS_H

#include "halfturn/report.h"

struct parts_row {
    char part[32];
    double multiple, hz, rpm, speed_m_s; /* rpm: of the part itself */
    double away;                         /* relative, in `could_be` */
};
struct parts_pair {
    char a[48], b[48];
    double hz_a, hz_b;
    bool same;
};
struct parts_unknown {
    char part[32];
};
struct parts_list {
    size_t rows, pairs, could_be, unknown;
    struct parts_row row[HT_ORDERS_MAX];
    struct parts_pair pair[64];
    struct parts_row match[16];
    struct parts_unknown part[HT_PARTS_MAX]; /* turns not known */
};

struct ht_json;
/* "parts", "coincide" and, when asked, "could_be" into the open object. */
void parts_json(struct ht_json *json, const struct parts_list *list);

/* Whether `hz` is looked for at more than one speed. */
bool parts_have_range(const struct ht_parts_request *request);

void parts_collect(struct parts_list *list,
                   const struct ht_parts_request *request);

#endif
