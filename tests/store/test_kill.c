/* kill -9 while saving: what was acknowledged is there, whole.
 *
 * A child saves and says so through a pipe; it is killed at some moment, 300
 * times. Each save is a sheet and, at every third one, a file; sheet, title
 * and file carry the same number, so that halves of two saves would show. In
 * the same loop a careless writer overwrites a file in its place: that must
 * tear, or the loop shows nothing.
 *
 * The page cache outlives the process, so this proves our transactions and
 * nothing about power cuts. */
#include "close.h"
#include "given_store.h"
#include "random.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum {
    KILLS = 300,                /* or $HALFTURN_KILLS */
    CARELESS_KILLS = 60,
    WAIT_US_MAX = 16000,        /* from the child's first word to its end */
    FILE_BYTES = 3000,
    SLATE_INTS = 1 << 18
};

/* What the child says: it saved number n, as revision r. */
struct said {
    int64_t number, revision;
};

/* Its file's content: the number, over and over. */
static void fill(int64_t *words, size_t count, int64_t number)
{
    for (size_t i = 0; i < count; i++)
        words[i] = number;
}

/* ---- the child --------------------------------------------------------- */

static bool attach(struct ht_store *store, int64_t number)
{
    static int64_t words[FILE_BYTES / 8];
    struct ht_arrival *arrival;
    struct ht_store_file kept;
    fill(words, FILE_BYTES / 8, number);
    return ht_store_begin(store, &arrival, NULL) == HT_OK &&
           ht_arrival_write(arrival, words, sizeof words, NULL) == HT_OK &&
           ht_store_keep(store, arrival, 1, "a.wav", &kept, NULL) == HT_OK;
}

/* The file first: its number is then never less than the sheet's. */
static bool save(struct ht_store *store, int64_t number,
                 struct ht_store_case *now)
{
    char title[40], note[80];
    (void)snprintf(title, sizeof title, "%lld", (long long)number);
    (void)snprintf(note, sizeof note,
                   ", \"complaint\": {\"note\": \"of %lld\"}",
                   (long long)number);
    if (number % 3 == 0 && !attach(store, number))
        return false;
    return ht_store_save(store, 1, now->revision, given_sheet(title, note),
                         NULL, now, NULL) == HT_OK;
}

static void save_on_and_on(int to, int64_t number)
{
    struct ht_store *store;
    struct ht_store_case now;
    if (ht_store_open(&store, STORE_FOLDER, NULL, NULL) != HT_OK ||
        ht_store_get(store, 1, &now, NULL, NULL) != HT_OK)
        _exit(1);
    struct said said = { 0, now.revision };
    while (write(to, &said, sizeof said) == sizeof said) {
        if (!save(store, ++number, &now))
            _exit(2);
        said = (struct said){ number, now.revision };
    }
    _exit(3);
}

/* The control: no copy, no order, nothing flushed. */
static void scribble_on_and_on(int to, int64_t number)
{
    static int64_t words[SLATE_INTS];
    int file = open(given_path("slate"), O_WRONLY | O_CREAT, 0600);
    struct said said = { 0 };
    while (write(to, &said, sizeof said) == sizeof said) {
        fill(words, SLATE_INTS, ++number);
        for (size_t i = 0; i < SLATE_INTS; i += 4096)
            if (pwrite(file, words + i, 4096 * sizeof words[0],
                       (off_t)(i * sizeof words[0])) < 0)
                _exit(2);
        said.number = number;
    }
    _exit(3);
}

/* ---- the parent -------------------------------------------------------- */

typedef void child_work(int to, int64_t number);

/* The last thing that the child said before it was killed. */
static struct said run_and_kill(child_work *work, int64_t number,
                                struct random_source *random)
{
    int ends[2], status;
    struct said said = { 0 }, next;
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    if (child == 0) {
        (void)close(ends[0]);
        work(ends[1], number);
    }
    (void)close(ends[1]);
    assert_int_equal(read(ends[0], &said, sizeof said), sizeof said);
    long wait_ns = (long)(random_uniform(random, 0, WAIT_US_MAX) * 1000);
    (void)nanosleep(&(struct timespec){ 0, wait_ns }, NULL);
    assert_int_equal(kill(child, SIGKILL), 0);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
    while (read(ends[0], &next, sizeof next) == sizeof next)
        said = next;
    (void)close(ends[0]);
    return said;
}

static long long number_after(const char *text, const char *words)
{
    const char *found = strstr(text, words);
    return found ? strtoll(found + strlen(words), NULL, 10) : -1;
}

/* Of what is in the case's file; it is whole. */
static int64_t check_file(struct ht_store *store)
{
    int64_t words[FILE_BYTES / 8] = { 0 };
    char path[500], name[520];
    struct ht_error err = { 0 };
    if (ht_store_lay_out(store, 1, path, sizeof path, &err) != HT_OK)
        fail_msg("%s", err.text);
    (void)snprintf(name, sizeof name, "%s/a.wav", path);
    int file = open(name, O_RDONLY);
    if (file >= 0)
        assert_int_equal(read(file, words, sizeof words), sizeof words);
    (void)close(file);
    for (size_t i = 0; i < FILE_BYTES / 8; i++)
        assert_int_equal(words[i], words[0]);
    ht_store_put_away(store, path);
    return words[0];
}

/* Nothing that was said is lost, nothing is half. Returns the number that is
 * there now. */
static int64_t check_store(const struct said *said, int64_t before)
{
    struct ht_store *store = given_open();
    struct ht_store_case now;
    struct ht_text json = { 0 };
    assert_int_equal(ht_store_get(store, 1, &now, &json, NULL), HT_OK);
    int64_t number = strtoll(now.title, NULL, 10);
    int64_t last = said->number ? said->number : before;
    assert_true(number == last || number == last + 1);
    assert_true(now.revision >= said->revision);
    assert_int_equal(number_after(ht_text_get(&json), "\"title\": \""),
                     number);
    assert_int_equal(number_after(ht_text_get(&json), "of "), number);
    int64_t of_file = check_file(store);
    assert_true(of_file % 3 == 0 && of_file <= number + 1);
    assert_true(of_file >= number / 3 * 3);
    assert_true(given_count(given_path("store/attachments")) <= 1);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    ht_text_free(&json);
    ht_store_close(store);
    return number;
}

static int kills_wanted(void)
{
    const char *text = getenv("HALFTURN_KILLS");
    int wanted = text ? (int)strtol(text, NULL, 10) : 0;
    return wanted > 0 ? wanted : KILLS;
}

static void nothing_acknowledged_is_lost_and_nothing_is_half(void **state)
{
    (void)state;
    struct random_source random = { 300 };
    struct ht_store *store = given_open();
    (void)given_case(store, "0");
    ht_store_close(store);
    int64_t number = 0, saved = 0, silent = 0;
    int kills = kills_wanted();
    store = given_open();
    struct ht_store_case now;
    assert_int_equal(ht_store_get(store, 1, &now, NULL, NULL), HT_OK);
    assert_true(save(store, 0, &now));
    ht_store_close(store);
    for (int i = 0; i < kills; i++) {
        struct said said = run_and_kill(save_on_and_on, number, &random);
        int64_t there = check_store(&said, number);
        saved += there - number;
        silent += there != (said.number ? said.number : number);
        number = there;
        if (i % 50 == 49)
            assert_int_equal(given_sql("SELECT count(*) FROM "
                                       "pragma_integrity_check "
                                       "WHERE integrity_check <> 'ok'"),
                             0);
    }
    print_message("%d kills, %lld saves, %lld of them there and not said\n",
                  kills, (long long)saved, (long long)silent);
    assert_true(saved > kills / 20); /* a slow disk saves little */
}

static void the_loop_tears_what_a_careless_writer_writes(void **state)
{
    (void)state;
    static int64_t words[SLATE_INTS];
    struct random_source random = { 301 };
    int torn = 0;
    for (int i = 0; i < CARELESS_KILLS; i++) {
        (void)run_and_kill(scribble_on_and_on, i * 100000, &random);
        int file = open(given_path("slate"), O_RDONLY);
        ssize_t got = read(file, words, sizeof words);
        (void)close(file);
        torn += got < (ssize_t)sizeof words ||
                words[0] != words[SLATE_INTS - 1];
    }
    print_message("%d kills, %d torn\n", CARELESS_KILLS, torn);
    assert_true(torn > 0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, given_begin, given_end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(nothing_acknowledged_is_lost_and_nothing_is_half),
        TEST(the_loop_tears_what_a_careless_writer_writes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
