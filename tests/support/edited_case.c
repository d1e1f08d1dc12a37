#include "edited_case.h"

#include "close.h"
#include "drive_maker.h"
#include "scratch.h"

#include "halfturn/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct edits edits_plain = {
    .title = "t", .tyre = "205/55R16", .gear = "gear: 5", .top_speed = "150",
    .slopes = "[2, 4, 2.5]", .limits = "car", .recording = "drive.wav",
    .unit = "m/s2", .place = "seat_rail", .speed = "speed.csv",
    .complaint = "throttle: same", .checks = "seen: []", .next = "tools: []",
    .safety = "done", .class = "car",
};

void edits_set(struct edits *edits, size_t at, const char *piece)
{
    const char **pieces = (const char **)(void *)((char *)edits + at);
    *pieces = piece;
}

static struct drive *drive;

int edited_begin(void **state)
{
    if (scratch_begin(state) != 0)
        return -1;
    struct drive_request request = drive_request_for(5, DRIVE_ANGLE_MISMATCH);
    request.duration_s = 40; /* short and slow: the way is the same */
    request.rate_hz = 100;
    request.log_rate_hz = 1;
    drive = drive_make(&request);
    return drive && drive_write_wav(drive, scratch_path("drive.wav")) &&
                   drive_write_wav(drive, scratch_path("renamed.wav")) &&
                   drive_write_log(drive, scratch_path("speed.csv"))
               ? 0
               : -1;
}

int edited_end(void **state)
{
    drive_free(drive);
    return scratch_end(state);
}

static void write_gears(struct ht_text *text)
{
    for (size_t i = 0; i < drive->vehicle.gears; i++) {
        ht_text_add(text, i ? ", " : "");
        ht_text_number(text, drive->vehicle.gear_ratio[i], 3);
    }
}

static void write_sheet(struct ht_text *text, const struct edits *e)
{
    ht_text_addf(text,
                 "halfturn: 1\ntitle: %s\nsafety: {clips_refitted: yes, "
                 "walk_round: %s}\nvehicle: {class: %s, tyre: %s, drive: "
                 "rear, gearbox: manual, axle_teeth: [%d, %d], top_speed_km_h: "
                 "%s, engine: {cylinders: 4, strokes: 4}, gear_ratios: [",
                 e->title, e->safety, e->class, e->tyre, drive->vehicle.ring,
                 drive->vehicle.pinion, e->top_speed);
    write_gears(text);
    ht_text_addf(text,
                 "]}\ndriveline: {members: [gearbox, shaft, pinion], joints: "
                 "[cardan, cardan]}\nangles: {suspension: wheels_on_ground, "
                 "read_on: cap, slopes_deg: %s, headings_deg: [0, 0, 0]}\n",
                 e->slopes);
    ht_text_addf(text,
                 "drive: {recording: %s, channels: [{name: x, unit: %s, "
                 "scale: 20, axis: forward}, {name: y, unit: %s, scale: 20, "
                 "axis: left}, {name: z, unit: %s, scale: 20, axis: up}], "
                 "sensor: {place: %s}, speed: %s, %s}\n",
                 e->recording, e->unit, e->unit, e->unit, e->place, e->speed,
                 e->gear);
    ht_text_addf(text,
                 "limits: %s\ncomplaint: {%s}\nchecks: {%s}\nnext: {%s}\n",
                 e->limits, e->complaint, e->checks, e->next);
}

/* ---- one way through --------------------------------------------------- */

static const char *folder(void)
{
    static char path[500];
    (void)snprintf(path, sizeof path, "%s", scratch_path("."));
    path[strlen(path) - 2] = '\0';
    return path;
}

void edited_run(struct edited *run, const struct edits *edits,
                     struct ht_workup_options options)
{
    struct ht_text text = { 0 };
    memset(run, 0, sizeof *run);
    run->workup = calloc(1, sizeof *run->workup);
    assert_non_null(run->workup);
    write_sheet(&text, edits);
    if (ht_sheet_read_text(&run->sheet, "test", ht_text_get(&text),
                           text.length, NULL, &run->err) != HT_OK)
        fail_msg("%s\n%s", run->err.text, ht_text_get(&text));
    ht_text_free(&text);
    options.folder = options.folder ? options.folder : folder();
    options.drive = options.causes = true;
    run->status =
        ht_workup_run(run->workup, &run->sheet, &options, &run->err);
}

void edited_free(struct edited *run)
{
    ht_workup_free(run->workup);
    ht_sheet_free(&run->sheet);
    free(run->workup);
}

void edited_run_kept(struct edited *run, const struct edits *edits,
                     struct ht_keeper *keeper)
{
    edited_run(run, edits, (struct ht_workup_options){ .keeper = keeper });
    if (run->status != HT_OK)
        fail_msg("%s", run->err.text);
}

/* Everything that a user sees of it. */
struct ht_text edited_told(const struct edited *run)
{
    struct ht_text text = { 0 };
    struct ht_error err = { 0 };
    struct ht_report_names names = { "case.yaml", NULL };
    bool fine =
        ht_report_json(&text, run->workup, HT_BLOCK_RANK, &err) == HT_OK &&
        ht_report_rank_text(&text, run->workup, &err) == HT_OK &&
        ht_report_html(&text, run->workup, &names, &err) == HT_OK;
    if (!fine)
        fail_msg("%s", err.text);
    return text;
}

void assert_told_alike(const struct edited *one, const struct edited *other)
{
    struct ht_text a = edited_told(one), b = edited_told(other);
    assert_int_equal(a.length, b.length);
    assert_memory_equal(a.bytes, b.bytes, a.length);
    ht_text_free(&a);
    ht_text_free(&b);
}

/* With a keeper as without, whatever the keeper holds. */
void assert_as_new(const struct edited *kept, const struct edits *edits)
{
    struct edited fresh;
    edited_run(&fresh, edits, (struct ht_workup_options){ .keys = true });
    if (fresh.status != HT_OK)
        fail_msg("%s", fresh.err.text);
    for (unsigned s = 0; s < HT_STAGES; s++)
        assert_int_not_equal(fresh.workup->stage[s].origin, HT_KEPT);
    assert_told_alike(kept, &fresh);
    edited_free(&fresh);
}

unsigned edited_stages(const struct edited *run, enum ht_origin origin)
{
    unsigned bits = 0;
    for (unsigned s = 0; s < HT_STAGES; s++)
        bits |= (run->workup->stage[s].origin == origin ? 1u : 0u) << s;
    return bits;
}

void assert_made(const struct edited *run, unsigned wanted,
                        const char *what)
{
    unsigned made = edited_stages(run, HT_MADE);
    for (unsigned s = 0; s < HT_STAGES; s++)
        if ((made ^ wanted) >> s & 1)
            fail_msg("%s: '%s' is %s", what, ht_stage_name(s),
                     made >> s & 1 ? "made again" : "kept");
}
