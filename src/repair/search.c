/* The whole shelf, combination by combination. */
#include "search.h"

#include "centres.h"
#include "texts.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "common/statistics.h"

#include <math.h>
#include <string.h>

enum { SHARES = 16 };

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

static void keep(struct search_best *best, struct search_found found)
{
    size_t at = best->count;
    while (at > 0 && best->found[at - 1].merit < found.merit)
        at--;
    if (at == BEST_KEPT)
        return;
    size_t last = best->count < BEST_KEPT ? best->count++ : BEST_KEPT - 1;
    memmove(&best->found[at + 1], &best->found[at],
            (last - at) * sizeof best->found[0]);
    best->found[at] = found;
}

struct job {
    const struct shelf *shelf;
    const struct ht_joint_centres *centres;
    const struct search_aim *aim;
    const struct search_readings *readings;
    struct search_best (*share)[MASKS];
};

static void search_share(void *context, size_t index)
{
    const struct job *job = context;
    struct ht_centres_start start;
    ht_centres_begin(&start, job->centres);
    size_t all = job->shelf->combinations;
    size_t first = all * index / SHARES, end = all * (index + 1) / SHARES;
    for (size_t i = first; i < end; i++) {
        struct ht_shim_work work[HT_SHIM_PLACES_MAX];
        struct ht_chain line;
        unsigned mask;
        size_t works = ht_shelf_works(job->shelf, i, work, &mask);
        ht_centres_move_from(&line, &start, work, works);
        double merit = job->readings
                           ? ht_search_likeness(job->readings, &line)
                           : ht_search_merit(job->aim, &line);
        keep(&job->share[index][mask], (struct search_found){ i, merit });
    }
}

enum ht_status ht_search(struct search_best best[MASKS],
                         const struct shelf *shelf,
                         const struct ht_joint_centres *centres,
                         const struct search_aim *aim,
                         const struct search_readings *readings,
                         struct ht_error *err)
{
    struct job job = { shelf, centres, aim, readings,
                       ht_allocate(SHARES, sizeof *job.share) };
    memset(best, 0, MASKS * sizeof *best);
    if (!job.share)
        return ht_fail(err, REPAIR_NO_MEMORY);
    ht_parallel(SHARES, search_share, &job);
    for (size_t s = 0; s < SHARES; s++)
        for (size_t m = 0; m < MASKS; m++)
            for (size_t k = 0; k < job.share[s][m].count; k++)
                keep(&best[m], job.share[s][m].found[k]);
    ht_release(job.share);
    return HT_OK;
}
