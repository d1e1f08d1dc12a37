/* Findings about angles where a vehicle has several drivelines. */
#include "close.h"

#include "halfturn/findings.h"

#include <math.h>
#include <string.h>

static struct ht_findings findings;

static const struct ht_finding *found(const char *id)
{
    size_t at = ht_finding_index(id);
    assert_in_range(at, 0, findings.findings - 1);
    return &findings.finding[at];
}

static struct ht_angles over(double probability)
{
    struct ht_angles angles = { .verdict_allowed = true, .verdicts = 1,
                                .leftover_rad = { NAN, NAN, NAN, NAN } };
    angles.verdict[0] = (struct ht_limit_verdict){
        .what = "joint 1", .joint = 1, .unit = "rad", .value = 0.06,
        .limit = 0.0524, .set = "car", .probability_over = probability
    };
    return angles;
}

static void collect_drivelines(const struct ht_angles *rear,
                               const struct ht_angles *front)
{
    struct ht_findings_input input = {
        .angles = rear, .drivelines = 2,
        .driveline = { { "rear", rear }, { "front", front } }
    };
    ht_findings_collect(&findings, &input);
}

static void of_several_drivelines_the_worst_speaks_and_is_named(void **state)
{
    (void)state;
    static struct ht_angles good, bad;
    good = over(0.02);
    bad = over(0.9);
    collect_drivelines(&good, &bad);
    assert_close(found("joint-over")->likelihood[0], 0.1 / 0.9, 1e-12);
    assert_non_null(strstr(found("joint-over")->text, ", on front"));
    collect_drivelines(&bad, &good);
    assert_close(found("joint-over")->likelihood[0], 0.1 / 0.9, 1e-12);
    assert_non_null(strstr(found("joint-over")->text, ", on rear"));
    collect_drivelines(&good, &good);
    assert_int_equal(found("joint-over")->answer, 0);
}

/* Within on one shaft says nothing of another that nobody could judge. */
static void all_drivelines_must_tell_before_none_is_over(void **state)
{
    (void)state;
    static struct ht_angles good, bad, hanging;
    good = over(0.02);
    bad = over(0.9);
    hanging = over(0.9);
    hanging.verdict_allowed = false;
    collect_drivelines(&good, NULL);
    assert_false(found("joint-over")->known);
    collect_drivelines(&good, &hanging);
    assert_false(found("joint-over")->known);
    collect_drivelines(&bad, NULL);
    assert_int_equal(found("joint-over")->answer, 1);
    assert_non_null(strstr(found("joint-over")->text, ", on rear"));
    collect_drivelines(NULL, NULL);
    assert_false(found("joint-over")->known);
    /* a shaft without Cardan joints has nothing that could be over */
    hanging = over(0.9);
    hanging.verdicts = 0;
    collect_drivelines(&good, &hanging);
    assert_true(found("joint-over")->known);
    assert_int_equal(found("joint-over")->answer, 0);
}

/* The leftover angle where no limit is there to hold it against: 2.98 degrees
 * is the even point. */
static void the_leftover_of_the_worst_speaks_too(void **state)
{
    (void)state;
    static struct ht_angles good, bad;
    good = bad = over(0.02);
    good.leftover_rad.value = 0.01;
    bad.leftover_rad.value = 0.1;
    good.leftover_rad.u = bad.leftover_rad.u = 0.001;
    collect_drivelines(&good, &bad);
    assert_int_equal(found("leftover-over")->answer, 1);
    assert_string_equal(found("leftover-over")->text,
                        "leftover angle 5.73\u00b0, on front");
}

static void yokes_out_of_line_name_their_driveline(void **state)
{
    (void)state;
    double rear[] = { 1 * 3.14159265358979 / 180 };
    double front[] = { 20 * 3.14159265358979 / 180 };
    struct ht_sheet_driveline lines[2];
    struct ht_sheet sheet;
    ht_sheet_clear(&sheet);
    memset(lines, 0, sizeof lines);
    lines[0].name = "rear";
    lines[0].yokes_rad = (struct ht_numbers){ rear, 1 };
    lines[1].name = "front";
    lines[1].yokes_rad = (struct ht_numbers){ front, 1 };
    sheet.drivelines = lines;
    sheet.driveline_count = 2;
    ht_findings_collect(&findings,
                        &(struct ht_findings_input){ .sheet = &sheet });
    assert_string_equal(found("yokes-out-of-line")->text,
                        "20\u00b0, on front");
    sheet.driveline_count = 1;
    ht_findings_collect(&findings,
                        &(struct ht_findings_input){ .sheet = &sheet });
    assert_string_equal(found("yokes-out-of-line")->text, "1\u00b0");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_several_drivelines_the_worst_speaks_and_is_named),
        cmocka_unit_test(all_drivelines_must_tell_before_none_is_over),
        cmocka_unit_test(the_leftover_of_the_worst_speaks_too),
        cmocka_unit_test(yokes_out_of_line_name_their_driveline),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
