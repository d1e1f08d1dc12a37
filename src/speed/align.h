/* align.h - a log's clock against the recording's. */
#ifndef HALFTURN_SPEED_ALIGN_H
#define HALFTURN_SPEED_ALIGN_H

#include "path.h"

enum ht_clock {
    HT_CLOCK_SAME,       /* the log and the recording share a file clock */
    HT_CLOCK_FROM_START, /* the log counts from the recording's start */
    HT_CLOCK_ASSUMED,    /* neither fits: starts laid on each other */
    HT_CLOCK_APART       /* both absolute and without overlap */
};
/* Seconds to take from log times to get recording time (0 at frame 0). */
enum ht_clock ht_clock_align(const struct ht_recording *recording,
                             double log_from_s, double log_to_s,
                             double *offset_s);

#endif
