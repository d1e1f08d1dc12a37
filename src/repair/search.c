/* The whole shelf, combination by combination. */
#include "search.h"

#include "centres.h"
#include "texts.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "common/statistics.h"

#include <math.h>
#include <string.h>

/* Each round is shared out; between two rounds the caller is asked. */
enum { SHARES = 16, ROUNDS = 24 };

/* Log of the normal law's share below z, far out: the first two terms of the
 * asymptotic series, Abramowitz and Stegun 26.2.12. */
static double far_log_share(double z)
{
    return -z * z / 2 + log((1 - 1 / (z * z)) / -z) - 0.91893853320467274;
}

/* Shares are multiplied as long as they are no small numbers: one logarithm
 * for all of them. */
double ht_search_merit(const struct search_aim *aim,
                       const struct ht_chain *line)
{
    double value[HT_RULES_MAX], merit = 0, share = 1;
    ht_rules_values_closed_form(aim->rules, line, value);
    for (size_t i = 0; i < aim->rules->rules; i++) {
        const struct ht_rule *rule = &aim->rules->rule[i];
        double room = rule->held_to - value[i];
        double z = (rule->is_minimum ? -room : room) / aim->u[i];
        if (z < -5)
            merit += far_log_share(z);
        else if (z < 7)
            share *= ht_normal_cdf(z);
    }
    return merit + log(share);
}

double ht_search_likeness(const struct search_readings *readings,
                          const struct ht_chain *line)
{
    double sum = 0;
    for (size_t m = 0; m < line->members; m++) {
        double off = line->slope_rad[m] - readings->slope_rad[m];
        sum += off * off / (readings->u_rad[m] * readings->u_rad[m]);
    }
    return -sum / 2;
}

/* ---- the best ------------------------------------------------------------ */

static bool comes_before(const struct search_found *a,
                         const struct search_found *b)
{
    return a->merit > b->merit ||
           (a->merit == b->merit && a->combination < b->combination);
}

static void keep(struct search_best *best, struct search_found found)
{
    size_t at = best->count;
    while (at > 0 && comes_before(&found, &best->found[at - 1]))
        at--;
    if (at == BEST_KEPT)
        return;
    size_t last = best->count < BEST_KEPT ? best->count++ : BEST_KEPT - 1;
    memmove(&best->found[at + 1], &best->found[at],
            (last - at) * sizeof best->found[0]);
    best->found[at] = found;
}

/* Whether nothing of at most this merit, and of a higher number than those
 * that are kept, can be one of them. 1e-9: far above what adding up in another
 * order changes. No merit is above 0. */
static bool is_full(const struct search_best *best, double most)
{
    if (best->count < BEST_KEPT)
        return false;
    double least = best->found[BEST_KEPT - 1].merit;
    return least >= 0 || most < least - 1e-9;
}

static void keep_all(struct search_best *best, const struct search_best *more)
{
    for (size_t k = 0; k < more->count; k++)
        keep(best, more->found[k]);
}

/* ---- the search ---------------------------------------------------------- */

struct job {
    const struct shelf *shelf;
    const struct ht_centres_start *start;
    const struct search_aim *aim;
    const struct search_readings *readings;
    struct search_aim part;     /* of the aim, what no wedge changes */
    struct ht_rules rules;      /* of that part */
    size_t wedges, rest;        /* ways to put one in; to do all else */
    size_t round;
    struct search_best (*share)[MASKS]; /* of one share in this round */
    struct search_best *best;           /* of all of them in those before */
};

static bool is_out(const struct job *job, const struct search_best *best,
                   unsigned mask, double most)
{
    return is_full(&best[mask], most) || is_full(&job->best[mask], most);
}

/* A wedge moves its axle and the shaft at it, and so the last two joints. */
static bool moves_with_wedge(const struct ht_centres_start *start, size_t joint)
{
    const struct ht_joint_centres *centres = start->centres;
    return centres->axle_in_front ? joint < 2
                                  : joint + 3 >= centres->line.members;
}

static bool is_of_part(const struct job *job, const struct ht_rule *rule)
{
    switch (rule->about) {
    case HT_RULE_LEFTOVER:
    case HT_RULE_AXLE:
    case HT_RULE_SECTION:
        return false;
    case HT_RULE_PAIR:
        return !moves_with_wedge(job->start, rule->first) &&
               !moves_with_wedge(job->start, rule->second);
    default:
        return !moves_with_wedge(job->start, rule->first);
    }
}

static void take_part(struct job *job)
{
    const struct search_aim *aim = job->aim;
    job->part.rules = &job->rules;
    for (size_t r = 0; aim && r < aim->rules->rules; r++)
        if (is_of_part(job, &aim->rules->rule[r])) {
            job->part.u[job->rules.rules] = aim->u[r];
            job->rules.rule[job->rules.rules++] = aim->rules->rule[r];
        }
}

static double merit_of(const struct job *job, const struct ht_chain *line)
{
    return job->readings ? ht_search_likeness(job->readings, line)
                         : ht_search_merit(job->aim, line);
}

static void try_one(const struct job *job, struct search_best *best,
                    size_t combination)
{
    struct ht_shim_work work[HT_SHIM_PLACES_MAX];
    struct ht_chain line;
    unsigned mask;
    size_t works = ht_shelf_works(job->shelf, combination, work, &mask);
    ht_centres_move_from(&line, job->start, work, works);
    keep(&best[mask],
         (struct search_found){ combination, merit_of(job, &line) });
}

/* All wedges, and none, with one way to do the rest; not those that are ruled
 * out already by what no wedge changes. */
static void try_wedges(const struct job *job, struct search_best *best,
                       size_t rest)
{
    struct ht_shim_work work[HT_SHIM_PLACES_MAX];
    struct ht_chain line;
    unsigned mask;
    size_t first = rest * job->wedges;
    size_t works = ht_shelf_works(job->shelf, first, work, &mask);
    ht_centres_move_from(&line, job->start, work, works);
    double most = job->readings ? 0 : ht_search_merit(&job->part, &line);
    if (!is_out(job, best, mask, most))
        keep(&best[mask],
             (struct search_found){ first, merit_of(job, &line) });
    for (size_t w = 1; w < job->wedges && !is_out(job, best, mask | 1, most);
         w++)
        try_one(job, best, first + w);
}

static void search_share(void *context, size_t index)
{
    const struct job *job = context;
    memset(job->share[index], 0, sizeof job->share[index]);
    size_t at = job->round * SHARES + index, all = SHARES * ROUNDS;
    size_t end = job->rest * (at + 1) / all;
    for (size_t rest = job->rest * at / all; rest < end; rest++)
        if (job->wedges > 1)
            try_wedges(job, job->share[index], rest);
        else
            try_one(job, job->share[index], rest);
}

static enum ht_status search_rounds(struct job *job,
                                    const struct search_progress *progress,
                                    struct ht_error *err)
{
    for (job->round = 0; job->round < ROUNDS; job->round++) {
        if (progress && !progress->go_on(progress->context,
                                         (double)job->round / ROUNDS))
            return ht_fail(err, REPAIR_STOPPED);
        ht_parallel(SHARES, search_share, job);
        for (size_t s = 0; s < SHARES; s++)
            for (size_t m = 0; m < MASKS; m++)
                keep_all(&job->best[m], &job->share[s][m]);
    }
    return HT_OK;
}

enum ht_status ht_search(struct search_best best[MASKS],
                         const struct search_request *request,
                         struct ht_error *err)
{
    struct ht_centres_start start;
    const struct shelf *shelf = request->shelf;
    bool wedges = shelf->places > 0 && shelf->place[0].place == HT_SHIM_AXLE;
    struct job job = { .shelf = shelf,
                       .start = &start,
                       .aim = request->aim,
                       .readings = request->readings,
                       .wedges = wedges ? shelf->place[0].choices : 1,
                       .best = best,
                       .share = ht_allocate(SHARES, sizeof *job.share) };
    memset(best, 0, MASKS * sizeof *best);
    if (!job.share)
        return ht_fail(err, REPAIR_NO_MEMORY);
    job.rest = shelf->combinations / job.wedges;
    ht_centres_begin(&start, request->centres);
    take_part(&job);
    enum ht_status status = search_rounds(&job, request->progress, err);
    ht_release(job.share);
    return status;
}
