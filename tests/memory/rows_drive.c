/* recording.h, speed.h, orders.h */
#include "row.h"

#include "halfturn/orders.h"
#include "halfturn/recording.h"
#include "halfturn/speed.h"

#include <math.h>

static void demand_empty(const struct ht_recording *recording)
{
    ROW_DEMAND(!recording->memory && !recording->channel && !recording->gap);
    ROW_DEMAND(recording->frames == 0 && recording->channels == 0);
}

static enum ht_status read_recording(const char *path, struct ht_error *err)
{
    struct ht_recording recording;
    const struct ht_recording_options options = { .highest_hz = NAN };
    watch_begin();
    enum ht_status status =
        ht_recording_read(&recording, path, &options, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&recording);
    ht_recording_free(&recording);
    return status;
}

static enum ht_status read_sound(struct ht_error *err)
{
    return read_recording(given.wav_path, err);
}

static enum ht_status read_accelerometer(struct ht_error *err)
{
    return read_recording(given.table_path, err);
}

static enum ht_status take_samples(struct ht_error *err)
{
    static float frames[2 * 3000];
    struct ht_recording recording;
    const struct ht_recording_options options = { .highest_hz = 100 };
    const struct ht_samples samples = { "samples", frames, 3000, 2, 1000 };
    for (size_t i = 0; i < 6000; i++)
        frames[i] = (float)sin(0.01 * (double)i);
    watch_begin();
    enum ht_status status =
        ht_recording_from_samples(&recording, &samples, &options, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&recording);
    ht_recording_free(&recording);
    return status;
}

static enum ht_status read_table(struct ht_error *err)
{
    struct ht_table table;
    watch_begin();
    enum ht_status status = ht_table_read(&table, given.log_path, 0, NULL, err);
    watch_end();
    if (status != HT_OK)
        ROW_DEMAND(!table.memory && !table.value && table.rows == 0);
    ht_table_free(&table);
    return status;
}

static enum ht_status free_read(struct ht_error *err)
{
    struct ht_recording recording;
    struct ht_table table;
    struct ht_speed_log log;
    const struct ht_recording_options options = { .highest_hz = NAN };
    enum ht_status status =
        ht_recording_read(&recording, given.table_path, &options, err);
    if (status == HT_OK)
        status = ht_table_read(&table, given.log_path, 0, NULL, err);
    if (status == HT_OK)
        status = ht_speed_log_read(&log, given.log_path, NULL, err);
    watch_begin();
    ROW_DEMAND(ht_table_line(&table, 0) == 2);
    ht_recording_free(&recording);
    ht_table_free(&table);
    ht_speed_log_free(&log);
    watch_end();
    demand_empty(&recording);
    ROW_DEMAND(!table.memory && !log.memory);
    return status;
}

static enum ht_status read_log(struct ht_error *err)
{
    struct ht_speed_log log;
    watch_begin();
    enum ht_status status =
        ht_speed_log_read(&log, given.log_path, NULL, err);
    watch_end();
    if (status != HT_OK)
        ROW_DEMAND(!log.memory && !log.time_s && log.rows == 0);
    ht_speed_log_free(&log);
    return status;
}

/* ---- speed and orders -------------------------------------------------- */

static enum ht_status turns_from(struct ht_turns *turns,
                                 const struct ht_speed_log *log,
                                 struct ht_error *err)
{
    const struct ht_speed_request request = {
        .recording = &given.workup.recording,
        .rotation = &given.workup.rotation,
        .log = log,
        .steady_m_s = NAN,
    };
    return ht_turns_find(turns, &request, err);
}

static enum ht_status find_turns(struct ht_error *err)
{
    struct ht_turns turns;
    watch_begin();
    enum ht_status status = turns_from(&turns, &given.log, err);
    watch_end();
    if (status != HT_OK)
        ROW_DEMAND(!turns.memory && !turns.turns && turns.points == 0);
    ht_turns_free(&turns);
    return status;
}

static enum ht_status ask_turns(struct ht_error *err)
{
    struct ht_turns turns;
    enum ht_status status = turns_from(&turns, &given.log, err);
    watch_begin();
    double at = ht_turns_at(&turns, turns.start_s + 20);
    ht_turns_free(&turns);
    watch_end();
    ROW_DEMAND(isfinite(at) && !turns.memory && turns.points == 0);
    return status;
}

static enum ht_status orders_of(struct ht_orders *orders,
                                struct ht_error *err)
{
    const struct ht_workup *workup = &given.workup;
    return ht_orders_find(orders, &workup->recording, &workup->rotation,
                          &workup->turns, 0.05, NULL, err);
}

static enum ht_status find_orders(struct ht_error *err)
{
    static struct ht_orders orders;
    watch_begin();
    enum ht_status status = orders_of(&orders, err);
    watch_end();
    if (status != HT_OK)
        ROW_DEMAND(!orders.memory && !orders.result && orders.results == 0 &&
                   orders.notes == 0);
    ht_orders_free(&orders);
    return status;
}

static enum ht_status ask_orders(struct ht_error *err)
{
    static struct ht_orders orders;
    enum ht_status status = orders_of(&orders, err);
    watch_begin();
    ROW_DEMAND(ht_orders_get(&orders, "shaft", 2) != NULL);
    ht_orders_free(&orders);
    watch_end();
    ROW_DEMAND(!orders.memory && orders.results == 0);
    return status;
}

const struct row rows_drive[] = {
    { "ht_recording_read", ALLOCATES, read_sound },
    { "ht_recording_read", ALLOCATES, read_accelerometer },
    { "ht_recording_from_samples", ALLOCATES, take_samples },
    { "ht_recording_free", NO_MEMORY_NEEDED, free_read },
    { "ht_table_read", ALLOCATES, read_table },
    { "ht_table_line", NO_MEMORY_NEEDED, free_read },
    { "ht_table_free", NO_MEMORY_NEEDED, free_read },
    { "ht_speed_log_read", ALLOCATES, read_log },
    { "ht_speed_log_free", NO_MEMORY_NEEDED, free_read },
    { "ht_turns_find", ALLOCATES, find_turns },
    { "ht_turns_at", NO_MEMORY_NEEDED, ask_turns },
    { "ht_turns_free", NO_MEMORY_NEEDED, ask_turns },
    { "ht_orders_find", ALLOCATES, find_orders },
    { "ht_orders_get", NO_MEMORY_NEEDED, ask_orders },
    { "ht_orders_free", NO_MEMORY_NEEDED, ask_orders },
    { 0 },
};
