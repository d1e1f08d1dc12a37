/* causes.c - what each cause puts into a drive. Which order and how it grows:
 * docs/practice.md. */
#include "halfturn/practice.h"

#include "texts.h"

#include <math.h>
#include <string.h>

enum carrier { ON_WHEEL, ON_SHAFT, ON_ENGINE };

static const struct row {
    const char *cause;
    enum carrier carrier;
    double multiple, share, power, pull_share;
} rows[] = {
    { "angle-mismatch", ON_SHAFT, 2, 1, 2, 0 },
    { "shaft-unbalance", ON_SHAFT, 1, 1, 2, 0 },
    { "joint-couple", ON_SHAFT, 2, 1, 0, 0.8 },
    { "wheel-unbalance", ON_WHEEL, 1, 1, 2, 0 },
    { "tyre-uniformity", ON_WHEEL, 1, 1, 0, 0 },
    { "tyre-uniformity", ON_WHEEL, 2, 0.6, 0, 0 },
    { "tyre-uniformity", ON_WHEEL, 3, 0.3, 0, 0 },
    { "half-shaft-joint", ON_WHEEL, 3, 1, 0, 0.8 },
    { "engine-misfire", ON_ENGINE, 0.5, 1, 0, 0.4 },
    { "engine-misfire", ON_ENGINE, 1, 0.3, 0, 0.4 },
    { "nothing-abnormal", ON_WHEEL, 1, 0, 0, 0 },
};

static enum ht_status add_row(struct ht_practice_request *request,
                              const struct row *row, double turns,
                              double severity_m_s2, struct ht_error *err)
{
    if (!(turns > 0))
        return row->carrier == ON_ENGINE
                   ? ht_fail(err, PRACTICE_NO_ENGINE, row->cause)
                   : ht_fail(err, PRACTICE_NO_SHAFT, row->cause);
    if (request->forces == HT_PRACTICE_FORCES_MAX)
        return ht_fail(err, PRACTICE_TOO_MANY_FORCES, HT_PRACTICE_FORCES_MAX,
                       row->cause);
    request->force[request->forces++] =
        (struct ht_practice_force){ .turns = turns,
                                    .multiple = row->multiple,
                                    .level_m_s2 = severity_m_s2 * row->share,
                                    .power = row->power,
                                    .pull_share = row->pull_share,
                                    .along = { 0.3, 0.2, 1 } };
    return HT_OK;
}

enum ht_status ht_practice_add_cause(struct ht_practice_request *request,
                                     const char *cause, double severity_m_s2,
                                     double shaft_turns, double engine_turns,
                                     struct ht_error *err)
{
    const double turns[] = { 1, shaft_turns, engine_turns };
    enum ht_status status = HT_OK;
    bool known = false;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(rows[i].cause, cause) != 0)
            continue;
        known = true;
        if (rows[i].share > 0 && status == HT_OK)
            status = add_row(request, &rows[i], turns[rows[i].carrier],
                             severity_m_s2, err);
    }
    if (!known)
        return ht_fail(err, PRACTICE_UNKNOWN_CAUSE, cause);
    return status;
}
