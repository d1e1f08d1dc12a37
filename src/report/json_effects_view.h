/* json_effects_view.h - what the angles do, as the JSON output shows it. */
#ifndef HALFTURN_REPORT_JSON_EFFECTS_VIEW_H
#define HALFTURN_REPORT_JSON_EFFECTS_VIEW_H

#include "halfturn/effects.h"

struct json_member {
    const char *member;
    double second_rad, fourth_rad, sixth_rad, error_peak_rad;
    double ratio_low, ratio_high, acceleration_peak;
    struct ht_numbers error_rad, ratio, acceleration;
};
struct json_turn {
    const char *from;
    double step_rad;
    struct json_member *members;
    size_t count;
};
struct json_layout {
    const char *section, *layout;
    double planes_rad, front_rad, rear_rad;
};
struct json_clock {
    const char *section;
    double yoke_rad, leftover_rad;
    int teeth;
    bool on_spline;
};
struct json_clocking {
    double now_rad, together_rad;
    size_t spline_teeth;
    struct json_clock *alone, *together;
    size_t alone_count, together_count;
};
struct json_double {
    size_t joint;
    double front_rad, rear_rad, leftover_rad;
};
struct json_couple {
    size_t joint;
    struct ht_swing front, rear;
    double torque_swing;
};
struct json_support {
    const char *member, *place;
    struct ht_swing force;
    double bound_n;
};
struct json_shake {
    struct ht_numbers value, low, high;
};
struct json_road {
    struct ht_numbers speed_m_s, shaft_rpm;
    struct json_shake axle, pulled, held, section;
};
struct json_limit {
    const char *what, *set;
    double limit, at_m_s, low_m_s, high_m_s;
};
struct json_critical {
    const char *section, *state;
    double critical_rpm, half_rpm, critical_m_s, half_m_s, share;
    bool steel_taken;
};
struct json_effects {
    struct json_turn turn, held;
    struct json_layout *layouts;
    struct json_double *doubles;
    struct json_clocking *clocking; /* one or none */
    struct json_couple *couples;
    struct json_support *supports;
    struct json_road road;
    struct json_limit *limits;
    struct json_critical *criticals;
    size_t layout_count, double_count, clocking_count, couple_count,
        support_count, limit_count, critical_count;
    double centring_error_m, cross_to_cross_m, leftover_most_rad, torque_n_m;
    bool cross_to_cross_taken, centre_taken;
};

#endif
