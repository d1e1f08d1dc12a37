/* The per-member forms turned into lists, and keys of one mapping that must
 * fit each other. */
#include "sheet_tables.h"
#include "texts.h"

#include <math.h>
#include <string.h>

static unsigned digits_of(const char *text, size_t count)
{
    unsigned value = 0;
    for (size_t i = 0; i < count; i++)
        value = 10 * value + (unsigned)(text[i] - '0');
    return value;
}

/* Of the Gregorian calendar. */
static bool is_day(unsigned year, unsigned month, unsigned day)
{
    static const unsigned days[] = { 31, 28, 31, 30, 31, 30,
                                     31, 31, 30, 31, 30, 31 };
    bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    return month >= 1 && month <= 12 && day >= 1 &&
           day <= days[month - 1] + (month == 2 && leap);
}

bool ht_sheet_is_date(const char *text)
{
    static const char shape[] = "dddd-dd-dd";
    if (!text)
        return true;
    for (size_t i = 0; i < sizeof shape; i++)
        if (shape[i] == 'd' ? text[i] < '0' || text[i] > '9'
                            : text[i] != shape[i])
            return false;
    return is_day(digits_of(text, 4), digits_of(text + 5, 2),
                  digits_of(text + 8, 2));
}

static void check_date(struct ht_finish *finish, const char *text)
{
    if (!ht_sheet_is_date(text))
        ht_finish_problem(finish, "date", DOCUMENT_DATE, text);
}

void ht_sheet_identity_finish(struct ht_finish *finish, void *record)
{
    const struct ht_sheet_identity *identity = record;
    check_date(finish, identity->date);
}

void ht_sheet_vehicle_finish(struct ht_finish *finish, void *record)
{
    const struct ht_sheet_vehicle *vehicle = record;
    const double *teeth = vehicle->axle_teeth.value;
    if (vehicle->axle_teeth.count == 2 && teeth[1] > 2 * teeth[0])
        ht_finish_problem(finish, "axle_teeth", DOCUMENT_TEETH_SWAPPED,
                          teeth[0], teeth[1]);
    if (vehicle->engine_strokes == 3)
        ht_finish_problem(finish, "engine/strokes", DOCUMENT_STROKES);
}

void ht_sheet_speed_finish(struct ht_finish *finish, void *record)
{
    const struct ht_sheet_speed *speed = record;
    bool from = !isnan(speed->from_m_s), to = !isnan(speed->to_m_s);
    if (from != to)
        ht_finish_problem(finish, from ? "from_km_h" : "to_km_h",
                          DOCUMENT_RUN_HALF);
    if ((from || to) && (speed->file || !isnan(speed->steady_m_s)))
        ht_finish_problem(finish, from ? "from_km_h" : "to_km_h",
                          DOCUMENT_SPEED_TWICE);
}

void ht_sheet_tube_finish(struct ht_finish *finish, void *record)
{
    const struct ht_sheet_tube *tube = record;
    if (2 * tube->wall_m >= tube->outer_m)
        ht_finish_problem(finish, NULL, DOCUMENT_TUBE_WALL);
    else if (tube->outer_m >= tube->joint_to_joint_m)
        ht_finish_problem(finish, NULL, DOCUMENT_TUBE_OUTER);
}

void ht_sheet_limits_finish(struct ht_finish *finish, void *record)
{
    const struct ht_sheet_limits *limits = record;
    if (limits->joint_min_rad > limits->joint_max_rad)
        ht_finish_problem(finish, "joint_min_deg", DOCUMENT_LIMITS_CROSSED);
}

void ht_sheet_channel_finish(struct ht_finish *finish, void *record)
{
    const struct ht_sheet_channel *channel = record;
    if (channel->scale == 0)
        ht_finish_problem(finish, "scale", DOCUMENT_CHANNEL_SCALE);
}

/* ---- chain ------------------------------------------------------------ */

static bool has_joint_only_keys_wrong(const struct chain_item *item)
{
    return item->joint &&
           (!isnan(item->yoke_rad) || !isnan(item->tube.joint_to_joint_m) ||
            !isnan(item->tube.outer_m) || item->bearing_spacings_m.count);
}

/* Members and joints in turn, a member at both ends. */
static bool chain_is_sound(struct ht_finish *finish,
                           const struct driveline_scratch *scratch)
{
    for (size_t i = 0; i < scratch->chain_count; i++) {
        const struct chain_item *item = &scratch->chain[i];
        if (i % 2 == 1 && item->joint == HT_JOINT_UNKNOWN) {
            ht_finish_problem(finish, "chain", DOCUMENT_CHAIN_WANTS_JOINT,
                              i + 1);
            return false;
        }
        if (i % 2 == 0 && !item->member) {
            ht_finish_problem(finish, "chain", DOCUMENT_CHAIN_WANTS_MEMBER,
                              i + 1);
            return false;
        }
        if (has_joint_only_keys_wrong(item)) {
            ht_finish_problem(finish, "chain", DOCUMENT_CHAIN_JOINT_HAS, i + 1);
            return false;
        }
    }
    if (scratch->chain_count % 2 == 0)
        ht_finish_problem(finish, "chain", DOCUMENT_CHAIN_ENDS_IN_JOINT);
    return scratch->chain_count % 2 == 1;
}

static bool chain_stands_alone(struct ht_finish *finish)
{
    static const char *const lists[] = { "joints", "yokes_deg", "tubes",
                                         "bearing_spacings_mm" };
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
        if (ht_finish_has(finish, lists[i])) {
            ht_finish_problem(finish, lists[i], DOCUMENT_CHAIN_HOLDS_IT);
            return false;
        }
    return true;
}

static bool any_tube(const struct ht_sheet_tube *tube)
{
    return !isnan(tube->joint_to_joint_m) || !isnan(tube->outer_m) ||
           !isnan(tube->wall_m) || tube->material;
}

/* Yokes and tubes of the shaft sections: the members between the ends. */
static void chain_sections(struct ht_finish *finish,
                           struct driveline_scratch *scratch)
{
    struct ht_sheet_driveline *line = &scratch->driveline;
    size_t sections = scratch->chain_count / 2 - 1, yokes = 0, tubes = 0;
    const struct chain_item *shaft = scratch->chain + 2;
    for (size_t i = 0; i < sections; i++) {
        yokes += isnan(shaft[2 * i].yoke_rad) ? 0 : 1;
        tubes += any_tube(&shaft[2 * i].tube) ? 1 : 0;
    }
    if (yokes != 0 && yokes != sections)
        ht_finish_problem(finish, "chain", DOCUMENT_CHAIN_YOKES, yokes,
                          sections);
    if (yokes)
        line->yokes_rad.value = ht_finish_get(finish, sections, sizeof(double));
    if (tubes)
        line->tubes = ht_finish_get(finish, sections, sizeof *line->tubes);
    line->yokes_rad.count = line->yokes_rad.value ? sections : 0;
    line->tube_count = line->tubes ? sections : 0;
    for (size_t i = 0; i < line->yokes_rad.count; i++)
        line->yokes_rad.value[i] = shaft[2 * i].yoke_rad;
    for (size_t i = 0; i < line->tube_count; i++)
        line->tubes[i] = shaft[2 * i].tube;
}

static void chain_bearings(struct ht_finish *finish,
                           struct driveline_scratch *scratch)
{
    struct ht_sheet_driveline *line = &scratch->driveline;
    size_t count = 0;
    for (size_t i = 0; i < scratch->chain_count; i++)
        count += scratch->chain[i].bearing_spacings_m.count > 0;
    line->bearing_spacings_m =
        ht_finish_get(finish, count, sizeof *line->bearing_spacings_m);
    line->bearing_spacing_count = 0;
    for (size_t i = 0; line->bearing_spacings_m && i < scratch->chain_count;
         i++) {
        const struct chain_item *item = &scratch->chain[i];
        if (item->bearing_spacings_m.count)
            line->bearing_spacings_m[line->bearing_spacing_count++] =
                (struct ht_named_numbers){ item->member,
                                           item->bearing_spacings_m };
    }
}

static void chain_to_lists(struct ht_finish *finish,
                           struct driveline_scratch *scratch)
{
    struct ht_sheet_driveline *line = &scratch->driveline;
    size_t members = scratch->chain_count / 2 + 1;
    line->yokes_rad = (struct ht_numbers){ 0 };
    line->tubes = NULL;
    line->members.text =
        ht_finish_get(finish, members, sizeof *line->members.text);
    line->joints = ht_finish_get(finish, members - 1, sizeof *line->joints);
    if (!line->members.text || !line->joints)
        return;
    line->members.count = members;
    line->joint_count = members - 1;
    for (size_t i = 0; i < members; i++)
        line->members.text[i] = scratch->chain[2 * i].member;
    for (size_t i = 0; i + 1 < members; i++)
        line->joints[i] = scratch->chain[2 * i + 1].joint;
    chain_sections(finish, scratch);
    chain_bearings(finish, scratch);
}

/* ---- counts ----------------------------------------------------------- */

/* Not said at all is fine. Twice as many as wanted is what decimal commas
 * give; the 2 of one joint say nothing. */
static bool fits(size_t found, size_t wanted)
{
    return found == 0 || found == wanted;
}

static bool is_twice(size_t found, size_t wanted)
{
    return found == 2 * wanted && found > 2;
}

static void check_yokes(struct ht_finish *finish, size_t found, size_t wanted)
{
    if (fits(found, wanted))
        return;
    if (is_twice(found, wanted))
        ht_finish_problem(finish, "yokes_deg", DOCUMENT_COUNT_COMMAS, found,
                          wanted);
    else
        ht_finish_problem(finish, "yokes_deg", DOCUMENT_YOKE_COUNT, found,
                          wanted);
}

static void check_headings(struct ht_finish *finish, size_t found,
                           size_t wanted)
{
    if (fits(found, wanted))
        return;
    if (is_twice(found, wanted))
        ht_finish_problem(finish, "headings_deg", DOCUMENT_COUNT_COMMAS, found,
                          wanted);
    else
        ht_finish_problem(finish, "headings_deg", DOCUMENT_HEADING_COUNT, found,
                          wanted);
}

void ht_sheet_driveline_finish(struct ht_finish *finish, void *record)
{
    struct driveline_scratch *scratch = record;
    struct ht_sheet_driveline *line = &scratch->driveline;
    if (scratch->chain_count) {
        if (chain_is_sound(finish, scratch) && chain_stands_alone(finish))
            chain_to_lists(finish, scratch);
        return;
    }
    size_t members = line->members.count;
    if (members && !fits(line->joint_count, members - 1))
        ht_finish_problem(finish, "joints", DOCUMENT_JOINT_COUNT,
                          line->joint_count, members - 1);
    if (members == 0 && line->joint_count)
        members = line->joint_count + 1;
    if (members < 2)
        return;
    check_yokes(finish, line->yokes_rad.count, members - 2);
    if (!fits(line->tube_count, members - 2))
        ht_finish_problem(finish, "tubes", DOCUMENT_TUBE_COUNT,
                          line->tube_count, members - 2);
}

/* ---- read ------------------------------------------------------------- */

static bool read_is_sound(struct ht_finish *finish,
                          struct angles_scratch *scratch)
{
    size_t headings = 0;
    if (ht_finish_has(finish, "headings_deg"))
        ht_finish_problem(finish, "headings_deg", DOCUMENT_READ_HEADINGS);
    for (size_t i = 0; i < scratch->read_count; i++) {
        const struct read_item *item = &scratch->read[i];
        headings += isnan(item->heading_rad) ? 0 : 1;
        if (item->slope.readings_rad.count == 0 &&
            item->slope.opposite_rad.count == 0 &&
            isnan(item->slope.flip_a_rad)) {
            ht_finish_problem(finish, "read", DOCUMENT_READ_NOTHING,
                              item->member ? item->member : "");
            return false;
        }
    }
    if (scratch->angles.offsets_m.count > 0)
        return ht_sheet_read_ends(finish, scratch);
    if (headings != 0 && headings != scratch->read_count)
        ht_finish_problem(finish, "read", DOCUMENT_READ_SOME_HEADINGS, headings,
                          scratch->read_count);
    return true;
}

static void read_to_lists(struct ht_finish *finish,
                          struct angles_scratch *scratch)
{
    struct ht_sheet_angles *angles = &scratch->angles;
    size_t count = scratch->read_count;
    bool headings = !isnan(scratch->read[0].heading_rad) &&
                    angles->offsets_m.count == 0;
    angles->slopes = ht_finish_get(finish, count, sizeof *angles->slopes);
    angles->headings_rad = (struct ht_numbers){ 0 };
    if (headings)
        angles->headings_rad.value =
            ht_finish_get(finish, count, sizeof(double));
    angles->slope_count = angles->slopes ? count : 0;
    angles->headings_rad.count = angles->headings_rad.value ? count : 0;
    for (size_t i = 0; i < angles->slope_count; i++)
        angles->slopes[i] = scratch->read[i].slope;
    for (size_t i = 0; i < angles->headings_rad.count; i++)
        angles->headings_rad.value[i] = scratch->read[i].heading_rad;
}

void ht_sheet_angles_finish(struct ht_finish *finish, void *record)
{
    struct angles_scratch *scratch = record;
    const struct ht_sheet_angles *angles = &scratch->angles;
    check_date(finish, angles->date);
    if (scratch->read_count && read_is_sound(finish, scratch))
        read_to_lists(finish, scratch);
    if (scratch->read_count == 0 && angles->slope_count)
        check_headings(finish, angles->headings_rad.count, angles->slope_count);
    ht_sheet_readings_check(finish, angles);
}
