/* The sheet's tables for complaint, checks, drives and what may be done.
 * Ranges are plausible bounds, wide on purpose: common practice, no source. */
#include "sheet_tables.h"

#define AT(field) offsetof(struct ht_sheet_complaint, field)

static const struct ht_word felt_words[] = {
    { "seat", HT_FELT_SEAT, 0 },
    { "floor", HT_FELT_FLOOR, 0 },
    { "steering_wheel", HT_FELT_STEERING_WHEEL, 0 },
    { "whole", HT_FELT_WHOLE, "the whole vehicle" },
    { "heard", HT_FELT_HEARD, "heard rather than felt" },
    { 0 },
};
static const struct ht_word effect_words[] = {
    { "same", HT_EFFECT_SAME, 0 },
    { "worse", HT_EFFECT_WORSE, 0 },
    { "better", HT_EFFECT_BETTER, 0 },
    { "goes", HT_EFFECT_GOES, 0 },
    { 0 },
};
static const struct ht_word coast_words[] = {
    { "stays", HT_COAST_STAYS, 0 },
    { "goes", HT_COAST_GOES, 0 },
    { "changes", HT_COAST_CHANGES, 0 },
    { 0 },
};
static const struct ht_word gear_change_words[] = {
    { "same", HT_GEAR_CHANGE_SAME, "the same at the same road speed" },
    { "follows_engine", HT_GEAR_CHANGE_FOLLOWS_ENGINE,
      "moves with the engine's speed" },
    { 0 },
};
static const struct ht_word began_words[] = {
    { "shaft_removed", HT_BEGAN_SHAFT_REMOVED, 0 },
    { "gearbox_or_engine_out", HT_BEGAN_GEARBOX_OR_ENGINE_OUT, 0 },
    { "lift_or_load", HT_BEGAN_LIFT_OR_LOAD, 0 },
    { "suspension_changed", HT_BEGAN_SUSPENSION_CHANGED, 0 },
    { "tyres", HT_BEGAN_TYRES, 0 },
    { "wheels_off", HT_BEGAN_WHEELS_OFF, 0 },
    { "body_or_tow_bar", HT_BEGAN_BODY_OR_TOW_BAR, 0 },
    { "accident", HT_BEGAN_ACCIDENT, 0 },
    { "other", HT_BEGAN_OTHER, 0 },
    { "nothing_known", HT_BEGAN_NOTHING_KNOWN, 0 },
    { 0 },
};

static const struct ht_row measured_rows[] = {
    { "hz", HT_IS_NUMBER, .at = offsetof(struct ht_sheet_measured_hz, hz),
      .low = 0.5, .high = 20000, .flags = HT_REQUIRED,
      .help = "A frequency somebody measured, in Hz" },
    { "speed_km_h", HT_IS_NUMBER, HT_QUANTITY_SPEED,
      .at = offsetof(struct ht_sheet_measured_hz, speed_m_s), .low = 1,
      .high = 350, .help = "At which road speed" },
};
static const struct ht_schema measured_schema = {
    HT_SCHEMA("measured", NULL, measured_rows, struct ht_sheet_measured_hz),
};

static const struct ht_row complaint_rows[] = {
    { "speed_km_h", HT_IS_NUMBERS, HT_QUANTITY_SPEED, .at = AT(speed_m_s),
      .least = 1, .most = 2, .low = 1, .high = 350,
      .help = "One speed, or from and to: [85, 100]" },
    { "felt", HT_IS_WORD_SET, .at = AT(felt), .words = felt_words,
      .help = "Where" },
    { "throttle", HT_IS_WORD, .at = AT(throttle), .words = effect_words,
      .help = "What more throttle does at that speed" },
    { "neutral_coast", HT_IS_WORD, .at = AT(neutral_coast),
      .words = coast_words, .help = "What coasting out of gear does" },
    { "gear_change", HT_IS_WORD, .at = AT(gear_change),
      .words = gear_change_words,
      .help = "What another gear at the same road speed does" },
    { "braking", HT_IS_WORD, .at = AT(braking), .words = effect_words,
      .help = "What light braking does" },
    { "began_after", HT_IS_WORD, .at = AT(began_after), .words = began_words,
      .help = "What had been done before it began" },
    { "note", HT_IS_TEXT, .at = AT(note), .help = "In the customer's words" },
    { "measured", HT_IS_MAPS, .at = AT(measured),
      .count_at = AT(measured_count), .most = 20, .child = &measured_schema,
      .flags = HT_OR_ONE, .help = "Frequencies already measured" },
};
const struct ht_schema ht_sheet_complaint_schema = {
    HT_SCHEMA("complaint", "What the customer says. Absent: nobody complained.",
              complaint_rows, struct ht_sheet_complaint),
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_runout, field)
#define RUNOUT(key_, help_)                                                    \
    {                                                                          \
        .key = #key_, .kind = HT_IS_NUMBER, .quantity = HT_QUANTITY_SAME,      \
        .at = AT(key_##_m), .low = 0, .high = 50, .help = help_                \
    }
static const struct ht_row runout_rows[] = {
    RUNOUT(shaft_front, "Shaft tube near its front end"),
    RUNOUT(shaft_middle, "Shaft tube in the middle"),
    RUNOUT(shaft_rear, "Shaft tube near its rear end"),
    RUNOUT(pinion_flange, "Pinion flange"),
    RUNOUT(tyre_radial, "Tyre tread"),
    RUNOUT(tyre_lateral, "Tyre side"),
    RUNOUT(wheel_radial, "Bare wheel, radial"),
    RUNOUT(wheel_lateral, "Bare wheel, lateral"),
};
static const struct ht_schema runout_schema = {
    HT_SCHEMA("runout_mm", "Total indicator readings.", runout_rows,
              struct ht_sheet_runout),
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_checks, field)
static const struct ht_row ride_rows[] = {
    { "measured", HT_IS_NUMBERS, HT_QUANTITY_SAME, .at = AT(ride_measured_m),
      .least = 2, .most = 2, .low = 0, .high = 3000,
      .help = "As found: front, rear" },
    { "maker", HT_IS_NUMBERS, HT_QUANTITY_SAME, .at = AT(ride_maker_m),
      .least = 2, .most = 2, .low = 0, .high = 3000,
      .help = "The maker's figure: front, rear" },
};
static const struct ht_schema ride_schema = {
    HT_SCHEMA("ride_height_mm", NULL, ride_rows, struct ht_sheet_checks),
};
static const struct ht_row checks_rows[] = {
    { "runout_mm", HT_IS_MAP, HT_QUANTITY_LENGTH, .at = AT(runout),
      .child = &runout_schema, .help = "Run-out" },
    { "seen", HT_IS_TEXTS, .at = AT(seen), .most = 64,
      .help = "What was found wrong: dent, missing_weight, undercoating, "
              "loose_joint, ... (all words: docs/findings.md)" },
    { "sound", HT_IS_TEXTS, .at = AT(sound), .most = 64,
      .help = "What was looked at and found good: mounts, bushes, ..." },
    { "ride_height_mm", HT_IS_MAP, HT_QUANTITY_LENGTH, .child = &ride_schema,
      .help = "Ride height" },
};
const struct ht_schema ht_sheet_checks_schema = {
    HT_SCHEMA("checks",
              "What was measured or looked at on the standing vehicle.",
              checks_rows, struct ht_sheet_checks),
};

const struct ht_word ht_sheet_place_words[] = {
    { "seat_rail", HT_PLACE_SEAT_RAIL, 0 },
    { "floor", HT_PLACE_FLOOR, 0 },
    { "steering_wheel", HT_PLACE_STEERING_WHEEL, 0 },
    { "dash", HT_PLACE_DASH, 0 },
    { "other", HT_PLACE_OTHER, 0 },
    { 0 },
};
static const struct ht_word axis_words[] = {
    { "forward", HT_AXIS_FORWARD, 0 },
    { "rearward", HT_AXIS_REARWARD, 0 },
    { "left", HT_AXIS_LEFT, 0 },
    { "right", HT_AXIS_RIGHT, 0 },
    { "up", HT_AXIS_UP, 0 },
    { "down", HT_AXIS_DOWN, 0 },
    { 0 },
};
static const struct ht_word unit_words[] = {
    { "m/s2", HT_UNIT_M_S2, 0 },
    { "g", HT_UNIT_G, 0 },
    { "full scale", HT_UNIT_FULL_SCALE, "sound, or a sensor without a scale" },
    { "m/s²", HT_UNIT_M_S2, 0 },
    { "full_scale", HT_UNIT_FULL_SCALE, 0 },
    { 0 },
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_channel, field)
static const struct ht_row pulses_rows[] = {
    { "per_turn", HT_IS_NUMBER, .at = AT(pulses_per_turn), .low = 1,
      .high = 1000, .help = "Pulses per turn" },
    { "of", HT_IS_TEXT, .at = AT(pulses_of), .help = "Of which part" },
};
static const struct ht_schema pulses_schema = {
    HT_SCHEMA("pulses", NULL, pulses_rows, struct ht_sheet_channel),
};
static const struct ht_row channel_rows[] = {
    { "name", HT_IS_TEXT, .at = AT(name),
      .help = "The column's heading, or any name for a channel" },
    { "unit", HT_IS_WORD, .at = AT(unit), .words = unit_words,
      .help = "Unit of the file's numbers" },
    { "scale", HT_IS_NUMBER, .at = AT(scale), .low = -1e6, .high = 1e6,
      .help = "Units in one of the file's; absent: 1" },
    { "axis", HT_IS_WORD, .at = AT(axis), .words = axis_words,
      .help = "Which way it points" },
    { "place", HT_IS_WORD, .at = AT(place), .words = ht_sheet_place_words,
      .help = "Where it sits, if not where `sensor` says" },
    { "pulses", HT_IS_MAP, .child = &pulses_schema,
      .help = "A channel of tacho pulses" },
};
static const struct ht_schema channel_schema = {
    HT_SCHEMA("channel", NULL, channel_rows, struct ht_sheet_channel),
    .finish = ht_sheet_channel_finish,
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_speed, field)
enum { FILE_GROUP = 1 };
static const struct ht_row speed_rows[] = {
    { "file", HT_IS_TEXT, .at = AT(file), .group = FILE_GROUP,
      .help = "A speed log beside the sheet" },
    { "column", HT_IS_TEXT, .at = AT(column), .help = "Its speed column" },
    { "unit", HT_IS_TEXT, .at = AT(unit), .help = "Unit of that column" },
    { "clock", HT_IS_TEXT, .at = AT(clock), .help = "Its time column" },
    { "steady_km_h", HT_IS_NUMBER, HT_QUANTITY_SPEED, .at = AT(steady_m_s),
      .low = 5, .high = 350, .group = FILE_GROUP,
      .help = "Instead: the speed that was held" },
    { "from_km_h", HT_IS_NUMBER, HT_QUANTITY_SPEED, .at = AT(from_m_s),
      .low = 0, .high = 350, .help = "Instead: a run from this speed" },
    { "to_km_h", HT_IS_NUMBER, HT_QUANTITY_SPEED, .at = AT(to_m_s), .low = 0,
      .high = 350, .help = "to this speed" },
};
static const struct ht_schema speed_schema = {
    HT_SCHEMA("speed", "A file name, or a mapping.", speed_rows,
              struct ht_sheet_speed),
    .bare = "file",
    .finish = ht_sheet_speed_finish,
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_drive, field)
static const struct ht_row sensor_rows[] = {
    { "place", HT_IS_WORD, .at = AT(place), .words = ht_sheet_place_words,
      .help = "Where the sensor sat" },
};
static const struct ht_schema sensor_schema = {
    HT_SCHEMA("sensor", NULL, sensor_rows, struct ht_sheet_drive),
    .bare = "place",
};
static const struct ht_row drive_rows[] = {
    { "name", HT_IS_TEXT, .at = AT(name),
      .help = "Needed where there are several" },
    { "when", HT_IS_TEXT, .at = AT(when), .help = "before, after, ..." },
    { "recording", HT_IS_TEXT, .at = AT(recording),
      .help = "Sound file or accelerometer table beside the sheet" },
    { "unit", HT_IS_WORD, .at = AT(unit), .words = unit_words,
      .help = "Unit of all its channels" },
    { "channels", HT_IS_MAPS, .at = AT(channels), .count_at = AT(channel_count),
      .least = 1, .most = 64, .child = &channel_schema, .flags = HT_OR_ONE,
      .help = "Channel by channel, where they differ" },
    { "sensor", HT_IS_MAP, .child = &sensor_schema, .help = "The sensor" },
    { "speed", HT_IS_MAP, .at = AT(speed), .child = &speed_schema,
      .help = "How fast it went; absent: looked for in the recording" },
    { "gear", HT_IS_NUMBER, .at = AT(gear), .low = 1, .high = 16,
      .flags = HT_WHOLE, .help = "Gear in use; absent: found, or unknown" },
};
const struct ht_schema ht_sheet_drive_schema = {
    HT_SCHEMA("drive",
              "A recorded road test. File names are relative to the sheet.",
              drive_rows, struct ht_sheet_drive),
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_limits, field)
static const struct ht_row limits_rows[] = {
    { "name", HT_IS_TEXT, .at = AT(name),
      .help = "A named set: car, light_truck, light_truck_by_speed, "
              "light_commercial, heavy_truck_a, heavy_truck_b, "
              "heavy_truck_pump, vocational, industrial, industrial_small, "
              "industrial_medium, industrial_large" },
    { "joint_max_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = AT(joint_max_rad),
      .low = 0, .high = 45,
      .help = "The vehicle maker's: largest angle of a joint" },
    { "joint_min_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = AT(joint_min_rad),
      .low = 0, .high = 45, .help = "Smallest angle of a joint" },
    { "difference_max_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,
      .at = AT(difference_max_rad), .low = 0, .high = 45,
      .help = "Largest difference between two joints" },
    { "odd_max_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = AT(odd_max_rad),
      .low = 0, .high = 45,
      .help = "Largest angle of the odd joint beside the pairs" },
    { "alone_max_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,
      .at = AT(alone_max_rad), .low = 0, .high = 45,
      .help = "Largest angle of a single Cardan joint, which no other "
              "cancels" },
    { "double_joint_max_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,
      .at = AT(double_joint_max_rad), .low = 0, .high = 45,
      .help = "Largest angle of a double Cardan joint" },
    { "leftover_max_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,
      .at = AT(leftover_max_rad), .low = 0, .high = 45,
      .help = "Largest leftover angle of the whole line" },
    { "axle_rad_s2", HT_IS_NUMBER, .at = AT(axle_rad_s2), .low = 1,
      .high = 100000, .help = "Shake passed to the axle, rad/s²" },
    { "shaft_rad_s2", HT_IS_NUMBER, .at = AT(shaft_rad_s2), .low = 1,
      .high = 100000, .help = "The shaft's own shake, rad/s²" },
};
const struct ht_schema ht_sheet_limits_schema = {
    HT_SCHEMA("limits",
              "The name of a set, or a mapping of figures; with both the "
              "figures override the set. Absent: every published set is shown.",
              limits_rows, struct ht_sheet_limits),
    .bare = "name",
    .finish = ht_sheet_limits_finish,
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_next, field)
static const struct ht_row next_rows[] = {
    { "tools", HT_IS_TEXTS, .at = AT(tools), .most = 32,
      .help = "What is at hand: dial_gauge, lamp, ..." },
    { "lawful_km_h", HT_IS_NUMBER, HT_QUANTITY_SPEED, .at = AT(lawful_m_s),
      .low = 5, .high = 350, .help = "Fastest lawful speed for a test" },
};
const struct ht_schema ht_sheet_next_schema = {
    HT_SCHEMA("next", "What may be proposed next.", next_rows,
              struct ht_sheet_next),
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_shim, field)
static const struct ht_word at_words[] = {
    { "axle", HT_SHIM_AXLE, 0 },
    { "centre_support", HT_SHIM_SUPPORT, 0 },
    { "gearbox_mount", HT_SHIM_GEARBOX, 0 },
    { 0 },
};
static const struct ht_word shim_words[] = {
    { "wedge", HT_SHIM_WEDGE, 0 },
    { "plate", HT_SHIM_PLATE, 0 },
    { 0 },
};
static const struct ht_row shim_rows[] = {
    { "driveline", HT_IS_TEXT, .at = AT(driveline),
      .help = "Name of the driveline it is for; absent: each of them" },
    { "at", HT_IS_WORD, .at = AT(at), .words = at_words, .help = "Where" },
    { "kind", HT_IS_WORD, .at = AT(kind), .words = shim_words,
      .help = "A wedge tilts, a plate lifts" },
    { "steps_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE, .at = AT(steps_rad),
      .most = 40, .low = 0.05, .high = 10, .help = "Wedges on the shelf" },
    { "steps_mm", HT_IS_NUMBERS, HT_QUANTITY_LENGTH, .at = AT(steps_m),
      .most = 40, .low = 0.1, .high = 100, .help = "Plates on the shelf" },
};
const struct ht_schema ht_sheet_shim_schema = {
    HT_SCHEMA("shims", "What is on the shelf.", shim_rows,
              struct ht_sheet_shim),
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_fitted, field)
enum { FITTED_GROUP = 1 };
const struct ht_word ht_shim_place_words[] = {
    { "axle", HT_SHIM_AXLE, 0 },
    { "centre_support", HT_SHIM_SUPPORT, 0 },
    { "gearbox_mount", HT_SHIM_GEARBOX, 0 },
    { "slip_spline", HT_SHIM_SPLINE, 0 },
    { 0 },
};
static const struct ht_row fitted_rows[] = {
    { "driveline", HT_IS_TEXT, .at = AT(driveline),
      .help = "Name of the driveline; absent: the first" },
    { "at", HT_IS_WORD, .at = AT(at), .words = ht_shim_place_words,
      .help = "Where" },
    { "support", HT_IS_NUMBER, .at = AT(support), .low = 1, .high = 7,
      .flags = HT_WHOLE, .help = "Which centre support, from the front" },
    { "turn_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = AT(turn_rad),
      .low = -15, .high = 15, .group = FITTED_GROUP,
      .help = "A wedge at the axle: + turns the pinion's front end up" },
    { "lift_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH, .at = AT(lift_m),
      .low = -150, .high = 150, .group = FITTED_GROUP,
      .help = "Plates: + lifts, - lowers" },
    { "teeth", HT_IS_NUMBER, .at = AT(teeth), .low = -60, .high = 60,
      .flags = HT_WHOLE, .group = FITTED_GROUP,
      .help = "Slip spline: + turns the rear part right-handed about the "
              "rearward axis" },
};
const struct ht_schema ht_sheet_fitted_schema = {
    HT_SCHEMA("fitted", "What was put in, as it moves the member.",
              fitted_rows, struct ht_sheet_fitted),
};
