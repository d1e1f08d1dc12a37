#include "json_view.h"

#include "judged.h"
#include "markup.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

const char *json_text_of(struct ht_arena *arena, const char *text)
{
    struct ht_text clean = { 0 };
    clean_text(&clean, text);
    const char *copy =
        clean.length ? ht_arena_text(arena, clean.bytes, clean.length) : NULL;
    arena->failed = arena->failed || clean.failed;
    ht_text_free(&clean);
    return copy;
}

bool json_fill_texts(struct json_texts *view, const char *first, size_t size,
                       size_t count, struct ht_arena *arena)
{
    view->count = count;
    view->text = ht_arena_get(arena, count + 1, sizeof *view->text);
    for (size_t i = 0; view->text && i < count; i++)
        view->text[i] = json_text_of(arena, first + i * size);
    return view->text != NULL;
}

static const char *verdict_name(enum ht_verdict verdict)
{
    static const char *const names[] = {
        [HT_VERDICT_NONE] = NULL,
        [HT_VERDICT_OVER] = "over",
        [HT_VERDICT_UNDER] = "under",
        [HT_VERDICT_WITHIN] = "within",
        [HT_VERDICT_OPEN] = "cannot_be_decided",
    };
    return names[verdict];
}

static void fill_joint(struct json_joint *view,
                       const struct ht_joint_angle *joint,
                       struct ht_arena *arena)
{
    const struct ht_estimate *e = &joint->angle_rad;
    *view = (struct json_joint){ json_text_of(arena, joint->between), e->value,
                                 e->u, e->low, e->high };
}

/* A figure that somebody wrote in degrees: as it was written. */
static double as_written(double value)
{
    return round(value * 1e9) / 1e9;
}

static void fill_verdict(struct json_verdict *view,
                         const struct ht_limit_verdict *v,
                         struct ht_arena *arena)
{
    bool angle = strcmp(v->unit, "rad") == 0;
    double factor = angle ? HT_DEG_PER_RAD : 1;
    *view = (struct json_verdict){
        .what = json_text_of(arena, v->what),
        .unit = angle ? "deg" : json_text_of(arena, v->unit),
        .set = json_text_of(arena, v->set),
        .source = json_text_of(arena, v->source),
        .verdict = verdict_name(v->verdict),
        .way_out = json_text_of(arena, v->way_out),
        .joint = v->joint,
        .is_minimum = v->is_minimum,
        .value = v->value * factor,
        .u = v->u * factor,
        .low = v->low * factor,
        .high = v->high * factor,
        .limit = angle ? as_written(v->limit * factor) : v->limit,
        .probability_over = v->probability_over,
    };
}

bool json_angles_from(struct json_angles *view, const struct ht_angles *angles,
                      struct ht_arena *arena)
{
    *view = (struct json_angles){
        .side_view_only = angles->side_view_only,
        .verdict_allowed = angles->verdict_allowed,
        .leftover_is_zero = angles->leftover_is_zero,
        .leftover_rad = angles->leftover_rad,
        .accelerations = angles->accelerations,
        .speed_ripple = angles->speed_ripple,
        .joint_count = angles->joints,
        .verdict_count = angles->verdicts,
        .joints = ht_arena_get(arena, angles->joints + 1,
                               sizeof *view->joints),
        .verdicts = ht_arena_get(arena, angles->verdicts + 1,
                                 sizeof *view->verdicts),
    };
    if (!view->joints || !view->verdicts)
        return false;
    for (size_t i = 0; i < angles->joints; i++)
        fill_joint(&view->joints[i], &angles->joint[i], arena);
    for (size_t i = 0; i < angles->verdicts; i++)
        fill_verdict(&view->verdicts[i], &angles->verdict[i], arena);
    return JSON_TEXTS(&view->doubts, angles->doubt, angles->doubts, arena) &&
           JSON_TEXTS(&view->notes, angles->note, angles->notes, arena);
}
