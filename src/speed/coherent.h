/* coherent.h - scale and lag of a log, finer than short frames can show.
 *
 * The orders of a short drive are added up with their phase over stretches of
 * 20 s along the log's own path; scale and lag near those already found are
 * tried on a grid, and the one that makes the sum largest is kept, if it beats
 * the start clearly. Each order's power is held against its own scatter, so
 * that no loud order dictates. Maximum likelihood for tones of known order in
 * locally white noise (Rife and Boorstyn 1974, generalised to a shared angle).
 * Long drives do not need it: there scale and lag are known well enough.
 */
#ifndef HALFTURN_SPEED_COHERENT_H
#define HALFTURN_SPEED_COHERENT_H

#include "comb.h"
#include "path.h"
#include "search.h"
#include "work.h"

/* Changes fit->turns_per_m and fit->lag_s. False: no memory. */
bool ht_coherent_align(struct ht_fit *fit, const struct ht_work *work,
                       const struct ht_speed_path *path,
                       const struct ht_lines *lines, const bool *use);

#endif
