#include "hop.h"

#include <math.h>

#include "common/memory.h"

/* Stretches turn at 2 per second or faster; a margin below that. */
static const double slowest_turns_per_s = 1.5;

static bool hop_room(struct ht_arena *arena, struct ht_hop *hop, size_t room,
                     size_t columns, size_t channels)
{
    size_t sums = columns * channels + 1;
    hop->rising = ht_arena_get(arena, sums, sizeof *hop->rising);
    hop->falling = ht_arena_get(arena, sums, sizeof *hop->falling);
    hop->turns = ht_arena_get(arena, room, sizeof *hop->turns);
    hop->spans = ht_arena_get(arena, room, sizeof *hop->spans);
    hop->window = ht_arena_get(arena, room, sizeof *hop->window);
    hop->x = ht_arena_get(arena, room * channels, sizeof *hop->x);
    hop->up = ht_arena_get(arena, room * channels, sizeof *hop->up);
    hop->drop = ht_arena_get(arena, room, sizeof *hop->drop);
    return hop->rising && hop->falling && hop->turns && hop->spans &&
           hop->window && hop->x && hop->up && hop->drop;
}

bool ht_hopper_create(struct ht_hopper *h, const struct ht_plan *plan,
                      const struct ht_recording *r,
                      const struct ht_turns *turns, size_t lines,
                      const struct ht_hopper *like)
{
    *h = (struct ht_hopper){ .plan = plan, .recording = r, .turns = turns,
                             .half_turns = plan->block_turns / 2 };
    h->room = (size_t)(h->half_turns / slowest_turns_per_s * r->rate_hz) + 2;
    h->room = (h->room + HT_LANES - 1) / HT_LANES * HT_LANES;
    struct ht_arena *arena = ht_allocate(1, sizeof *arena);
    if (!arena)
        return false;
    h->memory = arena;
    arena->bare = true;
    h->cosine = ht_arena_get(arena, h->room, sizeof *h->cosine);
    h->sine = ht_arena_get(arena, h->room, sizeof *h->sine);
    h->value = ht_arena_get(arena, h->room, sizeof *h->value);
    return h->cosine && h->sine && h->value &&
           hop_room(arena, &h->hop[0], h->room, plan->columns, r->channels) &&
           hop_room(arena, &h->hop[1], h->room, plan->columns, r->channels) &&
           ht_spectrum_create(&h->spectrum, plan->block_turns, lines,
                              like ? &like->spectrum : NULL);
}

void ht_hopper_free(struct ht_hopper *h)
{
    ht_spectrum_free(&h->spectrum);
    if (h->memory)
        ht_arena_free(h->memory);
    ht_release(h->memory);
    *h = (struct ht_hopper){ 0 };
}

static double turns_at_frame(const struct ht_hopper *h, size_t frame)
{
    return ht_angle_at(h->turns, ht_frame_time(h->recording, (double)frame))
        .turns;
}

/* The first frame from `low` on whose angle has reached `turns`. */
static size_t frame_at(const struct ht_hopper *h, size_t low, double turns)
{
    size_t high = h->recording->frames;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (turns_at_frame(h, middle) < turns)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

void ht_hopper_start(struct ht_hopper *h, double from_s, size_t hop)
{
    double frame = (from_s - ht_frame_time(h->recording, 0)) *
                   h->recording->rate_hz;
    size_t first = frame > 0 ? (size_t)ceil(frame - 1e-9) : 0;
    h->first_turns = turns_at_frame(h, first);
    h->next = hop;
    h->next_turns = h->first_turns + (double)hop * h->half_turns;
    h->frame = hop ? frame_at(h, first, h->next_turns) : first;
}

/* Angles of the frames between two angles, and the angle that each spans. */
static bool read_angles(struct ht_hopper *h, struct ht_hop *hop)
{
    const struct ht_recording *r = h->recording;
    double end_turns = h->first_turns + (double)(h->next + 1) * h->half_turns;
    for (size_t n = 0; n < h->room && h->frame + n < r->frames; n++) {
        struct ht_angle at = ht_angle_at(
            h->turns, ht_frame_time(r, (double)(h->frame + n)));
        if (at.turns >= end_turns) {
            hop->samples = n;
            return true;
        }
        hop->turns[n] = fmax(at.turns - h->next_turns, 0);
        hop->spans[n] = at.turns_per_s / r->rate_hz;
        hop->fastest = fmax(hop->fastest, at.turns_per_s);
    }
    return false;
}

/* Behind the last frame nothing spans anything. */
static void pad(struct ht_hop *hop)
{
    size_t n = hop->samples;
    hop->padded = (n + HT_LANES - 1) / HT_LANES * HT_LANES;
    for (; n < hop->padded; n++)
        hop->turns[n] = hop->spans[n] = 0;
}

static void read_samples(struct ht_hopper *h, struct ht_hop *hop)
{
    const struct ht_recording *r = h->recording;
    /* the window's rising half: half a cosine over the hop */
    ht_phasor_fill(h->cosine, h->sine, hop->turns, 0.5 / h->half_turns,
                   hop->padded);
    for (size_t n = 0; n < hop->padded; n++) {
        double w = 0.5 - 0.5 * h->cosine[n];
        hop->window[n] = w;
        hop->weight_rising += w * hop->spans[n];
        hop->weight_falling += (1 - w) * hop->spans[n];
    }
    for (size_t n = 0; n < hop->samples; n++)
        hop->drop[n] = ht_spectrum_place(&h->spectrum, hop->turns[n]);
    for (size_t c = 0; c < r->channels; c++) {
        const float *samples = r->channel[c].samples + h->frame;
        double *x = hop->x + c * h->room, *up = hop->up + c * h->room;
        for (size_t n = 0; n < hop->samples; n++) {
            x[n] = hop->spans[n] * (double)samples[n];
            up[n] = x[n] * hop->window[n];
        }
        for (size_t n = hop->samples; n < hop->padded; n++)
            x[n] = up[n] = 0;
    }
}

/* Sums against every column's cosine and sine, turned so that the phase is
 * that of the drive's turns, not of the hop's. */
static void sum_columns(struct ht_hopper *h, struct ht_hop *hop)
{
    size_t channels = h->recording->channels;
    for (size_t k = 0; k < h->plan->columns; k++) {
        double order = h->plan->column[k];
        ht_phasor_fill(h->cosine, h->sine, hop->turns, order, hop->padded);
        struct ht_phasor turn = ht_phasor_of(-order * hop->start_turns);
        for (size_t c = 0; c < channels; c++) {
            struct ht_phasor all, up;
            ht_phasor_sums(&hop->x[c * h->room], &hop->up[c * h->room],
                           h->cosine, h->sine, hop->padded, &all, &up);
            struct ht_phasor down = { all.re - up.re, all.im - up.im };
            hop->rising[k * channels + c] = (struct ht_phasor){
                up.re * turn.re - up.im * turn.im,
                up.re * turn.im + up.im * turn.re
            };
            hop->falling[k * channels + c] = (struct ht_phasor){
                down.re * turn.re - down.im * turn.im,
                down.re * turn.im + down.im * turn.re
            };
        }
    }
}

bool ht_hopper_next(struct ht_hopper *h, struct ht_hop *hop)
{
    hop->fastest = hop->weight_rising = hop->weight_falling = 0;
    hop->start_turns = h->next_turns;
    hop->start_s = ht_frame_time(h->recording, (double)h->frame);
    if (!read_angles(h, hop))
        return false;
    pad(hop);
    read_samples(h, hop);
    h->frame += hop->samples;
    hop->end_s = ht_frame_time(h->recording, (double)h->frame);
    sum_columns(h, hop);
    h->next++;
    h->next_turns = h->first_turns + (double)h->next * h->half_turns;
    return true;
}

void ht_hopper_spectrum(struct ht_hopper *h, const struct ht_hop *first,
                        const struct ht_hop *second, size_t channel,
                        double scale, double *power)
{
    struct ht_spectrum *s = &h->spectrum;
    const double *up = &first->up[channel * h->room];
    const double *all = &second->x[channel * h->room];
    const double *back = &second->up[channel * h->room];
    ht_spectrum_clear(s);
    for (size_t i = 0; i < first->samples; i++)
        h->value[i] = (float)up[i];
    ht_spectrum_add(s, first->drop, h->value, first->samples, 0);
    for (size_t i = 0; i < second->samples; i++)
        h->value[i] = (float)(all[i] - back[i]);
    ht_spectrum_add(s, second->drop, h->value, second->samples, s->cells / 2);
    ht_spectrum_run(s, scale, power);
}
