/* make.c - writes the recordings of the sample case:
 *
 *     make-samples FOLDER
 *
 * writes drive.flac and speed.csv there, the same bytes every time with the
 * same encoder. The van and its fault are invented. */
#include "halfturn/practice.h"

#include <sndfile.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define KM_H (1 / 3.6)
#define SHAFT (41.0 / 11)
#define ENGINE (SHAFT * 0.78)   /* fifth gear */
#define FULL_SCALE_M_S2 19.6133 /* 2 g, said as `scale` in the sheet */

/* 235/65R16 by the 3.05 rule, 1.2 % shorter: worn and loaded. */
#define CIRCUMFERENCE_M (2.171295 * 0.988)

static const struct ht_practice_request drive = {
    .seed = 20261120, .rate_hz = 500, .circumference_m = CIRCUMFERENCE_M,
    .start_m_s = 55 * KM_H, .reference_m_s = 95 * KM_H,
    .road_noise_m_s2 = 0.12, .sensor_noise_m_s2 = 0.01, .roll_rad = 0.03,
    .pitch_rad = -0.05, .log_step_s = 1, .log_lag_s = 0.7,
    .log_step_m_s = 0.1 * KM_H, .log_noise_m_s = 0.04,
    .legs = 7,
    .leg = { { 55 * KM_H, 0, 6 }, { 108 * KM_H, 55, 8 }, { 62 * KM_H, 22, 6 },
             { 96 * KM_H, 40, 25 }, { 70 * KM_H, 16, 5 },
             { 104 * KM_H, 38, 10 }, { 58 * KM_H, 20, 5 } },
    .forces = 8,
    .force = {
        /* what the van always had */
        { 1, 1, 0.018, 2, 0, 0, 0, { 0.3, 0.4, 1 } },
        { 1, 2, 0.010, 0.5, 0, 0, 0, { 0.5, 0.1, 1 } },
        { 1, 3, 0.007, 0.5, 0, 0, 0, { 0.4, 0.2, 1 } },
        { SHAFT, 1, 0.012, 2, 0, 0, 0, { 0.2, 0.6, 1 } },
        { ENGINE, 0.5, 0.006, 0, 0.3, 0, 0, { 0.2, 0.8, 0.6 } },
        { ENGINE, 1, 0.009, 1, 0, 0, 0, { 0.3, 0.6, 1 } },
        { ENGINE, 2, 0.024, 1, 0.3, 0, 0, { 0.4, 0.2, 1 } },
        /* the fault: joint angles that no longer cancel, through a well
         * damped mode of the floor */
        { SHAFT, 2, 0.17, 2, 0, 62, 0.35, { 0.5, 0.2, 1 } },
    },
};

static int16_t counts(float value_m_s2)
{
    double step = FULL_SCALE_M_S2 / 32768;
    double n = round((double)value_m_s2 / step);
    return (int16_t)fmax(-32768, fmin(32767, n));
}

static int write_flac(const struct ht_practice *made, const char *path)
{
    SF_INFO info = { .samplerate = (int)made->rate_hz,
                     .channels = HT_PRACTICE_AXES,
                     .format = SF_FORMAT_FLAC | SF_FORMAT_PCM_16 };
    SNDFILE *file = sf_open(path, SFM_WRITE, &info);
    if (!file)
        return -1;
    int bad = 0;
    for (size_t i = 0; i < made->frames && !bad; i++) {
        int16_t frame[HT_PRACTICE_AXES];
        for (int a = 0; a < HT_PRACTICE_AXES; a++)
            frame[a] = counts(made->samples[a][i]);
        bad = sf_writef_short(file, frame, 1) != 1;
    }
    return sf_close(file) == 0 && !bad ? 0 : -1;
}

static int write_text(const struct ht_practice *made, const char *path)
{
    struct ht_text text = { 0 };
    ht_practice_write_log(&text, made);
    FILE *file = fopen(path, "wb");
    int bad =
        !file || !ht_text_ok(&text) || fputs(ht_text_get(&text), file) < 0;
    if (file && fclose(file) != 0)
        bad = 1;
    ht_text_free(&text);
    return bad ? -1 : 0;
}

int main(int argument_count, char **arguments)
{
    if (argument_count != 2) {
        fprintf(stderr, "usage: %s FOLDER\n", arguments[0]);
        return 64;
    }
    struct ht_practice made;
    struct ht_error err = { 0 };
    enum ht_status status = ht_practice_make(&made, &drive, &err);
    if (status != HT_OK) {
        fprintf(stderr, "%s\n", err.text);
        return ht_status_exit_code(status);
    }
    char flac[1024], log[1024];
    snprintf(flac, sizeof flac, "%s/drive.flac", arguments[1]);
    snprintf(log, sizeof log, "%s/speed.csv", arguments[1]);
    int bad = write_flac(&made, flac) || write_text(&made, log);
    if (bad)
        fprintf(stderr, "cannot write %s and %s\n", flac, log);
    else
        printf("seed %llu: %s, %s\n", (unsigned long long)drive.seed, flac,
               log);
    ht_practice_free(&made);
    return bad ? 74 : 0;
}
