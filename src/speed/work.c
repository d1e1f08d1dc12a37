#include "work.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>

enum { TAPS_PER_FACTOR = 16 };

/* Hann-windowed sinc, -6 dB at 0.42 of the new rate, unit gain at 0. */
static void fill_filter(double *tap, size_t taps, size_t factor)
{
    double sum = 0, middle = 0.5 * (double)(taps - 1);
    for (size_t i = 0; i < taps; i++) {
        double t = (double)i - middle;
        double a = HT_PI * 2 * 0.42 * t / (double)factor;
        double sinc = fabs(a) < 1e-9 ? 1 : sin(a) / a;
        double w = 0.5 + 0.5 * cos(HT_PI * t / (middle + 1));
        tap[i] = w * sinc;
        sum += tap[i];
    }
    for (size_t i = 0; i < taps; i++)
        tap[i] /= sum;
}

static float filtered(const float *x, size_t frames, size_t centre,
                      const double *tap, size_t taps)
{
    double sum[8] = { 0 };
    size_t half = taps / 2;
    size_t from = centre < half ? half - centre : 0;
    size_t to = centre + half < frames ? taps : taps - (centre + half + 1 - frames);
    const float *base = x + centre;
    size_t i = from;
    for (; i + 8 <= to; i += 8)
        for (size_t k = 0; k < 8; k++)
            sum[k] += tap[i + k] * (double)base[(ptrdiff_t)(i + k)
                                                - (ptrdiff_t)half];
    for (; i < to; i++)
        sum[0] += tap[i] * (double)base[(ptrdiff_t)i - (ptrdiff_t)half];
    return (float)(((sum[0] + sum[1]) + (sum[2] + sum[3]))
                   + ((sum[4] + sum[5]) + (sum[6] + sum[7])));
}

static bool decimate(struct ht_work *work, const struct ht_recording *recording)
{
    size_t taps = TAPS_PER_FACTOR * work->factor + 1;
    double *tap = ht_allocate(taps, sizeof *tap);
    if (!tap)
        return false;
    fill_filter(tap, taps, work->factor);
    for (size_t c = 0; c < work->channels; c++) {
        const float *x = recording->channel[c].samples;
        for (size_t i = 0; i < work->frames; i++)
            work->channel[c][i] =
                work->factor == 1 ? x[i]
                                  : filtered(x, recording->frames,
                                             i * work->factor, tap, taps);
    }
    ht_release(tap);
    return true;
}

/* What the recording reader left of gravity. */
static void take_out_mean(const struct ht_work *work)
{
    for (size_t c = 0; c < work->channels; c++) {
        double sum = 0;
        for (size_t i = 0; i < work->frames; i++)
            sum += (double)work->channel[c][i];
        double mean = sum / (double)work->frames;
        for (size_t i = 0; i < work->frames; i++)
            work->channel[c][i] = (float)((double)work->channel[c][i] - mean);
    }
}

static void mark_gaps(struct ht_work *work, const struct ht_recording *recording)
{
    for (size_t g = 0; g < recording->gaps; g++) {
        double from = floor(recording->gap[g].from_s * work->rate_hz);
        double to = ceil(recording->gap[g].to_s * work->rate_hz);
        for (size_t i = from > 0 ? (size_t)from : 0;
             i < work->frames && (double)i <= to; i++)
            work->blind[i] = 1;
    }
}

enum ht_status ht_work_create(struct ht_work *work,
                              const struct ht_recording *recording,
                              double wanted_hz, struct ht_error *err)
{
    *work = (struct ht_work){ .factor = 1, .channels = recording->channels };
    if (recording->rate_hz > 2 * wanted_hz)
        work->factor = (size_t)(recording->rate_hz / wanted_hz);
    work->rate_hz = recording->rate_hz / (double)work->factor;
    work->frames = (recording->frames + work->factor - 1) / work->factor;
    size_t each = (work->frames * sizeof(float) + 15) & ~(size_t)15;
    size_t pointers = (work->channels * sizeof(float *) + 15) & ~(size_t)15;
    char *memory = ht_allocate(
        pointers + work->channels * each + work->frames, 1);
    work->memory = memory;
    if (!memory)
        return ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
    work->channel = (float **)(void *)memory;
    for (size_t c = 0; c < work->channels; c++)
        work->channel[c] = (float *)(void *)(memory + pointers + c * each);
    work->blind = (unsigned char *)memory + pointers + work->channels * each;
    if (!decimate(work, recording)) {
        ht_work_free(work);
        return ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
    }
    take_out_mean(work);
    mark_gaps(work, recording);
    return HT_OK;
}

void ht_work_free(struct ht_work *work)
{
    ht_release(work->memory);
    *work = (struct ht_work){ 0 };
}

double ht_work_length_s(const struct ht_work *work)
{
    return work->frames ? (double)(work->frames - 1) / work->rate_hz : 0;
}

double ht_work_sample(const float *x, size_t frames, double at)
{
    if (!(at >= 1 && at < (double)frames - 2))
        return 0;
    size_t i = (size_t)at;
    double f = at - (double)i;
    double a = (double)x[i - 1], b = (double)x[i], c = (double)x[i + 1],
           d = (double)x[i + 2];
    return b
           + 0.5 * f
                 * (c - a
                    + f * (2 * a - 5 * b + 4 * c - d
                           + f * (3 * (b - c) + d - a)));
}
