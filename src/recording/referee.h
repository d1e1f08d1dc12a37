/* referee.h - how clearly a stretch of samples shows one narrow line: the
 * referee between two ways to read the stamps of a table.
 */
#ifndef HALFTURN_RECORDING_REFEREE_H
#define HALFTURN_RECORDING_REFEREE_H

#include <stdbool.h>
#include <stddef.h>

struct referee {
    size_t length;   /* samples of a stretch; 0: too few to judge */
    struct ht_fft_f *fft;
    double *power;
};

/* For stretches out of n samples. `like`: another one for as many, freed
 * after this one; or NULL. False: no memory. Free it in any case. */
bool ht_referee_create(struct referee *referee, size_t n,
                       const struct referee *like);
void ht_referee_free(struct referee *referee);

/* Height of the strongest narrow line over its surroundings, in dB, of
 * `length` samples; 0 when there are too few. */
double ht_referee_height(struct referee *referee, const float *samples);

#endif
