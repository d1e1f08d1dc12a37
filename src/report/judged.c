#include "judged.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

/* What matters more when several limits were held against one thing. */
static int weight(enum ht_verdict verdict)
{
    static const int weights[] = {
        [HT_VERDICT_NONE] = 0, [HT_VERDICT_WITHIN] = 1, [HT_VERDICT_OPEN] = 2,
        [HT_VERDICT_UNDER] = 3, [HT_VERDICT_OVER] = 4,
    };
    return weights[verdict];
}

static bool is_bad(enum ht_verdict verdict)
{
    return verdict == HT_VERDICT_OVER || verdict == HT_VERDICT_UNDER;
}

static void add_limit(struct judged *judged, const struct ht_limit_verdict *v)
{
    if (v->is_minimum) {
        judged->least = fmin(judged->least, v->limit);
    } else {
        judged->most = fmin(judged->most, v->limit);
        judged->most_highest = fmax(judged->most_highest, v->limit);
    }
}

typedef bool (*wanted_function)(const struct ht_limit_verdict *, const void *);

/* Maxima alone, or minima alone: a set without a maximum cannot be exceeded,
 * and says nothing about that. */
struct side {
    bool minima;
    size_t sets, bad;
};

/* Counts the set of the verdict at `index` once, as bad if any of it is. */
static void count_set(struct side *side, const struct ht_angles *angles,
                      size_t index, wanted_function wanted, const void *key)
{
    const char *set = angles->verdict[index].set;
    bool bad = false;
    if (angles->verdict[index].is_minimum != side->minima)
        return;
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        if (!wanted(v, key) || v->is_minimum != side->minima ||
            strcmp(v->set, set) != 0)
            continue;
        if (i < index)
            return;
        bad = bad || is_bad(v->verdict);
    }
    side->sets++;
    side->bad += bad;
}

static void settle(struct judged *judged, const struct side *over,
                   const struct side *under)
{
    const struct side *side = over->bad      ? over
                              : under->bad   ? under
                              : over->sets   ? over
                                             : under;
    judged->sets = side->sets;
    judged->sets_bad = side->bad;
    if (side->bad > 0 && side->bad < side->sets)
        judged->verdict = HT_VERDICT_OPEN;
}

static struct judged collect(const struct ht_angles *angles,
                             wanted_function wanted, const void *key)
{
    struct judged judged = { .least = NAN, .most = NAN, .most_highest = NAN };
    struct side over = { .minima = false }, under = { .minima = true };
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        if (!wanted(v, key))
            continue;
        add_limit(&judged, v);
        count_set(&over, angles, i, wanted, key);
        count_set(&under, angles, i, wanted, key);
        if (!judged.deciding || weight(v->verdict) > weight(judged.verdict)) {
            judged.deciding = v;
            judged.verdict = v->verdict;
        } else if (v->verdict == judged.verdict && judged.deciding->is_minimum)
            judged.deciding = v;
    }
    settle(&judged, &over, &under);
    return judged;
}

static bool about_joint(const struct ht_limit_verdict *v, const void *key)
{
    return v->joint == *(const size_t *)key && strcmp(v->unit, "rad") == 0;
}

static bool about_shake(const struct ht_limit_verdict *v, const void *key)
{
    return v->joint == 0 && strcmp(v->unit, "rad/s2") == 0 &&
           strstr(v->what, key) != NULL;
}

struct judged judged_joint(const struct ht_angles *angles, size_t joint)
{
    return collect(angles, about_joint, &joint);
}

struct judged judged_shake(const struct ht_angles *angles, const char *what)
{
    return collect(angles, about_shake, what);
}

/* The first Cardan joint, from 1; the sets allow all of them the same. */
static size_t first_cardan(const struct ht_angles *angles)
{
    for (size_t j = 0; j < angles->joints; j++)
        if (angles->joint[j].kind == HT_JOINT_CARDAN ||
            angles->joint[j].kind == HT_JOINT_UNKNOWN)
            return j + 1;
    return 0;
}

/* A limit that is not only for a joint that stands alone or is odd. */
static bool is_plain_maximum(const struct ht_limit_verdict *v)
{
    return strcmp(v->unit, "rad") == 0 && !v->is_minimum &&
           !strchr(v->what, ',');
}

static bool is_about(const struct ht_limit_verdict *v, const char *what,
                     size_t joint)
{
    return what ? v->joint == 0 && strcmp(v->what, what) == 0
                : joint > 0 && v->joint == joint && is_plain_maximum(v);
}

struct judged_sets judged_what(const struct ht_angles *angles,
                               const char *what)
{
    struct judged_sets sets = { 0, 0, NULL, NULL };
    size_t joint = first_cardan(angles);
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        if (!is_about(v, what, joint))
            continue;
        sets.count++;
        sets.over += v->verdict == HT_VERDICT_OVER;
        if (!sets.strictest || v->limit < sets.strictest->limit)
            sets.strictest = v;
        if (!sets.loosest || v->limit > sets.loosest->limit)
            sets.loosest = v;
    }
    return sets;
}

const struct ht_limit_verdict *
judged_difference(const struct ht_angles *angles, enum ht_verdict verdict)
{
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        if (v->joint == 0 && strcmp(v->unit, "rad") == 0 &&
            v->verdict == verdict)
            return v;
    }
    return NULL;
}

bool any_shake(const struct ht_angles *angles, enum ht_verdict verdict)
{
    for (size_t i = 0; i < angles->verdicts; i++)
        if (strcmp(angles->verdict[i].unit, "rad/s2") == 0 &&
            judged_shake(angles, angles->verdict[i].what).verdict == verdict)
            return true;
    return false;
}

static bool comes_before(const struct ht_order_result *a,
                         const struct ht_order_result *b)
{
    if (a->state != b->state)
        return a->state > b->state;
    return a->level.value > b->level.value;
}

size_t orders_by_strength(const struct ht_orders *orders,
                          const struct ht_order_result **sorted, size_t room)
{
    size_t count = 0;
    for (size_t i = 0; i < orders->results; i++) {
        const struct ht_order_result *r = &orders->result[i];
        if (r->channel != -1 || count == room)
            continue;
        size_t at = count++;
        for (; at > 0 && comes_before(r, sorted[at - 1]); at--)
            sorted[at] = sorted[at - 1];
        sorted[at] = r;
    }
    return count;
}

const struct ht_order_result *strongest_order(const struct ht_orders *orders)
{
    const struct ht_order_result *best = NULL;
    for (size_t i = 0; i < orders->results; i++) {
        const struct ht_order_result *r = &orders->result[i];
        if (r->channel == -1 && r->state == HT_SEEN &&
            (!best || r->level.value > best->level.value))
            best = r;
    }
    return best;
}

enum ht_family order_family(const struct ht_workup *workup,
                            const struct ht_order_result *result)
{
    size_t part = result->order.part;
    return workup->has_rotation && part < workup->rotation.parts
               ? workup->rotation.part[part].family
               : HT_FAMILY_OTHER;
}

bool felt_range(const struct ht_workup *workup, double *from, double *to)
{
    const struct ht_numbers *speeds = &workup->sheet->complaint.speed_m_s;
    if (!workup->sheet->complaint.given || speeds->count == 0)
        return false;
    *from = *to = speeds->value[0];
    for (size_t i = 1; i < speeds->count; i++) {
        *from = fmin(*from, speeds->value[i]);
        *to = fmax(*to, speeds->value[i]);
    }
    return isfinite(*from) && isfinite(*to);
}

bool driven_range(const struct ht_workup *workup, double *from, double *to)
{
    const struct ht_order_map *map = &workup->orders.map;
    *from = INFINITY;
    *to = -INFINITY;
    for (size_t y = 0; workup->has_orders && y < map->up; y++) {
        double height = (map->to_m_s - map->from_m_s) / (double)map->up;
        bool driven = false;
        for (size_t x = 0; x < map->across; x++)
            driven = driven || isfinite(map->level[y * map->across + x]);
        if (driven) {
            *from = fmin(*from, map->from_m_s + height * (double)y);
            *to = fmax(*to, map->from_m_s + height * (double)(y + 1));
        }
    }
    return *to > *from;
}

double member_slope_rad(const struct ht_workup *workup, size_t set,
                        size_t member)
{
    const struct ht_sheet *sheet = workup->sheet;
    if (set >= sheet->angles_count || member >= sheet->angles[set].slope_count)
        return NAN;
    const struct ht_sheet_slope *slope = &sheet->angles[set].slopes[member];
    double value = 0;
    if (!isnan(slope->flip_a_rad) && !isnan(slope->flip_b_rad)) {
        value = (slope->flip_a_rad - slope->flip_b_rad) / 2;
    } else {
        for (size_t i = 0; i < slope->readings_rad.count; i++)
            value += slope->readings_rad.value[i];
        value /= (double)slope->readings_rad.count;
    }
    return slope->is_face ? HT_PI / 2 - value : value;
}

const char *member_name(const struct ht_workup *workup, size_t driveline,
                        size_t member)
{
    static const char *const numbered[HT_MEMBERS_MAX] = {
        "member 1", "member 2", "member 3", "member 4", "member 5",
        "member 6", "member 7", "member 8", "member 9"
    };
    const struct ht_sheet *sheet = workup->sheet;
    const struct ht_words *names =
        driveline < sheet->driveline_count
            ? &sheet->drivelines[driveline].members
            : NULL;
    return names && member < names->count && names->text[member]
               ? names->text[member]
               : numbered[member];
}

const struct ht_ranked_cause *first_cause(const struct ht_workup *workup)
{
    return workup->has_ranking && workup->ranking.causes > 0
               ? &workup->ranking.cause[0]
               : NULL;
}

bool is_nothing_abnormal(const struct ht_ranked_cause *cause)
{
    return strcmp(cause->id, "nothing-abnormal") == 0;
}
