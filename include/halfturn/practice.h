/* practice.h - made-up drives with known faults, for samples and training.
 *
 * Simple physics: a force that turns with a part, through one mode of the
 * body, onto a sensor that also feels gravity and the road. Same request,
 * same numbers on one machine. SI; vehicle axes x forward, y left, z up.
 * Method and limits: docs/practice.md.
 */
#ifndef HALFTURN_PRACTICE_H
#define HALFTURN_PRACTICE_H

#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    HT_PRACTICE_LEGS_MAX = 48,
    HT_PRACTICE_FORCES_MAX = 24,
    HT_PRACTICE_AXES = 3
};

/* Reach to_m_s within `within_s`, then hold it for hold_s. */
struct ht_practice_leg {
    double to_m_s, within_s, hold_s;
};

struct ht_practice_force {
    double turns;        /* of the part, per wheel turn */
    double multiple;     /* cycles per turn of the part */
    double level_m_s2;   /* peak at the sensor at the reference speed */
    double power;        /* force ~ speed^power: 2 unbalance and joint angles,
                            0 force variation, firing */
    double pull_share;   /* 0..1: share that follows the pull */
    double mode_hz;      /* the body's mode it passes; 0: none (flat) */
    double mode_damping; /* ratio to critical */
    double along[HT_PRACTICE_AXES]; /* direction; any length */
};

struct ht_practice_request {
    uint64_t seed;
    double rate_hz;
    double circumference_m; /* what the tyre really rolls */
    double start_m_s, reference_m_s;
    size_t legs;
    struct ht_practice_leg leg[HT_PRACTICE_LEGS_MAX];
    size_t forces;
    struct ht_practice_force force[HT_PRACTICE_FORCES_MAX];
    double road_noise_m_s2;     /* rms of an axis at the reference speed */
    double sensor_noise_m_s2;   /* rms of an axis */
    double roll_rad, pitch_rad; /* how the sensor is mounted */
    double log_step_s, log_lag_s, log_step_m_s, log_noise_m_s;
};

struct ht_practice {
    double rate_hz;
    size_t frames, log_rows;
    float *samples[HT_PRACTICE_AXES]; /* m/s2, gravity included */
    double *log_time_s, *log_speed_m_s;
    void *memory;
};

/* Adds the forces that a cause makes: an id of the catalogue, for instance
 * "angle-mismatch"; shaft and engine turns per wheel turn NAN if there is
 * none. severity_m_s2: its loudest line at the reference speed. */
enum ht_status ht_practice_add_cause(struct ht_practice_request *request,
                                     const char *cause, double severity_m_s2,
                                     double shaft_turns, double engine_turns,
                                     struct ht_error *err);

enum ht_status ht_practice_make(struct ht_practice *practice,
                                const struct ht_practice_request *request,
                                struct ht_error *err);
void ht_practice_free(struct ht_practice *practice);

/* The tables a phone or logger would have written. */
void ht_practice_write_table(struct ht_text *text,
                             const struct ht_practice *practice);
void ht_practice_write_log(struct ht_text *text,
                           const struct ht_practice *practice);

#endif
