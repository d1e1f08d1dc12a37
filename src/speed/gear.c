#include "gear.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>
#include <string.h>

enum { GEARS_MAX = 16 };

/* Starting values: the engine's lines must beat both the floor and the next
 * gear by this much, and do so for most of the drive. */
static const double least_margin = 8, least_share = 0.7, stretch_s = 10;

unsigned ht_gear_said(const struct ht_rotation *rotation)
{
    if (rotation->gears == 1)
        return 1;
    for (size_t p = 0; p < rotation->parts; p++) {
        const struct ht_part *part = &rotation->part[p];
        if (strcmp(part->name, "engine") != 0 || !(part->turns > 0))
            continue;
        for (size_t g = 0; g < rotation->gears; g++)
            if (fabs(rotation->gear_turns[g] / part->turns - 1) < 1e-9)
                return (unsigned)g + 1;
    }
    return 0;
}

struct judge {
    const struct ht_frames *frames;
    struct ht_comb comb;
    struct ht_lines lines;
    double *speed, *part;
    double ratio;
};

/* Score on the path over what the same orders find a little beside it. */
static double over_floor(const struct judge *j, const double *speed)
{
    static const double beside[] = { 0.95, 0.965, 1.035, 1.05 };
    double usual = 0;
    for (size_t i = 0; i < 4; i++)
        usual += ht_comb_score(&j->comb, speed, j->ratio * beside[i], NULL) / 4;
    return ht_comb_score(&j->comb, speed, j->ratio, NULL) - usual;
}

static bool start_gear(struct judge *j, const struct ht_rotation *rotation,
                       const struct ht_speed_path *path, double lag_s,
                       unsigned gear)
{
    j->lines = ht_lines_expected(rotation, gear);
    size_t fixed = ht_lines_expected(rotation, 0).count;
    if (!ht_comb_create(&j->comb, j->frames, &j->lines, path, lag_s))
        return false;
    memset(j->comb.group, 0, j->frames->frames);
    j->comb.first_scored = fixed;
    j->comb.closeness = 0.04; /* skirts of a loud line */
    return true;
}

static double in_stretch(const struct judge *j, double from_s)
{
    for (size_t k = 0; k < j->frames->frames; k++) {
        double t = j->frames->time_s[k];
        j->part[k] = t >= from_s && t < from_s + stretch_s ? j->speed[k] : NAN;
    }
    return over_floor(j, j->part);
}

static size_t best_of(const double *score, size_t gears)
{
    size_t best = 0;
    for (size_t g = 1; g < gears; g++)
        if (score[g] > score[best])
            best = g;
    return best;
}

static void decide(struct ht_gear_find *found, const double *whole,
                   const size_t *won, size_t stretches, size_t gears)
{
    size_t best = best_of(whole, gears), second = best ? 0 : 1;
    for (size_t g = 0; g < gears; g++)
        if (g != best && whole[g] > whole[second])
            second = g;
    found->runner_up = (unsigned)second + 1;
    found->margin = whole[best] - fmax(whole[second], 0);
    found->share = stretches ? (double)won[best] / (double)stretches : 0;
    if (found->margin > least_margin && found->share >= least_share)
        found->gear = (unsigned)best + 1;
}

enum ht_status ht_gear_search(struct ht_gear_find *found,
                              const struct ht_frames *frames,
                              const struct ht_speed_path *path,
                              const struct ht_rotation *rotation,
                              const struct ht_fit *fit, struct ht_error *err)
{
    *found = (struct ht_gear_find){ 0 };
    size_t gears = rotation->gears < GEARS_MAX ? rotation->gears : GEARS_MAX;
    if (gears < 2 || frames->frames < 8)
        return HT_OK;
    struct judge j = { .frames = frames, .ratio = fit->turns_per_m };
    size_t n = frames->frames;
    size_t stretches =
        (size_t)((frames->time_s[n - 1] - frames->time_s[0]) / stretch_s) + 1;
    double whole[GEARS_MAX] = { 0 };
    size_t won[GEARS_MAX] = { 0 };
    j.speed = ht_allocate(2 * n + stretches * GEARS_MAX, sizeof(double));
    if (!j.speed)
        return ht_fail(err, SPEED_NO_MEMORY);
    j.part = j.speed + n;
    double *part_score = j.part + n;
    for (size_t k = 0; k < n; k++)
        j.speed[k] = ht_path_speed(path, frames->time_s[k] + fit->lag_s);
    bool fine = true;
    for (unsigned g = 0; g < gears && fine; g++) {
        fine = start_gear(&j, rotation, path, fit->lag_s, g + 1);
        if (!fine)
            break;
        whole[g] = over_floor(&j, j.speed);
        for (size_t s = 0; s < stretches; s++)
            part_score[s * gears + g] =
                in_stretch(&j, frames->time_s[0] + (double)s * stretch_s);
        ht_comb_free(&j.comb);
    }
    for (size_t s = 0; s < stretches && fine; s++)
        won[best_of(part_score + s * gears, gears)]++;
    if (fine)
        decide(found, whole, won, stretches, gears);
    ht_release(j.speed);
    return fine ? HT_OK
                : ht_fail(err, SPEED_NO_MEMORY);
}
