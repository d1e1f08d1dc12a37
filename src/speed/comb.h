/* comb.h - how well the expected orders fit whitened spectra.
 *
 * For noise z is exponential with mean 1; a line of any steady level raises
 * its mean to m. The likelihood ratio of n frames at the best m is
 * n (m - 1 - ln m) for m > 1. It is summed over orders, channels and a few
 * groups of speed; z is capped, so that one loud frame cannot dictate; orders
 * that fall into one resolution cell count once.
 */
#ifndef HALFTURN_SPEED_COMB_H
#define HALFTURN_SPEED_COMB_H

#include "frames.h"

enum { HT_LINES_MAX = 16, HT_COMB_CHANNELS_MAX = 8, HT_COMB_GROUPS = 3 };

struct ht_line {
    double order; /* cycles per wheel turn */
    enum ht_family family;
};
struct ht_lines {
    struct ht_line line[HT_LINES_MAX];
    size_t count;
};
/* Wheel 1, 2, 3; shaft 1, 2 when the ratio is known; the engine's when gear
 * is not 0. */
struct ht_lines ht_lines_expected(const struct ht_rotation *rotation,
                                  unsigned gear);
double ht_lines_highest(const struct ht_lines *lines);

struct ht_comb {
    const struct ht_frames *frames;
    const struct ht_lines *lines;
    size_t first_scored;  /* lines before it only claim their cells */
    double share;         /* independent frames per frame */
    double closeness;     /* orders nearer than this, relative, count once */
    unsigned char *group; /* [frame] */
};
bool ht_comb_create(struct ht_comb *comb, const struct ht_frames *frames,
                    const struct ht_lines *lines,
                    const struct ht_speed_path *path, double lag_s);
void ht_comb_free(struct ht_comb *comb);

/* Above the cap a frame says no more: a bump or a click. Body and suspension
 * move below the lowest frequency; nothing is named there. */
#define HT_COMB_Z_CAP 15.0F
#define HT_COMB_LOWEST_HZ 3.0

size_t ht_comb_channels(const struct ht_comb *comb);
/* Wheel speed below which each order shares its cell with one before it. */
void ht_comb_clashes(const struct ht_comb *comb, double below_hz[HT_LINES_MAX]);
/* What n frames whose z add up to sum say for a line. */
double ht_comb_evidence(const struct ht_comb *comb, double n, double sum);

/* Mean of z per line and channel along a path, for those who want it. */
struct ht_comb_detail {
    double mean[HT_LINES_MAX][HT_COMB_CHANNELS_MAX];
    double frames[HT_LINES_MAX];
    double score[HT_LINES_MAX];
};
/* wheel_hz[frame]: NAN frames do not count. detail may be NULL. */
double ht_comb_score(const struct ht_comb *comb, const double *path_m_s,
                     double turns_per_m, struct ht_comb_detail *detail);

/* One line's share of the scores of several paths at once: every scale of
 * every speed, score[speed * scales + scale]. Read together they cost less.
 * Those of all lines, added in their order, are ht_comb_score. */
enum { HT_COMB_SCALES_MAX = 5, HT_COMB_PATHS_MAX = 25 };
struct ht_comb_paths {
    const double *path_m_s; /* [speed * frames + frame] */
    size_t speeds;
    double turns_per_m[HT_COMB_SCALES_MAX];
    size_t scales;
};
void ht_comb_line(const struct ht_comb *comb, size_t line,
                  const struct ht_comb_paths *paths,
                  double score[HT_COMB_PATHS_MAX]);

#endif
