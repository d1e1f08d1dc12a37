/* The sheets we hand out, and those the test generator writes, are read. */
#include "close.h"
#include "drive_maker.h"

#include "halfturn/angles.h"
#include "halfturn/rotation.h"
#include "halfturn/report.h"
#include "halfturn/workup.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct ht_rotation rotation;
static struct ht_angles angles;
static struct ht_limits limits;

static void read_sheet(struct ht_sheet *sheet, const char *path)
{
    struct ht_error err = { 0 };
    if (ht_sheet_read(sheet, path, NULL, &err) != HT_OK)
        fail_msg("%s, line %zu: %s", path, err.line, err.text);
}

static void turn(const struct ht_sheet *sheet, unsigned gear)
{
    struct ht_error err = { 0 };
    if (ht_rotation_from_vehicle(&rotation, &sheet->vehicle, gear, &err) !=
        HT_OK)
        fail_msg("%s", err.text);
}

static void bend(const struct ht_sheet *sheet)
{
    struct ht_error err = { 0 };
    struct ht_driveline driveline;
    assert_int_equal(ht_limits_read(&limits, NULL, &err), HT_OK);
    if (ht_driveline_from_sheet(&driveline, sheet, 0, 0, &err) != HT_OK)
        fail_msg("%s", err.text);
    double wheel_rad_s =
        2 * HT_PI * sheet->vehicle.top_speed_m_s / rotation.circumference_m;
    struct ht_angles_options options = { .limits = &limits,
                                         .limit_set = sheet->limits.name,
                                         .shaft_rad_s =
                                             rotation.shaft_turns * wheel_rad_s,
                                         .speed_m_s =
                                             sheet->vehicle.top_speed_m_s };
    if (ht_angles_compute(&angles, &driveline, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static size_t count_over(void)
{
    size_t over = 0;
    for (size_t i = 0; i < angles.verdicts; i++)
        over += angles.verdict[i].verdict == HT_VERDICT_OVER;
    return over;
}

/* By hand, small angles, yokes in line: joints -1.4, 5.567, -3.767 give
 * sqrt(|1.4^2 - 5.567^2 + 3.767^2|) = 3.85 degrees. 0.1: the median of an
 * uncertain root and the exact chain may each move it by some hundredths. */
static void the_vans_angles_do_not_cancel_and_its_shaft_hums_at_91_hz(void **s)
{
    (void)s;
    struct ht_sheet sheet;
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/van/case.yaml");
    turn(&sheet, (unsigned)sheet.drives[0].gear);
    bend(&sheet);
    assert_close(angles.leftover_rad.value * HT_DEG_PER_RAD, 3.85, 0.1);
    assert_true(count_over() >= 2);
    /* 95 km/h / (3.05 x 711.9 mm) x 2 x 41 / 11 */
    assert_close(2 * rotation.shaft_turns * (95 / 3.6) /
                     rotation.circumference_m,
                 90.599, 0.001);
    assert_close(sheet.complaint.measured[0].hz, 91, 0.5);
    ht_sheet_free(&sheet);
}

static void the_flat_bed_trucks_angles_are_within(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/angles-only.yaml");
    turn(&sheet, 0);
    bend(&sheet);
    /* sqrt(2.275^2 - 2.075^2) = 0.93 */
    assert_close(angles.leftover_read_rad * HT_DEG_PER_RAD, 0.93, 0.01);
    assert_int_equal(count_over(), 0);
    assert_true(angles.verdict_allowed);
    assert_int_equal(sheet.drive_count, 0);
    ht_sheet_free(&sheet);
}

/* The way of `halfturn angles` and `halfturn shims`. */
static struct ht_workup *work_up(const struct ht_sheet *sheet)
{
    struct ht_error err = { 0 };
    struct ht_workup_options options = { .causes = true,
                                         .shims = true };
    struct ht_workup *workup = calloc(1, sizeof *workup);
    assert_non_null(workup);
    if (ht_workup_run(workup, sheet, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
    return workup;
}

static double bend_deg(const struct ht_workup *workup, size_t line, size_t j)
{
    return workup->lines[line].angles.joint[j].angle_rad.value *
           HT_DEG_PER_RAD;
}

/* Differences of the sheet's slopes; each shaft at its own axle's ratio. The
 * tyre rolls 2.44854 m (3.05 times 802.8 mm). */
static void the_wagons_shafts_are_read_each_for_itself(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/four-by-four.yaml");
    struct ht_workup *workup = work_up(&sheet);
    assert_int_equal(workup->line_count, 5);
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(workup->lines[i].decides, i == 1 || i == 4);
    assert_close(bend_deg(workup, 0, 0), 5.4, 1e-9);
    assert_close(bend_deg(workup, 1, 1), 2.2833333, 1e-6);
    assert_close(bend_deg(workup, 3, 0), 5.7, 1e-9);
    /* 8.6 down and 0.5 across: 8.6145 by the root of squares, less 0.003 for
     * the across of a shaft that dips 6 degrees */
    assert_close(bend_deg(workup, 4, 1), 8.6145, 0.003);
    double wheel = 2 * HT_PI * (120 / 3.6) / 2.44854;
    assert_close_relative(
        workup->lines[1].angles.accelerations.shaft_rad_s, 4.10 * wheel,
        1e-12);
    assert_close_relative(
        workup->lines[4].angles.accelerations.shaft_rad_s, 4.09 * wheel,
        1e-12);
    assert_false(workup->lines[3].angles.verdict_allowed);
    ht_workup_free(workup);
    free(workup);
    ht_sheet_free(&sheet);
}

/* What was wrong before the work is not held against it after. */
static void the_wagons_findings_are_of_the_sets_to_go_by(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/four-by-four.yaml");
    struct ht_workup *workup = work_up(&sheet);
    const struct ht_finding *finding =
        &workup->findings.finding[ht_finding_index("joint-over")];
    assert_true(finding->known);
    assert_int_equal(finding->answer, 0);
    assert_non_null(strstr(finding->text, ", on rear shaft"));
    ht_workup_free(workup);
    free(workup);
    sheet.angles[0].when = "after"; /* the other way round: it decides */
    for (size_t i = 1; i < 4; i++)
        sheet.angles[i].when = "before";
    workup = work_up(&sheet);
    finding = &workup->findings.finding[ht_finding_index("joints-differ")];
    assert_int_equal(finding->answer, 1);
    assert_non_null(strstr(finding->text, ", on rear shaft"));
    ht_workup_free(workup);
    free(workup);
    ht_sheet_free(&sheet);
}

/* docs/angles.md shows a piece of it. */
static void the_page_shows_what_the_wagon_gives(void **state)
{
    (void)state;
    static char page[60000];
    static const char opening[] = "```text\n";
    struct ht_sheet sheet;
    struct ht_text text = { 0 };
    FILE *file = fopen(HALFTURN_SOURCE_DIR "/docs/angles.md", "rb");
    assert_non_null(file);
    size_t length = fread(page, 1, sizeof page - 1, file);
    assert_int_equal(fclose(file), 0);
    assert_true(length < sizeof page - 1);
    char *shown = strstr(page, opening);
    assert_non_null(shown);
    shown += sizeof opening - 1;
    *strstr(shown, "```") = '\0';
    assert_true(strlen(shown) > 300);
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/four-by-four.yaml");
    struct ht_workup *workup = work_up(&sheet);
    assert_int_equal(ht_report_angles_text(&text, workup, NULL), HT_OK);
    if (!strstr(text.bytes, shown))
        fail_msg("not printed:\n%s", shown);
    ht_text_free(&text);
    ht_workup_free(workup);
    free(workup);
    ht_sheet_free(&sheet);
}

/* Two authors, one vehicle: what the generator turned is what the sheet says
 * turns. 1e-12: rounding of doubles. */
static void a_generated_sheet_says_what_the_generator_turned(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 20; seed++) {
        struct drive_request request =
            drive_request_for(seed, (enum drive_fault)(seed % DRIVE_FAULTS));
        request.duration_s = 3;
        struct drive *drive = drive_make(&request);
        char path[] = "/tmp/halfturn-sheet-XXXXXX";
        close(mkstemp(path));
        assert_true(drive_write_sheet(drive, path, "a.wav", "b.csv"));
        struct ht_sheet sheet;
        read_sheet(&sheet, path);
        unlink(path);
        turn(&sheet, (unsigned)sheet.drives[0].gear);
        const struct drive_vehicle *vehicle = &drive->vehicle;
        assert_close_relative(rotation.circumference_m, vehicle->nominal_m,
                              1e-12);
        assert_true(rotation.circumference_low_m < vehicle->circumference_m &&
                    rotation.circumference_high_m > vehicle->circumference_m);
        assert_close_relative(rotation.shaft_turns, vehicle->axle_ratio, 1e-12);
        for (size_t i = 0; i < vehicle->gears; i++)
            assert_close_relative(rotation.gear_turns[i],
                                  vehicle->axle_ratio * vehicle->gear_ratio[i],
                                  1e-12);
        bend(&sheet);
        bool mismatch = request.fault == DRIVE_ANGLE_MISMATCH;
        assert_int_equal(count_over() > 0, mismatch);
        ht_sheet_free(&sheet);
        drive_free(drive);
    }
}

/* 1.4 and 1.5 degrees of wedge are 2.9; the middle of 2048 draws that spread by
 * 0.16 errs by 0.0044, four of them. */
static void the_vans_wedges_are_planned_and_come_out_so(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/wedges.yaml");
    struct ht_workup *workup = work_up(&sheet);
    const struct ht_shims *shims = &workup->shims[0].shims;
    const struct ht_shim_plan *plan = &shims->plan[shims->advised];
    assert_true(shims->enough && shims->as_it_stands.probability < 0.05);
    assert_int_equal(plan->works, 2);
    assert_close(plan->slope_rad[3].value * HT_DEG_PER_RAD, 2.9, 0.018);
    ht_workup_free(workup);
    free(workup);
    ht_sheet_free(&sheet);
    read_sheet(&sheet, HALFTURN_SOURCE_DIR "/samples/wedges-in.yaml");
    workup = work_up(&sheet);
    assert_true(workup->shims[0].has_after);
    assert_true(workup->shims[0].after.all_as_predicted);
    assert_true(workup->shims[0].shims.needs_nothing);
    ht_workup_free(workup);
    free(workup);
    ht_sheet_free(&sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            the_vans_angles_do_not_cancel_and_its_shaft_hums_at_91_hz),
        cmocka_unit_test(the_flat_bed_trucks_angles_are_within),
        cmocka_unit_test(the_wagons_shafts_are_read_each_for_itself),
        cmocka_unit_test(the_wagons_findings_are_of_the_sets_to_go_by),
        cmocka_unit_test(the_vans_wedges_are_planned_and_come_out_so),
        cmocka_unit_test(the_page_shows_what_the_wagon_gives),
        cmocka_unit_test(a_generated_sheet_says_what_the_generator_turned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
