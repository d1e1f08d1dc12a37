#include "frames.h"

#include "whiten.h"

#include "common/constants.h"
#include "common/memory.h"
#include "signal/fft.h"

#include <math.h>

static const double slowest_m_s = 2.0;

struct maker {
    struct ht_frames *frames;
    const struct ht_work *work;
    const struct ht_speed_path *path;
    const struct ht_frames_plan *plan;
    struct ht_fft *fft;
    size_t points;  /* of the transform */
    size_t samples; /* of one frame before padding */
    double *at;     /* frame numbers along the stretched axis */
    double *window, *input;
};

/* From the middle outwards in steps of equal distance on the log's path. */
static bool stretch(const struct maker *m, double middle_s)
{
    const struct ht_speed_path *path = m->path;
    double lag = m->plan->lag_s, du = 1 / m->work->rate_hz;
    double v0 = ht_path_speed(path, middle_s + lag);
    size_t half = m->samples / 2;
    if (!(v0 >= slowest_m_s))
        return false;
    for (int way = -1; way <= 1; way += 2) {
        double t = middle_s;
        for (size_t i = 0; i <= half; i++) {
            size_t index = way < 0 ? half - i : half + i;
            if (index < m->samples)
                m->at[index] = t * m->work->rate_hz;
            double v = ht_path_speed(path, t + lag);
            double mid = ht_path_speed(path, t + lag + way * 0.5 * du * v0 / v);
            if (!(v > 0.4 * v0) || !(mid > 0.4 * v0))
                return false;
            t += way * du * v0 / mid;
        }
    }
    return true;
}

static bool seen(const struct maker *m)
{
    size_t blind = 0;
    for (size_t i = 0; i < m->samples; i++) {
        double at = m->at[i];
        if (!(at >= 0 && at < (double)m->work->frames))
            return false;
        blind += m->work->blind[(size_t)at];
    }
    return blind * 20 < m->samples;
}

static void spectrum(const struct maker *m, size_t channel, float *density)
{
    const float *x = m->work->channel[channel];
    double squares = 0;
    for (size_t i = 0; i < m->samples; i++) {
        m->input[i] =
            m->window[i] * ht_work_sample(x, m->work->frames, m->at[i]);
        squares += m->window[i] * m->window[i];
    }
    for (size_t i = m->samples; i < m->points; i++)
        m->input[i] = 0;
    const double complex *x_hz = ht_fft_run(m->fft);
    double scale = 2 / (squares * m->work->rate_hz);
    for (size_t b = 0; b < m->frames->bins; b++)
        density[b] = (float)(scale * (creal(x_hz[b]) * creal(x_hz[b]) +
                                      cimag(x_hz[b]) * cimag(x_hz[b]))) +
                     1e-30F;
}

static void fill(struct maker *m)
{
    struct ht_frames *f = m->frames;
    double first = 0.5 * f->length_s;
    double end = ht_work_length_s(m->work) - first;
    size_t steps = end < first ? 0 : (size_t)((end - first) / f->hop_s) + 1;
    size_t stride = f->channels * f->bins, kept = 0;
    for (size_t i = 0; i < steps; i++) {
        double t = first + f->hop_s * (double)i;
        if (!stretch(m, t) || !seen(m))
            continue;
        f->time_s[kept] = t;
        for (size_t c = 0; c < f->channels; c++)
            spectrum(m, c, f->z + kept * stride + c * f->bins);
        kept++;
    }
    f->frames = kept;
}

static bool reserve(struct ht_frames *f, size_t most)
{
    size_t cells = most * f->channels * f->bins;
    size_t bytes = most * sizeof(double) + 2 * cells * sizeof(float);
    f->memory = ht_allocate(bytes, 1);
    if (!f->memory)
        return false;
    f->time_s = f->memory;
    f->z = (float *)(void *)(f->time_s + most);
    f->floor = f->z + cells;
    return true;
}

static bool prepare(struct maker *m, size_t points)
{
    m->points = points;
    m->at = ht_allocate(2 * m->samples, sizeof(double));
    m->fft = ht_fft_create(points);
    if (!m->at || !m->fft)
        return false;
    m->window = m->at + m->samples;
    m->input = ht_fft_input(m->fft);
    for (size_t i = 0; i < m->samples; i++)
        m->window[i] =
            0.5 - 0.5 * cos(2 * HT_PI * ((double)i + 0.5) / (double)m->samples);
    return true;
}

enum ht_status ht_frames_create(struct ht_frames *f, const struct ht_work *work,
                                const struct ht_speed_path *path,
                                const struct ht_frames_plan *plan,
                                struct ht_error *err)
{
    *f = (struct ht_frames){ .length_s = plan->length_s,
                             .hop_s = plan->hop_s,
                             .cell_hz = 1.5 / plan->length_s,
                             .channels = work->channels };
    struct maker m = { .frames = f, .work = work, .path = path, .plan = plan };
    m.samples = (size_t)(plan->length_s * work->rate_hz) & ~(size_t)1;
    size_t points = 64;
    while (points < 2 * m.samples)
        points *= 2;
    f->bin_hz = work->rate_hz / (double)points;
    double top = fmin(plan->highest_hz, 0.45 * work->rate_hz);
    f->bins = (size_t)(top / f->bin_hz) + 1;
    size_t most = (size_t)(ht_work_length_s(work) / plan->hop_s) + 2;
    bool fine = reserve(f, most) && prepare(&m, points);
    if (fine) {
        fill(&m);
        fine = ht_whiten(f, path, plan);
    }
    ht_release(m.at);
    ht_fft_free(m.fft);
    if (fine)
        return HT_OK;
    ht_frames_free(f);
    return ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
}

void ht_frames_free(struct ht_frames *frames)
{
    ht_release(frames->memory);
    *frames = (struct ht_frames){ 0 };
}

const float *ht_frames_z(const struct ht_frames *frames, size_t frame,
                         size_t channel)
{
    return frames->z + (frame * frames->channels + channel) * frames->bins;
}
