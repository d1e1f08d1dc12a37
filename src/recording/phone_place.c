/* phone_place.c - the rows of a table on an even grid: by the clock that is
 * fitted to their stamps, or by the stamps themselves. */
#include "phone_work.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "notes.h"
#include "referee.h"
#include "texts.h"

#include <math.h>

/* Stamps this even (r.m.s. over a step) need no second reading. */
static const double EVEN_SHARE = 0.02;
static const double REFEREE_DB = 1;

/* Rows beside a stretch that a spline through it is fitted to as well: what
 * lies farther off counts less than 1e-20 (0.27 a row, Press et al., Numerical
 * Recipes, 3.3). */
enum { ROWS_BESIDE = 48 };
/* Stamps closer than this share of a step count as one. */
static const double ONE_STAMP_SHARE = 1e-6;

/* The last row at or before a slot. */
static size_t row_at(const struct phone *phone, size_t slot)
{
    size_t low = 0, high = phone->rows;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (ht_clock_slot(&phone->fit, middle) <= slot)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* From one value to the next: a straight line over what is missing, cut to
 * the stretch. */
static void bridge(const struct stretch *stretch, size_t last, size_t slot,
                   double before, double value)
{
    size_t from = last > stretch->from ? last : stretch->from;
    size_t to = slot < stretch->to ? slot : stretch->to;
    double steps = (double)(slot - last);
    for (size_t s = from; s < to; s++)
        stretch->samples[s - stretch->from] =
            (float)(before + (value - before) * (double)(s - last) / steps);
}

/* Values by the clock's own grid: row n stands at its slot; what is missing
 * is bridged (a long gap is emptied later). */
void ht_phone_place_by_clock(const struct phone *phone, size_t column,
                             const struct stretch *stretch)
{
    size_t i = row_at(phone, stretch->from), last = 0;
    while (i > 0 && isnan(ht_phone_cell(phone, i, column)))
        i--;
    double before = NAN;
    struct clock_rows rows = ht_clock_rows(&phone->fit, i);
    for (; i < phone->rows && last < stretch->to; i++) {
        double value = ht_phone_cell(phone, i, column);
        size_t slot = ht_clock_next_slot(&rows);
        if (isnan(value))
            continue;
        if (isnan(before))
            before = value;
        if (slot == last + 1 && last >= stretch->from)
            stretch->samples[last - stretch->from] = (float)before;
        else
            bridge(stretch, last, slot, before, value);
        before = value;
        last = slot;
    }
    if (isnan(before)) /* there is none */
        before = 0;
    bridge(stretch, last, stretch->to, before, before); /* the last goes on */
}

/* A curve through the values of a column. */
struct curve {
    double *x, *y, *bend, *scratch;
    size_t n;
};

/* The values that stand in rows [from, to), at rising stamps. */
static void stamped_values(const struct phone *phone, size_t column,
                           size_t from, size_t to, struct curve *curve)
{
    const double apart = ONE_STAMP_SHARE * phone->fit.step_s;
    double next = -INFINITY;
    for (size_t r = from; r < to; r++) {
        double value = ht_phone_cell(phone, r, column);
        if (isnan(value) || phone->stamp_s[r] <= next)
            continue;
        curve->x[curve->n] = phone->stamp_s[r];
        curve->y[curve->n++] = value;
        next = phone->stamp_s[r] + apart;
    }
}

static void draw(const struct phone *phone, const struct curve *curve,
                 const struct stretch *stretch)
{
    const double *x = curve->x;
    double first = x[0], last = x[curve->n - 1];
    for (size_t s = stretch->from, i = 0; s < stretch->to; s++) {
        double at = phone->fit.start_s + (double)s * phone->fit.step_s;
        at = at < first ? first : at > last ? last : at;
        while (i + 2 < curve->n && x[i + 1] < at)
            i++;
        stretch->samples[s - stretch->from] =
            (float)ht_spline_at(x, curve->y, curve->bend, i, at);
    }
}

/* Rows that a curve over a stretch goes through: [*from, *to). */
static void rows_around(const struct phone *phone,
                        const struct stretch *stretch, size_t *from,
                        size_t *to)
{
    *from = row_at(phone, stretch->from);
    *to = row_at(phone, stretch->to) + 1;
    *from = *from > ROWS_BESIDE ? *from - ROWS_BESIDE : 0;
    *to = *to + ROWS_BESIDE < phone->rows ? *to + ROWS_BESIDE : phone->rows;
}

static bool curve_create(struct curve *curve, size_t rows)
{
    double *all = ht_reserve(4 * rows, sizeof *all);
    *curve = (struct curve){ .x = all };
    if (!all)
        return false;
    curve->y = all + rows;
    curve->bend = all + 2 * rows;
    curve->scratch = all + 3 * rows;
    return true;
}

/* A column with fewer than three values has no curve: the clock places
 * them. */
static void place_by_stamps(const struct phone *phone, size_t column,
                            const struct stretch *stretch, struct curve *curve)
{
    size_t from, to;
    rows_around(phone, stretch, &from, &to);
    curve->n = 0;
    stamped_values(phone, column, from, to, curve);
    if (curve->n < 3) {
        ht_phone_place_by_clock(phone, column, stretch);
        return;
    }
    ht_spline_fit(curve->x, curve->y, curve->bend, curve->scratch, curve->n);
    draw(phone, curve, stretch);
}

bool ht_phone_place_by_stamps(const struct phone *phone, size_t column,
                              const struct stretch *stretch)
{
    struct curve curve;
    if (!curve_create(&curve, phone->rows))
        return false;
    place_by_stamps(phone, column, stretch, &curve);
    ht_release(curve.x);
    return true;
}

/* One reading of a stretch of one axis; there are two of each. */
enum { BY_CLOCK, BY_STAMPS, READINGS };
struct trial {
    const struct phone *phone;
    size_t column;
    bool by_stamps;
    struct referee referee;
    struct stretch middle;
    struct curve curve; /* by stamps */
    double height_db;
};

static bool trial_create(struct trial *trial, const struct phone *phone,
                         size_t index, const struct trial *first)
{
    size_t from, to, axis = index / READINGS;
    *trial = (struct trial){ .phone = phone,
                             .column = phone->columns.axis_column[axis],
                             .by_stamps = index % READINGS == BY_STAMPS };
    if (!ht_referee_create(&trial->referee, phone->fit.slots,
                           index ? &first->referee : NULL))
        return false;
    struct stretch *middle = &trial->middle;
    middle->from = (phone->fit.slots - trial->referee.length) / 2;
    middle->to = middle->from + trial->referee.length;
    rows_around(phone, middle, &from, &to);
    middle->samples =
        ht_allocate(trial->referee.length + 1, sizeof *middle->samples);
    return middle->samples &&
           (!trial->by_stamps || curve_create(&trial->curve, to - from));
}

static void trial_free(struct trial *trial)
{
    ht_referee_free(&trial->referee);
    ht_release(trial->middle.samples);
    ht_release(trial->curve.x);
}

static void carry_out(void *context, size_t index)
{
    struct trial *trial = (struct trial *)context + index;
    const struct stretch *middle = &trial->middle;
    if (trial->by_stamps)
        place_by_stamps(trial->phone, trial->column, middle, &trial->curve);
    else
        ht_phone_place_by_clock(trial->phone, trial->column, middle);
    trial->height_db = ht_referee_height(&trial->referee, middle->samples);
}

/* The stamps win if they make the line of the axis with the strongest one
 * clearly higher. */
static bool stamps_win(const struct trial *trial, size_t axes)
{
    double clock_db = 0, stamps_db = 0;
    for (size_t a = 0; a < axes; a++) {
        const struct trial *both = &trial[a * READINGS];
        double clock = both[BY_CLOCK].height_db;
        double stamps = both[BY_STAMPS].height_db;
        if (fmax(clock, stamps) > fmax(clock_db, stamps_db)) {
            clock_db = clock;
            stamps_db = stamps;
        }
    }
    return stamps_db > clock_db + REFEREE_DB;
}

enum ht_status ht_phone_ask_referee(struct phone *phone)
{
    if (phone->fit.jitter_s < EVEN_SHARE * phone->fit.step_s)
        return HT_OK;
    struct trial trial[HT_AXES_MAX * READINGS];
    size_t axes = phone->columns.axes, trials = axes * READINGS, made = 0;
    bool enough = true;
    for (; enough && made < trials; made++)
        enough = trial_create(&trial[made], phone, made, trial);
    if (enough) {
        ht_parallel(trials, carry_out, trial);
        phone->irregular = stamps_win(trial, axes);
    }
    while (made > 0)
        trial_free(&trial[--made]);
    if (!enough)
        return ht_phone_no_memory(phone);
    ht_recording_note(phone->recording,
                      phone->irregular ? RECORDING_STAMPS_USED
                                       : RECORDING_CLOCK_FITTED,
                      1000 * phone->fit.jitter_s);
    return HT_OK;
}
