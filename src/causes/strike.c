/* Causes that a vehicle cannot have. What the sheet does not say strikes
 * nothing out. */
#include "causes/catalogue.h"
#include "causes/texts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *no_shaft(const struct ht_sheet *sheet)
{
    return sheet->vehicle.drive == HT_DRIVE_FRONT && !sheet->driveline_count
               ? CAUSES_NO_SHAFT
               : NULL;
}

static const char *no_cardan(const struct ht_sheet *sheet)
{
    bool named = false;
    for (size_t i = 0; i < sheet->driveline_count; i++) {
        const struct ht_sheet_driveline *line = &sheet->drivelines[i];
        for (size_t j = 0; j < line->joint_count; j++) {
            named = true;
            if (line->joints[j] == HT_JOINT_CARDAN ||
                line->joints[j] == HT_JOINT_UNKNOWN)
                return NULL;
        }
        if (!line->joint_count)
            return NULL;
    }
    return named ? CAUSES_NO_CARDAN : NULL;
}

static const char *no_centre_support(const struct ht_sheet *sheet)
{
    const char *front = no_shaft(sheet);
    for (size_t i = 0; i < sheet->driveline_count; i++)
        if (sheet->drivelines[i].members.count != 3)
            return NULL;
    if (sheet->driveline_count)
        return CAUSES_NO_CENTRE_SUPPORT;
    return front;
}

static const char *not_automatic(const struct ht_sheet *sheet)
{
    return sheet->vehicle.gearbox == HT_GEARBOX_MANUAL ? CAUSES_NOT_AUTOMATIC
                                                       : NULL;
}

static const char *not_manual(const struct ht_sheet *sheet)
{
    return sheet->vehicle.gearbox == HT_GEARBOX_AUTOMATIC ? CAUSES_NOT_MANUAL
                                                          : NULL;
}

static const char *no_engine(const struct ht_sheet *sheet)
{
    return isfinite(sheet->vehicle.motor_ratio) &&
                   !isfinite(sheet->vehicle.engine_cylinders)
               ? CAUSES_NO_ENGINE
               : NULL;
}

static const char *no_motor(const struct ht_sheet *sheet)
{
    return isfinite(sheet->vehicle.engine_cylinders) &&
                   !isfinite(sheet->vehicle.motor_ratio)
               ? CAUSES_NO_MOTOR
               : NULL;
}

static const char *no_all_wheel(const struct ht_sheet *sheet)
{
    return sheet->vehicle.drive == HT_DRIVE_FRONT ||
                   sheet->vehicle.drive == HT_DRIVE_REAR
               ? CAUSES_ONE_AXLE
               : NULL;
}

static const char *no_transfer(const struct ht_sheet *sheet)
{
    return isfinite(sheet->vehicle.transfer_high) ||
                   isfinite(sheet->vehicle.transfer_low)
               ? NULL
               : no_all_wheel(sheet);
}

static const char *no_half_shafts(const struct ht_sheet *sheet)
{
    return sheet->vehicle.axle.kind == HT_AXLE_RIGID &&
                   sheet->vehicle.drive == HT_DRIVE_REAR
               ? CAUSES_NO_HALF_SHAFT_JOINTS
               : NULL;
}

static const char *no_hub_reduction(const struct ht_sheet *sheet)
{
    enum ht_vehicle_class class = sheet->vehicle.class;
    if (sheet->vehicle.hub_ratio == 1)
        return CAUSES_NO_HUB_REDUCTION;
    return isnan(sheet->vehicle.hub_ratio) &&
                   (class == HT_CLASS_CAR || class == HT_CLASS_VAN)
               ? CAUSES_NO_HUB_NAMED
               : NULL;
}

static const struct {
    const char *word;
    const char *(*missing)(const struct ht_sheet *sheet);
} needs[] = {
    { "propeller_shaft", no_shaft },   { "cardan", no_cardan },
    { "centre_support", no_centre_support },
    { "automatic", not_automatic },    { "manual", not_manual },
    { "engine", no_engine },           { "motor", no_motor },
    { "transfer", no_transfer },       { "all_wheel", no_all_wheel },
    { "half_shafts", no_half_shafts }, { "hub_reduction", no_hub_reduction },
};
enum { NEEDS = sizeof needs / sizeof needs[0] };

bool ht_need_known(const char *word)
{
    for (size_t i = 0; i < NEEDS; i++)
        if (strcmp(needs[i].word, word) == 0)
            return true;
    return false;
}

const char *ht_needs_list(char *text, size_t size)
{
    size_t at = 0;
    text[0] = '\0';
    for (size_t i = 0; i < NEEDS && at < size; i++)
        at += (size_t)snprintf(text + at, size - at, i ? ", %s" : "%s",
                               needs[i].word);
    return text;
}

const char *ht_cause_struck(const struct cat_cause *cause,
                            const struct ht_sheet *sheet)
{
    const char *why = NULL;
    for (size_t i = 0; sheet && !why && i < cause->needs.count; i++)
        for (size_t k = 0; k < NEEDS; k++)
            if (strcmp(needs[k].word, cause->needs.text[i]) == 0 && !why)
                why = needs[k].missing(sheet);
    return why;
}
