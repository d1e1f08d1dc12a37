/* drive_maker.c - a drive from its request; the engine; the truth. */
#include "drive_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define IDLE_HZ 13.0
#define SHIFT_S 0.5

struct drive_request drive_request_for(uint64_t seed, enum drive_fault fault)
{
    return (struct drive_request){
        .seed = seed,
        .fault = fault,
        .duration_s = 110,
        .rate_hz = 500,
        .severity_m_s2 = NAN,
        .noise_m_s2 = NAN,
        .healthy_low_m_s2 = 0.005,
        .healthy_high_m_s2 = 0.025,
        .low_km_h = 45,
        .high_km_h = 118,
        .bumps = true,
        .dc_coupled = true,
        .tilt_rad = 0.1,
        .heading_rad = 0.05,
        .bits = 16,
        .full_scale_m_s2 = 39.2266,
        .log_rate_hz = 1,
        .log_lag_s = NAN,
        .log_scale = NAN,
        .log_step_km_h = 0.1,
        .log_noise_m_s = 0.05,
    };
}

const char *drive_fault_name(enum drive_fault fault)
{
    static const char *const names[DRIVE_FAULTS] = {
        "healthy",         "wheel-unbalance",  "tyre-uniformity",
        "shaft-unbalance", "angle-mismatch",   "joint-couple",
        "engine-misfire",  "half-shaft-joint", "fixed-line",
    };
    return names[fault];
}

/* Shift up above 2400 engine rev/min, down below 1300; a changed ratio blends
 * in over half a second. */
static double gear_ratio_now(struct drive *drive, double shaft_hz,
                             unsigned *gear, double *blended)
{
    const struct drive_vehicle *vehicle = &drive->vehicle;
    if (drive->request.shifts) {
        double rpm = 60 * shaft_hz * vehicle->gear_ratio[*gear - 1];
        bool settled =
            fabs(*blended / vehicle->gear_ratio[*gear - 1] - 1) < .01;
        if (settled && rpm > 2400 && *gear < vehicle->gears)
            (*gear)++;
        else if (settled && rpm < 1300 && *gear > 1)
            (*gear)--;
    }
    double wanted = vehicle->gear_ratio[*gear - 1];
    double most = 1 / (SHIFT_S * drive->rate_hz);
    double step = fmax(-most, fmin(most, wanted - *blended));
    return *blended += step;
}

void drive_make_engine(struct drive *drive)
{
    unsigned gear = drive->request.shifts ? 1 : drive->vehicle.gear;
    double blended = drive->vehicle.gear_ratio[gear - 1];
    double last = drive_turns_at(drive, 0);
    drive->engine_turns[0] = 0;
    drive->gear_at[0] = (unsigned char)gear;
    for (size_t i = 1; i < drive->frames; i++) {
        double now = drive_turns_at(drive, (double)i / drive->rate_hz);
        double shaft = (now - last) * drive->vehicle.axle_ratio;
        double ratio =
            gear_ratio_now(drive, shaft * drive->rate_hz, &gear, &blended);
        double turned = fmax(shaft * ratio, IDLE_HZ / drive->rate_hz);
        drive->engine_turns[i] = drive->engine_turns[i - 1] + turned;
        drive->gear_at[i] = (unsigned char)gear;
        last = now;
    }
}

/* Yaw, then pitch, then roll of the mount. */
static void draw_mount(struct drive *drive, struct random_source *source)
{
    double tilt = drive->request.tilt_rad, turn = drive->request.heading_rad;
    double roll = random_uniform(source, -tilt, tilt);
    double pitch = random_uniform(source, -tilt, tilt);
    double yaw = random_uniform(source, -turn, turn);
    double cr = cos(roll), sr = sin(roll), cp = cos(pitch), sp = sin(pitch);
    double cy = cos(yaw), sy = sin(yaw);
    double rows[3][3] = {
        { cy * cp, sy * cp, -sp },
        { cy * sp * sr - sy * cr, sy * sp * sr + cy * cr, cp * sr },
        { cy * sp * cr + sy * sr, sy * sp * cr - cy * sr, cp * cr }
    };
    memcpy(drive->mount, rows, sizeof rows);
}

static bool get_memory(struct drive *drive)
{
    size_t points = drive->frames / DRIVE_STEP + 3;
    bool fine = true;
    for (int a = 0; a < DRIVE_AXES; a++)
        fine &=
            (drive->samples[a] = calloc(drive->frames, sizeof(float))) != NULL;
    for (size_t i = 0; i < drive->lines; i++)
        fine &=
            (drive->line[i].envelope = calloc(points, sizeof(float))) != NULL;
    drive->engine_turns = calloc(drive->frames, sizeof(double));
    drive->gear_at = calloc(drive->frames, 1);
    drive->log_time_s = calloc(drive->log_rows, sizeof(double));
    drive->log_speed_m_s = calloc(drive->log_rows, sizeof(double));
    return fine && drive->engine_turns && drive->gear_at && drive->log_time_s &&
           drive->log_speed_m_s;
}

static double drawn(double given, double otherwise)
{
    return isfinite(given) ? given : otherwise;
}

struct drive *drive_make(const struct drive_request *request)
{
    struct drive *drive = calloc(1, sizeof *drive);
    if (!drive || request->duration_s < 1 || request->rate_hz < 20) {
        free(drive);
        return NULL;
    }
    struct random_source source = { request->seed * 1000003u +
                                    (uint64_t)request->fault };
    drive->request = *request;
    drive->duration_s = drive->judged_to_s = request->duration_s;
    drive->rate_hz = request->rate_hz;
    drive->frames = (size_t)(request->duration_s * request->rate_hz);
    drive->log_rows = (size_t)(request->duration_s * request->log_rate_hz) + 1;
    drive_draw_vehicle(drive, &source);
    drive_draw_lines(drive, &source);
    drive_plan_speed(drive, &source);
    draw_mount(drive, &source);
    drive->grade = random_uniform(&source, -0.01, 0.01);
    drive->noise_m_s2 = drawn(request->noise_m_s2,
                              exp(random_uniform(&source, log(.05), log(.2))));
    drive->lag_s = drawn(request->log_lag_s, random_uniform(&source, 0, 1));
    drive->scale =
        drawn(request->log_scale, random_uniform(&source, 0.95, 1.05));
    if (!get_memory(drive)) {
        drive_free(drive);
        return NULL;
    }
    drive_make_engine(drive);
    drive_make_samples(drive, &source);
    drive_make_log(drive, &source);
    return drive;
}

void drive_free(struct drive *drive)
{
    if (!drive)
        return;
    for (int a = 0; a < DRIVE_AXES; a++)
        free(drive->samples[a]);
    for (size_t i = 0; i < drive->lines; i++)
        free(drive->line[i].envelope);
    free(drive->engine_turns);
    free(drive->gear_at);
    free(drive->log_time_s);
    free(drive->log_speed_m_s);
    free(drive);
}

/* How much of a line's level one sensor axis sees; -1: all of it. */
static double axis_gain(const struct drive *drive,
                        const struct drive_line *line, int axis)
{
    double in_phase[DRIVE_AXES], quadrature[DRIVE_AXES];
    if (axis < 0)
        return 1;
    drive_turn_to_sensor(drive, line->in_phase, in_phase);
    drive_turn_to_sensor(drive, line->quadrature, quadrature);
    return hypot(in_phase[axis], quadrature[axis]);
}

static const struct drive_line *main_line(const struct drive *drive,
                                          enum drive_part part, double multiple)
{
    for (size_t i = 0; i < drive->lines; i++)
        if (drive->line[i].part == part && drive->line[i].off == 0 &&
            drive->line[i].multiple == multiple)
            return &drive->line[i];
    return NULL;
}

/* Mean of the level, or of its square, over the turns driven there. */
static double mean_level(const struct drive *drive,
                         const struct drive_line *line, bool squared,
                         double from_m_s, double to_m_s)
{
    double step_s = DRIVE_STEP / drive->rate_hz, sum = 0, turns = 0;
    for (size_t i = 0; i * DRIVE_STEP < drive->frames; i++) {
        double time_s = (double)i * step_s;
        double speed = drive_speed_at(drive, time_s);
        if (speed < from_m_s || speed >= to_m_s ||
            time_s < drive->judged_from_s || time_s > drive->judged_to_s)
            continue;
        double driven = speed * step_s / drive->vehicle.circumference_m;
        double level = line ? (double)line->envelope[i] : 0;
        turns += driven;
        sum += driven * (squared ? level * level : level);
    }
    return turns < 5 ? NAN : sum / turns;
}

double drive_truth(const struct drive *drive, enum drive_part part,
                   double multiple, int axis, double from_m_s, double to_m_s)
{
    const struct drive_line *line = main_line(drive, part, multiple);
    double mean = mean_level(drive, line, false, from_m_s, to_m_s);
    return line ? mean * axis_gain(drive, line, axis) : mean;
}

double drive_truth_rms(const struct drive *drive, enum drive_part part,
                       double multiple, int axis, double from_m_s,
                       double to_m_s)
{
    const struct drive_line *line = main_line(drive, part, multiple);
    double mean = mean_level(drive, line, true, from_m_s, to_m_s);
    return line ? sqrt(mean) * axis_gain(drive, line, axis) : mean;
}
