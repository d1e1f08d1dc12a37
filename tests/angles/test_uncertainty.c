/* Propagation against plain drawing, and how often intervals hold the truth. */
#include "made_measurements.h"

enum { DRAWS = 20000 };

struct drawn {
    double joint[3][DRAWS], re[DRAWS], im[DRAWS], size[DRAWS];
};
static struct drawn drawn;

static void draw(const struct vehicle *vehicle, uint64_t seed)
{
    struct random_source source = { seed };
    struct ht_model model;
    for (int i = 0; i < DRAWS; i++) {
        struct ht_driveline line = measure(vehicle, 1, &source);
        ht_model_build(&model, &line);
        for (size_t j = 0; j < model.joints; j++)
            drawn.joint[j][i] = model.joint_rad[j];
        struct ht_phasor sum = ht_chain_second(&model.chain);
        drawn.re[i] = sum.re;
        drawn.im[i] = sum.im;
        drawn.size[i] = ht_phasor_size(sum);
    }
}

/* Mean product of two rows about their means. */
static double shared(const double *a, const double *b)
{
    double mean_a = 0, mean_b = 0, sum = 0;
    for (int i = 0; i < DRAWS; i++) {
        mean_a += a[i] / DRAWS;
        mean_b += b[i] / DRAWS;
    }
    for (int i = 0; i < DRAWS; i++)
        sum += (a[i] - mean_a) * (b[i] - mean_b);
    return sum / DRAWS;
}

/* 2 %: four standard errors of a deviation from 20 000 draws,
 * 1/sqrt(2 x 20000) = 0.5 %. Working angles above five times their
 * uncertainty; the complex sum wherever it stands. */
static void propagation_agrees_with_twenty_thousand_draws(void **state)
{
    (void)state;
    struct random_source source = { 111 };
    size_t compared = 0;
    for (size_t v = 0; v < VEHICLES; v++) {
        struct ht_model model;
        struct ht_driveline line = measure(&vehicles[v], 0, &source);
        if (vehicles[v].scatter > 0)
            continue;
        ht_model_build(&model, &line); /* its readings are drawn over */
        draw(&vehicles[v], 200 + v);
        for (size_t j = 0; j < model.joints; j++) {
            double u = ht_model_joint_u(&model, j).u_rad;
            if (model.joint_rad[j] < 5 * u)
                continue;
            assert_close_relative(
                sqrt(shared(drawn.joint[j], drawn.joint[j])), u, 0.02);
            compared++;
        }
        struct ht_plane sum = ht_sum_plane(&model);
        double re = shared(drawn.re, drawn.re), im = shared(drawn.im, drawn.im);
        double both = shared(drawn.re, drawn.im);
        double whole = sum.re_re + sum.im_im;
        print_message("%s: drawn over propagated %.4f\n", vehicles[v].name,
                      sqrt((re + im) / whole));
        assert_close_relative(sqrt(re + im), sqrt(whole), 0.02);
        /* as shares of the whole: 4 % of a variance are 2 % of its root */
        assert_close(re / whole, sum.re_re / whole, 0.04);
        assert_close(both / whole, sum.re_im / whole, 0.04);
    }
    assert_true(compared >= 12);
}

static double share_above(const double *row, double limit)
{
    int above = 0;
    for (int i = 0; i < DRAWS; i++)
        above += row[i] > limit;
    return (double)above / DRAWS;
}

/* Standard error of a share of 20 000 draws: 0.0035 at most. */
static void probabilities_agree_with_twenty_thousand_draws(void **state)
{
    (void)state;
    struct random_source source = { 112 };
    const struct ht_limit_set own = {
        .joint_max_rad = 2.6 * DEG, .joint_min_rad = 0.5 * DEG,
        .difference_max_rad = NAN, .axle_rad_s2 = NAN, .shaft_rad_s2 = NAN,
        .leftover_max_rad = 1.1 * DEG, .double_joint_max_rad = NAN,
        .odd_max_rad = NAN, .alone_max_rad = NAN
    };
    struct ht_angles_options options = no_limits;
    options.own = &own;
    double most = 0;
    for (size_t v = 0; v < 5; v++) {
        struct ht_angles result;
        struct ht_driveline line = measure(&vehicles[v], 0, &source);
        assert_int_equal(ht_angles_compute(&result, &line, &options, NULL),
                         HT_OK);
        draw(&vehicles[v], 300 + v);
        assert_true(result.verdicts > 2);
        for (size_t i = 0; i < result.verdicts; i++) {
            const struct ht_limit_verdict *verdict = &result.verdict[i];
            const double *row = verdict->joint ? drawn.joint[verdict->joint - 1]
                                               : drawn.size;
            double limit = verdict->joint ? verdict->limit
                                          : pow(tan(verdict->limit / 2), 2);
            double above = share_above(row, limit);
            double off = verdict->probability_over -
                         (verdict->is_minimum ? 1 - above : above);
            most = fmax(most, fabs(off));
            assert_close(off, 0, 0.01);
        }
    }
    print_message("probabilities: %.4f apart at most\n", most);
}

/* 1000 measurements of each vehicle: binomial, 95 % +- 0.69, four standard
 * deviations. */
static void the_intervals_hold_the_truth_as_often_as_they_say(void **state)
{
    (void)state;
    enum { RUNS = 1000, LEAST = 922, MOST = 978 };
    for (size_t v = 0; v < VEHICLES; v++) {
        struct coverage c = cover(&vehicles[v], RUNS, 400 + v);
        for (size_t j = 0; j + 1 < vehicles[v].members; j++)
            assert_in_range(c.joint[j], LEAST, MOST);
        if (vehicles[v].members > 2)
            assert_in_range(c.sum, LEAST, MOST);
        if (vehicles[v].members > 2)
            assert_in_range(c.pair, LEAST, MOST);
        assert_in_range(c.leftover, LEAST, MOST);
    }
}

/* Derived: the leftover read off a shaft that cancels is sqrt(6 deg |N|), N of
 * standard deviation sqrt(2) u: 0.71 +- 0.30 deg, 95 % 0.15 to 1.29, for
 * u = 0.087 deg, and 1.07 for u = 0.2. Half of the last digit and three
 * standard errors of 20 000 draws. */
static void a_perfect_shaft_shows_a_leftover(void **state)
{
    (void)state;
    static const double u[] = { 0.087, 0.2 };
    static double shown[DRAWS];
    for (int k = 0; k < 2; k++) {
        struct random_source source = { 500 };
        double mean = 0, squares = 0;
        int low = 0, high = 0, middle = 0;
        for (int i = 0; i < DRAWS; i++) {
            struct ht_chain chain = { .members = 3 };
            for (int m = 0; m < 3; m++)
                chain.slope_rad[m] =
                    ((m == 1 ? 3 : 0) + u[k] * random_normal(&source)) * DEG;
            double h2 = ht_phasor_size(ht_chain_second(&chain));
            shown[i] = ht_joint_bend_of_harmonic(h2) / DEG;
            mean += shown[i] / DRAWS;
            low += shown[i] < 0.15;
            high += shown[i] > 1.29;
            middle += shown[i] < (k ? 1.07 : 0.71);
        }
        for (int i = 0; i < DRAWS; i++)
            squares += pow(shown[i] - mean, 2) / DRAWS;
        /* 0.01 deg of the median are 0.01 of the draws */
        assert_close((double)middle / DRAWS, 0.5, 0.02);
        if (k > 0)
            continue;
        assert_close(sqrt(squares), 0.30, 0.01);
        assert_close((double)low / DRAWS, 0.025, 0.006);
        assert_close((double)high / DRAWS, 0.025, 0.006);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(propagation_agrees_with_twenty_thousand_draws),
        cmocka_unit_test(probabilities_agree_with_twenty_thousand_draws),
        cmocka_unit_test(the_intervals_hold_the_truth_as_often_as_they_say),
        cmocka_unit_test(a_perfect_shaft_shows_a_leftover),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
