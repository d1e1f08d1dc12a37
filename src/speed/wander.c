#include "wander.h"

#include "common/memory.h"

#include <math.h>

enum { STATES_MAX = 101 };

static const double state_step = 0.001;
/* Change from frame to frame that costs half a unit: 0.15 % in two seconds.
 * Common practice, no source. */
static const double usual_change = 0.0015;
static const double lowest_hz = 3;

/* Log of the likelihood ratio of one cell, an order being there or not with
 * even odds and of weak, middle or strong level. */
static double cell_score(double z)
{
    static const double levels[] = { 3, 12, 50 };
    double sum = 0;
    for (size_t i = 0; i < 3; i++)
        sum += exp(fmin(z, 40) * levels[i] / (1 + levels[i])) / (1 + levels[i]);
    return fmin(log(0.5 + sum / 6), 8);
}

static double state_score(const struct ht_comb *comb, size_t frame,
                          double wheel_hz)
{
    const struct ht_frames *f = comb->frames;
    const float *z = ht_frames_z(f, frame, 0);
    double score = 0;
    for (size_t i = 0; i < comb->lines->count; i++) {
        double hz = wheel_hz * comb->lines->line[i].order;
        size_t bin = (size_t)(hz / f->bin_hz + 0.5);
        if (!(hz >= lowest_hz) || bin >= f->bins)
            continue;
        for (size_t c = 0; c < f->channels; c++)
            score += cell_score((double)z[c * f->bins + bin]);
    }
    return comb->share * score;
}

struct walk {
    size_t states, frames;
    double *score; /* of the frame at hand */
    double *next;
    unsigned char *from; /* [frame][state] */
};

static void step(struct walk *w, size_t frame)
{
    const long reach = 6;
    for (long s = 0; s < (long)w->states; s++) {
        double best = -INFINITY;
        for (long p = s - reach; p <= s + reach; p++) {
            if (p < 0 || p >= (long)w->states)
                continue;
            double change = (double)(s - p) * state_step / usual_change;
            double score = w->score[p] - 0.5 * change * change;
            if (score > best) {
                best = score;
                w->from[frame * w->states + (size_t)s] = (unsigned char)p;
            }
        }
        w->next[s] = best;
    }
}

static void trace(const struct walk *w, double *deviation)
{
    size_t state = 0;
    for (size_t s = 1; s < w->states; s++)
        if (w->score[s] > w->score[state])
            state = s;
    double middle = 0.5 * (double)(w->states - 1);
    for (size_t k = w->frames; k-- > 0;) {
        deviation[k] = ((double)state - middle) * state_step;
        state = w->from[k * w->states + state];
    }
}

bool ht_wander_find(double *deviation, const struct ht_comb *comb,
                    const struct ht_speed_path *path, const struct ht_fit *fit,
                    double reach)
{
    struct walk w = { .frames = comb->frames->frames };
    w.states = 2 * (size_t)(reach / state_step + 0.5) + 1;
    if (w.states > STATES_MAX)
        w.states = STATES_MAX;
    w.score = ht_allocate(2 * w.states, sizeof(double));
    w.from = ht_allocate(w.frames * w.states + 1, 1);
    bool fine = w.score && w.from;
    w.next = fine ? w.score + w.states : NULL;
    double middle = 0.5 * (double)(w.states - 1);
    for (size_t k = 0; fine && k < w.frames; k++) {
        double v = ht_path_speed(path, comb->frames->time_s[k] + fit->lag_s);
        step(&w, k);
        for (size_t s = 0; s < w.states; s++) {
            double e = ((double)s - middle) * state_step;
            w.score[s] = w.next[s] +
                         state_score(comb, k, v * fit->turns_per_m * (1 + e));
        }
    }
    if (fine && w.frames)
        trace(&w, deviation);
    ht_release(w.score);
    ht_release(w.from);
    return fine;
}

void ht_wander_apply(struct ht_speed_path *path, const double *deviation,
                     const struct ht_frames *frames, double lag_s)
{
    size_t k = 0;
    for (size_t i = 0; i < path->points && frames->frames; i++) {
        double t = path->start_s + path->step_s * (double)i - lag_s;
        while (k + 2 < frames->frames && frames->time_s[k + 1] < t)
            k++;
        size_t next = k + 1 < frames->frames ? k + 1 : k;
        double span = frames->time_s[next] - frames->time_s[k];
        double f = span > 0 ? (t - frames->time_s[k]) / span : 0;
        f = fmin(fmax(f, 0), 1);
        path->speed_m_s[i] *=
            1 + deviation[k] + f * (deviation[next] - deviation[k]);
    }
    ht_path_integrate(path);
}
