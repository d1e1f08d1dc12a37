/* A file is what its bytes are, not what it is called. */
#include "close.h"
#include "edited_case.h"
#include "scratch.h"

#include "common/memory.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void a_file_of_another_name_is_not_decoded_again(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct edits edits = edits_plain;
    struct edited before, after;
    edits.recording = "renamed.wav";
    edited_run_kept(&before, &edits_plain, keeper);
    edited_run_kept(&after, &edits, keeper);
    assert_int_equal(after.workup->stage[HT_STAGE_RECORDING].origin, HT_KEPT);
    assert_int_equal(after.workup->stage[HT_STAGE_SPEED].origin, HT_KEPT);
    assert_as_new(&after, &edits);
    edited_free(&before);
    edited_free(&after);
    ht_keeper_free(keeper);
}

/* Another sample in the middle: name, size and time of the file stay. */
static void change_a_byte(const char *path)
{
    struct stat status;
    unsigned char byte;
    int file = open(path, O_RDWR);
    assert_true(file >= 0 && fstat(file, &status) == 0);
    assert_int_equal(pread(file, &byte, 1, status.st_size / 2 | 1), 1);
    byte ^= 0x10;
    assert_int_equal(pwrite(file, &byte, 1, status.st_size / 2 | 1), 1);
    struct timespec times[2] = { status.st_atim, status.st_mtim };
    assert_int_equal(futimens(file, times), 0);
    (void)close(file);
}

static void other_bytes_of_the_same_name_size_and_time_are(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct edits edits = edits_plain;
    struct edited before, after;
    edits.recording = "renamed.wav";
    edited_run_kept(&before, &edits, keeper);
    change_a_byte(scratch_path("renamed.wav"));
    edited_run_kept(&after, &edits, keeper);
    assert_made(&after, FROM_RECORDING, "a byte of the recording");
    assert_as_new(&after, &edits);
    edited_free(&before);
    edited_free(&after);
    change_a_byte(scratch_path("renamed.wav")); /* as it was */
    ht_keeper_free(keeper);
}

static void a_file_whose_key_is_said_is_not_read_for_it(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct ht_known_file known = { .name = "drive.wav" };
    struct ht_workup_options options = { .keeper = keeper,
                                         .known = &known,
                                         .known_count = 1 };
    struct edited before, after;
    struct ht_error err;
    assert_int_equal(ht_key_of_file(&known.key, scratch_path("drive.wav"),
                                    &err),
                     HT_OK);
    edited_run_kept(&before, &edits_plain, keeper);
    char here[500], away[500];
    (void)snprintf(here, sizeof here, "%s", scratch_path("drive.wav"));
    (void)snprintf(away, sizeof away, "%s", scratch_path("away.wav"));
    assert_int_equal(rename(here, away), 0); /* nothing to read at all */
    edited_run(&after, &edits_plain, options);
    assert_int_equal(rename(away, here), 0);
    if (after.status != HT_OK)
        fail_msg("%s", after.err.text);
    assert_made(&after, 0, "a known recording");
    assert_told_alike(&before, &after);
    edited_free(&before);
    edited_free(&after);
    ht_keeper_free(keeper);
}

static const char limits[] = "halfturn_limits: 1\nsets:\n  - {id: car, title: "
                             "Mine, source: own, joint_max_deg: 3}\n";

/* What a pipe holds can be read once: it is used, and not kept. */
static void a_pipe_is_read_and_never_kept(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    char path[40];
    int ends[2];
    struct edited run;
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], limits, sizeof limits - 1),
                     sizeof limits - 1);
    (void)close(ends[1]);
    (void)snprintf(path, sizeof path, "/dev/fd/%d", ends[0]);
    edited_run(&run, &edits_plain,
             (struct ht_workup_options){ .keeper = keeper,
                                         .limits_path = path });
    (void)close(ends[0]);
    if (run.status != HT_OK)
        fail_msg("%s", run.err.text);
    assert_true(run.workup->stage[HT_STAGE_RECORDING].has_key);
    assert_false(run.workup->stage[HT_STAGE_LIMITS].has_key);
    assert_false(run.workup->stage[HT_STAGE_ANGLES].has_key);
    assert_false(run.workup->stage[HT_STAGE_RANKING].has_key);
    edited_free(&run);
    ht_keeper_free(keeper);
}

/* A recording that is still being copied: the file grows at every allocation,
 * so also between its key and its reading. */
static char growing[500];

static bool grow_file(size_t bytes)
{
    (void)bytes;
    FILE *file = fopen(growing, "a");
    bool fine = file && fputs("# more\n", file) >= 0;
    return (!file || fclose(file) == 0) && fine;
}

static void a_file_that_changes_while_it_is_read_is_refused(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct edited run, again;
    (void)snprintf(growing, sizeof growing, "%s",
                   scratch_text("limits.yaml", limits));
    struct ht_workup_options options = { .keeper = keeper,
                                         .limits_path = growing };
    ht_memory_permit = grow_file;
    edited_run(&run, &edits_plain, options);
    ht_memory_permit = NULL;
    assert_int_equal(run.status, HT_CANNOT_READ);
    assert_non_null(strstr(run.err.text, "changed while"));
    edited_run(&again, &edits_plain, options);
    assert_int_equal(again.status, HT_OK);
    assert_int_equal(again.workup->stage[HT_STAGE_LIMITS].origin, HT_MADE);
    edited_free(&run);
    edited_free(&again);
    ht_keeper_free(keeper);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_of_another_name_is_not_decoded_again),
        cmocka_unit_test(other_bytes_of_the_same_name_size_and_time_are),
        cmocka_unit_test(a_file_whose_key_is_said_is_not_read_for_it),
        cmocka_unit_test(a_pipe_is_read_and_never_kept),
        cmocka_unit_test(a_file_that_changes_while_it_is_read_is_refused),
    };
    return cmocka_run_group_tests(tests, edited_begin, edited_end);
}
