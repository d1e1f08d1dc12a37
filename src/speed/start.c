#include "finder.h"

#include "align.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>

static const double shortest_s = 10;
/* Of the samples a second: what turns faster is folded down onto other
 * frequencies, or lost in the recorder's own filter. */
static const double seen_share = 0.45;

double ht_finder_length_s(const struct ht_finder *f)
{
    const struct ht_recording *r = f->request->recording;
    return (double)r->frames / r->rate_hz;
}

bool ht_finder_tyre_known(const struct ht_finder *f)
{
    return f->request->rotation->circumference_m > 0;
}

/* Speeds that the log holds during the recording. */
static void speed_range(const struct ht_finder *f, double *low, double *high)
{
    *low = INFINITY;
    *high = 0;
    size_t steps = (size_t)ceil(ht_finder_length_s(f) / 0.5);
    for (size_t i = 0; i < steps; i++) {
        double v = ht_path_speed(&f->path, 0.5 * (double)i);
        if (!isfinite(v))
            continue;
        *high = fmax(*high, v);
        if (v > 3)
            *low = fmin(*low, v);
    }
}

static enum ht_status align_log(struct ht_finder *f, struct ht_error *err)
{
    const struct ht_speed_log *log = f->request->log;
    double offset, first = log->time_s[0], last = log->time_s[log->rows - 1];
    enum ht_clock clock =
        ht_clock_align(f->request->recording, first, last, &offset);
    if (clock == HT_CLOCK_APART)
        return ht_turns_refuse(f->turns, SPEED_OTHER_DATE);
    f->clock_assumed = clock == HT_CLOCK_ASSUMED;
    if (f->clock_assumed)
        ht_turns_note(f->turns, SPEED_LOG_OTHER_CLOCK, first);
    enum ht_status status = ht_path_create(&f->path, log, err);
    f->path.start_s -= offset;
    f->clock_s = offset;
    if (status == HT_OK && f->path.quantum_m_s > 0.2)
        ht_turns_note(f->turns, SPEED_LOG_SMOOTHED,
                      f->path.quantum_m_s * HT_KM_H_PER_M_S);
    return status;
}

enum ht_status ht_finder_make_path(struct ht_finder *f, struct ht_error *err)
{
    if (!f->steady)
        return align_log(f, err);
    return ht_path_steady(&f->path, f->request->steady_m_s, -1,
                          ht_finder_length_s(f) + 1, err);
}

/* Whether one turn of the wheel can be seen at the lowest speed. */
static bool is_sampled_enough(const struct ht_finder *f, double low_m_s)
{
    double rate_hz = f->request->recording->rate_hz;
    double hz = low_m_s / ht_finder_largest_m(f);
    if (hz <= seen_share * rate_hz)
        return true;
    ht_turns_refuse(f->turns, SPEED_RECORDING_SLOW, rate_hz,
                    low_m_s * HT_KM_H_PER_M_S, hz);
    return false;
}

bool ht_finder_log_is_enough(struct ht_finder *f)
{
    if (f->path.step_s > 0.11) { /* see ht_path_create */
        ht_turns_refuse(f->turns, SPEED_LOG_CLOCK_JUMPS,
                        f->path.step_s * (double)f->path.points / 3600);
        return false;
    }
    double low, high;
    speed_range(f, &low, &high);
    double covered =
        fmin(ht_finder_length_s(f),
             f->path.start_s + f->path.step_s * (double)f->path.points) -
        fmax(0, f->path.start_s);
    if (covered < fmax(shortest_s, 0.3 * ht_finder_length_s(f))) {
        ht_turns_refuse(f->turns, SPEED_LOG_COVERS_LITTLE,
                        fmax(covered, 0), ht_finder_length_s(f));
        return false;
    }
    if (!(high > 3)) {
        ht_turns_refuse(f->turns, SPEED_LOG_STANDS_STILL,
                        high * HT_KM_H_PER_M_S);
        return false;
    }
    f->fastest_m_s = high;
    f->sweeps = high / low > 1.15;
    return is_sampled_enough(f, low);
}
