#include "say.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "halfturn/text.h"
#include "texts.h"

/* The unit as people read it. */
static const char *unit_text(const char *unit)
{
    return strcmp(unit, "m/s2") == 0 ? ORDERS_UNIT_M_S2 : ORDERS_UNIT_SOUND;
}

void ht_say_note(struct ht_orders *orders, const char *format, ...)
{
    if (orders->notes == sizeof orders->note / sizeof *orders->note)
        return;
    va_list list;
    va_start(list, format);
    (void)vsnprintf(orders->note[orders->notes++], sizeof *orders->note,
                    format, list);
    va_end(list);
}

void ht_say_unknown_ratio(struct ht_order_result *r,
                          const struct ht_rotation *rotation, size_t order)
{
    const struct ht_part *part = &rotation->part[rotation->order[order].part];
    (void)snprintf(r->reason, sizeof r->reason,
                   part->follows_gear ? ORDERS_GEAR_UNKNOWN
                                      : ORDERS_RATIO_UNKNOWN,
                   part->name);
}

void ht_say_tied(struct ht_order_result *r, const struct ht_plan *plan,
                 const struct ht_rotation *rotation, size_t order,
                 const char *unit)
{
    char partners[64], level[40];
    ht_plan_partners(plan, rotation, order, partners, sizeof partners);
    ht_format_significant(level, sizeof level, r->level.high, 2);
    bool gear = plan->tie[plan->column_of[order]] == HT_TIE_GEAR;
    (void)snprintf(r->reason, sizeof r->reason,
                   gear ? ORDERS_TIED_IN_GEAR : ORDERS_TIED_CLOSE, partners,
                   level, unit_text(unit));
}

static void say(struct ht_order_result *r, const char *text)
{
    (void)snprintf(r->reason, sizeof r->reason, "%s", text);
}

void ht_say_why(struct ht_order_result *r, const struct ht_work *w,
                const struct ht_bin_view *whole, bool deaf)
{
    char number[40];
    if (w->blocks->count == 0)
        say(r, ORDERS_NO_STRETCH);
    else if (deaf)
        say(r, ORDERS_NOT_HEARD);
    else if (whole->blocks == 0 && whole->blurred)
        say(r, ORDERS_BLURRED);
    else if (whole->blocks == 0) {
        ht_format_number(number, sizeof number, w->blocks->band_hz, 0);
        (void)snprintf(r->reason, sizeof r->reason, ORDERS_ABOVE_BAND,
                       number);
    } else if (!isfinite(whole->power.noise))
        say(r, ORDERS_FEW_LINES);
    else {
        ht_format_significant(number, sizeof number, whole->least, 2);
        (void)snprintf(r->reason, sizeof r->reason, ORDERS_ROAD_NOISE,
                       number, unit_text(w->unit));
    }
}

/* Rate below which recorders are known to sample without a filter before. */
static const double unfiltered_hz = 300;

/* Speed at which order a, folded at the rate, meets order b (b below half
 * the rate): a f = n rate +- b f. */
static size_t meetings(double a, double b, double rate_hz, double low,
                       double high, double *at)
{
    size_t n = 0;
    for (int k = 1; k <= 4; k++)
        for (int sign = -1; sign <= 1; sign += 2) {
            double sum = sign < 0 ? a + b : a - b;
            double turns = sum > 0 ? k * rate_hz / sum : 0;
            if (turns >= low && turns <= high && b * turns < rate_hz / 2 &&
                a * turns > rate_hz / 2 && n < 4)
                at[n++] = turns;
        }
    return n;
}

void ht_say_fold_down(struct ht_orders *orders, const struct ht_plan *plan,
                      const struct ht_rotation *rotation,
                      const struct ht_recording *rec,
                      const struct ht_blocks *b)
{
    if (rec->file_rate_hz > unfiltered_hz || rec->file_rate_hz <= 0 ||
        rec->rate_hz < 0.99 * rec->file_rate_hz || b->rows == 0)
        return;
    double low = (double)b->first_row * HT_ROW_M_S / b->circumference_m;
    double high = (double)(b->first_row + b->rows) * HT_ROW_M_S /
                  b->circumference_m;
    for (size_t i = 0; i < plan->asked; i++)
        for (size_t j = 0; j < plan->asked; j++) {
            double at[4];
            if (i == j || !(plan->wheel_order[i] > plan->wheel_order[j]) ||
                orders->notes >= 6)
                continue;
            size_t n = meetings(plan->wheel_order[i], plan->wheel_order[j],
                                rec->file_rate_hz, low, high, at);
            if (n == 0)
                continue;
            char speed[40];
            ht_format_number(speed, sizeof speed,
                             at[0] * b->circumference_m * 3.6, 0);
            ht_say_note(orders, ORDERS_FOLDED_DOWN, speed,
                        rotation->order[i].name, rotation->order[j].name);
        }
}
