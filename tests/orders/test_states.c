/* Seen, not seen, could not be seen; and the coverage of the limits. */
#include "close.h"
#include "made.h"

static double steady(double t) { (void)t; return 25; }
static double sweep(double t) { return 16 + 14 * t / 120; }

static void name_wheel_and_shaft(struct made *m, double ratio)
{
    size_t wheel = made_part(m, "wheel", 1, HT_FAMILY_WHEEL, false);
    size_t shaft = made_part(m, "shaft", ratio, HT_FAMILY_SHAFT, false);
    made_order(m, wheel, 1);
    made_order(m, wheel, 2);
    made_order(m, wheel, 3);
    made_order(m, shaft, 1);
    made_order(m, shaft, 2);
}

/* 300 short noise-only reports at 1 % each: more than 9 would happen once in
 * 1000 honest suites (binomial). */
static void noise_alone_raises_no_more_false_alarms_than_promised(void **state)
{
    (void)state;
    int alarms = 0;
    for (uint64_t trial = 0; trial < 300; trial++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 1000 + trial };
        made_start(&m, 250, 30, 2, steady);
        name_wheel_and_shaft(&m, 3.73);
        made_noise(&m, 0, 0.001, &source);
        made_noise(&m, 1, 0.0001, &source);
        (void)made_find(&orders, &m, 0.04, "shaft", 1);
        bool alarm = false;
        for (size_t i = 0; i < orders.results; i++)
            alarm = alarm || orders.result[i].state == HT_SEEN;
        alarms += alarm;
        ht_orders_free(&orders);
        made_free(&m);
    }
    print_message("%d of 300 noise-only reports claim an order\n", alarms);
    assert_true(alarms <= 9);
}

static double waves(double t) { return 22 + 6 * sin(0.2 * t); }

/* Noise ringing in a resonance (two-pole, damping 5 %) at 12 Hz, beside 1x
 * wheel's 12.5 Hz: shaken by the road, follows nothing. 100 reports at 1 %:
 * more than 5 would happen once in 2000 honest suites (binomial). */
static void resonances_do_not_pass_for_orders(void **state)
{
    (void)state;
    int alarms = 0;
    for (uint64_t trial = 0; trial < 100; trial++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 70000 + trial };
        made_start(&m, 250, 60, 1, trial % 2 ? waves : steady);
        name_wheel_and_shaft(&m, 3.73);
        double w = 2 * MADE_PI * 12 / 250, r = exp(-0.05 * w);
        double y1 = 0, y2 = 0;
        for (size_t i = 0; i < m.recording.frames; i++) {
            double y = 0.01 * random_normal(&source) + 2 * r * cos(w) * y1 -
                       r * r * y2;
            y2 = y1;
            y1 = y;
            m.channel[0].samples[i] += (float)y;
        }
        made_noise(&m, 0, 1e-5, &source);
        (void)made_find(&orders, &m, 0.04, "shaft", 1);
        bool alarm = false;
        for (size_t i = 0; i < orders.results; i++)
            alarm = alarm || orders.result[i].state == HT_SEEN;
        alarms += alarm;
        ht_orders_free(&orders);
        made_free(&m);
    }
    print_message("%d of 100 reports take a resonance for an order\n", alarms);
    assert_true(alarms <= 5);
}

/* Binomial, 300 trials at 95 %: 271 to 296 in 99.9 % of honest suites. */
static void limits_hold_the_truth_nineteen_times_in_twenty(void **state)
{
    (void)state;
    int inside = 0;
    for (uint64_t trial = 0; trial < 300; trial++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 5000 + trial };
        made_start(&m, 250, 30, 1, steady);
        name_wheel_and_shaft(&m, 3.73);
        double level = 0.1 * pow(10, (double)(trial % 5) / 4 - 0.5);
        made_line(&m, 0, 7.46, level, 0, 0.01 * (double)(trial % 100));
        made_noise(&m, 0, 0.001 * 1.28 / 3, &source); /* 10 dB at 0.1 */
        const struct ht_order_result *r = made_find(&orders, &m, 0.04,
                                                    "shaft", 2);
        assert_non_null(r);
        inside += r->bin[0].level.low <= level &&
                  level <= r->bin[0].level.high;
        ht_orders_free(&orders);
        made_free(&m);
    }
    print_message("%d of 300 limits hold the truth\n", inside);
    assert_true(inside >= 271 && inside <= 296);
}

static void quiet_drive_says_not_seen_and_noisy_one_could_not_be_seen(
    void **state)
{
    (void)state;
    static const struct { double density; enum ht_order_state state; }
    row[] = { { 1e-7, HT_NOT_SEEN }, { 0.1, HT_COULD_NOT_BE_SEEN } };
    for (size_t i = 0; i < 2; i++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 21 + i };
        made_start(&m, 500, 60, 1, steady);
        name_wheel_and_shaft(&m, 3.73);
        made_noise(&m, 0, row[i].density, &source);
        const struct ht_order_result *r = made_find(&orders, &m, 0.02,
                                                    "shaft", 2);
        assert_int_equal(r->state, row[i].state);
        if (r->state == HT_NOT_SEEN)
            assert_true(r->least_seen <= 0.02);
        else
            assert_non_null(strstr(r->reason, "road noise"));
        ht_orders_free(&orders);
        made_free(&m);
    }
}

static void orders_above_the_band_are_never_claimed(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    /* 104 Hz: 2x shaft (93 Hz at 12.5 turns a second) lies above 46.8 Hz and
     * folds down to 11 Hz, beside 1x wheel */
    made_start(&m, 104, 60, 1, steady);
    m.recording.file_rate_hz = 104;
    name_wheel_and_shaft(&m, 3.73);
    made_line(&m, 0, 7.46, 0.3, 0, 0);
    made_line(&m, 0, 3.73, 0.3, 0, 0);
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "shaft",
                                                2);
    assert_int_equal(r->state, HT_COULD_NOT_BE_SEEN);
    assert_non_null(strstr(r->reason, "47 Hz"));
    assert_int_equal(ht_orders_get(&orders, "shaft", 1)->state, HT_SEEN);
    ht_orders_free(&orders);
    made_free(&m);
}

static void unknown_gear_is_said_to_be_the_reason(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    made_start(&m, 500, 20, 1, steady);
    name_wheel_and_shaft(&m, 3.73);
    made_order(&m, made_part(&m, "engine", NAN, HT_FAMILY_ENGINE, true), 2);
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "engine",
                                                2);
    assert_int_equal(r->state, HT_COULD_NOT_BE_SEEN);
    assert_non_null(strstr(r->reason, "The gear is not known"));
    assert_int_equal(r->channel, -1);
    ht_orders_free(&orders);
    made_free(&m);
}

static void same_frequency_in_this_gear_is_claimed_for_neither(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    struct random_source source = { 9 };
    made_start(&m, 500, 60, 1, steady);
    name_wheel_and_shaft(&m, 3.73);
    made_order(&m, made_part(&m, "engine", 3.73, HT_FAMILY_ENGINE, true), 1);
    made_line(&m, 0, 3.73, 0.2, 0, 0);
    made_noise(&m, 0, 1e-4, &source);
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "engine",
                                                1);
    assert_int_equal(r->state, HT_COULD_NOT_BE_SEEN);
    assert_int_equal(ht_orders_get(&orders, "shaft", 1)->state,
                     HT_COULD_NOT_BE_SEEN);
    assert_close_relative(r->level.value, 0.2, 0.02);
    assert_int_equal(orders.cannot_separate_count, 1);
    assert_true(orders.cannot_separate[0].never);
    assert_non_null(strstr(orders.cannot_separate[0].way_out, "Change gear"));
    ht_orders_free(&orders);
    made_free(&m);
}

/* 1x engine at 0.8 overdrive (2.984) beside 3x wheel: 1 / 0.016 = 62.5 turns
 * part them (joint least squares, one cycle between the lines). */
static void close_orders_are_refused_with_the_drive_that_parts_them(
    void **state)
{
    (void)state;
    static const struct { double seconds; bool parted; } row[] = {
        { 5, false }, { 60, true }
    };
    for (size_t i = 0; i < 2; i++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 4 };
        made_start(&m, 500, row[i].seconds, 1, steady);
        name_wheel_and_shaft(&m, 3.73);
        made_order(&m, made_part(&m, "engine", 2.984, HT_FAMILY_ENGINE, true),
                   1);
        made_line(&m, 0, 2.984, 0.3, 0, 0.3);
        made_noise(&m, 0, 1e-6, &source);
        const struct ht_order_result *r = made_find(&orders, &m, 0.02,
                                                    "engine", 1);
        const struct ht_order_result *w = ht_orders_get(&orders, "wheel", 3);
        if (row[i].parted) {
            assert_int_equal(r->state, HT_SEEN);
            assert_int_equal(w->state, HT_NOT_SEEN);
            assert_close_relative(r->level.value, 0.3, 0.01);
            assert_int_equal(orders.cannot_separate_count, 0);
        } else {
            assert_int_equal(r->state, HT_COULD_NOT_BE_SEEN);
            assert_int_equal(w->state, HT_COULD_NOT_BE_SEEN);
            assert_non_null(strstr(w->reason, "too close"));
            assert_int_equal(orders.cannot_separate_count, 1);
            assert_false(orders.cannot_separate[0].never);
            assert_non_null(strstr(orders.cannot_separate[0].way_out,
                                   "63 wheel turns"));
        }
        ht_orders_free(&orders);
        made_free(&m);
    }
}

static void square_law_is_found_with_its_exponent(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    struct random_source source = { 15 };
    made_start(&m, 500, 120, 1, sweep);
    name_wheel_and_shaft(&m, 3.73);
    made_line(&m, 0, 3.73, 0.2, 2, 0);
    made_noise(&m, 0, 1e-4, &source);
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "shaft",
                                                1);
    assert_int_equal(r->state, HT_SEEN);
    assert_close(r->exponent, 2, 2 * r->exponent_u + 0.02);
    assert_true(r->exponent_u < 0.2);
    ht_orders_free(&orders);
    made_free(&m);
}

/* 20 log 2 = 6.02 dB between pulling and coasting; the axis reads specific
 * force with a tilted mount (2 degrees: 0.34 m/s2), levelled at standstill. */
static double pulls(double t)
{
    if (t < 5)
        return 0;
    double phase = fmod(t - 5, 40);
    double rise = phase < 20 ? phase : 40 - phase;
    return t < 25 ? rise : 20 + (t < 45 ? 0 : phase < 20 ? rise / 4
                                                         : rise / 4);
}

static void pull_over_overrun_is_found_in_matched_bins(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    struct random_source source = { 33 };
    made_start(&m, 500, 205, 1, pulls);
    name_wheel_and_shaft(&m, 3.73);
    for (size_t i = 0; i < m.turns.points; i++)
        m.turns.usable[i] = m.turns.speed_m_s[i] > 6;
    m.channel[0].axis = HT_AXIS_REARWARD;
    m.recording.slow_rate_hz = 10;
    m.recording.slow_frames = m.recording.frames / 50;
    m.channel[0].slow = calloc(m.recording.slow_frames, sizeof(float));
    for (size_t i = 0; i < m.recording.frames; i++) {
        double t = (double)i / 500, phase = fmod(t - 5, 40);
        bool pulling = t >= 45 && phase < 20, coasting = t >= 45 && !pulling;
        double level = pulling ? 0.2 : coasting ? 0.1 : 0;
        m.channel[0].samples[i] += (float)(
            level * cos(2 * MADE_PI * fmod(7.46 * m.angle[i], 1)));
        if (i % 50 == 0) /* specific force forward, then rearward sign */
            m.channel[0].slow[i / 50] = (float)-(
                0.34 + (t < 5 ? 0 : pulling ? 0.4 : coasting ? -0.75 : 0.1));
    }
    made_noise(&m, 0, 1e-5, &source);
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "shaft",
                                                2);
    assert_int_equal(r->state, HT_SEEN);
    assert_close(r->pull_db, 6.02, 2 * r->pull_u_db);
    assert_true(r->pull_u_db < 1);
    ht_orders_free(&orders);
    made_free(&m);
}

/* Frames, angle and gap of one drive on a clock that starts at 1000.25 s:
 * times are then known to 1e-13 s, turns to 1e-12. */
static void a_clock_that_starts_elsewhere_changes_nothing(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    struct random_source source = { 14 };
    struct ht_gap gap = { 20, 21 };
    made_start(&m, 500, 60, 1, steady);
    name_wheel_and_shaft(&m, 3.73);
    made_line(&m, 0, 3.73, 0.2, 0, 0);
    made_noise(&m, 0, 1e-4, &source);
    m.recording.gap = &gap;
    m.recording.gaps = 1;
    struct ht_order_result first = *made_find(&orders, &m, 0.02, "shaft", 1);
    ht_orders_free(&orders);
    m.recording.start_s = m.turns.start_s = 1000.25;
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "shaft",
                                                1);
    assert_non_null(r);
    assert_int_equal(r->state, HT_SEEN);
    assert_close_relative(r->level.value, first.level.value, 1e-9);
    assert_close(r->bin[0].turns, first.bin[0].turns, 0);
    ht_orders_free(&orders);
    made_free(&m);
}

static void sum_over_axes_comes_first_and_is_the_root_of_squares(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    made_start(&m, 500, 60, 3, steady);
    name_wheel_and_shaft(&m, 3.73);
    made_line(&m, 0, 3.73, 0.3, 0, 0);
    made_line(&m, 1, 3.73, 0.4, 0, 0.25);
    struct random_source source = { 2 };
    for (size_t c = 0; c < 3; c++)
        made_noise(&m, c, 1e-7, &source);
    const struct ht_order_result *r = made_find(&orders, &m, 0.02, "shaft",
                                                1);
    assert_int_equal(r->channel, -1);
    assert_close_relative(r->level.value, 0.5, 0.001);
    assert_int_equal(r[1].channel, 0);
    assert_close_relative(r[1].level.value, 0.3, 0.001);
    assert_close_relative(r[2].level.value, 0.4, 0.001);
    assert_int_equal(r[3].state, HT_NOT_SEEN);
    ht_orders_free(&orders);
    made_free(&m);
}

static void map_shows_the_line_where_it_is_and_nothing_where_not_driven(
    void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    made_start(&m, 500, 120, 1, sweep);
    name_wheel_and_shaft(&m, 3.75);
    made_line(&m, 0, 3.75, 0.2, 0, 0);
    (void)made_find(&orders, &m, 0.02, "shaft", 1);
    const struct ht_order_map *map = &orders.map;
    double width = (map->order_to - map->order_from) / (double)map->across;
    size_t line = (size_t)((3.75 - map->order_from) / width);
    size_t row = map->up / 2;
    assert_true(map->from_m_s <= 16.5 && map->to_m_s >= 29.5);
    assert_close_relative((double)map->level[row * map->across + line], 0.2,
                          0.01);
    assert_true(map->level[row * map->across + line + 8] < 0.002f);
    ht_orders_free(&orders);
    made_free(&m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(noise_alone_raises_no_more_false_alarms_than_promised),
        cmocka_unit_test(resonances_do_not_pass_for_orders),
        cmocka_unit_test(limits_hold_the_truth_nineteen_times_in_twenty),
        cmocka_unit_test(
            quiet_drive_says_not_seen_and_noisy_one_could_not_be_seen),
        cmocka_unit_test(orders_above_the_band_are_never_claimed),
        cmocka_unit_test(unknown_gear_is_said_to_be_the_reason),
        cmocka_unit_test(same_frequency_in_this_gear_is_claimed_for_neither),
        cmocka_unit_test(
            close_orders_are_refused_with_the_drive_that_parts_them),
        cmocka_unit_test(square_law_is_found_with_its_exponent),
        cmocka_unit_test(pull_over_overrun_is_found_in_matched_bins),
        cmocka_unit_test(a_clock_that_starts_elsewhere_changes_nothing),
        cmocka_unit_test(
            sum_over_axes_comes_first_and_is_the_root_of_squares),
        cmocka_unit_test(
            map_shows_the_line_where_it_is_and_nothing_where_not_driven),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
