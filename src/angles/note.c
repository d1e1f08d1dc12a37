#include "note.h"
#include "texts.h"

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
        say(result, ANGLES_SUSPENSION_NOT_SAID);
    if (driveline->suspension == HT_SUSPENSION_HANGING)
        say(result, ANGLES_HANGING);
}

static void note_gauge(struct ht_angles *result, struct ht_gauge gauge)
{
    if (isnan(gauge.accuracy_rad))
        ht_note(result, ANGLES_ACCURACY_TAKEN, HT_ACCURACY_DEG, 1, 0, 0);
    if (isnan(gauge.step_rad))
        ht_note(result, ANGLES_STEP_TAKEN, HT_STEP_DEG, 1, 0, 0);
    if (isnan(gauge.set_up_rad))
        ht_note(result, ANGLES_SET_UP_TAKEN, HT_SET_UP_DEG, 1, 0, 0);
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
        ht_note(result, ANGLES_SURFACE_TAKEN,
                ht_surface_u_rad(HT_SURFACE_UNKNOWN) * HT_DEG_PER_RAD, 1, 0, 0);
    if (face)
        say(result, ANGLES_FACE);
    if (both)
        say(result, ANGLES_FLIP_USED);
}

static void note_geometry(struct ht_angles *result,
                          const struct ht_driveline *driveline)
{
    bool unknown = false;
    for (size_t j = 0; j + 1 < driveline->members; j++)
        unknown = unknown || driveline->kind[j] == HT_JOINT_UNKNOWN;
    if (unknown)
        say(result, ANGLES_CARDAN_TAKEN);
    if (result->side_view_only)
        say(result, ANGLES_SIDE_VIEW);
    else if (isnan(driveline->heading_u_rad))
        ht_note(result, ANGLES_HEADINGS_TAKEN, HT_HEADING_U_DEG, 1, 0, 0);
    if (driveline->driven_from == HT_END_UNKNOWN)
        say(result, ANGLES_FRONT_TAKEN);
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
        say(result, ANGLES_EVEN_JOINTS);
    if (between)
        say(result, ANGLES_YOKES_TAKEN);
    if (model->crossed)
        say(result, ANGLES_YOKES_CROSSED);
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
