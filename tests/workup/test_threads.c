/* Two cases worked up at the same time, each in a thread of its own, give the
 * bytes that one alone gives. Built with -DHALFTURN_SANITIZE=thread this is
 * also a search for data that both write (docs/reliability.md). */
#include "close.h"
#include "drive_maker.h"
#include "scratch.h"

#include "halfturn/report.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { THREADS = 2, ROUNDS = 3 };

static char sheet_path[512], folder[512];

static int make_case(void **state)
{
    char wav[512], log[512];
    if (scratch_begin(state) != 0)
        return -1;
    (void)snprintf(sheet_path, sizeof sheet_path, "%s",
                   scratch_path("case.yaml"));
    (void)snprintf(wav, sizeof wav, "%s", scratch_path("drive.wav"));
    (void)snprintf(log, sizeof log, "%s", scratch_path("speed.csv"));
    (void)snprintf(folder, sizeof folder, "%s", sheet_path);
    *strrchr(folder, '/') = '\0';
    struct drive_request request = drive_request_for(5, DRIVE_ANGLE_MISMATCH);
    request.duration_s = 40;
    request.rate_hz = 100;
    struct drive *drive = drive_make(&request);
    bool made = drive && drive_write_wav(drive, wav) &&
                drive_write_log(drive, log) &&
                drive_write_sheet(drive, sheet_path, wav, log);
    drive_free(drive);
    return made ? 0 : -1;
}

/* From the files to the page and the JSON text. */
static void *work_up(void *into)
{
    struct ht_text *out = into;
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    struct ht_workup *workup = calloc(1, sizeof *workup);
    const struct ht_workup_options options = { .folder = folder,
                                               .drive = true,
                                               .causes = true };
    const struct ht_report_names names = { "case.yaml", NULL };
    if (!workup)
        return NULL;
    enum ht_status status = ht_sheet_read(&sheet, sheet_path, NULL, &err);
    if (status == HT_OK)
        status = ht_workup_run(workup, &sheet, &options, &err);
    if (status == HT_OK)
        status = ht_report_html(out, workup, &names, &err);
    if (status == HT_OK)
        status = ht_report_json(out, workup, HT_BLOCK_RANK, &err);
    if (status != HT_OK)
        ht_text_fail(out);
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    free(workup);
    return NULL;
}

static void two_at_a_time_give_what_one_gives(void **state)
{
    struct ht_text alone = { 0 };
    (void)state;
    (void)work_up(&alone);
    assert_true(ht_text_ok(&alone) && alone.length > 10000);
    for (int round = 0; round < ROUNDS; round++) {
        struct ht_text out[THREADS] = { { 0 } };
        pthread_t thread[THREADS];
        for (int i = 0; i < THREADS; i++)
            assert_int_equal(
                pthread_create(&thread[i], NULL, work_up, &out[i]), 0);
        for (int i = 0; i < THREADS; i++)
            assert_int_equal(pthread_join(thread[i], NULL), 0);
        for (int i = 0; i < THREADS; i++) {
            assert_string_equal(ht_text_get(&out[i]), ht_text_get(&alone));
            ht_text_free(&out[i]);
        }
    }
    ht_text_free(&alone);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_at_a_time_give_what_one_gives),
    };
    return cmocka_run_group_tests(tests, make_case, scratch_end);
}
