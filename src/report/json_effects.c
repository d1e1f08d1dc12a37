#include "json_effects.h"

#include "json_effects_view.h"
#include "json_view.h"

#include "common/constants.h"

#include <math.h>

/* Copies, so that no table writes into what the workup holds. */
static struct ht_numbers copy_of(struct ht_arena *arena, const double *value,
                                 size_t count, double factor)
{
    struct ht_numbers copy = { 0 };
    if (count > 0)
        copy.value = ht_arena_get(arena, count, sizeof(double));
    if (!copy.value)
        return copy;
    copy.count = count;
    for (size_t i = 0; i < count; i++)
        copy.value[i] = value[i] * factor;
    return copy;
}

static void fill_turn(struct json_turn *view, const struct ht_turn *turn,
                      const struct ht_effects *effects, bool curves,
                      struct ht_arena *arena)
{
    *view = (struct json_turn){
        .from = turn->from_rear ? "rear" : "front",
        .step_rad = curves ? 2 * HT_PI / HT_TURN_STEPS : NAN,
        .members = ht_arena_get(arena, turn->members, sizeof *view->members),
    };
    for (size_t m = 0; view->members && m < turn->members; m++) {
        const struct ht_turn_curve *curve = &turn->member[m];
        size_t steps = curves ? HT_TURN_STEPS : 0;
        view->members[m] = (struct json_member){
            .member = json_text_of(arena, effects->member[m]),
            .second_rad = curve->harmonic_rad[0],
            .fourth_rad = curve->harmonic_rad[1],
            .sixth_rad = curve->harmonic_rad[2],
            .error_peak_rad = curve->error_peak_rad,
            .ratio_low = curve->ratio_low,
            .ratio_high = curve->ratio_high,
            .acceleration_peak = curve->acceleration_peak,
            .error_rad = copy_of(arena, curve->error_rad, steps, 1),
            .ratio = copy_of(arena, curve->ratio, steps, 1),
            .acceleration = copy_of(arena, curve->acceleration, steps, 1),
        };
        view->count = m + 1;
    }
}

static void fill_layouts(struct json_effects *view,
                         const struct ht_effects *effects,
                         struct ht_arena *arena)
{
    view->layouts =
        ht_arena_get(arena, effects->pairs + 1, sizeof *view->layouts);
    for (size_t i = 0; view->layouts && i < effects->pairs; i++) {
        const struct ht_pair_layout *pair = &effects->pair[i];
        view->layouts[view->layout_count++] = (struct json_layout){
            json_text_of(arena, effects->member[pair->section]),
            ht_layout_name(pair->layout), pair->planes_rad, pair->front_rad,
            pair->rear_rad
        };
    }
}

static struct json_clock clock_of(const struct ht_effects *effects, size_t m,
                                  const struct ht_clocking *clocking,
                                  struct ht_arena *arena)
{
    return (struct json_clock){ json_text_of(arena, effects->member[m]),
                                clocking->yoke_rad[m], clocking->leftover_rad,
                                (int)clocking->teeth[m],
                                effects->spline_teeth > 0 };
}

static void fill_clocking(struct json_effects *view,
                          const struct ht_effects *effects,
                          struct ht_arena *arena)
{
    size_t n = effects->sections;
    if (!effects->planes_known || n == 0)
        return;
    struct json_clocking *clocking =
        ht_arena_get(arena, 1, sizeof *view->clocking);
    struct json_clock *alone = ht_arena_get(arena, n, sizeof *alone);
    struct json_clock *together = ht_arena_get(arena, n, sizeof *together);
    if (!clocking || !alone || !together)
        return;
    *clocking = (struct json_clocking){
        .now_rad = effects->leftover_now_rad,
        .spline_teeth = effects->spline_teeth,
        .alone = alone,
        .together = together,
        .alone_count = n,
        .together_count = n,
    };
    for (size_t m = 1; m <= n; m++) {
        alone[m - 1] = clock_of(effects, m, &effects->clocking[m], arena);
        together[m - 1] = clock_of(effects, m, &effects->together, arena);
    }
    view->clocking = clocking;
    view->clocking_count = 1;
}

static void fill_doubles(struct json_effects *view,
                         const struct ht_effects *effects,
                         struct ht_arena *arena)
{
    view->doubles =
        ht_arena_get(arena, effects->doubles + 1, sizeof *view->doubles);
    for (size_t i = 0; view->doubles && i < effects->doubles; i++) {
        const struct ht_double_joint *joint = &effects->double_joint[i];
        view->doubles[view->double_count++] =
            (struct json_double){ joint->joint + 1, joint->front_rad,
                                  joint->rear_rad, joint->leftover_rad };
    }
    view->centring_error_m = effects->doubles ? effects->centring_error_m : NAN;
    view->cross_to_cross_m = effects->doubles ? effects->cross_to_cross_m : NAN;
    view->cross_to_cross_taken =
        effects->doubles && effects->cross_to_cross_taken;
    view->leftover_most_rad =
        effects->doubles ? effects->leftover_most_rad : NAN;
}

static void fill_loads(struct json_effects *view,
                       const struct ht_effects *effects, struct ht_arena *arena)
{
    static const char *const places[] = { "far", "near", "centre" };
    const struct ht_loads *loads = &effects->loads;
    view->torque_n_m = effects->torque_n_m;
    view->centre_taken = effects->centre_taken;
    view->couples =
        ht_arena_get(arena, loads->joints + 1, sizeof *view->couples);
    view->supports =
        ht_arena_get(arena, loads->supports + 1, sizeof *view->supports);
    for (size_t j = 0; view->couples && j < loads->joints; j++)
        view->couples[view->couple_count++] =
            (struct json_couple){ j + 1, loads->joint[j].front_n_m,
                                  loads->joint[j].rear_n_m,
                                  loads->joint[j].torque_swing };
    for (size_t s = 0; view->supports && s < loads->supports; s++)
        view->supports[view->support_count++] = (struct json_support){
            json_text_of(arena, effects->member[loads->support[s].member]),
            places[loads->support[s].place], loads->support[s].force_n,
            loads->support[s].bound_n
        };
}

static struct json_shake shake_of(const struct ht_road_curve *curve,
                                  size_t points, struct ht_arena *arena)
{
    size_t known = points && isfinite(curve->value[0]) ? points : 0;
    return (struct json_shake){ copy_of(arena, curve->value, known, 1),
                                copy_of(arena, curve->low, known, 1),
                                copy_of(arena, curve->high, known, 1) };
}

static void fill_road(struct json_road *view, const struct ht_road *road,
                      struct ht_arena *arena)
{
    *view = (struct json_road){
        .speed_m_s = copy_of(arena, road->speed_m_s, road->points, 1),
        .shaft_rpm =
            copy_of(arena, road->shaft_rad_s, road->points, 30 / HT_PI),
        .axle = shake_of(&road->axle, road->points, arena),
        .pulled = shake_of(&road->pulled, road->points, arena),
        .held = shake_of(&road->held, road->points, arena),
        .section = shake_of(&road->section, road->points, arena),
    };
}

static void fill_speeds(struct json_effects *view,
                        const struct ht_effects *effects,
                        const struct ht_angles *angles, struct ht_arena *arena)
{
    view->limits =
        ht_arena_get(arena, effects->limit_speeds + 1, sizeof *view->limits);
    view->criticals =
        ht_arena_get(arena, effects->criticals + 1, sizeof *view->criticals);
    for (size_t i = 0; view->limits && i < effects->limit_speeds; i++) {
        const struct ht_limit_speed *met = &effects->limit_speed[i];
        const struct ht_limit_verdict *v = &angles->verdict[met->verdict];
        view->limits[view->limit_count++] =
            (struct json_limit){ json_text_of(arena, v->what),
                                 json_text_of(arena, v->set),
                                 v->limit,
                                 met->speed_m_s,
                                 met->low_m_s,
                                 met->high_m_s };
    }
    for (size_t i = 0; view->criticals && i < effects->criticals; i++) {
        const struct ht_critical *c = &effects->critical[i];
        view->criticals[view->critical_count++] =
            (struct json_critical){ json_text_of(arena,
                                                 effects->member[c->section]),
                                    ht_whirl_name(c->whirl),
                                    c->critical_rad_s * 30 / HT_PI,
                                    c->half_rad_s * 30 / HT_PI,
                                    c->critical_m_s,
                                    c->half_m_s,
                                    c->share,
                                    c->steel_taken };
    }
}

bool json_put_effects(struct ht_json *json, const struct ht_workup *workup,
                      size_t line, struct ht_arena *arena)
{
    if (!workup->effects || line >= workup->line_count)
        return true;
    const struct ht_effects *effects = &workup->effects[line];
    struct json_effects view = { 0 };
    fill_turn(&view.turn, &effects->turn, effects, true, arena);
    fill_turn(&view.held, &effects->turn_held, effects, false, arena);
    fill_layouts(&view, effects, arena);
    fill_clocking(&view, effects, arena);
    fill_doubles(&view, effects, arena);
    fill_loads(&view, effects, arena);
    fill_road(&view.road, &effects->road, arena);
    fill_speeds(&view, effects, &workup->lines[line].angles, arena);
    if (arena->failed)
        return false;
    ht_json_record(json, "effects", &json_effects_schema, &view);
    return true;
}
