/* drive_maker.h - made-up drives whose every line is known: the test
 * generator. Shares no code with the library, so that a mistake there cannot
 * hide here. Deterministic: one seed, one drive.
 *
 * Units: m, s, m/s, m/s2, Hz, wheel turns. Vehicle frame x forward, y left,
 * z up; the sensor is turned against it by a mounting rotation.
 */
#ifndef HALFTURN_TESTS_DRIVE_MAKER_H
#define HALFTURN_TESTS_DRIVE_MAKER_H

#include "random.h"

#include <stdbool.h>
#include <stddef.h>

enum drive_fault {
    DRIVE_HEALTHY,
    DRIVE_WHEEL_UNBALANCE,  /* 1x wheel, speed squared */
    DRIVE_TYRE_UNIFORMITY,  /* 1x 2x 3x wheel, nearly flat */
    DRIVE_SHAFT_UNBALANCE,  /* 1x shaft, speed squared */
    DRIVE_ANGLE_MISMATCH,   /* 2x shaft, speed squared; the sheet's angles */
    DRIVE_JOINT_COUPLE,     /* 2x shaft, flat, follows torque */
    DRIVE_ENGINE_MISFIRE,   /* 0.5x engine, with 1x and 1.5x, follows torque */
    DRIVE_HALF_SHAFT_JOINT, /* 3x wheel, follows torque */
    DRIVE_FIXED_LINE,       /* one frequency at every speed */
    DRIVE_FAULTS
};

enum drive_part { DRIVE_WHEEL, DRIVE_SHAFT, DRIVE_ENGINE, DRIVE_FIXED };

enum {
    DRIVE_LINES_MAX = 40,
    DRIVE_GEARS_MAX = 8,
    DRIVE_LEGS_MAX = 64,
    DRIVE_WOBBLES = 4,
    DRIVE_AXES = 3,
    DRIVE_STEP = 16 /* samples between two points of a line's level */
};

/* Start with drive_request_for and change what matters. NAN: drawn. */
struct drive_request {
    uint64_t seed;
    enum drive_fault fault;
    double duration_s, rate_hz;
    double severity_m_s2; /* of the fault at 100 km/h; drawn 0.02 to 0.6,
                             log-uniform */
    double noise_m_s2;    /* rms of one axis at 100 km/h; drawn .05 to .2 */
    double healthy_low_m_s2, healthy_high_m_s2; /* the other lines */
    double low_km_h, high_km_h;                 /* speeds driven */
    bool modes;        /* each family passes a resonance */
    bool second_wheel; /* 1x wheel once more, 0.2 to 0.6 % off: beats */
    bool bumps;
    bool shifts; /* automatic gear changes; else one gear held */
    bool from_standstill;
    bool direct_allowed;  /* the gear held may be 1:1 */
    unsigned fixed_lines; /* healthy lines of fixed frequency */
    bool dc_coupled;      /* gravity and slow forces are in the samples */
    double tilt_rad;      /* largest roll and pitch of the mount */
    double heading_rad;   /* largest yaw of it */
    unsigned bits;        /* 16: quantised to full_scale / 32768; 0: not */
    double full_scale_m_s2;
    double log_rate_hz, log_lag_s, log_scale, log_step_km_h, log_noise_m_s;
};

struct drive_line {
    enum drive_part part;
    double multiple;     /* of the part's turns; DRIVE_FIXED: Hz */
    double off;          /* relative offset of the turns; second wheel */
    double level_m_s2;   /* at 100 km/h, norm over the axes */
    double exponent;     /* level ~ speed^exponent */
    double torque_share; /* level x (1 - share + share x pull / 1 m/s2) */
    double in_phase[DRIVE_AXES], quadrature[DRIVE_AXES]; /* vehicle frame */
    bool is_fault;
    float *envelope; /* every DRIVE_STEP samples: level there, m/s2 */
};

struct drive_leg { /* from from_m_s to to_m_s with smooth acceleration */
    double start_s, length_s, from_m_s, to_m_s, start_m;
};

struct drive_vehicle {
    char tyre[24];
    double nominal_m, circumference_m; /* 3.05 rule; what it really rolls */
    int ring, pinion;
    double axle_ratio;
    size_t gears;
    double gear_ratio[DRIVE_GEARS_MAX];
    int cylinders;
    unsigned gear;       /* held; with shifts: the top one */
    double slope_deg[3]; /* gearbox, shaft, pinion; + = rear end lower */
};

struct drive {
    struct drive_request request;
    struct drive_vehicle vehicle;
    size_t legs, lines, frames, log_rows;
    struct drive_leg leg[DRIVE_LEGS_MAX];
    struct {
        double m_s, rad_s, phase;
    } wobble[DRIVE_WOBBLES];
    struct drive_line line[DRIVE_LINES_MAX];
    double mode_hz[3], mode_q[3], mode_gain[3]; /* per family */
    double mount[DRIVE_AXES][DRIVE_AXES];       /* sensor = mount x vehicle */
    double duration_s, rate_hz, lag_s, scale;
    double judged_from_s, judged_to_s; /* the truth counts turns driven in
                                          between; at first the whole drive */
    double grade, noise_m_s2;
    float *samples[DRIVE_AXES]; /* sensor axes, m/s2 */
    double *engine_turns;       /* at every sample */
    unsigned char *gear_at;     /* at every sample */
    double *log_time_s, *log_speed_m_s;
};

struct drive_request drive_request_for(uint64_t seed, enum drive_fault fault);

/* NULL: out of memory or a request that makes no sense. */
struct drive *drive_make(const struct drive_request *request);
void drive_free(struct drive *drive);

/* The exact history, closed form. */
double drive_turns_at(const struct drive *drive, double time_s);
double drive_speed_at(const struct drive *drive, double time_s);
double drive_acceleration_at(const struct drive *drive, double time_s);

/* Truth: amplitude of an order averaged over the wheel turns driven between
 * two speeds, within the times to be judged; axis 0..2 as the sensor sees it,
 * -1: root of the sum of squares over the axes. The beat partner of a second
 * wheel is left out. 0: no such line; NAN: fewer than 5 turns driven there. */
double drive_truth(const struct drive *drive, enum drive_part part,
                   double multiple, int axis, double from_m_s, double to_m_s);
/* The same, root of the mean square over those turns: what power averaging
 * reads where a line follows the torque. */
double drive_truth_rms(const struct drive *drive, enum drive_part part,
                       double multiple, int axis, double from_m_s,
                       double to_m_s);
/* Wheel turns driven between two speeds. */
double drive_turns_between(const struct drive *drive, double from_m_s,
                           double to_m_s);

const char *
drive_fault_name(enum drive_fault fault); /* a cause id, or "healthy",
                                             "fixed-line" */

/* Files; false: could not be written. The sheet names the two others by the
 * last part of their paths. */
bool drive_write_wav(const struct drive *drive, const char *path);
bool drive_write_table(const struct drive *drive, const char *path);
bool drive_write_log(const struct drive *drive, const char *path);
bool drive_write_sheet(const struct drive *drive, const char *path,
                       const char *recording, const char *speed);

#endif
