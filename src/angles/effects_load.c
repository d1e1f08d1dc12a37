/* Couples at the joints and forces in the bearings under a steady torque. */
#include "pass.h"

#include "halfturn/effects.h"

#include "common/constants.h"

#include <string.h>

/* A line under torque, members front to rear. */
struct scene {
    const struct ht_load *load;
    struct ht_line line; /* drive order */
    size_t members;
    double axis[HT_MEMBERS_MAX][3];
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    size_t free_section; /* held by its joints alone; 0: not solvable */
    size_t supports;
    struct ht_support support[HT_SUPPORTS_MAX + 2];
};

/* One instant: couples on the members across their own axes. */
struct instant {
    double front[HT_JOINTS_MAX][3], rear[HT_JOINTS_MAX][3];
    double torque[HT_MEMBERS_MAX]; /* over that at the driving end */
    double force[HT_SUPPORTS_MAX + 2][3];
};

/* ---- couples ----------------------------------------------------------- */

/* A cross passes torque along its own normal; a joint that keeps the speed
 * along the line that halves its bend. */
static void torque_line(const struct ht_line *line, const struct ht_pass *pass,
                        size_t j, double normal[3])
{
    const double *from = line->direction[j], *to = line->direction[j + 1];
    if (line->cardan[j])
        ht_cross(pass->driving_pin[j], pass->front_pin[j + 1], normal);
    else
        for (int i = 0; i < 3; i++)
            normal[i] = from[i] + to[i];
    ht_normalise(normal);
    if (ht_dot(normal, from) < 0)
        for (int i = 0; i < 3; i++)
            normal[i] = -normal[i];
}

static void across(double sign, const double v[3], const double axis[3],
                   double out[3])
{
    double along = ht_dot(v, axis);
    for (int i = 0; i < 3; i++)
        out[i] = sign * (v[i] - along * axis[i]);
}

/* The driving member feels the torque's reaction, the driven one the torque;
 * power stays the same across every joint. */
static void couples_at(struct instant *now, const struct scene *scene,
                       double input_rad)
{
    struct ht_pass pass;
    const struct ht_line *line = &scene->line;
    size_t n = line->members;
    bool from_rear = scene->load->chain->from_rear;
    double torque = scene->load->torque_n_m;
    ht_pass_at(&pass, line, cos(input_rad), sin(input_rad));
    for (size_t i = 0; i < n; i++)
        now->torque[from_rear ? n - 1 - i : i] = 1 / pass.ratio[i];
    for (size_t j = 0; j + 1 < n; j++) {
        double normal[3], share;
        size_t joint = from_rear ? n - 2 - j : j;
        torque_line(line, &pass, j, normal);
        share = torque / pass.ratio[j] / ht_dot(normal, line->direction[j]);
        across(from_rear ? share : -share, normal, scene->axis[joint],
               now->front[joint]);
        across(from_rear ? -share : share, normal, scene->axis[joint + 1],
               now->rear[joint]);
    }
}

/* ---- forces ------------------------------------------------------------ */

/* axis x couple on a member: the couple of its joints together. */
static void turned_couple(const struct instant *now, const struct scene *scene,
                          size_t member, double out[3])
{
    double sum[3] = { 0, 0, 0 };
    for (int i = 0; i < 3; i++) {
        if (member > 0)
            sum[i] += now->rear[member - 1][i];
        if (member + 1 < scene->members)
            sum[i] += now->front[member][i];
    }
    ht_cross(scene->axis[member], sum, out);
}

/* A section with a bearing: balance of moments about the joint away from the
 * free section, then of forces. `known` is the force at the joint towards it
 * (that of the member behind on the member before), `arm` the bearing's
 * distance from the other; sign +1 for a section before the free one. */
static void carry(double sign, double arm, double length, const double *turned,
                  const double *known, double *bearing, double *next)
{
    for (int i = 0; i < 3; i++) {
        double lever = (turned[i] - length * known[i]) / arm;
        bearing[i] = sign * lever;
        next[i] = known[i] + lever;
    }
}

/* An end member on two bearings; `force` acts on it at the joint, `turned` is
 * its turned couple, the sign says on which side the joint lies. */
static void end_bearings(const struct ht_bearings *bearings, double sign,
                         const double *force, const double *turned, double *far,
                         double *near)
{
    double reach = bearings->spacing_m + bearings->overhang_m;
    for (int i = 0; i < 3; i++) {
        near[i] = (sign * turned[i] - reach * force[i]) / bearings->spacing_m;
        far[i] = -force[i] - near[i];
    }
}

static void joint_forces(struct instant *now, const struct scene *scene,
                         double at_joint[HT_JOINTS_MAX][3],
                         double bearing[HT_MEMBERS_MAX][3])
{
    const double *length = scene->load->length_m;
    size_t f = scene->free_section;
    double turned[3];
    if (f == 0)
        return;
    turned_couple(now, scene, f, turned);
    for (int i = 0; i < 3; i++)
        at_joint[f - 1][i] = at_joint[f][i] = turned[i] / length[f];
    for (size_t m = f - 1; m > 0; m--) {
        turned_couple(now, scene, m, turned);
        carry(1, scene->bearings[m].centre_m, length[m], turned, at_joint[m],
              bearing[m], at_joint[m - 1]);
    }
    for (size_t m = f + 1; m + 1 < scene->members; m++) {
        turned_couple(now, scene, m, turned);
        carry(-1, length[m] - scene->bearings[m].centre_m, length[m], turned,
              at_joint[m - 1], bearing[m], at_joint[m]);
    }
}

static void forces_at(struct instant *now, const struct scene *scene)
{
    double at_joint[HT_JOINTS_MAX][3] = { { 0 } };
    double bearing[HT_MEMBERS_MAX][3] = { { 0 } }, turned[3], force[3];
    double far[3], near[3];
    joint_forces(now, scene, at_joint, bearing);
    for (size_t s = 0; s < scene->supports; s++) {
        const struct ht_support *support = &scene->support[s];
        size_t m = support->member;
        if (support->place == HT_SUPPORT_CENTRE) {
            memcpy(now->force[s], bearing[m], sizeof now->force[s]);
            continue;
        }
        const double *joint = at_joint[m == 0 ? 0 : m - 1];
        across(m == 0 ? 1 : -1, joint, scene->axis[m], force);
        turned_couple(now, scene, m, turned);
        end_bearings(&scene->bearings[m], m == 0 ? 1 : -1, force, turned, far,
                     near);
        memcpy(now->force[s], support->place == HT_SUPPORT_FAR ? far : near,
               sizeof now->force[s]);
    }
}

/* ---- what can be solved ------------------------------------------------ */

static void add_support(struct scene *scene, size_t member,
                        enum ht_support_place place)
{
    scene->support[scene->supports++] =
        (struct ht_support){ .member = member, .place = place, .bound_n = NAN };
}

static void add_end(struct scene *scene, size_t member)
{
    const struct ht_bearings *bearings = &scene->bearings[member];
    if (!(bearings->spacing_m > 0 && bearings->overhang_m >= 0))
        return;
    add_support(scene, member, HT_SUPPORT_FAR);
    add_support(scene, member, HT_SUPPORT_NEAR);
}

/* The one section without a bearing of its own; 0 when none or several, or
 * when a length is not known. */
static size_t find_free(const struct scene *scene)
{
    size_t found = 0, count = 0;
    for (size_t m = 1; m + 1 < scene->members; m++) {
        double centre = scene->bearings[m].centre_m;
        double length = scene->load->length_m[m];
        if (!(length > 0) || centre > length)
            return 0;
        found = centre > 0 ? found : m;
        count += !(centre > 0);
    }
    return count == 1 ? found : 0;
}

/* Behind the free section a bearing must stand before its section's rear
 * joint: there it would bear without a lever. */
static bool levers_fit(const struct scene *scene)
{
    for (size_t m = scene->free_section + 1; m + 1 < scene->members; m++)
        if (!(scene->bearings[m].centre_m < scene->load->length_m[m]))
            return false;
    return true;
}

static void open_scene(struct scene *scene, const struct ht_load *load)
{
    size_t n = load->chain->members;
    *scene = (struct scene){ .load = load, .members = n };
    ht_line_from(load->chain, &scene->line);
    for (size_t m = 0; m < n; m++) {
        ht_member_direction(load->chain->slope_rad[m],
                            load->chain->heading_rad[m], scene->axis[m]);
        scene->bearings[m] = load->bearings[m];
    }
    scene->free_section = find_free(scene);
    if (n > 2 && (scene->free_section == 0 || !levers_fit(scene)))
        return;
    add_end(scene, 0);
    for (size_t m = 1; m + 1 < n; m++)
        if (m != scene->free_section)
            add_support(scene, m, HT_SUPPORT_CENTRE);
    add_end(scene, n - 1);
}

/* ---- over one turn ----------------------------------------------------- */

struct sums {
    double mean[3], re[3], im[3], peak;
};

static void add_to(struct sums *sums, const double v[3], double c, double s)
{
    for (int i = 0; i < 3; i++) {
        sums->mean[i] += v[i] / HT_TURN_STEPS;
        sums->re[i] += 2 * v[i] * c / HT_TURN_STEPS;
        sums->im[i] += 2 * v[i] * s / HT_TURN_STEPS;
    }
    sums->peak = fmax(sums->peak, sqrt(ht_dot(v, v)));
}

static struct ht_swing swing_of(const struct sums *sums)
{
    double a = ht_dot(sums->re, sums->re), b = ht_dot(sums->im, sums->im);
    double both = ht_dot(sums->re, sums->im);
    double twice = (a + b + hypot(a - b, 2 * both)) / 2;
    return (struct ht_swing){ sqrt(ht_dot(sums->mean, sums->mean)), sqrt(twice),
                              sums->peak };
}

static double bend_at(const struct scene *scene, size_t joint)
{
    return ht_angle_between(scene->axis[joint], scene->axis[joint + 1]);
}

double ht_centre_bearing_bound(double torque_n_m, double front_rad,
                               double rear_rad, double length_m)
{
    return torque_n_m * (tan(rear_rad) + sin(front_rad)) / length_m;
}

/* The same with the torque at its highest, both couples by their tangent as
 * either end may drive, and the force at the joint towards the free section. */
static double bound_of(const struct scene *scene, size_t m, double torque,
                       double arm, double *known)
{
    double couple = tan(bend_at(scene, m - 1)) + tan(bend_at(scene, m));
    double force = (torque * couple + scene->load->length_m[m] * *known) / arm;
    *known += force;
    return force;
}

static void add_bounds(struct ht_loads *loads, const struct scene *scene)
{
    double swing = 0, bound[HT_MEMBERS_MAX], known = 0;
    size_t f = scene->free_section;
    const double *length = scene->load->length_m;
    for (size_t j = 0; j < loads->joints; j++)
        swing = fmax(swing, loads->joint[j].torque_swing);
    double torque = (1 + swing) * scene->load->torque_n_m;
    double at_free = bound_of(scene, f, torque, length[f], &known);
    known = at_free;
    for (size_t m = f - 1; m > 0; m--)
        bound[m] =
            bound_of(scene, m, torque, scene->bearings[m].centre_m, &known);
    known = at_free;
    for (size_t m = f + 1; m + 1 < scene->members; m++)
        bound[m] = bound_of(scene, m, torque,
                            length[m] - scene->bearings[m].centre_m, &known);
    for (size_t s = 0; s < loads->supports; s++)
        if (loads->support[s].place == HT_SUPPORT_CENTRE)
            loads->support[s].bound_n = bound[loads->support[s].member];
}

struct turn_sums {
    struct sums front[HT_JOINTS_MAX], rear[HT_JOINTS_MAX];
    struct sums force[HT_SUPPORTS_MAX + 2];
};

static void add_instant(struct ht_loads *loads, struct turn_sums *sums,
                        const struct scene *scene, size_t k)
{
    struct instant now = { 0 };
    double input = 2 * HT_PI * (double)k / HT_TURN_STEPS;
    double c = cos(2 * input), s = sin(2 * input);
    bool from_rear = scene->load->chain->from_rear;
    couples_at(&now, scene, input);
    forces_at(&now, scene);
    for (size_t j = 0; j < loads->joints; j++) {
        double torque = now.torque[from_rear ? j + 1 : j];
        loads->joint[j].torque_swing =
            fmax(loads->joint[j].torque_swing, fabs(torque - 1));
        add_to(&sums->front[j], now.front[j], c, s);
        add_to(&sums->rear[j], now.rear[j], c, s);
    }
    for (size_t i = 0; i < scene->supports; i++)
        add_to(&sums->force[i], now.force[i], c, s);
}

void ht_loads_compute(struct ht_loads *loads, const struct ht_load *load)
{
    struct scene scene;
    struct turn_sums sums = { 0 };
    open_scene(&scene, load);
    *loads = (struct ht_loads){ .joints = scene.members - 1,
                                .supports = scene.supports };
    for (size_t k = 0; k < HT_TURN_STEPS; k++)
        add_instant(loads, &sums, &scene, k);
    for (size_t j = 0; j < loads->joints; j++) {
        loads->joint[j].front_n_m = swing_of(&sums.front[j]);
        loads->joint[j].rear_n_m = swing_of(&sums.rear[j]);
    }
    for (size_t i = 0; i < loads->supports; i++) {
        loads->support[i] = scene.support[i];
        loads->support[i].force_n = swing_of(&sums.force[i]);
    }
    if (scene.free_section && loads->supports)
        add_bounds(loads, &scene);
}

void ht_supports_at(double force_n[HT_SUPPORTS_MAX + 2][3],
                    const struct ht_load *load, double input_rad)
{
    struct scene scene;
    struct instant now = { 0 };
    open_scene(&scene, load);
    couples_at(&now, &scene, input_rad);
    forces_at(&now, &scene);
    memcpy(force_n, now.force, sizeof now.force);
}
