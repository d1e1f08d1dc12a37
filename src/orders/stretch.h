/* stretch.h - the parts of a drive that can be analysed in one piece. */
#ifndef HALFTURN_ORDERS_STRETCH_H
#define HALFTURN_ORDERS_STRETCH_H

#include <stdbool.h>
#include <stddef.h>

#include "halfturn/recording.h"
#include "halfturn/speed.h"

struct ht_stretch {
    double from_s, to_s;     /* since frame 0 */
    double turns;            /* gained in it */
};

struct ht_stretches {
    size_t count;
    struct ht_stretch *stretch;
    double turns, longest_turns;
    double usual_speed_m_s;  /* of the middle turn */
    double speed_change;     /* median |d v / d turns|, m/s per wheel turn */
    double slowest_m_s, fastest_m_s;
};

/* Where the turns are usable, faster than 2 wheel turns a second, inside the
 * recording and outside its gaps. False when out of memory. */
bool ht_stretches_find(struct ht_stretches *found,
                       const struct ht_recording *recording,
                       const struct ht_turns *turns);
void ht_stretches_free(struct ht_stretches *found);

/* Wheel turns and their rate at a time, by the cubic through the grid's
 * points and its centred slopes (Catmull and Rom 1974). */
struct ht_angle {
    double turns, turns_per_s;
};
struct ht_angle ht_angle_at(const struct ht_turns *turns, double time_s);

/* Time of a frame on the clock of ht_turns and the gaps: 0 at frame 0. */
double ht_frame_time(const struct ht_recording *recording, double frame);

#endif
