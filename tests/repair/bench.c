/* bench-shims [CASE.yaml]: what planning shims costs: combinations, seconds by
 * the clock on the wall, computing time. Without a case a shelf of 1 009 899
 * combinations. Not a test: it has no opinion. */
#include "halfturn/repair.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

static double seconds(clockid_t clock)
{
    struct timespec now;
    (void)clock_gettime(clock, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* 101 wedges to choose from, 101 plates at the support and 99 at the gearbox,
 * leaving alone counted: 1 009 899 combinations. */
static int write_case(char *yaml, size_t size)
{
    int used = snprintf(
        yaml, size,
        "halfturn: 1\nlimits: light_truck\n"
        "vehicle: {axle: {kind: rigid, steered: no, pinion_to_axle_mm: 250}}\n"
        "driveline: {members: [gearbox, front shaft, rear shaft, pinion], "
        "tubes: [{joint_to_joint_mm: 1120}, {joint_to_joint_mm: 1310}], "
        "mount_spacing_mm: 900, mount_to_joint_mm: 250, "
        "support_to_joint_mm: 80}\n"
        "angles: {suspension: wheels_on_ground, gauge: {accuracy_deg: 0.1, "
        "step_deg: 0.05, set_up_deg: 0.15}, read_on: cap, slopes_deg: "
        "[2.1, 2.9, 5.0, 1.4], headings_deg: [0, 0, 0, 0]}\n"
        "checks: {sound: [springs, bushes, mounts], ride_height_mm: "
        "{measured: [382, 401], maker: [380, 400]}}\nshims:\n");
    static const struct {
        const char *head;
        int count;
        double step;
    } rows[] = {
        { "{at: axle, kind: wedge, steps_deg: [", 25, 0.1 },
        { "{at: axle, kind: wedge, steps_deg: [", 25, 0.113 },
        { "{at: centre_support, kind: plate, steps_mm: [", 25, 0.7 },
        { "{at: centre_support, kind: plate, steps_mm: [", 25, 0.83 },
        { "{at: gearbox_mount, kind: plate, steps_mm: [", 25, 0.7 },
        { "{at: gearbox_mount, kind: plate, steps_mm: [", 24, 0.83 },
    };
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        used += snprintf(yaml + used, size - (size_t)used, "  - %s",
                         rows[r].head);
        for (int k = 1; k <= rows[r].count; k++)
            used += snprintf(yaml + used, size - (size_t)used, "%s%g",
                             k > 1 ? ", " : "", rows[r].step * k);
        used += snprintf(yaml + used, size - (size_t)used, "]}\n");
    }
    return used;
}

int main(int argc, char **argv)
{
    static struct ht_limits limits;
    static struct ht_shims shims;
    static char yaml[8000];
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    int length = write_case(yaml, sizeof yaml);
    enum ht_status status = ht_limits_read(&limits, NULL, &err);
    if (status == HT_OK)
        status = argc > 1
                     ? ht_sheet_read(&sheet, argv[1], NULL, &err)
                     : ht_sheet_read_text(&sheet, "shelf", yaml,
                                          (size_t)length, NULL, &err);
    if (status != HT_OK) {
        fprintf(stderr, "%s\n", err.text);
        return 1;
    }
    struct ht_shims_input input = { .sheet = &sheet, .limits = &limits,
                                    .shaft_rad_s = 250 };
    double wall = seconds(CLOCK_MONOTONIC);
    double spent = seconds(CLOCK_PROCESS_CPUTIME_ID);
    status = ht_shims_plan(&shims, &input, &err);
    wall = seconds(CLOCK_MONOTONIC) - wall;
    spent = seconds(CLOCK_PROCESS_CPUTIME_ID) - spent;
    if (status != HT_OK)
        fprintf(stderr, "%s\n", err.text);
    printf("%zu combinations, %.3f s on the clock, %.3f s of computing\n",
           shims.combinations, wall, spent);
    ht_sheet_free(&sheet);
    return status != HT_OK;
}
