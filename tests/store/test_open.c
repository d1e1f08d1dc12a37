/* Opening: whose folder and database it is, of what form, in what state. */
#include "close.h"
#include "given_store.h"
#include "refused.h"

#include "common/memory.h"
#include "store/base.h"
#include "store/texts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static struct ht_error err;

static int begin(void **state)
{
    err = (struct ht_error){ 0 };
    return given_begin(state);
}

static enum ht_status open_folder(const char *folder)
{
    struct ht_store *store;
    enum ht_status status = ht_store_open(&store, folder, NULL, &err);
    assert_true((status == HT_OK) == (store != NULL));
    ht_store_close(store);
    return status;
}

static enum ht_status open_again(void)
{
    return open_folder(STORE_FOLDER);
}

/* A store with a case and a file, closed. */
static void make_store(void)
{
    struct ht_store *store = given_open();
    (void)given_case(store, "one");
    (void)given_attach(store, 1, "a.wav", "abc");
    ht_store_close(store);
}

/* ---- the folder -------------------------------------------------------- */

static void a_folder_is_made_in_a_folder_that_is_there(void **state)
{
    (void)state;
    assert_int_equal(open_again(), HT_OK);
    assert_int_equal(given_count(STORE_FOLDER), 3);
    assert_refused(open_folder(given_path("none/store")),
                   STORE_FOLDER_NOT_MADE, given_path("none/store"),
                   strerror(ENOENT));
    given_write(given_path("file"), "x", 1);
    assert_refused(open_folder(given_path("file")), STORE_FOLDER_NOT_OPENED,
                   given_path("file"), strerror(ENOTDIR));
}

static void the_database_is_no_folder_and_no_link(void **state)
{
    (void)state;
    assert_int_equal(mkdir(STORE_FOLDER, 0700), 0);
    assert_int_equal(mkdir(given_path("store/cases.db"), 0700), 0);
    assert_refused(open_again(), STORE_NOT_OPENED, STORE_FOLDER,
                   strerror(EISDIR));
    assert_int_equal(rmdir(given_path("store/cases.db")), 0);
    given_write(given_path("other"), "", 0);
    assert_int_equal(symlink("../other", given_path("store/cases.db")), 0);
    assert_int_equal(open_again(), HT_CANNOT_WRITE);
    assert_int_equal(given_size(given_path("other")), 0);
}

static void a_folder_in_the_place_of_ours_is_not_followed(void **state)
{
    (void)state;
    assert_int_equal(mkdir(STORE_FOLDER, 0700), 0);
    assert_int_equal(mkdir(given_path("other"), 0700), 0);
    given_write(given_path("other/in-1"), "x", 1);
    assert_int_equal(symlink("../other", given_path("store/arriving")), 0);
    assert_int_equal(open_again(), HT_CANNOT_READ);
    assert_int_equal(given_count(given_path("other")), 1);
}

static void a_second_opener_is_told_that_the_store_is_in_use(void **state)
{
    (void)state;
    struct ht_store *store = given_open();
    assert_refused(open_again(), STORE_IN_USE, STORE_FOLDER);
    pid_t child = fork();
    if (child == 0)
        _exit(open_again() == HT_CANNOT_WRITE ? 0 : 1);
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    (void)given_case(store, "still mine");
    ht_store_close(store);
    assert_int_equal(open_again(), HT_OK);
}

static void attachments_without_their_database_are_kept(void **state)
{
    (void)state;
    make_store();
    assert_int_equal(rename(given_path("store/cases.db"), given_path("kept")),
                     0);
    assert_refused(open_again(), STORE_NO_BASE, STORE_FOLDER);
    given_write(given_path("store/cases.db"), "", 0);
    assert_refused(open_again(), STORE_NO_BASE, STORE_FOLDER);
    assert_int_equal(given_count(given_path("store/attachments")), 1);
    assert_int_equal(rename(given_path("kept"), given_path("store/cases.db")),
                     0);
    assert_int_equal(open_again(), HT_OK);
}

/* ---- whose database, and which form ------------------------------------ */

static void a_database_of_another_program_is_left_as_it_is(void **state)
{
    (void)state;
    assert_int_equal(mkdir(STORE_FOLDER, 0700), 0);
    (void)given_sql("CREATE TABLE birds (name)");
    long size = given_size(given_path("store/cases.db"));
    assert_refused(open_again(), STORE_NOT_OURS, STORE_FOLDER);
    assert_int_equal(given_size(given_path("store/cases.db")), size);
    assert_int_equal(given_count(STORE_FOLDER), 1);
    (void)given_sql("DROP TABLE birds; PRAGMA application_id=77");
    assert_refused(open_again(), STORE_NOT_OURS, STORE_FOLDER);
}

static void a_database_of_a_newer_version_is_refused(void **state)
{
    (void)state;
    make_store();
    (void)given_sql("PRAGMA user_version=2");
    assert_refused(open_again(), STORE_NEWER, STORE_FOLDER, 2, 1);
    (void)given_sql("PRAGMA user_version=-1");
    assert_refused(open_again(), STORE_NOT_OURS, STORE_FOLDER);
    (void)given_sql("PRAGMA user_version=1");
    assert_int_equal(open_again(), HT_OK);
}

static void tables_of_another_form_than_said_are_refused(void **state)
{
    (void)state;
    static const char *const changes[] = {
        "CREATE TRIGGER t AFTER INSERT ON cases BEGIN DELETE FROM steps; END",
        "CREATE VIEW v AS SELECT 1", "CREATE INDEX i ON cases (step)",
        "DROP INDEX files_by_hash", "ALTER TABLE cases ADD COLUMN more TEXT",
        "DROP TABLE answers",
    };
    for (size_t i = 0; i < sizeof changes / sizeof changes[0]; i++) {
        make_store();
        (void)given_sql(changes[i]);
        assert_refused(open_again(), STORE_OTHER_FORM, STORE_FOLDER, 1);
        assert_int_equal(given_end(state), 0);
        assert_int_equal(begin(state), 0);
    }
}

/* ---- bringing up ------------------------------------------------------- */

/* What ht_store_open does, with forms of our own. */
static enum ht_status open_as(const char *const *sql, int count)
{
    struct ht_store store = { .at = open(STORE_FOLDER, O_RDONLY) };
    const struct forms forms = { sql, count };
    char folder[600];
    (void)snprintf(folder, sizeof folder, "%s", STORE_FOLDER);
    store.folder = folder;
    store.called = folder;
    enum ht_status status = ht_base_open(&store, &forms, &err);
    (void)sqlite3_close(store.base);
    (void)close(store.at);
    return status;
}

static void an_older_form_is_brought_up_in_one_go(void **state)
{
    (void)state;
    const char *const sql[] = {
        ht_store_forms.sql[0],
        "ALTER TABLE cases ADD COLUMN shop TEXT NOT NULL DEFAULT 'ours'",
        "UPDATE cases SET shop = 'here'; CREATE TABLE shops (id INTEGER)"
    };
    make_store();
    assert_int_equal(open_as(sql, 2), HT_OK);
    assert_int_equal(given_sql("PRAGMA user_version"), 2);
    assert_int_equal(open_as(sql, 3), HT_OK);
    assert_int_equal(given_sql("PRAGMA user_version"), 3);
    assert_int_equal(given_sql("SELECT count(*) FROM cases "
                               "WHERE shop = 'here'"),
                     1);
    assert_int_equal(open_as(sql, 3), HT_OK);
    assert_refused(open_again(), STORE_NEWER, STORE_FOLDER, 3, 1);
    assert_refused(open_as(sql, 2), STORE_NEWER, STORE_FOLDER, 3, 2);
}

static void a_form_that_fails_changes_nothing(void **state)
{
    (void)state;
    const char *const sql[] = {
        ht_store_forms.sql[0],
        "ALTER TABLE cases ADD COLUMN shop TEXT; INSERT INTO nowhere VALUES (1)"
    };
    make_store();
    assert_refused(open_as(sql, 2), STORE_BUG, STORE_FOLDER,
                   "no such table: nowhere");
    assert_int_equal(given_sql("PRAGMA user_version"), 1);
    assert_int_equal(open_again(), HT_OK);
}

static void an_empty_database_becomes_a_store(void **state)
{
    (void)state;
    assert_int_equal(mkdir(STORE_FOLDER, 0700), 0);
    given_write(given_path("store/cases.db"), "", 0);
    assert_int_equal(open_again(), HT_OK);
    assert_int_equal(given_sql("PRAGMA user_version"), 1);
    assert_int_equal(given_sql("PRAGMA application_id"), STORE_APPLICATION);
}

static void a_store_is_as_durable_as_sqlite_makes_it(void **state)
{
    (void)state;
    struct ht_store *store = given_open();
    int64_t number = -1;
    assert_int_equal(ht_sql_number(store, &err, &number, "PRAGMA synchronous",
                                   NULL, 0),
                     HT_OK);
    assert_int_equal(number, 2); /* FULL */
    assert_int_equal(ht_sql_number(store, &err, &number,
                                   "PRAGMA foreign_keys", NULL, 0),
                     HT_OK);
    assert_int_equal(number, 1);
    (void)given_case(store, "one");
    assert_true(given_size(given_path("store/cases.db-wal")) > 0);
    assert_int_equal(given_size(given_path("store/cases.db-shm")), -1);
    ht_store_close(store);
    (void)given_sql("PRAGMA integrity_check");
}

/* ---- damage ------------------------------------------------------------ */

static void what_is_no_database_is_refused(void **state)
{
    (void)state;
    static char bytes[8192];
    memset(bytes, 'x', sizeof bytes);
    assert_int_equal(mkdir(STORE_FOLDER, 0700), 0);
    given_write(given_path("store/cases.db"), bytes, sizeof bytes);
    assert_refused(open_again(), STORE_DAMAGED, STORE_FOLDER,
                   "file is not a database");
}

static void a_row_that_breaks_a_rule_is_found(void **state)
{
    (void)state;
    make_store();
    (void)given_sql("DELETE FROM cases");
    assert_refused(open_again(), STORE_DAMAGED, STORE_FOLDER,
                   "constraint failed");
    assert_int_equal(given_end(state), 0);
    assert_int_equal(begin(state), 0);
    make_store();
    (void)given_sql("PRAGMA ignore_check_constraints=ON; "
                    "UPDATE cases SET revision = -1");
    assert_refused(open_again(), STORE_CHECK_FAILED, STORE_FOLDER,
                   "CHECK constraint failed in cases");
}

/* Rows that keep to the rules and that we would never write. */
static void names_in_the_database_are_not_trusted(void **state)
{
    (void)state;
    struct ht_store_file *list;
    size_t count;
    char path[500];
    make_store();
    (void)given_sql("UPDATE files SET name = '../../escaped'");
    struct ht_store *store = given_open();
    assert_refused(ht_store_files(store, 1, &list, &count, &err),
                   STORE_DAMAGED, STORE_FOLDER,
                   "database disk image is malformed");
    assert_true(!list && count == 0);
    assert_int_equal(ht_store_lay_out(store, 1, path, sizeof path, &err),
                     HT_BAD_FILE);
    ht_store_close(store);
}

static void a_database_that_another_program_writes_is_waited_for(void **state)
{
    (void)state;
    sqlite3 *other;
    struct ht_store *store = given_open();
    assert_int_equal(sqlite3_open(given_path("store/cases.db"), &other),
                     SQLITE_OK);
    (void)sqlite3_busy_timeout(other, 0);
    assert_int_equal(sqlite3_exec(other, "SELECT * FROM cases", NULL, NULL,
                                  NULL),
                     SQLITE_BUSY);
    ht_store_close(store);
    assert_int_equal(sqlite3_exec(other, "SELECT * FROM cases", NULL, NULL,
                                  NULL),
                     SQLITE_OK);
    assert_refused(open_again(), STORE_BUSY, STORE_FOLDER);
    (void)sqlite3_close(other);
    assert_int_equal(open_again(), HT_OK);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, given_end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_folder_is_made_in_a_folder_that_is_there),
        TEST(the_database_is_no_folder_and_no_link),
        TEST(a_folder_in_the_place_of_ours_is_not_followed),
        TEST(a_second_opener_is_told_that_the_store_is_in_use),
        TEST(attachments_without_their_database_are_kept),
        TEST(a_database_of_another_program_is_left_as_it_is),
        TEST(a_database_of_a_newer_version_is_refused),
        TEST(tables_of_another_form_than_said_are_refused),
        TEST(an_older_form_is_brought_up_in_one_go),
        TEST(a_form_that_fails_changes_nothing),
        TEST(an_empty_database_becomes_a_store),
        TEST(a_store_is_as_durable_as_sqlite_makes_it),
        TEST(what_is_no_database_is_refused),
        TEST(a_row_that_breaks_a_rule_is_found),
        TEST(names_in_the_database_are_not_trusted),
        TEST(a_database_that_another_program_writes_is_waited_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
