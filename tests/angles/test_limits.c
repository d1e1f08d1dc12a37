/* The limits file, and a driveline taken from the case sheet. */
#include "close.h"

#include "halfturn/joint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define DEG (3.14159265358979323846 / 180)

/* What the published sets say (full citations: docs/limits.md). NAN: the
 * source gives no figure. Storing them exactly: 1e-12 deg. */
static void the_built_in_sets_say_what_their_sources_say(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double figure[9]; /* joint most, least, apart, odd, alone, double
                             joint, leftover; axle, shaft */
    } rows[] = {
        { "car", { 4, NAN, 0.5, 0.5, NAN, NAN, NAN, 400, 1000 } },
        { "light_truck", { 3, 0.5, 1, NAN, 1.5, 10, NAN, 400, 1000 } },
        { "light_truck_by_speed",
          { NAN, 0.5, 1, NAN, NAN, NAN, NAN, 400, 1000 } },
        { "light_commercial",
          { 3, 0.5, NAN, NAN, NAN, NAN, NAN, 400, 1000 } },
        { "heavy_truck_a", { 3, 0.5, 1, NAN, NAN, NAN, NAN, 400, 1000 } },
        { "heavy_truck_pump", { 3, 0.5, 0.5, NAN, NAN, NAN, NAN, 400, 1000 } },
        { "vocational", { 3, 1, 1, NAN, NAN, NAN, NAN, 400, 1000 } },
        { "heavy_truck_b", { 5, NAN, 1.5, NAN, NAN, NAN, NAN, 400, 1000 } },
        { "industrial",
          { NAN, NAN, NAN, NAN, NAN, NAN, 2.976506, 400, 1000 } },
        { "industrial_small",
          { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 2435 } },
        { "industrial_medium",
          { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 1617 } },
        { "industrial_large",
          { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 965 } },
    };
    struct ht_limits limits;
    assert_int_equal(ht_limits_read(&limits, NULL, NULL), HT_OK);
    assert_int_equal(limits.sets, sizeof rows / sizeof rows[0]);
    for (size_t i = 0; i < limits.sets; i++) {
        const struct ht_limit_set *set = &limits.set[i];
        double got[] = { set->joint_max_rad / DEG, set->joint_min_rad / DEG,
                         set->difference_max_rad / DEG,
                         set->odd_max_rad / DEG, set->alone_max_rad / DEG,
                         set->double_joint_max_rad / DEG,
                         set->leftover_max_rad / DEG, set->axle_rad_s2,
                         set->shaft_rad_s2 };
        assert_string_equal(set->id, rows[i].id);
        assert_true(strlen(set->title) > 0 && strlen(set->source) > 0);
        for (int k = 0; k < 9; k++)
            if (isnan(rows[i].figure[k]))
                assert_true(isnan(got[k]));
            else
                assert_close(got[k], rows[i].figure[k], 1e-12);
    }
    /* ELBE technical pages: U up to 0.0027, as an angle; 6 decimals */
    assert_close(limits.set[8].leftover_max_rad / DEG,
                 ht_joint_bend_of_unevenness(0.0027) / DEG, 5e-7);
}

static enum ht_status read_copy(const char *text, struct ht_limits *limits,
                                struct ht_error *err)
{
    char path[] = "/tmp/halfturn-limits-XXXXXX";
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, text, strlen(text)), (ssize_t)strlen(text));
    close(fd);
    enum ht_status status = ht_limits_read(limits, path, err);
    unlink(path);
    return status;
}

static void an_edited_copy_replaces_the_sets(void **state)
{
    (void)state;
    struct ht_limits limits;
    struct ht_error err;
    assert_int_equal(
        read_copy("halfturn_limits: 1\nsets:\n  - id: fleet\n"
                  "    title: Our vans\n    source: workshop meeting\n"
                  "    joint_max_deg: 2.5\n    axle_rad_s2: 300\n",
                  &limits, &err),
        HT_OK);
    assert_int_equal(limits.sets, 1);
    assert_close(limits.set[0].joint_max_rad / DEG, 2.5, 1e-12);
    assert_close(limits.set[0].axle_rad_s2, 300, 0);
    assert_true(isnan(limits.set[0].joint_min_rad));
}

static void a_spoilt_copy_is_refused_with_the_place(void **state)
{
    (void)state;
    struct ht_limits limits;
    struct ht_error err;
    assert_int_equal(read_copy("halfturn_limits: 1\nsets:\n  - id: a\n"
                               "    title: t\n    source: s\n"
                               "    joint_maks_deg: 3\n",
                               &limits, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "joint_max_deg"));
    assert_int_equal(err.line, 6);
    assert_int_equal(limits.sets, 0);
    const char *twice = "halfturn_limits: 1\nsets:\n"
                        "  - {id: a, title: t, source: s}\n"
                        "  - {id: a, title: t, source: s}\n";
    assert_int_equal(read_copy(twice, &limits, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "two sets"));
    assert_int_equal(ht_limits_read(&limits, "/no/such/file", &err),
                     HT_CANNOT_READ);
}

/* ---- the case sheet ------------------------------------------------------ */

static double value[4] = { 2.1 * DEG, 2.5 * DEG, 4.0 * DEG, 2.4 * DEG };
static double headings[4] = { 0, 0.01, 0.02, 0 };
static double yokes[2] = { 0, 90 * DEG };
static const char *names[4] = { "gearbox", "front shaft", "rear shaft",
                                "pinion" };
static enum ht_joint_kind kinds[3] = { HT_JOINT_CARDAN, HT_JOINT_RUBBER_DISC,
                                       HT_JOINT_CARDAN };

struct case_on_paper {
    struct ht_sheet sheet;
    struct ht_sheet_driveline line;
    struct ht_sheet_angles angles;
    struct ht_sheet_slope slope[4];
};

static void fill(struct case_on_paper *paper)
{
    *paper = (struct case_on_paper){ 0 };
    for (size_t i = 0; i < 4; i++) {
        paper->slope[i].readings_rad = (struct ht_numbers){ &value[i], 1 };
        paper->slope[i].flip_a_rad = paper->slope[i].flip_b_rad = NAN;
        paper->slope[i].set_up_rad = NAN;
    }
    paper->line.members = (struct ht_words){ names, 4 };
    paper->line.joints = kinds;
    paper->line.joint_count = 3;
    paper->line.yokes_rad = (struct ht_numbers){ yokes, 2 };
    paper->line.driven_from = HT_END_REAR;
    paper->angles.slopes = paper->slope;
    paper->angles.slope_count = 4;
    paper->angles.headings_rad = (struct ht_numbers){ headings, 4 };
    paper->angles.gauge_accuracy_rad = 0.1 * DEG;
    paper->angles.gauge_step_rad = NAN;
    paper->angles.gauge_set_up_rad = 0.15 * DEG;
    paper->angles.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    paper->angles.read_on = HT_SURFACE_CAP;
    paper->sheet.drivelines = &paper->line;
    paper->sheet.driveline_count = 1;
    paper->sheet.angles = &paper->angles;
    paper->sheet.angles_count = 1;
}

static void a_sheet_hands_over_every_reading_in_its_place(void **state)
{
    (void)state;
    struct case_on_paper paper;
    struct ht_driveline line;
    fill(&paper);
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, NULL),
                     HT_OK);
    assert_int_equal(line.members, 4);
    assert_false(line.by_joint);
    assert_string_equal(line.member[2], "rear shaft");
    assert_close(line.slope[3].readings_rad.value[0] / DEG, 2.4, 1e-12);
    assert_close(line.heading_rad[2], 0.02, 0);
    assert_int_equal(line.kind[1], HT_JOINT_RUBBER_DISC);
    /* the second section is member 3, counted from 1 */
    assert_close(line.yoke_rad[2] / DEG, 90, 1e-12);
    assert_close(line.yoke_rad[1], 0, 0);
    assert_int_equal(line.driven_from, HT_END_REAR);
    assert_int_equal(line.suspension, HT_SUSPENSION_WHEELS_ON_GROUND);
    assert_int_equal(line.read_on, HT_SURFACE_CAP);
    assert_close(line.gauge.accuracy_rad / DEG, 0.1, 1e-12);
    assert_true(isnan(line.gauge.step_rad) && isnan(line.heading_u_rad));
}

static void offsets_come_with_the_lengths_of_the_shafts(void **state)
{
    (void)state;
    struct case_on_paper paper;
    struct ht_driveline line;
    double offsets[] = { 0, 0.01, -0.02 }, ends[] = { 0.01, -0.01 };
    struct ht_sheet_tube tubes[] = { { .joint_to_joint_m = 1.1 },
                                     { .joint_to_joint_m = 1.3 } };
    fill(&paper);
    paper.angles.headings_rad.count = 0;
    paper.angles.offsets_m = (struct ht_numbers){ offsets, 3 };
    paper.angles.end_headings_rad = (struct ht_numbers){ ends, 2 };
    paper.angles.slopes_are = HT_SLOPES_DRAWING;
    paper.line.tubes = tubes;
    paper.line.tube_count = 2;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, NULL),
                     HT_OK);
    assert_close(line.offset_m[2], -0.02, 0);
    assert_close(line.joint_to_joint_m[2], 1.3, 0);
    assert_close(line.heading_rad[3], -0.01, 0);
    assert_true(isnan(line.heading_rad[1]));
    assert_true(line.drawing);
}

static void differences_stand_in_when_there_are_no_slopes(void **state)
{
    (void)state;
    struct case_on_paper paper;
    struct ht_driveline line;
    double joints[] = { 0.4 * DEG, 1.5 * DEG, -1.6 * DEG };
    fill(&paper);
    paper.angles.slope_count = 0;
    paper.angles.headings_rad.count = 0;
    paper.angles.joints_rad = (struct ht_numbers){ joints, 3 };
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, NULL),
                     HT_OK);
    assert_true(line.by_joint);
    assert_close(line.joint_rad[2] / DEG, -1.6, 1e-12);
    assert_true(isnan(line.heading_rad[0]));
    /* without a driveline section the readings decide how many members */
    paper.sheet.driveline_count = 0;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, NULL),
                     HT_OK);
    assert_int_equal(line.members, 4);
    assert_null(line.member[0]);
}

static void lists_that_do_not_fit_are_named(void **state)
{
    (void)state;
    struct case_on_paper paper;
    struct ht_driveline line;
    struct ht_error err;
    fill(&paper);
    paper.angles.slope_count = 3;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(
        strstr(err.text, "slopes_deg: 3. Wanted: 4, one for each member"));
    fill(&paper);
    paper.angles.headings_rad.count = 2;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "headings_deg: 2. Wanted: 4"));
    fill(&paper);
    paper.angles.headings_rad.count = 0;
    paper.angles.offsets_m = (struct ht_numbers){ value, 2 };
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "offsets_mm: 2. Wanted: 3"));
    fill(&paper);
    paper.line.joint_count = 2;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "Joints of the driveline: 2. Wanted: 3"));
    fill(&paper);
    paper.line.yokes_rad.count = 1;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "yokes_deg: 1. Wanted: 2"));
    fill(&paper);
    paper.sheet.angles_count = 0;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "no readings"));
    double joints[] = { 0.4 * DEG, 1.5 * DEG };
    fill(&paper);
    paper.angles.slope_count = 0;
    paper.angles.joints_rad = (struct ht_numbers){ joints, 2 };
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "joints_deg: 2. Wanted: 3"));
    fill(&paper);
    paper.line.members.count = 1;
    assert_int_equal(ht_driveline_from_sheet(&line, &paper.sheet, 0, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "driveline: 1. Wanted: 2 to 9"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_built_in_sets_say_what_their_sources_say),
        cmocka_unit_test(an_edited_copy_replaces_the_sets),
        cmocka_unit_test(a_spoilt_copy_is_refused_with_the_place),
        cmocka_unit_test(a_sheet_hands_over_every_reading_in_its_place),
        cmocka_unit_test(offsets_come_with_the_lengths_of_the_shafts),
        cmocka_unit_test(differences_stand_in_when_there_are_no_slopes),
        cmocka_unit_test(lists_that_do_not_fit_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
