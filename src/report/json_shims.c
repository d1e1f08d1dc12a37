/* Shims as JSON: views and their tables. */
#include "json_shims.h"

#include "json_rows.h"
#include "json_view.h"

#include "common/constants.h"

#include <math.h>
#include <stddef.h>

struct json_work {
    enum ht_shim_place at;
    bool turned;
    size_t member;
    double turn_rad, lift_m, teeth; /* NAN: not at such a place */
    double wedge_rad;
    double plate_m[2];              /* the list's memory */
    struct ht_numbers plates_m;
};
struct json_slope {
    const char *member;
    double angle_rad, low_rad, high_rad;
};
struct json_plan {
    struct json_work *works;
    size_t work_count;
    double minutes, probability, weakest_probability;
    const char *weakest;
    struct json_slope *slopes, *joints;
    size_t slope_count, joint_count;
    struct json_slope leftover;
    bool advised;
};
struct json_reading {
    const char *member;
    double predicted_rad, measured_rad, u_rad;
    bool as_predicted;
};
struct json_after {
    struct json_work *works;
    size_t work_count;
    struct json_reading *readings;
    size_t reading_count;
    bool said, guessed, compared, as_predicted, fits_reversed;
    double reversed;                /* NAN: none */
    double before, later;           /* NAN: not known */
};
struct json_shims {
    const char *driveline, *limits;
    struct json_texts first, notes;
    size_t combinations;
    bool needs_nothing;
    struct json_plan *now;          /* a list of one, or none */
    size_t now_count;
    struct json_plan *plans;
    size_t plan_count;
    struct json_after *after;       /* likewise */
    size_t after_count;
};

/* ---- tables ------------------------------------------------------------- */

static const struct ht_row work_rows[] = {
    { .key = "at", .kind = HT_IS_WORD, .words = ht_shim_place_words,
      .at = offsetof(struct json_work, at), .help = "Where" },
    KEY(json_work, "member", COUNT, member,
        "The member it is about, counted from 0"),
    SI(json_work, "turn_deg", ANGLE, turn_rad,
       "Axle: + turns the pinion's front end up"),
    SI(json_work, "lift_mm", LENGTH, lift_m, "Plates: + lifts"),
    SI(json_work, "wedge_deg", ANGLE, wedge_rad,
       "Axle: the wedges that make it, as on the shelf"),
    { .key = "plates_mm", .kind = HT_IS_NUMBERS,
      .quantity = HT_QUANTITY_LENGTH, .most = 2,
      .at = offsetof(struct json_work, plates_m),
      .help = "Plates: those that make it, as on the shelf, thinner first; "
              "absent: not taken from the shelf" },
    KEY(json_work, "teeth", NUMBER, teeth,
        "Slip spline: + turns the rear part right-handed about the rearward "
        "axis"),
    KEY(json_work, "turned", BOOL, turned,
        "What is in already is turned round: half of `turn_deg` or `lift_mm`"),
};
static SCHEMA(work_schema, "works", "What is done at one place.", work_rows,
              struct json_work);

static const struct ht_row slope_rows[] = {
    KEY(json_slope, "member", TEXT, member, "Its name"),
    SI(json_slope, "angle_deg", ANGLE, angle_rad, "Median"),
    SI(json_slope, "low_deg", ANGLE, low_rad, "95 % interval, lower end"),
    SI(json_slope, "high_deg", ANGLE, high_rad, "95 % interval, upper end"),
};
static SCHEMA(expected_schema, "slopes", "The reading to expect.", slope_rows,
              struct json_slope);

static const struct ht_row plan_rows[] = {
    KEY(json_plan, "advised", BOOL, advised,
        "The least work that is sure enough; else the likeliest"),
    LIST(json_plan, "works", works, work_count, work_schema, "What is done"),
    KEY(json_plan, "minutes", NUMBER, minutes, "Of work"),
    KEY(json_plan, "probability_all", NUMBER, probability,
        "That every limit is kept"),
    KEY(json_plan, "weakest", TEXT, weakest, "The limit least sure to be kept"),
    KEY(json_plan, "weakest_probability", NUMBER, weakest_probability,
        "That this one is kept"),
    LIST(json_plan, "slopes", slopes, slope_count, expected_schema,
         "Of every member, front to rear"),
    LIST(json_plan, "joints", joints, joint_count, expected_schema,
         "Working angles, without names"),
    { .key = "leftover", .kind = HT_IS_MAP, .child = &expected_schema,
      .at = offsetof(struct json_plan, leftover), .help = "Leftover angle" },
};
static SCHEMA(plan_schema, "plans", "One plan.", plan_rows, struct json_plan);

static const struct ht_row reading_rows[] = {
    KEY(json_reading, "member", TEXT, member, "Its name"),
    SI(json_reading, "predicted_deg", ANGLE, predicted_rad, "Predicted slope"),
    SI(json_reading, "measured_deg", ANGLE, measured_rad, "As read"),
    SI(json_reading, "u_deg", ANGLE, u_rad,
       "Standard uncertainty of the difference"),
    KEY(json_reading, "as_predicted", BOOL, as_predicted, "Within 95 %"),
};
static SCHEMA(reading_schema, "readings", "One member after the repair.",
              reading_rows, struct json_reading);

static const struct ht_row after_rows[] = {
    LIST(json_after, "works", works, work_count, work_schema,
         "What the sheet says was put in, or a guess"),
    KEY(json_after, "said", BOOL, said, "The sheet says what was put in"),
    KEY(json_after, "guessed", BOOL, guessed,
        "It does not: of what is on the shelf, `works` fit the readings best"),
    KEY(json_after, "probability_before", NUMBER, before,
        "That every limit was kept before the repair"),
    KEY(json_after, "probability_after", NUMBER, later,
        "That every limit is kept after it"),
    KEY(json_after, "compared", BOOL, compared,
        "Every member was read both times; no: no readings follow"),
    KEY(json_after, "as_predicted", BOOL, as_predicted,
        "All readings are; without `works`: as before"),
    KEY(json_after, "fits_reversed", BOOL, fits_reversed,
        "They are not, but would be with one work the other way round"),
    KEY(json_after, "reversed", NUMBER, reversed, "Which one, from 0"),
    LIST(json_after, "readings", readings, reading_count, reading_schema,
         "Front to rear"),
};
static SCHEMA(after_schema, "after",
              "A list of one when there are readings before and after the "
              "repair.",
              after_rows, struct json_after);

static const struct ht_row shims_rows[] = {
    KEY(json_shims, "driveline", TEXT, driveline, "Its name"),
    KEY(json_shims, "limits", TEXT, limits, "The set that is to be kept"),
    TEXTS(json_shims, "put_right_first", first,
          "Why there is no plan yet; empty when there may be"),
    TEXTS(json_shims, "notes", notes, "What was taken, what was left out"),
    KEY(json_shims, "combinations", COUNT, combinations, "That were tried"),
    LIST(json_shims, "as_it_stands", now, now_count, plan_schema,
         "A list of one: nothing done"),
    KEY(json_shims, "needs_nothing", BOOL, needs_nothing,
        "As it stands every limit is kept, with 95 in 100 or more: no plans"),
    LIST(json_shims, "plans", plans, plan_count, plan_schema,
         "Least work first, each likelier than those before"),
    LIST(json_shims, "after", after, after_count, after_schema,
         "Readings after the repair against the prediction"),
};
SCHEMA(json_shims_schema, "shims",
       "With `shims`: `shims`, a list, one for each driveline that was read.",
       shims_rows, struct json_shims);

/* ---- views -------------------------------------------------------------- */

static void put_plates(struct json_work *view, const struct ht_shim_work *work)
{
    view->plates_m.value = view->plate_m;
    for (size_t p = 0; p < 2 && work->plate_m[p] > 0; p++)
        view->plate_m[view->plates_m.count++] = work->plate_m[p];
}

static struct json_work *works_of(const struct ht_shim_work *work,
                                  size_t works, struct ht_arena *arena)
{
    struct json_work *view = ht_arena_get(arena, works + 1, sizeof *view);
    for (size_t i = 0; view && i < works; i++) {
        enum ht_shim_place place = work[i].place;
        bool plates = place == HT_SHIM_SUPPORT || place == HT_SHIM_GEARBOX;
        view[i] = (struct json_work){
            .at = place,
            .turned = work[i].turned,
            .member = work[i].member,
            .turn_rad = place == HT_SHIM_AXLE ? work[i].turn_rad : NAN,
            .lift_m = plates ? work[i].lift_m : NAN,
            .teeth = place == HT_SHIM_SPLINE ? (double)work[i].teeth
                                             : (double)NAN,
            .wedge_rad = place == HT_SHIM_AXLE
                             ? fabs(work[i].turn_rad) /
                                   (work[i].turned ? 2 : 1)
                             : NAN,
        };
        put_plates(&view[i], &work[i]);
    }
    return view;
}

static const char *name_of(struct ht_arena *arena, const char *name)
{
    return name[0] ? json_text_of(arena, name) : NULL;
}

static struct json_slope slope_of(const char *member,
                                  const struct ht_estimate *rad)
{
    return (struct json_slope){ member, rad->value, rad->low, rad->high };
}

static bool fill_plan(struct json_plan *view, const struct ht_shims *shims,
                      const struct ht_shim_plan *plan, struct ht_arena *arena)
{
    *view = (struct json_plan){
        .works = works_of(plan->work, plan->works, arena),
        .work_count = plan->works,
        .minutes = plan->minutes,
        .probability = plan->probability,
        .weakest = name_of(arena, plan->weakest),
        .weakest_probability = plan->weakest_probability,
        .slopes = ht_arena_get(arena, plan->members, sizeof *view->slopes),
        .joints = ht_arena_get(arena, plan->members, sizeof *view->joints),
        .slope_count = plan->members,
        .joint_count = plan->members - 1,
        .leftover = slope_of(NULL, &plan->leftover_rad),
    };
    if (!view->works || !view->slopes || !view->joints)
        return false;
    for (size_t m = 0; m < plan->members; m++)
        view->slopes[m] =
            slope_of(name_of(arena, shims->member[m]), &plan->slope_rad[m]);
    for (size_t j = 0; j + 1 < plan->members; j++)
        view->joints[j] = slope_of(NULL, &plan->joint_rad[j]);
    return true;
}

static bool fill_texts(struct json_texts *texts, const char (*line)[200],
                       size_t count, struct ht_arena *arena)
{
    texts->count = count;
    texts->text = ht_arena_get(arena, count + 1, sizeof *texts->text);
    for (size_t i = 0; texts->text && i < count; i++)
        texts->text[i] = json_text_of(arena, line[i]);
    return texts->text;
}

static bool fill_after(struct json_shims *view,
                       const struct ht_line_shims *line, struct ht_arena *arena)
{
    const struct ht_shims_after *after = &line->after;
    if (!line->has_after)
        return true;
    view->after = ht_arena_get(arena, 1, sizeof *view->after);
    if (!view->after)
        return false;
    view->after_count = 1;
    *view->after = (struct json_after){
        .works = works_of(after->work, after->works, arena),
        .work_count = after->works,
        .readings = ht_arena_get(arena, after->members,
                                 sizeof *view->after->readings),
        .reading_count = after->compared ? after->members : 0,
        .as_predicted = after->all_as_predicted,
        .fits_reversed = after->fits_reversed,
        .said = after->said,
        .guessed = after->guessed,
        .compared = after->compared,
        .before = after->kept_before,
        .later = after->kept_after,
        .reversed = after->fits_reversed ? (double)after->reversed : NAN,
    };
    if (!view->after->works || !view->after->readings)
        return false;
    for (size_t m = 0; m < after->members; m++)
        view->after->readings[m] = (struct json_reading){
            name_of(arena, line->shims.member[m]),
            after->reading[m].predicted_rad,
            after->reading[m].measured_rad,
            after->reading[m].u_rad,
            after->reading[m].as_predicted,
        };
    return true;
}

static bool fill_line(struct json_shims *view, const struct ht_line_shims *line,
                      struct ht_arena *arena)
{
    const struct ht_shims *shims = &line->shims;
    *view = (struct json_shims){
        .driveline = name_of(arena, shims->driveline),
        .limits = name_of(arena, shims->limits),
        .combinations = shims->combinations,
        .needs_nothing = shims->needs_nothing,
        .now = ht_arena_get(arena, 1, sizeof *view->now),
        .plans = ht_arena_get(arena, shims->plans + 1, sizeof *view->plans),
        .plan_count = shims->plans,
    };
    bool fine = view->now && view->plans &&
                fill_texts(&view->first, shims->refusal, shims->refusals,
                           arena) &&
                fill_texts(&view->notes, shims->note, shims->notes, arena);
    if (fine && shims->refusals == 0) {
        view->now_count = 1;
        fine = fill_plan(view->now, shims, &shims->as_it_stands, arena);
    }
    for (size_t p = 0; fine && p < shims->plans; p++) {
        fine = fill_plan(&view->plans[p], shims, &shims->plan[p], arena);
        view->plans[p].advised = p == shims->advised;
    }
    return fine && fill_after(view, line, arena);
}

bool json_put_shims(struct ht_json *json, const struct ht_workup *workup,
                    struct ht_arena *arena)
{
    bool fine = true;
    ht_json_open_list(json, "shims");
    for (size_t i = 0; fine && i < workup->shims_count; i++) {
        struct json_shims view;
        fine = fill_line(&view, &workup->shims[i], arena);
        if (fine)
            ht_json_record(json, NULL, &json_shims_schema, &view);
    }
    ht_json_close(json);
    return fine;
}
