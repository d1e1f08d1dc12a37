#include "coherent.h"
#include "finder.h"
#include "gear.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>

static const double shortest_s = 10;
static const double longest_hole_s = 5; /* of the log */

enum ht_status ht_finder_goes_on(const struct ht_finder *f,
                                 struct ht_error *err)
{
    return ht_goes_on(&f->request->ask) ? HT_OK : ht_fail(err, SPEED_STOPPED);
}

static enum ht_status refine(struct ht_finder *f, struct ht_error *err)
{
    enum ht_status status = ht_finder_choose_lines(f, err);
    if (status == HT_OK)
        status = ht_finder_goes_on(f, err);
    if (status != HT_OK)
        return status;
    if (!f->steady && !ht_coherent_align(&f->fit, &f->work, &f->path,
                                         &f->lines, f->use))
        return ht_fail(err, SPEED_NO_MEMORY);
    struct ht_log_doubt trust = { f->path.left_sd_m_s,
                                  fmax(f->fit.turns_per_m_u, 5e-4),
                                  f->steady ? 0 : fmin(f->fit.lag_u_s, 0.3) };
    status = ht_wheel_create(&f->wheel, &f->work, &f->path, f->fit.turns_per_m,
                             f->fit.lag_s, &trust, err);
    if (status == HT_OK)
        status = ht_finder_goes_on(f, err);
    if (status == HT_OK)
        status = ht_wheel_refine(&f->wheel, &f->work, &f->frames, &f->lines,
                                 f->use, err);
    if (status == HT_OK && !f->steady)
        ht_finder_compare(f);
    return status;
}

/* Where the log says nothing, neither do we. */
static void mark_unlogged(struct ht_finder *f)
{
    struct ht_turns *t = f->turns;
    double length_s = ht_finder_length_s(f), lag_s = f->fit.lag_s;
    double end_s =
        f->path.start_s + f->path.step_s * (double)(f->path.points - 3);
    ht_turns_blind(t, -1, f->path.start_s - lag_s);
    ht_turns_blind(t, end_s - lag_s, length_s + 1);
    const struct ht_speed_log *log = f->request->log;
    for (size_t i = 1; log && i < log->rows; i++)
        if (log->time_s[i] - log->time_s[i - 1] > longest_hole_s)
            ht_turns_blind(t, log->time_s[i - 1] - f->clock_s - lag_s,
                           log->time_s[i] - f->clock_s - lag_s);
}

static enum ht_status finish(struct ht_finder *f, struct ht_error *err)
{
    double start_s = f->request->recording->start_s;
    f->turns->start_s = isfinite(start_s) ? start_s : 0;
    enum ht_status status = ht_turns_fill(f->turns, &f->wheel, &f->work, err);
    if (status == HT_OK)
        mark_unlogged(f);
    return status;
}

/* The reading that fits best, and whether another unit of the log would fit
 * better. */
static enum ht_status search(struct ht_finder *f, struct ht_error *err)
{
    f->turns->gear = ht_gear_said(f->request->rotation);
    f->lines = ht_lines_expected(f->request->rotation, f->turns->gear);
    enum ht_status status =
        ht_work_create(&f->work, f->request->recording, 500, err);
    if (status == HT_OK)
        status = ht_finder_goes_on(f, err);
    if (status == HT_OK)
        status = ht_finder_search(f, err);
    if (status == HT_OK)
        status = ht_finder_goes_on(f, err);
    if (status == HT_OK)
        status = ht_finder_question_unit(f, err);
    if (status == HT_OK)
        status = ht_finder_goes_on(f, err);
    if (status == HT_OK && f->steady)
        status = ht_finder_follow_wander(f, err);
    return status;
}

static enum ht_status carry_out(struct ht_finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    enum ht_status status = ht_finder_make_path(f, err);
    if (status != HT_OK || t->reason[0] || !ht_finder_log_is_enough(f))
        return status;
    status = search(f, err);
    if (status != HT_OK || t->reason[0])
        return status;
    t->state = HT_SPEED_ACCEPTED;
    status = f->follows ? refine(f, err) : ht_finder_keep_log(f, err);
    if (status != HT_OK || t->state == HT_SPEED_REFUSED)
        return status;
    if (f->follows) {
        ht_finder_take_scale(f);
        ht_finder_doubt(f);
        status = ht_finder_goes_on(f, err);
        if (status == HT_OK)
            status = ht_finder_settle_gear(f, err);
    }
    ht_finder_doubt_top_speed(f);
    if (t->state != HT_SPEED_REFUSED)
        ht_finder_describe(f);
    if (t->state == HT_SPEED_REFUSED) { /* only without a tyre */
        t->circumference_m = t->circumference_u_m = NAN;
        t->circumference_found = false;
        return status;
    }
    return status == HT_OK ? finish(f, err) : status;
}

static bool can_start(struct ht_finder *f)
{
    const struct ht_recording *r = f->request->recording;
    if (!f->request->log && !(f->request->steady_m_s > 0)) {
        ht_turns_refuse(f->turns, SPEED_NOT_KNOWN);
        return false;
    }
    f->turns->source = f->steady ? HT_SPEED_STEADY : HT_SPEED_LOG;
    if (!r->channels || ht_finder_length_s(f) < shortest_s) {
        ht_turns_refuse(f->turns, SPEED_RECORDING_SHORT,
                        r->channels ? ht_finder_length_s(f) : 0.0, shortest_s);
        return false;
    }
    if (f->request->log && f->request->log->rows < 4) {
        ht_turns_refuse(f->turns, SPEED_LOG_ROWS_FEW,
                        f->request->log->rows);
        return false;
    }
    if (f->steady && !ht_finder_tyre_known(f)) {
        ht_turns_refuse(f->turns, SPEED_STEADY_NO_TYRE);
        return false;
    }
    return true;
}

enum ht_status ht_turns_find(struct ht_turns *turns,
                             const struct ht_speed_request *request,
                             struct ht_error *err)
{
    *turns = (struct ht_turns){
        .circumference_u_m = NAN, .lag_s = NAN, .lag_u_s = NAN, .scale = NAN
    };
    turns->circumference_m = request->rotation->circumference_m;
    struct ht_finder f = { .request = request, .turns = turns, .times = 1 };
    f.steady = !request->log;
    if (!can_start(&f))
        return HT_OK;
    enum ht_status status = carry_out(&f, err);
    ht_comb_free(&f.comb);
    ht_frames_free(&f.frames);
    ht_work_free(&f.work);
    ht_path_free(&f.path);
    ht_wheel_free(&f.wheel);
    if (status != HT_OK)
        ht_turns_free(turns);
    return status;
}
