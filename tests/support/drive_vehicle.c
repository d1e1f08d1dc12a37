/* drive_vehicle.c - a vehicle drawn at random, and the lines it makes. */
#include "drive_parts.h"

#include <math.h>
#include <stdio.h>

static size_t pick(struct random_source *source, size_t count)
{
    return (size_t)(random_bits(source) % count);
}

static double log_uniform(struct random_source *source, double low, double high)
{
    return exp(random_uniform(source, log(low), log(high)));
}

/* width mm, height %, rim inches */
static const int tyres[][3] = { { 195, 65, 15 }, { 205, 55, 16 },
                                { 225, 45, 17 }, { 215, 65, 16 },
                                { 235, 65, 16 }, { 245, 70, 16 } };

static void draw_tyre(struct drive_vehicle *vehicle,
                      struct random_source *source)
{
    const int *t = tyres[pick(source, sizeof tyres / sizeof tyres[0])];
    snprintf(vehicle->tyre, sizeof vehicle->tyre, "%d/%dR%d", t[0], t[1], t[2]);
    vehicle->nominal_m = 3.05 * (25.4 * t[2] + 0.02 * t[0] * t[1]) / 1000;
    vehicle->circumference_m =
        vehicle->nominal_m * (1 + random_uniform(source, -0.025, 0.015));
}

/* 2.9 to 4.6, and never so near a whole number that 1x shaft would be a
 * wheel order. */
static void draw_axle(struct drive_vehicle *vehicle,
                      struct random_source *source)
{
    do {
        vehicle->ring = 35 + (int)pick(source, 11);
        vehicle->pinion = 9 + (int)pick(source, 5);
        vehicle->axle_ratio = (double)vehicle->ring / vehicle->pinion;
    } while (vehicle->axle_ratio < 2.9 || vehicle->axle_ratio > 4.6 ||
             fabs(vehicle->axle_ratio - round(vehicle->axle_ratio)) < 0.08);
}

static void draw_gears(struct drive_vehicle *vehicle, bool direct_allowed,
                       struct random_source *source)
{
    vehicle->gears = 5 + pick(source, 2);
    double first = random_uniform(source, 3.2, 4.5);
    double top = random_uniform(source, 0.65, 0.9);
    double step = pow(top / first, 1.0 / (double)(vehicle->gears - 1));
    for (size_t i = 0; i < vehicle->gears; i++)
        vehicle->gear_ratio[i] =
            round(1000 * first * pow(step, (double)i)) / 1000;
    if (random_bits(source) & 1)
        vehicle->gear_ratio[vehicle->gears - 2] = 1;
    vehicle->gear = (unsigned)(vehicle->gears - pick(source, 2));
    if (!direct_allowed &&
        fabs(vehicle->gear_ratio[vehicle->gear - 1] - 1) < 0.04)
        vehicle->gear = (unsigned)vehicle->gears;
}

/* One shaft with two joints; the angles at both ends cancel within what a
 * gauge shows, unless they are the fault. */
static void draw_angles(struct drive *drive, struct random_source *source)
{
    double front = random_uniform(source, 1.2, 2.2);
    double slope = random_uniform(source, 2, 4);
    double off = drive->request.fault == DRIVE_ANGLE_MISMATCH
                     ? random_uniform(source, 2.0, 3.0)
                     : random_uniform(source, -0.2, 0.2);
    drive->vehicle.slope_deg[0] = round(20 * slope) / 20;
    drive->vehicle.slope_deg[1] = round(20 * (slope + front)) / 20;
    drive->vehicle.slope_deg[2] = round(20 * (slope - off)) / 20;
}

void drive_draw_vehicle(struct drive *drive, struct random_source *source)
{
    static const int cylinders[] = { 3, 4, 4, 6, 8 };
    draw_tyre(&drive->vehicle, source);
    draw_axle(&drive->vehicle, source);
    draw_gears(&drive->vehicle, drive->request.direct_allowed, source);
    drive->vehicle.cylinders = cylinders[pick(source, 5)];
    if (drive->request.shifts)
        drive->vehicle.gear = (unsigned)drive->vehicle.gears;
    draw_angles(drive, source);
}

/* A direction of length 1 with a phase of its own on every axis; `up` of the
 * power is vertical. */
static void draw_direction(struct drive_line *line, double up,
                           struct random_source *source)
{
    double share[DRIVE_AXES] = { random_uniform(source, 0.2, 0.8), 0, up };
    share[0] *= 1 - up;
    share[1] = 1 - up - share[0];
    for (int axis = 0; axis < DRIVE_AXES; axis++) {
        double phase = random_uniform(source, 0, TWO_PI);
        line->in_phase[axis] = sqrt(share[axis]) * cos(phase);
        line->quadrature[axis] = sqrt(share[axis]) * sin(phase);
    }
}

static struct drive_line *add_line(struct drive *drive, enum drive_part part,
                                   double multiple, double level_m_s2,
                                   double exponent,
                                   struct random_source *source)
{
    struct drive_line *line = &drive->line[drive->lines++];
    *line = (struct drive_line){ .part = part,
                                 .multiple = multiple,
                                 .level_m_s2 = level_m_s2,
                                 .exponent = exponent };
    draw_direction(line, random_uniform(source, 0.4, 0.8), source);
    return line;
}

static const struct fault_line {
    enum drive_fault fault;
    enum drive_part part;
    double multiple, share, exponent, torque_share;
} fault_lines[] = {
    { DRIVE_WHEEL_UNBALANCE, DRIVE_WHEEL, 1, 1, 2, 0 },
    { DRIVE_TYRE_UNIFORMITY, DRIVE_WHEEL, 1, 1, 0.5, 0 },
    { DRIVE_TYRE_UNIFORMITY, DRIVE_WHEEL, 2, 0.7, 0.5, 0 },
    { DRIVE_TYRE_UNIFORMITY, DRIVE_WHEEL, 3, 0.4, 0.5, 0 },
    { DRIVE_SHAFT_UNBALANCE, DRIVE_SHAFT, 1, 1, 2, 0 },
    { DRIVE_ANGLE_MISMATCH, DRIVE_SHAFT, 2, 1, 2, 0 },
    { DRIVE_JOINT_COUPLE, DRIVE_SHAFT, 2, 1, 0, 0.9 },
    { DRIVE_ENGINE_MISFIRE, DRIVE_ENGINE, 0.5, 1, 0, 0.5 },
    { DRIVE_ENGINE_MISFIRE, DRIVE_ENGINE, 1, 0.4, 0, 0.5 },
    { DRIVE_ENGINE_MISFIRE, DRIVE_ENGINE, 1.5, 0.3, 0, 0.5 },
    { DRIVE_HALF_SHAFT_JOINT, DRIVE_WHEEL, 3, 1, 0, 0.9 },
};

/* The row of this fault for this order, or NULL. */
static const struct fault_line *fault_of(enum drive_fault fault,
                                         enum drive_part part, double multiple)
{
    for (size_t i = 0; i < sizeof fault_lines / sizeof fault_lines[0]; i++)
        if (fault_lines[i].fault == fault && fault_lines[i].part == part &&
            fault_lines[i].multiple == multiple)
            return &fault_lines[i];
    return NULL;
}

/* What a sound vehicle of this kind always shows. */
static const struct {
    enum drive_part part;
    double multiple;
} healthy[] = {
    { DRIVE_WHEEL, 1 },  { DRIVE_WHEEL, 2 },    { DRIVE_WHEEL, 3 },
    { DRIVE_SHAFT, 1 },  { DRIVE_SHAFT, 2 },    { DRIVE_ENGINE, 0.5 },
    { DRIVE_ENGINE, 1 }, { DRIVE_ENGINE, 1.5 },
};

static void draw_order(struct drive *drive, enum drive_part part,
                       double multiple, double severity_m_s2,
                       struct random_source *source)
{
    const struct drive_request *request = &drive->request;
    double level = log_uniform(source, request->healthy_low_m_s2,
                               request->healthy_high_m_s2);
    double exponent = random_uniform(source, 0.5, 2);
    const struct fault_line *fault = fault_of(request->fault, part, multiple);
    if (fault) {
        level = severity_m_s2 * fault->share;
        exponent = fault->exponent;
    }
    struct drive_line *line =
        add_line(drive, part, multiple, level, exponent, source);
    line->is_fault = fault != NULL;
    line->torque_share = fault ? fault->torque_share : 0;
}

static void draw_extra_lines(struct drive *drive, double severity_m_s2,
                             struct random_source *source)
{
    const struct drive_request *request = &drive->request;
    if (request->second_wheel) {
        struct drive_line *line =
            add_line(drive, DRIVE_WHEEL, 1, drive->line[0].level_m_s2 * 0.4,
                     drive->line[0].exponent, source);
        line->off = random_uniform(source, 0.002, 0.006);
    }
    for (unsigned i = 0; i < request->fixed_lines; i++)
        add_line(drive, DRIVE_FIXED, random_uniform(source, 8, 120),
                 log_uniform(source, request->healthy_low_m_s2,
                             request->healthy_high_m_s2),
                 0, source);
    if (request->fault == DRIVE_FIXED_LINE)
        add_line(drive, DRIVE_FIXED, random_uniform(source, 15, 90),
                 severity_m_s2, 0, source)
            ->is_fault = true;
}

void drive_draw_lines(struct drive *drive, struct random_source *source)
{
    double severity = drive->request.severity_m_s2;
    double drawn = log_uniform(source, 0.02, 0.6);
    if (!isfinite(severity))
        severity = drawn;
    for (size_t i = 0; i < sizeof healthy / sizeof healthy[0]; i++)
        draw_order(drive, healthy[i].part, healthy[i].multiple, severity,
                   source);
    double firing = drive->vehicle.cylinders / 2.0;
    if (firing != 1.5)
        draw_order(drive, DRIVE_ENGINE, firing, severity, source);
    draw_extra_lines(drive, severity, source);
    for (int family = 0; family < 3; family++) {
        drive->mode_hz[family] = log_uniform(source, 10, 150);
        drive->mode_q[family] = random_uniform(source, 3, 8);
        drive->mode_gain[family] =
            drive->request.modes ? random_uniform(source, 0.5, 3) : 0;
    }
}
