#include "still.h"

#include "common/memory.h"
#include "notes.h"
#include "signal/lanes.h"
#include "texts.h"

#include <math.h>
#include <string.h>

static const double LEAST_S = 0.1;
enum { LEAST_FRAMES = 20, LEAST_HOLDS = 20 };

struct still ht_still_begin(size_t channels, double rate_hz)
{
    double least = fmax(LEAST_FRAMES, ceil(LEAST_S * rate_hz));
    return (struct still){ .channels = channels, .least = (uint64_t)least };
}

bool ht_still_add(struct still *still, struct still_run run)
{
    if (run.to - run.from < still->least)
        return true;
    if (!ht_grow((void **)&still->run, &still->room, still->runs + 1,
                 sizeof *still->run))
        return false;
    still->run[still->runs++] = run;
    return true;
}

/* Values that differ from those one frame before. */
HT_WIDE
static uint64_t count_changes(const float *values, size_t n, size_t channels)
{
    ht_lanes_i equal = { 0 };
    uint64_t changes = n;
    size_t i = 0;
    for (; i + HT_LANES <= n; i += HT_LANES) {
        ht_lanes_f now, next;
        HT_LANES_LOAD(now, values + i);
        HT_LANES_LOAD(next, values + i + channels);
        equal -= now == next;
    }
    for (size_t lane = 0; lane < HT_LANES; lane++)
        changes -= (uint64_t)equal[lane];
    for (; i < n; i++)
        changes -= values[i] == values[i + channels];
    return changes;
}

static bool same(const float *a, const float *b, size_t channels)
{
    for (size_t c = 0; c < channels; c++)
        if (a[c] != b[c])
            return false;
    return true;
}

/* How many frames from `frames` on equal this one. */
static size_t count_same(const float *frames, size_t count, size_t channels,
                         const float *one)
{
    size_t i = 0;
    while (i < count && same(frames + i * channels, one, channels))
        i++;
    return i;
}

/* The runs that begin in this block: looks back from where one would be long
 * enough, so that most frames are never compared. *held: of the last one. */
static bool find_runs(struct still *still, const float *frames, size_t count,
                      size_t from)
{
    size_t channels = still->channels;
    while (from < count) {
        bool fits = count - from >= still->least;
        size_t first = fits ? from + (size_t)still->least - 1 : count - 1;
        size_t last = first;
        while (first > from && same(frames + (first - 1) * channels,
                                    frames + last * channels, channels))
            first--;
        if (first == from)
            last += count_same(frames + (last + 1) * channels,
                               count - last - 1, channels,
                               frames + last * channels);
        if (last + 1 == count) {
            still->held = count - first;
            return true;
        }
        if (first == from &&
            !ht_still_add(still, (struct still_run){ still->frames + first,
                                                     still->frames + last +
                                                         1 }))
            return false;
        from = first == from ? last + 1 : first;
    }
    return true;
}

bool ht_still_push(struct still *still, const float *frames, size_t count)
{
    size_t channels = still->channels, from = 0;
    if (count == 0)
        return true;
    if (still->frames > 0) {
        for (size_t c = 0; c < channels; c++)
            still->changes += frames[c] != still->last[c];
        from = count_same(frames, count, channels, still->last);
        still->held += from;
        uint64_t end = still->frames + from;
        if (from < count &&
            !ht_still_add(still,
                          (struct still_run){ end - still->held, end }))
            return false;
    }
    still->changes +=
        count_changes(frames, (count - 1) * channels, channels);
    if (!find_runs(still, frames, count, from))
        return false;
    memcpy(still->last, frames + (count - 1) * channels,
           channels * sizeof *frames);
    still->frames += count;
    return true;
}

bool ht_still_end(struct still *still)
{
    if (!ht_still_add(still, (struct still_run){ still->frames - still->held,
                                                 still->frames }))
        return false;
    double outside = (double)still->frames;
    for (size_t r = 0; r < still->runs; r++)
        outside -= (double)(still->run[r].to - still->run[r].from);
    double holds = fmax(1, (double)still->changes);
    double mean = fmax(1, outside * (double)still->channels / holds);
    size_t kept = 0;
    for (size_t r = 0; r < still->runs; r++)
        if ((double)(still->run[r].to - still->run[r].from) >=
            LEAST_HOLDS * mean)
            still->run[kept++] = still->run[r];
    still->runs = kept;
    return true;
}

void ht_still_free(struct still *still)
{
    ht_release(still->run);
    *still = (struct still){ 0 };
}

/* Both lists rise; gaps that touch become one. */
static size_t merge(struct ht_gap *to, const struct ht_gap *gap, size_t gaps,
                    const double *time_s, size_t runs)
{
    size_t count = 0, g = 0, r = 0;
    while (g < gaps || r < runs) {
        struct ht_gap next;
        if (r == runs || (g < gaps && gap[g].from_s <= time_s[2 * r]))
            next = gap[g++];
        else {
            next = (struct ht_gap){ time_s[2 * r], time_s[2 * r + 1] };
            r++;
        }
        if (count > 0 && next.from_s <= to[count - 1].to_s)
            to[count - 1].to_s = fmax(to[count - 1].to_s, next.to_s);
        else
            to[count++] = next;
    }
    return count;
}

bool ht_still_to_gaps(const struct still *still, const double *time_s,
                      struct ht_recording *recording)
{
    double all_s = 0;
    if (still->runs == 0)
        return true;
    struct ht_gap *gap = ht_allocate(recording->gaps + still->runs,
                                     sizeof *gap);
    if (!gap)
        return false;
    recording->gaps = merge(gap, recording->gap, recording->gaps, time_s,
                            still->runs);
    ht_release(recording->gap);
    recording->gap = gap;
    for (size_t r = 0; r < still->runs; r++)
        all_s += time_s[2 * r + 1] - time_s[2 * r];
    if (still->runs == 1)
        ht_recording_note(recording, RECORDING_STILL_ONCE, time_s[0],
                          time_s[1]);
    else
        ht_recording_note(recording, RECORDING_STILL, still->runs, all_s,
                          time_s[0]);
    return true;
}

/* ---- what gaps mean for the samples ------------------------------------- */

static size_t frame_at(const struct ht_recording *recording, double time_s)
{
    double frame = round(time_s * recording->rate_hz);
    double most = (double)recording->frames;
    return (size_t)fmin(fmax(frame, 0), most);
}

double ht_gaps_mean(const struct ht_recording *recording, const float *samples)
{
    double sum = 0;
    size_t from = 0, count = 0;
    for (size_t g = 0; g <= recording->gaps; g++) {
        bool gap = g < recording->gaps;
        size_t to = gap ? frame_at(recording, recording->gap[g].from_s)
                        : recording->frames;
        count += to > from ? to - from : 0;
        for (; from < to; from++)
            sum += (double)samples[from];
        if (gap)
            from = frame_at(recording, recording->gap[g].to_s);
    }
    return count ? sum / (double)count : (double)samples[0];
}

void ht_gaps_empty(const struct ht_recording *recording, float *samples)
{
    for (size_t g = 0; g < recording->gaps; g++) {
        size_t to = frame_at(recording, recording->gap[g].to_s);
        for (size_t i = frame_at(recording, recording->gap[g].from_s); i < to;
             i++)
            samples[i] = 0;
    }
}
