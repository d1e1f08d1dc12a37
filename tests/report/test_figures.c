/* Figures: what is drawn lies where its number says. */
#include "close.h"
#include "workup_fixture.h"

#include "report/figure.h"

#include "common/constants.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Coordinates are written with two decimals: half a unit of the last. */
static const double HALF_DIGIT = 0.005;

static struct ht_text map_of(struct fixture *fixture, double width)
{
    struct ht_text svg = { 0 };
    assert_int_equal(draw_order_map(&svg, fixture_workup(fixture), width, NULL),
                     HT_OK);
    return svg;
}

/* The two numbers that follow `piece`. */
static void numbers_after(const char *text, const char *piece, double *a,
                          double *b)
{
    const char *at = strstr(text, piece);
    if (!at)
        fail_msg("%s is not drawn", piece);
    char *end;
    *a = strtod(at + strlen(piece), &end);
    *b = strtod(end, NULL);
}

static void the_pointer_stands_under_the_chosen_order(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    struct ht_text svg = map_of(fixture, FIGURE_NARROW);
    double x, y;
    numbers_after(svg.bytes, "class=\"pointer\" d=\"M", &x, &y);
    /* 2x shaft is order 7.454; the axis runs 0..9 from 36 to 318 px. */
    assert_close(x, 36 + 7.454 / 9 * (318 - 36), HALF_DIGIT);
    ht_text_free(&svg);
    fixture_free(fixture);
}

static void the_worst_speed_is_marked_at_its_height(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    const struct ht_workup *workup = fixture_workup(fixture);
    struct ht_text svg = map_of(fixture, FIGURE_WIDE);
    struct scale order, speed;
    map_scales(workup, FIGURE_WIDE, &order, &speed);
    /* The frame, 60 to 112 km/h, is 310 high; the peak bin's middle is 93. */
    assert_close(speed.start - speed.end, 310, 1e-9);
    double wanted = speed.start - (93.0 - 60) / (112 - 60) * 310, x, y;
    numbers_after(svg.bytes, "class=\"t13 bold halo e\">93", &x, &y);
    const char *label = strstr(svg.bytes, "class=\"t13 bold halo e\">93");
    while (*label != 'y' || label[1] != '=')
        label--;
    /* The text's base line lies 4.5 px below its middle. */
    assert_close(strtod(label + 3, NULL), wanted + 4.5, HALF_DIGIT);
    ht_text_free(&svg);
    fixture_free(fixture);
}

static void the_curve_passes_through_every_level(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    const struct ht_workup *workup = fixture_workup(fixture);
    const struct ht_order_result *chosen = strongest_order(&workup->orders);
    struct ht_text svg = { 0 };
    draw_level_curve(&svg, workup, chosen, FIGURE_NARROW);
    assert_string_equal(chosen->order.name, "2\303\227 shaft");
    const char *p = strstr(svg.bytes, "class=\"line chosen shaft\" d=\"");
    assert_non_null(p);
    p = strstr(p, "d=\"") + 3;
    size_t points = 0;
    for (size_t i = 0; i < chosen->bins; i++) {
        const struct ht_order_bin *bin = &chosen->bin[i];
        if (bin->state == HT_COULD_NOT_BE_SEEN)
            continue;
        char *end;
        double x = strtod(p + 1, &end), y = strtod(end, &end);
        /* without neighbours a bin is drawn as wide as its speeds */
        if (*end == 'H')
            x = (x + strtod(end + 1, &end)) / 2;
        double km_h = (bin->from_m_s + bin->to_m_s) / 2 * HT_KM_H_PER_M_S;
        /* Speeds 60 to 112 from 40 to 236 px; levels 0 to 0.4 over 230 px,
         * bottom at 256. */
        assert_close(x, 40 + (km_h - 60) / 52 * 196, HALF_DIGIT);
        assert_close(y, 256 - bin->level.value / 0.4 * 230, HALF_DIGIT);
        p = end;
        points++;
    }
    assert_int_equal(points, 25);
    ht_text_free(&svg);
    fixture_free(fixture);
}

static void a_speed_not_driven_breaks_the_curve(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    const struct ht_workup *workup = fixture_workup(fixture);
    struct ht_text svg = { 0 };
    draw_level_curve(&svg, workup, strongest_order(&workup->orders),
                     FIGURE_WIDE);
    const char *p = strstr(svg.bytes, "class=\"line chosen shaft\" d=\"");
    assert_non_null(p);
    p = strstr(p, "d=\"") + 3;
    size_t strokes = 0;
    for (; *p != '"'; p++)
        strokes += *p == 'M';
    assert_int_equal(strokes, 2); /* bin 24 of 0..25 was not driven enough */
    ht_text_free(&svg);
    fixture_free(fixture);
}

static void each_class_of_the_map_doubles(void **state)
{
    (void)state;
    assert_int_equal(map_class(0.0049, 0.005), 0);
    assert_int_equal(map_class(0.005, 0.005), 1);
    assert_int_equal(map_class(0.0099, 0.005), 1);
    assert_int_equal(map_class(0.01, 0.005), 2);
    assert_int_equal(map_class(0.33, 0.005), 7);
    assert_int_equal(map_class(0.64, 0.005), 8);
    assert_int_equal(map_class(1e9, 0.005), 8);
}

static void the_block_of_a_strip_spans_the_95_percent_range(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    const struct ht_angles *angles = &fixture_workup(fixture)->angles;
    struct strips strips;
    struct ht_text svg = { 0 };
    joint_strips_from(&strips, angles);
    draw_joint_strips(&svg, &strips, FIGURE_WIDE);
    double length = 560.0 / 3 - 17, x, ignored;
    numbers_after(svg.bytes, "class=\"block\" x=\"", &x, &ignored);
    assert_close(x, 4 + angles->joint[0].angle_rad.low / strips.top * length,
                 HALF_DIGIT);
    ht_text_free(&svg);
    fixture_free(fixture);
}

static void the_drawn_angles_are_times_the_readings(void **state)
{
    (void)state;
    struct side_view view = { .members = 3, .slope_rad = { 0, 0.1, 0.05 } };
    /* 0.1 rad is 5.73 degrees: 6 times it is 34.4, 8 times 45.8; the most
     * that may be drawn is 35. */
    assert_int_equal(side_view_times(&view), 6);
    view.slope_rad[1] = 0.4; /* 22.9 degrees: not even twice */
    assert_int_equal(side_view_times(&view), 1);
}

/* A front shaft: its axle stands at the left, drawn mirrored. */
static void a_shaft_driven_at_the_rear_has_its_axle_in_front(void **state)
{
    (void)state;
    struct side_view view = { .members = 3, .name = { "pinion", "tube", "box" },
                              .length = { NAN, NAN, NAN },
                              .slope_rad = { 0, 0.1, 0.05 } };
    struct ht_text svg = { 0 };
    draw_side_view(&svg, &view, FIGURE_WIDE);
    assert_null(strstr(svg.bytes, "scale(-1 1)"));
    size_t plain = svg.length;
    svg.length = 0;
    view.from_rear = true;
    draw_side_view(&svg, &view, FIGURE_WIDE);
    const char *box = strstr(svg.bytes, "scale(-1 1)");
    assert_non_null(box);
    const char *axle = strstr(box + 1, "scale(-1 1)");
    assert_non_null(axle);
    /* the circle of the wheel belongs to the second, which is at the left */
    assert_true(strstr(svg.bytes, "<circle class=\"metal\"") > axle);
    assert_true(svg.length > plain);
    ht_text_free(&svg);
}

static void labels_that_would_collide_move_apart(void **state)
{
    (void)state;
    double middle[] = { 10, 11, 12, 90 };
    spread_labels(middle, 4, 16, 0, 100);
    for (int i = 1; i < 4; i++)
        assert_true(middle[i] - middle[i - 1] >= 16 - 1e-9);
    assert_true(middle[0] >= 0 && middle[3] <= 100);
    double crowded[] = { 98, 99, 100 };
    spread_labels(crowded, 3, 16, 0, 100);
    assert_close(crowded[2], 100, 1e-12);
    assert_close(crowded[0], 68, 1e-12);
}

static void ticks_are_1_2_or_5_times_a_power_of_ten(void **state)
{
    (void)state;
    assert_close(tick_step(0.35, 5), 0.1, 1e-12);
    assert_close(tick_step(52, 7), 10, 1e-12);
    assert_close(tick_step(9, 10), 1, 1e-12);
    assert_close(tick_first(61, 10), 70, 1e-12);
    assert_close(tick_first(60, 10), 60, 1e-12);
    assert_int_equal(tick_decimals(0.05), 2);
    assert_int_equal(tick_decimals(10), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_pointer_stands_under_the_chosen_order),
        cmocka_unit_test(the_worst_speed_is_marked_at_its_height),
        cmocka_unit_test(the_curve_passes_through_every_level),
        cmocka_unit_test(a_speed_not_driven_breaks_the_curve),
        cmocka_unit_test(each_class_of_the_map_doubles),
        cmocka_unit_test(the_block_of_a_strip_spans_the_95_percent_range),
        cmocka_unit_test(the_drawn_angles_are_times_the_readings),
        cmocka_unit_test(a_shaft_driven_at_the_rear_has_its_axle_in_front),
        cmocka_unit_test(labels_that_would_collide_move_apart),
        cmocka_unit_test(ticks_are_1_2_or_5_times_a_power_of_ten),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
