/* speed.h - the turn history of the wheel: how far it had turned, and when.
 *
 * From a speed log whose lag and scale are found against the recording, or a
 * steady speed the driver held; both refined by the recording itself. Method,
 * sources, accuracy: docs/speed.md.
 */
#ifndef HALFTURN_SPEED_H
#define HALFTURN_SPEED_H

#include "halfturn/recording.h"
#include "halfturn/rotation.h"
#include "halfturn/status.h"

enum ht_speed_source { /* JSON: pulses log steady hint recording none */
    HT_SPEED_NONE, HT_SPEED_PULSES, HT_SPEED_LOG, HT_SPEED_STEADY,
    HT_SPEED_HINT, HT_SPEED_RECORDING
};
enum ht_speed_state { HT_SPEED_REFUSED, HT_SPEED_AMBIGUOUS, HT_SPEED_ACCEPTED };

/* A speed log, times on the log's own clock. */
struct ht_speed_log {
    double *time_s, *speed_m_s;
    size_t rows;
    char note[8][200];
    size_t notes;
    void *memory;
};
enum ht_status ht_speed_log_read(struct ht_speed_log *log, const char *path,
                                 const struct ht_sheet_speed *how,
                                 struct ht_error *err);
void ht_speed_log_free(struct ht_speed_log *log);

/* Turn history on a uniform grid over the recording. */
struct ht_turns {
    enum ht_speed_source source;
    enum ht_speed_state state;
    double rate_hz;          /* of the grid */
    double start_s;          /* of point 0: the recording's start_s, so times
                                are on the recording file's own clock */
    size_t points;
    double *turns;           /* wheel turns since point 0 */
    double *speed_m_s;       /* circumference_m * d turns / dt */
    unsigned char *usable;   /* 0: standing, too hard, gap, unobserved */
    double *sd_turns;        /* standard uncertainty of the angle about the
                                mean of the block of 32 turns around this
                                point */
    double circumference_m, circumference_u_m;
    bool circumference_found;/* from log against recording; else nominal */
    double lag_s, lag_u_s;   /* log late by this; NAN: not observable */
    double scale;            /* log speed over found speed with the nominal
                                circumference; NAN: no log */
    unsigned gear;           /* 1..; 0: not known */
    bool gear_found;         /* by the recording, not said by the sheet */
    char reason[320];        /* when refused or ambiguous: why and which drive
                                would settle it */
    struct { char reading[96]; double margin; } rival[6];
    size_t rivals;
    size_t notes;
    char note[12][240];
    void *memory;
};

struct ht_speed_request {
    const struct ht_recording *recording;
    const struct ht_rotation *rotation;
    const struct ht_speed_log *log;  /* or NULL */
    double steady_m_s;               /* or NAN */
    double top_m_s;                  /* of the vehicle; NAN or 0: not known */
    struct ht_ask ask;
};
/* HT_OK with state REFUSED when the data cannot carry a speed; an error only
 * for memory or use, or when it is stopped. */
enum ht_status ht_turns_find(struct ht_turns *turns,
                             const struct ht_speed_request *request,
                             struct ht_error *err);
void ht_turns_free(struct ht_turns *turns);

/* Wheel turns at a time on the recording file's own clock (frame i lies at
 * start_s + i / rate_hz), interpolated; NAN outside. */
double ht_turns_at(const struct ht_turns *turns, double time_s);

#endif
