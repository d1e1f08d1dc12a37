/* Whatever the decoder program does, it ends in a sentence, in time, and
 * leaves no process, no descriptor and no memory behind. */
#include "close.h"
#include "scratch.h"

#include "halfturn/recording.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static size_t open_descriptors(void)
{
    size_t count = 0;
    DIR *folder = opendir("/proc/self/fd");
    assert_non_null(folder);
    while (readdir(folder))
        count++;
    (void)closedir(folder);
    return count;
}

static void assert_no_child(void)
{
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
    assert_int_equal(errno, ECHILD);
}

static const struct ht_decoder stub = { .program = HALFTURN_DECODER_STUB };

/* Has the stub "decode" a file that holds only the word. */
static enum ht_status decode_word(const char *word,
                                  const struct ht_decoder *decoder,
                                  struct ht_recording *r, struct ht_error *err)
{
    char text[64];
    struct ht_recording_options options = { .highest_hz = NAN,
                                            .decoder = decoder };
    (void)snprintf(text, sizeof text, "fLaC %s", word);
    *err = (struct ht_error){ 0 };
    return ht_recording_read(r, scratch_text("odd.flac", text), &options, err);
}

static void a_decoder_that_behaves_is_believed(void **state)
{
    (void)state;
    struct ht_recording r;
    struct ht_error err;
    if (decode_word("good", &stub, &r, &err) != HT_OK)
        fail_msg("%s", err.text);
    assert_int_equal(r.frames, 1000);
    assert_string_equal(r.format, "stub");
    assert_close(r.rate_hz, 2000, 0);
    /* sawtooth of ten steps of 0.01; a float has 24 bits */
    assert_close((double)r.channel[0].samples[7] + r.channel[0].mean, 0.07,
                 1e-7);
    ht_recording_free(&r);
    assert_no_child();
}

static const struct misdeed {
    const char *word;
    enum ht_status status;
    const char *said;
} misdeeds[] = {
    { "abort", HT_BAD_FILE, "crashed (signal 6)" },
    { "crash", HT_BAD_FILE, "crashed (signal 11)" },
    { "hang", HT_BAD_FILE, "stopped answering" },
    { "hang midway", HT_BAD_FILE, "stopped answering" },
    { "hang after end", HT_BAD_FILE, "stopped answering" },
    { "trickle", HT_BAD_FILE, "had not come to the end" },
    { "spin", HT_BAD_FILE, "stopped answering" },
    { "flood", HT_TOO_BIG, "longer than 6 hours" },
    { "midway", HT_BAD_FILE, "before the end of the sound (exit code 0)" },
    { "no end", HT_BAD_FILE, "before the end of the sound (exit code 0)" },
    { "short count", HT_BAD_FILE, "garbled" },
    { "more behind", HT_BAD_FILE, "garbled" },
    { "fail after end", HT_BAD_FILE, "exit code 5" },
    { "garbage", HT_BAD_FILE, "does not answer as this version" },
    { "text", HT_BAD_FILE, "does not answer as this version" },
    { "nothing", HT_BAD_FILE, "before the end of the sound (exit code 0)" },
    { "old", HT_BAD_FILE, "does not answer as this version" },
    { "no rate", HT_BAD_FILE, "garbled" },
    { "many channels", HT_BAD_FILE, "garbled" },
    { "block first", HT_BAD_FILE, "garbled" },
    { "two heads", HT_BAD_FILE, "garbled" },
    { "huge block", HT_BAD_FILE, "garbled" },
    { "refuse", HT_BAD_FILE, "no ?[31msuch? sound." },
    { "refuse strangely", HT_BAD_FILE, "garbled" },
    { "no such word", HT_BAD_FILE, "exit code 41" },
};

static void each_misdeed_ends_in_a_sentence_in_time(void **state)
{
    (void)state;
    size_t before = open_descriptors();
    for (size_t i = 0; i < sizeof misdeeds / sizeof misdeeds[0]; i++) {
        struct ht_recording r;
        struct ht_error err;
        double from_s = now_s();
        const struct misdeed *row = &misdeeds[i];
        /* short limits only for those that reach them: a busy machine may
         * take a second to start a process */
        struct ht_decoder patient = stub;
        patient.silent_s = strstr(row->said, "answering") ? 0.5 : 20;
        patient.all_s = strstr(row->said, "not come") ? 3 : 60;
        enum ht_status status = decode_word(row->word, &patient, &r, &err);
        double took_s = now_s() - from_s;
        printf("%-16s %.2f s  %s\n", row->word, took_s,
               strrchr(err.text, '/') ? strstr(err.text, "odd.flac") : "");
        if (status != row->status || !strstr(err.text, row->said) ||
            !strstr(err.text, "odd.flac: "))
            fail_msg("%s: status %d, no '%s' in: %s", row->word, (int)status,
                     row->said, err.text);
        assert_null(r.channel);
        assert_true(took_s < 15);
        assert_no_child();
        assert_int_equal(open_descriptors(), before);
    }
}

static void computing_without_end_is_stopped_by_the_clock(void **state)
{
    (void)state;
    struct ht_decoder limited = stub;
    limited.cpu_s = 1;
    struct ht_recording r;
    struct ht_error err;
    struct rusage used;
    assert_int_equal(decode_word("spin", &limited, &r, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "had computed for 1 s"));
    assert_int_equal(getrusage(RUSAGE_CHILDREN, &used), 0);
    /* the limit, and a second until the hard one */
    assert_in_range(used.ru_utime.tv_sec, 0, 3);
    assert_no_child();
}

static void memory_without_end_is_refused_to_it(void **state)
{
    (void)state;
    struct ht_decoder limited = stub;
    limited.memory_bytes = (size_t)128 << 20;
    struct ht_recording r;
    struct ht_error err;
    assert_int_equal(decode_word("eat", &limited, &r, &err), HT_BAD_FILE);
    /* 33: its allocation failed before it had a tebibyte */
    assert_non_null(strstr(err.text, "exit code 33"));
    assert_no_child();
}

static void a_missing_decoder_is_named(void **state)
{
    (void)state;
    struct ht_recording r;
    struct ht_error err;
    size_t before = open_descriptors();
    struct ht_decoder missing = { .program = "/no/such/halfturn-decoder" };
    assert_int_equal(decode_word("good", &missing, &r, &err), HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "/no/such/halfturn-decoder, which is not "
                                     "there. Install"));
    struct ht_decoder folder = { .program = "/tmp" };
    assert_int_equal(decode_word("good", &folder, &r, &err), HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "/tmp, which cannot be run"));
    assert_int_equal(open_descriptors(), before);
    assert_no_child();
}

/* A descriptor that may be inherited, SIGPIPE ignored: neither gets there. */
static void it_gets_the_file_and_the_pipe_and_nothing_else(void **state)
{
    (void)state;
    struct ht_recording r;
    struct ht_error err;
    int mine = open("/dev/null", O_RDONLY);
    assert_true(mine > 2);
    void (*old)(int) = signal(SIGPIPE, SIG_IGN);
    (void)decode_word("look", &stub, &r, &err);
    (void)signal(SIGPIPE, old);
    (void)close(mine);
    if (!strstr(err.text, "open: 0 1 2 pipe usual"))
        fail_msg("%s", err.text);
}

/* As a daemon may run: the child's descriptors must not end on ours. */
static void it_works_without_stdin_and_with_children_ignored(void **state)
{
    (void)state;
    struct ht_recording r;
    struct ht_error err;
    int kept = dup(STDIN_FILENO);
    (void)close(STDIN_FILENO);
    void (*old)(int) = signal(SIGCHLD, SIG_IGN);
    enum ht_status status = decode_word("good", &stub, &r, &err);
    (void)signal(SIGCHLD, old);
    if (kept >= 0) {
        (void)dup2(kept, STDIN_FILENO);
        (void)close(kept);
    }
    if (status != HT_OK)
        fail_msg("%s", err.text);
    assert_int_equal(r.frames, 1000);
    ht_recording_free(&r);
}

/* --- the reader of the stream alone, without a process --- */

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decoder_that_behaves_is_believed),
        cmocka_unit_test(each_misdeed_ends_in_a_sentence_in_time),
        cmocka_unit_test(computing_without_end_is_stopped_by_the_clock),
        cmocka_unit_test(memory_without_end_is_refused_to_it),
        cmocka_unit_test(a_missing_decoder_is_named),
        cmocka_unit_test(it_gets_the_file_and_the_pipe_and_nothing_else),
        cmocka_unit_test(it_works_without_stdin_and_with_children_ignored),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
