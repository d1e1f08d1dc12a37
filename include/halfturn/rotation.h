/* rotation.h - what turns how fast: tyres, ratios, parts, orders.
 *
 * Pure; SI. An order is a multiple of a part's turns: multiple first, part
 * second ("2x shaft"). Sources and accuracy: docs/rotation.md.
 */
#ifndef HALFTURN_ROTATION_H
#define HALFTURN_ROTATION_H

#include "halfturn/sheet.h"
#include "halfturn/status.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    HT_PARTS_MAX = 32,
    HT_ORDERS_MAX = 64,
    HT_GEARS_MAX = 16,
    HT_ROTATION_NOTES_MAX = 12
};

enum ht_family {
    HT_FAMILY_WHEEL,
    HT_FAMILY_SHAFT,
    HT_FAMILY_ENGINE,
    HT_FAMILY_OTHER
};

struct ht_tyre {
    double width_m, aspect, rim_m, outer_m, circumference_m;
    double tolerance_low, tolerance_high; /* relative, for instance -0.025 */
    bool aspect_assumed; /* the code does not say it (11R22.5, 7.50R16) */
};

/* Reads a tyre code: 205/55R16, LT245/75R16, 295/75R22.5, 11R22.5, 7.50R16,
 * 31x10.50R15, 195R14C, with or without blanks, load index, speed letter. */
enum ht_status ht_tyre_read(struct ht_tyre *tyre, const char *code,
                            struct ht_error *err);

struct ht_part {
    char name[32]; /* "wheel", "shaft", "engine", "half-shaft",
                      "alternator", "axle mesh", ... */
    enum ht_family family;
    double turns;      /* per wheel turn; NAN: gear unknown */
    bool follows_gear; /* turns depend on the gear in use */
};

struct ht_order {
    size_t part; /* index into the parts */
    double multiple;
    char name[48]; /* "2x shaft" with U+00D7 */
};

struct ht_rotation {
    double circumference_m; /* NAN: tyre unknown */
    double circumference_low_m, circumference_high_m;
    double shaft_turns; /* per wheel turn; NAN: ratio unknown */
    double output_turns, hub_turns; /* gearbox output, half-shaft; likewise */
    double gear_turns[HT_GEARS_MAX]; /* engine turns per wheel turn */
    size_t gears;
    double cylinders, strokes; /* NAN unknown */
    size_t parts;
    struct ht_part part[HT_PARTS_MAX];
    size_t orders; /* those a road test is asked about */
    struct ht_order order[HT_ORDERS_MAX];
    size_t notes;
    /* what was assumed, what is missing */
    char note[HT_ROTATION_NOTES_MAX][200];
};

/* From the sheet's vehicle and drivelines; gear 1.., or 0: not known, then
 * the parts that follow the gear have turns NAN unless there is one gear. */
enum ht_status ht_rotation_from_vehicle(struct ht_rotation *rotation,
                                        const struct ht_sheet_vehicle *vehicle,
                                        unsigned gear, struct ht_error *err);

/* Turns of one driveline's shafts per wheel turn: what it says itself; to a
 * wheel, those of a half-shaft; from the gearbox to a transfer case, those of
 * the gearbox output; else those that the axle ratio gives, which is that of
 * every driven axle. `line` NULL: of a driveline that says nothing. NAN: not
 * known. */
double ht_rotation_line_turns(const struct ht_rotation *rotation,
                              const struct ht_sheet_driveline *line);

/* Frequency of an order at a road speed. NAN if a ratio is unknown. */
double ht_order_hz(const struct ht_rotation *rotation,
                   const struct ht_order *order, double speed_m_s);

/* The same counted in cycles per wheel turn. */
double ht_order_per_wheel(const struct ht_rotation *rotation,
                          const struct ht_order *order);

/* Pairs that are the same frequency (or nearer than `relative`) in this gear,
 * and answers to "which parts turn at this frequency". */
struct ht_coincidence {
    size_t order_a, order_b;
    double relative; /* |a-b| / a */
};
size_t ht_rotation_coincide(const struct ht_rotation *rotation, double relative,
                            struct ht_coincidence *found, size_t room);
struct ht_hz_match {
    size_t order;
    double speed_m_s;    /* where it comes nearest, the lowest of them */
    double hz, relative; /* there; (hz - asked) / asked */
};
/* Orders that come as near as `relative` at any speed from from_m_s to
 * to_m_s, which may be one speed; nearest first. */
size_t ht_rotation_match_hz(const struct ht_rotation *rotation, double hz,
                            double from_m_s, double to_m_s, double relative,
                            struct ht_hz_match *found, size_t room);

/* Where a frequency appears in samples taken at rate_hz: 0 to rate_hz / 2. */
double ht_order_image_hz(double hz, double rate_hz);

/* Speeds up to top_speed_m_s at which an order above half the rate folds down
 * onto another order below it. Rising speed. */
struct ht_image {
    size_t folded, seen;  /* orders: what folds, and onto which */
    double speed_m_s, hz; /* where they meet, at which frequency */
};
size_t ht_rotation_images(const struct ht_rotation *rotation, double rate_hz,
                          double top_speed_m_s, struct ht_image *found,
                          size_t room);

#endif
