/* What the angles do, in a few lines. */
#include "effects_said.h"

#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <stdlib.h>

static void end_line(struct ht_text *out)
{
    ht_text_add(out, "\n");
}

/* ---- speeds ------------------------------------------------------------- */

static const struct ht_limit_speed *first_met(const struct ht_effects *effects)
{
    const struct ht_limit_speed *first = NULL;
    for (size_t i = 0; i < effects->limit_speeds; i++)
        if (!first || effects->limit_speed[i].speed_m_s < first->speed_m_s)
            first = &effects->limit_speed[i];
    return first;
}

static void say_limit(struct ht_text *out, const struct ht_effects *effects,
                      const struct ht_angles *angles)
{
    const struct ht_limit_speed *first = first_met(effects);
    struct ht_text what = { 0 }, set = { 0 };
    double top_m_s = angles->accelerations.speed_m_s;
    if (!first)
        return;
    const struct ht_limit_verdict *v = &angles->verdict[first->verdict];
    const char *name = cleaned(&what, v->what);
    const char *source = id_words(&set, v->set);
    struct shown limit = shown_number(v->limit, 0);
    if (first->speed_m_s > top_m_s)
        ht_text_addf(out, REPORT_DOES_NO_LIMIT, shown_speed(top_m_s).text, name,
                     limit.text, source, shown_speed(first->speed_m_s).text);
    else if (isfinite(first->high_m_s))
        ht_text_addf(out, REPORT_DOES_LIMIT, shown_speed(first->speed_m_s).text,
                     shown_speed(first->low_m_s).text,
                     shown_speed(first->high_m_s).text, name, limit.text,
                     source);
    else
        ht_text_addf(
            out, REPORT_DOES_LIMIT_FROM, shown_speed(first->speed_m_s).text,
            shown_speed(first->low_m_s).text, name, limit.text, source);
    ht_text_end(out, &what);
    ht_text_end(out, &set);
    end_line(out);
}

static struct shown rpm(double rad_s)
{
    return shown_number(rad_s * 30 / HT_PI, 0);
}

static void say_one_critical(struct ht_text *out,
                             const struct ht_critical *critical,
                             const char *name)
{
    struct ht_text shaft = { 0 };
    cleaned(&shaft, name);
    capital(&shaft, 0);
    if (isfinite(critical->critical_m_s))
        ht_text_addf(out, REPORT_DOES_CRITICAL, ht_text_get(&shaft),
                     rpm(critical->critical_rad_s).text,
                     shown_speed(critical->critical_m_s).text,
                     shown_speed(critical->half_m_s).text);
    else
        ht_text_addf(out, REPORT_DOES_CRITICAL_RPM, ht_text_get(&shaft),
                     rpm(critical->critical_rad_s).text,
                     rpm(critical->half_rad_s).text);
    if (critical->whirl == HT_WHIRL_NEAR) {
        next_sentence(out);
        ht_text_addf(out, REPORT_DOES_NEAR,
                     shown_number(100 * critical->share, 0).text);
    } else if (critical->whirl == HT_WHIRL_HALF) {
        next_sentence(out);
        ht_text_add(out, REPORT_DOES_HALF);
    }
    ht_text_end(out, &shaft);
    end_line(out);
}

static void say_criticals(struct ht_text *out, const struct ht_effects *effects)
{
    bool steel = false;
    for (size_t i = 0; i < effects->criticals; i++) {
        say_one_critical(out, &effects->critical[i],
                         effects->member[effects->critical[i].section]);
        steel = steel || effects->critical[i].steel_taken;
    }
    if (effects->criticals == 0)
        return;
    ht_text_add(out, REPORT_DOES_BARE);
    if (steel) {
        next_sentence(out);
        ht_text_add(out, REPORT_DOES_STEEL);
    }
    end_line(out);
}

/* ---- loads -------------------------------------------------------------- */

/* The member that drives the joint bears the whole couple in its bearings. */
static const struct ht_swing *driving_couple(const struct ht_effects *effects,
                                             size_t j)
{
    const struct ht_joint_load *joint = &effects->loads.joint[j];
    return effects->turn.from_rear ? &joint->rear_n_m : &joint->front_n_m;
}

static void say_couples(struct ht_text *out, const struct ht_effects *effects)
{
    size_t most = 0;
    if (effects->loads.joints == 0)
        return;
    for (size_t j = 1; j < effects->loads.joints; j++)
        if (driving_couple(effects, j)->peak >
            driving_couple(effects, most)->peak)
            most = j;
    const struct ht_swing *couple = driving_couple(effects, most);
    ht_text_addf(out, REPORT_DOES_COUPLE,
                 shown_number(effects->torque_n_m, 0).text, most + 1,
                 shown_number(couple->steady, 0).text,
                 shown_number(couple->twice, 0).text);
    end_line(out);
}

/* The end bearing that swings most, and every centre bearing. */
static void say_supports(struct ht_text *out, const struct ht_effects *effects)
{
    const struct ht_support *most = NULL;
    struct ht_text name = { 0 };
    for (size_t s = 0; s < effects->loads.supports; s++) {
        const struct ht_support *support = &effects->loads.support[s];
        if (support->place != HT_SUPPORT_CENTRE) {
            if (!most || support->force_n.twice > most->force_n.twice)
                most = support;
            continue;
        }
        ht_text_addf(out, REPORT_DOES_CENTRE,
                     cleaned(&name, effects->member[support->member]),
                     shown_number(support->force_n.steady, 0).text,
                     shown_number(support->force_n.twice, 0).text,
                     shown_number(support->bound_n, 0).text);
        if (effects->centre_taken) {
            next_sentence(out);
            ht_text_add(out, REPORT_DOES_CENTRE_TAKEN);
        }
        end_line(out);
    }
    if (most) {
        ht_text_addf(out, REPORT_DOES_BEARING,
                     cleaned(&name, effects->member[most->member]),
                     shown_number(most->force_n.steady, 0).text,
                     shown_number(most->force_n.twice, 0).text);
        end_line(out);
    }
    ht_text_end(out, &name);
}

/* ---- planes ------------------------------------------------------------- */

static void say_layout(struct ht_text *out, const struct ht_pair_layout *pair,
                       bool side_only)
{
    size_t front = pair->section, rear = pair->section + 1;
    if (pair->layout == HT_LAYOUT_SKEW)
        ht_text_addf(out, REPORT_DOES_SKEW, front, rear,
                     shown_degrees(pair->planes_rad, 0).text);
    else if (pair->layout == HT_LAYOUT_STRAIGHT)
        ht_text_addf(out, REPORT_DOES_STRAIGHT, front, rear);
    else if (pair->layout == HT_LAYOUT_PARALLEL)
        ht_text_addf(out,
                     side_only ? REPORT_DOES_PARALLEL_SIDE
                               : REPORT_DOES_PARALLEL,
                     front, rear);
    else
        ht_text_addf(out,
                     side_only ? REPORT_DOES_INTERSECTING_SIDE
                               : REPORT_DOES_INTERSECTING,
                     front, rear);
}

static void say_layouts(struct ht_text *out, const struct ht_effects *effects)
{
    size_t from = out->length;
    for (size_t i = 0; i < effects->pairs; i++) {
        if (out->length > from)
            next_sentence(out);
        say_layout(out, &effects->pair[i], !effects->planes_known);
    }
    if (out->length > from)
        end_line(out);
}

static size_t best_section(const struct ht_effects *effects)
{
    size_t best = 1;
    for (size_t m = 2; m <= effects->sections; m++)
        if (effects->clocking[m].second_rad <
            effects->clocking[best].second_rad)
            best = m;
    return best;
}

/* Said when it gains more than the gauge leaves open. */
static void say_clocking(struct ht_text *out, const struct ht_effects *effects,
                         const struct ht_angles *angles)
{
    struct ht_text name = { 0 };
    if (!effects->planes_known || effects->sections == 0)
        return;
    size_t m = best_section(effects);
    const struct ht_clocking *best = &effects->clocking[m];
    double gain_rad = effects->leftover_now_rad - best->leftover_rad;
    if (!(gain_rad > 2 * angles->leftover_rad.u))
        return;
    cleaned(&name, effects->member[m]);
    capital(&name, 0);
    if (effects->spline_teeth)
        ht_text_addf(out,
                     best->teeth[m] > 0 ? REPORT_DOES_CLOCK_TEETH_LEFT
                                        : REPORT_DOES_CLOCK_TEETH_RIGHT,
                     ht_text_get(&name), labs(best->teeth[m]),
                     effects->spline_teeth,
                     shown_degrees(best->leftover_rad, 1).text,
                     shown_degrees(effects->leftover_now_rad, 1).text);
    else
        ht_text_addf(out, REPORT_DOES_CLOCK, ht_text_get(&name),
                     shown_degrees(best->yoke_rad[m], 0).text,
                     shown_degrees(best->leftover_rad, 1).text,
                     shown_degrees(effects->leftover_now_rad, 1).text);
    next_sentence(out);
    ht_text_add(out, REPORT_DOES_CLOCK_CARE);
    ht_text_end(out, &name);
    end_line(out);
}

static void say_doubles(struct ht_text *out, const struct ht_effects *effects)
{
    for (size_t i = 0; i < effects->doubles; i++) {
        const struct ht_double_joint *joint = &effects->double_joint[i];
        ht_text_addf(out, REPORT_DOES_DOUBLE, joint->joint + 1,
                     shown_short(1000 * effects->centring_error_m).text,
                     shown_degrees(joint->leftover_rad, 1).text,
                     shown_degrees(effects->leftover_most_rad, 1).text);
        if (effects->cross_to_cross_taken) {
            next_sentence(out);
            ht_text_addf(
                out, REPORT_DOES_CROSSES,
                shown_number(1000 * effects->cross_to_cross_m, 0).text);
        }
        end_line(out);
    }
}

void say_effects(struct ht_text *out, const struct ht_workup *workup,
                 size_t line)
{
    if (!workup->effects || line >= workup->line_count)
        return;
    const struct ht_effects *effects = &workup->effects[line];
    const struct ht_angles *angles = &workup->lines[line].angles;
    say_limit(out, effects, angles);
    say_couples(out, effects);
    say_supports(out, effects);
    say_layouts(out, effects);
    say_clocking(out, effects, angles);
    say_doubles(out, effects);
    say_criticals(out, effects);
}
