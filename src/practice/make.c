/* make.c - forces, road and sensor into samples; the speed log. */
#include "chance.h"
#include "course.h"
#include "texts.h"

#include "common/constants.h"
#include "common/limits.h"
#include "common/memory.h"

#include <complex.h>
#include <math.h>

struct maker {
    const struct ht_practice_request *request;
    struct ht_course course;
    struct ht_practice *out;
    double mount[3][3]; /* sensor = mount x vehicle: pitch, then roll */
};

/* Acceleration per force of a mode, relative to its mass:
 * w^2 / (w0^2 - w^2 + 2 i z w0 w); 1 without a mode. */
static double complex through_mode(const struct ht_practice_force *force,
                                   double hz)
{
    if (!(force->mode_hz > 0))
        return 1;
    double r = hz / force->mode_hz;
    return r * r / (1 - r * r + 2 * I * force->mode_damping * r);
}

/* Road load of a light van per mass, 0.15 + 0.25 (v / 100 km/h)^2 m/s2:
 * common practice, no source. */
static double pull(const struct ht_course_point *point)
{
    double relative = point->speed_m_s / (100 * HT_M_S_PER_KM_H);
    return point->acceleration_m_s2 + 0.15 + 0.25 * relative * relative;
}

static double complex level_at(const struct maker *maker,
                               const struct ht_practice_force *force,
                               const struct ht_course_point *point)
{
    double per_m =
        force->multiple * force->turns / maker->request->circumference_m;
    double reference_m_s = maker->request->reference_m_s;
    double relative = point->speed_m_s / reference_m_s;
    double torque = fmin(1.5, fmax(0, pull(point)));
    double share = 1 - force->pull_share + force->pull_share * torque;
    double complex gain = through_mode(force, per_m * point->speed_m_s) /
                          cabs(through_mode(force, per_m * reference_m_s));
    return force->level_m_s2 * pow(relative, force->power) * share * gain;
}

static void to_sensor(const struct maker *maker, const double *vehicle,
                      double *sensor)
{
    for (int a = 0; a < HT_PRACTICE_AXES; a++)
        sensor[a] = maker->mount[a][0] * vehicle[0] +
                    maker->mount[a][1] * vehicle[1] +
                    maker->mount[a][2] * vehicle[2];
}

static void add_force(struct maker *maker,
                      const struct ht_practice_force *force, double phase)
{
    double length =
        hypot(hypot(force->along[0], force->along[1]), force->along[2]);
    double unit[3], seen[3];
    for (int a = 0; a < 3; a++)
        unit[a] = length > 0 ? force->along[a] / length : a == 2;
    to_sensor(maker, unit, seen);
    double per_m =
        force->multiple * force->turns / maker->request->circumference_m;
    for (size_t i = 0; i < maker->out->frames; i++) {
        struct ht_course_point point =
            ht_course_at(&maker->course, (double)i / maker->out->rate_hz);
        double cycles = per_m * point.metres;
        double angle = 2 * HT_PI * (cycles - floor(cycles)) + phase;
        double value = creal(level_at(maker, force, &point) *
                             (cos(angle) + I * sin(angle)));
        for (int a = 0; a < HT_PRACTICE_AXES; a++)
            maker->out->samples[a][i] += (float)(seen[a] * value);
    }
}

/* Two rough sums of white noise, a slow and a quick one, as a body on tyres
 * passes them: 70 % of the power below about 15 Hz, the rest up to about
 * 60 Hz. Shares and corners: common practice, no source. */
static void add_road(struct maker *maker, int axis, struct ht_chance *chance)
{
    const struct ht_practice_request *request = maker->request;
    double slow = 0, quick = 0;
    double slow_keep = exp(-2 * HT_PI * 15 / request->rate_hz);
    double quick_keep = exp(-2 * HT_PI * 60 / request->rate_hz);
    double slow_gain = sqrt(0.7 * (1 - slow_keep * slow_keep));
    double quick_gain = sqrt(0.3 * (1 - quick_keep * quick_keep));
    for (size_t i = 0; i < maker->out->frames; i++) {
        struct ht_course_point point =
            ht_course_at(&maker->course, (double)i / request->rate_hz);
        slow = slow_keep * slow + slow_gain * ht_chance_bell(chance);
        quick = quick_keep * quick + quick_gain * ht_chance_bell(chance);
        double road = request->road_noise_m_s2 * (slow + quick) *
                      point.speed_m_s / request->reference_m_s;
        double own = request->sensor_noise_m_s2 * ht_chance_bell(chance);
        maker->out->samples[axis][i] += (float)(road + own);
    }
}

static void add_slow(struct maker *maker)
{
    for (size_t i = 0; i < maker->out->frames; i++) {
        struct ht_course_point point =
            ht_course_at(&maker->course, (double)i / maker->out->rate_hz);
        double vehicle[3] = { point.acceleration_m_s2, 0, HT_M_S2_PER_G };
        double sensor[3];
        to_sensor(maker, vehicle, sensor);
        for (int a = 0; a < HT_PRACTICE_AXES; a++)
            maker->out->samples[a][i] += (float)sensor[a];
    }
}

static void fill_log(struct maker *maker, struct ht_chance *chance)
{
    const struct ht_practice_request *request = maker->request;
    for (size_t i = 0; i < maker->out->log_rows; i++) {
        double time_s = (double)i * request->log_step_s;
        double then_s = fmax(0, time_s - request->log_lag_s);
        double speed = ht_course_at(&maker->course, then_s).speed_m_s +
                       request->log_noise_m_s * ht_chance_bell(chance);
        if (request->log_step_m_s > 0)
            speed =
                request->log_step_m_s * round(speed / request->log_step_m_s);
        maker->out->log_time_s[i] = time_s;
        maker->out->log_speed_m_s[i] = fmax(0, speed);
    }
}

static void set_mount(struct maker *maker)
{
    double cp = cos(maker->request->pitch_rad),
           sp = sin(maker->request->pitch_rad);
    double cr = cos(maker->request->roll_rad),
           sr = sin(maker->request->roll_rad);
    const double rows[3][3] = { { cp, 0, -sp },
                                { sr * sp, cr, sr * cp },
                                { cr * sp, -sr, cr * cp } };
    for (int a = 0; a < 3; a++)
        for (int b = 0; b < 3; b++)
            maker->mount[a][b] = rows[a][b];
}

static enum ht_status check(const struct ht_practice_request *request,
                            struct ht_error *err)
{
    if (request->legs < 1 || request->legs > HT_PRACTICE_LEGS_MAX)
        return ht_fail(err, PRACTICE_LEGS_OFF, request->legs,
                       HT_PRACTICE_LEGS_MAX);
    if (request->forces > HT_PRACTICE_FORCES_MAX)
        return ht_fail(err, PRACTICE_FORCES_OFF, request->forces,
                       HT_PRACTICE_FORCES_MAX);
    if (!(request->rate_hz >= 20 && request->rate_hz <= 10000))
        return ht_fail(err, PRACTICE_RATE_OFF, request->rate_hz);
    if (!(request->circumference_m > 0) || !(request->reference_m_s > 0) ||
        !(request->log_step_s > 0))
        return ht_fail(err, PRACTICE_NOT_ABOVE_ZERO, request->circumference_m,
                       request->reference_m_s, request->log_step_s);
    return HT_OK;
}

static enum ht_status get_memory(struct ht_practice *out, double length_s,
                                 double log_step_s, struct ht_error *err)
{
    if (!(length_s >= 1 && length_s <= HT_RECORDING_SECONDS_MAX))
        return ht_fail(err, PRACTICE_LENGTH_OFF, length_s,
                       HT_RECORDING_SECONDS_MAX / 3600);
    struct ht_arena *arena = ht_allocate(1, sizeof *arena);
    if (!arena)
        return ht_fail(err, PRACTICE_NO_MEMORY, length_s);
    out->memory = arena;
    out->frames = (size_t)(length_s * out->rate_hz);
    out->log_rows = (size_t)(length_s / log_step_s) + 1;
    bool fine = true;
    for (int a = 0; a < HT_PRACTICE_AXES; a++) {
        out->samples[a] = ht_arena_get(arena, out->frames, sizeof(float));
        fine = fine && out->samples[a];
    }
    out->log_time_s = ht_arena_get(arena, out->log_rows, sizeof(double));
    out->log_speed_m_s = ht_arena_get(arena, out->log_rows, sizeof(double));
    if (fine && out->log_time_s && out->log_speed_m_s)
        return HT_OK;
    ht_practice_free(out);
    return ht_fail(err, PRACTICE_NO_MEMORY, length_s);
}

enum ht_status ht_practice_make(struct ht_practice *practice,
                                const struct ht_practice_request *request,
                                struct ht_error *err)
{
    *practice = (struct ht_practice){ .rate_hz = request->rate_hz };
    enum ht_status status = check(request, err);
    if (status != HT_OK)
        return status;
    struct maker maker = { .request = request, .out = practice };
    ht_course_plan(&maker.course, request);
    status = get_memory(practice, ht_course_end_s(&maker.course),
                        request->log_step_s, err);
    if (status != HT_OK)
        return status;
    struct ht_chance chance = ht_chance_from(request->seed);
    set_mount(&maker);
    for (size_t i = 0; i < request->forces; i++)
        add_force(&maker, &request->force[i],
                  2 * HT_PI * ht_chance_share(&chance));
    for (int axis = 0; axis < HT_PRACTICE_AXES; axis++)
        add_road(&maker, axis, &chance);
    add_slow(&maker);
    fill_log(&maker, &chance);
    return HT_OK;
}

void ht_practice_free(struct ht_practice *practice)
{
    if (practice->memory) {
        ht_arena_free(practice->memory);
        ht_release(practice->memory);
    }
    *practice = (struct ht_practice){ 0 };
}
