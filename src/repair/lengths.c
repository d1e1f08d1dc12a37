/* Lengths that the sheet does not give. */
#include "lengths.h"

#include "centres.h"
#include "note.h"
#include "texts.h"

#include "halfturn/text.h"

#include <math.h>
#include <stdio.h>

static void name_length(char *text, size_t size, size_t length)
{
    static const char *const other[] = {
        REPAIR_LENGTH_AXLE, REPAIR_LENGTH_SPACING, REPAIR_LENGTH_MOUNT,
        REPAIR_LENGTH_SUPPORT
    };
    if (length < HT_MEMBERS_MAX)
        snprintf(text, size, REPAIR_LENGTH_SHAFT, length);
    else
        snprintf(text, size, "%s", other[length - HT_MEMBERS_MAX]);
}

/* Whether a length plays a part with what is on the shelf. */
static bool length_matters(const struct shelf *shelf,
                           const struct ht_joint_centres *centres,
                           size_t length)
{
    bool axle = false, support = false, gearbox = false;
    for (size_t i = 0; i < shelf->places; i++) {
        axle = axle || shelf->place[i].place == HT_SHIM_AXLE;
        support = support || shelf->place[i].place == HT_SHIM_SUPPORT;
        gearbox = gearbox || shelf->place[i].place == HT_SHIM_GEARBOX;
    }
    switch (length) {
    case HT_LENGTH_JOINT_TO_AXLE:
        return axle;
    case HT_LENGTH_MOUNT_SPACING:
    case HT_LENGTH_MOUNT_TO_JOINT:
        return gearbox;
    case HT_LENGTH_SUPPORT_TO_JOINT:
        return support || (gearbox && centres->line.members > 3);
    default:
        return length >= 1 && length + 1 < centres->line.members &&
               (axle || support || gearbox);
    }
}

void ht_lengths_say(struct ht_shims *shims, const struct shelf *shelf,
                    const struct ht_joint_centres *centres)
{
    for (size_t i = 0; i < HT_LENGTHS; i++) {
        char name[64], low[32], high[32];
        struct length_range range = ht_length_range(i);
        if (!isnan(centres->length_m[i]) || !length_matters(shelf, centres, i))
            continue;
        name_length(name, sizeof name, i);
        ht_format_number(low, sizeof low, 1000 * range.low_m, 0);
        ht_format_number(high, sizeof high, 1000 * range.high_m, 0);
        ht_repair_note(shims, REPAIR_LENGTHS_TAKEN, low, high, name);
    }
}
