/* joint.h - one Cardan joint, a chain of joints, and the tube between them.
 *
 * Pure: no allocation, no I/O, no globals; safe from any thread. Radians, SI.
 * The zero of the driving yoke's rotation is where its pins lie in the plane
 * of the two shafts; the other common zero, a quarter turn on, flips the sign
 * of every odd term. `bend` is the working angle, 0 <= bend < pi/2. Formulae
 * and sources: docs/angles.md.
 */
#ifndef HALFTURN_JOINT_H
#define HALFTURN_JOINT_H

#include "halfturn/angles.h"

/* Rotation of the driven shaft when the driving shaft has turned by
 * `driving_rad`; continuous over any number of turns. */
double ht_joint_driven_rad(double bend_rad, double driving_rad);

/* Driven over driving speed at that rotation, and the driven shaft's angular
 * acceleration over the driving speed squared. */
double ht_joint_ratio(double bend_rad, double driving_rad);
double ht_joint_acceleration(double bend_rad, double driving_rad);

struct ht_joint_peak {
    double factor; /* acceleration over driving speed squared, [1] */
    double at_rad; /* where in the turn, first quarter */
};
struct ht_joint_peak ht_joint_peak_acceleration(double bend_rad);

/* First rotation at which both shafts turn at the same speed. */
double ht_joint_equal_speed_rad(double bend_rad);
/* Largest lead of the driven shaft over the driving shaft. */
double ht_joint_peak_error_rad(double bend_rad);
/* Amplitude of the angle error at 2*n cycles a turn, n = 1, 2, .. */
double ht_joint_harmonic_rad(double bend_rad, unsigned n);
/* Highest minus lowest speed ratio, and the bend that has it. */
double ht_joint_unevenness(double bend_rad);
double ht_joint_bend_of_unevenness(double unevenness);
/* The single joint with this second harmonic: 2*atan(sqrt(h2)). */
double ht_joint_bend_of_harmonic(double h2_rad);

/* Bending couples that a torque brings at a bend. `steady` and `twice` are
 * the steady part and the amplitude at 2x of the driving shaft's couple in
 * the vehicle's frame. */
struct ht_joint_couples {
    double driving_peak_n_m, driven_peak_n_m, steady_n_m, twice_n_m;
};
struct ht_joint_couples ht_joint_couples(double bend_rad, double torque_n_m);

/* Angle between two members from slopes and headings, exact. */
double ht_working_angle_rad(double slope_a_rad, double heading_a_rad,
                            double slope_b_rad, double heading_b_rad);

/* A line of members front to rear, all known exactly. */
struct ht_chain {
    size_t members; /* 2..9 */
    double slope_rad[HT_MEMBERS_MAX], heading_rad[HT_MEMBERS_MAX];
    double yoke_rad[HT_MEMBERS_MAX];        /* of section m; ends ignored */
    enum ht_joint_kind kind[HT_JOINTS_MAX]; /* UNKNOWN: Cardan */
    bool from_rear;                         /* driven at the last member */
};

/* A second harmonic: output minus input angle is the real part of
 * (re - j*im) * exp(2j*input), from an arbitrary but fixed zero. */
struct ht_phasor {
    double re, im;
};

struct ht_chain_motion {
    double harmonic_rad[3];  /* amplitude at 2x, 4x, 6x */
    struct ht_phasor second; /* at 2x */
    double leftover_rad;     /* 2*atan(sqrt(harmonic_rad[0])) */
    double ripple;           /* peak of output over input speed, less 1 */
};

/* Exact: follows the pins of every joint through one turn. */
struct ht_chain_motion ht_chain_exact(const struct ht_chain *chain);
/* Output minus input angle at `steps` equal steps of one input turn, first
 * one taken as 0. */
void ht_chain_errors(const struct ht_chain *chain, size_t steps,
                     double *error_rad);
/* Closed form for small bends: the sum of tan^2(bend/2) with phase. */
struct ht_phasor ht_chain_closed_form(const struct ht_chain *chain);
/* Largest second harmonic of any section between two joints, with either end
 * of the line turning evenly; closed form. 0 with a single joint. */
double ht_chain_worst_section(const struct ht_chain *chain);
double ht_phasor_size(struct ht_phasor phasor);

/* What each rule is about, of a line that is known exactly: a working angle or
 * a difference of two in rad; of the leftover angle, of the shake passed to the
 * axle and of the worst section the amplitude in rad at 2x. `value` holds one
 * for each rule. */
void ht_rules_values(const struct ht_rules *rules,
                     const struct ht_chain *chain, double *value);

/* The same with the closed form in the place of the exact chain: several times
 * quicker, for sorting many lines. */
void ht_rules_values_closed_form(const struct ht_rules *rules,
                                 const struct ht_chain *chain, double *value);

/* The rules of options->limit_set, under the figures of options->own; with
 * neither there are none. They point into options->limits, which may not be
 * NULL, and to options->own. Fails like ht_angles_compute, and for a set that
 * does not exist. */
enum ht_status ht_rules_list(struct ht_rules *rules,
                             const struct ht_driveline *driveline,
                             const struct ht_angles_options *options,
                             struct ht_error *err);

/* The line as it was read. Fails like ht_angles_compute. */
enum ht_status ht_chain_read(struct ht_chain *line,
                             const struct ht_driveline *driveline,
                             struct ht_error *err);

/* `count` lines as likely as one another, each known exactly, that the
 * readings of the driveline leave possible; the same ones every time. Without
 * headings all run straight ahead. Fails like ht_angles_compute. */
enum ht_status ht_chain_draw(struct ht_chain *line, size_t count,
                             const struct ht_driveline *driveline,
                             struct ht_error *err);

/* First bending critical speed of a plain tube held at its joint centres.
 * wall = outer/2 is a solid bar. NAN when a size makes no tube. */
double ht_critical_speed_rad_s(double length_m, double outer_m, double wall_m,
                               double young_pa, double density_kg_m3);

#endif
