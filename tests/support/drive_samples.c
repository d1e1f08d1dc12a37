/* drive_samples.c - what the sensor records. */
#include "drive_parts.h"

#include <math.h>
#include <stdlib.h>

#define GRAVITY_M_S2 9.80665

static double part_turns(const struct drive *drive,
                         const struct drive_line *line, size_t frame,
                         double wheel_turns)
{
    switch (line->part) {
    case DRIVE_WHEEL:
        return wheel_turns * (1 + line->off);
    case DRIVE_SHAFT:
        return wheel_turns * drive->vehicle.axle_ratio;
    case DRIVE_ENGINE:
        return drive->engine_turns[frame];
    case DRIVE_FIXED:
        break;
    }
    return (double)frame / drive->rate_hz;
}

static double line_hz(const struct drive *drive, const struct drive_line *line,
                      size_t frame)
{
    double time_s = (double)frame / drive->rate_hz;
    double wheel_hz =
        drive_speed_at(drive, time_s) / drive->vehicle.circumference_m;
    if (line->part == DRIVE_FIXED)
        return line->multiple;
    if (line->part == DRIVE_ENGINE && frame + 1 < drive->frames)
        return line->multiple * drive->rate_hz *
               (drive->engine_turns[frame + 1] - drive->engine_turns[frame]);
    double per_wheel =
        line->part == DRIVE_WHEEL ? 1 : drive->vehicle.axle_ratio;
    return line->multiple * per_wheel * wheel_hz;
}

/* |1 + g B(f)|, B the band-pass form of a mode, 1 at its own frequency. */
static double mode_factor(const struct drive *drive,
                          const struct drive_line *line, double hz)
{
    if (line->part == DRIVE_FIXED || drive->mode_gain[line->part] == 0)
        return 1;
    double r = hz / drive->mode_hz[line->part];
    double damping = r / drive->mode_q[line->part];
    double below = (1 - r * r) * (1 - r * r) + damping * damping;
    double gain = drive->mode_gain[line->part];
    double real = 1 + gain * damping * damping / below;
    double imaginary = gain * damping * (1 - r * r) / below;
    return sqrt(real * real + imaginary * imaginary);
}

/* What the driving wheels push with, per mass: specific force along the road
 * plus road load 0.12 + 0.2 (v / 100 km/h)^2. */
static double pull_at(const struct drive *drive, double time_s)
{
    double relative = drive_speed_at(drive, time_s) / REFERENCE_M_S;
    return drive_acceleration_at(drive, time_s) + GRAVITY_M_S2 * drive->grade +
           0.12 + 0.2 * relative * relative;
}

static void make_envelope(struct drive *drive, struct drive_line *line)
{
    size_t points = drive->frames / DRIVE_STEP + 2;
    for (size_t i = 0; i < points; i++) {
        size_t frame = i * DRIVE_STEP;
        if (frame >= drive->frames)
            frame = drive->frames - 1;
        double time_s = (double)frame / drive->rate_hz;
        double speed = fmax(0, drive_speed_at(drive, time_s));
        double level =
            line->level_m_s2 * pow(speed / REFERENCE_M_S, line->exponent);
        if (line->part == DRIVE_FIXED)
            level = line->level_m_s2;
        double torque = fmin(1.5, fmax(0.05, pull_at(drive, time_s)));
        level *= 1 - line->torque_share + line->torque_share * torque;
        double hz = line_hz(drive, line, frame);
        line->envelope[i] = (float)(level * mode_factor(drive, line, hz));
    }
}

static double envelope_at(const struct drive_line *line, size_t frame)
{
    size_t i = frame / DRIVE_STEP;
    double part = (double)(frame % DRIVE_STEP) / DRIVE_STEP;
    return (double)line->envelope[i] * (1 - part) +
           (double)line->envelope[i + 1] * part;
}

/* The line's direction as the sensor's axes see it. */
void drive_turn_to_sensor(const struct drive *drive, const double *vehicle,
                          double *sensor)
{
    for (int a = 0; a < DRIVE_AXES; a++) {
        sensor[a] = 0;
        for (int b = 0; b < DRIVE_AXES; b++)
            sensor[a] += drive->mount[a][b] * vehicle[b];
    }
}

static void add_line_samples(struct drive *drive, const struct drive_line *line,
                             const double *wheel_turns)
{
    double in_phase[DRIVE_AXES], quadrature[DRIVE_AXES];
    drive_turn_to_sensor(drive, line->in_phase, in_phase);
    drive_turn_to_sensor(drive, line->quadrature, quadrature);
    for (size_t i = 0; i < drive->frames; i++) {
        double cycles =
            line->multiple * part_turns(drive, line, i, wheel_turns[i]);
        double angle = TWO_PI * (cycles - floor(cycles));
        double level = envelope_at(line, i);
        double c = level * cos(angle), s = level * sin(angle);
        for (int a = 0; a < DRIVE_AXES; a++)
            drive->samples[a][i] +=
                (float)(in_phase[a] * c - quadrature[a] * s);
    }
}

/* Road noise: white through a 25 Hz low-pass plus two ringing modes, scaled to
 * its rms, growing with speed^1.3; a floor of the sensor's own. */
static void add_noise(struct drive *drive, int axis,
                      struct random_source *source)
{
    static const double mode_hz[] = { 11, 42 };
    double low = 0, state[2][2] = { { 0 } }, power = 0;
    double rate = drive->rate_hz;
    double pole = exp(-TWO_PI * 25 / rate);
    float *noise = malloc(drive->frames * sizeof *noise);
    if (!noise)
        return;
    for (size_t i = 0; i < drive->frames; i++) {
        double white = random_normal(source);
        low = pole * low + (1 - pole) * white;
        double sum = low;
        for (int m = 0; m < 2; m++) {
            double radius = exp(-TWO_PI * mode_hz[m] * 0.06 / rate);
            double next =
                2 * radius * cos(TWO_PI * mode_hz[m] / rate) * state[m][0] -
                radius * radius * state[m][1] + (1 - radius) * white;
            state[m][1] = state[m][0];
            state[m][0] = next;
            sum += 0.5 * next;
        }
        noise[i] = (float)sum;
        power += sum * sum;
    }
    double scale = drive->noise_m_s2 / sqrt(power / (double)drive->frames);
    for (size_t i = 0; i < drive->frames; i++) {
        double speed = fmax(0, drive_speed_at(drive, (double)i / rate));
        double level = scale * pow(speed / REFERENCE_M_S, 1.3);
        drive->samples[axis][i] +=
            (float)(level * (double)noise[i] + 0.004 * random_normal(source));
    }
    free(noise);
}

/* A seam in the road every 8 s on average rings the body at 9 to 16 Hz. */
static void add_bumps(struct drive *drive, struct random_source *source)
{
    double time_s = 0;
    for (;;) {
        time_s -= 8 * log(random_uniform(source, 1e-9, 1));
        if (time_s > drive->duration_s)
            return;
        double hz = random_uniform(source, 9, 16);
        double level = random_uniform(source, 0.3, 1.2);
        size_t from = (size_t)(time_s * drive->rate_hz);
        size_t to = from + (size_t)drive->rate_hz;
        for (size_t i = from; i < to && i < drive->frames; i++) {
            double since_s = (double)(i - from) / drive->rate_hz;
            double value = level * exp(-0.1 * TWO_PI * hz * since_s) *
                           sin(TWO_PI * hz * since_s);
            for (int a = 0; a < DRIVE_AXES; a++)
                drive->samples[a][i] += (float)(value * drive->mount[a][2]);
        }
    }
}

/* What a sensor that answers down to 0 Hz also feels: gravity, the grade, the
 * vehicle speeding up, and slow bends. */
static void add_slow_forces(struct drive *drive, double bend_phase)
{
    for (size_t i = 0; i < drive->frames; i++) {
        double time_s = (double)i / drive->rate_hz;
        double vehicle[DRIVE_AXES] = { drive_acceleration_at(drive, time_s) +
                                           GRAVITY_M_S2 * drive->grade,
                                       0.3 * sin(TWO_PI * 0.03 * time_s +
                                                 bend_phase),
                                       GRAVITY_M_S2 },
               sensor[DRIVE_AXES];
        drive_turn_to_sensor(drive, vehicle, sensor);
        for (int a = 0; a < DRIVE_AXES; a++)
            drive->samples[a][i] += (float)sensor[a];
    }
}

static void quantise(struct drive *drive)
{
    if (drive->request.bits != 16)
        return;
    double step = drive->request.full_scale_m_s2 / 32768;
    for (int a = 0; a < DRIVE_AXES; a++)
        for (size_t i = 0; i < drive->frames; i++) {
            double counts = round((double)drive->samples[a][i] / step);
            counts = fmax(-32768, fmin(32767, counts));
            drive->samples[a][i] = (float)(counts * step);
        }
}

void drive_make_samples(struct drive *drive, struct random_source *source)
{
    double *wheel_turns = malloc(drive->frames * sizeof *wheel_turns);
    if (!wheel_turns)
        return;
    for (size_t i = 0; i < drive->frames; i++)
        wheel_turns[i] = drive_turns_at(drive, (double)i / drive->rate_hz);
    for (size_t i = 0; i < drive->lines; i++) {
        make_envelope(drive, &drive->line[i]);
        add_line_samples(drive, &drive->line[i], wheel_turns);
    }
    free(wheel_turns);
    for (int a = 0; a < DRIVE_AXES; a++)
        add_noise(drive, a, source);
    if (drive->request.bumps)
        add_bumps(drive, source);
    double bend_phase = random_uniform(source, 0, TWO_PI);
    if (drive->request.dc_coupled)
        add_slow_forces(drive, bend_phase);
    quantise(drive);
}
