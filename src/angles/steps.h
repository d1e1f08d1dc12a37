/* steps.h - every source of error of a model as a step of one standard
 * uncertainty, for derivatives. */
#ifndef HALFTURN_ANGLES_STEPS_H
#define HALFTURN_ANGLES_STEPS_H

#include "model.h"

enum { HT_STEPS_MAX = 1 + 2 * HT_MEMBERS_MAX + HT_JOINTS_MAX };

struct ht_steps {
    size_t count;
    struct ht_sources step[HT_STEPS_MAX];
    double dof[HT_STEPS_MAX];
};

void ht_steps_fill(struct ht_steps *steps, const struct ht_model *model);

/* The chain with some steps taken, each so many times. */
struct ht_chain ht_steps_chain(const struct ht_model *model,
                               const struct ht_sources *const *step,
                               const double *times, size_t count);

#endif
