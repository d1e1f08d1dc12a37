/* clock.h - when the samples of a table were really taken.
 *
 * Most sensors sample on a regular clock of their own and the stamps jitter;
 * some loggers drop samples or sample unevenly. The stamps are fitted by a
 * straight clock with slow drift (knots every 30 s) after lost samples are
 * counted; docs/recording.md.
 */
#ifndef HALFTURN_RECORDING_CLOCK_H
#define HALFTURN_RECORDING_CLOCK_H

#include <stdbool.h>
#include <stddef.h>

/* From this row on, so many samples are missing in all before it. */
struct clock_loss {
    size_t row, lost;
};

struct clock_fit {
    double start_s, step_s;  /* of the uniform grid */
    size_t slots;            /* grid points, lost samples included */
    size_t losses;
    struct clock_loss *loss; /* rising; most tables have none */
    double jitter_s;         /* r.m.s. of stamp minus fit */
    size_t lost;             /* samples that never arrived */
};

/* Rows n >= 8 with stamps that rise, apart from jitter. False: no memory.
 * step_s stays 0 when the rows lie closer than HT_RATE_HZ_MAX allows, or their
 * stamps bear no clock. */
bool ht_clock_fit(struct clock_fit *fit, const double *stamp_s, size_t n);
void ht_clock_free(struct clock_fit *fit);

/* The slots of rows, one after the other. */
struct clock_rows {
    const struct clock_fit *fit;
    size_t row, lost, next; /* next: the loss to come */
};

/* From a row on; 0 is the first. */
struct clock_rows ht_clock_rows(const struct clock_fit *fit, size_t row);

/* The slot of the row it stands at, then on to the next row. */
static inline size_t ht_clock_next_slot(struct clock_rows *rows)
{
    const struct clock_fit *fit = rows->fit;
    if (rows->next < fit->losses && fit->loss[rows->next].row == rows->row)
        rows->lost = fit->loss[rows->next++].lost;
    return rows->row++ + rows->lost;
}

static inline size_t ht_clock_slot(const struct clock_fit *fit, size_t row)
{
    struct clock_rows rows = ht_clock_rows(fit, row);
    return ht_clock_next_slot(&rows);
}

/* Natural cubic spline through (x, y), x strictly rising: second derivatives
 * into `bend` (n >= 3); `scratch` holds n values too. */
void ht_spline_fit(const double *x, const double *y, double *bend,
                   double *scratch, size_t n);
double ht_spline_at(const double *x, const double *y, const double *bend,
                    size_t i, double at);

#endif
