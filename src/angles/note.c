#include "note.h"

#include "halfturn/text.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void ht_sentence(char *buffer, size_t size, const char *sentence, double first,
                 int first_decimals, double second, int second_decimals)
{
    char number[2][40];
    size_t used = 0;
    ht_format_number(number[0], sizeof number[0], first, first_decimals);
    ht_format_number(number[1], sizeof number[1], second, second_decimals);
    for (const char *c = sentence; *c && used + 1 < size; c++) {
        if (c[0] == '%' && (c[1] == '1' || c[1] == '2')) {
            const char *text = number[c[1] - '1'];
            size_t length = strlen(text);
            if (used + length + 1 > size)
                break;
            memcpy(buffer + used, text, length);
            used += length;
            c++;
        } else {
            buffer[used++] = *c;
        }
    }
    buffer[used] = 0;
}

void ht_note(struct ht_angles *result, const char *sentence, double first,
             int first_decimals, double second, int second_decimals)
{
    size_t room = sizeof result->note / sizeof result->note[0];
    if (result->notes == room)
        return;
    ht_sentence(result->note[result->notes++], sizeof result->note[0], sentence,
                first, first_decimals, second, second_decimals);
}

static void say(struct ht_angles *result, const char *sentence)
{
    ht_note(result, sentence, 0, 0, 0, 0);
}

static void note_suspension(struct ht_angles *result,
                            const struct ht_driveline *driveline)
{
    if (driveline->suspension == HT_SUSPENSION_UNKNOWN)
        say(result, "Suspension not stated. Numbers, no verdict.");
    if (driveline->suspension == HT_SUSPENSION_HANGING)
        say(result, "Hanging suspension gives wrong angles. No verdict.");
}

static void note_gauge(struct ht_angles *result, struct ht_gauge gauge)
{
    if (isnan(gauge.accuracy_rad))
        ht_note(result, "Gauge accuracy not stated: \302\261 %1\302\260 taken.",
                HT_ACCURACY_DEG, 1, 0, 0);
    if (isnan(gauge.step_rad))
        ht_note(result, "Gauge step not stated: %1\302\260 taken.", HT_STEP_DEG,
                1, 0, 0);
    if (isnan(gauge.set_up_rad))
        ht_note(result,
                "Gauge set-up not stated: %1\302\260 taken, as by eye. Yoke "
                "set crosswise on the cap: 0.15\302\260.",
                HT_SET_UP_DEG, 1, 0, 0);
}

static bool flipped(const struct ht_sheet_slope *slope)
{
    return !isnan(slope->flip_a_rad) && !isnan(slope->flip_b_rad);
}

static void note_readings(struct ht_angles *result,
                          const struct ht_driveline *driveline)
{
    bool unknown =
        driveline->by_joint && driveline->read_on == HT_SURFACE_UNKNOWN;
    bool face = false, both = false;
    for (size_t i = 0; !driveline->by_joint && i < driveline->members; i++) {
        const struct ht_sheet_slope *slope = &driveline->slope[i];
        unknown = unknown || (slope->read_on == HT_SURFACE_UNKNOWN &&
                              driveline->read_on == HT_SURFACE_UNKNOWN);
        face = face || slope->is_face;
        both = both || (flipped(slope) && slope->readings_rad.count > 0);
    }
    if (unknown)
        ht_note(result,
                "Surface not stated: %1\302\260 taken, as on a rough yoke.",
                ht_surface_u_rad(HT_SURFACE_UNKNOWN) * HT_DEG_PER_RAD, 1, 0, 0);
    if (face)
        say(result, "A face across the axis: slope is 90\302\260 less the "
                    "reading. Below 90\302\260 means rear end lower.");
    if (both)
        say(result, "Where the gauge was turned round, that pair is used and "
                    "the single readings are not.");
}

static void note_geometry(struct ht_angles *result,
                          const struct ht_driveline *driveline)
{
    bool unknown = false;
    for (size_t j = 0; j + 1 < driveline->members; j++)
        unknown = unknown || driveline->kind[j] == HT_JOINT_UNKNOWN;
    if (unknown)
        say(result, "Joint kind not stated: Cardan joints taken.");
    if (result->side_view_only)
        say(result, "Side view only. The true angle is at least this.");
    else if (isnan(driveline->heading_u_rad))
        ht_note(result,
                "Headings taken as known to %1\302\260 (standard "
                "uncertainty, about 2 mm in a metre).",
                HT_HEADING_U_DEG, 1, 0, 0);
    if (driveline->driven_from == HT_END_UNKNOWN)
        say(result, "Driving end not stated: front taken.");
}

/* What the rules on cancelling leave out. */
static void note_rules(struct ht_angles *result, const struct ht_model *model)
{
    bool before = false, even = false, between = false;
    for (size_t j = 0; j < model->joints; j++) {
        bool cardan = ht_joint_is_cardan(model->chain.kind[j]);
        between = between || (cardan && before && even);
        before = before || cardan;
        even = even || !cardan;
    }
    if (even)
        say(result, "Double Cardan, constant velocity and rubber joints are "
                    "taken to pass the speed on evenly.");
    if (between)
        say(result, "Yokes before and after such a joint are taken as in "
                    "line.");
    if (model->crossed)
        say(result, "A shaft's yokes are not in line: its joints are not "
                    "compared. Judge by the leftover angle.");
}

void ht_note_assumptions(struct ht_angles *result,
                         const struct ht_driveline *driveline,
                         const struct ht_model *model)
{
    note_rules(result, model);
    note_suspension(result, driveline);
    note_geometry(result, driveline);
    note_gauge(result, driveline->gauge);
    note_readings(result, driveline);
}
