/* The sheet's tables for driveline and angle readings. Ranges are plausible
 * bounds, wide on purpose: common practice, no source. */
#include "sheet_tables.h"

const struct ht_word ht_sheet_joint_words[] = {
    { "cardan", HT_JOINT_CARDAN, "one cross and two yokes" },
    { "double_cardan", HT_JOINT_DOUBLE_CARDAN, "two crosses, one centring" },
    { "constant_velocity", HT_JOINT_CONSTANT_VELOCITY, 0 },
    { "rubber_disc", HT_JOINT_RUBBER_DISC, 0 },
    { 0 },
};
const struct ht_word ht_sheet_end_words[] = {
    { "front", HT_END_FRONT, 0 },
    { "rear", HT_END_REAR, 0 },
    { 0 },
};
const struct ht_word ht_sheet_surface_words[] = {
    { "cap", HT_SURFACE_CAP, "bearing cap" },
    { "machined_flange", HT_SURFACE_MACHINED_FLANGE, 0 },
    { "yoke", HT_SURFACE_YOKE, "rough yoke or casting" },
    { "strap", HT_SURFACE_STRAP, "refused: it does not lie square" },
    { 0 },
};
static const struct ht_word suspension_words[] = {
    { "wheels_on_ground", HT_SUSPENSION_WHEELS_ON_GROUND, 0 },
    { "axle_on_stands_at_ride_height", HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT, 0 },
    { "hanging", HT_SUSPENSION_HANGING, "numbers, but no verdict" },
    { 0 },
};

static const struct ht_word slopes_are_words[] = {
    { "inclination", HT_SLOPES_INCLINATION, "as a gauge laid along shows it" },
    { "drawing", HT_SLOPES_DRAWING, "as the side view of a drawing shows it" },
    { 0 },
};

#define TUBE(field) offsetof(struct ht_sheet_tube, field)
static const struct ht_row tube_rows[] = {
    { "joint_to_joint_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = TUBE(joint_to_joint_m), .low = 50, .high = 5000,
      .help = "Length between joint centres" },
    { "outer_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH, .at = TUBE(outer_m),
      .low = 10, .high = 400, .help = "Outer diameter" },
    { "wall_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH, .at = TUBE(wall_m),
      .low = 0.3, .high = 50, .help = "Wall thickness" },
    { "material", HT_IS_TEXT, .at = TUBE(material),
      .help = "steel, aluminium, ..." },
};
static const struct ht_schema tube_schema = {
    HT_SCHEMA("tube", NULL, tube_rows, struct ht_sheet_tube),
    .finish = ht_sheet_tube_finish,
};

#define ITEM(field) offsetof(struct chain_item, field)
static const struct ht_row chain_rows[] = {
    { "member", HT_IS_TEXT, .at = ITEM(member), .group = 1,
      .help = "Name of a member: gearbox, front shaft, pinion" },
    { "joint", HT_IS_WORD, .at = ITEM(joint), .words = ht_sheet_joint_words,
      .group = 1, .help = "Or the joint that follows the member before" },
    { "yoke_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = ITEM(yoke_rad),
      .low = -180, .high = 180,
      .help = "Of a shaft: rear yoke against front yoke, counter-clockwise "
              "seen from behind; 0 in line" },
    { "tube", HT_IS_MAP, .at = ITEM(tube), .child = &tube_schema,
      .help = "Of a shaft" },
    { "bearing_spacings_mm", HT_IS_NUMBERS, HT_QUANTITY_LENGTH,
      .at = ITEM(bearing_spacings_m), .most = 4, .low = 1, .high = 5000,
      .help = "Of a member in bearings: as in bearing_spacings_mm" },
};
static const struct ht_schema chain_schema = {
    HT_SCHEMA("chain", "Members and joints in turn, front to rear.", chain_rows,
              struct chain_item),
};

#define AT(field) offsetof(struct ht_sheet_driveline, field)
static const struct ht_row ride_rows[] = {
    { "measured", HT_IS_NUMBER, HT_QUANTITY_SAME, .at = AT(ride_measured_m),
      .low = 0, .high = 3000, .help = "As found" },
    { "maker", HT_IS_NUMBER, HT_QUANTITY_SAME, .at = AT(ride_maker_m),
      .low = 0, .high = 3000, .help = "The maker's figure" },
};
static const struct ht_schema ride_schema = {
    HT_SCHEMA("ride_height_mm", NULL, ride_rows, struct ht_sheet_driveline),
};
enum { CHAIN_GROUP = 1 };
static const struct ht_row driveline_rows[] = {
    { "name", HT_IS_TEXT, .at = AT(name),
      .help = "Needed where there are several" },
    { "from", HT_IS_TEXT, .at = AT(from),
      .help = "What turns it: gearbox, transfer case, first rear axle" },
    { "to", HT_IS_TEXT, .at = AT(to),
      .help = "What it turns: rear axle, front axle, transfer case, wheel" },
    { "chain", HT_IS_MAPS, .at = offsetof(struct driveline_scratch, chain),
      .count_at = offsetof(struct driveline_scratch, chain_count), .least = 3,
      .most = 17, .child = &chain_schema, .flags = HT_READ_ONLY,
      .group = CHAIN_GROUP,
      .help = "Members and joints, one a line: [{member: gearbox}, "
              "{joint: cardan}, {member: shaft}, ...]" },
    { "members", HT_IS_TEXTS, .at = AT(members), .least = 2, .most = 9,
      .group = CHAIN_GROUP,
      .help = "Shorthand: the members' names, front to rear" },
    { "joints", HT_IS_WORDS, .at = AT(joints), .count_at = AT(joint_count),
      .least = 1, .most = 8, .words = ht_sheet_joint_words,
      .help = "Shorthand: the joints between neighbours" },
    { "yokes_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE, .at = AT(yokes_rad),
      .least = 1, .most = 9, .low = -180, .high = 180,
      .help = "Shorthand: yoke clocking of each shaft section" },
    { "tubes", HT_IS_MAPS, .at = AT(tubes), .count_at = AT(tube_count),
      .least = 1, .most = 9, .child = &tube_schema,
      .help = "Shorthand: tube of each shaft section" },
    { "driven_from", HT_IS_WORD, .at = AT(driven_from),
      .words = ht_sheet_end_words, .help = "Which end the torque enters" },
    { "engaged", HT_IS_WORD, .at = AT(engaged), .words = ht_words_yes_no,
      .help = "Whether it turned under torque on the drive; no: the wheels "
              "turn it" },
    { "turns_per_wheel_turn", HT_IS_NUMBER, .at = AT(turns_per_wheel_turn),
      .low = 0.2, .high = 60,
      .help = "Its shafts' turns per wheel turn, where the vehicle's axle "
              "ratio is not theirs: a second axle of another ratio" },
    { "spline_teeth", HT_IS_NUMBER, .at = AT(spline_teeth), .low = 4,
      .high = 120, .flags = HT_WHOLE, .help = "Teeth of the slip spline" },
    { "bearing_spacings_mm", HT_IS_NAMED_LISTS, HT_QUANTITY_LENGTH,
      .at = AT(bearing_spacings_m), .count_at = AT(bearing_spacing_count),
      .most = 9, .low = 1, .high = 5000,
      .help = "Shorthand: by member, for support forces. An end member: "
              "between its bearings, joint centre to the nearer one; a shaft: "
              "front joint centre to its bearing: {gearbox: [200, 150], front "
              "shaft: [880]}" },
    { "mount_spacing_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = AT(mount_spacing_m), .low = 50, .high = 5000,
      .help = "Between engine mount and gearbox mount" },
    { "mount_to_joint_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = AT(mount_to_joint_m), .low = 0, .high = 3000,
      .help = "Gearbox mount to first joint centre" },
    { "support_to_joint_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = AT(support_to_joint_m), .low = 0, .high = 1000,
      .help = "Centre support to the joint centre next to it, on the axle's "
              "side" },
    { "centring_error_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = AT(centring_error_m), .low = 0, .high = 10,
      .help = "Of a double Cardan joint: how far its centring ball stands "
              "beside the shaft's axis" },
    { "cross_to_cross_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = AT(cross_to_cross_m), .low = 10, .high = 500,
      .help = "Of a double Cardan joint: between its two crosses" },
    { "axle", HT_IS_MAP, .at = AT(axle), .child = &ht_sheet_axle_schema,
      .help = "Its own axle, where there are several" },
    { "ride_height_mm", HT_IS_MAP, HT_QUANTITY_LENGTH, .child = &ride_schema,
      .help = "Ride height at its axle; absent: that under checks" },
};
const struct ht_schema ht_sheet_driveline_schema = {
    HT_SCHEMA(
        "driveline",
        "From gearbox to axle. A member is anything that has a direction of "
        "its "
        "own (gearbox, each shaft section, pinion); a joint stands between two "
        "neighbours. Give `chain`, or the lists that are its shorthand.",
        driveline_rows, struct ht_sheet_driveline),
    .scratch_size = sizeof(struct driveline_scratch),
    .finish = ht_sheet_driveline_finish,
};

#define SLOPE(field) offsetof(struct ht_sheet_slope, field)
#define SLOPE_ROWS                                                             \
    { "flip",                                                                  \
      HT_IS_NUMBER_ARRAY,                                                      \
      HT_QUANTITY_ANGLE,                                                       \
      .at = SLOPE(flip_a_rad),                                                 \
      .count_at = HT_ALL,                                                      \
      .least = 2,                                                              \
      .most = 2,                                                               \
      .low = -45,                                                              \
      .high = 45,                                                              \
      .group = 1,                                                              \
      .help = "Two readings, the gauge turned round between them" },           \
        { "opposite",                                                          \
          HT_IS_NUMBERS,                                                       \
          HT_QUANTITY_ANGLE,                                                   \
          .at = SLOPE(opposite_rad),                                           \
          .least = 2,                                                          \
          .most = 2,                                                           \
          .low = -45,                                                          \
          .high = 45,                                                          \
          .group = 1,                                                          \
          .help = "Two readings: a cap and, half a turn on, the one "          \
                  "opposite" },                                                \
        { "face",                                                              \
          HT_IS_NUMBERS,                                                       \
          HT_QUANTITY_ANGLE,                                                   \
          .at = SLOPE(readings_rad),                                           \
          .least = 1,                                                          \
          .most = 20,                                                          \
          .low = -135,                                                         \
          .high = 135,                                                         \
          .group = 1,                                                          \
          .flags = HT_WHEN_MARKED,                                             \
          .mark_at = SLOPE(is_face),                                           \
          .help =                                                              \
              "Read on a face across the axis, as the gauge shows it near "    \
              "90 degrees" },                                                  \
        { "read_on", HT_IS_WORD, .at = SLOPE(read_on),                         \
          .words = ht_sheet_surface_words, .help = "Where it differs" },       \
        { "set_up_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,                       \
          .at = SLOPE(set_up_rad), .low = 0, .high = 5, .group = 2,            \
          .help = "Where it differs" },                                        \
    {                                                                          \
        "crosswise_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE,                     \
            .at = SLOPE(crosswise_rad), .least = 1, .most = 4, .low = -45,     \
            .high = 45, .group = 2,                                            \
            .help = "Shown by the gauge laid crosswise on the cap when the "   \
                    "yoke was set; takes the place of set_up_deg"              \
    }

static const struct ht_row slope_rows[] = {
    { "readings_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE,
      .at = SLOPE(readings_rad), .least = 1, .most = 20, .low = -45, .high = 45,
      .group = 1, .flags = HT_UNLESS_MARKED, .mark_at = SLOPE(is_face),
      .help = "One reading or its repeats; + = rear end lower" },
    SLOPE_ROWS,
};
static const struct ht_schema slope_schema = {
    HT_SCHEMA(
        "slope",
        "A number, a list of repeats, `{flip: [a, b]}`, `{opposite: [a, b]}` "
        "or `{face: 86.9}`.",
        slope_rows, struct ht_sheet_slope),
    .bare = "readings_deg",
    .finish = ht_sheet_slope_finish,
};

/* The per-member form has the slope's keys beside the member's name. */
static const struct ht_row read_slope_rows[] = {
    { "member", HT_IS_TEXT, .at = offsetof(struct read_item, member),
      .flags = HT_REQUIRED, .help = "A name of the driveline's" },
    { "slope_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE,
      .at = offsetof(struct read_item, slope.readings_rad), .least = 1,
      .most = 20, .low = -45, .high = 45, .group = 1, .flags = HT_UNLESS_MARKED,
      .mark_at = offsetof(struct read_item, slope.is_face),
      .help = "One reading or its repeats; + = rear end lower" },
#undef SLOPE
#define SLOPE(field) offsetof(struct read_item, slope.field)
    SLOPE_ROWS,
    { "heading_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,
      .at = offsetof(struct read_item, heading_rad), .low = -45, .high = 45,
      .help = "+ = runs to the left going rearward" },
};
static const struct ht_schema read_schema = {
    HT_SCHEMA("read", "One member's readings.", read_slope_rows,
              struct read_item),
    .finish = ht_sheet_read_finish,
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_angles, field)
static const struct ht_row gauge_rows[] = {
    { "accuracy_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE,
      .at = AT(gauge_accuracy_rad), .low = 0.001, .high = 5,
      .help = "The maker's +/- figure; absent: 0.2" },
    { "step_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = AT(gauge_step_rad),
      .low = 0.001, .high = 5, .help = "Smallest step shown; absent: 0.1" },
    { "set_up_deg", HT_IS_NUMBER, HT_QUANTITY_ANGLE, .at = AT(gauge_set_up_rad),
      .low = 0, .high = 5,
      .help = "How well yoke and gauge were lined up; absent: 0.4" },
};
static const struct ht_schema gauge_schema = {
    HT_SCHEMA("gauge", NULL, gauge_rows, struct ht_sheet_angles),
};

enum { SLOPES_GROUP = 1, HEADINGS_GROUP };
static const struct ht_row angles_rows[] = {
    { "name", HT_IS_TEXT, .at = AT(name),
      .help = "Needed where there are several" },
    { "driveline", HT_IS_TEXT, .at = AT(driveline),
      .help = "Name of the driveline that was read; absent: the set's own "
              "name if a driveline has it, else the first" },
    { "when", HT_IS_TEXT, .at = AT(when), .help = "before, after, ..." },
    { "date", HT_IS_TEXT, .at = AT(date), .help = "2026-11-20" },
    { "suspension", HT_IS_WORD, .at = AT(suspension), .words = suspension_words,
      .help = "How the vehicle stood; absent: unknown, then no verdict" },
    { "height_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH, .at = AT(height_m),
      .low = 0, .high = 2000,
      .help = "Ride height in this set, measured at the axle: several of "
              "them show the angles over the travel" },
    { "normal_height", HT_IS_WORD, .at = AT(normal_height),
      .words = ht_words_yes_no,
      .help = "Whether that is the normal ride height, by which is judged" },
    { "gauge", HT_IS_MAP, .child = &gauge_schema, .help = "The gauge" },
    { "read_on", HT_IS_WORD, .at = AT(read_on), .words = ht_sheet_surface_words,
      .help = "What the gauge stood on; absent: unknown, 0.5 degrees" },
    { "slopes_are", HT_IS_WORD, .at = AT(slopes_are),
      .words = slopes_are_words,
      .help = "What the slopes are measured against; absent: inclination" },
    { "read", HT_IS_MAPS, .at = offsetof(struct angles_scratch, read),
      .count_at = offsetof(struct angles_scratch, read_count), .least = 2,
      .most = 9, .child = &read_schema, .flags = HT_READ_ONLY,
      .group = SLOPES_GROUP,
      .help = "Member by member: [{member: gearbox, slope_deg: 2.1}, ...]" },
    { "slopes_deg", HT_IS_MAPS, HT_QUANTITY_ANGLE, .at = AT(slopes),
      .count_at = AT(slope_count), .least = 2, .most = 18,
      .child = &slope_schema, .group = SLOPES_GROUP,
      .help = "Shorthand: one per member, front to rear; + = rear end "
              "lower; a list inside holds repeats" },
    { "headings_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE, .at = AT(headings_rad),
      .least = 2, .most = 18, .low = -45, .high = 45,
      .group = HEADINGS_GROUP,
      .help = "Shorthand: one per member; + = runs to the left going "
              "rearward; absent: side view only" },
    { "offsets_mm", HT_IS_NUMBERS, HT_QUANTITY_LENGTH, .at = AT(offsets_m),
      .least = 1, .most = 16, .low = -2000, .high = 2000,
      .group = HEADINGS_GROUP,
      .help = "Instead of the shafts' headings: how far each joint centre "
              "lies to the left (+) of one line along the vehicle; wants "
              "joint_to_joint_mm of every shaft" },
    { "end_headings_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE,
      .at = AT(end_headings_rad), .least = 2, .most = 2, .low = -45, .high = 45,
      .help = "With offsets_mm: headings of the first and last member; "
              "absent: straight ahead" },
    { "joints_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE, .at = AT(joints_rad),
      .least = 1, .most = 16, .low = -45, .high = 45, .group = SLOPES_GROUP,
      .help = "Instead: one per joint, signed, rear minus front (gauge "
              "zeroed on one cap, read on the next)" },
};
const struct ht_schema ht_sheet_angles_schema = {
    HT_SCHEMA(
        "angles",
        "Readings of one driveline at one ride height. Give `read`, or "
        "`slopes_deg` and `headings_deg` as its shorthand, or `joints_deg`.",
        angles_rows, struct ht_sheet_angles),
    .scratch_size = sizeof(struct angles_scratch),
    .finish = ht_sheet_angles_finish,
};
