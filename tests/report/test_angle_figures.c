/* Curves of the angles: each point lies where its number says. */
#include "close.h"

#include "report/figure.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Coordinates are written with two decimals: half a unit of the last. */
static const double HALF_DIGIT = 0.005;

/* The points of the path with these classes. */
static size_t points_of(const char *svg, const char *classes, double *x,
                        double *y, size_t room)
{
    const char *at = strstr(svg, classes);
    if (!at)
        fail_msg("%s is not drawn", classes);
    size_t count = 0;
    for (char *p = strstr(at, "d=\"") + 3; *p != '"' && count < room;) {
        x[count] = strtod(p + 1, &p);
        y[count++] = strtod(p, &p);
    }
    return count;
}

enum { POINTS = 5 };

static void a_turn_runs_from_0_to_360_degrees_about_the_middle(void **state)
{
    (void)state;
    static const double at[POINTS] = { 0, 90, 180, 270, 360 };
    static const double error[POINTS] = { 0, 0.08, 0, -0.08, 0 };
    struct turn_figure figure = {
        .at_deg = at, .lines = 1, .label = "a turn",
        .line = { { "chosen shaft", "pinion", "t12", error, POINTS } },
    };
    struct ht_text svg = { 0 };
    double x[POINTS], y[POINTS];
    draw_turn_curve(&svg, &figure, FIGURE_NARROW);
    assert_int_equal(points_of(svg.bytes, "class=\"line chosen shaft\"", x, y,
                               POINTS),
                     POINTS);
    /* 46 to 204 px across; 26 to 196 px down for 0.1 to -0.1 degrees */
    for (size_t i = 0; i < POINTS; i++) {
        assert_close(x[i], 46 + at[i] / 360 * (204 - 46), HALF_DIGIT);
        assert_close(y[i], 111 - error[i] / 0.1 * 85, HALF_DIGIT);
    }
    ht_text_free(&svg);
}

static void shakes_start_at_zero_and_limits_lie_at_their_value(void **state)
{
    (void)state;
    static const double speed[POINTS] = { 10, 15, 20, 25, 30 };
    static const double axle[POINTS] = { 50, 112.5, 200, 312.5, 450 };
    struct shake_figure figure = {
        .points = POINTS, .speed_m_s = speed, .lines = 1, .limits = 1,
        .line = { { "chosen shaft", "to the axle", "t12", axle, POINTS } },
        .limit = { { 400, "limit, axle: 400" } },
        .felt_from_m_s = NAN, .felt_to_m_s = NAN, .label = "shake",
    };
    struct ht_text svg = { 0 };
    struct scale across, up;
    double x[POINTS], y[POINTS];
    draw_shake_curve(&svg, &figure, FIGURE_NARROW);
    shake_scales(&figure, FIGURE_NARROW, &across, &up);
    assert_close(up.from, 0, 0);
    assert_true(up.to >= 450);
    assert_int_equal(points_of(svg.bytes, "class=\"line chosen shaft\"", x, y,
                               POINTS),
                     POINTS);
    for (size_t i = 0; i < POINTS; i++) {
        assert_close(x[i], 46 + (speed[i] - 10) / 20 * (236 - 46), HALF_DIGIT);
        assert_close(y[i], 226 - axle[i] / up.to * 200, HALF_DIGIT);
    }
    const char *limit = strstr(svg.bytes, "class=\"limit\"");
    assert_non_null(limit);
    while (strncmp(limit, "y1=\"", 4) != 0)
        limit--;
    assert_close(strtod(limit + 4, NULL), 226 - 400 / up.to * 200, HALF_DIGIT);
    assert_null(strstr(svg.bytes, "felt here"));
    ht_text_free(&svg);
}

static void a_limit_far_above_does_not_flatten_the_curve(void **state)
{
    (void)state;
    static const double speed[2] = { 10, 20 }, axle[2] = { 5, 20 };
    struct shake_figure figure = {
        .points = 2, .speed_m_s = speed, .lines = 1, .limits = 1,
        .line = { { "chosen shaft", "to the axle", "t12", axle, 2 } },
        .limit = { { 400, "limit, axle: 400" } },
        .felt_from_m_s = 12, .felt_to_m_s = 15, .label = "shake",
    };
    struct ht_text svg = { 0 };
    struct scale across, up;
    draw_shake_curve(&svg, &figure, FIGURE_WIDE);
    shake_scales(&figure, FIGURE_WIDE, &across, &up);
    assert_true(up.to < 60);
    assert_null(strstr(svg.bytes, "class=\"limit\""));
    assert_non_null(strstr(svg.bytes, "felt here"));
    ht_text_free(&svg);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_turn_runs_from_0_to_360_degrees_about_the_middle),
        cmocka_unit_test(shakes_start_at_zero_and_limits_lie_at_their_value),
        cmocka_unit_test(a_limit_far_above_does_not_flatten_the_curve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
