/* Slips of hand and pen: a sentence for each, none for good readings. The
 * readings are made up. */
#include "driveline_case.h"

static double row[4][4];

/* A van's four members, read well. */
static struct ht_driveline good_line(void)
{
    struct ht_driveline line =
        driveline_of(4, (double[]){ 2.1, 2.5, 4.0, 2.4 }, NULL);
    line.gauge = (struct ht_gauge){ 0.1 * DEG, 0.1 * DEG, 0.15 * DEG, NAN };
    line.read_on = HT_SURFACE_CAP;
    line.member[1] = "front shaft";
    return line;
}

static struct ht_numbers list(int i, size_t count, const double *degrees)
{
    for (size_t k = 0; k < count; k++)
        row[i][k] = degrees[k] * DEG;
    return (struct ht_numbers){ row[i], count };
}

static void expect(const struct ht_driveline *line, const char *words)
{
    struct ht_angles result = angles_of(line);
    assert_int_equal(result.doubts, 1);
    if (!strstr(result.doubt[0], words))
        fail_msg("%s", result.doubt[0]);
}

static void good_readings_raise_no_doubt(void **state)
{
    (void)state;
    struct ht_driveline line = good_line();
    line.slope[0].readings_rad = list(0, 3, (double[]){ 2.0, 2.1, 2.3 });
    line.slope[1].readings_rad.count = 0;
    line.slope[1].flip_a_rad = 2.8 * DEG;
    line.slope[1].flip_b_rad = -2.2 * DEG;
    line.slope[2].readings_rad.count = 0;
    line.slope[2].opposite_rad = list(1, 2, (double[]){ 3.8, 4.2 });
    line.slope[3].crosswise_rad = list(2, 2, (double[]){ -1, 0.5 });
    assert_int_equal(angles_of(&line).doubts, 0);
    /* steep by design, as under a lifted vehicle: caps at 20.5 and 27 */
    line = driveline_of(2, (double[]){ 20.5, 27 }, NULL);
    assert_int_equal(angles_of(&line).doubts, 0);
}

static void an_outlier_among_repeats_is_named(void **state)
{
    (void)state;
    struct ht_driveline line = good_line();
    line.slope[1].readings_rad = list(0, 4, (double[]){ 2.5, 2.6, 5.2, 2.4 });
    expect(&line, "front shaft: 5.2\302\260 stands off the other readings, "
                  "which lie near 2.5\302\260. Read it again.");
    line.slope[1].readings_rad = list(0, 2, (double[]){ 2.5, 4.5 });
    expect(&line, "front shaft: the readings scatter by 2.0\302\260, gauge and "
                  "set-up explain ");
    line.slope[1].readings_rad = list(0, 3, (double[]){ 1, 2.5, 4.5 });
    expect(&line, "front shaft: the readings scatter by 3.5\302\260");
}

static void a_zero_far_beyond_the_gauge_is_doubted(void **state)
{
    (void)state;
    struct ht_driveline line = good_line();
    line.slope[1].readings_rad.count = 0;
    line.slope[1].flip_a_rad = 2.5 * DEG;
    line.slope[1].flip_b_rad = 2.5 * DEG; /* its sign was lost */
    expect(&line, "front shaft: the pair turned round shows a zero error of "
                  "2.5\302\260, the gauge is good to 0.1\302\260. Was the sign "
                  "of the second reading kept?");
}

static void opposite_caps_that_differ_are_doubted(void **state)
{
    (void)state;
    struct ht_driveline line = good_line();
    line.slope[1].readings_rad.count = 0;
    line.slope[1].opposite_rad = list(0, 2, (double[]){ 1.5, 3.5 });
    expect(&line, "front shaft: opposite caps differ by 2.0\302\260");
}

static void a_yoke_that_was_not_set_is_doubted(void **state)
{
    (void)state;
    struct ht_driveline line = good_line();
    line.slope[1].crosswise_rad = list(0, 1, (double[]){ -8 });
    expect(&line, "front shaft: the yoke stood 8.0\302\260 off upright");
}

static void a_lost_decimal_point_is_asked_about(void **state)
{
    (void)state;
    static const double decimal[4][4] = { { 21, 2.5, 4.0, 2.4 },
                                          { 2.1, 25, 4.0, 2.4 },
                                          { 2.1, 2.5, 40, 2.4 },
                                          { 2.1, 2.5, 4.0, 24 } };
    static const char *const words[] = {
        "member 1 reads 21", "front shaft reads 25", "member 3 reads 40",
        "member 4 reads 24"
    };
    for (int i = 0; i < 4; i++) {
        struct ht_driveline line = driveline_of(4, decimal[i], NULL);
        line.member[1] = "front shaft";
        expect(&line, words[i]);
        expect(&line, "Is a decimal point missing?");
    }
}

static void a_sign_that_seems_swapped_is_asked_about(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(4, (double[]){ 2.1, 2.5, -4.0, 2.4 }, NULL);
    expect(&line, "member 3 reads -4.0\302\260. With 4.0\302\260 its "
                  "joints would bend far less. Is the sign right?");
    /* joints that bend the same way, as they may: no question */
    line = driveline_of(4, (double[]){ -2, -0.5, 2.5, 5 }, NULL);
    assert_int_equal(angles_of(&line).doubts, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(good_readings_raise_no_doubt),
        cmocka_unit_test(an_outlier_among_repeats_is_named),
        cmocka_unit_test(a_zero_far_beyond_the_gauge_is_doubted),
        cmocka_unit_test(opposite_caps_that_differ_are_doubted),
        cmocka_unit_test(a_yoke_that_was_not_set_is_doubted),
        cmocka_unit_test(a_lost_decimal_point_is_asked_about),
        cmocka_unit_test(a_sign_that_seems_swapped_is_asked_about),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
