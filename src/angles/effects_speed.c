/* Shake over road speed, where limits are met, critical speeds. */
#include "effects_parts.h"

#include "texts.h"

#include "common/constants.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* ---- road speed -------------------------------------------------------- */

static void put_point(struct ht_road_curve *curve, size_t i,
                      const struct ht_estimate *top, double share)
{
    curve->value[i] = top->value * share * share;
    curve->low[i] = top->low * share * share;
    curve->high[i] = top->high * share * share;
}

/* All shakes grow with the square of the speed. */
void ht_road_fill(struct ht_road *road, const struct ht_angles *angles)
{
    const struct ht_accelerations *top = &angles->accelerations;
    const double from = 20 * HT_M_S_PER_KM_H, step = 5 * HT_M_S_PER_KM_H;
    *road = (struct ht_road){ .points = 0 };
    if (!(top->speed_m_s > 0) || !isfinite(top->shaft_rad_s))
        return;
    double steps = fmax(0, ceil((top->speed_m_s - from) / step - 1e-9));
    double wide = step * ceil(fmax(1, steps / (HT_ROAD_MAX - 1)));
    road->points =
        1 + (size_t)fmax(0, ceil((top->speed_m_s - from) / wide - 1e-9));
    for (size_t i = 0; i < road->points; i++) {
        double speed = fmin(from + wide * (double)i, top->speed_m_s);
        double share = speed / top->speed_m_s;
        road->speed_m_s[i] = speed;
        road->shaft_rad_s[i] = top->shaft_rad_s * share;
        put_point(&road->axle, i, &top->axle, share);
        put_point(&road->pulled, i, &top->pulled, share);
        put_point(&road->held, i, &top->held, share);
        put_point(&road->section, i, &angles->section_rad_s2, share);
    }
}

/* The estimate that a verdict on an acceleration judges; NULL: another one. */
static const struct ht_estimate *judged_shake(const struct ht_angles *angles,
                                              const char *what)
{
    const struct ht_accelerations *shake = &angles->accelerations;
    if (strcmp(what, ANGLES_SHAKE_AXLE) == 0)
        return &shake->axle;
    if (strcmp(what, ANGLES_SHAKE_PULLED) == 0)
        return &shake->pulled;
    if (strcmp(what, ANGLES_SHAKE_HELD) == 0)
        return &shake->held;
    return strcmp(what, ANGLES_SHAKE_SECTION) == 0 ? &angles->section_rad_s2
                                                   : NULL;
}

static double met_at(double top_m_s, double limit, double value)
{
    return value > 0 ? top_m_s * sqrt(limit / value) : INFINITY;
}

void ht_limit_speeds_fill(struct ht_effects *effects,
                          const struct ht_angles *angles)
{
    double top = angles->accelerations.speed_m_s;
    effects->limit_speeds = 0;
    for (size_t i = 0; i < angles->verdicts && top > 0; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        const struct ht_estimate *shake = judged_shake(angles, v->what);
        if (!shake || !(shake->value > 0) ||
            effects->limit_speeds == HT_LIMIT_SPEEDS_MAX)
            continue;
        effects->limit_speed[effects->limit_speeds++] = (struct ht_limit_speed){
            .verdict = i,
            .speed_m_s = met_at(top, v->limit, shake->value),
            .low_m_s = met_at(top, v->limit, shake->high),
            .high_m_s = met_at(top, v->limit, shake->low)
        };
    }
}

/* ---- critical speed ---------------------------------------------------- */

/* Steel: 207 GPa, 7850 kg/m^3, the figures of shaft makers' hand formulae.
 * Aluminium: 69 GPa, 2700 kg/m^3, handbook figures of 6061, from memory. */
static const struct {
    const char *name;
    double young_pa, density_kg_m3;
} materials[] = {
    { "steel", 207e9, 7850 },
    { "aluminium", 69e9, 2700 },
    { "aluminum", 69e9, 2700 },
};

static bool same_word(const char *a, const char *b)
{
    while (*a && tolower((unsigned char)*a) == *b)
        a++, b++;
    return *a == '\0' && *b == '\0';
}

bool ht_tube_material(const char *name, double *young_pa, double *density_kg_m3)
{
    for (size_t i = 0; i < sizeof materials / sizeof *materials; i++)
        if (same_word(name ? name : "steel", materials[i].name)) {
            *young_pa = materials[i].young_pa;
            *density_kg_m3 = materials[i].density_kg_m3;
            return true;
        }
    return false;
}

const char *ht_whirl_name(enum ht_whirl whirl)
{
    static const char *const names[] = { NULL, "clear", "passes_half",
                                         "near_critical" };
    return names[whirl];
}

/* 0.75 of critical, and 8 % about half of it: common practice (a shaft
 * maker's speed limits). */
static enum ht_whirl whirl_at(double share)
{
    if (isnan(share))
        return HT_WHIRL_UNKNOWN;
    if (share > 0.75)
        return HT_WHIRL_NEAR;
    return share >= 0.92 / 2 ? HT_WHIRL_HALF : HT_WHIRL_CLEAR;
}

void ht_criticals_fill(struct ht_effects *effects,
                       const struct ht_angles *angles,
                       const struct ht_effects_options *options)
{
    const struct ht_accelerations *top = &angles->accelerations;
    effects->criticals = 0;
    for (size_t m = 1; m < angles->joints; m++) {
        const struct ht_sheet_tube *tube = &options->tube[m];
        double young, density;
        if (!ht_tube_material(tube->material, &young, &density))
            continue;
        double critical =
            ht_critical_speed_rad_s(tube->joint_to_joint_m, tube->outer_m,
                                    tube->wall_m, young, density);
        if (!(critical > 0))
            continue;
        double road = critical / top->shaft_rad_s * top->speed_m_s;
        double share = top->shaft_rad_s / critical;
        effects->critical[effects->criticals++] = (struct ht_critical){
            m,        critical, critical / 2,    road,
            road / 2, share,    whirl_at(share), !tube->material
        };
    }
}
