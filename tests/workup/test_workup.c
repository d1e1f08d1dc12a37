/* One case through everything: what stages say when something is absent. */
#include "close.h"

#include "halfturn/workup.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct worked {
    struct ht_sheet sheet;
    struct ht_workup *workup;
    enum ht_status status;
    struct ht_error err;
    char begun[200]; /* stages in the order of their announcement */
};

static bool note_begun(void *context, const char *stage, double share)
{
    struct worked *worked = context;
    size_t used = strlen(worked->begun), word = strlen(stage);
    /* a recording tells its share again and again */
    if (share < 1 && used > word + 2 &&
        strncmp(worked->begun + used - word - 2, stage, word) == 0)
        return true;
    (void)snprintf(worked->begun + used, sizeof worked->begun - used, "%s%s",
                   stage, share < 1 ? ", " : "end");
    return true;
}

static void work(struct worked *worked, const char *text, const char *folder)
{
    struct ht_workup_options options = { .folder = folder,
                                         .drive = true,
                                         .causes = true,
                                         .progress = note_begun,
                                         .context = worked };
    memset(worked, 0, sizeof *worked);
    if (ht_sheet_read_text(&worked->sheet, "test", text, strlen(text), NULL,
                           &worked->err) != HT_OK)
        fail_msg("%s", worked->err.text);
    worked->workup = calloc(1, sizeof *worked->workup);
    assert_non_null(worked->workup);
    worked->status = ht_workup_run(worked->workup, &worked->sheet, &options,
                                   &worked->err);
}

static void work_free(struct worked *worked)
{
    ht_workup_free(worked->workup);
    ht_sheet_free(&worked->sheet);
    free(worked->workup);
}

static bool says(char (*list)[240], size_t count, const char *words)
{
    for (size_t i = 0; i < count; i++)
        if (strstr(list[i], words))
            return true;
    return false;
}

static bool is_missing(const struct worked *worked, const char *words)
{
    return says(worked->workup->missing, worked->workup->missing_count, words);
}

#define LINE                                                                   \
    "halfturn: 1\n"                                                            \
    "vehicle: {class: van, tyre: 235/65R16, axle_teeth: [41, 11], "            \
    "drive: rear, top_speed_km_h: 120}\n"                                      \
    "driveline: {members: [gearbox, shaft, pinion], joints: [cardan, "         \
    "cardan]}\n"

static void an_empty_sheet_gives_a_ranking_that_accuses_nothing(void **state)
{
    (void)state;
    struct worked worked;
    work(&worked, "halfturn: 1\n", NULL);
    assert_int_equal(worked.status, HT_OK);
    assert_false(worked.workup->has_angles);
    assert_false(worked.workup->has_orders);
    assert_true(worked.workup->has_ranking);
    assert_null(worked.workup->ranking.accused);
    assert_true(is_missing(&worked, "No joint angles"));
    assert_true(is_missing(&worked, "No drive"));
    work_free(&worked);
}

static void a_hanging_axle_gives_numbers_and_nothing_downstream(void **state)
{
    (void)state;
    static const char *const suspensions[] = { "suspension: hanging, ", "" };
    for (int i = 0; i < 2; i++) { /* hanging, and not said */
        char text[1024];
        struct worked worked;
        (void)snprintf(text, sizeof text,
                       LINE "angles: {%sread_on: cap, slopes_deg: [2, 9, 3], "
                            "headings_deg: [0, 0, 0]}\n",
                       suspensions[i]);
        work(&worked, text, NULL);
        assert_int_equal(worked.status, HT_OK);
        assert_true(worked.workup->has_angles);
        assert_close(worked.workup->angles.joint[0].angle_rad.value,
                     7 * 3.14159265358979 / 180, 1e-12);
        assert_int_equal(worked.workup->angles.verdicts, 0);
        for (size_t f = 0; f < worked.workup->findings.findings; f++) {
            const struct ht_finding *finding =
                &worked.workup->findings.finding[f];
            size_t count;
            const char *group = ht_finding_kinds(&count)[finding->kind].group;
            assert_false(finding->known && group &&
                         strncmp(group, "angles", 6) == 0);
        }
        work_free(&worked);
    }
}

static void the_makers_own_figures_override_the_named_set(void **state)
{
    (void)state;
    struct worked worked;
    work(&worked,
         LINE "angles: {suspension: wheels_on_ground, read_on: cap, gauge: "
              "{accuracy_deg: 0.1, set_up_deg: 0.15}, slopes_deg: [2, 7, 2], "
              "headings_deg: [0, 0, 0]}\nlimits: {joint_max_deg: 6}\n",
         NULL);
    assert_int_equal(worked.status, HT_OK);
    assert_true(worked.workup->angles.verdicts > 0);
    for (size_t i = 0; i < worked.workup->angles.verdicts; i++) {
        const struct ht_limit_verdict *v = &worked.workup->angles.verdict[i];
        assert_string_equal(v->set, "sheet");
        assert_int_equal(v->verdict, HT_VERDICT_WITHIN);
        assert_close(v->limit, 6 * 3.14159265358979 / 180, 1e-12);
    }
    work_free(&worked);
}

/* Whatever a published set can say, the sheet can. */
static void every_figure_of_the_sheets_limits_is_judged_by(void **state)
{
    (void)state;
    static const struct {
        const char *limits, *joints, *what;
        double limit;
    } rows[] = {
        { "joint_min_deg: 1", "cardan, cardan, cardan", "joint 1", 1 },
        { "difference_max_deg: 2", "cardan, cardan, cardan",
          "joints 2 and 3 differ", 2 },
        { "odd_max_deg: 0.5", "cardan, cardan, cardan",
          "joint 1, the odd one beside the pair", 0.5 },
        { "alone_max_deg: 1.5", "double_cardan, cardan, double_cardan",
          "joint 2, which no other joint cancels", 1.5 },
        { "double_joint_max_deg: 9", "double_cardan, cardan, cardan",
          "joint 1", 9 },
        { "leftover_max_deg: 2.5", "cardan, cardan, cardan", "leftover angle",
          2.5 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[1024];
        struct worked worked;
        (void)snprintf(text, sizeof text,
                       "halfturn: 1\ndriveline: {members: [a, b, c, d], "
                       "joints: [%s]}\nangles: {suspension: "
                       "wheels_on_ground, slopes_deg: [2, 7, 9, 8], "
                       "headings_deg: [0, 0, 0, 0]}\nlimits: {%s}\n",
                       rows[i].joints, rows[i].limits);
        work(&worked, text, NULL);
        assert_int_equal(worked.status, HT_OK);
        const struct ht_angles *angles = &worked.workup->angles;
        size_t found = 0;
        for (size_t v = 0; v < angles->verdicts; v++) {
            assert_string_equal(angles->verdict[v].set, "sheet");
            if (strcmp(angles->verdict[v].what, rows[i].what) != 0)
                continue;
            assert_close(angles->verdict[v].limit,
                         rows[i].limit * 3.14159265358979 / 180, 1e-12);
            found++;
        }
        if (found != 1)
            fail_msg("%s: %zu", rows[i].limits, found);
        work_free(&worked);
    }
}

static void a_misspelt_word_of_the_checks_is_named(void **state)
{
    (void)state;
    struct worked worked;
    work(&worked, LINE "checks: {seen: [loose_jiont, dent], sound: [mounts]}\n",
         NULL);
    assert_int_equal(worked.status, HT_OK);
    assert_true(is_missing(&worked, "'loose_jiont'"));
    assert_true(is_missing(&worked, "Is it 'loose_joint'?"));
    assert_false(is_missing(&worked, "'dent'"));
    assert_false(is_missing(&worked, "'mounts'"));
    work_free(&worked);
}

/* A car without a known fault on an ordinary road. */
static void a_real_drive_accuses_nothing(void **state)
{
    (void)state;
    char folder[1024], path[1100];
    const char *shared = getenv("HALFTURN_SHARED");
    struct worked worked;
    (void)snprintf(folder, sizeof folder, "%s/road-a",
                   shared ? shared : HALFTURN_SOURCE_DIR "/../shared");
    (void)snprintf(path, sizeof path, "%s/imu.csv", folder);
    if (access(path, R_OK) != 0) {
        print_message("skipped: no real drive at %s\n", path);
        skip();
    }
    work(&worked,
         "halfturn: 1\nsetting: complaint\nvehicle: {class: car}\n"
         "drive: {recording: imu.csv, sensor: {place: dash}, speed: "
         "speed.csv}\n",
         folder);
    assert_int_equal(worked.status, HT_OK);
    assert_close_relative(worked.workup->turns.circumference_m, 2.16, 0.01);
    assert_null(worked.workup->ranking.accused);
    for (size_t i = 0; i < worked.workup->orders.results; i++) {
        const struct ht_order_result *line =
            &worked.workup->orders.result[i];
        const struct ht_part *part =
            &worked.workup->rotation.part[line->order.part];
        if (part->family == HT_FAMILY_SHAFT) /* no ratio is known */
            assert_int_equal(line->state, HT_COULD_NOT_BE_SEEN);
    }
    work_free(&worked);
}

static void a_file_that_is_not_there_ends_it_with_its_name(void **state)
{
    (void)state;
    struct worked worked;
    work(&worked, LINE "drive: {recording: gone.wav, speed: {steady_km_h: "
                       "90}}\n",
         "/nowhere");
    assert_int_equal(worked.status, HT_CANNOT_READ);
    assert_non_null(strstr(worked.err.text, "/nowhere/gone.wav"));
    assert_false(worked.workup->has_recording);
    assert_string_equal(worked.begun,
                        "turning parts, joint angles, recording, end");
    work_free(&worked);
}

static void a_drive_without_speed_says_what_would_bring_one(void **state)
{
    (void)state;
    struct worked worked;
    work(&worked, LINE "drive: {recording: drive.flac, sensor: {place: "
                       "seat_rail}}\n",
         HALFTURN_SOURCE_DIR "/samples/van");
    assert_int_equal(worked.status, HT_OK);
    assert_true(worked.workup->has_recording);
    assert_false(worked.workup->has_turns);
    assert_false(worked.workup->has_orders);
    assert_true(is_missing(&worked, "speed"));
    assert_string_equal(worked.begun, "turning parts, joint angles, "
                                      "recording, speed, causes, end");
    work_free(&worked);
}

static void the_samples_worst_line_is_2x_shaft(void **state)
{
    (void)state;
    struct worked worked = { .status = HT_OK };
    struct ht_workup_options options = {
        .folder = HALFTURN_SOURCE_DIR "/samples/van", .drive = true,
        .causes = true, .progress = note_begun, .context = &worked
    };
    worked.workup = calloc(1, sizeof *worked.workup);
    assert_non_null(worked.workup);
    assert_int_equal(ht_sheet_read(&worked.sheet,
                                   HALFTURN_SOURCE_DIR
                                   "/samples/van/case.yaml",
                                   NULL, &worked.err),
                     HT_OK);
    assert_int_equal(ht_workup_run(worked.workup, &worked.sheet, &options,
                                   &worked.err),
                     HT_OK);
    const struct ht_order_result *line =
        ht_orders_get(&worked.workup->orders, "shaft", 2);
    assert_non_null(line);
    assert_int_equal(line->state, HT_SEEN);
    for (size_t i = 0; i < worked.workup->orders.results; i++) {
        const struct ht_order_result *other =
            &worked.workup->orders.result[i];
        if (other->channel == -1 && other->state == HT_SEEN)
            assert_true(other->level.value <= line->level.value);
    }
    assert_string_equal(worked.workup->ranking.accused, "angle-mismatch");
    assert_string_equal(worked.begun, "turning parts, joint angles, recording, "
                                      "speed, orders, causes, end");
    work_free(&worked);
}

/* Told when a share of the work is done, the caller wants no more of it. */
struct patience {
    double share;
    double last;
    unsigned told;
};

static bool lose_patience(void *context, const char *stage, double share)
{
    struct patience *patience = context;
    (void)stage;
    patience->told++;
    patience->last = share;
    return share < patience->share;
}

static void a_workup_that_is_stopped_ends_there_and_is_empty(void **state)
{
    (void)state;
    /* before anything; between two stages; amid the recording; at the speed;
     * at the end, where nothing is left to stop */
    static const struct {
        double share;
        enum ht_status status;
    } stops[] = { { 0, HT_STOPPED }, { 0.02, HT_STOPPED },
                  { 0.3, HT_STOPPED }, { 0.6, HT_STOPPED }, { 1, HT_OK } };
    struct ht_workup *workup = calloc(1, sizeof *workup);
    assert_non_null(workup);
    for (size_t i = 0; i < sizeof stops / sizeof stops[0]; i++) {
        struct patience patience = { .share = stops[i].share };
        struct ht_sheet sheet;
        struct ht_error err = { 0 };
        struct ht_workup_options options = {
            .folder = HALFTURN_SOURCE_DIR "/samples/van", .drive = true,
            .progress = lose_patience, .context = &patience
        };
        assert_int_equal(ht_sheet_read(&sheet, HALFTURN_SOURCE_DIR
                                       "/samples/van/case.yaml", NULL, &err),
                         HT_OK);
        assert_int_equal(ht_workup_run(workup, &sheet, &options, &err),
                         stops[i].status);
        assert_true(patience.last == 1); /* the end is always told */
        if (stops[i].status == HT_STOPPED)
            assert_non_null(strstr(err.text, "stopped"));
        else
            assert_true(patience.told > 10); /* amid the recording too */
        assert_int_equal(workup->has_recording, stops[i].status == HT_OK);
        ht_workup_free(workup);
        ht_sheet_free(&sheet);
    }
    free(workup);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_sheet_gives_a_ranking_that_accuses_nothing),
        cmocka_unit_test(a_hanging_axle_gives_numbers_and_nothing_downstream),
        cmocka_unit_test(the_makers_own_figures_override_the_named_set),
        cmocka_unit_test(every_figure_of_the_sheets_limits_is_judged_by),
        cmocka_unit_test(a_misspelt_word_of_the_checks_is_named),
        cmocka_unit_test(a_real_drive_accuses_nothing),
        cmocka_unit_test(a_file_that_is_not_there_ends_it_with_its_name),
        cmocka_unit_test(a_drive_without_speed_says_what_would_bring_one),
        cmocka_unit_test(the_samples_worst_line_is_2x_shaft),
        cmocka_unit_test(a_workup_that_is_stopped_ends_there_and_is_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
