#include "guess.h"

#include "texts.h"

#include "common/memory.h"

#include <math.h>
#include <string.h>

struct guesser {
    struct shelf shelf;
    struct ht_shims said;        /* by the shelf; not kept */
    struct search_readings readings;
    struct search_best best[MASKS];
};

/* The search moves the line as it was read; the draws of it have a mean of
 * their own. */
static void take_readings(struct guesser *guesser,
                          const struct possible *possible,
                          const struct ht_shims_after *after,
                          const struct sight *expected,
                          const struct sight *seen)
{
    const struct ht_chain *line = &possible->centres->line;
    for (size_t m = 0; m < after->members; m++) {
        guesser->readings.slope_rad[m] = line->slope_rad[m] +
                                         seen[m].mean_rad -
                                         expected[m].mean_rad;
        guesser->readings.u_rad[m] = after->reading[m].u_rad + 1e-9;
    }
}

static unsigned spline_mask(const struct shelf *shelf)
{
    unsigned mask = 0;
    for (size_t i = 0; i < shelf->places; i++)
        if (shelf->place[i].place == HT_SHIM_SPLINE) /* moves no slope */
            mask |= 1u << i;
    return mask;
}

/* Each further place has to make the readings e times likelier: Akaike, IEEE
 * Trans. Autom. Control 19 (1974), from memory. */
static void take_best(struct ht_shims_after *after,
                      const struct guesser *guesser,
                      const struct possible *possible,
                      const struct sight *seen)
{
    double most = -INFINITY;
    for (unsigned mask = 1; mask < MASKS; mask++) {
        const struct search_best *best = &guesser->best[mask];
        struct ht_shims_after tried = *after;
        struct sight expected[HT_MEMBERS_MAX];
        unsigned places;
        if (best->count == 0 || mask & spline_mask(&guesser->shelf))
            continue;
        tried.works = ht_shelf_works(&guesser->shelf,
                                     best->found[0].combination, tried.work,
                                     &places);
        double merit = best->found[0].merit - (double)tried.works;
        if (merit <= most)
            continue;
        ht_sight_predict(expected, possible, tried.work, tried.works);
        if (!ht_sight_fits(tried.reading, expected, seen, tried.members))
            continue;
        most = merit;
        tried.guessed = tried.all_as_predicted = true;
        *after = tried;
    }
}

static enum ht_status guess(struct guesser *guesser,
                            struct ht_shims_after *after,
                            const struct ht_shims_input *input,
                            const struct possible *possible,
                            const struct sight *seen, struct ht_error *err)
{
    enum ht_status status = ht_shelf_create(&guesser->shelf, &guesser->said,
                                            input, possible->centres, err);
    if (status != HT_OK)
        return status;
    struct search_progress progress = { input->progress, input->context };
    struct search_request request = {
        .shelf = &guesser->shelf,
        .centres = possible->centres,
        .readings = &guesser->readings,
        .progress = input->progress ? &progress : NULL,
    };
    status = ht_search(guesser->best, &request, err);
    if (status == HT_OK)
        take_best(after, guesser, possible, seen);
    ht_shelf_free(&guesser->shelf);
    return status;
}

enum ht_status ht_guess(struct ht_shims_after *after,
                        const struct ht_shims_input *input,
                        const struct possible *possible,
                        const struct sight *expected, const struct sight *seen,
                        struct ht_error *err)
{
    if (input->sheet->shim_count == 0)
        return HT_OK;
    struct guesser *guesser = ht_allocate(1, sizeof *guesser);
    if (!guesser)
        return ht_fail(err, REPAIR_NO_MEMORY);
    take_readings(guesser, possible, after, expected, seen);
    enum ht_status status =
        guess(guesser, after, input, possible, seen, err);
    ht_release(guesser);
    return status;
}
