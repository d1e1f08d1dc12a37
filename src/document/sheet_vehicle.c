/* The sheet's tables for what the vehicle is. Ranges are plausible bounds for
 * road vehicles, wide on purpose: common practice, no source. */
#include "sheet_tables.h"

static const struct ht_row identity_rows[] = {
    { "unit", HT_IS_TEXT, .at = offsetof(struct ht_sheet_identity, unit),
      .help = "Fleet number or any name for the vehicle" },
    { "odometer_km", HT_IS_NUMBER, HT_QUANTITY_DISTANCE,
      .at = offsetof(struct ht_sheet_identity, odometer_m), .low = 0,
      .high = 5e6, .help = "Odometer" },
    { "date", HT_IS_TEXT, .at = offsetof(struct ht_sheet_identity, date),
      .help = "Day of the work, year first: 2026-11-20" },
    { "load", HT_IS_TEXT, .at = offsetof(struct ht_sheet_identity, load),
      .help = "How the vehicle was loaded" },
    { "measured_by", HT_IS_TEXT,
      .at = offsetof(struct ht_sheet_identity, measured_by),
      .help = "Who measured" },
};
const struct ht_schema ht_sheet_identity_schema = {
    HT_SCHEMA("identity", "Which vehicle, when, by whom. Only printed.",
              identity_rows, struct ht_sheet_identity),
    .finish = ht_sheet_identity_finish,
};

static const struct ht_word walk_words[] = {
    { "done", HT_WALK_DONE, "every point was looked at and is in order" },
    { "failed", HT_WALK_FAILED, "something is not: no drive is proposed" },
    { 0 },
};
static const struct ht_row safety_rows[] = {
    { "clips_refitted", HT_IS_WORD,
      .at = offsetof(struct ht_sheet_safety, clips_refitted),
      .words = ht_words_yes_no,
      .help = "Every retaining clip is back and seated all round" },
    { "walk_round", HT_IS_WORD,
      .at = offsetof(struct ht_sheet_safety, walk_round), .words = walk_words,
      .help = "The walk round the vehicle before a drive" },
};
const struct ht_schema ht_sheet_safety_schema = {
    HT_SCHEMA("safety",
              "What was confirmed before any drive. Absent means not "
              "confirmed, and is shown as that.",
              safety_rows, struct ht_sheet_safety),
};

static const struct ht_word class_words[] = {
    { "car", HT_CLASS_CAR, 0 },
    { "van", HT_CLASS_VAN, 0 },
    { "light_truck", HT_CLASS_LIGHT_TRUCK, 0 },
    { "heavy_truck", HT_CLASS_HEAVY_TRUCK, 0 },
    { "bus", HT_CLASS_BUS, 0 },
    { 0 },
};
static const struct ht_word drive_words[] = {
    { "front", HT_DRIVE_FRONT, 0 },
    { "rear", HT_DRIVE_REAR, 0 },
    { "all", HT_DRIVE_ALL, 0 },
    { 0 },
};
static const struct ht_word gearbox_words[] = {
    { "automatic", HT_GEARBOX_AUTOMATIC, 0 },
    { "manual", HT_GEARBOX_MANUAL, 0 },
    { 0 },
};
static const struct ht_word axle_words[] = {
    { "rigid", HT_AXLE_RIGID, 0 },
    { "independent", HT_AXLE_INDEPENDENT, 0 },
    { 0 },
};
static const struct ht_word range_words[] = {
    { "high", 1, 0 },
    { "low", 2, 0 },
    { 0 },
};

#define AT(field) offsetof(struct ht_sheet_vehicle, field)
/* Mappings that only group keys share the vehicle's struct. */

static const struct ht_row engine_rows[] = {
    { "cylinders", HT_IS_NUMBER, .at = AT(engine_cylinders), .low = 1,
      .high = 24, .flags = HT_WHOLE, .help = "Number of cylinders" },
    { "strokes", HT_IS_NUMBER, .at = AT(engine_strokes), .low = 2, .high = 4,
      .flags = HT_WHOLE, .help = "2 or 4" },
};
static const struct ht_schema engine_schema = {
    HT_SCHEMA("engine", NULL, engine_rows, struct ht_sheet_vehicle),
};
static const struct ht_row motor_rows[] = {
    { "ratio", HT_IS_NUMBER, .at = AT(motor_ratio), .low = 0.2, .high = 60,
      .help = "Motor turns per wheel turn" },
};
static const struct ht_schema motor_schema = {
    HT_SCHEMA("motor", NULL, motor_rows, struct ht_sheet_vehicle),
};
static const struct ht_row transfer_rows[] = {
    { "high", HT_IS_NUMBER, .at = AT(transfer_high), .low = 0.3, .high = 10,
      .help = "Turns in per turn out in the high range" },
    { "low", HT_IS_NUMBER, .at = AT(transfer_low), .low = 0.3, .high = 10,
      .help = "The same in the low range" },
    { "in", HT_IS_TEXT, .at = AT(transfer_in), .words = range_words,
      .help = "Which range was engaged" },
};
static const struct ht_schema transfer_schema = {
    HT_SCHEMA("transfer", NULL, transfer_rows, struct ht_sheet_vehicle),
};
#undef AT
#define AT(field) offsetof(struct ht_sheet_axle, field)
static const struct ht_row axle_rows[] = {
    { "kind", HT_IS_WORD, .at = AT(kind), .words = axle_words,
      .help = "How the driven axle is hung" },
    { "steered", HT_IS_WORD, .at = AT(steered), .words = ht_words_yes_no,
      .help = "A wedge under a steered axle is refused" },
    { "pinion_to_axle_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = AT(pinion_to_axle_m), .low = 20, .high = 2000,
      .help = "Pinion joint centre to wheel axis, along the pinion" },
};
const struct ht_schema ht_sheet_axle_schema = {
    HT_SCHEMA("axle", NULL, axle_rows, struct ht_sheet_axle),
};

#undef AT
#define AT(field) offsetof(struct ht_sheet_vehicle, field)
enum { TYRE_GROUP = 1, AXLE_GROUP, ENGINE_GROUP };

static const struct ht_row vehicle_rows[] = {
    { "class", HT_IS_WORD, .at = AT(class), .words = class_words,
      .help = "What kind of vehicle" },
    { "tyre", HT_IS_TEXT, .at = AT(tyre), .group = TYRE_GROUP,
      .help = "Size as on the sidewall of the driven wheels: 235/65R16" },
    { "tyre_turns_per_km", HT_IS_NUMBER, HT_QUANTITY_PER_DISTANCE,
      .at = AT(tyre_turns_per_m), .low = 150, .high = 1200, .group = TYRE_GROUP,
      .help = "Instead of the size: wheel turns per km" },
    { "drive", HT_IS_WORD, .at = AT(drive), .words = drive_words,
      .help = "Which wheels are driven" },
    { "gearbox", HT_IS_WORD, .at = AT(gearbox), .words = gearbox_words,
      .help = "Kind of gearbox" },
    { "axle_teeth", HT_IS_NUMBERS, .at = AT(axle_teeth), .least = 2, .most = 2,
      .low = 3, .high = 120, .flags = HT_WHOLE, .group = AXLE_GROUP,
      .help = "Teeth of ring and pinion: [41, 11]" },
    { "axle_ratio", HT_IS_NUMBER, .at = AT(axle_ratio), .low = 0.5, .high = 20,
      .group = AXLE_GROUP,
      .help = "Instead of the teeth: shaft turns per wheel turn" },
    { "gear_ratios", HT_IS_NUMBERS, .at = AT(gear_ratios), .least = 1,
      .most = 16, .low = 0.2, .high = 25,
      .help = "Engine turns per turn of the gearbox output, gear 1 first" },
    { "engine", HT_IS_MAP, .child = &engine_schema, .group = ENGINE_GROUP,
      .help = "A piston engine" },
    { "motor", HT_IS_MAP, .child = &motor_schema, .group = ENGINE_GROUP,
      .help = "Instead: an electric motor" },
    { "transfer", HT_IS_MAP, .child = &transfer_schema,
      .help = "A transfer case" },
    { "accessories", HT_IS_NAMED, .at = AT(accessories),
      .count_at = AT(accessory_count), .most = 12, .low = 0.1, .high = 20,
      .help = "Turns per engine turn, by name: {alternator: 2.6}" },
    { "top_speed_km_h", HT_IS_NUMBER, HT_QUANTITY_SPEED,
      .at = AT(top_speed_m_s), .low = 10, .high = 350,
      .help = "Highest speed the vehicle may be driven" },
    { "mass_kg", HT_IS_NUMBER, HT_QUANTITY_MASS, .at = AT(mass_kg), .low = 300,
      .high = 100000, .help = "Mass as driven" },
    { "torque_n_m", HT_IS_NUMBER, HT_QUANTITY_TORQUE, .at = AT(torque_n_m),
      .low = 1, .high = 50000,
      .help = "Torque at the gearbox output, for couples at the joints" },
    { "hub_ratio", HT_IS_NUMBER, .at = AT(hub_ratio), .low = 0.5, .high = 12,
      .help = "Hub reduction: half-shaft turns per wheel turn" },
    { "axle", HT_IS_MAP, .at = AT(axle), .child = &ht_sheet_axle_schema,
      .help = "The driven axle; of several, that of the first driveline that "
              "does not lead to a front axle" },
};
const struct ht_schema ht_sheet_vehicle_schema = {
    HT_SCHEMA("vehicle", "What turns how fast follows from here.", vehicle_rows,
              struct ht_sheet_vehicle),
    .finish = ht_sheet_vehicle_finish,
};
