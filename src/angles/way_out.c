#include "way_out.h"

#include "note.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* In rising order of trouble. */
static const struct change {
    size_t repeats; /* of the reading alone */
    size_t anew;    /* yoke and gauge set again each time */
    double accuracy_deg;
    bool crosswise;
    const char *sentence; /* %1 times, %2 degrees */
} changes[HT_CHANGES] = {
    { 3, 0, 0, false, ANGLES_REPEAT },
    { 5, 0, 0, false, ANGLES_REPEAT },
    { 8, 0, 0, false, ANGLES_REPEAT },
    { 12, 0, 0, false, ANGLES_REPEAT },
    { 20, 0, 0, false, ANGLES_REPEAT },
    { 0, 0, 0.1, false, ANGLES_BETTER_GAUGE },
    { 0, 0, 0.05, false, ANGLES_BETTER_GAUGE },
    { 0, 0, 0.02, false, ANGLES_BETTER_GAUGE },
    { 0, 0, 0, true, ANGLES_ON_CAPS },
    { 0, 0, 0.1, true, ANGLES_GAUGE_ON_CAPS },
    { 0, 0, 0.05, true, ANGLES_GAUGE_ON_CAPS },
    { 0, 0, 0.02, true, ANGLES_GAUGE_ON_CAPS },
    { 0, 4, 0, true, ANGLES_SET_ANEW },
    { 0, 9, 0, true, ANGLES_SET_ANEW },
    { 0, 9, 0.05, true, ANGLES_GAUGE_SET_ANEW },
};
/* Set-up of a yoke that was set with the gauge crosswise on its cap. */
static const double crosswise_deg = 0.15;

double ht_quantity_share(const struct ht_spread *spread,
                         struct ht_quantity_ref quantity, double limit)
{
    const double *draws = spread->h2_rad;
    if (quantity.kind == HT_DRAWN_JOINT)
        draws = spread->joint_rad[quantity.index];
    if (quantity.kind == HT_DRAWN_PAIR)
        draws = spread->pair_rad[quantity.index];
    if (quantity.kind == HT_DRAWN_SECTION)
        draws = spread->section_rad;
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

/* Sets every yoke crosswise, `anew` times, and reads on the caps. One set-up
 * error does not depend on the next, so the mean's goes with the root. */
static bool set_crosswise(struct ht_driveline *driveline, size_t anew)
{
    double set_up =
        crosswise_deg * HT_RAD_PER_DEG / (anew > 0 ? sqrt((double)anew) : 1);
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
        else if (slope->crosswise_rad.count > 0 &&
                 ht_slope_set_up_rad(slope, 0, driveline->gauge) > set_up) {
            slope->set_up_rad = set_up;
            helps = true;
        }
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
        return set_crosswise(driveline, change->anew);
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

static void say_change(const struct change *change, char *buffer, size_t size)
{
    bool set_up = change->anew > 0 && !(change->accuracy_deg > 0);
    double degrees = set_up ? crosswise_deg / sqrt((double)change->anew)
                            : change->accuracy_deg;
    ht_sentence(buffer, size, change->sentence,
                (double)(change->repeats + change->anew), 0, degrees,
                set_up ? 3 : 2);
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
            say_change(&changes[i], buffer, size);
            return;
        }
    }
    snprintf(buffer, size, "%s",
             way_out->side_view_only ? ANGLES_HEADINGS_CAPS : ANGLES_TOO_CLOSE);
}
