/* Databases with spoilt bytes: a sentence, or a store that works; never a
 * crash, and nothing outside its folder. */
#include "close.h"
#include "given_store.h"
#include "random.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { ROUNDS = 100, BYTES_MAX = 1 << 20 };

struct bytes {
    size_t length;
    unsigned char byte[BYTES_MAX];
};

static void take(struct bytes *bytes, const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    bytes->length = fread(bytes->byte, 1, sizeof bytes->byte, file);
    assert_true(bytes->length > 0 && bytes->length < sizeof bytes->byte);
    (void)fclose(file);
}

static int begin(void **state)
{
    struct ht_store_case now;
    char title[30];
    if (given_begin(state) != 0)
        return -1;
    struct ht_store *store = given_open();
    for (int i = 0; i < 12; i++) {
        (void)snprintf(title, sizeof title, "case %d", i);
        (void)given_case(store, title);
    }
    (void)given_attach(store, 1, "a.wav", "abc");
    assert_int_equal(ht_store_save(store, 1, 1, given_sheet("two", ""), "key",
                                   &now, NULL),
                     HT_OK);
    ht_store_close(store);
    return 0;
}

/* Everything that reads, and a save. Each says something, whatever it is. */
static void use(struct ht_store *store)
{
    static const struct ht_store_result_of of = { 1, 1, "rank", "1", "" };
    struct ht_error err = { 0 };
    struct ht_store_case *cases, now;
    struct ht_store_file *files;
    struct ht_text json = { 0 };
    char path[500];
    size_t count;
    if (ht_store_list(store, &cases, &count, &err) == HT_OK)
        ht_store_release(cases);
    if (ht_store_files(store, 1, &files, &count, &err) == HT_OK)
        ht_store_release(files);
    if (ht_store_lay_out(store, 1, path, sizeof path, &err) == HT_OK)
        ht_store_put_away(store, path);
    (void)ht_store_get_result(store, &of, &json, &err);
    if (ht_store_get(store, 1, &now, &json, &err) == HT_OK)
        (void)ht_store_save(store, 1, now.revision, given_sheet("x", ""),
                            "other", &now, &err);
    (void)ht_store_undo(store, 1, now.revision, &now, &err);
    (void)ht_store_remove(store, 2, &err);
    ht_text_free(&json);
}

/* In a process of its own: a crash is then a failure and not the end. */
static bool opens(void)
{
    int status;
    pid_t child = fork();
    if (child == 0) {
        struct ht_store *store;
        struct ht_error err = { 0 };
        enum ht_status opened = ht_store_open(&store, STORE_FOLDER, NULL,
                                              &err);
        if (opened == HT_OK)
            use(store);
        ht_store_close(store);
        _exit(opened == HT_OK ? 0 : err.text[0] ? 1 : 2);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) < 2);
    return WEXITSTATUS(status) == 0;
}

/* A few bytes anywhere, or the head of a page, or a stretch, or the end. */
static void spoil(struct bytes *bytes, struct random_source *random, int how)
{
    size_t at = random_bits(random) % bytes->length;
    unsigned char byte = (unsigned char)random_bits(random);
    if (how % 4 == 0)
        bytes->byte[at] = byte;
    else if (how % 4 == 1)
        bytes->byte[at / 4096 * 4096 + at % 16] = byte;
    else if (how % 4 == 2)
        memset(bytes->byte + at, byte,
               bytes->length - at < 200 ? bytes->length - at : 200);
    else
        bytes->length = at;
}

static void lay_down(const struct bytes *base, const struct bytes *log)
{
    (void)unlink(given_path("store/cases.db-wal"));
    (void)unlink(given_path("store/cases.db-journal"));
    given_write(given_path("store/cases.db"), base->byte, base->length);
    if (log)
        given_write(given_path("store/cases.db-wal"), log->byte, log->length);
}

static void a_spoilt_database_is_a_sentence_or_a_store(void **state)
{
    (void)state;
    static struct bytes good, bad;
    struct random_source random = { 11 };
    int opened = 0;
    take(&good, given_path("store/cases.db"));
    for (int i = 0; i < ROUNDS; i++) {
        bad = good;
        spoil(&bad, &random, i);
        lay_down(&bad, NULL);
        opened += opens();
    }
    print_message("%d spoilt databases, %d of them opened\n", ROUNDS, opened);
    assert_true(opened > 0 && opened < ROUNDS); /* both ways were gone */
    lay_down(&good, NULL);
    assert_true(opens());
}

/* The log of a program that was killed, and its database before it. */
static void leave_a_log(struct bytes *base, struct bytes *log)
{
    int status;
    pid_t child = fork();
    if (child == 0) {
        struct ht_store *store = given_open();
        use(store);
        (void)given_case(store, "in the log");
        _exit(0);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    take(base, given_path("store/cases.db"));
    take(log, given_path("store/cases.db-wal"));
}

static void a_spoilt_log_is_a_sentence_or_a_store(void **state)
{
    (void)state;
    static struct bytes base, log, bad;
    struct random_source random = { 12 };
    int opened = 0;
    leave_a_log(&base, &log);
    for (int i = 0; i < ROUNDS; i++) {
        bad = log;
        spoil(&bad, &random, i);
        lay_down(&base, &bad);
        opened += opens();
    }
    print_message("%d spoilt logs, %d of them opened\n", ROUNDS, opened);
    lay_down(&base, &log);
    assert_true(opens());
    assert_int_equal(given_sql("SELECT count(*) FROM steps "
                               "WHERE title = 'in the log'"),
                     1);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, given_end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_spoilt_database_is_a_sentence_or_a_store),
        TEST(a_spoilt_log_is_a_sentence_or_a_store),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
