/* published.h - rows of outside values, and this library's answers to them as
 * functions of the row's own numbers. Degrees, rpm, SI else. */
#ifndef HALFTURN_TESTS_PUBLISHED_H
#define HALFTURN_TESTS_PUBLISHED_H

#include "close.h"

#include "halfturn/effects.h"

#include <math.h>
#include <stdio.h>

#define PI 3.14159265358979323846
#define DEG (PI / 180)
#define COUNT(rows) (sizeof(rows) / sizeof *(rows))

typedef double answer(const double *with);

#define DANA "Dana industrial drive-shaft catalogue, Hooke's joints"
#define DERIVED "derived, closed form"
#define CHAIN "derived, an independent pin chain"
#define MAPS "derived, two exact maps composed, apart from this code"
#define ELBE "ELBE technical pages, resulting angle"
#define KLEIN "Klein technical pages, bearing forces"
#define GWB "Dana, Cardan Shafts for Industrial Applications, p. 46"
#define BEAM "simply supported beam, first mode, any vibration handbook"
#define KHURMI "Khurmi and Gupta, Theory of Machines, from memory"
#define RATTAN "Rattan, Theory of Machines, from memory"
#define EXAM "examination page"

static inline double rad_s(double rpm)
{
    return rpm * PI / 30;
}

/* ---- one joint: bend, rotation ------------------------------------------- */

static inline double driven(const double *with)
{
    return ht_joint_driven_rad(with[0] * DEG, with[1] * DEG) / DEG;
}

static inline double ratio(const double *with)
{
    return ht_joint_ratio(with[0] * DEG, with[1] * DEG);
}

static inline double equal_speed(const double *with)
{
    return ht_joint_equal_speed_rad(with[0] * DEG) / DEG;
}

static inline double term(const double *with)
{
    return ht_joint_harmonic_rad(with[0] * DEG, (unsigned)with[1]);
}

static inline double peak_error(const double *with)
{
    return ht_joint_peak_error_rad(with[0] * DEG) / DEG;
}

static inline double unevenness(const double *with)
{
    return ht_joint_unevenness(with[0] * DEG);
}

static inline double bend_for(const double *with)
{
    return ht_joint_bend_of_unevenness(with[0]) / DEG;
}

/* rpm, bend, inertia or 1 */
static inline double peak(const double *with)
{
    return with[2] * rad_s(with[0]) * rad_s(with[0]) *
           ht_joint_peak_acceleration(with[1] * DEG).factor;
}

/* rpm, bend, joints whose extremes coincide */
static inline double fastest(const double *with)
{
    return with[0] * pow(ht_joint_ratio(with[1] * DEG, 0), with[2]);
}

static inline double slowest(const double *with)
{
    return with[0] * pow(ht_joint_ratio(with[1] * DEG, PI / 2), with[2]);
}

/* young, density, unit length: n L^2 / sqrt(D^2 + d^2) in that unit, rpm */
static inline double speed_constant(const double *with)
{
    double wall = 0.05 * with[2], outer = 1.5 * with[2], length = 20 * with[2];
    double speed =
        ht_critical_speed_rad_s(length, outer, wall, with[0], with[1]);
    return speed * 30 / PI * 20 * 20 / hypot(1.5, 1.4);
}

/* share, of 3.0 x 0.065 x 60 in: 30e6 psi, 0.283 lb/in^3, 386.089 in/s^2 */
static inline double inch_tube(const double *with)
{
    return with[0] * 30 / PI *
           ht_critical_speed_rad_s(60, 3, 0.065, 30e6, 0.283 / 386.089);
}

struct row {
    int number;
    const char *what, *source;
    answer *of;
    double with[16], wanted, tolerance;
    bool relative;
};

#define ABS(tolerance) tolerance, false
#define REL(tolerance) tolerance, true

static inline void hold(const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct row *row = &rows[i];
        double got = row->of(row->with);
        double most = row->tolerance * (row->relative ? fabs(row->wanted) : 1);
        if (!(fabs(got - row->wanted) <= most))
            print_error("row %d, %s (%s): %.12g, wanted %.12g within %.3g\n",
                        row->number, row->what, row->source, got, row->wanted,
                        most);
        assert_true(fabs(got - row->wanted) <= most);
    }
}

#endif
