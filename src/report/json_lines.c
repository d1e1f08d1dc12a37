/* Several drivelines and several sets of readings, and their tables. */
#include "json_lines.h"

#include "json_effects.h"
#include "json_rows.h"
#include "json_view.h"
#include "sets.h"
#include "travel.h"

#include "common/constants.h"

#include <math.h>
#include <stddef.h>

struct json_driveline {
    const char *name, *from, *to, *driven_from, *engaged, *set;
    double turns, shaft_rpm;
};
struct json_set {
    const char *driveline, *name, *when;
    double height_m;
    bool normal_height, decides;
};

static const struct ht_row driveline_rows[] = {
    KEY(json_driveline, "name", TEXT, name, "As the sheet has it"),
    KEY(json_driveline, "from", TEXT, from, "What turns it"),
    KEY(json_driveline, "to", TEXT, to, "What it turns"),
    KEY(json_driveline, "driven_from", TEXT, driven_from, "front or rear"),
    KEY(json_driveline, "engaged", TEXT, engaged,
        "yes; no: the wheels turn it, no torque goes through it"),
    KEY(json_driveline, "turns_per_wheel_turn", NUMBER, turns,
        "Of its shafts"),
    KEY(json_driveline, "shaft_rpm", NUMBER, shaft_rpm,
        "At the highest speed, rev/min"),
    KEY(json_driveline, "set", TEXT, set,
        "The set to go by, whose angle keys follow; they are absent when "
        "nothing was read"),
};
const struct ht_schema json_driveline_schema = {
    HT_SCHEMA("drivelines",
              "With several drivelines: `drivelines`, a list, one for each. "
              "After these keys stand those of *angles*.",
              driveline_rows, struct json_driveline)
};

static const struct ht_row set_rows[] = {
    KEY(json_set, "driveline", TEXT, driveline, "That was read"),
    KEY(json_set, "name", TEXT, name, "Of the set"),
    KEY(json_set, "when", TEXT, when, "before, after, ..."),
    { .key = "height_mm", .kind = HT_IS_NUMBER,
      .quantity = HT_QUANTITY_LENGTH, .at = offsetof(struct json_set, height_m),
      .help = "Ride height at the axle" },
    KEY(json_set, "normal_height", BOOL, normal_height,
        "The normal ride height"),
    KEY(json_set, "decides", BOOL, decides,
        "The set to go by of its driveline"),
};
const struct ht_schema json_set_schema = {
    HT_SCHEMA("angle_sets",
              "With several sets of readings: `angle_sets`, a list, one for "
              "each, in the sheet's order. After these keys stand those of "
              "*angles*; the angle keys at the top level are the first "
              "set's.",
              set_rows, struct json_set)
};

struct json_range {
    const char *between;        /* NULL: what is left over */
    double lowest_rad, highest_rad;
    size_t lowest_set, highest_set;
};
struct json_travel {
    const char *driveline, *when;
    struct json_range *joints, leftover;
    size_t joint_count;
};

#define RANGE_ROWS                                                             \
    { .key = "lowest_deg", .kind = HT_IS_NUMBER,                               \
      .quantity = HT_QUANTITY_ANGLE,                                           \
      .at = offsetof(struct json_range, lowest_rad),                           \
      .help = "Smallest angle" },                                              \
        KEY(json_range, "lowest_set", COUNT, lowest_set,                       \
            "In which of `angle_sets`, from 1"),                               \
        { .key = "highest_deg", .kind = HT_IS_NUMBER,                          \
          .quantity = HT_QUANTITY_ANGLE,                                       \
          .at = offsetof(struct json_range, highest_rad),                      \
          .help = "Largest angle" },                                           \
        KEY(json_range, "highest_set", COUNT, highest_set,                     \
            "In which of `angle_sets`, from 1")
static const struct ht_row joint_range_rows[] = {
    KEY(json_range, "between", TEXT, between, "The two members that meet"),
    RANGE_ROWS,
};
static const struct ht_schema joint_range_schema = {
    HT_SCHEMA("joints", "One joint over the travel.", joint_range_rows,
              struct json_range)
};
static const struct ht_row leftover_range_rows[] = { RANGE_ROWS };
static const struct ht_schema leftover_range_schema = {
    HT_SCHEMA("leftover", "What is left over, over the travel.",
              leftover_range_rows, struct json_range)
};
static const struct ht_row travel_rows[] = {
    KEY(json_travel, "driveline", TEXT, driveline, "That was read"),
    KEY(json_travel, "when", TEXT, when, "before, after, ..."),
    { .key = "joints", .kind = HT_IS_MAPS, .child = &joint_range_schema,
      .at = offsetof(struct json_travel, joints),
      .count_at = offsetof(struct json_travel, joint_count),
      .flags = HT_KEEP_EMPTY, .help = "The joints, front to rear" },
    { .key = "leftover", .kind = HT_IS_MAP, .child = &leftover_range_schema,
      .at = offsetof(struct json_travel, leftover),
      .help = "What all joints together leave" },
};
const struct ht_schema json_travel_schema = {
    HT_SCHEMA("travel",
              "Where a driveline was read at several ride heights: `travel`, a "
              "list, one for each such driveline, of the sets to go by.",
              travel_rows, struct json_travel)
};

static const char *answer_word(enum ht_answer answer)
{
    return answer == HT_ANSWER_YES  ? "yes"
           : answer == HT_ANSWER_NO ? "no"
                                    : NULL;
}

static const char *end_word(enum ht_end end)
{
    return end == HT_END_FRONT  ? "front"
           : end == HT_END_REAR ? "rear"
                                : NULL;
}

static bool put_angle_keys(struct ht_json *json,
                           const struct ht_angles *angles,
                           struct ht_arena *arena)
{
    struct json_angles view;
    if (!json_angles_from(&view, angles, arena))
        return false;
    ht_json_rows(json, &json_angles_schema, &view);
    return true;
}

static bool put_driveline(struct ht_json *json, const struct ht_workup *workup,
                          size_t index, struct ht_arena *arena)
{
    const struct ht_sheet_driveline *line = &workup->sheet->drivelines[index];
    const struct ht_line_angles *set = deciding_set(workup, index);
    struct json_driveline view = {
        .name = json_text_of(arena, line->name),
        .from = json_text_of(arena, line->from),
        .to = json_text_of(arena, line->to),
        .driven_from = end_word(line->driven_from),
        .engaged = answer_word(line->engaged),
        .turns = ht_rotation_line_turns(&workup->rotation, line),
        .shaft_rpm = NAN,
    };
    if (set) {
        view.set = json_text_of(arena, set->set);
        view.shaft_rpm =
            set->angles.accelerations.shaft_rad_s * 30 / HT_PI;
    }
    ht_json_open_map(json, NULL);
    ht_json_rows(json, &json_driveline_schema, &view);
    bool fine = !set || put_angle_keys(json, &set->angles, arena);
    ht_json_close(json);
    return fine;
}

static bool put_set(struct ht_json *json, const struct ht_workup *workup,
                    size_t index, bool effects, struct ht_arena *arena)
{
    const struct ht_line_angles *line = &workup->lines[index];
    const struct json_set view = {
        .driveline = json_text_of(arena, line->driveline),
        .name = json_text_of(arena, line->set),
        .when = json_text_of(arena, line->when),
        .height_m = line->height_m,
        .normal_height = line->normal_height,
        .decides = line->decides,
    };
    ht_json_open_map(json, NULL);
    ht_json_rows(json, &json_set_schema, &view);
    bool fine = put_angle_keys(json, &line->angles, arena);
    if (effects)
        fine = fine && json_put_effects(json, workup, index, arena);
    ht_json_close(json);
    return fine;
}

static struct json_range range_of(const struct travel *travel, size_t joint)
{
    struct travel_range range = travel_range(travel, joint);
    return (struct json_range){ NULL, range.lowest_rad, range.highest_rad, 0,
                                0 };
}

/* Numbers the sets as `angle_sets` lists them. */
static void number_sets(struct json_range *view, const struct travel *travel,
                        size_t joint, const struct ht_workup *workup)
{
    struct travel_range range = travel_range(travel, joint);
    for (size_t i = 0; i < workup->line_count; i++) {
        if (&workup->lines[i] == range.lowest)
            view->lowest_set = i + 1;
        if (&workup->lines[i] == range.highest)
            view->highest_set = i + 1;
    }
}

static bool put_travel(struct ht_json *json, const struct ht_workup *workup,
                       const struct travel *travel, struct ht_arena *arena)
{
    struct json_travel view = {
        .driveline = json_text_of(arena, travel->deciding->driveline),
        .when = json_text_of(arena, travel->deciding->when),
        .joint_count = travel->joints,
        .joints = ht_arena_get(arena, travel->joints, sizeof *view.joints),
        .leftover = range_of(travel, travel->joints),
    };
    if (!view.joints)
        return false;
    for (size_t j = 0; j < travel->joints; j++) {
        view.joints[j] = range_of(travel, j);
        view.joints[j].between = json_text_of(
            arena, travel->deciding->angles.joint[j].between);
        number_sets(&view.joints[j], travel, j, workup);
    }
    number_sets(&view.leftover, travel, travel->joints, workup);
    ht_json_open_map(json, NULL);
    ht_json_rows(json, &json_travel_schema, &view);
    ht_json_close(json);
    return true;
}

static bool put_travels(struct ht_json *json, const struct ht_workup *workup,
                        struct ht_arena *arena)
{
    struct travel travel;
    bool fine = true, open = false;
    for (size_t i = 0; fine && i < workup->line_count; i++) {
        if (!workup->lines[i].decides ||
            !travel_from(&travel, workup, &workup->lines[i]))
            continue;
        if (!open)
            ht_json_open_list(json, "travel");
        open = true;
        fine = put_travel(json, workup, &travel, arena);
    }
    if (open)
        ht_json_close(json);
    return fine;
}

bool json_put_lines(struct ht_json *json, const struct ht_workup *workup,
                    bool effects, struct ht_arena *arena)
{
    bool fine = true;
    if (several_drivelines(workup)) {
        ht_json_open_list(json, "drivelines");
        for (size_t d = 0; fine && d < workup->sheet->driveline_count; d++)
            fine = put_driveline(json, workup, d, arena);
        ht_json_close(json);
    }
    if (fine && several_sets(workup)) {
        ht_json_open_list(json, "angle_sets");
        for (size_t i = 0; fine && i < workup->line_count; i++)
            fine = put_set(json, workup, i, effects, arena);
        ht_json_close(json);
        fine = fine && put_travels(json, workup, arena);
    }
    return fine;
}
