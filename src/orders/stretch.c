#include "stretch.h"

#include <math.h>

#include "common/memory.h"
#include "common/statistics.h"

/* Below this a car does 15 km/h: lines lie in the body's own motion. */
static const double slowest_turns_per_s = 2;

double ht_frame_time(const struct ht_recording *recording, double frame)
{
    double start_s = isfinite(recording->start_s) ? recording->start_s : 0;
    return start_s + frame / recording->rate_hz;
}

struct ht_angle ht_angle_at(const struct ht_turns *t, double time_s)
{
    double at = (time_s - t->start_s) * t->rate_hz;
    size_t last = t->points - 2;
    size_t i = at <= 0 ? 0 : at >= (double)last ? last : (size_t)at;
    double u = at - (double)i;
    double a = t->turns[i], b = t->turns[i + 1];
    double slope_a = i > 0 ? 0.5 * (b - t->turns[i - 1]) : b - a;
    double slope_b = i + 2 < t->points ? 0.5 * (t->turns[i + 2] - a) : b - a;
    double c2 = 3 * (b - a) - 2 * slope_a - slope_b;
    double c3 = slope_a + slope_b - 2 * (b - a);
    return (struct ht_angle){
        a + u * (slope_a + u * (c2 + u * c3)),
        (slope_a + u * (2 * c2 + u * 3 * c3)) * t->rate_hz,
    };
}

static double turns_per_s(const struct ht_turns *t, size_t i)
{
    size_t a = i > 0 ? i - 1 : 0, b = i + 1 < t->points ? i + 1 : i;
    return (t->turns[b] - t->turns[a]) * t->rate_hz / (double)(b - a);
}

/* Gaps are counted from frame 0. */
static bool in_gap(const struct ht_recording *r, double time_s)
{
    time_s -= ht_frame_time(r, 0);
    for (size_t i = 0; i < r->gaps; i++)
        if (time_s >= r->gap[i].from_s && time_s <= r->gap[i].to_s)
            return true;
    return false;
}

static bool good(const struct ht_turns *t, const struct ht_recording *r,
                 size_t i)
{
    double time_s = t->start_s + (double)i / t->rate_hz;
    return t->usable[i] && turns_per_s(t, i) >= slowest_turns_per_s &&
           time_s >= ht_frame_time(r, 0) &&
           time_s <= ht_frame_time(r, (double)r->frames - 1) &&
           !in_gap(r, time_s);
}

/* A gap shorter than the grid's step could hide between two points: ends the
 * stretch there too. */
static bool gap_before(const struct ht_turns *t, const struct ht_recording *r,
                       size_t i)
{
    double to_s = t->start_s + (double)i / t->rate_hz - ht_frame_time(r, 0);
    double from_s = to_s - 1 / t->rate_hz;
    for (size_t g = 0; g < r->gaps; g++)
        if (r->gap[g].from_s < to_s && r->gap[g].to_s > from_s)
            return true;
    return false;
}

static bool add(struct ht_stretches *found, size_t *room,
                const struct ht_turns *t, size_t from, size_t to)
{
    double gained = t->turns[to] - t->turns[from];
    if (to <= from || gained < 1)
        return true;
    if (!ht_grow((void **)&found->stretch, room, found->count + 1,
                 sizeof *found->stretch))
        return false;
    found->stretch[found->count++] = (struct ht_stretch){
        t->start_s + (double)from / t->rate_hz,
        t->start_s + (double)to / t->rate_hz, gained
    };
    found->turns += gained;
    found->longest_turns = fmax(found->longest_turns, gained);
    return true;
}

static bool survey(struct ht_stretches *found, const struct ht_turns *t,
                   const struct ht_recording *r)
{
    double *speed = ht_allocate(2 * t->points, sizeof *speed);
    if (!speed)
        return false;
    double *change = speed + t->points;
    size_t n = 0, changes = 0;
    found->slowest_m_s = INFINITY;
    found->fastest_m_s = 0;
    for (size_t i = 1; i < t->points; i++) {
        if (!good(t, r, i) || !good(t, r, i - 1))
            continue;
        speed[n++] = t->speed_m_s[i];
        change[changes++] = fabs(t->speed_m_s[i] - t->speed_m_s[i - 1]) /
                            fmax(t->turns[i] - t->turns[i - 1], 1e-9);
        found->slowest_m_s = fmin(found->slowest_m_s, t->speed_m_s[i]);
        found->fastest_m_s = fmax(found->fastest_m_s, t->speed_m_s[i]);
    }
    if (n == 0)
        found->slowest_m_s = 0;
    found->usual_speed_m_s = ht_median(speed, n);
    found->speed_change = ht_median(change, changes);
    ht_release(speed);
    return true;
}

bool ht_stretches_find(struct ht_stretches *found,
                       const struct ht_recording *r, const struct ht_turns *t)
{
    *found = (struct ht_stretches){ 0 };
    size_t room = 0, from = 0;
    bool inside = false, fine = true;
    for (size_t i = 0; i < t->points && fine && t->points > 3; i++) {
        bool now = good(t, r, i);
        if (inside && (!now || gap_before(t, r, i))) {
            fine = add(found, &room, t, from, i - 1);
            inside = false;
        }
        if (now && !inside) {
            from = i;
            inside = true;
        }
    }
    if (fine && inside)
        fine = add(found, &room, t, from, t->points - 1);
    fine = fine && (t->points < 4 || survey(found, t, r));
    if (!fine)
        ht_stretches_free(found);
    return fine;
}

void ht_stretches_free(struct ht_stretches *found)
{
    ht_release(found->stretch);
    *found = (struct ht_stretches){ 0 };
}
