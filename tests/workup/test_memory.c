/* Every allocation of ours refused, once and from then on for good: the whole
 * way from sheet to page ends in HT_NO_MEMORY and leaves nothing behind (the
 * sanitized build looks for leaks). */
#include "close.h"
#include "drive_maker.h"

#include "common/memory.h"
#include "halfturn/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct {
    size_t seen, refuse_at; /* counted from 1; 0: none */
    bool for_good;
    size_t refused;
} memory;

static bool permit(size_t bytes)
{
    (void)bytes;
    memory.seen++;
    bool refuse = memory.refuse_at > 0 &&
                  (memory.for_good ? memory.seen >= memory.refuse_at
                                   : memory.seen == memory.refuse_at);
    memory.refused += refuse;
    return !refuse;
}

/* Kept between the runs, or NULL. */
static struct ht_keeper *keeper;

static char folder[] = "/tmp/halfturn-memory-XXXXXX";
static char sheet_path[96], wav_path[96], log_path[96];

/* A short, slow drive: the way is the same, the time is not. */
static int make_case(void **state)
{
    (void)state;
    if (!mkdtemp(folder))
        return -1;
    (void)snprintf(sheet_path, sizeof sheet_path, "%s/case.yaml", folder);
    (void)snprintf(wav_path, sizeof wav_path, "%s/drive.wav", folder);
    (void)snprintf(log_path, sizeof log_path, "%s/speed.csv", folder);
    struct drive_request request = drive_request_for(5, DRIVE_ANGLE_MISMATCH);
    request.duration_s = 40;
    request.rate_hz = 100;
    request.log_rate_hz = 1;
    struct drive *drive = drive_make(&request);
    bool made = drive && drive_write_wav(drive, wav_path) &&
                drive_write_log(drive, log_path) &&
                drive_write_sheet(drive, sheet_path, wav_path, log_path);
    drive_free(drive);
    return made ? 0 : -1;
}

static int remove_case(void **state)
{
    (void)state;
    (void)unlink(sheet_path);
    (void)unlink(wav_path);
    (void)unlink(log_path);
    return rmdir(folder);
}

static enum ht_status write_all(const struct ht_workup *workup,
                                struct ht_text *out, struct ht_error *err)
{
    struct ht_report_names names = { "case.yaml", NULL };
    enum ht_status status = ht_report_html(out, workup, &names, err);
    if (status == HT_OK)
        status = ht_report_rank_text(out, workup, err);
    if (status == HT_OK)
        status = ht_report_json(out, workup, HT_BLOCK_RANK, err);
    return status;
}

static enum ht_status whole_way(struct ht_text *all, struct ht_error *err)
{
    struct ht_sheet sheet;
    struct ht_text out = { 0 };
    struct ht_workup *workup = calloc(1, sizeof *workup);
    struct ht_workup_options options = { .folder = folder,
                                         .drive = true,
                                         .causes = true,
                                         .keeper = keeper,
                                         .keys = true };
    assert_non_null(workup);
    enum ht_status status = ht_sheet_read(&sheet, sheet_path, NULL, err);
    if (status == HT_OK)
        status = ht_workup_run(workup, &sheet, &options, err);
    if (status == HT_OK)
        status = write_all(workup, &out, err);
    if (all)
        *all = out;
    else
        ht_text_free(&out);
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    free(workup);
    return status;
}

static size_t count_allocations(void)
{
    struct ht_error err = { 0 };
    memory.seen = memory.refused = memory.refuse_at = 0;
    ht_memory_permit = permit;
    enum ht_status status = whole_way(NULL, &err);
    ht_memory_permit = NULL;
    if (status != HT_OK)
        fail_msg("%s", err.text);
    return memory.seen;
}

static void refuse_each(bool for_good)
{
    size_t count = count_allocations(), wrong = 0, tried = 0;
    const char *all = getenv("HALFTURN_ALL_ALLOCATIONS");
    /* about 120 of them, spread; an odd step, so that none of the repeated
     * kinds is always passed over */
    size_t step = all || count < 500 ? 1 : count / 100 | 1;
    for (size_t n = 1; n <= count; n += n < 20 ? 1 : step) {
        struct ht_error err = { 0 };
        memory.seen = memory.refused = 0;
        memory.refuse_at = n;
        memory.for_good = for_good;
        ht_memory_permit = permit;
        enum ht_status status = whole_way(NULL, &err);
        ht_memory_permit = NULL;
        assert_true(memory.refused > 0); /* else nothing was tested */
        tried++;
        if (status == HT_NO_MEMORY)
            continue;
        wrong++;
        if (wrong < 12)
            print_error("allocation %zu of %zu refused: status %s, '%s'\n", n,
                        count, ht_status_name(status), err.text);
    }
    print_message("%zu of %zu allocations refused%s\n", tried, count,
                  for_good ? " from then on for good" : " once");
    assert_int_equal(wrong, 0);
}

static void an_allocation_refused_once_ends_in_no_memory(void **state)
{
    (void)state;
    refuse_each(false);
}

static void memory_that_stays_away_ends_in_no_memory(void **state)
{
    (void)state;
    refuse_each(true);
}

/* Refused once, with a keeper that then holds what was made before; the same
 * keeper goes on with the next run as if nothing had been. */
static void a_keeper_is_sound_after_every_refusal(void **state)
{
    (void)state;
    struct ht_text wanted, got;
    struct ht_error err = { 0 };
    size_t count = count_allocations(), kept = 0, tried = 0;
    assert_int_equal(whole_way(&wanted, &err), HT_OK);
    for (size_t n = 1; n <= count; n += n < 8 ? 1 : count / 20 | 1) {
        keeper = ht_keeper_create(100u << 20);
        memory.seen = memory.refused = 0;
        memory.refuse_at = n;
        memory.for_good = false;
        ht_memory_permit = permit;
        enum ht_status status = whole_way(NULL, &err);
        ht_memory_permit = NULL;
        assert_true(memory.refused > 0);
        assert_int_equal(status, HT_NO_MEMORY);
        if (whole_way(&got, &err) != HT_OK)
            fail_msg("after allocation %zu was refused: %s", n, err.text);
        assert_int_equal(got.length, wanted.length);
        assert_memory_equal(got.bytes, wanted.bytes, got.length);
        kept += ht_keeper_figures(keeper).found;
        tried++;
        ht_text_free(&got);
        ht_keeper_free(keeper);
        keeper = NULL;
    }
    ht_text_free(&wanted);
    print_message("%zu refusals, %zu values of theirs used afterwards\n",
                  tried, kept);
    assert_true(kept > tried); /* else nothing of a broken run was kept */
}

/* A run that finds all its values asks for little; refuse each of it. */
static void a_run_on_kept_values_ends_in_no_memory_too(void **state)
{
    (void)state;
    keeper = ht_keeper_create(100u << 20);
    (void)count_allocations();
    refuse_each(false);
    refuse_each(true);
    ht_keeper_free(keeper);
    keeper = NULL;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_allocation_refused_once_ends_in_no_memory),
        cmocka_unit_test(memory_that_stays_away_ends_in_no_memory),
        cmocka_unit_test(a_keeper_is_sound_after_every_refusal),
        cmocka_unit_test(a_run_on_kept_values_ends_in_no_memory_too),
    };
    return cmocka_run_group_tests(tests, make_case, remove_case);
}
