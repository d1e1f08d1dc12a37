/* Keys of what the angles do. */
#include "json_effects.h"
#include "json_effects_view.h"
#include "json_rows.h"

/* ---- tables -------------------------------------------------------------- */

static const struct ht_row member_rows[] = {
    KEY(json_member, "member", TEXT, member, "Which one, front to rear"),
    SI(json_member, "second_deg", ANGLE, second_rad,
       "Rotation error at 2x of the driving end, amplitude"),
    SI(json_member, "fourth_deg", ANGLE, fourth_rad, "At 4x"),
    SI(json_member, "sixth_deg", ANGLE, sixth_rad, "At 6x"),
    SI(json_member, "error_peak_deg", ANGLE, error_peak_rad,
       "Largest rotation error"),
    KEY(json_member, "ratio_low", NUMBER, ratio_low,
        "Lowest speed over the driving end's"),
    KEY(json_member, "ratio_high", NUMBER, ratio_high, "Highest"),
    KEY(json_member, "acceleration_peak", NUMBER, acceleration_peak,
        "Over the driving end's speed squared"),
    SI_LIST(json_member, "error_deg", ANGLE, error_rad,
       "Rotation less the driving end's, at each step of one turn, mean 0"),
    KEY(json_member, "ratio", NUMBERS, ratio, "Speed ratio, likewise"),
    KEY(json_member, "acceleration", NUMBERS, acceleration,
        "Acceleration over the driving end's speed squared, likewise"),
};
static SCHEMA(member_schema, "members", "One member over one turn.",
              member_rows, struct json_member);

static const struct ht_row turn_rows[] = {
    KEY(json_turn, "driven_from", TEXT, from, "front or rear: turns evenly"),
    SI(json_turn, "step_deg", ANGLE, step_rad,
       "Between two values of a curve; at the first, the driving end's pins "
       "point to the left"),
    LIST(json_turn, "members", members, count, member_schema, "All of them"),
};
static SCHEMA(turn_schema, "turn", "One turn of the driving end.", turn_rows,
              struct json_turn);

static const struct ht_row layout_rows[] = {
    KEY(json_layout, "section", TEXT, section, "Between two Cardan joints"),
    KEY(json_layout, "layout", TEXT, layout,
        "parallel, intersecting, skew (planes more than 10° apart), straight "
        "(a bend below 0.25°)"),
    SI(json_layout, "planes_deg", ANGLE, planes_rad,
       "Between the joints' planes; left out without headings"),
    SI(json_layout, "front_deg", ANGLE, front_rad, "Bend in front"),
    SI(json_layout, "rear_deg", ANGLE, rear_rad, "Bend behind"),
};
static SCHEMA(layout_schema, "layouts", "Neighbouring joints.", layout_rows,
              struct json_layout);

static const struct ht_row clock_rows[] = {
    KEY(json_clock, "section", TEXT, section, "The shaft that is re-clocked"),
    SI(json_clock, "yoke_deg", ANGLE, yoke_rad,
       "Rear yoke against front yoke, -90 to 90"),
    { .key = "teeth", .kind = HT_IS_INT,
      .at = offsetof(struct json_clock, teeth), .flags = HT_WHEN_MARKED,
      .mark_at = offsetof(struct json_clock, on_spline),
      .help = "Spline teeth to move it by" },
    SI(json_clock, "leftover_deg", ANGLE, leftover_rad,
       "Leftover angle then"),
};
static SCHEMA(clock_schema, "alone", "One section at its best.", clock_rows,
              struct json_clock);

static const struct ht_row clocking_rows[] = {
    SI(json_clocking, "now_deg", ANGLE, now_rad,
       "Leftover angle of the readings as they stand"),
    KEY(json_clocking, "spline_teeth", COUNT, spline_teeth,
        "0: any angle was looked at"),
    LIST(json_clocking, "alone", alone, alone_count, clock_schema,
         "Each section re-clocked, the others staying"),
    LIST(json_clocking, "together", together, together_count, clock_schema,
         "All of them re-clocked"),
};
static SCHEMA(clocking_schema, "clocking",
              "The clocking that leaves least. Left out when the headings are "
              "not known, and with them the planes.",
              clocking_rows, struct json_clocking);

static const struct ht_row double_rows[] = {
    KEY(json_double, "joint", COUNT, joint, "From 1"),
    SI(json_double, "front_half_deg", ANGLE, front_rad,
       "Bend of its front half"),
    SI(json_double, "rear_half_deg", ANGLE, rear_rad, "Rear half"),
    SI(json_double, "leftover_deg", ANGLE, leftover_rad,
       "What remains at 2x, as a single joint"),
};
static SCHEMA(double_schema, "double_joints",
              "Double Cardan joints that are off centre, at their worst.",
              double_rows, struct json_double);

#define SWING(type, name, field, unit, text)                                   \
    KEY(type, name "_steady" unit, NUMBER, field.steady, text ", steady"),     \
    KEY(type, name "_twice" unit, NUMBER, field.twice, "At 2x, amplitude"),    \
    KEY(type, name "_peak" unit, NUMBER, field.peak, "Highest")

static const struct ht_row couple_rows[] = {
    KEY(json_couple, "joint", COUNT, joint, "From 1"),
    SWING(json_couple, "front", front, "_n_m",
          "Bending couple on the member before it, N m"),
    SWING(json_couple, "rear", rear, "_n_m", "On the member behind it, N m"),
    KEY(json_couple, "torque_swing", NUMBER, torque_swing,
        "Largest share by which the torque into the joint leaves its mean"),
};
static SCHEMA(couple_schema, "couples", "Secondary couples of one joint.",
              couple_rows, struct json_couple);

static const struct ht_row support_rows[] = {
    KEY(json_support, "member", TEXT, member, "That it holds"),
    KEY(json_support, "place", TEXT, place,
        "near or far (from the joint), centre"),
    SWING(json_support, "force", force, "_n", "Force in it, N"),
    KEY(json_support, "bound_n", NUMBER, bound_n,
        "Of a centre bearing: no force is larger"),
};
static SCHEMA(support_schema, "supports", "Force in one bearing.",
              support_rows, struct json_support);

#define SHAKE(name, field, text)                                               \
    KEY(json_road, name "_rad_s2", NUMBERS, field.value, text),                \
    KEY(json_road, name "_low_rad_s2", NUMBERS, field.low, "Lower end"),       \
    KEY(json_road, name "_high_rad_s2", NUMBERS, field.high, "Upper end")

static const struct ht_row road_rows[] = {
    SI_LIST(json_road, "speed_km_h", SPEED, speed_m_s, "Road speed"),
    KEY(json_road, "shaft_rpm", NUMBERS, shaft_rpm, "Shaft, rev/min"),
    SHAKE("axle", axle, "Shake passed to the axle, rad/s²"),
    SHAKE("pulled", pulled, "The shaft's own shake, pulled from the front"),
    SHAKE("held", held, "The shaft's own shake, held from the rear"),
    SHAKE("section", section, "Of the worst section; [] below three joints"),
};
static SCHEMA(road_schema, "road",
              "Shake over road speed, with its 95 % interval: lists of equal "
              "length.", road_rows, struct json_road);

static const struct ht_row limit_rows[] = {
    KEY(json_limit, "what", TEXT, what, "Which shake"),
    KEY(json_limit, "limit", NUMBER, limit, "rad/s²"),
    KEY(json_limit, "set", TEXT, set, "Limit set"),
    SI(json_limit, "at_km_h", SPEED, at_m_s, "Where it is met"),
    SI(json_limit, "low_km_h", SPEED, low_m_s, "95 %, lower end"),
    SI(json_limit, "high_km_h", SPEED, high_m_s,
       "95 %, upper end; left out when there is none"),
};
static SCHEMA(limit_schema, "limit_speeds", "Where a shake meets a limit.",
              limit_rows, struct json_limit);

static const struct ht_row critical_rows[] = {
    KEY(json_critical, "section", TEXT, section, "The shaft"),
    KEY(json_critical, "critical_rpm", NUMBER, critical_rpm,
        "Of a bare tube held at its joint centres, rev/min"),
    KEY(json_critical, "half_rpm", NUMBER, half_rpm, "Half of it"),
    SI(json_critical, "critical_km_h", SPEED, critical_m_s,
       "Road speed there"),
    SI(json_critical, "half_km_h", SPEED, half_m_s, "And at half"),
    KEY(json_critical, "share", NUMBER, share,
        "Shaft speed at the top speed over critical"),
    KEY(json_critical, "state", TEXT, state,
        "clear, passes_half (from 8 % below half), near_critical (above 0.75)"),
    KEY(json_critical, "steel_taken", BOOL, steel_taken,
        "No material was named"),
};
static SCHEMA(critical_schema, "critical", "One shaft section.", critical_rows,
              struct json_critical);

static const struct ht_row effects_rows[] = {
    MAP(json_effects, "turn", turn, turn_schema, "Driven from its own end"),
    MAP(json_effects, "turn_held", held, turn_schema,
        "Driven from the other end (overrun); without the curves"),
    LIST(json_effects, "layouts", layouts, layout_count, layout_schema,
         "How neighbouring Cardan joints lie"),
    LIST(json_effects, "clocking", clocking, clocking_count, clocking_schema,
         "One entry, or none"),
    LIST(json_effects, "double_joints", doubles, double_count, double_schema,
         "Off centre by centring_error_mm"),
    SI(json_effects, "centring_error_mm", LENGTH, centring_error_m,
       "As given"),
    SI(json_effects, "cross_to_cross_mm", LENGTH, cross_to_cross_m,
       "As used"),
    KEY(json_effects, "cross_to_cross_taken", BOOL, cross_to_cross_taken,
        "It was not given"),
    SI(json_effects, "leftover_most_deg", ANGLE, leftover_most_rad,
       "Leftover angle with every centring error at its worst"),
    SI(json_effects, "torque_n_m", TORQUE, torque_n_m,
       "In the driving end, were all of it to go through this line"),
    LIST(json_effects, "couples", couples, couple_count, couple_schema,
         "With torque_n_m of the vehicle"),
    LIST(json_effects, "supports", supports, support_count, support_schema,
         "With bearing_spacings_mm and the tubes' lengths"),
    KEY(json_effects, "centre_taken", BOOL, centre_taken,
        "Centre bearings taken at the rear joints of their sections"),
    MAP(json_effects, "road", road, road_schema, "Shake over road speed"),
    LIST(json_effects, "limit_speeds", limits, limit_count, limit_schema,
         "Speeds at which limits are met"),
    LIST(json_effects, "critical", criticals, critical_count, critical_schema,
         "Critical speeds of the shafts"),
};
SCHEMA(json_effects_schema, "effects",
       "With `angles` only, beside the angle keys: what the angles do "
       "(docs/effects.md).", effects_rows, struct json_effects);
