#include "sheet_case.h"

#include <math.h>
#include <unistd.h>

/* Exact: one multiplication by the unit's factor. */
#define DEG(x) ((x) * (3.14159265358979323846 / 180))
#define KM_H(x) ((x) * (1 / 3.6))
#define MM(x) ((x)*0.001)

static void read_full(struct ht_sheet *sheet)
{
    struct ht_error err = { 0 };
    if (ht_sheet_read(sheet, FULL_SHEET, NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static void vehicle_and_road_keys_arrive_in_si(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_full(&s);
    assert_int_equal(s.setting, HT_SETTING_COMPLAINT);
    assert_close(s.identity.odometer_m, 84210e3, 0);
    assert_int_equal(s.safety.clips_refitted, HT_ANSWER_YES);
    assert_int_equal(s.vehicle.class, HT_CLASS_VAN);
    assert_string_equal(s.vehicle.tyre, "235/65R16");
    assert_close(s.vehicle.axle_teeth.value[1], 11, 0);
    assert_int_equal(s.vehicle.gear_ratios.count, 5);
    assert_close(s.vehicle.engine_cylinders, 4, 0);
    assert_close(s.vehicle.transfer_low, 2.7, 0);
    assert_string_equal(s.vehicle.transfer_in, "high");
    assert_string_equal(s.vehicle.accessories[1].name, "fan");
    assert_close(s.vehicle.accessories[1].ratio, 1.1, 0);
    assert_close(s.vehicle.top_speed_m_s, KM_H(120), 0);
    assert_int_equal(s.vehicle.axle.steered, HT_ANSWER_NO);
    assert_close(s.vehicle.axle.pinion_to_axle_m, MM(250), 0);
    assert_close(s.complaint.speed_m_s.value[1], KM_H(100), 0);
    assert_int_equal(s.complaint.felt, HT_FELT_SEAT | HT_FELT_FLOOR);
    assert_int_equal(s.complaint.began_after, HT_BEGAN_SHAFT_REMOVED);
    assert_close(s.complaint.measured[0].hz, 91, 0);
    assert_close(s.checks.runout.wheel_lateral_m, MM(0.4), 0);
    assert_close(s.checks.ride_maker_m.value[1], MM(400), 0);
    assert_string_equal(s.checks.seen.text[1], "missing_weight");
    assert_int_equal(s.drive_count, 3);
    assert_int_equal(s.drives[0].unit, HT_UNIT_FULL_SCALE);
    assert_int_equal(s.drives[0].place, HT_PLACE_SEAT_RAIL);
    assert_string_equal(s.drives[0].speed.clock, "time");
    assert_int_equal(s.drives[1].channels[0].axis, HT_AXIS_FORWARD);
    assert_close(s.drives[1].channels[1].pulses_per_turn, 8, 0);
    assert_close(s.drives[1].speed.steady_m_s, KM_H(95), 0);
    assert_close(s.drives[2].speed.to_m_s, KM_H(110), 0);
    assert_string_equal(s.limits.name, "light_truck");
    assert_close(s.limits.joint_max_rad, DEG(4), 0);
    assert_close(s.limits.axle_rad_s2, 400, 0);
    assert_close(s.next.lawful_m_s, KM_H(100), 0);
    assert_close(s.drivelines[0].axle.pinion_to_axle_m, MM(260), 0);
    assert_close(s.drivelines[0].ride_measured_m, MM(402), 0);
    assert_close(s.drivelines[0].ride_maker_m, MM(400), 0);
    assert_true(isnan(s.drivelines[1].ride_maker_m));
    assert_string_equal(s.shims[0].driveline, "rear");
    assert_null(s.shims[1].driveline);
    assert_string_equal(s.fitted[0].driveline, "rear");
    assert_close(s.shims[0].steps_rad.value[1], DEG(1.5), 0);
    assert_close(s.shims[1].steps_m.value[2], MM(6), 0);
    ht_sheet_free(&s);
}

static void angle_readings_keep_repeats_flips_and_faces_apart(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_full(&s);
    const struct ht_sheet_angles *a = &s.angles[0];
    assert_int_equal(s.angles_count, 5);
    assert_int_equal(a->slope_count, 4);
    assert_int_equal(a->slopes[0].readings_rad.count, 1);
    assert_close(a->slopes[0].readings_rad.value[0], DEG(2.1), 0);
    assert_int_equal(a->slopes[1].readings_rad.count, 3);
    assert_close(a->slopes[1].readings_rad.value[2], DEG(2.6), 0);
    assert_close(a->slopes[2].flip_a_rad, DEG(4.0), 0);
    assert_close(a->slopes[2].flip_b_rad, DEG(-4.2), 0);
    assert_int_equal(a->slopes[2].crosswise_rad.count, 2);
    assert_int_equal(a->slopes[2].readings_rad.count, 0);
    assert_false(a->slopes[2].is_face);
    assert_true(a->slopes[3].is_face);
    assert_close(a->slopes[3].readings_rad.value[0], DEG(86.9), 0);
    assert_int_equal(a->slopes[3].read_on, HT_SURFACE_MACHINED_FLANGE);
    assert_close(a->slopes[3].set_up_rad, DEG(0.3), 0);
    a = &s.angles[3];
    assert_int_equal(a->slopes_are, HT_SLOPES_DRAWING);
    assert_close(a->offsets_m.value[1], MM(12.5), 0);
    assert_close(a->end_headings_rad.value[0], DEG(0.5), 0);
    a = &s.angles[4];
    assert_close(a->slopes[0].opposite_rad.value[1], DEG(2.3), 0);
    assert_int_equal(a->slopes[0].readings_rad.count, 0);
    assert_close(a->slopes[0].crosswise_rad.value[0], DEG(0.4), 0);
    a = &s.angles[0];
    assert_close(a->headings_rad.value[2], DEG(-1.5), 0);
    assert_close(a->gauge_step_rad, DEG(0.05), 0);
    assert_close(s.angles[2].joints_rad.value[2], DEG(-1.6), 0);
    assert_true(isnan(s.angles[2].gauge_accuracy_rad));
    ht_sheet_free(&s);
}

static void member_by_member_is_the_same_as_the_lists(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_full(&s);
    const struct ht_sheet_driveline *line = &s.drivelines[1];
    assert_int_equal(line->members.count, 3);
    assert_string_equal(line->members.text[1], "front shaft");
    assert_int_equal(line->joint_count, 2);
    assert_int_equal(line->joints[1], HT_JOINT_RUBBER_DISC);
    assert_int_equal(line->yokes_rad.count, 1);
    assert_close(line->yokes_rad.value[0], DEG(90), 0);
    assert_close(line->tubes[0].joint_to_joint_m, MM(640), 0);
    assert_string_equal(line->bearing_spacings_m[0].name, "transfer case");
    assert_close(line->bearing_spacings_m[0].list.value[0], MM(180), 0);
    const struct ht_sheet_angles *a = &s.angles[1];
    assert_int_equal(a->slope_count, 3);
    assert_close(a->slopes[0].readings_rad.value[0], DEG(2.1), 1e-17);
    assert_int_equal(a->slopes[1].readings_rad.count, 2);
    assert_int_equal(a->slopes[1].read_on, HT_SURFACE_YOKE);
    assert_close(a->slopes[2].flip_b_rad, DEG(1.1), 0);
    assert_close(a->slopes[2].set_up_rad, DEG(0.2), 0);
    assert_close(a->headings_rad.value[1], DEG(1), 0);
    ht_sheet_free(&s);
}

static void
readings_by_member_name_the_members_without_a_driveline(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_good(&s, "halfturn: 1\nangles: {read: [{member: box, slope_deg: 2}, "
                  "{member: pinion, slope_deg: 3}]}\n");
    assert_int_equal(s.driveline_count, 1);
    assert_int_equal(s.drivelines[0].members.count, 2);
    assert_string_equal(s.drivelines[0].members.text[1], "pinion");
    assert_true(isnan(s.drivelines[0].spline_teeth));
    ht_sheet_free(&s);
}

/* Inch, mile and pound: exact since 1959 (international yard and pound). */
static void other_units_are_the_same_quantity(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_good(&s, "halfturn: 1\n"
                  "identity: {odometer_mile: 10}\n"
                  "vehicle: {top_speed_mph: 60, torque_lb_ft: 100,\n"
                  "  tyre_turns_per_mile: 700, mass_lb: 1000,\n"
                  "  axle: {pinion_to_axle_in: 10}}\n"
                  "checks: {runout_thou: {shaft_rear: 20},\n"
                  "  ride_height_in: {measured: [15, 16], maker: [15, 16]}}\n"
                  "complaint: {speed_mph: 55}\n"
                  "angles: {slopes_deg: [20d30, -1d06]}\n");
    assert_close(s.identity.odometer_m, 16093.44, 1e-11);
    assert_close(s.vehicle.top_speed_m_s, 26.8224, 1e-14);
    assert_close(s.vehicle.torque_n_m, 135.58179483314004, 1e-12);
    assert_close(s.vehicle.tyre_turns_per_m, 700 / 1609.344, 1e-15);
    assert_close(s.vehicle.mass_kg, 453.59237, 1e-12);
    assert_close(s.vehicle.axle.pinion_to_axle_m, 0.254, 1e-16);
    assert_close(s.checks.runout.shaft_rear_m, 0.000508, 1e-18);
    assert_close(s.checks.ride_measured_m.value[1], 0.4064, 1e-15);
    assert_int_equal(s.complaint.speed_m_s.count, 1);
    assert_close(s.complaint.speed_m_s.value[0], 24.5872, 1e-14);
    assert_close(s.angles[0].slopes[0].readings_rad.value[0], DEG(20.5), 1e-16);
    assert_close(s.angles[0].slopes[1].readings_rad.value[0], DEG(-1.1), 1e-17);
    ht_sheet_free(&s);
}

static void a_value_alone_stands_for_its_mapping(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_good(&s, "halfturn: 1\nlimits: car\n"
                  "drive: {recording: a.wav, speed: log.csv, sensor: dash}\n");
    assert_string_equal(s.limits.name, "car");
    assert_true(isnan(s.limits.joint_max_rad));
    assert_int_equal(s.drive_count, 1);
    assert_string_equal(s.drives[0].speed.file, "log.csv");
    assert_int_equal(s.drives[0].place, HT_PLACE_DASH);
    ht_sheet_free(&s);
}

static void words_that_yaml_would_turn_stay_what_they_are(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_good(&s, "halfturn: 1\ntitle: no\nidentity: {unit: 012, load: 12:30, "
                  "measured_by: null, date: \"\"}\n");
    assert_string_equal(s.title, "no");
    assert_string_equal(s.identity.unit, "012");
    assert_string_equal(s.identity.load, "12:30");
    assert_string_equal(s.identity.measured_by, "null");
    assert_null(s.identity.date); /* an empty text says nothing */
    ht_sheet_free(&s);
}

static void an_empty_sheet_says_nothing_at_all(void **state)
{
    (void)state;
    struct ht_sheet s;
    read_good(&s, "halfturn: 1\n");
    assert_null(s.title);
    assert_true(isnan(s.vehicle.axle_ratio));
    assert_true(isnan(s.vehicle.engine_cylinders));
    assert_true(isnan(s.checks.runout.tyre_radial_m));
    assert_true(isnan(s.limits.joint_max_rad));
    assert_true(isnan(s.identity.odometer_m));
    assert_false(s.complaint.given);
    assert_int_equal(s.vehicle.class, HT_CLASS_UNKNOWN);
    ht_sheet_free(&s);
    read_good(&s, "halfturn: 1\ncomplaint: {felt: seat}\n");
    assert_true(s.complaint.given);
    ht_sheet_free(&s);
    ht_sheet_free(&s); /* twice does no harm */
}

/* ---- templates -------------------------------------------------------- */

static char folder[] = "/tmp/halfturn-sheet-XXXXXX";

static const char *in_folder(const char *name)
{
    static char path[2][300];
    static int turn;
    turn = !turn;
    (void)snprintf(path[turn], sizeof path[turn], "%s/%s", folder, name);
    return path[turn];
}

static void write_file(const char *name, const char *text)
{
    FILE *file = fopen(in_folder(name), "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
}

static int make_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) ? 0 : -1;
}

static int remove_folder(void **state)
{
    (void)state;
    (void)unlink(in_folder("t.yaml"));
    (void)unlink(in_folder("s.yaml"));
    return rmdir(folder);
}

static const char template[] =
    "halfturn: 1\ntitle: type 3\n"
    "vehicle: {class: van, tyre: 235/65R16, axle_teeth: [41, 11],\n"
    "  gear_ratios: [4, 2, 1], top_speed_km_h: 120}\n"
    "driveline: {members: [a, b, c], joints: [cardan, cardan],\n"
    "  spline_teeth: 31}\n"
    "limits: {name: car, joint_max_deg: 3}\n";

static enum ht_status read_two(struct ht_sheet *s, const char *like,
                               const char *sheet, struct ht_problems *problems,
                               struct ht_error *err)
{
    write_file("t.yaml", like);
    write_file("s.yaml", sheet);
    return ht_sheet_read(s, in_folder("s.yaml"), problems, err);
}

static void a_sheet_overrides_its_template_key_by_key(void **state)
{
    (void)state;
    struct ht_sheet s;
    struct ht_error err = { 0 };
    if (read_two(&s, template,
                 "halfturn: 1\nlike: t.yaml\n"
                 "vehicle: {axle_ratio: 3.9, top_speed_mph: 50,\n"
                 "  gear_ratios: [5, 1]}\n"
                 "driveline: {driven_from: rear}\n"
                 "angles: {slopes_deg: [1, 2, 3]}\nlimits: industrial\n",
                 NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
    assert_string_equal(s.title, "type 3");
    assert_string_equal(s.vehicle.tyre, "235/65R16");
    assert_close(s.vehicle.axle_ratio, 3.9, 0);
    assert_int_equal(s.vehicle.axle_teeth.count, 0); /* gives way */
    assert_int_equal(s.vehicle.gear_ratios.count, 2);
    assert_close(s.vehicle.top_speed_m_s, 22.352, 1e-14);
    assert_int_equal(s.driveline_count, 1);
    assert_int_equal(s.drivelines[0].members.count, 3);
    assert_int_equal(s.drivelines[0].driven_from, HT_END_REAR);
    assert_string_equal(s.limits.name, "industrial");
    assert_true(isnan(s.limits.joint_max_rad));
    ht_sheet_free(&s);
}

static void bad_template(const char *like, const char *sheet, const char *file,
                         const char *part)
{
    struct ht_sheet s;
    static struct ht_problems problems;
    struct ht_error err = { 0 };
    assert_int_equal(read_two(&s, like, sheet, &problems, &err), HT_BAD_FILE);
    assert_null(s.memory);
    if (!strstr(problems.file, file) || !strstr(err.text, part))
        fail_msg("%s: %s", problems.file, err.text);
}

static void a_template_that_cannot_be_used_is_explained(void **state)
{
    (void)state;
    static const char sheet[] = "halfturn: 1\nlike: t.yaml\n";
    bad_template("halfturn: 1\nlike: s.yaml\n", sheet, "t.yaml", "One level");
    bad_template("halfturn: 1\ncolour: red\n", sheet, "t.yaml",
                 "The name 'colour' is not known");
    bad_template(template, "halfturn: 1\nlike: ../t.yaml\n", "s.yaml",
                 "without a path");
    bad_template(template,
                 "halfturn: 1\nlike: t.yaml\nangles: {slopes_deg: "
                 "[1, 2]}\n",
                 "s.yaml", "Wanted: 3, one for each member");
    bad_template(template, "like: t.yaml\n", "s.yaml", "'halfturn: 1'");
    struct ht_sheet s;
    struct ht_error err = { 0 };
    assert_int_equal(
        read_two(&s, template, "halfturn: 1\nlike: u.yaml\n", NULL, &err),
        HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "u.yaml"));
    /* the same folder by a path of more than 1024 bytes */
    char path[2048] = "/";
    while (strlen(path) < 1100)
        strcat(path, "./");
    strcat(path, in_folder("s.yaml") + 1);
    assert_int_equal(ht_sheet_read(&s, path, NULL, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "longer than 1023 bytes"));
    assert_first_problem(sheet,
                         "'like' names a file, and this sheet has no "
                         "folder. Put the template's keys into the sheet.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(vehicle_and_road_keys_arrive_in_si),
        cmocka_unit_test(angle_readings_keep_repeats_flips_and_faces_apart),
        cmocka_unit_test(member_by_member_is_the_same_as_the_lists),
        cmocka_unit_test(
            readings_by_member_name_the_members_without_a_driveline),
        cmocka_unit_test(other_units_are_the_same_quantity),
        cmocka_unit_test(a_value_alone_stands_for_its_mapping),
        cmocka_unit_test(words_that_yaml_would_turn_stay_what_they_are),
        cmocka_unit_test(an_empty_sheet_says_nothing_at_all),
        cmocka_unit_test(a_sheet_overrides_its_template_key_by_key),
        cmocka_unit_test(a_template_that_cannot_be_used_is_explained),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
