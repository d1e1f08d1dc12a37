/* path.h - a speed log made smooth: speed and distance at any log time.
 *
 * A uniform grid of speeds that minimises the squared misfit to the log's
 * rows plus the squared second derivative of speed (Whittaker 1923; Eilers,
 * Anal. Chem. 75 (2003) 3631). Uneven, dense, sparse and quantised logs take
 * the same way; a row counts with the log's own scatter.
 */
#ifndef HALFTURN_SPEED_PATH_H
#define HALFTURN_SPEED_PATH_H

#include "halfturn/speed.h"

struct ht_speed_path {
    double start_s, step_s; /* log clock */
    size_t points;
    double *speed_m_s, *distance_m;
    double row_sd_m_s;  /* scatter of one row that the smoothing assumes */
    double left_sd_m_s; /* scatter left after smoothing */
    double quantum_m_s; /* step of the log's numbers; 0: none noticed */
    void *memory;
};

/* log->rows >= 2, times rising. HT_NO_MEMORY is the only failure. */
enum ht_status ht_path_create(struct ht_speed_path *path,
                              const struct ht_speed_log *log,
                              struct ht_error *err);
/* A constant speed over from_s..to_s. */
enum ht_status ht_path_steady(struct ht_speed_path *path, double speed_m_s,
                              double from_s, double to_s, struct ht_error *err);
void ht_path_free(struct ht_speed_path *path);

/* Distances anew from the speeds. */
void ht_path_integrate(struct ht_speed_path *path);

/* NAN outside the log. */
double ht_path_speed(const struct ht_speed_path *path, double time_s);
double ht_path_distance(const struct ht_speed_path *path, double time_s);

/* Smallest step of which all speeds are multiples when written in km/h, mph
 * or m/s, if that is 0.05 km/h or more; else 0. In m/s. */
double ht_log_quantum(const double *speed_m_s, size_t rows);

/* Solves (A + weights) x = b for a symmetric positive definite matrix of half
 * width 2: diagonal d0[n], first d1[n-1], second d2[n-2]; all overwritten; x
 * replaces b. L D L^T without pivoting (Golub and Van Loan, section 4.3). */
void ht_solve_five(double *d0, double *d1, double *d2, double *b, size_t n);

/* Adds strength * (second differences)^2 to the matrix. */
void ht_add_roughness(double *d0, double *d1, double *d2, size_t n,
                      double strength);

#endif
