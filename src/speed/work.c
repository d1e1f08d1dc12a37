#include "work.h"
#include "texts.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "signal/decimate.h"

#include <math.h>

static bool decimate(struct ht_work *work, const float *x, size_t frames,
                     float **out)
{
    struct ht_decimator *d = ht_decimator_create(work->factor, 0.8);
    size_t room = work->frames + 1, count = 0;
    *out = ht_reserve(room, sizeof **out);
    bool fine = d && *out &&
                ht_decimator_push(d, x, frames, out, &room, &count) &&
                ht_decimator_finish(d, out, &room, &count);
    ht_decimator_free(d);
    if (fine && count < work->frames)
        work->frames = count;
    return fine;
}

/* What the recording reader left of gravity. */
static void take_out_mean(void *context, size_t channel)
{
    const struct ht_work *work = context;
    float *x = work->channel[channel];
    double sum = 0;
    for (size_t i = 0; i < work->frames; i++)
        sum += (double)x[i];
    double mean = sum / (double)work->frames;
    for (size_t i = 0; i < work->frames; i++)
        x[i] = (float)((double)x[i] - mean);
}

static void mark_gaps(struct ht_work *work,
                      const struct ht_recording *recording)
{
    for (size_t g = 0; g < recording->gaps; g++) {
        /* The reader counts gaps from frame 0. */
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
    if (recording->rate_hz >= 2 * wanted_hz)
        work->factor = (size_t)(recording->rate_hz / wanted_hz);
    work->rate_hz = recording->rate_hz / (double)work->factor;
    work->frames = (recording->frames + work->factor - 1) / work->factor;
    work->channel = ht_allocate(work->channels, sizeof *work->channel);
    work->blind = ht_allocate(work->frames, 1);
    bool fine = work->channel && work->blind;
    for (size_t c = 0; fine && c < work->channels; c++)
        fine = decimate(work, recording->channel[c].samples, recording->frames,
                        &work->channel[c]);
    if (!fine) {
        ht_work_free(work);
        return ht_fail(err, SPEED_NO_MEMORY);
    }
    ht_parallel(work->channels, take_out_mean, work);
    mark_gaps(work, recording);
    return HT_OK;
}

void ht_work_free(struct ht_work *work)
{
    for (size_t c = 0; work->channel && c < work->channels; c++)
        ht_release(work->channel[c]);
    ht_release(work->channel);
    ht_release(work->blind);
    *work = (struct ht_work){ 0 };
}

double ht_work_length_s(const struct ht_work *work)
{
    return work->frames ? (double)(work->frames - 1) / work->rate_hz : 0;
}
