#include "halfturn/orders.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "bins.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "map.h"
#include "result.h"
#include "say.h"
#include "texts.h"

enum { SHARES = 4 };

struct ht_job {
    const struct ht_recording *recording;
    const struct ht_rotation *rotation;
    const struct ht_turns *turns;
    struct ht_stretches stretches;
    struct ht_plan plan;
    struct ht_joint joint;
    struct ht_blocks blocks;
    struct ht_work work;
    struct ht_arena arena;      /* of the work */
    const struct ht_ask *ask;
};

static void say_what_it_is(struct ht_orders *o, const struct ht_recording *r)
{
    bool accelerometer = false;
    for (size_t c = 0; c < r->channels; c++)
        if (r->channel[c].unit == HT_UNIT_M_S2) {
            o->place = accelerometer ? o->place : r->channel[c].place;
            accelerometer = true;
        }
    (void)snprintf(o->unit, sizeof o->unit, "%s",
                   accelerometer ? "m/s2" : "full scale");
    o->calibrated = accelerometer;
    if (accelerometer)
        return;
    o->place = HT_PLACE_UNKNOWN;
    ht_say_note(o, ORDERS_SOUND_NOT_CALIBRATED);
}

static void find_bins(struct ht_work *w, const struct ht_blocks *b)
{
    size_t start = b->first_row % HT_BIN_ROWS;
    for (size_t row = 0; row < b->rows; row++) {
        size_t first = (row + start) / HT_BIN_ROWS * HT_BIN_ROWS;
        first = first > start ? first - start : 0;
        bool listed = w->bins > 0 && w->bin_row[w->bins - 1] == first;
        if (b->row_blocks[row] > 0 && !listed && w->bins < HT_BINS_MAX)
            w->bin_row[w->bins++] = first;
    }
}

struct ht_room {
    void *field; /* a pointer to fill */
    size_t count, size;
};

static bool fill_rooms(const struct ht_room *room, size_t rooms,
                       struct ht_arena *arena)
{
    bool fine = true;
    for (size_t i = 0; i < rooms; i++) {
        void *memory = ht_arena_get(arena, room[i].count + 1, room[i].size);
        memcpy(room[i].field, &memory, sizeof memory);
        fine = fine && memory;
    }
    return fine;
}

/* What is worked out once and then read by all. */
static bool make_common_room(struct ht_work *w, struct ht_arena *arena)
{
    const struct ht_blocks *b = w->blocks;
    size_t each = b->columns * b->channels;
    const struct ht_room rooms[] = {
        { &w->pull, b->count, sizeof *w->pull },
        { &w->share[0], w->bins * b->count, sizeof *w->share[0] },
        { &w->share[1], w->bins * b->count, sizeof *w->share[1] },
        { &w->fixed, w->bins * each, sizeof *w->fixed },
        { &w->column_power, (w->bins + 1) * each, sizeof *w->column_power },
    };
    return fill_rooms(rooms, sizeof rooms / sizeof rooms[0], arena);
}

/* What one order at a time is worked out in. */
static bool make_own_room(struct ht_work *w, struct ht_arena *arena)
{
    const struct ht_blocks *b = w->blocks;
    const struct ht_room rooms[] = {
        { &w->amplitude, b->count, sizeof *w->amplitude },
        { &w->follows, b->count, sizeof *w->follows },
        { &w->calm, b->count, sizeof *w->calm },
        { &w->member, b->count, sizeof *w->member },
        { &w->series, b->channels + 1, sizeof *w->series },
    };
    return fill_rooms(rooms, sizeof rooms / sizeof rooms[0], arena);
}

static bool make_work(struct ht_job *job, struct ht_orders *o, double healthy)
{
    struct ht_work *w = &job->work;
    *w = (struct ht_work){ .plan = &job->plan, .joint = &job->joint,
                           .blocks = &job->blocks,
                           .recording = job->recording, .unit = o->unit,
                           .healthy = o->calibrated ? healthy : NAN };
    find_bins(w, w->blocks);
    /* Half to the drive as a whole, half to its bins; axes and their sum. */
    double tests = 2 * (double)(job->plan.columns *
                                (job->recording->channels + 1));
    w->false_alarm_whole = HT_FALSE_ALARMS_NAMED / fmax(tests, 1);
    w->false_alarm = w->false_alarm_whole / fmax((double)w->bins, 1);
    if (!make_common_room(w, &job->arena))
        return false;
    ht_work_prepare(w);
    enum ht_pull_source source = ht_pull_classify(
        w->pull, w->blocks, job->recording, job->turns);
    if (source == HT_PULL_UNKNOWN)
        w->pull = NULL;
    if (source == HT_PULL_SPEED)
        ht_say_note(o, ORDERS_PULL_FROM_SPEED);
    if (source == HT_PULL_UNKNOWN)
        ht_say_note(o, ORDERS_PULL_UNKNOWN);
    return true;
}

/* Every SHARESth order, with a room of its own. */
struct ht_share_of_orders {
    struct ht_work work;
    const struct ht_job *job;
    struct ht_orders *orders;
};

static void fill_share(void *context, size_t index)
{
    struct ht_share_of_orders *s =
        (struct ht_share_of_orders *)context + index;
    size_t each = s->job->recording->channels + 1;
    for (size_t i = index; i < s->job->plan.asked; i += SHARES)
        ht_result_fill(&s->orders->result[i * each], &s->work,
                       s->job->rotation, i, s->orders->unit);
}

static bool fill_results(struct ht_job *job, struct ht_orders *o)
{
    size_t each = job->recording->channels + 1;
    struct ht_share_of_orders share[SHARES];
    o->result = ht_arena_get(o->memory, job->plan.asked * each + 1,
                             sizeof *o->result);
    bool fine = o->result != NULL;
    for (size_t i = 0; i < SHARES; i++) {
        share[i] = (struct ht_share_of_orders){ job->work, job, o };
        fine = fine && make_own_room(&share[i].work, &job->arena);
    }
    if (!fine)
        return false;
    o->results = job->plan.asked * each;
    ht_parallel(SHARES, fill_share, share);
    return true;
}

static enum ht_status run(struct ht_job *job, struct ht_orders *o,
                          double healthy)
{
    if (!ht_stretches_find(&job->stretches, job->recording, job->turns))
        return HT_NO_MEMORY;
    if (!ht_goes_on(job->ask))
        return HT_STOPPED;
    ht_plan_make(&job->plan, job->rotation, &job->stretches);
    enum ht_status status =
        ht_joint_create(&job->joint, job->plan.column, job->plan.columns,
                        job->plan.block_turns);
    if (status != HT_OK)
        return status;
    if (!ht_blocks_cut(&job->blocks, &job->plan, &job->joint,
                       &job->stretches, job->recording, job->turns))
        return HT_NO_MEMORY;
    say_what_it_is(o, job->recording);
    ht_plan_say_close(&job->plan, o, job->rotation,
                      job->stretches.usual_speed_m_s,
                      job->turns->circumference_m);
    ht_say_fold_down(o, &job->plan, job->rotation, job->recording,
                     &job->blocks);
    if (!ht_goes_on(job->ask))
        return HT_STOPPED;
    if (!make_work(job, o, healthy))
        return HT_NO_MEMORY;
    if (!ht_goes_on(job->ask))
        return HT_STOPPED;
    if (!fill_results(job, o))
        return HT_NO_MEMORY;
    if (!ht_goes_on(job->ask))
        return HT_STOPPED;
    return ht_map_make(&o->map, &job->blocks, job->recording, o->memory)
               ? HT_OK
               : HT_NO_MEMORY;
}

enum ht_status ht_orders_find(struct ht_orders *o,
                              const struct ht_recording *recording,
                              const struct ht_rotation *rotation,
                              const struct ht_turns *turns,
                              double healthy_m_s2, const struct ht_ask *ask,
                              struct ht_error *err)
{
    *o = (struct ht_orders){ 0 };
    if (recording->channels == 0)
        return ht_fail(err, ORDERS_NO_CHANNEL);
    if (turns->state == HT_SPEED_REFUSED)
        return ht_fail(err, ORDERS_NO_SPEED);
    struct ht_job job = { .recording = recording, .rotation = rotation,
                          .turns = turns, .ask = ask };
    o->memory = ht_allocate(1, sizeof(struct ht_arena));
    enum ht_status status =
        o->memory ? run(&job, o, healthy_m_s2) : HT_NO_MEMORY;
    ht_arena_free(&job.arena);
    ht_blocks_free(&job.blocks);
    ht_joint_free(&job.joint);
    ht_stretches_free(&job.stretches);
    if (status == HT_OK)
        return HT_OK;
    ht_orders_free(o);
    if (status == HT_STOPPED)
        return ht_fail(err, ORDERS_STOPPED);
    return status == HT_NO_MEMORY ? ht_fail(err, ORDERS_NO_MEMORY)
                                  : ht_fail(err, ORDERS_NO_SOLUTION);
}

void ht_orders_free(struct ht_orders *o)
{
    if (o->memory)
        ht_arena_free(o->memory);
    ht_release(o->memory);
    *o = (struct ht_orders){ 0 };
}

const struct ht_order_result *ht_orders_get(const struct ht_orders *o,
                                            const char *part, double multiple)
{
    /* "2× shaft": the part's name follows the sign and a blank. */
    static const char sign[] = "\u00d7 ";
    for (size_t i = 0; i < o->results; i++) {
        const struct ht_order_result *r = &o->result[i];
        const char *name = strstr(r->order.name, sign);
        if (r->channel == -1 && name &&
            strcmp(name + sizeof sign - 1, part) == 0 &&
            fabs(r->order.multiple - multiple) < 1e-9)
            return r;
    }
    return NULL;
}
