/* Each piece of evidence points the way that published service literature
 * and physics say, on the built-in catalogue. The rows name the direction
 * only; its size is engineering judgement and not tested here. */
#include "made_case.h"

static struct made_case before, after;

#define VEHICLE                                                                \
    "vehicle: {class: van, tyre: 235/65R16, drive: rear, axle_ratio: 3.14,"   \
    " engine: {cylinders: 4, strokes: 4}, accessories: {alternator: 2.6},"    \
    " mass_kg: 2400}\n"                                                        \
    "driveline: {members: [gearbox, front shaft, rear shaft, pinion]}\n"

static const struct rule {
    const char *name;
    const char *complaint, *checks; /* more keys of the sheet */
    struct made_line line;
    const char *favours, *against;  /* against NULL: nothing in particular */
} rules[] = {
    /* Published service literature 1999: 1x shaft growing as speed squared:
     * unbalance or run-out, not joint angles. */
    { "1x shaft, growing", "", "", { "shaft", 1, 0.3, 2, NAN },
      "shaft-unbalance", "angle-mismatch" },
    { "1x shaft, growing (2)", "", "", { "shaft", 1, 0.3, 2, NAN },
      "shaft-runout", "yoke-phase" },
    { "1x shaft, growing (3)", "", "", { "shaft", 1, 0.3, 2, NAN },
      "flange-runout", "tyre-uniformity" },
    /* 1999 and 2000: 2x shaft: angles, phasing, joints, loose flange, arms. */
    { "2x shaft", "", "", { "shaft", 2, 0.3, NAN, NAN }, "angle-mismatch",
      "shaft-unbalance" },
    { "2x shaft (2)", "", "", { "shaft", 2, 0.3, NAN, NAN }, "yoke-phase",
      "wheel-unbalance" },
    { "2x shaft (3)", "", "", { "shaft", 2, 0.3, NAN, NAN }, "joint-worn",
      "shaft-runout" },
    { "2x shaft (4)", "", "", { "shaft", 2, 0.3, NAN, NAN }, "flange-loose",
      "engine-firing" },
    { "2x shaft (5)", "", "", { "shaft", 2, 0.3, NAN, NAN },
      "mount-or-arm-worn", "shaft-unbalance" },
    /* 1999: stronger under torque at low speed: couples, not unbalance. */
    { "2x shaft under pull", "", "", { "shaft", 2, 0.3, NAN, 8 },
      "joint-couple", "shaft-unbalance" },
    { "shudder pulling away", "speed_km_h: 15, throttle: worse", "",
      { 0 }, "joint-couple", "shaft-unbalance" },
    /* 1999: 1x wheel, never affected by neutral. */
    { "1x wheel in neutral", "neutral_coast: stays", "",
      { "wheel", 1, 0.3, NAN, NAN }, "wheel-unbalance", "engine-firing" },
    { "felt in the steering wheel", "felt: [steering_wheel]", "", { 0 },
      "wheel-unbalance", "shaft-unbalance" },
    /* 2008: second order of tyre and wheel. */
    { "2x wheel", "", "", { "wheel", 2, 0.3, NAN, NAN }, "tyre-uniformity",
      "wheel-unbalance" },
    { "3x wheel without pull", "", "", { "wheel", 3, 0.3, NAN, 0 },
      "tyre-uniformity", "wheel-unbalance" },
    { "3x wheel under pull", "", "", { "wheel", 3, 0.3, NAN, 8 },
      "half-shaft-joint", "wheel-unbalance" },
    /* 1989 to 1999: coasting in neutral parts engine from the rest. */
    { "stays in neutral", "neutral_coast: stays", "", { 0 },
      "wheel-unbalance", "engine-firing" },
    { "stays in neutral (2)", "neutral_coast: stays", "", { 0 },
      "shaft-unbalance", "accessory" },
    { "goes in neutral", "neutral_coast: goes", "", { 0 }, "engine-misfire",
      "tyre-uniformity" },
    { "goes in neutral (2)", "neutral_coast: goes", "", { 0 },
      "joint-couple", "shaft-unbalance" },
    /* 1997: follows the engine in every gear. */
    { "follows the engine", "gear_change: follows_engine", "", { 0 },
      "engine-firing", "shaft-unbalance" },
    { "follows road speed", "gear_change: same", "", { 0 },
      "shaft-unbalance", "engine-misfire" },
    { "shakes standing", "", "seen: [shakes_standing]", { 0 }, "accessory",
      "tyre-uniformity" },
    /* 1999: speed and torque: driveline, not tyres. */
    { "worse under throttle", "throttle: worse", "", { 0 }, "joint-couple",
      "wheel-unbalance" },
    { "same under throttle", "throttle: same", "", { 0 }, "wheel-unbalance",
      "joint-couple" },
    { "felt in seat and floor", "felt: [seat, floor]", "", { 0 },
      "shaft-unbalance", "wheel-unbalance" },
    { "slow waddle", "speed_km_h: [15, 50]", "", { 0 }, "tyre-uniformity",
      "shaft-unbalance" },
    /* 2021: half engine order. */
    { "0.5x engine", "", "", { "engine", 0.5, 0.3, NAN, NAN },
      "engine-misfire", "clutch-or-flywheel" },
    { "1x engine", "", "", { "engine", 1, 0.3, NAN, NAN },
      "clutch-or-flywheel", "engine-misfire" },
    { "firing order", "", "", { "engine", 2, 0.3, NAN, NAN },
      "engine-firing", "shaft-unbalance" },
    { "accessory order", "", "", { "alternator", 1, 0.3, NAN, NAN },
      "accessory", "wheel-unbalance" },
    { "axle mesh", "", "", { "axle mesh", 1, 0.3, NAN, NAN }, "axle-mesh",
      "wheel-unbalance" },
    /* 1999: what is on the shaft. */
    { "dent", "", "seen: [dent]", { 0 }, "shaft-runout", "angle-mismatch" },
    { "missing weight", "", "seen: [missing_weight]", { 0 },
      "shaft-unbalance", "angle-mismatch" },
    { "undercoating", "", "seen: [undercoating]", { 0 }, "shaft-unbalance",
      "wheel-unbalance" },
    { "mud in a wheel", "", "seen: [mud_in_wheel]", { 0 },
      "wheel-unbalance", "shaft-unbalance" },
    { "cupped tyre", "", "seen: [cupped_tyre]", { 0 }, "tyre-uniformity",
      "wheel-unbalance" },
    /* 1999: began after a lift; 1999 to 2001: after the shaft was off. */
    { "began after a lift", "began_after: lift_or_load", "", { 0 },
      "joint-angle-excess", "tyre-uniformity" },
    { "began after a lift (2)", "began_after: lift_or_load", "", { 0 },
      "ride-height", "wheel-unbalance" },
    { "began after the shaft was off", "began_after: shaft_removed", "",
      { 0 }, "yoke-phase", "tyre-uniformity" },
    { "began after the shaft was off (2)", "began_after: shaft_removed", "",
      { 0 }, "flange-runout", "wheel-unbalance" },
    { "began after tyre work", "began_after: tyres", "", { 0 },
      "wheel-seat", "shaft-unbalance" },
    /* 2008 and 1999: torn rubber, collapsed mount. */
    { "torn centre rubber", "", "seen: [torn_centre_rubber]", { 0 },
      "centre-support", "shaft-unbalance" },
    { "centre support sound", "",
      "sound: [centre_rubber, centre_bearing]", { 0 }, "angle-mismatch",
      "centre-support" },
    { "collapsed mount", "", "seen: [collapsed_mount]", { 0 },
      "mount-or-arm-worn", "wheel-unbalance" },
    { "mounts and bushes sound", "", "sound: [mounts, bushes]", { 0 },
      "wheel-unbalance", "mount-or-arm-worn" },
    /* 1983 to 2013: run-out limits, well over and well within. */
    { "shaft runs out", "", "runout_mm: {shaft_middle: 1.5}", { 0 },
      "shaft-runout", "shaft-unbalance" },
    { "shaft runs true", "", "runout_mm: {shaft_middle: 0.1}", { 0 },
      "shaft-unbalance", "shaft-runout" },
    { "flange runs out", "", "runout_mm: {pinion_flange: 0.4}", { 0 },
      "flange-runout", "shaft-runout" },
    { "tyre runs out", "", "runout_mm: {tyre_radial: 2.5}", { 0 },
      "wheel-runout", "wheel-unbalance" },
    { "worse when braking", "braking: worse", "", { 0 }, "brake-disc",
      "wheel-unbalance" },
    { "ride height off", "",
      "ride_height_mm: {measured: [380, 440], maker: [380, 400]}", { 0 },
      "ride-height", "shaft-unbalance" },
};
enum { RULES = sizeof rules / sizeof rules[0] };

static void make(struct made_case *made, const struct rule *rule)
{
    char text[2000];
    snprintf(text, sizeof text,
             VEHICLE "complaint: {note: hums%s%s}\nchecks: {%s}\n",
             rule && *rule->complaint ? ", " : "",
             rule ? rule->complaint : "", rule ? rule->checks : "");
    made_sheet(made, text);
    if (rule && rule->line.part)
        made_lines(made, &rule->line, 1);
    made_rank(made);
}

/* The favoured cause gains, and gains on the other by a fifth at least: less
 * than "weak", a factor of 1.5, after tempering with 0.8 (1.38). */
static void every_rule_points_the_right_way(void **state)
{
    (void)state;
    int wrong = 0;
    make(&before, NULL);
    for (size_t i = 0; i < RULES; i++) {
        make(&after, &rules[i]);
        double up = made_probability(&after, rules[i].favours) /
                    made_probability(&before, rules[i].favours);
        double down = made_probability(&after, rules[i].against) /
                      made_probability(&before, rules[i].against);
        if (!(up > 1) || !(up > 1.2 * down)) {
            print_error("%s: %s %.2f times, %s %.2f times\n", rules[i].name,
                        rules[i].favours, up, rules[i].against, down);
            wrong++;
        }
        made_free(&after);
    }
    made_free(&before);
    assert_int_equal(wrong, 0);
}

/* Published service literature, 2008: 14 Hz measured where the wheel turns at
 * 7 Hz and the shaft at 22 Hz is the second order of tyre and wheel. The
 * tyre's circumference is 3.05 times its diameter of 711.9 mm. */
static void fourteen_hertz_at_seven_of_the_wheel_is_the_tyre(void **state)
{
    (void)state;
    char text[1000], number[40];
    snprintf(number, sizeof number, "%.4f", 7 * 3.05 * 0.7119 * 3.6);
    snprintf(text, sizeof text,
             VEHICLE "complaint: {measured: [{hz: 14, speed_km_h: %s}]}\n",
             number);
    made_sheet(&after, text);
    after.has_rotation = true;
    assert_int_equal(ht_rotation_from_vehicle(&after.rotation,
                                              &after.sheet.vehicle, 0, NULL),
                     HT_OK);
    made_rank(&after);
    size_t line = ht_finding_index("wheel-2x");
    assert_true(after.findings.finding[line].known);
    assert_int_equal(after.findings.finding[line].answer, 2);
    assert_false(after.findings.finding[ht_finding_index("shaft-1x")].known);
    assert_string_equal(after.ranking.cause[0].id, "tyre-uniformity");
    made_free(&after);
}

/* Pull decides 3x wheel: half-shaft joint with it, tyre without. */
static void pull_decides_three_times_wheel(void **state)
{
    (void)state;
    static const char car[] =
        "vehicle: {class: car, tyre: 205/55R16, drive: front,"
        " engine: {cylinders: 4, strokes: 4}}\n"
        "complaint: {speed_km_h: 80}\n";
    made_sheet(&after, car);
    made_lines(&after, &(struct made_line){ "wheel", 3, 0.3, NAN, 9 }, 1);
    made_rank(&after);
    assert_string_equal(after.ranking.cause[0].id, "half-shaft-joint");
    made_free(&after);
    made_sheet(&after, car);
    made_lines(&after, &(struct made_line){ "wheel", 3, 0.3, NAN, 0 }, 1);
    made_rank(&after);
    assert_true(made_probability(&after, "tyre-uniformity") >
                made_probability(&after, "half-shaft-joint"));
    made_free(&after);
}

/* One line at 0.15 m/s², the rest of a healthy drive: the cause that physics
 * and service literature name first stands first. */
static const struct single {
    struct made_line line;
    const char *first;
} singles[] = {
    { { "wheel", 1, 0.15, 2, 0 }, "wheel-unbalance" },
    { { "wheel", 2, 0.15, 0.5, 0 }, "tyre-uniformity" },
    { { "wheel", 3, 0.15, 1, 8 }, "half-shaft-joint" },
    { { "shaft", 1, 0.15, 2, 0 }, "shaft-unbalance" },
    { { "shaft", 2, 0.15, 2, 0 }, "angle-mismatch" },
    { { "shaft", 2, 0.15, 0, 8 }, "joint-couple" },
    { { "engine", 0.5, 0.15, NAN, NAN }, "engine-misfire" },
    { { "engine", 1, 0.15, NAN, NAN }, "clutch-or-flywheel" },
    { { "engine", 2, 0.15, NAN, NAN }, "engine-firing" },
    { { "alternator", 1, 0.15, NAN, NAN }, "accessory" },
    { { "axle mesh", 1, 0.15, 1, 3 }, "axle-mesh" },
};

static size_t drive_with(struct made_line *lines, const struct made_line *one)
{
    static const struct made_line healthy[] = {
        { "wheel", 1, 0.015, NAN, NAN }, { "wheel", 2, 0, NAN, NAN },
        { "wheel", 3, 0, NAN, NAN },     { "shaft", 1, 0, NAN, NAN },
        { "shaft", 2, 0, NAN, NAN },     { "engine", 0.5, 0, NAN, NAN },
        { "engine", 1, 0, NAN, NAN },    { "engine", 2, 0.015, NAN, NAN },
        { "alternator", 1, 0, NAN, NAN }
    };
    size_t count = 0;
    lines[count++] = *one;
    for (size_t i = 0; i < sizeof healthy / sizeof healthy[0]; i++)
        if (strcmp(healthy[i].part, one->part) != 0 ||
            fabs(healthy[i].multiple - one->multiple) > 1e-9)
            lines[count++] = healthy[i];
    return count;
}

static void a_single_clear_line_puts_its_cause_first(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof singles / sizeof singles[0]; i++) {
        struct made_line lines[16];
        made_sheet(&after,
                   "vehicle: {class: van, drive: rear, gearbox: manual,"
                   " engine: {cylinders: 4, strokes: 4},"
                   " accessories: {alternator: 2.6}}\n"
                   "complaint: {speed_km_h: 90}\n");
        made_lines(&after, lines, drive_with(lines, &singles[i].line));
        made_rank(&after);
        if (strcmp(after.ranking.cause[0].id, singles[i].first) != 0)
            fail_msg("wanted %s, got %s", singles[i].first,
                     after.ranking.cause[0].id);
        made_free(&after);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_rule_points_the_right_way),
        cmocka_unit_test(fourteen_hertz_at_seven_of_the_wheel_is_the_tyre),
        cmocka_unit_test(pull_decides_three_times_wheel),
        cmocka_unit_test(a_single_clear_line_puts_its_cause_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
