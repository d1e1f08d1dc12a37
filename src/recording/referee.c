#include "referee.h"

#include "common/memory.h"
#include "common/statistics.h"
#include "signal/fft.h"

#include <math.h>
#include <string.h>

/* At 400 Hz 32 768 samples are 82 s: longer, and the lines of a drive spread
 * over their surroundings. */
enum { LEAST = 256, MOST = 32768 };
/* Surroundings: AROUND bins on each side, the nearest BESIDE left out. */
enum { AROUND = 20, BESIDE = 3 };

bool ht_referee_create(struct referee *referee, size_t n,
                       const struct referee *like)
{
    size_t length = 1;
    *referee = (struct referee){ 0 };
    while (length * 2 <= n && length < MOST)
        length *= 2;
    if (length < LEAST)
        return true;
    referee->length = length;
    referee->fft = like ? ht_fft_f_twin(like->fft) : ht_fft_f_create(length);
    referee->power = ht_allocate(length / 2, sizeof *referee->power);
    return referee->fft && referee->power;
}

void ht_referee_free(struct referee *referee)
{
    ht_fft_f_free(referee->fft);
    ht_release(referee->power);
    *referee = (struct referee){ 0 };
}

/* Hann's window takes half of a line and a quarter of each neighbour off it
 * (Harris 1978): done on the spectrum, no window is computed. */
static void find_power(struct referee *referee, const float *samples)
{
    memcpy(ht_fft_f_input(referee->fft), samples,
           referee->length * sizeof *samples);
    const float *x = (const float *)ht_fft_f_run(referee->fft);
    referee->power[0] = 0; /* not looked at */
    for (size_t k = 1; k < referee->length / 2; k++) {
        float re = x[2 * k] - (x[2 * k - 2] + x[2 * k + 2]) / 2;
        float im = x[2 * k + 1] - (x[2 * k - 1] + x[2 * k + 3]) / 2;
        referee->power[k] = (double)((re * re + im * im) / 4);
    }
}

/* Middle of the surroundings, of an even count the higher. */
static double surroundings(const double *power, size_t k, size_t bins)
{
    double near[2 * AROUND];
    size_t count = 0;
    for (size_t d = BESIDE; d < BESIDE + AROUND; d++) {
        if (k >= d + 1)
            near[count++] = power[k - d];
        if (k + d < bins)
            near[count++] = power[k + d];
    }
    return ht_median(near, count);
}

/* Whether more than half of them can lie below `limit`; most bins are no line
 * and end here. `low` and `high` as far as the spectrum reaches. */
static bool may_stand_out(const double *power, size_t k, size_t bins,
                          double limit)
{
    size_t below = 0;
    if (k < BESIDE + AROUND || k + BESIDE + AROUND > bins)
        return true;
    for (size_t d = BESIDE; d < BESIDE + AROUND; d++)
        below += (size_t)(power[k - d] < limit) +
                 (size_t)(power[k + d] < limit);
    return below > AROUND;
}

double ht_referee_height(struct referee *referee, const float *samples)
{
    size_t bins = referee->length / 2;
    double best = 1;
    if (referee->length == 0)
        return 0;
    find_power(referee, samples);
    const double *power = referee->power;
    for (size_t k = referee->length / 50; k < referee->length * 45 / 100;
         k++) {
        if (!may_stand_out(power, k, bins, power[k] / best))
            continue;
        double floor = surroundings(power, k, bins);
        if (floor > 0 && power[k] > best * floor)
            best = power[k] / floor;
    }
    return 10 * log10(best);
}
