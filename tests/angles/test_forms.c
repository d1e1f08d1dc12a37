/* Every form in which a reading can be taken. */
#include "driveline_case.h"

#include "angles/reading.h"

static bool said(const char (*texts)[200], size_t count, const char *words)
{
    for (size_t i = 0; i < count; i++)
        if (strstr(texts[i], words))
            return true;
    return false;
}

static bool noted(const struct ht_angles *result, const char *words)
{
    return said(result->note, result->notes, words);
}

/* JCGM 100, 4.2.3 and 5.1: the mean of two caps, each placed for itself,
 * brings looks and placings down by root 2; the gauge's zero stays. */
static void opposite_caps_count_by_their_mean(void **state)
{
    (void)state;
    double cap[] = { 2.4 * DEG, 1.8 * DEG };
    struct ht_driveline line = driveline_of(2, (double[]){ 1, 0 }, NULL);
    line.gauge = (struct ht_gauge){ 0.1 * DEG, 0.1 * DEG, 0.15 * DEG, 0 };
    line.read_on = HT_SURFACE_CAP;
    line.slope[1].readings_rad.count = 0;
    line.slope[1].opposite_rad = (struct ht_numbers){ cap, 2 };
    struct ht_angles result = angles_of(&line);
    assert_close(result.joint[0].angle_rad.value / DEG, 1.1, 1e-12);
    struct ht_reading reading =
        ht_reading_of_slope(&line.slope[1], line.gauge, HT_SURFACE_CAP);
    double one = 0.01 / 3 + 0.01 / 12 + 0.15 * 0.15;
    assert_close(ht_reading_u_rad(&reading) / DEG, sqrt(one / 2), 1e-12);
    assert_close(reading.zero, 1, 0);
    assert_true(noted(&result, "tilt of cap"));
}

/* JCGM 100, 4.2.3 and F.2.2.1 (a pair turned round: 3.4 and -2.8 are 3.1 with
 * a zero of 0.3): with all readings taken one way round, the zero never was in
 * the angle, so the pair moves the angle's value by nothing. */
static void a_pair_turned_round_leaves_a_working_angle_as_it_was(void **state)
{
    (void)state;
    const double zero = 0.3;
    struct ht_driveline line =
        driveline_of(2, (double[]){ 1 + zero, 3.1 + zero }, NULL);
    double plain = angles_of(&line).joint[0].angle_rad.value;
    static const double slope[] = { 1, 3.1 };
    for (int i = 0; i < 2; i++) {
        line.slope[i].readings_rad.count = 0;
        line.slope[i].flip_a_rad = (zero + slope[i]) * DEG;
        line.slope[i].flip_b_rad = (zero - slope[i]) * DEG;
    }
    struct ht_angles result = angles_of(&line);
    assert_close(result.joint[0].angle_rad.value, plain, 1e-15);
    assert_true(noted(&result, "hardly feels it"));
    /* one member only: its zero is gone, the other's is not */
    line = driveline_of(2, (double[]){ 1 + zero, 0 }, NULL);
    line.slope[1].flip_a_rad = 3.4 * DEG;
    line.slope[1].flip_b_rad = -2.8 * DEG;
    result = angles_of(&line);
    assert_close(result.joint[0].angle_rad.value / DEG, 3.1 - 1.3, 1e-12);
    assert_true(noted(&result, "Turn it for all or for none"));
}

/* Derived: d ~ (1, tan h, tan v) of a drawing, d = (cos e cos h, cos e sin h,
 * sin e) of an inclination. Six decimals, computed apart from this program. */
static void drawing_angles_are_not_inclinations(void **state)
{
    (void)state;
    static const struct {
        double slope[2], heading[2], inclination, drawing;
    } rows[] = { { { -3, -6 }, { 0, 4 }, 4.989766, 4.981091 },
                 { { 0, 10 }, { 0, 10 }, 14.106044, 14.001942 } };
    for (int i = 0; i < 2; i++) {
        struct ht_driveline line = exact_of(2, rows[i].slope);
        for (int m = 0; m < 2; m++)
            line.heading_rad[m] = rows[i].heading[m] * DEG;
        assert_close(angles_of(&line).joint[0].angle_rad.value / DEG,
                     rows[i].inclination, 1e-6);
        line.drawing = true;
        struct ht_angles result = angles_of(&line);
        assert_close(result.joint[0].angle_rad.value / DEG, rows[i].drawing,
                     1e-6);
        assert_true(noted(&result, "turned into inclinations"));
        line.heading_rad[0] = line.heading_rad[1] = NAN;
        result = angles_of(&line);
        assert_close(result.joint[0].angle_rad.value / DEG,
                     fabs(rows[i].slope[1] - rows[i].slope[0]), 1e-12);
        assert_true(noted(&result, "there are no headings"));
    }
}

/* Joint centres in space, and what gauge, rule and drawing would show of
 * them: the same working angles as from the vectors. */
static void offsets_and_lengths_give_the_headings(void **state)
{
    (void)state;
    /* x forward, y left, z up; mm */
    static const double centre[3][3] = { { 0, 0, 0 },
                                         { -1118, 41, -63 },
                                         { -2416, -22, -180 } };
    double slope[4] = { 2, 0, 0, 1.5 }, seen[4] = { 2, 0, 0, 1.5 };
    double direction[4][3], expected[3], length[4] = { 0 };
    double ends[2] = { 0, 0.7 };
    for (int m = 1; m < 3; m++) {
        double d[3];
        for (int k = 0; k < 3; k++)
            d[k] = centre[m][k] - centre[m - 1][k];
        length[m] = sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
        for (int k = 0; k < 3; k++)
            direction[m][k] = d[k] / length[m];
        slope[m] = asin(-d[2] / length[m]) / DEG;
        seen[m] = atan2(-d[2], -d[0]) / DEG;
    }
    for (int e = 0; e < 2; e++) {
        double s = slope[3 * e] * DEG, h = ends[e] * DEG;
        direction[3 * e][0] = -cos(s) * cos(h);
        direction[3 * e][1] = cos(s) * sin(h);
        direction[3 * e][2] = -sin(s);
        seen[3 * e] = atan2(sin(s), cos(s) * cos(h)) / DEG;
    }
    for (int j = 0; j < 3; j++) {
        double dot = 0;
        for (int k = 0; k < 3; k++)
            dot += direction[j][k] * direction[j + 1][k];
        expected[j] = acos(dot);
    }
    for (int drawing = 0; drawing < 2; drawing++) {
        struct ht_driveline line = exact_of(4, drawing ? seen : slope);
        line.drawing = drawing == 1;
        for (int m = 1; m < 3; m++) {
            line.heading_rad[m] = NAN;
            line.joint_to_joint_m[m] = length[m] / 1000;
        }
        line.heading_rad[3] = ends[1] * DEG;
        for (int j = 0; j < 3; j++)
            line.offset_m[j] = centre[j][1] / 1000;
        struct ht_angles result = angles_of(&line);
        assert_false(result.side_view_only);
        for (int j = 0; j < 3; j++)
            assert_close(result.joint[j].angle_rad.value, expected[j], 1e-12);
    }
}

/* Meritor maintenance manual 96147: plan angle = atan of the difference of the
 * offsets over the length. Ours takes the length along the shaft: 0.02 deg
 * less to 5 deg. The 1.25 mm of each offset make 0.1 deg over a metre. */
static void a_plan_angle_is_that_of_the_handbook(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(3, (double[]){ 0, 0, 0 });
    line.heading_rad[0] = line.heading_rad[1] = line.heading_rad[2] = NAN;
    line.joint_to_joint_m[1] = 1;
    line.offset_m[0] = 0.01;
    line.offset_m[1] = -0.07;
    struct ht_angles result = angles_of(&line);
    for (int j = 0; j < 2; j++) {
        assert_close(result.joint[j].angle_rad.value / DEG,
                     atan(0.08) / DEG, 0.02);
        assert_close(result.joint[j].angle_rad.u / DEG,
                     sqrt(2) * 0.00125 / DEG, 1e-3);
    }
    assert_true(noted(&result, "straight ahead"));
    assert_true(noted(&result, "offsets of the joint centres"));
}

static void differences_between_caps_say_what_is_lost(void **state)
{
    (void)state;
    struct ht_driveline line = driveline_of(3, (double[]){ 0, 0, 0 },
                                            (double[]){ 0, 0, 0 });
    line.by_joint = true;
    line.joint_rad[0] = 1.5 * DEG;
    line.joint_rad[1] = -1.6 * DEG;
    struct ht_angles result = angles_of(&line);
    assert_close(result.joint[1].angle_rad.value / DEG, 1.6, 1e-12);
    assert_true(result.side_view_only);
    assert_true(noted(&result, "Shims cannot be planned"));
    assert_true(noted(&result, "are not used"));
}

/* The member's own set-up comes first, then what crosswise showed, then the
 * gauge's; the member's own surface before that of the set. */
static void a_members_own_figures_come_first(void **state)
{
    (void)state;
    double crosswise[] = { -1 * DEG, 0.5 * DEG };
    struct ht_gauge gauge = { 0, 0, 0.4 * DEG, 0 };
    struct ht_sheet_slope slope = { .flip_a_rad = NAN,
                                    .flip_b_rad = NAN,
                                    .set_up_rad = NAN };
    assert_close(ht_slope_set_up_rad(&slope, 0, gauge) / DEG, 0.4, 1e-15);
    slope.crosswise_rad = (struct ht_numbers){ crosswise, 2 };
    double by_crosswise = ht_slope_set_up_rad(&slope, 0, gauge);
    assert_close(by_crosswise, ht_crosswise_set_up_rad(1 * DEG, 0, gauge), 0);
    slope.set_up_rad = 0.3 * DEG;
    assert_close(ht_slope_set_up_rad(&slope, 0, gauge) / DEG, 0.3, 1e-15);
    slope.set_up_rad = 0;
    assert_close(ht_look_u_rad(&slope, 0, gauge, HT_SURFACE_MACHINED_FLANGE) /
                     DEG,
                 0.05, 1e-15);
    slope.read_on = HT_SURFACE_YOKE;
    assert_close(ht_look_u_rad(&slope, 0, gauge, HT_SURFACE_MACHINED_FLANGE) /
                     DEG,
                 0.5, 1e-15);
}

struct refusal {
    const char *words;
    void (*spoil)(struct ht_driveline *line);
};

static double spoilt[] = { 1 * DEG, 2 * DEG };

static void stand_on_strap(struct ht_driveline *line)
{
    line->slope[1].read_on = HT_SURFACE_STRAP;
}

static void lay_face_flat(struct ht_driveline *line)
{
    line->slope[2].is_face = true;
}

static void flip_a_drawing(struct ht_driveline *line)
{
    line->drawing = true;
    line->slope[0].opposite_rad = (struct ht_numbers){ spoilt, 2 };
}

static void forget_an_offset(struct ht_driveline *line)
{
    line->offset_m[1] = 0.01;
}

static void forget_a_length(struct ht_driveline *line)
{
    line->offset_m[0] = line->offset_m[1] = 0.01;
}

static void offsets_in_another_unit(struct ht_driveline *line)
{
    line->joint_to_joint_m[1] = 1.2;
    line->offset_m[0] = 0;
    line->offset_m[1] = 10;
}

static void offsets_beside_a_heading(struct ht_driveline *line)
{
    line->joint_to_joint_m[1] = 1.2;
    line->offset_m[0] = line->offset_m[1] = 0;
    line->heading_rad[1] = 0;
}

static void what_contradicts_itself_is_refused(void **state)
{
    (void)state;
    static const struct refusal rows[] = {
        { "lies square to nothing", stand_on_strap },
        { "The face of member 3 reads 1", lay_face_flat },
        { "no angle of a drawing", flip_a_drawing },
        { "There is no offset for joint 1", forget_an_offset },
        { "Give joint_to_joint_mm of member 2", forget_a_length },
        { "differ by 10000 mm, too much for a shaft of 1200 mm",
          offsets_in_another_unit },
        { "say where member 2 runs", offsets_beside_a_heading },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_driveline line =
            driveline_of(3, (double[]){ 2, 3, 1 }, NULL);
        struct ht_angles result;
        struct ht_error err = { 0 };
        rows[i].spoil(&line);
        assert_int_equal(ht_angles_compute(&result, &line, &no_limits, &err),
                         HT_BAD_FILE);
        if (!strstr(err.text, rows[i].words))
            fail_msg("%s", err.text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(opposite_caps_count_by_their_mean),
        cmocka_unit_test(a_pair_turned_round_leaves_a_working_angle_as_it_was),
        cmocka_unit_test(drawing_angles_are_not_inclinations),
        cmocka_unit_test(offsets_and_lengths_give_the_headings),
        cmocka_unit_test(a_plan_angle_is_that_of_the_handbook),
        cmocka_unit_test(differences_between_caps_say_what_is_lost),
        cmocka_unit_test(a_members_own_figures_come_first),
        cmocka_unit_test(what_contradicts_itself_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
