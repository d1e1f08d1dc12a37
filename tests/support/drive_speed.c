/* drive_speed.c - how the road speed goes, in closed form. */
#include "drive_parts.h"

#include <math.h>

/* Speed on a leg: from + (to - from) (u - sin(2 pi u) / 2 pi), u = 0..1: the
 * acceleration starts and ends at zero. */
static const struct drive_leg *leg_at(const struct drive *drive, double time_s)
{
    size_t i = drive->legs - 1;
    while (i > 0 && time_s < drive->leg[i].start_s)
        i--;
    return &drive->leg[i];
}

double drive_distance_on_leg(const struct drive_leg *leg, double since_s)
{
    double u = since_s / leg->length_s;
    double shape = u * u / 2 + (cos(TWO_PI * u) - 1) / (TWO_PI * TWO_PI);
    return leg->from_m_s * since_s +
           (leg->to_m_s - leg->from_m_s) * leg->length_s * shape;
}

double drive_turns_at(const struct drive *drive, double time_s)
{
    const struct drive_leg *leg = leg_at(drive, time_s);
    double metres =
        leg->start_m + drive_distance_on_leg(leg, time_s - leg->start_s);
    for (size_t i = 0; i < DRIVE_WOBBLES; i++)
        metres +=
            drive->wobble[i].m_s / drive->wobble[i].rad_s *
            (cos(drive->wobble[i].phase) -
             cos(drive->wobble[i].rad_s * time_s + drive->wobble[i].phase));
    return metres / drive->vehicle.circumference_m;
}

double drive_speed_at(const struct drive *drive, double time_s)
{
    const struct drive_leg *leg = leg_at(drive, time_s);
    double u = (time_s - leg->start_s) / leg->length_s;
    double speed = leg->from_m_s + (leg->to_m_s - leg->from_m_s) *
                                       (u - sin(TWO_PI * u) / TWO_PI);
    for (size_t i = 0; i < DRIVE_WOBBLES; i++)
        speed += drive->wobble[i].m_s *
                 sin(drive->wobble[i].rad_s * time_s + drive->wobble[i].phase);
    return speed;
}

double drive_acceleration_at(const struct drive *drive, double time_s)
{
    const struct drive_leg *leg = leg_at(drive, time_s);
    double u = (time_s - leg->start_s) / leg->length_s;
    double acceleration =
        (leg->to_m_s - leg->from_m_s) / leg->length_s * (1 - cos(TWO_PI * u));
    for (size_t i = 0; i < DRIVE_WOBBLES; i++)
        acceleration +=
            drive->wobble[i].m_s * drive->wobble[i].rad_s *
            cos(drive->wobble[i].rad_s * time_s + drive->wobble[i].phase);
    return acceleration;
}

static double add_leg(struct drive *drive, double start_s, double length_s,
                      double from_m_s, double to_m_s)
{
    if (drive->legs == DRIVE_LEGS_MAX)
        return start_s + length_s;
    double start_m = 0;
    if (drive->legs > 0) {
        const struct drive_leg *last = &drive->leg[drive->legs - 1];
        start_m = last->start_m + drive_distance_on_leg(last, last->length_s);
    }
    drive->leg[drive->legs++] =
        (struct drive_leg){ start_s, length_s, from_m_s, to_m_s, start_m };
    return start_s + length_s;
}

/* Sweeps between speeds at least a third of the range apart, cruises between
 * them; the first sweep runs over the whole range. */
void drive_plan_speed(struct drive *drive, struct random_source *source)
{
    const struct drive_request *request = &drive->request;
    double low = request->low_km_h / 3.6, high = request->high_km_h / 3.6;
    double at = request->from_standstill ? 0 : low, time_s = 0;
    if (request->from_standstill)
        time_s = add_leg(drive, 0, 8, 0, 0);
    double target = high;
    while (time_s < drive->duration_s) {
        double mean = random_uniform(source, 0.35, 0.9);
        double length_s = fabs(target - at) / mean;
        if (target < at && length_s > 30)
            length_s = 30;
        time_s = add_leg(drive, time_s, length_s, at, target);
        at = target;
        time_s = add_leg(drive, time_s, random_uniform(source, 3, 9), at, at);
        do
            target = random_uniform(source, low, high);
        while (fabs(target - at) < (high - low) / 3);
    }
    for (size_t i = 0; i < DRIVE_WOBBLES; i++) {
        drive->wobble[i].m_s =
            request->from_standstill ? 0 : random_uniform(source, 0.01, 0.08);
        drive->wobble[i].rad_s = TWO_PI * random_uniform(source, 0.02, 0.15);
        drive->wobble[i].phase = random_uniform(source, 0, TWO_PI);
    }
}

double drive_turns_between(const struct drive *drive, double from_m_s,
                           double to_m_s)
{
    double turns = 0, step_s = DRIVE_STEP / drive->rate_hz;
    for (size_t i = 0; i * DRIVE_STEP < drive->frames; i++) {
        double speed = drive_speed_at(drive, (double)i * step_s);
        if (speed >= from_m_s && speed < to_m_s)
            turns += speed * step_s / drive->vehicle.circumference_m;
    }
    return turns;
}

/* v_log(t) = quantised(scale v(t - lag) + noise): what a satellite receiver or
 * a vehicle's own speed reading does to the truth. */
void drive_make_log(struct drive *drive, struct random_source *source)
{
    const struct drive_request *request = &drive->request;
    double step_m_s = request->log_step_km_h / 3.6;
    for (size_t i = 0; i < drive->log_rows; i++) {
        double time_s = (double)i / request->log_rate_hz;
        double then_s = fmax(0, time_s - drive->lag_s);
        double speed = drive->scale * drive_speed_at(drive, then_s) +
                       request->log_noise_m_s * random_normal(source);
        if (step_m_s > 0)
            speed = step_m_s * round(speed / step_m_s);
        drive->log_time_s[i] = time_s;
        drive->log_speed_m_s[i] = fmax(0, speed);
    }
}
