/* planner.h - FFTW's planner is not safe from two threads; running a plan
 * is. */
#ifndef HALFTURN_SIGNAL_PLANNER_H
#define HALFTURN_SIGNAL_PLANNER_H

void ht_planner_lock(void);
void ht_planner_unlock(void);

#endif
