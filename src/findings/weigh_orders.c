/* Findings about orders, from the drive or from a frequency read by hand. */
#include "findings/texts.h"
#include "findings/weigh.h"

#include "common/statistics.h"
#include "halfturn/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* A named order that is not there passes at 1 in 100 a report; a line that is
 * there and was to be seen is missed about as often as 2 in 100 at the level
 * of complaints, and 1 in 10 at that of a healthy vehicle. Common practice,
 * no source; the road-test accuracy tables are to replace them. */
static const double false_alarm = 0.01;
static const double missed_healthy = 0.1, missed_strong = 0.02;

/* Speed and frequency read off by a person: 2 in 100 (tyre growth and wear,
 * speedometer) and half a hertz. Common practice, no source. */
static const double hand_relative = 0.02, hand_hz = 0.5;

static bool is_accessory(const char *part, const struct ht_sheet *sheet)
{
    for (size_t i = 0; sheet && i < sheet->vehicle.accessory_count; i++)
        if (strcmp(sheet->vehicle.accessories[i].name, part) == 0)
            return true;
    return false;
}

/* figure 0: the firing order, cylinders over half the strokes. */
static double wanted_multiple(const struct ht_finding_kind *kind,
                              const struct ht_findings_input *input)
{
    if (kind->figure > 0)
        return kind->figure;
    double cylinders = NAN, strokes = 4;
    if (input->rotation) {
        cylinders = input->rotation->cylinders;
        strokes = input->rotation->strokes;
    } else if (input->sheet) {
        cylinders = input->sheet->vehicle.engine_cylinders;
        strokes = input->sheet->vehicle.engine_strokes;
    }
    return 2 * cylinders / (isnan(strokes) ? 4 : strokes);
}

static bool is_about(const struct ht_finding_kind *kind,
                     const struct ht_findings_input *input, const char *part,
                     double multiple)
{
    bool same_part = strcmp(kind->subject, "accessory") == 0
                         ? is_accessory(part, input->sheet)
                         : strcmp(kind->subject, part) == 0;
    return same_part &&
           fabs(multiple - wanted_multiple(kind, input)) < 1e-6;
}

static const char *part_of(const struct ht_order *order)
{
    static const char times[] = "\xc3\x97 ";
    const char *at = strstr(order->name, times);
    return at ? at + sizeof times - 1 : "";
}

/* The strongest result about the finding on channel "all". */
static const struct ht_order_result *
result_of(const struct ht_finding_kind *kind,
          const struct ht_findings_input *input)
{
    const struct ht_order_result *best = NULL;
    for (size_t i = 0; input->orders && i < input->orders->results; i++) {
        const struct ht_order_result *result = &input->orders->result[i];
        if (result->channel != -1 ||
            !is_about(kind, input, part_of(&result->order),
                      result->order.multiple))
            continue;
        bool better = !best || result->state > best->state ||
                      (result->state == best->state &&
                       result->level.value > best->level.value);
        if (better)
            best = result;
    }
    return best;
}

size_t ht_line_about(const struct ht_order *order,
                     const struct ht_findings_input *input)
{
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t i = 0; i < count; i++)
        if (kinds[i].is_line &&
            is_about(&kinds[i], input, part_of(order), order->multiple))
            return i;
    return SIZE_MAX;
}

static void say_level(char *text, size_t size, const struct ht_orders *orders,
                      const struct ht_order_result *result, const char *other)
{
    char level[40], speed[40];
    const char *unit = strcmp(orders->unit, "m/s2") == 0
                           ? FINDINGS_UNIT_M_S2
                           : FINDINGS_UNIT_SOUND;
    ht_format_significant(level, sizeof level, result->level.value, 2);
    ht_format_number(speed, sizeof speed, result->at_m_s * 3.6, 0);
    if (other)
        snprintf(text, size, FINDINGS_LEVEL_SHARED, other, level, unit, speed);
    else
        snprintf(text, size, FINDINGS_LEVEL, level, unit, speed);
}

/* Standard uncertainty of ln(level) from its 95 % limits. */
static double log_spread(const struct ht_level *level)
{
    double low = fmax(level->low, 0.05 * level->value);
    if (!(level->high > 0) || !(low > 0) || !(level->value > 0))
        return 0.5;
    return log(level->high / low) / (2 * 1.959964);
}

void ht_line_say_seen(struct ht_finding *finding,
                      const struct ht_orders *orders,
                      const struct ht_order_result *result,
                      const char *other)
{
    double edge, over = 0.5;
    double healthy = ht_healthy_m_s2(orders->place, orders->calibrated, &edge);
    if (!isnan(healthy) && result->level.value > 0)
        over = ht_normal_cdf(log(result->level.value / healthy) /
                             hypot(edge, log_spread(&result->level)));
    over = fmin(0.999, fmax(0.001, over));
    char text[200];
    say_level(text, sizeof text, orders, result, other);
    ht_finding_say(finding, 3,
                   (double[]){ false_alarm * fmax(over, 1 - over), 1 - over,
                               over },
                   text);
}

/* Two parts may turn at the frequency that was read: each may be the one. */
static void say_by_hand(struct ht_finding *finding,
                        const struct ht_finding_kind *kind,
                        const struct ht_findings_input *input)
{
    const struct ht_rotation *rotation = input->rotation;
    const struct ht_sheet_complaint *complaint = &input->sheet->complaint;
    for (size_t m = 0; m < complaint->measured_count; m++) {
        const struct ht_sheet_measured_hz *read = &complaint->measured[m];
        double mine = 0, all = 0;
        for (size_t i = 0; i < rotation->orders; i++) {
            const struct ht_order *order = &rotation->order[i];
            const struct ht_part *part = &rotation->part[order->part];
            double hz = order->multiple * part->turns * read->speed_m_s /
                        rotation->circumference_m;
            double sd = hypot(hand_hz, hand_relative * hz);
            double fit = exp(-0.5 * pow((read->hz - hz) / sd, 2));
            if (!(fit > 0.01))
                continue;
            all += fit;
            if (is_about(kind, input, part->name, order->multiple))
                mine = fmax(mine, fit);
        }
        /* What is felt and measured by hand is at the level of a complaint:
         * seldom that of a healthy vehicle. */
        double share = 0.95 * mine * mine / fmax(all, mine);
        if (!(mine > 0.01))
            continue;
        char text[120], hz[40], speed[40];
        ht_format_number(hz, sizeof hz, read->hz, 1);
        ht_format_number(speed, sizeof speed, read->speed_m_s * 3.6, 0);
        snprintf(text, sizeof text, FINDINGS_BY_HAND, hz, speed);
        ht_finding_say(finding, 3,
                       (double[]){ 1 - share, 1 - 0.75 * share, 1 }, text);
        return;
    }
}

void ht_weigh_line(struct ht_finding *finding,
                   const struct ht_finding_kind *kind,
                   const struct ht_findings_input *input)
{
    const struct ht_order_result *result = result_of(kind, input);
    if (result && result->state == HT_SEEN)
        ht_line_say_seen(finding, input->orders, result, NULL);
    else if (result && result->state == HT_NOT_SEEN)
        ht_finding_say(finding, 3,
                       (double[]){ 1, missed_healthy, missed_strong }, "");
    else if (input->sheet && input->rotation)
        say_by_hand(finding, kind, input);
}

/* Densities of a normal around what each answer would show. The spread of
 * 0.7 around 0 and 2 is what mountings and paths do to the exponent away
 * from resonances (common practice, no source). */
void ht_weigh_growth(struct ht_finding *finding,
                     const struct ht_finding_kind *kind,
                     const struct ht_findings_input *input)
{
    const struct ht_order_result *result = result_of(kind, input);
    if (!result || result->state != HT_SEEN || !isfinite(result->exponent) ||
        !isfinite(result->exponent_u))
        return;
    double sd = hypot(0.7, result->exponent_u);
    double flat = exp(-0.5 * pow(result->exponent / sd, 2));
    double grows = exp(-0.5 * pow((result->exponent - 2) / sd, 2));
    char text[80], number[40];
    ht_format_number(number, sizeof number, result->exponent, 1);
    snprintf(text, sizeof text, FINDINGS_GROWTH, number);
    ht_finding_say_chance(finding, (grows + 1e-9) / (grows + flat + 2e-9),
                          text);
}

/* A difference counts from 3 dB and beyond twice its uncertainty; spreads as
 * for the growth (common practice, no source). */
void ht_weigh_pull(struct ht_finding *finding,
                   const struct ht_finding_kind *kind,
                   const struct ht_findings_input *input)
{
    const struct ht_order_result *result = result_of(kind, input);
    if (!result || result->state != HT_SEEN || !isfinite(result->pull_db) ||
        !isfinite(result->pull_u_db))
        return;
    double sd = hypot(1.5, result->pull_u_db);
    double chance = ht_normal_cdf((result->pull_db - 3) / sd);
    char text[80], number[40];
    ht_format_number(number, sizeof number, result->pull_db, 1);
    snprintf(text, sizeof text, FINDINGS_PULL, number);
    ht_finding_say_chance(finding, chance, text);
}
