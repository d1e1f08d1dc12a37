/* shims_case.h - a case that is ready for shims, for the tests of this room.
 */
#ifndef HALFTURN_TESTS_SHIMS_CASE_H
#define HALFTURN_TESTS_SHIMS_CASE_H

#include "close.h"

#include "halfturn/repair.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DEG (3.14159265358979323846 / 180)

/* A van with a two-piece shaft; the pinion hangs by 2 degrees. */
#define READY                                                                  \
    "halfturn: 1\n"                                                            \
    "vehicle: {class: van, axle: {kind: rigid, steered: no, "                  \
    "pinion_to_axle_mm: 250}}\n"                                               \
    "driveline: {members: [gearbox, front shaft, rear shaft, pinion], "        \
    "tubes: [{joint_to_joint_mm: 1120}, {joint_to_joint_mm: 1310}], "          \
    "mount_spacing_mm: 900, mount_to_joint_mm: 250, "                          \
    "support_to_joint_mm: 80}\n"                                               \
    "limits: light_truck\n"
#define ANGLES                                                                 \
    "angles: {suspension: wheels_on_ground, gauge: {accuracy_deg: 0.1, "       \
    "step_deg: 0.05, set_up_deg: 0.15}, read_on: cap, "                        \
    "slopes_deg: [2.1, 2.9, 5.0, 1.4], headings_deg: [0, 0, 0, 0]}\n"
#define CHECKS                                                                 \
    "checks: {sound: [springs, bushes, mounts], ride_height_mm: "              \
    "{measured: [382, 401], maker: [380, 400]}}\n"
#define SHELF                                                                  \
    "shims: [{at: axle, kind: wedge, steps_deg: [1, 1.5, 2, 2.5]}, "           \
    "{at: centre_support, kind: plate, steps_mm: [3, 6, 10]}]\n"

static struct ht_limits limits;

struct fixture {
    struct ht_sheet sheet;
    struct ht_shims_input input;
    struct ht_shims shims;
};

static inline void plan_of(struct fixture *f, const char *yaml)
{
    struct ht_error err = { 0 };
    enum ht_status status = ht_sheet_read_text(&f->sheet, "case.yaml", yaml,
                                               strlen(yaml), NULL, &err);
    if (status == HT_OK) {
        f->input = (struct ht_shims_input){ .sheet = &f->sheet,
                                            .limits = &limits,
                                            .shaft_rad_s = 250 };
        status = ht_shims_plan(&f->shims, &f->input, &err);
    }
    if (status != HT_OK)
        fail_msg("%s", err.text);
}

static inline void done_with(struct fixture *f)
{
    ht_sheet_free(&f->sheet);
}

static inline bool says(const struct fixture *f, const char *what)
{
    for (size_t i = 0; i < f->shims.refusals; i++)
        if (strstr(f->shims.refusal[i], what))
            return true;
    for (size_t i = 0; i < f->shims.notes; i++)
        if (strstr(f->shims.note[i], what))
            return true;
    return false;
}

static inline int read_the_limits(void **state)
{
    (void)state;
    struct ht_error err;
    return ht_limits_read(&limits, NULL, &err) == HT_OK ? 0 : -1;
}

#endif
