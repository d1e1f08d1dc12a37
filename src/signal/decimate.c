#include "decimate.h"

#include "common/constants.h"
#include "common/memory.h"
#include "fir.h"
#include "window.h"

#include <math.h>
#include <string.h>

/* 90 dB: 80 promised, the rest for the float coefficients. */
static const double ATTENUATION_DB = 90;

void ht_lowpass_design(double *h, size_t taps, double cutoff, double beta)
{
    double middle = ((double)taps - 1) / 2, sum = 0;
    for (size_t i = 0; i < taps; i++) {
        double x = (double)i - middle;
        double ideal = x == 0 ? 2 * cutoff
                              : sin(2 * HT_PI * cutoff * x) / (HT_PI * x);
        h[i] = ideal * ht_kaiser(middle > 0 ? x / (middle + 1) : 0, beta);
        sum += h[i];
    }
    for (size_t i = 0; i < taps; i++)
        h[i] /= sum;
}

struct stage {
    size_t factor, taps; /* taps odd; factor 1: not used */
    size_t padded;       /* taps and noughts: a multiple of 8 */
    float *h;
    float *held;         /* samples not yet all used, then any numbers */
    size_t held_room, held_count;
    size_t fed;          /* samples in, leading zeros not counted */
    size_t made;         /* samples out */
};

struct ht_decimator {
    struct stage stage[2];
    float *between;      /* output of the first stage */
    size_t between_room;
};

/* Kaiser 1974: taps = (A - 7.95) / (14.36 transition) + 1,
 * beta = 0.1102 (A - 8.7) for A > 50 dB. */
static bool stage_create(struct stage *stage, size_t factor, double pass,
                         double stop)
{
    stage->factor = factor;
    if (factor == 1)
        return true;
    double length = (ATTENUATION_DB - 7.95) / (14.36 * (stop - pass));
    stage->taps = 2 * (size_t)ceil(length / 2) + 1;
    stage->padded = (stage->taps + 7) / 8 * 8;
    stage->h = ht_allocate(stage->padded, sizeof *stage->h);
    double *h = ht_allocate(stage->taps, sizeof *h);
    bool made = stage->h && h;
    if (made) {
        ht_lowpass_design(h, stage->taps, (pass + stop) / 2,
                          0.1102 * (ATTENUATION_DB - 8.7));
        for (size_t i = 0; i < stage->taps; i++)
            stage->h[i] = (float)h[i];
        /* room before the first sample centres the first output on it */
        stage->held_count = stage->taps / 2;
    }
    ht_release(h);
    return made && ht_grow((void **)&stage->held, &stage->held_room,
                               stage->padded, sizeof *stage->held);
}

/* The first stage takes a divisor near the factor's root, rounded up: it is
 * short because its transition is wide. */
static size_t first_factor(size_t factor)
{
    size_t best = 1;
    for (size_t f = 2; f < factor; f++)
        if (factor % f == 0 &&
            fabs((double)f - sqrt((double)factor)) <
                fabs((double)best - sqrt((double)factor)))
            best = f;
    return best;
}

struct ht_decimator *ht_decimator_create(size_t factor, double pass_share)
{
    struct ht_decimator *decimator = ht_allocate(1, sizeof *decimator);
    if (!decimator)
        return NULL;
    size_t first = first_factor(factor), second = factor / first;
    /* in cycles per sample of each stage's own input */
    double pass = pass_share / 2 / (double)factor;
    double stop = 1.0 / (double)factor - pass; /* aliases onto the band */
    double first_stop = 1.0 / (double)first - pass;
    if (!stage_create(&decimator->stage[0], first, pass, first_stop) ||
        !stage_create(&decimator->stage[1], second, pass * (double)first,
                      stop * (double)first)) {
        ht_decimator_free(decimator);
        return NULL;
    }
    return decimator;
}

void ht_decimator_free(struct ht_decimator *decimator)
{
    if (!decimator)
        return;
    for (int s = 0; s < 2; s++) {
        ht_release(decimator->stage[s].h);
        ht_release(decimator->stage[s].held);
    }
    ht_release(decimator->between);
    ht_release(decimator);
}

static void hold(float *samples, float value, size_t n)
{
    for (size_t i = 0; i < n; i++)
        samples[i] = value;
}

/* samples NULL: the last value goes on. */
static bool append(float **out, size_t *room, size_t *count,
                   const float *samples, size_t n)
{
    if (n == 0)
        return true;
    if (!ht_grow((void **)out, room, *count + n, sizeof **out))
        return false;
    if (samples)
        memcpy(*out + *count, samples, n * sizeof *samples);
    else
        hold(*out + *count, *count ? (*out)[*count - 1] : 0, n);
    *count += n;
    return true;
}

/* samples NULL: the last value behind the end, not counted as fed. Before the
 * start the first one stands: an offset, gravity say, makes no step. */
static bool stage_push(struct stage *stage, const float *samples, size_t n,
                       float **out, size_t *room, size_t *count)
{
    if (samples && stage->factor > 1 && stage->fed == 0)
        hold(stage->held, samples[0], stage->held_count);
    if (samples)
        stage->fed += n;
    if (stage->factor == 1)
        return !samples || append(out, room, count, samples, n);
    if (!append(&stage->held, &stage->held_room, &stage->held_count, samples,
                n))
        return false;
    size_t ready = stage->held_count < stage->taps
                       ? 0
                       : (stage->held_count - stage->taps) / stage->factor + 1;
    if (!ht_grow((void **)out, room, *count + ready + 1, sizeof **out))
        return false;
    /* the noughts behind the taps meet numbers that are there */
    if (!ht_grow((void **)&stage->held, &stage->held_room,
                 stage->held_count + 8, sizeof *stage->held))
        return false;
    ht_fir_run(stage->h, stage->padded, stage->held, stage->factor,
               *out + *count, ready);
    size_t at = ready * stage->factor;
    *count += ready;
    stage->made += ready;
    memmove(stage->held, stage->held + at,
            (stage->held_count - at) * sizeof *stage->held);
    stage->held_count -= at;
    return true;
}

/* Holds the last value until ceil(fed / factor) samples are out, then cuts
 * there. */
static bool stage_finish(struct stage *stage, float **out, size_t *room,
                         size_t *count)
{
    if (stage->factor == 1)
        return true;
    size_t wanted = (stage->fed + stage->factor - 1) / stage->factor;
    if (!stage_push(stage, NULL, stage->taps + stage->factor, out, room,
                    count))
        return false;
    if (stage->made > wanted)
        *count -= stage->made - wanted;
    stage->made = wanted;
    return true;
}

bool ht_decimator_push(struct ht_decimator *decimator, const float *samples,
                       size_t n, float **out, size_t *room, size_t *count)
{
    struct stage *stage = decimator->stage;
    size_t between = 0;
    if (n == 0)
        return true;
    if (stage[0].factor == 1)
        return stage_push(&stage[1], samples, n, out, room, count);
    return stage_push(&stage[0], samples, n, &decimator->between,
                      &decimator->between_room, &between) &&
           (between == 0 || stage_push(&stage[1], decimator->between, between,
                                       out, room, count));
}

bool ht_decimator_finish(struct ht_decimator *decimator, float **out,
                         size_t *room, size_t *count)
{
    struct stage *stage = decimator->stage;
    size_t between = 0;
    if (!stage_finish(&stage[0], &decimator->between,
                      &decimator->between_room, &between))
        return false;
    if (between > 0 && !stage_push(&stage[1], decimator->between, between,
                                   out, room, count))
        return false;
    return stage_finish(&stage[1], out, room, count);
}
