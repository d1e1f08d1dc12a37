/* json_view.h - results as the JSON output shows them, and their tables.
 *
 * A view is filled from a workup (texts cleaned, units of the edges where a
 * table cannot convert), written by the tables, and freed with its arena.
 */
#ifndef HALFTURN_REPORT_JSON_VIEW_H
#define HALFTURN_REPORT_JSON_VIEW_H

#include "halfturn/document.h"
#include "halfturn/workup.h"

#include "common/memory.h"

struct json_joint {
    const char *between;
    double angle_rad, u_rad, low_rad, high_rad;
};
struct json_verdict {
    const char *what, *unit, *set, *source, *verdict, *way_out;
    size_t joint;
    bool is_minimum;
    double value, u, low, high, limit; /* degrees or rad/s2 */
    double probability_over;
};
struct json_texts {
    const char **text;
    size_t count;
};
struct json_angles {
    bool side_view_only, verdict_allowed, leftover_is_zero;
    struct json_joint *joints;
    size_t joint_count;
    struct ht_estimate leftover_rad;
    struct ht_accelerations accelerations;
    double speed_ripple;
    struct json_verdict *verdicts;
    size_t verdict_count;
    struct json_texts doubts, notes;
};

struct json_rival {
    const char *reading;
    double margin;
};
struct json_speed {
    const char *source, *state, *reason;
    double circumference_m, circumference_u_m, lag_s, lag_u_s, scale;
    bool circumference_found;
    size_t gear;
    struct json_rival *rivals;
    size_t rival_count;
};
struct json_bin {
    double from_m_s, to_m_s, level, low, high, least_seen;
    const char *state;
};
struct json_order {
    const char *part, *channel, *state, *reason, *unit;
    double multiple, wheel_order, at_m_s, level, low, high, least_seen;
    double exponent, exponent_u, pull_db, pull_u_db;
    struct json_bin *bins;
    size_t bin_count;
};
struct json_pair {
    const char *a, *b, *way_out;
    bool never;
};
struct json_orders {
    struct json_order *orders;
    size_t order_count;
    struct json_pair *pairs;
    size_t pair_count;
};

struct json_influence {
    const char *finding, *text;
    double times, without;
};
struct json_cause {
    const char *id, *title, *word, *repair, *caution;
    double probability;
    struct json_influence *raised, *lowered;
    size_t raised_count, lowered_count;
};
struct json_why {
    const char *id, *text;
};
struct json_next {
    const char *id, *question, *how;
    double minutes, gain;
    struct json_texts outcomes;
};
struct json_rank {
    struct json_why *safety, *struck;
    size_t safety_count, struck_count;
    const char *accused;
    struct json_cause *causes;
    size_t cause_count;
    struct json_texts unexplained, alike;
    double prior_mass_cut;
    struct json_next *next;
    size_t next_count;
};
struct json_stages {
    const char *key[HT_STAGES]; /* NULL: did not run, or has none */
};
struct json_rest {
    const char *title;
    struct json_texts missing, assumed, notes;
    struct json_stages stages;
};

extern const struct ht_schema json_angles_schema, json_speed_schema,
    json_orders_schema, json_rank_schema, json_rest_schema;

/* Texts of a fixed size, cleaned. All are false when out of memory. */
bool json_fill_texts(struct json_texts *view, const char *first, size_t size,
                       size_t count, struct ht_arena *arena);
#define JSON_TEXTS(view, array, count, arena)                                  \
    json_fill_texts((view), (array)[0], sizeof (array)[0], (count), (arena))

bool json_angles_from(struct json_angles *view, const struct ht_angles *angles,
                      struct ht_arena *arena);
bool json_speed_from(struct json_speed *view, const struct ht_workup *workup,
                     struct ht_arena *arena);
bool json_orders_from(struct json_orders *view, const struct ht_workup *workup,
                      struct ht_arena *arena);
bool json_rank_from(struct json_rank *view, const struct ht_workup *workup,
                    struct ht_arena *arena);
bool json_rest_from(struct json_rest *view, const struct ht_workup *workup,
                    struct ht_arena *arena);

/* A cleaned copy; NULL for NULL, for "" and when out of memory. */
const char *json_text_of(struct ht_arena *arena, const char *text);

/* docs/json.md, as the tables have it. */
void json_page(struct ht_text *out);

#endif
