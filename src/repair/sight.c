#include "sight.h"

#include "texts.h"

#include "common/memory.h"
#include "common/statistics.h"

#include <math.h>
#include <string.h>

static void see(struct sight *sight, const struct ht_chain *line, size_t member,
                double weight)
{
    double slope = line->slope_rad[member];
    sight->mean_rad += weight * slope;
    sight->variance += weight * slope * slope;
}

static void end_sight(struct sight *sight)
{
    sight->variance -= sight->mean_rad * sight->mean_rad;
    sight->variance = fmax(sight->variance, 0);
}

void ht_sight_predict(struct sight *sight, const struct possible *possible,
                      const struct ht_shim_work *work, size_t works)
{
    size_t members = possible->centres->line.members;
    memset(sight, 0, members * sizeof *sight);
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++) {
        struct ht_chain line;
        ht_possible_line(&line, possible, i, work, works);
        for (size_t m = 0; m < members; m++)
            see(&sight[m], &line, m, 1.0 / POSSIBLE_DRAWS);
    }
    for (size_t m = 0; m < members; m++)
        end_sight(&sight[m]);
}

enum ht_status ht_sight_read(struct sight *sight,
                             const struct ht_driveline *driveline,
                             struct ht_error *err)
{
    struct ht_chain *line = ht_allocate(POSSIBLE_DRAWS, sizeof *line);
    memset(sight, 0, driveline->members * sizeof *sight);
    if (!line)
        return ht_fail(err, REPAIR_NO_MEMORY);
    enum ht_status status = ht_chain_draw(line, POSSIBLE_DRAWS, driveline, err);
    for (size_t i = 0; status == HT_OK && i < POSSIBLE_DRAWS; i++)
        for (size_t m = 0; m < driveline->members; m++)
            see(&sight[m], &line[i], m, 1.0 / POSSIBLE_DRAWS);
    for (size_t m = 0; m < driveline->members; m++)
        end_sight(&sight[m]);
    ht_release(line);
    return status;
}

bool ht_sight_fits(struct ht_shim_reading *reading,
                   const struct sight *expected, const struct sight *seen,
                   size_t members)
{
    bool all = true;
    for (size_t m = 0; m < members; m++) {
        struct ht_shim_reading *r = &reading[m];
        r->predicted_rad = expected[m].mean_rad;
        r->measured_rad = seen[m].mean_rad;
        r->u_rad = sqrt(expected[m].variance + seen[m].variance);
        r->as_predicted = fabs(r->measured_rad - r->predicted_rad) <=
                          ht_normal_quantile(0.975) * r->u_rad;
        all = all && r->as_predicted;
    }
    return all;
}
