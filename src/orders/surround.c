#include "surround.h"

#include <math.h>

#include "common/constants.h"
#include "common/parallel.h"
#include "common/statistics.h"

enum { AROUND = 32, WIDTH = 2 * AROUND + 2, OTHER_ROWS_LEAST = 3,
       ROWS_MOST = 4 * HT_BINS_MAX };

/* The lines about an order: a window of the bin's mean spectrum. */
struct ht_view {
    size_t from, to;
    double position;        /* of the order */
    double mean[WIDTH];     /* [line - from]; leaks of named orders off */
    bool clear[WIDTH];      /* holds no named order */
};

static double position_of(const struct ht_work *w, size_t column)
{
    return w->plan->column[column] * w->plan->block_turns;
}

/* Hann's main lobe is two lines wide either way. Columns ascend. */
static bool clear_line(const struct ht_work *w, double line, double distance)
{
    size_t low = 0, high = w->plan->columns;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (position_of(w, middle) <= line - distance)
            low = middle + 1;
        else
            high = middle;
    }
    return low == w->plan->columns || position_of(w, low) >= line + distance;
}

/* Mean line powers of the bin's rows. False: no blocks. */
static bool mean_lines(const struct ht_work *w, size_t channel, size_t bin,
                       struct ht_view *v)
{
    const struct ht_blocks *b = w->blocks;
    size_t first = bin == w->bins ? 0 : w->bin_row[bin], blocks = 0;
    size_t end = bin == w->bins ? b->rows : first + HT_BIN_ROWS;
    for (size_t l = v->from; l <= v->to; l++)
        v->mean[l - v->from] = 0;
    for (size_t r = first; r < end && r < b->rows; r++) {
        const double *power =
            &b->row_power[(r * b->channels + channel) * b->lines];
        blocks += b->row_blocks[r];
        for (size_t l = v->from; l <= v->to; l++)
            v->mean[l - v->from] += power[l];
    }
    for (size_t l = v->from; l <= v->to; l++)
        v->mean[l - v->from] /= (double)(blocks ? blocks : 1);
    return blocks > 0;
}

/* Takes off what steady named orders leave in a line through Hann's side
 * lobes; orders that change leave up to a twentieth of the line behind. */
static void take_leaks_off(const struct ht_work *w, size_t channel,
                           size_t bin, struct ht_view *v)
{
    const struct ht_blocks *b = w->blocks;
    const double *power = &w->column_power[bin * b->columns * b->channels];
    for (size_t k = 0; k < b->columns; k++) {
        double at = position_of(w, k);
        for (size_t l = v->from; l <= v->to; l++) {
            double away = (double)l - at;
            if (fabs(away) > 16 || fabs(away) < 2)
                continue;
            double *mean = &v->mean[l - v->from];
            double line = power[k * b->channels + channel];
            /* |Hann(c)| = |sin pi c| / (pi c (c^2 - 1)), at most: */
            double most = 1 / (HT_PI * away * (away * away - 1));
            if (line * most * most < 0.01 * *mean)
                continue;
            double leak = ht_joint_hann(away);
            *mean = fmax(*mean - leak * leak * line, 0.05 * *mean);
        }
    }
}

static size_t last_line(const struct ht_work *w, size_t bin)
{
    const struct ht_blocks *b = w->blocks;
    size_t row = bin == w->bins ? b->rows - 1
                                : w->bin_row[bin] + HT_BIN_ROWS - 1;
    double fastest = (double)(b->first_row + row + 1) * HT_ROW_M_S /
                     b->circumference_m;
    double last = floor(b->band_hz / fastest * b->block_turns);
    return last < (double)(b->lines - 1) ? (size_t)last : b->lines - 1;
}

static bool look_around(const struct ht_work *w, size_t column,
                        size_t channel, size_t bin, struct ht_view *v)
{
    size_t last = last_line(w, bin);
    v->position = position_of(w, column);
    size_t middle = (size_t)(v->position + 0.5);
    v->from = middle > AROUND ? middle - AROUND : 0;
    v->to = middle + AROUND < last ? middle + AROUND : last;
    if (v->to <= v->from || !mean_lines(w, channel, bin, v))
        return false;
    take_leaks_off(w, channel, bin, v);
    for (size_t l = v->from; l <= v->to; l++)
        v->clear[l - v->from] = clear_line(w, (double)l, 2.25);
    return true;
}

/* Geometric mean of the clear lines 3 to 8 away. */
static double usual_beside(const struct ht_work *w, const double *power,
                           double at, size_t lines)
{
    size_t first = at > 10.5 ? (size_t)(at - 8.5) : 2;
    double sum = 0, n = 0;
    for (size_t l = first; l < lines && (double)l < at + 8.5; l++)
        if (power[l] > 0 && fabs((double)l - at) > 2.5 &&
            clear_line(w, (double)l, 2)) {
            sum += log(power[l]);
            n++;
        }
    return n >= 4 ? exp(sum / n) : NAN;
}

/* How much this frequency stands above its surroundings at other speeds,
 * where it is no named order: the median over the rows. NAN: too few. */
static double at_other_speeds(const struct ht_work *w, size_t column,
                              size_t channel, size_t bin)
{
    const struct ht_blocks *b = w->blocks;
    double ratio[ROWS_MOST];
    size_t n = 0;
    double middle = (double)(b->first_row + w->bin_row[bin]) +
                    0.5 * HT_BIN_ROWS;
    for (size_t r = 0; r < b->rows && n < ROWS_MOST; r++) {
        double speed = (double)(b->first_row + r) + 0.5;
        double line = position_of(w, column) * middle / speed;
        if (b->row_blocks[r] == 0 || line < 3 ||
            line > (double)b->lines - 2 || !clear_line(w, line, 3))
            continue;
        const double *power =
            &b->row_power[(r * b->channels + channel) * b->lines];
        size_t l = (size_t)line;
        double up = 0.5 * (power[l] + power[l + 1]) /
                    usual_beside(w, power, line, b->lines);
        if (up > 0)
            ratio[n++] = up;
    }
    if (n < OTHER_ROWS_LEAST)
        return NAN;
    return ht_median(ratio, n);
}

/* Strongest line beside the order that no other named order explains. */
static double strongest_beside(const struct ht_work *w, size_t column,
                               const struct ht_view *v)
{
    double strongest = 0;
    for (size_t l = v->from; l <= v->to; l++) {
        double away = fabs((double)l - v->position);
        bool named = away < 1.25 || away > 3;
        for (size_t k = 0; k < w->plan->columns && !named; k++)
            named = k != column && fabs(position_of(w, k) - (double)l) < 2;
        if (!named)
            strongest = fmax(strongest, v->mean[l - v->from]);
    }
    return strongest;
}

/* Geometric mean of the clear lines 3 to 8 away, in the window. */
static double usual_in_view(const struct ht_view *v)
{
    double sum = 0, n = 0;
    for (size_t l = v->from > 2 ? v->from : 2; l <= v->to; l++) {
        double away = fabs((double)l - v->position);
        double mean = v->mean[l - v->from];
        if (away > 2.5 && away < 8.5 && v->clear[l - v->from] && mean > 0) {
            sum += log(mean);
            n++;
        }
    }
    return n >= 4 ? exp(sum / n) : NAN;
}

static size_t blocks_in(const struct ht_work *w, size_t bin)
{
    size_t blocks = 0;
    for (size_t r = w->bin_row[bin];
         r < w->bin_row[bin] + HT_BIN_ROWS && r < w->blocks->rows; r++)
        blocks += w->blocks->row_blocks[r];
    return blocks;
}

/* What fixed frequencies leave at the order: in a bin, and over the whole
 * drive as the mean of the bins where it can be told, if they are most. */
static double fixed_in_bin(const struct ht_work *w, size_t column,
                           size_t channel, size_t bin)
{
    struct ht_view v;
    if (!look_around(w, column, channel, bin, &v))
        return NAN;
    return usual_in_view(&v) * at_other_speeds(w, column, channel, bin);
}

static size_t fixed_at(const struct ht_work *w, size_t column,
                       size_t channel, size_t bin)
{
    return (bin * w->plan->columns + column) * w->blocks->channels + channel;
}

static void find_in_bin(void *context, size_t bin)
{
    const struct ht_work *w = context;
    for (size_t k = 0; k < w->plan->columns; k++)
        for (size_t c = 0; c < w->blocks->channels; c++)
            w->fixed[fixed_at(w, k, c, bin)] = fixed_in_bin(w, k, c, bin);
}

void ht_surround_find_fixed(struct ht_work *w)
{
    ht_parallel(w->bins, find_in_bin, w);
}

static double fixed_in_drive(const struct ht_work *w, size_t column,
                             size_t channel)
{
    double sum = 0, told = 0, all = 0;
    for (size_t bin = 0; bin < w->bins; bin++) {
        double fixed = w->fixed[fixed_at(w, column, channel, bin)];
        double n = (double)blocks_in(w, bin);
        all += n;
        if (fixed > 0) {
            sum += n * fixed;
            told += n;
        }
    }
    return told > 0 && 3 * told >= 2 * all ? sum / told : NAN;
}

void ht_surround_read(struct ht_surround *s, const struct ht_work *w,
                      size_t column, size_t channel, size_t bin, double looks)
{
    struct ht_view v;
    *s = (struct ht_surround){ .floor = { NAN, 0 }, .fixed = NAN };
    if (!look_around(w, column, channel, bin, &v))
        return;
    struct ht_floor_plan plan;
    ht_floor_plan(&plan, v.position - (double)v.from, v.clear,
                  v.to - v.from);
    s->floor = ht_floor_read(&plan, v.mean, looks);
    s->beside = strongest_beside(w, column, &v);
    s->fixed = bin == w->bins ? fixed_in_drive(w, column, channel)
                              : w->fixed[fixed_at(w, column, channel, bin)];
}
