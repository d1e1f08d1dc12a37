#include "steps.h"

#include <math.h>

static struct ht_sources *add_step(struct ht_steps *steps, double dof)
{
    steps->dof[steps->count] = dof;
    steps->step[steps->count] = (struct ht_sources){ 0 };
    return &steps->step[steps->count++];
}

void ht_steps_fill(struct ht_steps *steps, const struct ht_model *model)
{
    steps->count = 0;
    struct ht_sources *zero =
        model->zero_u_rad > 0 ? add_step(steps, INFINITY) : NULL;
    for (size_t i = 0; i < model->readings; i++) {
        const struct ht_reading *reading = &model->reading[i];
        double u = ht_reading_u_rad(reading);
        if (zero)
            zero->value_rad[i] = reading->zero * model->zero_u_rad;
        if (u > 0)
            add_step(steps, ht_reading_dof(reading))->value_rad[i] = u;
    }
    for (size_t m = 0; m <= model->joints && model->heading_u_rad > 0; m++)
        if (!model->by_offsets || m == 0 || m == model->joints)
            add_step(steps, INFINITY)->heading_rad[m] = model->heading_u_rad;
    for (size_t j = 0; j < model->joints && model->by_offsets; j++)
        add_step(steps, INFINITY)->offset_m[j] = model->offset_u_m;
}

static void take(struct ht_sources *sources, const struct ht_sources *step,
                 double times)
{
    for (size_t i = 0; i < HT_MEMBERS_MAX; i++) {
        sources->value_rad[i] += times * step->value_rad[i];
        sources->heading_rad[i] += times * step->heading_rad[i];
    }
    for (size_t j = 0; j < HT_JOINTS_MAX; j++)
        sources->offset_m[j] += times * step->offset_m[j];
}

struct ht_chain ht_steps_chain(const struct ht_model *model,
                               const struct ht_sources *const *step,
                               const double *times, size_t count)
{
    struct ht_sources sources = model->read;
    struct ht_chain chain = model->chain;
    for (size_t i = 0; i < count; i++)
        take(&sources, step[i], times[i]);
    ht_model_place(model, &sources, &chain);
    return chain;
}
