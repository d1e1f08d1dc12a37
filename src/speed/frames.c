#include "frames.h"

#include "whiten.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "signal/fft.h"
#include "signal/wide.h"

#include <math.h>
#include <stdint.h>

static const double slowest_m_s = 2.0;
enum { STRIDE = 8, MAKERS = 4 }; /* samples between two steps of the path */

struct maker {
    struct ht_frames *frames;
    const struct ht_work *work;
    const struct ht_speed_path *path;
    const struct ht_frames_plan *plan;
    struct ht_fft_f *fft;
    size_t points;  /* of the transform */
    size_t samples; /* of one frame before padding; half a multiple of STRIDE */
    double *at;     /* frame numbers along the stretched axis */
    int32_t *whole; /* the same, rounded down */
    float *weight[4]; /* of the four samples around it */
    double squares; /* of the window, summed */
    float *window;  /* all makers' */
    size_t from, to; /* frames that it makes */
};

/* Frame numbers of a stretch of samples between two moments. */
static void fill_between(const struct maker *m, size_t from, size_t to,
                         double from_s, double to_s)
{
    double rate = m->work->rate_hz, step = (to_s - from_s) * rate / STRIDE;
    for (size_t i = from; i < to && i < m->samples; i++)
        m->at[i] = from_s * rate + step * (double)(i - from);
}

/* Seconds from t over `way` times STRIDE samples at the middle's speed v0,
 * by the midpoint rule. NAN: slower than 0.4 v0, or outside the log. */
static double leap_s(const struct maker *m, double t, double v0, double way)
{
    double lag = m->plan->lag_s, length_s = STRIDE / m->work->rate_hz;
    double v = ht_path_speed(m->path, t + lag);
    double mid =
        ht_path_speed(m->path, t + lag + 0.5 * way * length_s * v0 / v);
    return v > 0.4 * v0 && mid > 0.4 * v0 ? way * length_s * v0 / mid : NAN;
}

/* From the middle outwards in steps of equal distance on the log's path; the
 * samples between two steps lie on a line. At 500 samples a second and a
 * change of speed by 15 % a second that is right within 5 microseconds. */
static bool stretch(const struct maker *m, double middle_s)
{
    double v0 = ht_path_speed(m->path, middle_s + m->plan->lag_s);
    size_t half = m->samples / 2;
    if (!(v0 >= slowest_m_s))
        return false;
    double later = middle_s, sooner = middle_s;
    for (size_t i = 0; i < half; i += STRIDE) {
        double later_by = leap_s(m, later, v0, 1);
        double sooner_by = leap_s(m, sooner, v0, -1);
        if (!isfinite(later_by) || !isfinite(sooner_by))
            return false;
        fill_between(m, half + i, half + i + STRIDE, later, later + later_by);
        fill_between(m, half - i - STRIDE, half - i, sooner + sooner_by,
                     sooner);
        later += later_by;
        sooner += sooner_by;
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

/* Whole of each place, and what its four neighbours count for, for all
 * channels; one of them stands before the place and two behind. */
HT_WIDE static void weigh_places(const double *at, size_t n, double last,
                                 const float *window, int32_t *whole,
                                 float *const weight[4])
{
    float *a = weight[0], *b = weight[1], *c = weight[2], *d = weight[3];
    for (size_t i = 0; i < n; i++) {
        double place = at[i] < 1 ? 1 : at[i] > last ? last : at[i];
        whole[i] = (int32_t)place;
        float w[4];
        ht_work_weights((float)(place - (double)whole[i]), window[i], w);
        a[i] = w[0];
        b[i] = w[1];
        c[i] = w[2];
        d[i] = w[3];
    }
}

static void read_places(const struct maker *m, const float *samples,
                        float *out)
{
    const float *a = m->weight[0], *b = m->weight[1];
    const float *c = m->weight[2], *d = m->weight[3];
    for (size_t i = 0; i < m->samples; i++) {
        const float *x = samples + m->whole[i] - 1;
        out[i] = (x[0] * a[i] + x[1] * b[i]) + (x[2] * c[i] + x[3] * d[i]);
    }
    for (size_t i = m->samples; i < m->points; i++)
        out[i] = 0;
}

static void spectrum(const struct maker *m, size_t channel, float *density)
{
    read_places(m, m->work->channel[channel], ht_fft_f_input(m->fft));
    const float complex *x_hz = ht_fft_f_run(m->fft);
    float scale = (float)(2 / (m->squares * m->work->rate_hz));
    for (size_t b = 0; b < m->frames->bins; b++) {
        float re = crealf(x_hz[b]), im = cimagf(x_hz[b]);
        density[b] = scale * (re * re + im * im) + 1e-30F;
    }
}

/* Frames that there might be. */
static size_t frames_wanted(const struct maker *m)
{
    const struct ht_frames *f = m->frames;
    double first = 0.5 * f->length_s;
    double end = ht_work_length_s(m->work) - first;
    bool none = end < first || m->samples == 0;
    return none ? 0 : (size_t)((end - first) / f->hop_s) + 1;
}

/* Their middles; NAN: there is no such frame. */
static void choose_frames(void *context, size_t index)
{
    const struct maker *m = (const struct maker *)context + index;
    const struct ht_frames *f = m->frames;
    for (size_t i = m->from; i < m->to; i++) {
        double t = 0.5 * f->length_s + f->hop_s * (double)i;
        f->time_s[i] = stretch(m, t) && seen(m) ? t : NAN;
    }
}

static void drop_missing(struct ht_frames *f, size_t wanted)
{
    for (size_t i = 0; i < wanted; i++)
        if (!isnan(f->time_s[i]))
            f->time_s[f->frames++] = f->time_s[i];
}

static void make_frames(void *context, size_t index)
{
    const struct maker *m = (const struct maker *)context + index;
    const struct ht_frames *f = m->frames;
    for (size_t k = m->from; k < m->to; k++) {
        if (!stretch(m, f->time_s[k]))
            continue; /* it did a moment ago */
        weigh_places(m->at, m->samples, (double)m->work->frames - 3, m->window,
                     m->whole, m->weight);
        for (size_t c = 0; c < f->channels; c++)
            spectrum(m, c, f->z + (k * f->channels + c) * f->bins);
    }
}

static bool reserve(struct ht_frames *f, size_t most)
{
    f->step = ht_whiten_step(f);
    f->knots = f->bins / f->step + 2;
    size_t rows = most * f->channels, cells = rows * f->bins;
    size_t floats = cells + rows + f->channels * f->bins + rows * f->knots;
    size_t bytes = most * sizeof(double) + floats * sizeof(float);
    f->memory = ht_reserve(bytes, 1);
    if (!f->memory)
        return false;
    f->time_s = f->memory;
    f->z = (float *)(void *)(f->time_s + most);
    f->level = f->z + cells;
    f->record = f->level + rows;
    f->local = f->record + f->channels * f->bins;
    return true;
}

static bool find_window(struct maker *m)
{
    m->window = ht_allocate(m->samples + 1, sizeof *m->window);
    for (size_t i = 0; m->window && i < m->samples; i++) {
        double w =
            0.5 - 0.5 * cos(2 * HT_PI * ((double)i + 0.5) / (double)m->samples);
        m->window[i] = (float)w;
        m->squares += w * w;
    }
    return m->window != NULL;
}

/* Room of its own for one maker; the first plans for all. */
static bool prepare(struct maker *m, const struct maker *first)
{
    m->at = ht_allocate(m->samples + 1, sizeof *m->at);
    m->whole = ht_allocate(m->samples + 1, sizeof *m->whole);
    m->weight[0] = ht_allocate(4 * (m->samples + 1), sizeof(float));
    for (size_t i = 1; i < 4 && m->weight[0]; i++)
        m->weight[i] = m->weight[i - 1] + m->samples;
    m->fft = m == first ? ht_fft_f_create(m->points)
                        : ht_fft_f_twin(first->fft);
    return m->at && m->whole && m->weight[0] && m->fft;
}

static void dismiss(struct maker *m)
{
    ht_release(m->at);
    ht_release(m->whole);
    ht_release(m->weight[0]);
    ht_fft_f_free(m->fft);
}

static void share_out(struct maker maker[MAKERS], size_t frames, ht_task *task)
{
    for (size_t i = 0; i < MAKERS; i++) {
        maker[i].from = i * frames / MAKERS;
        maker[i].to = (i + 1) * frames / MAKERS;
    }
    ht_parallel(MAKERS, task, maker);
}

/* Makers side by side, each for its share of the frames. */
static bool fill(const struct maker *model)
{
    struct maker maker[MAKERS];
    size_t made = 0;
    bool fine = true;
    while (fine && made < MAKERS) {
        maker[made] = *model;
        fine = prepare(&maker[made], maker);
        made++;
    }
    if (fine) {
        size_t wanted = frames_wanted(model);
        share_out(maker, wanted, choose_frames);
        drop_missing(model->frames, wanted);
        share_out(maker, model->frames->frames, make_frames);
    }
    while (made > 0)
        dismiss(&maker[--made]);
    return fine;
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
    m.samples = (size_t)(plan->length_s * work->rate_hz) / (2 * STRIDE) *
                (2 * STRIDE);
    for (m.points = 64; m.points < 2 * m.samples; m.points *= 2)
        continue;
    f->bin_hz = work->rate_hz / (double)m.points;
    double top = fmin(plan->highest_hz, 0.45 * work->rate_hz);
    f->bins = (size_t)(top / f->bin_hz) + 1;
    size_t most = (size_t)(ht_work_length_s(work) / plan->hop_s) + 2;
    bool fine = reserve(f, most) && find_window(&m) && fill(&m) &&
                ht_whiten(f, path, plan);
    ht_release(m.window);
    if (fine)
        return HT_OK;
    ht_frames_free(f);
    return ht_fail(err, SPEED_NO_MEMORY);
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

float ht_frames_floor(const struct ht_frames *f, size_t frame, size_t channel,
                      size_t bin)
{
    size_t row = frame * f->channels + channel;
    struct ht_floor_part part = ht_whiten_part(f, row, bin / f->step);
    return ht_whiten_floor(&part, f->record[channel * f->bins + bin],
                           bin % f->step);
}
