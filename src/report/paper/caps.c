#include "caps.h"

#include "common/constants.h"

#include <math.h>

/* A cap counts as facing down this near to it: the crosswise zero of the
 * sheet allows 1 degree, and half the last figure of a clocking is added. */
#define FACES_DOWN_RAD (1.5 * HT_RAD_PER_DEG)

/* ---- the driveline ------------------------------------------------------ */

static size_t count_members(const struct ht_sheet *sheet, size_t index)
{
    const struct ht_sheet_driveline *line =
        index < sheet->driveline_count ? &sheet->drivelines[index] : NULL;
    if (line && line->members.count > 0)
        return line->members.count;
    if (line && line->joint_count > 0)
        return line->joint_count + 1;
    for (size_t i = 0; i < sheet->angles_count; i++) {
        const struct ht_sheet_angles *set = &sheet->angles[i];
        if (ht_sheet_driveline_of(sheet, i) != index)
            continue;
        if (set->slope_count > 1)
            return set->slope_count;
        if (set->joints_rad.count > 0)
            return set->joints_rad.count + 1;
    }
    return 0;
}

static void take_line(struct blank_line *line,
                      const struct ht_sheet_driveline *from)
{
    line->name = from->name;
    line->from_rear = from->driven_from == HT_END_REAR;
    for (size_t i = 0; i < line->members && i < from->members.count; i++)
        line->member[i] = from->members.text[i];
    if (from->joint_count + 1 == line->members)
        for (size_t j = 0; j < from->joint_count; j++)
            line->kind[j] = from->joints[j];
    if (from->yokes_rad.count + 2 == line->members)
        for (size_t i = 0; i < from->yokes_rad.count; i++)
            line->yoke_rad[i + 1] = from->yokes_rad.value[i];
    for (size_t i = 1; i + 1 < line->members && i <= from->tube_count; i++)
        line->length_m[i] = from->tubes[i - 1].joint_to_joint_m;
}

void blank_line_from(struct blank_line *line, const struct ht_sheet *sheet,
                     size_t index, const struct ht_rotation *rotation)
{
    *line = (struct blank_line){ .quarter_m = NAN };
    for (size_t i = 0; i < HT_MEMBERS_MAX; i++)
        line->yoke_rad[i] = line->length_m[i] = NAN;
    bool given = sheet && index < sheet->driveline_count;
    if (rotation)
        line->quarter_m =
            rotation->circumference_m /
            (4 * ht_rotation_line_turns(
                     rotation, given ? &sheet->drivelines[index] : NULL));
    line->members = sheet ? count_members(sheet, index) : 0;
    line->made_up = line->members < 2 || line->members > HT_MEMBERS_MAX;
    if (line->made_up)
        line->members = 4;
    if (given)
        take_line(line, &sheet->drivelines[index]);
}

/* ---- how the yokes stand ------------------------------------------------ */

static bool has_pins(enum ht_joint_kind kind)
{
    return kind == HT_JOINT_UNKNOWN || kind == HT_JOINT_CARDAN ||
           kind == HT_JOINT_DOUBLE_CARDAN;
}

bool has_two_yokes(const struct blank_line *line, size_t section)
{
    return section > 0 && section + 1 < line->members &&
           has_pins(line->kind[section - 1]) && has_pins(line->kind[section]);
}

bool clocking_is_asked(const struct blank_line *line, size_t section)
{
    return has_two_yokes(line, section) && isnan(line->yoke_rad[section]);
}

bool any_clocking_is_asked(const struct blank_line *line)
{
    for (size_t i = 1; i + 1 < line->members; i++)
        if (clocking_is_asked(line, i))
            return true;
    return false;
}

static double half_turn_of(double angle_rad)
{
    double rest = fmod(angle_rad, HT_PI);
    return rest < 0 ? rest + HT_PI : rest;
}

/* From the yoke before a joint to the yoke after it. The middle piece of a
 * double joint turns the pins back. */
static double over_joint_rad(enum ht_joint_kind kind)
{
    return kind == HT_JOINT_DOUBLE_CARDAN ? 0 : HT_PI / 2;
}

double yoke_at_rad(const struct blank_line *line, size_t member, bool rear)
{
    double at = 0;
    bool begun = false, broken = false;
    for (size_t i = 0; i <= member; i++) {
        if (i > 0 && !has_pins(line->kind[i - 1]))
            broken = begun;
        else if (i > 0) {
            begun = true;
            at += over_joint_rad(line->kind[i - 1]);
        }
        if (i < member || rear)
            at += isfinite(line->yoke_rad[i]) ? line->yoke_rad[i] : 0;
        if (!begun) /* the first yoke of all is where counting starts */
            at = 0;
    }
    return broken ? NAN : half_turn_of(at);
}

static double away_from(double at_rad, double wanted_rad)
{
    double away = half_turn_of(at_rad - wanted_rad);
    return fmin(away, HT_PI - away);
}

static enum cap_turn turn_of(double at_rad)
{
    if (away_from(at_rad, 0) <= FACES_DOWN_RAD)
        return CAP_FIRST;
    if (away_from(at_rad, HT_PI / 2) <= FACES_DOWN_RAD)
        return CAP_QUARTER;
    return CAP_OWN; /* also when it cannot be counted */
}

/* ---- which cap of a member ---------------------------------------------- */

/* Its front cap, unless only the rear one faces down in either of the two
 * places: a place less to turn to. */
static struct cap cap_of(const struct blank_line *line, size_t member)
{
    bool front = member > 0 && has_pins(line->kind[member - 1]);
    bool rear =
        member + 1 < line->members && has_pins(line->kind[member]);
    struct cap cap = { .member = member, .turn = CAP_NONE, .at_rad = NAN };
    if (!front && !rear)
        return cap;
    cap.rear = !front;
    cap.at_rad = yoke_at_rad(line, member, cap.rear);
    cap.turn = turn_of(cap.at_rad);
    if (front && rear && cap.turn == CAP_OWN) {
        double other = yoke_at_rad(line, member, true);
        if (turn_of(other) != CAP_OWN)
            cap = (struct cap){ member, turn_of(other), true, other };
    }
    return cap;
}

void cap_plan_from(struct cap_plan *plan, const struct blank_line *line)
{
    *plan = (struct cap_plan){ 0 };
    for (int turn = 0; turn < CAP_TURNS; turn++)
        for (size_t i = 0; i < line->members; i++) {
            struct cap cap = cap_of(line, i);
            if ((int)cap.turn == turn)
                plan->cap[plan->caps++] = cap;
        }
}
