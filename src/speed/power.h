/* power.h - |DFT|^2 of real input, planned once. */
#ifndef HALFTURN_SPEED_POWER_H
#define HALFTURN_SPEED_POWER_H

#include <stdbool.h>
#include <stddef.h>

struct ht_power {
    size_t points;   /* a power of two */
    double *twiddle, *data;
};
bool ht_power_create(struct ht_power *power, size_t points);
void ht_power_free(struct ht_power *power);
/* power_out[0..points/2]. */
void ht_power_run(const struct ht_power *power, const double *input,
                  double *power_out);

#endif
