#include "note.h"
#include "texts.h"

#include "halfturn/text.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Puts `part` in the place of each %0, %1 and %2. */
static void fill(char *buffer, size_t size, const char *sentence,
                 const char *const part[3])
{
    size_t used = 0;
    for (const char *c = sentence; *c && used + 1 < size; c++) {
        if (c[0] == '%' && c[1] >= '0' && c[1] <= '2') {
            const char *text = part[c[1] - '0'];
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

void ht_sentence(char *buffer, size_t size, const char *sentence, double first,
                 int first_decimals, double second, int second_decimals)
{
    char number[2][40];
    ht_format_number(number[0], sizeof number[0], first, first_decimals);
    ht_format_number(number[1], sizeof number[1], second, second_decimals);
    fill(buffer, size, sentence,
         (const char *const[3]){ "", number[0], number[1] });
}

void ht_sentence_about(char *buffer, size_t size, const char *sentence,
                       const char *name, const double angle_rad[2],
                       int decimals)
{
    char number[2][40], about[64];
    snprintf(about, sizeof about, "%.60s", name);
    for (int i = 0; i < 2; i++)
        ht_format_number(number[i], sizeof number[i],
                         angle_rad[i] * HT_DEG_PER_RAD, decimals);
    fill(buffer, size, sentence,
         (const char *const[3]){ about, number[0], number[1] });
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

struct seen { /* ways of reading that this set makes use of */
    bool unknown, face, flip, plain, both, opposite;
};

static struct seen ways_of(const struct ht_driveline *driveline)
{
    struct seen seen = { .unknown = driveline->by_joint &&
                                    driveline->read_on == HT_SURFACE_UNKNOWN };
    for (size_t i = 0; !driveline->by_joint && i < driveline->members; i++) {
        const struct ht_sheet_slope *slope = &driveline->slope[i];
        bool flip = ht_slope_turned(slope);
        seen.unknown = seen.unknown || (slope->read_on == HT_SURFACE_UNKNOWN &&
                                        driveline->read_on ==
                                            HT_SURFACE_UNKNOWN);
        seen.face = seen.face || slope->is_face;
        seen.flip = seen.flip || flip;
        seen.plain = seen.plain || !flip;
        seen.both = seen.both || (flip && slope->readings_rad.count > 0);
        seen.opposite = seen.opposite || slope->opposite_rad.count == 2;
    }
    return seen;
}

static void note_readings(struct ht_angles *result,
                          const struct ht_driveline *driveline)
{
    struct seen seen = ways_of(driveline);
    if (seen.unknown)
        ht_note(result, ANGLES_SURFACE_TAKEN,
                ht_surface_u_rad(HT_SURFACE_UNKNOWN) * HT_DEG_PER_RAD, 1, 0, 0);
    if (seen.face)
        say(result, ANGLES_FACE);
    if (seen.both)
        say(result, ANGLES_FLIP_USED);
    if (seen.flip)
        say(result, seen.plain ? ANGLES_FLIP_MIXED : ANGLES_FLIP_BRINGS);
    if (seen.opposite)
        say(result, ANGLES_OPPOSITE_BRINGS);
    if (driveline->by_joint)
        say(result, ANGLES_DIFFERENCES_LOSE);
}

static bool has_plan(const struct ht_driveline *driveline)
{
    bool plan = false;
    for (size_t i = 0; i < driveline->members; i++)
        plan = plan || !isnan(driveline->heading_rad[i]);
    for (size_t j = 0; j + 1 < driveline->members; j++)
        plan = plan || !isnan(driveline->offset_m[j]);
    return plan;
}

static void note_plan(struct ht_angles *result,
                      const struct ht_driveline *driveline,
                      const struct ht_model *model)
{
    double ends = isnan(driveline->heading_u_rad)
                      ? HT_HEADING_U_DEG
                      : driveline->heading_u_rad * HT_DEG_PER_RAD;
    if (driveline->by_joint && has_plan(driveline))
        say(result, ANGLES_HEADINGS_UNUSED);
    if (result->side_view_only)
        say(result, ANGLES_SIDE_VIEW);
    else if (model->by_offsets)
        ht_note(result, ANGLES_OFFSETS, HT_OFFSET_U_MM, 2, 0, 0);
    else if (isnan(driveline->heading_u_rad))
        ht_note(result, ANGLES_HEADINGS_TAKEN, HT_HEADING_U_DEG, 1, 0, 0);
    if (model->by_offsets && isnan(driveline->heading_rad[0]) &&
        isnan(driveline->heading_rad[model->joints]))
        ht_note(result, ANGLES_ENDS_STRAIGHT, ends, 1, 0, 0);
    if (driveline->drawing && !driveline->by_joint)
        say(result,
            result->side_view_only ? ANGLES_DRAWING_SIDE : ANGLES_DRAWING);
}

static void note_geometry(struct ht_angles *result,
                          const struct ht_driveline *driveline,
                          const struct ht_model *model)
{
    bool unknown = false;
    for (size_t j = 0; j + 1 < driveline->members; j++)
        unknown = unknown || driveline->kind[j] == HT_JOINT_UNKNOWN;
    if (unknown)
        say(result, ANGLES_CARDAN_TAKEN);
    note_plan(result, driveline, model);
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
    note_geometry(result, driveline, model);
    note_gauge(result, driveline->gauge);
    note_readings(result, driveline);
}
