/* sheet.h - the case sheet: one vehicle, one complaint, as written down.
 *
 * A plain struct, filled by ht_sheet_read (document room) from YAML or JSON
 * by one schema table. SI units and radians. What the sheet does not say:
 * a number is NAN, a count 0, a word ..._UNKNOWN (0), a text NULL. Nothing
 * here is a default; the rooms that use a value say what absent means.
 * All memory belongs to the sheet; ht_sheet_free accepts a zeroed sheet.
 * Every key, unit and range: docs/sheet.md (generated from the table).
 */
#ifndef HALFTURN_SHEET_H
#define HALFTURN_SHEET_H

#include "halfturn/document.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stdbool.h>
#include <stddef.h>

enum { HT_DRIVELINES_MAX = 8 };

enum ht_answer { HT_ANSWER_UNKNOWN, HT_ANSWER_YES, HT_ANSWER_NO };
enum ht_walk_round { HT_WALK_UNKNOWN, HT_WALK_DONE, HT_WALK_FAILED };
enum ht_setting {
    HT_SETTING_UNKNOWN, HT_SETTING_COMPLAINT, HT_SETTING_FLEET,
    HT_SETTING_COURSE
};
enum ht_vehicle_class {
    HT_CLASS_UNKNOWN, HT_CLASS_CAR, HT_CLASS_VAN, HT_CLASS_LIGHT_TRUCK,
    HT_CLASS_HEAVY_TRUCK, HT_CLASS_BUS
};
enum ht_drive_axle {
    HT_DRIVE_UNKNOWN, HT_DRIVE_FRONT, HT_DRIVE_REAR, HT_DRIVE_ALL
};
enum ht_gearbox { HT_GEARBOX_UNKNOWN, HT_GEARBOX_AUTOMATIC, HT_GEARBOX_MANUAL };
enum ht_joint_kind {
    HT_JOINT_UNKNOWN, HT_JOINT_CARDAN, HT_JOINT_DOUBLE_CARDAN,
    HT_JOINT_CONSTANT_VELOCITY, HT_JOINT_RUBBER_DISC
};
enum ht_suspension {
    HT_SUSPENSION_UNKNOWN, HT_SUSPENSION_WHEELS_ON_GROUND,
    HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT, HT_SUSPENSION_HANGING
};
enum ht_surface {
    HT_SURFACE_UNKNOWN, HT_SURFACE_CAP, HT_SURFACE_MACHINED_FLANGE,
    HT_SURFACE_YOKE, HT_SURFACE_STRAP /* refused, with the reason */
};
enum ht_slopes_are { /* UNKNOWN: inclinations */
    HT_SLOPES_UNKNOWN, HT_SLOPES_INCLINATION, HT_SLOPES_DRAWING
};
enum ht_end { HT_END_UNKNOWN, HT_END_FRONT, HT_END_REAR };
enum ht_axle_kind { HT_AXLE_UNKNOWN, HT_AXLE_RIGID, HT_AXLE_INDEPENDENT };
enum ht_felt { /* bits */
    HT_FELT_SEAT = 1, HT_FELT_FLOOR = 2, HT_FELT_STEERING_WHEEL = 4,
    HT_FELT_WHOLE = 8, HT_FELT_HEARD = 16
};
enum ht_effect { /* throttle, braking */
    HT_EFFECT_UNKNOWN, HT_EFFECT_SAME, HT_EFFECT_WORSE, HT_EFFECT_BETTER,
    HT_EFFECT_GOES
};
enum ht_coast { HT_COAST_UNKNOWN, HT_COAST_STAYS, HT_COAST_GOES,
                HT_COAST_CHANGES };
enum ht_gear_change {
    HT_GEAR_CHANGE_UNKNOWN, HT_GEAR_CHANGE_SAME, HT_GEAR_CHANGE_FOLLOWS_ENGINE
};
enum ht_began_after {
    HT_BEGAN_UNKNOWN, HT_BEGAN_SHAFT_REMOVED, HT_BEGAN_GEARBOX_OR_ENGINE_OUT,
    HT_BEGAN_LIFT_OR_LOAD, HT_BEGAN_SUSPENSION_CHANGED, HT_BEGAN_TYRES,
    HT_BEGAN_WHEELS_OFF, HT_BEGAN_BODY_OR_TOW_BAR, HT_BEGAN_ACCIDENT,
    HT_BEGAN_OTHER, HT_BEGAN_NOTHING_KNOWN
};
enum ht_place { /* of a sensor */
    HT_PLACE_UNKNOWN, HT_PLACE_SEAT_RAIL, HT_PLACE_FLOOR,
    HT_PLACE_STEERING_WHEEL, HT_PLACE_DASH, HT_PLACE_OTHER
};
enum ht_axis {
    HT_AXIS_UNKNOWN, HT_AXIS_FORWARD, HT_AXIS_REARWARD, HT_AXIS_LEFT,
    HT_AXIS_RIGHT, HT_AXIS_UP, HT_AXIS_DOWN
};
enum ht_unit { HT_UNIT_UNKNOWN, HT_UNIT_M_S2, HT_UNIT_G, HT_UNIT_FULL_SCALE };

struct ht_numbers {
    double *value;
    size_t count;
};
struct ht_words {
    const char **text;
    size_t count;
};

struct ht_named_numbers {
    const char *name;
    struct ht_numbers list;
};

struct ht_sheet_identity {
    const char *unit, *date, *load, *measured_by;
    double odometer_m;
};
struct ht_sheet_safety {
    enum ht_answer clips_refitted;
    enum ht_walk_round walk_round;
};
struct ht_named_ratio {
    const char *name;
    double ratio;
};
struct ht_sheet_axle {
    enum ht_axle_kind kind;
    enum ht_answer steered;
    double pinion_to_axle_m;
};
struct ht_sheet_vehicle {
    enum ht_vehicle_class class;
    const char *tyre;              /* size code as written */
    double tyre_turns_per_m;       /* from tyre_turns_per_km or _mile */
    enum ht_drive_axle drive;
    enum ht_gearbox gearbox;
    struct ht_numbers axle_teeth;  /* ring, pinion */
    double axle_ratio;
    struct ht_numbers gear_ratios; /* engine turns per output turn, gear 1.. */
    double engine_cylinders, engine_strokes;
    double motor_ratio;            /* electric motor turns per wheel turn */
    double transfer_high, transfer_low;
    const char *transfer_in;       /* "high" or "low" */
    struct ht_named_ratio *accessories; /* turns per engine turn */
    size_t accessory_count;
    double top_speed_m_s, mass_kg, torque_n_m, hub_ratio;
    struct ht_sheet_axle axle;
};

struct ht_sheet_tube {
    double joint_to_joint_m, outer_m, wall_m;
    const char *material;
};
struct ht_sheet_driveline {
    const char *name, *from, *to;
    struct ht_words members;       /* front to rear */
    enum ht_joint_kind *joints;
    size_t joint_count;
    struct ht_numbers yokes_rad;   /* one per shaft section */
    enum ht_end driven_from;
    enum ht_answer engaged;
    double turns_per_wheel_turn;   /* of its shafts; NAN: by from and to */
    struct ht_sheet_tube *tubes;
    size_t tube_count;
    double spline_teeth, mount_spacing_m, mount_to_joint_m, centring_error_m;
    double cross_to_cross_m;       /* of a double Cardan joint */
    double support_to_joint_m;
    struct ht_sheet_axle axle;     /* its own; where it says nothing, that of
                                      the vehicle: docs/shims.md */
    double ride_measured_m, ride_maker_m; /* at that axle */
    struct ht_named_numbers *bearing_spacings_m; /* member: distances */
    size_t bearing_spacing_count;
};

/* One member's readings. */
struct ht_sheet_slope {
    struct ht_numbers readings_rad; /* repeats; + = rear end lower */
    double flip_a_rad, flip_b_rad;  /* gauge turned round; NAN: not done */
    struct ht_numbers opposite_rad; /* one cap and, half a turn on, the one
                                       opposite; 2 or none */
    struct ht_numbers crosswise_rad;/* shown by the gauge laid crosswise on
                                       the cap; none: not done */
    bool is_face;                   /* readings are of a face across the axis,
                                       as read, near 90 degrees */
    enum ht_surface read_on;        /* UNKNOWN: that of the set */
    double set_up_rad;              /* NAN: that of the gauge */
};
struct ht_sheet_angles {
    const char *name, *when, *date;
    const char *driveline;          /* the name of the one that was read */
    double height_m;                /* ride height at the axle; NAN unknown */
    enum ht_answer normal_height;
    enum ht_suspension suspension;
    double gauge_accuracy_rad, gauge_step_rad, gauge_set_up_rad;
    enum ht_surface read_on;
    struct ht_sheet_slope *slopes;  /* one per member, or none */
    size_t slope_count;
    enum ht_slopes_are slopes_are;
    struct ht_numbers headings_rad; /* + = runs to the left going rearward */
    struct ht_numbers offsets_m;    /* joint centres across, + = left; instead
                                       of the headings of the shafts */
    struct ht_numbers end_headings_rad; /* with offsets: first and last
                                       member; none: straight ahead */
    struct ht_numbers joints_rad;   /* signed, rear minus front */
};

struct ht_sheet_measured_hz {
    double hz, speed_m_s;
};
struct ht_sheet_complaint {
    bool given;
    struct ht_numbers speed_m_s;    /* one speed, or from and to */
    unsigned felt;                  /* enum ht_felt bits; 0 unknown */
    enum ht_effect throttle, braking;
    enum ht_coast neutral_coast;
    enum ht_gear_change gear_change;
    enum ht_began_after began_after;
    const char *note;
    struct ht_sheet_measured_hz *measured;
    size_t measured_count;
};
struct ht_sheet_runout {            /* total indicator readings */
    double shaft_front_m, shaft_middle_m, shaft_rear_m, pinion_flange_m;
    double tyre_radial_m, tyre_lateral_m, wheel_radial_m, wheel_lateral_m;
};
struct ht_sheet_checks {
    struct ht_sheet_runout runout;
    struct ht_words seen, sound;    /* words of the catalogue's list */
    struct ht_numbers ride_measured_m, ride_maker_m; /* front, rear */
};

struct ht_sheet_channel {
    const char *name;
    enum ht_unit unit;
    double scale;                   /* unit per file unit; NAN: 1 */
    enum ht_axis axis;
    enum ht_place place;
    double pulses_per_turn;         /* NAN: not a pulse channel */
    const char *pulses_of;          /* a part's name */
};
struct ht_sheet_speed {
    const char *file, *column, *unit, *clock;
    double steady_m_s, from_m_s, to_m_s;
};
struct ht_sheet_drive {
    const char *name, *when;
    const char *recording;          /* relative to the sheet */
    enum ht_unit unit;
    struct ht_sheet_channel *channels;
    size_t channel_count;
    enum ht_place place;
    struct ht_sheet_speed speed;
    double gear;                    /* 1..; NAN: not said */
};

struct ht_sheet_limits {
    const char *name;               /* a named set, or NULL */
    double joint_max_rad, joint_min_rad, difference_max_rad; /* given here */
    double odd_max_rad, alone_max_rad, double_joint_max_rad, leftover_max_rad;
    double axle_rad_s2, shaft_rad_s2;
};
struct ht_sheet_next {
    struct ht_words tools;
    double lawful_m_s;
};
enum ht_shim_place {
    HT_SHIM_NOWHERE, HT_SHIM_AXLE, HT_SHIM_SUPPORT, HT_SHIM_GEARBOX,
    HT_SHIM_SPLINE
};
extern const struct ht_word ht_shim_place_words[]; /* in the order above */
enum ht_shim_kind { HT_SHIM_KIND_UNKNOWN, HT_SHIM_WEDGE, HT_SHIM_PLATE };
struct ht_sheet_shim {
    const char *driveline;          /* NULL: for each of them */
    enum ht_shim_place at;
    enum ht_shim_kind kind;
    struct ht_numbers steps_rad, steps_m;
};

/* What was put in; one of turn, lift and teeth. */
struct ht_sheet_fitted {
    const char *driveline;          /* NULL: the first */
    enum ht_shim_place at;
    double support;                 /* 1..; NAN: the first */
    double turn_rad, lift_m, teeth;
};

struct ht_sheet {
    double version;                 /* the value of `halfturn` */
    const char *title, *like;
    enum ht_setting setting;
    struct ht_sheet_identity identity;
    struct ht_sheet_safety safety;
    struct ht_sheet_vehicle vehicle;
    struct ht_sheet_driveline *drivelines;
    size_t driveline_count;
    struct ht_sheet_angles *angles;
    size_t angles_count;
    struct ht_sheet_complaint complaint;
    struct ht_sheet_checks checks;
    struct ht_sheet_drive *drives;
    size_t drive_count;
    struct ht_sheet_limits limits;
    struct ht_sheet_next next;
    struct ht_sheet_shim *shims;
    size_t shim_count;
    struct ht_sheet_fitted *fitted;
    size_t fitted_count;
    void *memory;                   /* owns everything above */
};

/* Reads a sheet, YAML or JSON. A template that `like` names is read from the
 * same folder first. On any problem the sheet is empty; all problems go to
 * *problems (may be NULL; its `file` names the template when they are in
 * there), the first to *err. */
enum ht_status ht_sheet_read(struct ht_sheet *sheet, const char *path,
                             struct ht_problems *problems,
                             struct ht_error *err);

/* The same from memory; `name` stands in messages. `like` is refused: a text
 * has no folder. */
enum ht_status ht_sheet_read_text(struct ht_sheet *sheet, const char *name,
                                  const char *bytes, size_t length,
                                  struct ht_problems *problems,
                                  struct ht_error *err);
void ht_sheet_free(struct ht_sheet *sheet);

/* Reads further keys over what a sheet holds, as a sheet does over its
 * template: `text` is a sheet of its own, with `halfturn: 1`. On any problem
 * the sheet stays as it was. The sheet must have been read, or opened by
 * ht_sheet_open. */
enum ht_status ht_sheet_add_text(struct ht_sheet *sheet, const char *name,
                                 const char *bytes, size_t length,
                                 struct ht_problems *problems,
                                 struct ht_error *err);

/* A sheet that says nothing yet but its version. */
enum ht_status ht_sheet_open(struct ht_sheet *sheet, struct ht_error *err);

/* Nothing said: numbers NAN, everything else 0. */
void ht_sheet_clear(struct ht_sheet *sheet);

/* Index of the driveline that a set of angles was read on: the one it names,
 * else the one of the set's own name, else the first. */
size_t ht_sheet_driveline_of(const struct ht_sheet *sheet, size_t set);

/* The whole sheet as one JSON object that reads back equal (a template's
 * values are in it, `like` is not). */
enum ht_status ht_sheet_write_json(struct ht_text *out,
                                   const struct ht_sheet *sheet,
                                   struct ht_error *err);

/* The whole sheet as YAML for a person to go on editing: what is said, with
 * the table's help beside it; what is not said as keys behind a '#' in the
 * first column. Reads back equal, without a template as above. */
enum ht_status ht_sheet_write_yaml(struct ht_text *out,
                                   const struct ht_sheet *sheet,
                                   struct ht_error *err);

/* The table of all keys; ht_sheet_page writes docs/sheet.md from it. */
const struct ht_schema *ht_sheet_schema(void);
void ht_sheet_page(struct ht_text *out);

#endif
