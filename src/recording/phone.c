#include "phone.h"

#include "phone_work.h"
#include "common/limits.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "notes.h"
#include "still.h"
#include "texts.h"

#include <math.h>
#include <stdio.h>

enum { SHORT_GAP = 3 }; /* fewer lost samples in a row are bridged */

static enum ht_status fit_clock(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    if (!ht_clock_fit(&phone->fit, phone->stamp_s, phone->rows))
        return ht_phone_no_memory(phone);
    if (!(phone->fit.step_s * HT_RATE_HZ_MAX >= 1))
        return ht_fail(phone->err, RECORDING_TIME_STANDS, phone->path,
                       phone->columns.time + 1);
    recording->rate_hz = 1 / phone->fit.step_s;
    recording->file_rate_hz = recording->rate_hz;
    recording->band_hz = recording->rate_hz / 2;
    recording->frames = phone->fit.slots;
    recording->start_s =
        ht_phone_cell(phone, 0, phone->columns.time) * phone->columns.seconds +
        phone->fit.start_s;
    if (phone->fit.slots > 2 * phone->rows + 100)
        return ht_fail(phone->err, RECORDING_MOSTLY_MISSING, phone->path,
                       phone->rows, phone->stamp_s[phone->rows - 1]);
    return HT_OK;
}

static enum ht_status describe_axis(struct phone *phone, size_t a)
{
    struct ht_channel *channel = &phone->recording->channel[a];
    size_t column = phone->columns.axis_column[a];
    const char *name = phone->table.name[column];
    if (name[0])
        (void)snprintf(channel->name, sizeof channel->name, "%.*s",
                       (int)sizeof channel->name - 1, name);
    else
        (void)snprintf(channel->name, sizeof channel->name, RECORDING_AXIS,
                       a + 1);
    channel->axis = phone->columns.axis[a];
    channel->place = phone->options->place;
    channel->samples =
        ht_reserve(phone->recording->frames, sizeof *channel->samples);
    return channel->samples ? HT_OK : ht_phone_no_memory(phone);
}

static struct stretch whole_axis(const struct phone *phone, size_t axis)
{
    const struct ht_recording *recording = phone->recording;
    return (struct stretch){ 0, recording->frames,
                             recording->channel[axis].samples };
}

/* Three axes are not shared evenly among two processors. */
enum { PARTS = 4 };

static void place_part(void *context, size_t index)
{
    const struct phone *phone = context;
    size_t axis = index / PARTS, part = index % PARTS;
    const struct stretch all = whole_axis(phone, axis);
    const struct stretch some = { part * all.to / PARTS,
                                  (part + 1) * all.to / PARTS,
                                  all.samples + part * all.to / PARTS };
    ht_phone_place_by_clock(phone, phone->columns.axis_column[axis], &some);
}

static enum ht_status place_axes(struct phone *phone)
{
    size_t axes = phone->columns.axes;
    if (!phone->irregular)
        ht_parallel(axes * PARTS, place_part, phone);
    for (size_t a = 0; a < axes && phone->irregular; a++) {
        const struct stretch all = whole_axis(phone, a);
        if (!ht_phone_place_by_stamps(phone, phone->columns.axis_column[a],
                                      &all))
            return ht_phone_no_memory(phone);
    }
    return HT_OK;
}

static enum ht_status fill_axes(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    enum ht_status status = HT_OK;
    recording->channel =
        ht_allocate(phone->columns.axes, sizeof *recording->channel);
    if (!recording->channel)
        return ht_phone_no_memory(phone);
    recording->channels = phone->columns.axes;
    for (size_t a = 0; a < recording->channels && status == HT_OK; a++)
        status = describe_axis(phone, a);
    return status == HT_OK ? place_axes(phone) : status;
}

/* Rows that repeat all axes of the row before; cells that stay empty, too. */
static bool find_runs(const struct phone *phone, struct still *still)
{
    const struct table_columns *columns = &phone->columns;
    size_t from = 0;
    for (size_t r = 1; r < phone->rows; r++) {
        uint64_t moved = 0;
        for (size_t a = 0; a < columns->axes; a++)
            moved += !ht_phone_same(
                ht_phone_cell(phone, r, columns->axis_column[a]),
                ht_phone_cell(phone, r - 1, columns->axis_column[a]));
        still->changes += moved;
        if (moved == 0)
            continue;
        if (!ht_still_add(still, (struct still_run){ from, r }))
            return false;
        from = r;
    }
    still->frames = phone->rows;
    still->held = phone->rows - from;
    return ht_still_end(still);
}

/* From the first row of a run to the one behind it. */
static bool add_runs(struct phone *phone, const struct still *still)
{
    double *time_s = ht_allocate(2 * still->runs + 1, sizeof *time_s);
    for (size_t r = 0; time_s && r < still->runs; r++) {
        size_t from = (size_t)still->run[r].from, to = (size_t)still->run[r].to;
        size_t end = to < phone->rows ? ht_clock_slot(&phone->fit, to)
                                      : phone->fit.slots;
        time_s[2 * r] =
            (double)ht_clock_slot(&phone->fit, from) * phone->fit.step_s;
        time_s[2 * r + 1] = (double)end * phone->fit.step_s;
    }
    bool fine = time_s && ht_still_to_gaps(still, time_s, phone->recording);
    ht_release(time_s);
    return fine;
}

static enum ht_status find_still(struct phone *phone)
{
    struct still still =
        ht_still_begin(phone->columns.axes, phone->recording->rate_hz);
    if (phone->most_same < still.least - 1) /* no run is that long */
        return HT_OK;
    bool fine = find_runs(phone, &still) && add_runs(phone, &still);
    ht_still_free(&still);
    return fine ? HT_OK : ht_phone_no_memory(phone);
}

static enum ht_status find_gaps(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    const struct clock_fit *fit = &phone->fit;
    size_t room = 0, before = 0;
    for (size_t i = 0; i < fit->losses; i++) {
        size_t lost = fit->loss[i].lost - before;
        size_t from = fit->loss[i].row + before;
        before = fit->loss[i].lost;
        if (lost < SHORT_GAP)
            continue;
        if (!ht_grow((void **)&recording->gap, &room, recording->gaps + 1,
                     sizeof *recording->gap))
            return ht_phone_no_memory(phone);
        recording->gap[recording->gaps++] = (struct ht_gap){
            (double)from * fit->step_s, (double)(from + lost) * fit->step_s
        };
    }
    if (fit->lost > 0)
        ht_recording_note(recording, RECORDING_SAMPLES_MISSING, fit->lost,
                          recording->gaps);
    return HT_OK;
}

static bool goes_on(void *context)
{
    const struct phone *phone = context;
    const struct ht_recording_options *options = phone->options;
    return !options->go_on || options->go_on(options->context, (double)NAN);
}

static enum ht_status read_phone(struct phone *phone)
{
    static enum ht_status (*const steps[])(struct phone *) = {
        ht_phone_read_stamps, fit_clock, ht_phone_ask_referee,
        fill_axes, find_gaps, find_still, ht_phone_finish
    };
    struct ht_recording *recording = phone->recording;
    const struct ht_ask ask = { goes_on, phone };
    enum ht_status status =
        ht_table_read(&phone->table, phone->path, phone->options->decimal,
                      &ask, phone->err);
    if (status == HT_OK)
        status = ht_columns_find(&phone->columns, &phone->table, phone->path,
                                 phone->options, recording, phone->err);
    for (size_t s = 0; s < sizeof steps / sizeof steps[0]; s++)
        if (status == HT_OK)
            status = goes_on(phone) ? steps[s](phone)
                                    : ht_fail(phone->err, RECORDING_STOPPED,
                                              phone->path);
    return status;
}

static const char *format_name(char separator)
{
    return separator == ';'    ? RECORDING_FORMAT_SEMICOLONS
           : separator == '\t' ? RECORDING_FORMAT_TABS
                               : RECORDING_FORMAT_COMMAS;
}

enum ht_status ht_recording_from_table(struct ht_recording *recording,
                                       const char *path,
                                       const struct ht_recording_options *how,
                                       struct ht_error *err)
{
    struct phone phone = { .recording = recording, .options = how,
                           .path = path, .err = err };
    enum ht_status status = read_phone(&phone);
    if (status == HT_OK)
        (void)snprintf(recording->format, sizeof recording->format, "%s",
                       format_name(phone.table.separator));
    ht_clock_free(&phone.fit);
    ht_release(phone.stamp_s);
    ht_table_free(&phone.table);
    return status;
}
