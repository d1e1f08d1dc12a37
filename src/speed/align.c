#include "align.h"

#include <math.h>

/* Later than 2001 in seconds since 1970: a clock that tells the day. */
static const double absolute_s = 1e9;

static double overlap(double a0, double a1, double b0, double b1)
{
    return fmin(a1, b1) - fmax(a0, b0);
}

enum ht_clock ht_clock_align(const struct ht_recording *recording,
                             double log_from_s, double log_to_s,
                             double *offset_s)
{
    double length_s = (double)recording->frames / recording->rate_hz;
    double start_s = isfinite(recording->start_s) ? recording->start_s : 0;
    double wanted = 0.5 * fmin(length_s, log_to_s - log_from_s);
    *offset_s = start_s;
    if (overlap(start_s, start_s + length_s, log_from_s, log_to_s) >= wanted)
        return start_s > 0 || start_s < 0 ? HT_CLOCK_SAME : HT_CLOCK_FROM_START;
    *offset_s = 0;
    if (overlap(0, length_s, log_from_s, log_to_s) >= wanted)
        return HT_CLOCK_FROM_START;
    *offset_s = log_from_s;
    if (start_s > absolute_s && log_from_s > absolute_s)
        return HT_CLOCK_APART;
    return HT_CLOCK_ASSUMED;
}
