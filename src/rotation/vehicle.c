/* vehicle.c - from the sheet's vehicle to parts with turns per wheel turn. */
#include "names.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

/* A given number of turns per distance still moves with load, pressure and
 * speed (service literature asks for 2 % either way). */
#define GIVEN_TURNS_TOLERANCE 0.02
/* Rounding of a printed ratio: 41:11 = 3.727 is printed 3.73. */
#define RATIO_DISAGREES 0.01

#define given ht_rotation_given
#define note ht_rotation_note

static enum ht_status set_tyre(struct ht_rotation *r,
                               const struct ht_sheet_vehicle *vehicle,
                               struct ht_error *err)
{
    struct ht_tyre tyre = { 0 };
    bool from_code = false;
    if (vehicle->tyre) {
        enum ht_status status = ht_tyre_read(&tyre, vehicle->tyre, err);
        if (status != HT_OK)
            return status;
        from_code = true;
        r->circumference_m = tyre.circumference_m;
        r->circumference_low_m =
            tyre.circumference_m * (1 + tyre.tolerance_low);
        r->circumference_high_m =
            tyre.circumference_m * (1 + tyre.tolerance_high);
    }
    if (given(vehicle->tyre_turns_per_m)) {
        double c = 1 / vehicle->tyre_turns_per_m;
        if (from_code && fabs(c / r->circumference_m - 1) > 0.05)
            note(r, ROTATION_TYRE_TURNS_DISAGREE,
                 100 * fabs(c / r->circumference_m - 1));
        r->circumference_m = c;
        r->circumference_low_m = c * (1 - GIVEN_TURNS_TOLERANCE);
        r->circumference_high_m = c * (1 + GIVEN_TURNS_TOLERANCE);
    } else if (!from_code) {
        note(r, ROTATION_TYRE_UNKNOWN);
    } else if (tyre.aspect_assumed) {
        note(r, ROTATION_TYRE_HEIGHT_TAKEN, 100 * tyre.aspect);
    }
    return HT_OK;
}

/* NAN when nothing is given. */
static enum ht_status axle_ratio(double *ratio,
                                 const struct ht_sheet_vehicle *vehicle,
                                 struct ht_error *err)
{
    *ratio = NAN;
    const struct ht_numbers *teeth = &vehicle->axle_teeth;
    if (teeth->count > 0) {
        if (teeth->count != 2)
            return ht_fail(err, ROTATION_TEETH_COUNT, teeth->count);
        if (!given(teeth->value[0]) || !given(teeth->value[1]))
            return ht_fail(err, ROTATION_TEETH_ZERO, teeth->value[0],
                           teeth->value[1]);
        *ratio = teeth->value[0] / teeth->value[1];
        if (*ratio < 1)
            return ht_fail(err, ROTATION_TEETH_SWAPPED, teeth->value[0],
                           teeth->value[1], teeth->value[1], teeth->value[0]);
    }
    if (!given(vehicle->axle_ratio))
        return HT_OK;
    if (isfinite(*ratio) &&
        fabs(vehicle->axle_ratio / *ratio - 1) > RATIO_DISAGREES)
        return ht_fail(err, ROTATION_RATIOS_DISAGREE, teeth->value[0],
                       teeth->value[1], *ratio, vehicle->axle_ratio);
    if (!isfinite(*ratio))
        *ratio = vehicle->axle_ratio;
    return HT_OK;
}

static double hub_ratio(struct ht_rotation *r,
                        const struct ht_sheet_vehicle *vehicle)
{
    if (given(vehicle->hub_ratio))
        return vehicle->hub_ratio;
    if (vehicle->class == HT_CLASS_HEAVY_TRUCK ||
        vehicle->class == HT_CLASS_BUS)
        note(r, ROTATION_NO_HUB_TAKEN);
    return 1;
}

static enum ht_status transfer_ratio(double *ratio, struct ht_rotation *r,
                                     const struct ht_sheet_vehicle *vehicle,
                                     struct ht_error *err)
{
    *ratio = 1;
    bool fitted = given(vehicle->transfer_high) || given(vehicle->transfer_low);
    if (!fitted && !vehicle->transfer_in)
        return HT_OK;
    bool low = vehicle->transfer_in && strcmp(vehicle->transfer_in, "low") == 0;
    double wanted = low ? vehicle->transfer_low : vehicle->transfer_high;
    if (!vehicle->transfer_in)
        note(r, ROTATION_HIGH_RANGE_TAKEN);
    if (given(wanted)) {
        *ratio = wanted;
        return HT_OK;
    }
    if (low)
        return ht_fail(err, ROTATION_NO_LOW_RATIO);
    note(r, ROTATION_HIGH_RATIO_TAKEN);
    return HT_OK;
}

static void add_shaft(struct ht_rotation *r, double final_turns,
                      const struct ht_sheet_vehicle *vehicle)
{
    r->shaft_turns = NAN;
    if (vehicle->drive == HT_DRIVE_FRONT) {
        note(r, ROTATION_FRONT_DRIVE);
        return;
    }
    r->shaft_turns = final_turns;
    ht_rotation_add_part(r, "shaft", HT_FAMILY_SHAFT, final_turns, false);
    if (!isfinite(final_turns))
        note(r, ROTATION_NO_AXLE_RATIO);
    if (vehicle->drive == HT_DRIVE_UNKNOWN)
        note(r, ROTATION_SHAFT_TAKEN);
    if (vehicle->drive == HT_DRIVE_ALL)
        note(r, ROTATION_SHAFTS_ALIKE);
}

/* Engine turns per wheel turn in every gear. */
static enum ht_status set_gears(struct ht_rotation *r, double output_turns,
                                const struct ht_sheet_vehicle *vehicle,
                                unsigned gear, struct ht_error *err)
{
    const struct ht_numbers *ratios = &vehicle->gear_ratios;
    r->gears = ratios->count < HT_GEARS_MAX ? ratios->count : HT_GEARS_MAX;
    if (r->gears < ratios->count)
        note(r, ROTATION_GEARS_CUT, ratios->count, HT_GEARS_MAX);
    for (size_t i = 0; i < r->gears; i++)
        r->gear_turns[i] = ratios->value[i] * output_turns;
    if (gear > r->gears && r->gears > 0)
        return ht_fail(err, ROTATION_NO_SUCH_GEAR, gear, r->gears, r->gears);
    return HT_OK;
}

/* A name that another part has would give one name to two frequencies. */
static void add_accessories(struct ht_rotation *r,
                            const struct ht_sheet_vehicle *vehicle,
                            double engine_turns)
{
    for (size_t i = 0; i < vehicle->accessory_count; i++) {
        const struct ht_named_ratio *one = &vehicle->accessories[i];
        if (!given(one->ratio))
            note(r, ROTATION_ACCESSORY_NO_RATIO, one->name);
        else if (ht_rotation_has_part(r, one->name))
            note(r, ROTATION_ACCESSORY_NAME_TAKEN, one->name);
        else if (ht_rotation_add_part(r, one->name, HT_FAMILY_ENGINE,
                                      engine_turns * one->ratio,
                                      true) == HT_PARTS_MAX)
            note(r, ROTATION_ACCESSORY_TOO_MANY, one->name);
    }
}

/* The engine and what it drives, in the gear in use. */
static void add_engine(struct ht_rotation *r,
                       const struct ht_sheet_vehicle *vehicle, unsigned gear)
{
    bool electric_only =
        given(vehicle->motor_ratio) && !given(vehicle->engine_cylinders);
    if (electric_only || (!given(vehicle->engine_cylinders) && r->gears == 0))
        return;
    double turns = NAN;
    if (r->gears == 1)
        turns = r->gear_turns[0];
    else if (gear > 0 && r->gears > 0)
        turns = r->gear_turns[gear - 1];
    ht_rotation_add_part(r, "engine", HT_FAMILY_ENGINE, turns, true);
    if (r->gears == 0)
        note(r, ROTATION_NO_GEAR_RATIOS);
    else if (isnan(r->gear_turns[0]))
        note(r, ROTATION_ENGINE_NO_AXLE);
    else if (isnan(turns))
        note(r, ROTATION_ENGINE_NO_GEAR);
    else if (vehicle->gearbox == HT_GEARBOX_AUTOMATIC)
        note(r, ROTATION_CONVERTER_LOCKED);
    add_accessories(r, vehicle, turns);
}

static void set_engine_build(struct ht_rotation *r,
                             const struct ht_sheet_vehicle *vehicle)
{
    r->cylinders =
        given(vehicle->engine_cylinders) ? vehicle->engine_cylinders : NAN;
    r->strokes = given(vehicle->engine_strokes) ? vehicle->engine_strokes : NAN;
    if (isfinite(r->cylinders) && !isfinite(r->strokes)) {
        r->strokes = 4;
        note(r, ROTATION_FOUR_STROKES_TAKEN);
    }
}

static void add_rest(struct ht_rotation *r, double hub,
                     const struct ht_sheet_vehicle *vehicle)
{
    bool open_half_shafts = vehicle->drive == HT_DRIVE_FRONT ||
                            vehicle->drive == HT_DRIVE_ALL ||
                            vehicle->axle.kind == HT_AXLE_INDEPENDENT;
    if (open_half_shafts || hub != 1)
        ht_rotation_add_part(r, "half-shaft", HT_FAMILY_WHEEL, hub, false);
    if (open_half_shafts && hub == 1 && vehicle->drive != HT_DRIVE_FRONT)
        note(r, ROTATION_HALF_SHAFT_IS_WHEEL);
    if (given(vehicle->motor_ratio))
        ht_rotation_add_part(r, "electric motor", HT_FAMILY_OTHER,
                             vehicle->motor_ratio, false);
    if (vehicle->axle_teeth.count == 2 && vehicle->drive != HT_DRIVE_FRONT)
        ht_rotation_add_part(r, "axle mesh", HT_FAMILY_OTHER,
                             vehicle->axle_teeth.value[0] * hub, false);
}

enum ht_status ht_rotation_from_vehicle(struct ht_rotation *rotation,
                                        const struct ht_sheet_vehicle *vehicle,
                                        unsigned gear, struct ht_error *err)
{
    struct ht_rotation *r = rotation;
    *r = (struct ht_rotation){ .circumference_m = NAN,
                               .circumference_low_m = NAN,
                               .circumference_high_m = NAN,
                               .shaft_turns = NAN,
                               .output_turns = NAN,
                               .hub_turns = NAN };
    double axle = NAN, transfer = 1;
    enum ht_status status = set_tyre(r, vehicle, err);
    if (status == HT_OK)
        status = axle_ratio(&axle, vehicle, err);
    if (status == HT_OK)
        status = transfer_ratio(&transfer, r, vehicle, err);
    if (status != HT_OK)
        return status;
    double hub = hub_ratio(r, vehicle);
    set_engine_build(r, vehicle);
    ht_rotation_add_part(r, "wheel", HT_FAMILY_WHEEL, 1, false);
    add_shaft(r, axle * hub, vehicle);
    r->hub_turns = hub;
    r->output_turns = axle * hub * transfer;
    status = set_gears(r, axle * hub * transfer, vehicle, gear, err);
    if (status != HT_OK)
        return status;
    add_rest(r, hub, vehicle);
    add_engine(r, vehicle, gear);
    ht_rotation_ask(r);
    return HT_OK;
}
