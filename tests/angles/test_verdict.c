/* Results against limits, and what would decide an open one. */
#include "driveline_case.h"

/* A joint that keeps the speed even adds nothing, and its neighbour stands
 * alone: no equality is asked for across it. */
static void a_double_joint_closes_the_chain(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(3, (double[]){ 0, 6, 2 });
    line.kind[0] = HT_JOINT_DOUBLE_CARDAN;
    struct ht_angles result = judged(&line, "light_truck");
    assert_close(result.leftover_read_rad / DEG, 4, 1e-9);
    assert_null(find(&result, "joints 1 and 2 differ", false));
    assert_int_equal(
        find(&result, "joint 2, which no other joint cancels", false)->verdict,
        HT_VERDICT_OVER);
    /* the double joint has its own maximum and no minimum */
    assert_int_equal(find(&result, "joint 1", false)->verdict,
                     HT_VERDICT_WITHIN);
    assert_null(find(&result, "joint 1", true));
}

/* Common practice, no source: caps at 20.5 and 27 deg make 6.5; 6.0 and 4.35
 * differ by 1.65, over a rule of 1 deg; taken hanging, numbers only. */
static void trade_arithmetic_comes_out(void **state)
{
    (void)state;
    struct ht_driveline line = driveline_of(2, (double[]){ 20.5, 27 }, NULL);
    assert_close(angles_of(&line).joint[0].angle_rad.value / DEG, 6.5, 1e-12);
    line = driveline_of(3, (double[]){ 0, 6, 1.65 }, NULL);
    line.gauge = (struct ht_gauge){ 0.1 * DEG, 0.1 * DEG, 0.15 * DEG, NAN };
    line.read_on = HT_SURFACE_CAP;
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    struct ht_angles result = judged(&line, "light_truck");
    const struct ht_limit_verdict *verdict =
        find(&result, "joints 1 and 2 differ", false);
    assert_close(verdict->value / DEG, 1.65, 1e-12);
    assert_int_equal(verdict->verdict, HT_VERDICT_OVER);
    line.suspension = HT_SUSPENSION_HANGING;
    result = judged(&line, "light_truck");
    assert_int_equal(result.verdicts, 0);
    assert_close(result.joint[0].angle_rad.value / DEG, 6, 1e-12);
    assert_close(result.joint[1].angle_rad.value / DEG, 4.35, 1e-12);
}

static void without_a_known_suspension_there_is_no_verdict(void **state)
{
    (void)state;
    static const struct {
        enum ht_suspension suspension;
        bool verdict;
    } rows[] = { { HT_SUSPENSION_UNKNOWN, false },
                 { HT_SUSPENSION_HANGING, false },
                 { HT_SUSPENSION_WHEELS_ON_GROUND, true },
                 { HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT, true } };
    struct ht_driveline line = driveline_of(3, (double[]){ 0, 6, 1 }, NULL);
    for (size_t i = 0; i < 4; i++) {
        line.suspension = rows[i].suspension;
        struct ht_angles result = judged(&line, NULL);
        assert_int_equal(result.verdict_allowed, rows[i].verdict);
        assert_int_equal(result.verdicts > 0, rows[i].verdict);
        assert_close(result.joint[0].angle_rad.value / DEG, 6, 1e-12);
    }
}

/* From the side the true angle is at least the angle seen. */
static void a_side_view_is_over_or_open_but_never_within_a_maximum(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(3, (double[]){ 0, 4, 3.8 });
    for (size_t i = 0; i < 3; i++)
        line.heading_rad[i] = i == 1 ? NAN : 0;
    struct ht_angles result = judged(&line, "light_truck");
    assert_true(result.side_view_only);
    assert_int_equal(find(&result, "joint 1", false)->verdict, HT_VERDICT_OVER);
    assert_int_equal(find(&result, "joint 1", true)->verdict,
                     HT_VERDICT_WITHIN);
    assert_int_equal(find(&result, "joint 2", false)->verdict, HT_VERDICT_OPEN);
    assert_non_null(
        strstr(find(&result, "joint 2", false)->way_out, "headings"));
    assert_int_equal(find(&result, "joint 2", true)->verdict, HT_VERDICT_OPEN);
    for (size_t i = 0; i < 3; i++)
        line.heading_rad[i] = 0;
    result = judged(&line, "light_truck");
    assert_int_equal(find(&result, "joint 2", false)->verdict,
                     HT_VERDICT_WITHIN);
    assert_int_equal(find(&result, "joint 2", true)->verdict, HT_VERDICT_UNDER);
}

/* Half a degree cannot be judged with a quarter-degree gauge where the joints
 * bend the same way (U = 0.71 deg, derived); repeats do not help, as nothing
 * of it is scatter. */
static void an_open_verdict_names_what_would_decide_it(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(3, (double[]){ 0, 3, 6.3 }, (double[]){ 0, 0, 0 });
    line.gauge = (struct ht_gauge){ 0.25 * DEG, 0, 0, 0 };
    line.read_on = HT_SURFACE_CAP;
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    line.heading_u_rad = 0;
    struct ht_angles result = judged(&line, "car");
    const struct ht_limit_verdict *verdict =
        find(&result, "joints 1 and 2 differ", false);
    assert_int_equal(verdict->verdict, HT_VERDICT_OPEN);
    /* 0.2 below the limit: u of the difference is sqrt(6) a / sqrt(3); at
     * a = 0.1, 1.645 u = 0.23 does not do, at 0.05 it does */
    assert_string_equal(verdict->way_out,
                        "No number of repeats will decide it. A gauge of "
                        "\302\261 0.05\302\260 would.");
    line = driveline_of(3, (double[]){ 0, 3, 6.5 }, (double[]){ 0, 0, 0 });
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    result = judged(&line, "car");
    verdict = find(&result, "joints 1 and 2 differ", false);
    assert_non_null(strstr(verdict->way_out, "Too close to the limit"));
}

/* Rayleigh's law: draws about a reading of none lie above 0.8 deg of leftover
 * in 98 %, exp(-(0.64 / 3.39)^2 / 2) with 3.39 = 6 root 2 times 0.4 deg, and
 * about a joint read straight above 0.5 deg in 98 %, exp(-(0.5 / 2.83)^2 / 2).
 * That alone is no proof. */
static void what_may_be_zero_is_not_said_to_be_over(void **state)
{
    (void)state;
    const struct ht_limit_set own = {
        .joint_max_rad = NAN, .joint_min_rad = NAN, .difference_max_rad = NAN,
        .axle_rad_s2 = NAN, .shaft_rad_s2 = NAN, .leftover_max_rad = 0.8 * DEG,
        .double_joint_max_rad = NAN, .odd_max_rad = NAN, .alone_max_rad = NAN
    };
    struct ht_limit_set least = own;
    least.joint_min_rad = 0.5 * DEG;
    least.leftover_max_rad = NAN;
    struct ht_angles_options options = no_limits;
    struct ht_angles result;
    options.own = &own;
    for (int far = 0; far < 2; far++) {
        struct ht_driveline line = driveline_of(
            3, (double[]){ 0, 3, far ? 3 : 0 }, (double[]){ 0, 0, 0 });
        line.gauge = (struct ht_gauge){ 0, 0, 0.4 * DEG, 0 };
        line.heading_u_rad = 0.4 * DEG;
        line.read_on = HT_SURFACE_CAP;
        line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
        assert_int_equal(ht_angles_compute(&result, &line, &options, NULL),
                         HT_OK);
        assert_int_equal(result.leftover_is_zero, !far);
        assert_true(result.verdict[0].probability_over > 0.95);
        assert_int_equal(result.verdict[0].verdict,
                         far ? HT_VERDICT_OVER : HT_VERDICT_OPEN);
        if (!far)
            assert_non_null(strstr(result.verdict[0].way_out, "Zero is not"));
    }
    options.own = &least;
    struct ht_driveline line =
        driveline_of(2, (double[]){ 0, 0 }, (double[]){ 0, 0 });
    line.gauge = (struct ht_gauge){ 0, 0, 2 * DEG, 0 };
    line.heading_u_rad = 2 * DEG;
    line.read_on = HT_SURFACE_CAP;
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    assert_int_equal(ht_angles_compute(&result, &line, &options, NULL), HT_OK);
    assert_true(result.verdict[0].probability_over < 0.05);
    assert_int_equal(result.verdict[0].verdict, HT_VERDICT_OPEN);
}

static void
repeats_are_asked_for_where_the_scatter_is_what_keeps_it_open(void **state)
{
    (void)state;
    double first[] = { -0.3 * DEG, 0.3 * DEG, 0 };
    double second[] = { 2.4 * DEG, 3.0 * DEG, 2.7 * DEG };
    struct ht_driveline line = exact_of(2, (double[]){ 0, 2.7 });
    line.slope[0].readings_rad = (struct ht_numbers){ first, 3 };
    line.slope[1].readings_rad = (struct ht_numbers){ second, 3 };
    struct ht_angles result = judged(&line, "light_truck");
    const struct ht_limit_verdict *verdict = find(&result, "joint 1", false);
    assert_int_equal(verdict->verdict, HT_VERDICT_OPEN);
    /* u = sqrt(2/n) 0.3; 0.3 below the limit: n = 5 gives 1.58 u, n = 8 two
     * u, and Student's t for 14 degrees asks 1.76 */
    assert_string_equal(verdict->way_out, "Read every cap 8 times.");
}

static void the_makers_own_figure_comes_before_the_set(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(3, (double[]){ 0, 4, 0.5 });
    struct ht_limit_set own = { .id = "maker",
                                .source = "vehicle maker's figure",
                                .joint_max_rad = 5 * DEG,
                                .joint_min_rad = NAN,
                                .difference_max_rad = NAN,
                                .axle_rad_s2 = NAN,
                                .shaft_rad_s2 = NAN,
                                .leftover_max_rad = NAN,
                                .double_joint_max_rad = NAN,
                                .odd_max_rad = NAN,
                                .alone_max_rad = NAN };
    struct ht_angles_options options = no_limits;
    struct ht_angles result;
    options.own = &own;
    options.limit_set = "light_truck";
    assert_int_equal(ht_angles_compute(&result, &line, &options, NULL), HT_OK);
    const struct ht_limit_verdict *verdict = find(&result, "joint 1", false);
    assert_int_equal(verdict->verdict, HT_VERDICT_WITHIN);
    assert_string_equal(verdict->source, "vehicle maker's figure");
    verdict = find(&result, "joint 1", true);
    assert_string_equal(verdict->set, "light_truck");
    options.limit_set = NULL; /* the maker's alone: no other set is shown */
    assert_int_equal(ht_angles_compute(&result, &line, &options, NULL), HT_OK);
    assert_int_equal(result.verdicts, 2);
}

static void without_a_named_set_every_set_is_shown(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(3, (double[]){ 0, 4.5, 0.5 });
    struct ht_angles result = judged(&line, NULL);
    size_t over = 0, asked = 0;
    for (size_t i = 0; i < result.verdicts; i++)
        if (strcmp(result.verdict[i].what, "joint 1") == 0 &&
            !result.verdict[i].is_minimum) {
            asked++;
            over += result.verdict[i].verdict == HT_VERDICT_OVER;
        }
    assert_int_equal(asked, 7); /* five sets have no joint maximum */
    assert_int_equal(over, 6);  /* one of them allows 5 deg */
}

/* With one reading turned round the zero error no longer cancels: 0.1 deg
 * below the limit at u = 0.3 / sqrt 3 is over with 1 - Phi(0.577) = 0.282
 * (normal table). 0.02: 4096 draws, three standard errors. */
static void the_common_zero_error_counts_where_it_does_not_cancel(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(2, (double[]){ 1, 0 });
    line.gauge = (struct ht_gauge){ 0.3 * DEG, 0, 0, 1 };
    line.slope[1].flip_a_rad = 3.9 * DEG;
    line.slope[1].flip_b_rad = -3.9 * DEG;
    struct ht_angles result = judged(&line, "light_truck");
    assert_close(find(&result, "joint 1", false)->probability_over, 0.282,
                 0.02);
    line.slope[1].flip_a_rad = NAN;
    readings[1] = 3.9 * DEG;
    result = judged(&line, "light_truck");
    assert_close(find(&result, "joint 1", false)->probability_over, 0, 0);
}

/* Common practice, no source: the joints of one shaft are compared, counted
 * from the rear; the odd one in front is judged by itself. */
static void joints_are_paired_from_the_rear_each_once(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(4, (double[]){ 0, 1, 3, 1 });
    struct ht_angles result = judged(&line, "car");
    assert_null(find(&result, "joints 1 and 2 differ", false));
    assert_non_null(find(&result, "joints 2 and 3 differ", false));
    line = exact_of(5, (double[]){ 0, 1, 3, 1, 2 });
    result = judged(&line, "car");
    assert_non_null(find(&result, "joints 1 and 2 differ", false));
    assert_null(find(&result, "joints 2 and 3 differ", false));
    assert_non_null(find(&result, "joints 3 and 4 differ", false));
    /* yokes a quarter turn off: equal angles would add up */
    line.yoke_rad[3] = 90 * DEG;
    result = judged(&line, "car");
    assert_null(find(&result, "joints 3 and 4 differ", false));
    assert_non_null(find(&result, "joints 1 and 2 differ", false));
}

/* 2.8 deg from the side against 3: no gauge, however fine, shows within. */
static void
a_side_view_is_sent_to_the_headings_not_to_a_finer_gauge(void **state)
{
    (void)state;
    struct ht_driveline line = driveline_of(2, (double[]){ 0, 2.8 }, NULL);
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    line.gauge = (struct ht_gauge){ 0.2 * DEG, 0.1 * DEG, 0.15 * DEG, NAN };
    line.read_on = HT_SURFACE_CAP;
    struct ht_angles result = judged(&line, "light_truck");
    const struct ht_limit_verdict *verdict = find(&result, "joint 1", false);
    assert_int_equal(verdict->verdict, HT_VERDICT_OPEN);
    assert_true(verdict->probability_over > 0.05);
    assert_non_null(strstr(verdict->way_out, "Measure the headings too"));
}

/* Shares of drawn lines that break a rule, one by one and followed through
 * the exact chain, are the probabilities of the verdicts: the same draws. */
static void lines_that_are_drawn_break_rules_as_often_as_the_verdict_says(
    void **state)
{
    (void)state;
    enum { DRAWS = 4096 };
    static struct ht_chain drawn[DRAWS];
    static struct ht_limits limits;
    struct ht_rules rules;
    struct ht_error err;
    size_t broken[HT_RULES_MAX] = { 0 };
    struct ht_driveline line = driveline_of(4, (double[]){ 2, 2.6, 6, 3.1 },
                                            (double[]){ 0, 1, -1, 0 });
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    struct ht_angles result = judged(&line, "light_truck");
    assert_int_equal(ht_limits_read(&limits, NULL, &err), HT_OK);
    struct ht_angles_options options = { .limits = &limits,
                                         .limit_set = "light_truck",
                                         .shaft_rad_s = NAN,
                                         .speed_m_s = NAN };
    assert_int_equal(ht_rules_list(&rules, &line, &options, &err), HT_OK);
    assert_int_equal(rules.rules, result.verdicts);
    assert_int_equal(ht_chain_draw(drawn, DRAWS, &line, &err), HT_OK);
    for (size_t i = 0; i < DRAWS; i++) {
        double value[HT_RULES_MAX];
        ht_rules_values(&rules, &drawn[i], value);
        for (size_t r = 0; r < rules.rules; r++)
            broken[r] += rules.rule[r].is_minimum
                             ? value[r] <= rules.rule[r].held_to
                             : value[r] > rules.rule[r].held_to;
    }
    for (size_t r = 0; r < rules.rules; r++) {
        assert_string_equal(rules.rule[r].what, result.verdict[r].what);
        assert_close((double)broken[r] / DRAWS,
                     result.verdict[r].probability_over, 1e-12);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_double_joint_closes_the_chain),
        cmocka_unit_test(trade_arithmetic_comes_out),
        cmocka_unit_test(
            lines_that_are_drawn_break_rules_as_often_as_the_verdict_says),
        cmocka_unit_test(without_a_known_suspension_there_is_no_verdict),
        cmocka_unit_test(
            a_side_view_is_over_or_open_but_never_within_a_maximum),
        cmocka_unit_test(an_open_verdict_names_what_would_decide_it),
        cmocka_unit_test(what_may_be_zero_is_not_said_to_be_over),
        cmocka_unit_test(
            repeats_are_asked_for_where_the_scatter_is_what_keeps_it_open),
        cmocka_unit_test(the_makers_own_figure_comes_before_the_set),
        cmocka_unit_test(without_a_named_set_every_set_is_shown),
        cmocka_unit_test(the_common_zero_error_counts_where_it_does_not_cancel),
        cmocka_unit_test(joints_are_paired_from_the_rear_each_once),
        cmocka_unit_test(
            a_side_view_is_sent_to_the_headings_not_to_a_finer_gauge),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
