/* hop.h - half a block of wheel turns: the drive is read hop by hop. */
#ifndef HALFTURN_ORDERS_HOP_H
#define HALFTURN_ORDERS_HOP_H

#include "signal/phasor.h"
#include "plan.h"
#include "spectrum.h"

/* Two neighbouring hops make a block: the first is weighted by the rising
 * half of the Hann window, the second by the falling half. */
struct ht_hop {
    double start_turns, start_s, end_s;
    double fastest;                    /* wheel turns per second */
    size_t samples, padded;
    double weight_rising, weight_falling;
    struct ht_phasor *rising, *falling; /* [column * channels + channel] */
    double *turns;                     /* from the hop's start */
    double *spans;                     /* wheel turns that a sample stands
                                          for */
    double *window;                    /* rising half */
    double *x;                         /* [channel * room + i]: sample times
                                          the angle it spans */
    double *up;                        /* the same times the window */
    struct ht_drop *drop;
};

struct ht_hopper {
    const struct ht_plan *plan;
    const struct ht_recording *recording;
    const struct ht_turns *turns;
    double half_turns;
    size_t room;                       /* samples a hop may hold */
    size_t frame;                      /* next frame to read */
    double first_turns;                /* where the stretch starts */
    size_t next;                       /* hop of the stretch */
    double next_turns;                 /* where it starts */
    struct ht_hop hop[2];
    double *cosine, *sine;
    float *value;
    struct ht_spectrum spectrum;
    void *memory;
};

/* like: another of the same, which outlives it; NULL: none. */
bool ht_hopper_create(struct ht_hopper *hopper, const struct ht_plan *plan,
                      const struct ht_recording *recording,
                      const struct ht_turns *turns, size_t lines,
                      const struct ht_hopper *like);
void ht_hopper_free(struct ht_hopper *hopper);

/* From a hop of the stretch that begins at from_s. */
void ht_hopper_start(struct ht_hopper *hopper, double from_s, size_t hop);
/* Reads the next hop. False at the end of the recording or when a hop would
 * not fit (slower than 1.5 turns per second). */
bool ht_hopper_next(struct ht_hopper *hopper, struct ht_hop *hop);

void ht_hopper_spectrum(struct ht_hopper *hopper, const struct ht_hop *first,
                        const struct ht_hop *second, size_t channel,
                        double scale, double *power);

#endif
