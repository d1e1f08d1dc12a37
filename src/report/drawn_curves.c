/* The angles at work: one turn, and the shakes over road speed. */
#include "drawn.h"

#include "figure.h"
#include "judged.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"
#include "common/memory.h"
#include "halfturn/effects.h"

#include <math.h>
#include <string.h>

/* ---- one turn ------------------------------------------------------------ */

/* Everything that a figure of one turn points to. */
struct turn_room {
    const struct ht_turn *turn;
    double at_deg[HT_TURN_STEPS + 1];
    double error_deg[CURVE_LINES_MAX][HT_TURN_STEPS + 1];
    struct ht_text name[CURVE_LINES_MAX], label;
};

static void take_line(struct turn_figure *figure, struct turn_room *room,
                      const char *name, size_t member)
{
    static const char *const classes[CURVE_LINES_MAX] = {
        "chosen shaft", "shaft", "other", "mixed"
    };
    size_t i = figure->lines++;
    for (size_t k = 0; k <= HT_TURN_STEPS; k++)
        room->error_deg[i][k] =
            HT_DEG_PER_RAD *
            room->turn->member[member].error_rad[k % HT_TURN_STEPS];
    clean_text(&room->name[i], name);
    figure->line[i] = (struct figure_line_of){
        .classes = classes[i],
        .name = ht_text_get(&room->name[i]),
        .name_classes = i == 0 ? "t12 halo bold blue" : "t12 halo dim",
        .value = room->error_deg[i],
        .points = HT_TURN_STEPS + 1,
    };
}

static void turn_from(struct turn_figure *figure, struct turn_room *room,
                      const struct ht_workup *workup, size_t driveline)
{
    size_t last = room->turn->members - 1;
    size_t driven = room->turn->from_rear ? 0 : last;
    for (size_t k = 0; k <= HT_TURN_STEPS; k++)
        room->at_deg[k] = 360.0 * (double)k / HT_TURN_STEPS;
    *figure = (struct turn_figure){ .at_deg = room->at_deg };
    take_line(figure, room, member_name(workup, driveline, driven), driven);
    for (size_t m = last - 1; m > 0 && figure->lines < CURVE_LINES_MAX; m--)
        take_line(figure, room, member_name(workup, driveline, m), m);
    ht_text_addf(&room->label, FIGURE_TURN_LABEL, figure->line[0].name,
                 shown_degrees(room->turn->member[driven].error_peak_rad, 3)
                     .text);
    figure->label = ht_text_get(&room->label);
}

enum ht_status drawn_turn(struct ht_text *svg, struct ht_text *caption,
                          const struct subject *subject, double width,
                          struct ht_error *err)
{
    const struct ht_workup *workup = subject->workup;
    const struct shown_set *set = &subject->set;
    struct turn_figure figure;
    (void)err;
    if (!workup->effects || workup->effects[set->line].turn.members < 2)
        return HT_OK;
    struct turn_room *room = ht_allocate(1, sizeof *room);
    if (!room) {
        ht_text_fail(svg);
        return HT_OK;
    }
    room->turn = &workup->effects[set->line].turn;
    turn_from(&figure, room, workup, set->driveline);
    ht_text_add(caption, FIGURE_TURN_CAPTION);
    draw_turn_curve(svg, &figure, width);
    for (size_t i = 0; i < CURVE_LINES_MAX; i++)
        ht_text_end(svg, &room->name[i]);
    ht_text_end(svg, &room->label);
    ht_release(room);
    return HT_OK;
}

/* ---- shake over speed ---------------------------------------------------- */

struct shake_room {
    struct ht_text label, limit[CURVE_LIMITS_MAX];
};

static void take_shake(struct shake_figure *figure,
                       const struct ht_road_curve *curve, size_t points,
                       const char *classes, const char *name)
{
    if (!isfinite(curve->value[points - 1]))
        return;
    figure->line[figure->lines] = (struct figure_line_of){
        .classes = classes,
        .name = name,
        .name_classes = figure->lines == 0 ? "t12 halo bold blue"
                                           : "t12 halo dim",
        .value = curve->value,
        .points = points,
    };
    figure->lines++;
}

/* The limit of the set that decides on a shake. */
static void take_limit(struct shake_figure *figure, struct shake_room *room,
                       const struct ht_angles *angles, const char *what,
                       const char *text)
{
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        size_t n = figure->limits;
        if (strcmp(v->unit, "rad/s2") != 0 || !strstr(v->what, what))
            continue;
        ht_text_addf(&room->limit[n], text, shown_number(v->limit, 0).text);
        figure->limit[n].value = v->limit;
        figure->limit[n].name = ht_text_get(&room->limit[n]);
        figure->limits++;
        return;
    }
}

static void shake_from(struct shake_figure *figure, struct shake_room *room,
                       const struct ht_workup *workup,
                       const struct shown_set *set)
{
    const struct ht_road *road = &workup->effects[set->line].road;
    const struct ht_angles *angles = set->angles;
    *figure = (struct shake_figure){ .points = road->points,
                                     .speed_m_s = road->speed_m_s,
                                     .low = road->axle.low,
                                     .high = road->axle.high };
    take_shake(figure, &road->axle, road->points, "chosen shaft",
               FIGURE_TO_AXLE);
    take_shake(figure, &road->pulled, road->points, "shaft", FIGURE_PULLED);
    take_shake(figure, &road->held, road->points, "other", FIGURE_HELD);
    take_shake(figure, &road->section, road->points, "wheel", FIGURE_SECTION);
    take_limit(figure, room, angles, "axle", FIGURE_LIMIT_AXLE);
    take_limit(figure, room, angles, "pulled", FIGURE_LIMIT_SHAFT);
    if (!felt_range(workup, &figure->felt_from_m_s, &figure->felt_to_m_s))
        figure->felt_from_m_s = figure->felt_to_m_s = NAN;
    ht_text_addf(&room->label, FIGURE_SHAKE_LABEL,
                 shown_rate_range(&angles->accelerations.axle).text,
                 shown_speed(angles->accelerations.speed_m_s).text);
    figure->label = ht_text_get(&room->label);
}

enum ht_status drawn_shakes(struct ht_text *svg, struct ht_text *caption,
                            const struct subject *subject, double width,
                            struct ht_error *err)
{
    const struct ht_workup *workup = subject->workup;
    const struct shown_set *set = &subject->set;
    struct shake_figure figure;
    struct shake_room room = { 0 };
    (void)err;
    if (!workup->effects || workup->effects[set->line].road.points < 2)
        return HT_OK;
    shake_from(&figure, &room, workup, set);
    ht_text_add(caption, FIGURE_SHAKE_CAPTION);
    draw_shake_curve(svg, &figure, width);
    for (size_t i = 0; i < CURVE_LIMITS_MAX; i++)
        ht_text_end(svg, &room.limit[i]);
    ht_text_end(svg, &room.label);
    return HT_OK;
}
