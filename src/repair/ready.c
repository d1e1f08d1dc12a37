/* A shim hides a sagging spring or a soft mount until it gives way: those come
 * first (common practice, no source). */
#include "ready.h"

#include "note.h"
#include "texts.h"

#include "halfturn/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* How far the ride height may be off (common practice, no source). */
static const double height_tolerance_m = 0.010;

static bool has_word(const struct ht_words *words, const char *word)
{
    for (size_t i = 0; i < words->count; i++)
        if (strcmp(words->text[i], word) == 0)
            return true;
    return false;
}

struct list {
    char text[160];
};

static void add_name(struct list *list, const char *name)
{
    size_t used = strlen(list->text);
    snprintf(list->text + used, sizeof list->text - used, "%s%s",
             used > 0 ? ", " : "", name);
}

static void check_sound(struct ht_shims *shims, const struct ht_words *sound)
{
    static const char *const wanted[] = { REPAIR_SPRINGS, REPAIR_BUSHES,
                                          REPAIR_MOUNTS };
    struct list missing = { "" };
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        if (!has_word(sound, wanted[i]))
            add_name(&missing, wanted[i]);
    if (missing.text[0])
        ht_repair_refuse(shims, REPAIR_FIRST_LOOK, missing.text);
}

/* Words of checks.seen that move a joint by themselves. */
static void check_seen(struct ht_shims *shims, const struct ht_words *seen)
{
    static const struct {
        const char *word, *name;
    } worn[] = {
        { "sagging_spring", REPAIR_SEEN_SPRING },
        { "collapsed_mount", REPAIR_SEEN_MOUNT },
        { "worn_bush", REPAIR_SEEN_BUSH },
        { "torn_centre_rubber", REPAIR_SEEN_RUBBER },
        { "rough_centre_bearing", REPAIR_SEEN_BEARING },
        { "loose_joint", REPAIR_SEEN_JOINT },
        { "worn_slip_spline", REPAIR_SEEN_SPLINE },
        { "loose_flange", REPAIR_SEEN_FLANGE },
    };
    struct list found = { "" };
    for (size_t i = 0; i < sizeof worn / sizeof worn[0]; i++)
        if (has_word(seen, worn[i].word))
            add_name(&found, worn[i].name);
    if (found.text[0])
        ht_repair_refuse(shims, REPAIR_FIRST_WORN, found.text);
}

/* The largest of front and rear off the maker's figure; NAN: not known. */
static double height_off_m(const struct ht_sheet_checks *checks)
{
    const struct ht_numbers *measured = &checks->ride_measured_m;
    const struct ht_numbers *maker = &checks->ride_maker_m;
    double most_m = 0;
    if (measured->count == 0 || measured->count != maker->count)
        return NAN;
    for (size_t i = 0; i < measured->count; i++)
        most_m = fmax(most_m, fabs(measured->value[i] - maker->value[i]));
    return most_m;
}

/* At this line's own axle. False: nothing is said of it. */
static bool own_height_off_m(double *off_m, const struct ht_shims_input *input)
{
    if (input->driveline_index >= input->sheet->driveline_count)
        return false;
    const struct ht_sheet_driveline *line =
        &input->sheet->drivelines[input->driveline_index];
    *off_m = fabs(line->ride_measured_m - line->ride_maker_m);
    return !isnan(line->ride_measured_m) || !isnan(line->ride_maker_m);
}

static void check_height(struct ht_shims *shims,
                         const struct ht_shims_input *input)
{
    double off_m;
    bool own = own_height_off_m(&off_m, input);
    if (!own)
        off_m = height_off_m(&input->sheet->checks);
    char off[40], allowed[40];
    if (isnan(off_m) && own)
        ht_repair_refuse(shims, REPAIR_FIRST_HEIGHT_HALF);
    else if (isnan(off_m))
        ht_repair_refuse(shims, REPAIR_FIRST_HEIGHT_UNKNOWN);
    if (isnan(off_m) || off_m <= height_tolerance_m * (1 + 1e-9))
        return;
    ht_format_number(off, sizeof off, 1000 * off_m, 0);
    ht_format_number(allowed, sizeof allowed, 1000 * height_tolerance_m, 0);
    ht_repair_refuse(shims, REPAIR_FIRST_HEIGHT_OFF, off, allowed);
}

void ht_ready_check(struct ht_shims *shims, const struct ht_shims_input *input,
                    const struct ht_driveline *driveline)
{
    const struct ht_sheet *sheet = input->sheet;
    if (driveline->suspension == HT_SUSPENSION_HANGING)
        ht_repair_refuse(shims, REPAIR_FIRST_HANGING);
    else if (driveline->suspension == HT_SUSPENSION_UNKNOWN)
        ht_repair_refuse(shims, REPAIR_FIRST_SUSPENSION);
    if (driveline->by_joint)
        ht_repair_refuse(shims, REPAIR_FIRST_DIFFERENCES);
    check_height(shims, input);
    check_sound(shims, &sheet->checks.sound);
    check_seen(shims, &sheet->checks.seen);
    if (!sheet->limits.name && !input->own)
        ht_repair_refuse(shims, REPAIR_FIRST_LIMITS);
    if (sheet->shim_count == 0 && !input->reversed)
        ht_repair_refuse(shims, REPAIR_FIRST_SHELF);
}
