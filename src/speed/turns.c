#include "turns.h"

#include "say.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>
#include <stdarg.h>

static const double slowest_wheel_hz = 2; /* below it counts as standing */
static const double hardest_m_s2 = 3;
static const double block_turns = 32; /* the analysis block */

void ht_turns_note(struct ht_turns *turns, const char *format, ...)
{
    if (turns->notes == sizeof turns->note / sizeof turns->note[0])
        return;
    va_list args;
    va_start(args, format);
    ht_say_list(turns->note[turns->notes++], sizeof turns->note[0], format,
                args);
    va_end(args);
}

enum ht_status ht_turns_refuse(struct ht_turns *turns, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    ht_say_list(turns->reason, sizeof turns->reason, format, args);
    va_end(args);
    turns->state = HT_SPEED_REFUSED;
    return HT_OK;
}

static bool reserve(struct ht_turns *turns, size_t points)
{
    turns->memory = ht_allocate(points, 3 * sizeof(double) + 1);
    if (!turns->memory)
        return false;
    turns->points = points;
    turns->turns = turns->memory;
    turns->speed_m_s = turns->turns + points;
    turns->sd_turns = turns->speed_m_s + points;
    turns->usable = (unsigned char *)(turns->sd_turns + points);
    return true;
}

/* Speed errors integrated over a block and taken about the block's mean: a
 * random walk where the block outlasts them, a ramp where it does not. */
static double sd_in_block(const struct ht_wheel *wheel, size_t i)
{
    double hz = fmax(wheel->hz[i], 0.5);
    double block_s = block_turns / hz;
    return wheel->sd_hz[i] *
           sqrt(block_s * fmin(block_s, wheel->lasts_s[i]) / 12);
}

static double accel_m_s2(const struct ht_turns *turns, size_t i)
{
    size_t reach = (size_t)(0.25 * turns->rate_hz) + 1;
    size_t from = i > reach ? i - reach : 0;
    size_t to = i + reach < turns->points ? i + reach : turns->points - 1;
    return (turns->speed_m_s[to] - turns->speed_m_s[from]) * turns->rate_hz /
           (double)(to > from ? to - from : 1);
}

static bool can_use(const struct ht_turns *turns, const struct ht_wheel *wheel,
                    const struct ht_work *work, size_t i)
{
    size_t frame = i * wheel->step;
    return wheel->hz[i] >= slowest_wheel_hz &&
           fabs(accel_m_s2(turns, i)) <= hardest_m_s2 &&
           !(frame < work->frames && work->blind[frame]);
}

enum ht_status ht_turns_fill(struct ht_turns *turns,
                             const struct ht_wheel *wheel,
                             const struct ht_work *work, struct ht_error *err)
{
    turns->rate_hz = wheel->rate_hz;
    if (!reserve(turns, wheel->points))
        return ht_fail(err, SPEED_NO_MEMORY);
    for (size_t i = 0; i < turns->points; i++) {
        turns->turns[i] = wheel->turns[i];
        turns->speed_m_s[i] = turns->circumference_m * wheel->hz[i];
        turns->sd_turns[i] = sd_in_block(wheel, i);
    }
    for (size_t i = 0; i < turns->points; i++)
        turns->usable[i] = can_use(turns, wheel, work, i);
    return HT_OK;
}

void ht_turns_blind(struct ht_turns *turns, double from_s, double to_s)
{
    double from = floor(from_s * turns->rate_hz);
    double to = ceil(to_s * turns->rate_hz);
    for (size_t i = from > 0 ? (size_t)from : 0;
         i < turns->points && (double)i <= to; i++)
        turns->usable[i] = 0;
}

void ht_turns_free(struct ht_turns *turns)
{
    ht_release(turns->memory);
    *turns = (struct ht_turns){ .circumference_m = NAN,
                                .circumference_u_m = NAN,
                                .lag_s = NAN,
                                .lag_u_s = NAN,
                                .scale = NAN };
}

/* Cubic through both ends' turns and slopes, the slopes by central
 * differences: the angle between grid points of an accelerating wheel. */
double ht_turns_at(const struct ht_turns *turns, double time_s)
{
    double at = (time_s - turns->start_s) * turns->rate_hz;
    if (!(at >= 0) || turns->points < 2 ||
        at > (double)(turns->points - 1) + 1e-6)
        return NAN;
    size_t i = (size_t)at;
    if (i + 2 > turns->points)
        i = turns->points - 2;
    double f = at - (double)i, a = turns->turns[i], b = turns->turns[i + 1];
    double left = i ? 0.5 * (b - turns->turns[i - 1]) : b - a;
    double right =
        i + 2 < turns->points ? 0.5 * (turns->turns[i + 2] - a) : b - a;
    double c = 3 * (b - a) - 2 * left - right, d = left + right - 2 * (b - a);
    return a + f * (left + f * (c + f * d));
}
