/* The measuring sheet's plan: which cap is read when, and how far the vehicle
 * rolls between. */
#include "close.h"

#include "report/paper/caps.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- a sheet of the numbers a test needs -------------------------------- */

static struct ht_sheet sheet;
static struct ht_sheet_driveline lines[2];
static enum ht_joint_kind kinds[HT_JOINTS_MAX];
static double yokes[HT_MEMBERS_MAX];
static const char *names[HT_MEMBERS_MAX] = { "a", "b", "c", "d", "e",
                                             "f", "g", "h", "i" };

static void begin(size_t members)
{
    ht_sheet_clear(&sheet);
    memset(lines, 0, sizeof lines);
    memset(kinds, 0, sizeof kinds);
    memset(yokes, 0, sizeof yokes);
    sheet.drivelines = lines;
    lines[0].turns_per_wheel_turn = NAN;
    sheet.driveline_count = 1;
    lines[0].members = (struct ht_words){ names, members };
    lines[0].joints = kinds;
    lines[0].joint_count = members - 1;
    if (members > 2)
        lines[0].yokes_rad = (struct ht_numbers){ yokes, members - 2 };
}

static struct cap_plan plan_of(struct blank_line *line)
{
    struct cap_plan plan;
    blank_line_from(line, &sheet, 0, NULL);
    cap_plan_from(&plan, line);
    return plan;
}

/* "A C | B": letters, a bar where the shaft turns on; r after a rear cap. */
static const char *order(void)
{
    static char text[80];
    struct blank_line line;
    struct cap_plan plan = plan_of(&line);
    size_t used = 0;
    for (size_t i = 0; i < plan.caps; i++) {
        const struct cap *cap = &plan.cap[i];
        if (i > 0 && cap->turn != plan.cap[i - 1].turn)
            used += (size_t)sprintf(text + used, "| ");
        used += (size_t)sprintf(text + used, "%c%s ",
                                (char)('A' + cap->member),
                                cap->rear ? "r" : "");
    }
    return text;
}

static void yokes_in_line_alternate(void **state)
{
    (void)state;
    begin(2);
    assert_string_equal(order(), "Ar | B ");
    begin(3);
    assert_string_equal(order(), "Ar C | B ");
    begin(4);
    assert_string_equal(order(), "Ar C | B D ");
    begin(9);
    assert_string_equal(order(), "Ar C E G I | B D F H ");
}

static void yokes_nobody_spoke_of_are_taken_as_in_line_and_asked(void **state)
{
    struct blank_line line;
    (void)state;
    begin(4);
    lines[0].yokes_rad.count = 0;
    assert_string_equal(order(), "Ar C | B D ");
    (void)plan_of(&line);
    assert_true(any_clocking_is_asked(&line));
    assert_true(clocking_is_asked(&line, 1) && clocking_is_asked(&line, 2));
    begin(4);
    (void)plan_of(&line);
    assert_false(any_clocking_is_asked(&line));
}

static void a_crossed_section_turns_the_rest(void **state)
{
    (void)state;
    begin(4);
    yokes[0] = HT_PI / 2;
    /* B's front cap faces sideways, its rear cap down as A does */
    assert_string_equal(order(), "Ar D | B C ");
    yokes[0] = -HT_PI / 2;
    assert_string_equal(order(), "Ar D | B C ");
    yokes[0] = 0;
    yokes[1] = HT_PI / 2;
    assert_string_equal(order(), "Ar C D | B ");
}

static void clocked_yokes_have_a_place_of_their_own(void **state)
{
    struct blank_line line;
    (void)state;
    begin(3);
    yokes[0] = 30 * HT_RAD_PER_DEG;
    assert_string_equal(order(), "Ar | B | C ");
    struct cap_plan plan = plan_of(&line);
    assert_int_equal(plan.cap[2].turn, CAP_OWN);
    assert_close(plan.cap[2].at_rad, 30 * HT_RAD_PER_DEG, 1e-12);
    yokes[0] = 1 * HT_RAD_PER_DEG; /* within the crosswise zero */
    assert_string_equal(order(), "Ar C | B ");
}

static void a_rear_cap_is_taken_where_it_spares_a_place(void **state)
{
    (void)state;
    begin(4);
    yokes[0] = 30 * HT_RAD_PER_DEG;
    yokes[1] = -30 * HT_RAD_PER_DEG;
    assert_string_equal(order(), "Ar Cr | B D ");
}

static void joints_without_pins_are_read_on_a_face(void **state)
{
    (void)state;
    begin(3);
    kinds[0] = HT_JOINT_RUBBER_DISC;
    assert_string_equal(order(), "Br | C | A ");
    kinds[1] = HT_JOINT_CONSTANT_VELOCITY;
    assert_string_equal(order(), "A B C ");
    begin(5); /* two runs of pins that nothing ties together */
    kinds[1] = HT_JOINT_RUBBER_DISC;
    assert_string_equal(order(), "Ar | B | Cr D E ");
}

static void a_double_joint_sets_the_pins_back(void **state)
{
    (void)state;
    begin(3);
    kinds[0] = HT_JOINT_DOUBLE_CARDAN;
    assert_string_equal(order(), "Ar B | C ");
}

/* ---- against the pins themselves ---------------------------------------- */

/* A straight line of joints: the pins of a cross are square to one another
 * and to the shaft; a section carries them on, turned by its clocking, counter-
 * clockwise seen from behind (right-handed about the rearward direction). */
struct pin {
    double y, z;
};

static struct pin turned(struct pin pin, double by_rad)
{
    return (struct pin){ pin.y * cos(by_rad) - pin.z * sin(by_rad),
                         pin.y * sin(by_rad) + pin.z * cos(by_rad) };
}

static struct pin across(struct pin pin)
{
    return (struct pin){ -pin.z, pin.y };
}

/* A cap faces down as far as its pin stands upright. */
static void demand_upright(const struct blank_line *line, size_t member,
                           bool rear, struct pin pin)
{
    double at = yoke_at_rad(line, member, rear);
    assert_close(fabs(cos(at)), fabs(pin.z), 1e-9);
    assert_close(fabs(sin(at)), fabs(pin.y), 1e-9);
}

static void yokes_stand_where_the_pins_of_the_chain_put_them(void **state)
{
    (void)state;
    for (int trial = 0; trial < 200; trial++) {
        struct blank_line line;
        struct pin pin = { 0, 1 }; /* the first yoke's cap faces down */
        begin(2 + (size_t)trial % 8);
        size_t members = lines[0].members.count;
        for (size_t i = 0; i + 2 < members; i++)
            yokes[i] = (double)((trial * 37 + (int)i * 101) % 360 - 180) *
                       HT_RAD_PER_DEG;
        for (size_t j = 0; j + 1 < members; j++)
            kinds[j] = (trial + (int)j) % 3 ? HT_JOINT_CARDAN
                                            : HT_JOINT_DOUBLE_CARDAN;
        (void)plan_of(&line);
        for (size_t i = 0; i < members; i++) {
            if (i > 0) {
                pin = across(pin);
                if (kinds[i - 1] == HT_JOINT_DOUBLE_CARDAN)
                    pin = across(pin); /* a second cross */
                demand_upright(&line, i, false, pin);
            }
            if (i > 0 && i + 1 < members)
                pin = turned(pin, yokes[i - 1]);
            if (i + 1 < members)
                demand_upright(&line, i, true, pin);
        }
    }
}

/* ---- the roll ----------------------------------------------------------- */

/* Derived: a quarter shaft turn is a quarter of a wheel turn over the axle
 * ratio; 2.16 m and 3.73 give 144.77 mm. */
static void a_quarter_shaft_turn_rolls_the_vehicle_145_mm(void **state)
{
    struct ht_rotation rotation;
    struct blank_line line;
    (void)state;
    begin(3);
    sheet.vehicle.tyre_turns_per_m = 1 / 2.16;
    sheet.vehicle.axle_ratio = 3.73;
    assert_int_equal(
        ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 0, NULL), HT_OK);
    blank_line_from(&line, &sheet, 0, &rotation);
    assert_close(1000 * line.quarter_m, 144.772, 5e-4);
    assert_int_equal(lround(1000 * line.quarter_m), 145);
}

static void a_hub_reduction_makes_the_roll_shorter(void **state)
{
    struct ht_rotation rotation;
    struct blank_line line;
    (void)state;
    begin(3);
    sheet.vehicle.tyre_turns_per_m = 1 / 3.2;
    sheet.vehicle.axle_ratio = 2.0;
    sheet.vehicle.hub_ratio = 4.0;
    (void)ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 0, NULL);
    blank_line_from(&line, &sheet, 0, &rotation);
    assert_close(line.quarter_m, 0.1, 1e-12);
}

static void a_shaft_before_the_transfer_case_turns_with_its_ratio(void **state)
{
    struct ht_rotation rotation;
    struct blank_line line;
    (void)state;
    begin(3);
    sheet.vehicle.tyre_turns_per_m = 0.5;
    sheet.vehicle.axle_ratio = 4;
    sheet.vehicle.transfer_high = 1.25;
    lines[0].to = "Transfer case";
    (void)ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 0, NULL);
    blank_line_from(&line, &sheet, 0, &rotation);
    assert_close(line.quarter_m, 0.1, 1e-12); /* 2 / (4 * 4 * 1.25) */
    lines[0].to = "rear axle";
    blank_line_from(&line, &sheet, 0, &rotation);
    assert_close(line.quarter_m, 0.125, 1e-12);
    lines[0].turns_per_wheel_turn = 10;
    blank_line_from(&line, &sheet, 0, &rotation);
    assert_close(line.quarter_m, 0.05, 1e-12);
}

static void nothing_is_made_up_for_a_roll_nobody_can_know(void **state)
{
    struct ht_rotation rotation;
    struct blank_line line;
    (void)state;
    begin(3);
    sheet.vehicle.tyre_turns_per_m = 0.5; /* and no axle ratio */
    (void)ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 0, NULL);
    blank_line_from(&line, &sheet, 0, &rotation);
    assert_true(isnan(line.quarter_m));
    blank_line_from(&line, &sheet, 0, NULL);
    assert_true(isnan(line.quarter_m));
}

/* ---- what the sheet says of its members --------------------------------- */

static void without_names_the_joints_or_readings_say_how_many(void **state)
{
    struct blank_line line;
    (void)state;
    begin(4);
    lines[0].members.count = 0;
    blank_line_from(&line, &sheet, 0, NULL);
    assert_int_equal(line.members, 4);
    assert_false(line.made_up);
    lines[0].joint_count = 0;
    blank_line_from(&line, &sheet, 0, NULL);
    assert_true(line.made_up);
    assert_int_equal(line.members, 4);
    struct ht_sheet_angles angles = { .slope_count = 3 };
    sheet.angles = &angles;
    sheet.angles_count = 1;
    blank_line_from(&line, &sheet, 0, NULL);
    assert_int_equal(line.members, 3);
    double joints[4] = { 0 };
    angles = (struct ht_sheet_angles){ .joints_rad = { joints, 4 } };
    blank_line_from(&line, &sheet, 0, NULL);
    assert_int_equal(line.members, 5);
    assert_null(line.member[0]);
}

static void no_sheet_at_all_gives_three_joints(void **state)
{
    struct blank_line line;
    (void)state;
    blank_line_from(&line, NULL, 0, NULL);
    assert_true(line.made_up);
    assert_int_equal(line.members, 4);
    assert_true(any_clocking_is_asked(&line));
    assert_int_equal(line.kind[0], HT_JOINT_UNKNOWN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(yokes_in_line_alternate),
        cmocka_unit_test(yokes_nobody_spoke_of_are_taken_as_in_line_and_asked),
        cmocka_unit_test(a_crossed_section_turns_the_rest),
        cmocka_unit_test(clocked_yokes_have_a_place_of_their_own),
        cmocka_unit_test(a_rear_cap_is_taken_where_it_spares_a_place),
        cmocka_unit_test(joints_without_pins_are_read_on_a_face),
        cmocka_unit_test(a_double_joint_sets_the_pins_back),
        cmocka_unit_test(yokes_stand_where_the_pins_of_the_chain_put_them),
        cmocka_unit_test(a_quarter_shaft_turn_rolls_the_vehicle_145_mm),
        cmocka_unit_test(a_hub_reduction_makes_the_roll_shorter),
        cmocka_unit_test(a_shaft_before_the_transfer_case_turns_with_its_ratio),
        cmocka_unit_test(nothing_is_made_up_for_a_roll_nobody_can_know),
        cmocka_unit_test(without_names_the_joints_or_readings_say_how_many),
        cmocka_unit_test(no_sheet_at_all_gives_three_joints),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
