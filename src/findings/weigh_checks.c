/* Findings from what was measured and looked at on the vehicle. */
#include "findings/texts.h"
#include "findings/weigh.h"

#include "common/statistics.h"
#include "halfturn/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Published run-out limits differ from maker to maker by about a third
 * either way (shaft 0.4 to 0.8 mm, tyre 0.76 to 1.59 mm): the softness of
 * every edge, as ln. */
static const double runout_edge = 0.3;

static bool holds(const struct ht_words *words, const char *word)
{
    for (size_t i = 0; i < words->count; i++)
        if (strcmp(words->text[i], word) == 0)
            return true;
    return false;
}

/* A person who looks and says "sound" misses one fault in ten, and sees one
 * in fifty that is none. Common practice, no source. */
void ht_weigh_word(struct ht_finding *finding,
                   const struct ht_finding_kind *kind,
                   const struct ht_findings_input *input)
{
    if (!input->sheet)
        return;
    const struct ht_sheet_checks *checks = &input->sheet->checks;
    if (holds(&checks->seen, kind->subject))
        ht_finding_say(finding, 2, (double[]){ 0.02, 1 },
                       FINDINGS_LOOKED_SEEN);
    else if (holds(&checks->sound, kind->subject) ||
             (kind->sound_word && holds(&checks->sound, kind->sound_word)))
        ht_finding_say(finding, 2, (double[]){ 1, 0.1 },
                       FINDINGS_LOOKED_SOUND);
}

static double largest(const double *values, size_t count)
{
    double most = NAN;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, values[i]);
    return most;
}

static double runout_of(const char *subject, const struct ht_sheet_runout *r)
{
    const struct {
        const char *subject;
        double values_m[3];
        size_t count;
    } places[] = {
        { "shaft",
          { r->shaft_front_m, r->shaft_middle_m, r->shaft_rear_m },
          3 },
        { "pinion flange", { r->pinion_flange_m }, 1 },
        { "tyre radial", { r->tyre_radial_m }, 1 },
        { "tyre lateral", { r->tyre_lateral_m }, 1 },
        { "wheel", { r->wheel_radial_m, r->wheel_lateral_m }, 2 },
    };
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
        if (strcmp(places[i].subject, subject) == 0)
            return largest(places[i].values_m, places[i].count);
    return NAN;
}

void ht_weigh_runout(struct ht_finding *finding,
                     const struct ht_finding_kind *kind,
                     const struct ht_findings_input *input)
{
    if (!input->sheet)
        return;
    double found_m =
        runout_of(kind->subject, &input->sheet->checks.runout);
    if (isnan(found_m))
        return;
    char text[120], found[40], limit[40];
    ht_format_number(found, sizeof found, 1000 * found_m, 2);
    ht_format_number(limit, sizeof limit, 1000 * kind->figure, 2);
    snprintf(text, sizeof text, FINDINGS_RUNOUT, found, limit);
    double z = log(fmax(found_m, 1e-6) / kind->figure) / runout_edge;
    ht_finding_say_chance(finding, ht_normal_cdf(z), text);
}

/* Outside the maker's figure by 10 mm, soft over 4 mm (common practice, no
 * source). A figure given as low and high at each end is not read yet. */
void ht_weigh_ride_height(struct ht_finding *finding,
                          const struct ht_finding_kind *kind,
                          const struct ht_findings_input *input)
{
    if (!input->sheet)
        return;
    const struct ht_sheet_checks *checks = &input->sheet->checks;
    const struct ht_numbers *measured = &checks->ride_measured_m;
    const struct ht_numbers *maker = &checks->ride_maker_m;
    double most_m = NAN;
    if (measured->count != maker->count)
        return;
    for (size_t i = 0; i < measured->count; i++)
        most_m = fmax(most_m, fabs(measured->value[i] - maker->value[i]));
    if (isnan(most_m))
        return;
    char text[120], number[40];
    ht_format_number(number, sizeof number, 1000 * most_m, 0);
    snprintf(text, sizeof text, FINDINGS_RIDE_HEIGHT, number);
    ht_finding_say_chance(finding,
                          ht_normal_cdf((most_m - kind->figure) / 0.004),
                          text);
}
