/* A workup that is told to stop does: whatever it is at, it asks often. The
 * longest time without being asked is measured on ten minutes of three axes,
 * as the processor counts it for the thread that works: the machine may be
 * busy with others. */
#include "close.h"
#include "drive_maker.h"
#include "scratch.h"

#include "halfturn/workup.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
static const double most_s = 5;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) ||    \
    __has_feature(memory_sanitizer)
static const double most_s = 5;
#else
static const double most_s = 0.3;
#endif
#else
static const double most_s = 0.3;
#endif

static char folder[512], sheet_path[2][512];

static bool write_all(const struct drive *drive)
{
    char wav[512], table[512], log[512];
    (void)snprintf(wav, sizeof wav, "%s", scratch_path("drive.wav"));
    (void)snprintf(table, sizeof table, "%s", scratch_path("phone.csv"));
    (void)snprintf(log, sizeof log, "%s", scratch_path("speed.csv"));
    for (int i = 0; i < 2; i++)
        (void)snprintf(sheet_path[i], sizeof sheet_path[i], "%s",
                       scratch_path(i ? "phone.yaml" : "sound.yaml"));
    (void)snprintf(folder, sizeof folder, "%s", log);
    *strrchr(folder, '/') = '\0';
    return drive_write_wav(drive, wav) && drive_write_table(drive, table) &&
           drive_write_log(drive, log) &&
           drive_write_sheet(drive, sheet_path[0], wav, log) &&
           drive_write_sheet(drive, sheet_path[1], table, log);
}

static int make_case(void **state)
{
    if (scratch_begin(state) != 0)
        return -1;
    struct drive_request request = drive_request_for(5, DRIVE_ANGLE_MISMATCH);
    request.duration_s = 600;
    request.rate_hz = 400;
    struct drive *drive = drive_make(&request);
    bool made = drive && write_all(drive);
    drive_free(drive);
    return made ? 0 : -1;
}

struct asking {
    size_t asked, patient;      /* so often it is said to go on */
    double last_s, longest_s;
    char longest[40], stopped[40];
};

static double now_s(void)
{
    struct timespec now;
    assert_int_equal(clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now), 0);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void note_pause(struct asking *asking, const char *stage)
{
    double now = now_s();
    if (now - asking->last_s > asking->longest_s) {
        asking->longest_s = now - asking->last_s;
        (void)snprintf(asking->longest, sizeof asking->longest,
                       "%zu, before %s", asking->asked, stage);
    }
    asking->last_s = now;
}

static bool ask(void *context, const char *stage, double share)
{
    struct asking *asking = context;
    note_pause(asking, stage);
    asking->asked += share < 1;
    if (asking->asked <= asking->patient)
        return true;
    if (share < 1)
        (void)snprintf(asking->stopped, sizeof asking->stopped, "%s", stage);
    return false;
}

static enum ht_status run(const char *path, struct asking *asking)
{
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    struct ht_workup *workup = calloc(1, sizeof *workup);
    const struct ht_workup_options options = { .folder = folder,
                                               .drive = true,
                                               .causes = true,
                                               .progress = ask,
                                               .context = asking };
    assert_non_null(workup);
    assert_int_equal(ht_sheet_read(&sheet, path, NULL, &err), HT_OK);
    asking->last_s = now_s();
    enum ht_status status = ht_workup_run(workup, &sheet, &options, &err);
    note_pause(asking, "the end");
    if (status != HT_OK && status != HT_STOPPED)
        fail_msg("%s", err.text);
    if (status == HT_OK)
        assert_true(workup->has_orders && workup->has_ranking);
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    free(workup);
    return status;
}

static void it_is_asked_often(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct asking asking = { .patient = SIZE_MAX };
        assert_int_equal(run(sheet_path[i], &asking), HT_OK);
        printf("%s: asked %zu times; the longest pause %.3f s (%s)\n",
               i ? "table" : "sound", asking.asked, asking.longest_s,
               asking.longest);
        assert_true(asking.longest_s < most_s);
    }
}

/* Whenever it is told: it has ended before it can ask again. */
static void it_stops_wherever_it_is_told(void **state)
{
    (void)state;
    struct asking whole = { .patient = SIZE_MAX };
    bool in_speed = false, in_orders = false;
    assert_int_equal(run(sheet_path[1], &whole), HT_OK);
    for (size_t patient = 0; patient < whole.asked;
         patient += 1 + whole.asked / 20) {
        struct asking asking = { .patient = patient };
        assert_int_equal(run(sheet_path[1], &asking), HT_STOPPED);
        assert_int_equal(asking.asked, patient + 1);
        in_speed = in_speed || strcmp(asking.stopped, "speed") == 0;
        in_orders = in_orders || strcmp(asking.stopped, "orders") == 0;
    }
    assert_true(in_speed && in_orders);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_asked_often),
        cmocka_unit_test(it_stops_wherever_it_is_told),
    };
    return cmocka_run_group_tests(tests, make_case, scratch_end);
}
