/* The keys of the JSON output: these tables write it and docs/json.md. */
#include "json_view.h"

#include "json_effects.h"
#include "json_lines.h"
#include "json_rows.h"
#include "json_shims.h"

/* ---- angles ------------------------------------------------------------ */

static const struct ht_row joint_rows[] = {
    KEY(json_joint, "between", TEXT, between, "The two members that meet"),
    SI(json_joint, "angle_deg", ANGLE, angle_rad, "Working angle"),
    SI(json_joint, "u_deg", ANGLE, u_rad, "Its standard uncertainty"),
    SI(json_joint, "low_deg", ANGLE, low_rad, "95 % interval, lower end"),
    SI(json_joint, "high_deg", ANGLE, high_rad, "95 % interval, upper end"),
};
static SCHEMA(joint_schema, "joints", "One joint, front to rear.", joint_rows,
              struct json_joint);

static const struct ht_row leftover_rows[] = {
    SI(ht_estimate, "angle_deg", ANGLE, value,
       "Median; of a single Cardan joint its own angle"),
    SI(ht_estimate, "low_deg", ANGLE, low, "95 % interval, lower end"),
    SI(ht_estimate, "high_deg", ANGLE, high, "95 % interval, upper end"),
};
static SCHEMA(leftover_schema, "leftover",
              "The single-joint angle that would disturb the axle as much.",
              leftover_rows, struct ht_estimate);

static const struct ht_row acceleration_rows[] = {
    KEY(ht_accelerations, "axle_rad_s2", NUMBER, axle.value,
        "Shake passed to the axle, peak, rad/s²"),
    KEY(ht_accelerations, "axle_low_rad_s2", NUMBER, axle.low,
        "95 % interval, lower end"),
    KEY(ht_accelerations, "axle_high_rad_s2", NUMBER, axle.high,
        "95 % interval, upper end"),
    KEY(ht_accelerations, "pulled_rad_s2", NUMBER, pulled.value,
        "The shaft's own shake, pulled from the front"),
    KEY(ht_accelerations, "held_rad_s2", NUMBER, held.value,
        "The shaft's own shake, held from the rear"),
    SI(ht_accelerations, "at_km_h", SPEED, speed_m_s, "Road speed"),
    KEY(ht_accelerations, "shaft_rad_s", NUMBER, shaft_rad_s,
        "Shaft speed, rad/s"),
};
static SCHEMA(acceleration_schema, "accelerations",
              "Left out when the shaft's speed is not known.",
              acceleration_rows, struct ht_accelerations);

static const struct ht_word verdict_words[] = {
    { "over", 0, "chance of being over a maximum at least 0.95" },
    { "under", 0, "chance of being under a minimum at least 0.95" },
    { "within", 1, "chance of being out at most 0.05" },
    { "cannot_be_decided", 2, "anything between" },
    { 0 },
};
static const struct ht_row verdict_rows[] = {
    KEY(json_verdict, "what", TEXT, what, "What was judged"),
    KEY(json_verdict, "joint", COUNT, joint, "Joint, from 1; 0: not about one"),
    KEY(json_verdict, "value", NUMBER, value, "In `unit`"),
    KEY(json_verdict, "u", NUMBER, u, "Its standard uncertainty"),
    KEY(json_verdict, "low", NUMBER, low, "95 % interval, lower end"),
    KEY(json_verdict, "high", NUMBER, high, "95 % interval, upper end"),
    KEY(json_verdict, "limit", NUMBER, limit, "In `unit`"),
    KEY(json_verdict, "unit", TEXT, unit, "deg or rad/s2"),
    KEY(json_verdict, "minimum", BOOL, is_minimum, "The limit is a minimum"),
    KEY(json_verdict, "set", TEXT, set, "Limit set"),
    KEY(json_verdict, "source", TEXT, source, "Where the figure is from"),
    KEY(json_verdict, "probability_over", NUMBER, probability_over,
        "For a minimum: of lying below it"),
    { .key = "verdict", .kind = HT_IS_TEXT, .words = verdict_words,
      .at = offsetof(struct json_verdict, verdict),
      .help = "Left out when suspension or reading allows none" },
    KEY(json_verdict, "way_out", TEXT, way_out,
        "What would decide an open one"),
};
static SCHEMA(verdict_schema, "verdicts", "One result against one limit.",
              verdict_rows, struct json_verdict);

static const struct ht_row angles_rows[] = {
    KEY(json_angles, "side_view_only", BOOL, side_view_only,
        "No headings: the true angles are at least these"),
    KEY(json_angles, "verdict_allowed", BOOL, verdict_allowed,
        "The axle carried the vehicle's weight"),
    LIST(json_angles, "joints", joints, joint_count, joint_schema,
         "The joints"),
    { .key = "leftover", .kind = HT_IS_MAP, .child = &leftover_schema,
      .at = offsetof(struct json_angles, leftover_rad),
      .help = "What all joints together leave" },
    KEY(json_angles, "leftover_is_zero", BOOL, leftover_is_zero,
        "Not to be told from zero with this gauge"),
    KEY(json_angles, "speed_ripple", NUMBER, speed_ripple,
        "Peak of output over input speed, less 1"),
    { .key = "accelerations", .kind = HT_IS_MAP,
      .child = &acceleration_schema,
      .at = offsetof(struct json_angles, accelerations),
      .help = "At the highest speed" },
    LIST(json_angles, "verdicts", verdicts, verdict_count, verdict_schema,
         "Against every limit that applies"),
    TEXTS(json_angles, "doubts", doubts,
          "Readings to look at again, and why"),
    TEXTS(json_angles, "angle_notes", notes,
          "What was taken for these angles, and what they leave out"),
};
SCHEMA(json_angles_schema, "angles",
       "With `angles`, `rank` and `report`. Absent when no angles are given.",
       angles_rows, struct json_angles);

/* ---- speed and orders -------------------------------------------------- */

static const struct ht_word source_words[] = {
    { "pulses", 0, NULL }, { "log", 1, NULL }, { "steady", 2, NULL },
    { "hint", 3, NULL }, { "recording", 4, NULL }, { "none", 5, NULL }, { 0 },
};
static const struct ht_word speed_state_words[] = {
    { "accepted", 0, NULL }, { "ambiguous", 1, NULL }, { "refused", 2, NULL },
    { 0 },
};
static const struct ht_word order_state_words[] = {
    { "seen", 0, NULL },
    { "not_seen", 1, "although it would have been" },
    { "could_not_be_seen", 2, "says nothing" },
    { 0 },
};

static const struct ht_row rival_rows[] = {
    KEY(json_rival, "reading", TEXT, reading, "Another way to read the drive"),
    KEY(json_rival, "margin", NUMBER, margin, "By how much it loses"),
};
static SCHEMA(rival_schema, "rivals", "The runners-up.", rival_rows,
              struct json_rival);

static const struct ht_row speed_rows[] = {
    { .key = "source", .kind = HT_IS_TEXT, .words = source_words,
      .at = offsetof(struct json_speed, source), .help = "Where it is from" },
    { .key = "state", .kind = HT_IS_TEXT, .words = speed_state_words,
      .at = offsetof(struct json_speed, state), .help = "May it be used" },
    KEY(json_speed, "reason", TEXT, reason,
        "When refused or ambiguous: why, and which drive would settle it"),
    KEY(json_speed, "circumference_m", NUMBER, circumference_m,
        "Road rolled per wheel turn"),
    KEY(json_speed, "circumference_u_m", NUMBER, circumference_u_m,
        "Its standard uncertainty"),
    KEY(json_speed, "circumference_found", BOOL, circumference_found,
        "From log against recording; else the tyre's nominal one"),
    KEY(json_speed, "lag_s", NUMBER, lag_s, "The log is late by this"),
    KEY(json_speed, "lag_u_s", NUMBER, lag_u_s, "Its standard uncertainty"),
    KEY(json_speed, "scale", NUMBER, scale,
        "Log speed over found speed with the nominal circumference"),
    KEY(json_speed, "gear", COUNT, gear, "From 1; 0: not known"),
    LIST(json_speed, "rivals", rivals, rival_count, rival_schema,
         "Runners-up"),
};
SCHEMA(json_speed_schema, "speed",
       "Also `points`: a list of [time in s, speed in km/h], one each half "
       "second where the speed is usable.", speed_rows, struct json_speed);

static const struct ht_row bin_rows[] = {
    SI(json_bin, "from_km_h", SPEED, from_m_s, "Lower end of the bin"),
    SI(json_bin, "to_km_h", SPEED, to_m_s, "Upper end"),
    KEY(json_bin, "level", NUMBER, level, "Peak amplitude in the order's unit"),
    KEY(json_bin, "low", NUMBER, low, "95 % interval, lower end"),
    KEY(json_bin, "high", NUMBER, high, "95 % interval, upper end"),
    KEY(json_bin, "least_seen", NUMBER, least_seen,
        "Smallest level that would have been seen"),
    { .key = "state", .kind = HT_IS_TEXT, .words = order_state_words,
      .at = offsetof(struct json_bin, state), .help = "In this bin" },
};
static SCHEMA(bin_schema, "bins", "One band of road speed.", bin_rows,
              struct json_bin);

static const struct ht_row order_rows[] = {
    KEY(json_order, "part", TEXT, part, "What turns"),
    KEY(json_order, "multiple", NUMBER, multiple,
        "Vibrations per turn of the part"),
    KEY(json_order, "wheel_order", NUMBER, wheel_order,
        "Vibrations per wheel turn"),
    KEY(json_order, "channel", TEXT, channel,
        "`all` is the sum over axes and comes first; else from 1"),
    { .key = "state", .kind = HT_IS_TEXT, .words = order_state_words,
      .at = offsetof(struct json_order, state), .help = "Over the drive" },
    KEY(json_order, "reason", TEXT, reason, "Why it could not be seen"),
    SI(json_order, "at_km_h", SPEED, at_m_s, "Middle of the strongest bin"),
    KEY(json_order, "level", NUMBER, level, "Of the strongest bin, peak"),
    KEY(json_order, "low", NUMBER, low, "95 % interval, lower end"),
    KEY(json_order, "high", NUMBER, high, "95 % interval, upper end"),
    KEY(json_order, "least_seen", NUMBER, least_seen,
        "Smallest level that would have been seen"),
    KEY(json_order, "unit", TEXT, unit, "m/s2 or full scale"),
    KEY(json_order, "exponent", NUMBER, exponent,
        "Level grows as speed to this power"),
    KEY(json_order, "exponent_u", NUMBER, exponent_u,
        "Its standard uncertainty"),
    KEY(json_order, "pull_db", NUMBER, pull_db, "Pull over overrun, dB"),
    KEY(json_order, "pull_u_db", NUMBER, pull_u_db,
        "Its standard uncertainty"),
    LIST(json_order, "bins", bins, bin_count, bin_schema,
         "Level against speed"),
};
static SCHEMA(order_schema, "orders", "One named order on one channel.",
              order_rows, struct json_order);

static const struct ht_row pair_rows[] = {
    KEY(json_pair, "a", TEXT, a, "One order"),
    KEY(json_pair, "b", TEXT, b, "The other"),
    KEY(json_pair, "never", BOOL, never, "The same frequency in this gear"),
    KEY(json_pair, "way_out", TEXT, way_out, "The drive that parts them"),
};
static SCHEMA(pair_schema, "cannot_separate", "Two orders too close to part.",
              pair_rows, struct json_pair);

static const struct ht_row orders_rows[] = {
    LIST(json_orders, "orders", orders, order_count, order_schema,
         "Every order asked about"),
    LIST(json_orders, "cannot_separate", pairs, pair_count, pair_schema,
         "Orders that this drive cannot part"),
};
SCHEMA(json_orders_schema, "orders",
       "With `orders`, `rank` and `report`. Absent without a recording or a "
       "speed.", orders_rows, struct json_orders);

/* ---- rank -------------------------------------------------------------- */

static const struct ht_row influence_rows[] = {
    KEY(json_influence, "finding", TEXT, finding, "Its id"),
    KEY(json_influence, "text", TEXT, text, "In words"),
    KEY(json_influence, "times", NUMBER, times,
        "Odds factor, above 1; under lowered_by: times less likely"),
    KEY(json_influence, "without", NUMBER, without,
        "Probability without this finding"),
};
static SCHEMA(influence_schema, "influence", "A finding that moved a cause.",
              influence_rows, struct json_influence);

static const struct ht_row cause_rows[] = {
    KEY(json_cause, "cause", TEXT, id, "Its id"),
    KEY(json_cause, "title", TEXT, title, "In words"),
    KEY(json_cause, "probability", NUMBER, probability, "Of being present"),
    KEY(json_cause, "word", TEXT, word, "The probability in words"),
    LIST(json_cause, "raised_by", raised, raised_count, influence_schema,
         "What raised it, strongest first"),
    LIST(json_cause, "lowered_by", lowered, lowered_count, influence_schema,
         "What lowered it, strongest first"),
    KEY(json_cause, "repair", TEXT, repair, "What is done about it"),
    KEY(json_cause, "caution", TEXT, caution, "What to mind then"),
};
static SCHEMA(cause_schema, "causes", "In falling order of probability.",
              cause_rows, struct json_cause);

static const struct ht_row safety_rows[] = {
    KEY(json_why, "id", TEXT, id, "Its id"),
    KEY(json_why, "text", TEXT, text, "In words"),
};
static SCHEMA(safety_schema, "safety", "Above the ranking, not weighed.",
              safety_rows, struct json_why);

static const struct ht_row struck_rows[] = {
    KEY(json_why, "cause", TEXT, id, "Its id"),
    KEY(json_why, "why", TEXT, text, "Why this vehicle cannot have it"),
};
static SCHEMA(struck_schema, "struck_out", NULL, struck_rows, struct json_why);

static const struct ht_row next_rows[] = {
    KEY(json_next, "finding", TEXT, id, "Its id"),
    KEY(json_next, "question", TEXT, question, "What to find out"),
    KEY(json_next, "minutes", NUMBER, minutes, "What it takes"),
    KEY(json_next, "gain", NUMBER, gain,
        "Expected gain about which cause is repaired first, nats"),
    KEY(json_next, "how", TEXT, how, "Tool, speed, caution"),
    TEXTS(json_next, "outcomes", outcomes, "What each answer would change"),
};
static SCHEMA(next_schema, "next_checks", "Best first.", next_rows,
              struct json_next);

static const struct ht_row rank_rows[] = {
    LIST(json_rank, "safety", safety, safety_count, safety_schema,
         "Safety findings"),
    KEY(json_rank, "accused", TEXT, accused,
        "Id of the cause that stands first with at least 0.5; absent: none"),
    LIST(json_rank, "causes", causes, cause_count, cause_schema, "The ranking"),
    TEXTS(json_rank, "unexplained", unexplained,
          "Findings that no likely cause explains"),
    TEXTS(json_rank, "alike", alike, "Causes that nothing known can part"),
    LIST(json_rank, "struck_out", struck, struck_count, struck_schema,
         "Causes left out by name"),
    KEY(json_rank, "prior_mass_cut", NUMBER, prior_mass_cut,
        "Prior probability of more than three causes at once, not counted"),
    LIST(json_rank, "next_checks", next, next_count, next_schema,
         "What to find out next"),
};
SCHEMA(json_rank_schema, "rank", "With `rank` and `report`.", rank_rows,
       struct json_rank);

#define STAGE(name, which, text)                                               \
    { .key = name, .kind = HT_IS_TEXT,                                         \
      .at = offsetof(struct json_stages, key[HT_STAGE_##which]), .help = text }
static const struct ht_row stage_rows[] = {
    STAGE("parts", PARTS, "What turns how fast"),
    STAGE("limits", LIMITS, "The limits file"),
    STAGE("angles", ANGLES, "Joint angles and verdicts"),
    STAGE("effects", EFFECTS, "What the angles do"),
    STAGE("shims", SHIMS, "What would put the angles right"),
    STAGE("recording", RECORDING, "The recording, decoded"),
    STAGE("place", PLACE, "The recording with the place of its sensor"),
    STAGE("speed_log", SPEED_LOG, "The speed log"),
    STAGE("speed", SPEED, "How far the wheel had turned, and when"),
    STAGE("gear", GEAR, "Parts again, in the gear that was found"),
    STAGE("orders", ORDERS, "The orders of the drive"),
    STAGE("findings", FINDINGS, "What was found out"),
    STAGE("catalogue", CATALOGUE, "The catalogue file"),
    STAGE("ranking", RANKING, "The causes and the next checks"),
};
static SCHEMA(stages_schema, "stages",
              "For each stage that ran, 32 hexadecimal digits for all that its "
              "result was worked out from: two equal keys, one result. Made "
              "up how: docs/workup.md.", stage_rows, struct json_stages);

static const struct ht_row rest_rows[] = {
    KEY(json_rest, "title", TEXT, title, "Of the case"),
    TEXTS(json_rest, "missing", missing, "What could not be done, for want of "
                                         "what"),
    TEXTS(json_rest, "assumed", assumed, "What an absent key was taken to "
                                         "mean"),
    TEXTS(json_rest, "notes", notes, "What was found in the recording, its "
                                     "speed and its orders, and what of it is "
                                     "left out"),
    { .key = "stages", .kind = HT_IS_MAP, .child = &stages_schema,
      .at = offsetof(struct json_rest, stages),
      .help = "Key of each result" },
};
SCHEMA(json_rest_schema, "always", "In every output, beside `schema`: 1.",
       rest_rows, struct json_rest);

static const char before_tables[] =
    "<!-- Generated from the tables in src/report; do not edit. After a "
    "change of a table:\n     HALFTURN_WRITE_DOCS=1 build/tests/"
    "report-json -->\n\n# The JSON output\n\n"
    "One object. All keys below stand at its top level, but those of "
    "*speed*, which stand under `speed`. `angles` writes the angle keys, "
    "`orders` speed and orders, `rank` all of them. Numbers carry 17 "
    "significant digits, angles are in degrees, speeds in km/h whatever "
    "units the sheet was written in. A number that is not known is left "
    "out, a list that is empty is `[]`.\n\n`parts` and its keys: "
    "`parts`, a list of `part`, `multiple`, `hz`, `rpm`, `speed_km_h`, "
    "and `coincide`, the orders that share a frequency. With `--hz` also "
    "`could_be`: the same keys for each order that comes within 5 %, nearest "
    "first, at the speed where it comes nearest.\n";

void json_page(struct ht_text *out)
{
    static const struct ht_schema *const schemas[] = {
        &json_rest_schema,      &json_angles_schema, &json_effects_schema,
        &json_driveline_schema, &json_set_schema,    &json_travel_schema,
        &json_speed_schema,     &json_orders_schema, &json_rank_schema,
        &json_shims_schema,
    };
    ht_text_add(out, before_tables);
    for (size_t i = 0; i < sizeof schemas / sizeof *schemas; i++)
        ht_schema_page(out, schemas[i]);
}
