#include "way_out.h"

#include "note.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* In rising order of trouble. Set-up of a yoke that was set crosswise:
 * 0.15 degrees. */
static const struct change {
    size_t repeats;
    double accuracy_deg;
    bool crosswise;
    const char *sentence; /* %1 repeats, %2 degrees */
} changes[HT_CHANGES] = {
#define REPEAT(n)                                                              \
    {                                                                          \
        n, 0, false, "Read every cap %1 times."                                \
    }
#define GAUGE "No number of repeats will. A gauge of \302\261 %2\302\260 would."
#define CAPS                                                                   \
    "No number of repeats will. Reading on the caps, each yoke set with the "  \
    "gauge crosswise, would."
#define BOTH                                                                   \
    "No number of repeats will. A gauge of \302\261 %2\302\260 on the caps, "  \
    "each yoke set with the gauge crosswise, would."
    REPEAT(3),
    REPEAT(5),
    REPEAT(8),
    REPEAT(12),
    REPEAT(20),
    { 0, 0.1, false, GAUGE },
    { 0, 0.05, false, GAUGE },
    { 0, 0.02, false, GAUGE },
    { 0, 0, true, CAPS },
    { 0, 0.1, true, BOTH },
    { 0, 0.05, true, BOTH },
    { 0, 0.02, true, BOTH },
};
static const double crosswise_deg = 0.15;

double ht_quantity_share(const struct ht_spread *spread,
                         struct ht_quantity_ref quantity, double limit)
{
    const double *draws =
        quantity.kind == HT_DRAWN_JOINT  ? spread->joint_rad[quantity.index]
        : quantity.kind == HT_DRAWN_PAIR ? spread->pair_rad[quantity.index]
                                         : spread->h2_rad;
    return ht_share_above(draws, spread->draws, limit);
}

void ht_way_out_start(struct ht_way_out *way_out,
                      const struct ht_driveline *driveline, bool side_view_only)
{
    memset(way_out, 0, sizeof *way_out);
    way_out->driveline = driveline;
    way_out->side_view_only = side_view_only;
}

void ht_way_out_free(struct ht_way_out *way_out)
{
    for (size_t i = 0; i < HT_CHANGES; i++)
        ht_spread_free(&way_out->spread[i]);
}

static bool lower(double *value, double to)
{
    bool is_lower = *value > to;
    if (is_lower)
        *value = to;
    return is_lower;
}

/* Sets every yoke crosswise and reads on the caps. */
static bool set_crosswise(struct ht_driveline *driveline)
{
    double set_up = crosswise_deg * HT_RAD_PER_DEG;
    bool helps = lower(&driveline->gauge.set_up_rad, set_up);
    helps = helps || driveline->read_on != HT_SURFACE_CAP;
    driveline->read_on = HT_SURFACE_CAP;
    for (size_t i = 0; i < driveline->members; i++) {
        struct ht_sheet_slope *slope = &driveline->slope[i];
        helps = helps || (slope->read_on != HT_SURFACE_UNKNOWN &&
                          slope->read_on != HT_SURFACE_CAP);
        slope->read_on = HT_SURFACE_UNKNOWN;
        if (!isnan(slope->set_up_rad))
            helps = lower(&slope->set_up_rad, set_up) || helps;
    }
    return helps;
}

/* The driveline as it would be measured; false when nothing would change. */
static bool change_gauge(struct ht_driveline *driveline,
                         const struct change *change)
{
    bool helps = false;
    driveline->gauge = ht_gauge_filled(driveline->gauge);
    if (change->accuracy_deg > 0) {
        double accuracy = change->accuracy_deg * HT_RAD_PER_DEG;
        helps = lower(&driveline->gauge.accuracy_rad, accuracy);
        if (!helps)
            return false;
        lower(&driveline->gauge.step_rad, accuracy);
    }
    if (change->crosswise)
        return set_crosswise(driveline);
    return helps;
}

static bool change_repeats(struct ht_model *model, size_t repeats)
{
    bool helps = false;
    for (size_t i = 0; i < model->readings; i++) {
        struct ht_reading *reading = &model->reading[i];
        if (reading->scatter_rad > 0 && reading->repeats < repeats) {
            reading->repeats = repeats;
            helps = true;
        }
    }
    return helps;
}

static void try_change(struct ht_way_out *way_out, size_t i)
{
    struct ht_driveline driveline = *way_out->driveline;
    struct ht_model model;
    bool helps = change_gauge(&driveline, &changes[i]);
    ht_model_build(&model, &driveline);
    if (changes[i].repeats > 0)
        helps = change_repeats(&model, changes[i].repeats);
    way_out->tried[i] = true;
    way_out->helps[i] =
        helps && ht_spread_create(&way_out->spread[i], &model,
                                  HT_SPREAD_DRAWS_FEW, NULL) == HT_OK;
    if (helps && !way_out->helps[i])
        way_out->out_of_memory = true;
}

/* A side view decides in one direction only. */
static bool decides(const struct ht_way_out *way_out, double above)
{
    return above >= 0.95 || (above <= 0.05 && !way_out->side_view_only);
}

void ht_way_out_find(struct ht_way_out *way_out, char *buffer, size_t size,
                     struct ht_quantity_ref quantity, double limit)
{
    for (size_t i = 0; i < HT_CHANGES; i++) {
        if (!way_out->tried[i])
            try_change(way_out, i);
        if (!way_out->helps[i])
            continue;
        double above = ht_quantity_share(&way_out->spread[i], quantity, limit);
        if (decides(way_out, above)) {
            ht_sentence(buffer, size, changes[i].sentence,
                        (double)changes[i].repeats, 0, changes[i].accuracy_deg,
                        2);
            return;
        }
    }
    snprintf(buffer, size, "%s",
             way_out->side_view_only
                 ? "Measure the headings too, on the caps, each yoke set with "
                   "the gauge crosswise."
                 : "Too close to the limit for any gauge. Take it as at the "
                   "limit.");
}
