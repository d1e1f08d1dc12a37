/* What the machine refuses: each file operation and each allocation of
 * SQLite's, and each call of ours for files, once and for good. Afterwards the
 * store opens, is sound, and the change is there whole or not at all. */
#include "close.h"
#include "given_store.h"
#include "shim.h"

#include "store/disk.h"
#include "store/inside.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct ht_error err;

/* ---- what is done ------------------------------------------------------ */

static struct ht_store *store;
static struct ht_store_case now;

static enum ht_status do_open(void)
{
    ht_store_close(store);
    return ht_store_open(&store, STORE_FOLDER, NULL, &err);
}

static enum ht_status do_add(void)
{
    return ht_store_add(store, given_sheet("one more", ""), NULL, &now, &err);
}

static enum ht_status do_save(void)
{
    char key[30];
    struct ht_store_case found;
    enum ht_status status = ht_store_get(store, 1, &found, NULL, &err);
    (void)snprintf(key, sizeof key, "k%lld", (long long)found.revision);
    if (status == HT_OK)
        status = ht_store_save(store, 1, found.revision,
                               given_sheet("saved", ""), key, &now, &err);
    return status;
}

static enum ht_status do_undo(void)
{
    struct ht_store_case found;
    enum ht_status status = ht_store_get(store, 1, &found, NULL, &err);
    if (status == HT_OK)
        status = ht_store_undo(store, 1, found.revision, &now, &err);
    return status;
}

/* One byte more than last time. */
static size_t attached;

static enum ht_status do_attach(void)
{
    static const char bytes[4000] = "attached";
    struct ht_arrival *arrival;
    struct ht_store_file kept;
    enum ht_status status = ht_store_begin(store, &arrival, &err);
    if (status != HT_OK)
        return status;
    status = ht_arrival_write(arrival, bytes, attached + 1, &err);
    if (status == HT_OK)
        return ht_store_keep(store, arrival, 1, "a.wav", &kept, &err);
    ht_store_drop(store, arrival);
    return status;
}

static enum ht_status do_detach(void)
{
    return ht_store_detach(store, 1, "b.csv", &err);
}

static enum ht_status do_remove(void)
{
    return ht_store_remove(store, now.id, &err);
}

static enum ht_status do_put(void)
{
    static const struct ht_store_result_of of = { 1, 1, "rank", "1", "" };
    return ht_store_put_result(store, &of, "{}", &err);
}

static enum ht_status do_read(void)
{
    static const struct ht_store_result_of of = { 1, 1, "rank", "1", "" };
    struct ht_store_file *files;
    struct ht_store_case *cases;
    struct ht_text text = { 0 };
    char path[500];
    size_t count;
    enum ht_status status = ht_store_get_result(store, &of, &text, &err);
    ht_text_free(&text);
    if (status == HT_OK)
        status = ht_store_list(store, &cases, &count, &err);
    if (status != HT_OK)
        return status;
    ht_store_release(cases);
    status = ht_store_files(store, 1, &files, &count, &err);
    ht_store_release(files);
    if (status == HT_OK)
        status = ht_store_lay_out(store, 1, path, sizeof path, &err);
    if (status == HT_OK)
        ht_store_put_away(store, path);
    return status;
}

static enum ht_status do_back_up(void)
{
    enum ht_status status = ht_store_backup(store, given_path("copy"), &err);
    struct faults quiet = call_faults;
    call_faults.at = 0;
    assert_true((access(given_path("copy/cases.db"), F_OK) == 0) ==
                    (status == HT_OK) ||
                quiet.injected > 0); /* its removal may be refused too */
    (void)rename(given_path("copy"), given_path("old"));
    call_faults = quiet;
    return status;
}

static enum ht_status do_export(void)
{
    return ht_store_export(store, 1, given_path("case.zip"), &err);
}

static enum ht_status do_import(void)
{
    static unsigned number;
    char key[20];
    (void)snprintf(key, sizeof key, "key-%u", ++number);
    return ht_store_import(store, given_path("given.zip"), key, &now, &err);
}

/* ---- before it --------------------------------------------------------- */

static void saved(void)
{
    assert_int_equal(do_save(), HT_OK);
}

static void with_file(void)
{
    (void)given_attach(store, 1, "b.csv", "t,v");
}

static void with_case(void)
{
    now = given_case(store, "to go");
    (void)given_attach(store, now.id, "c", "of it alone");
}

static void with_result(void)
{
    assert_int_equal(do_put(), HT_OK);
}

static void without_copy(void)
{
    ht_disk_remove(AT_FDCWD, given_path("old"));
    ht_disk_remove(AT_FDCWD, given_path("copy"));
}

static void with_archive(void)
{
    assert_int_equal(ht_store_export(store, 1, given_path("given.zip"), &err),
                     HT_OK);
}

static const struct operation {
    const char *name;
    void (*before)(void);
    enum ht_status (*run)(void);
    const char *probe;          /* a number in the database */
    int rises;                  /* by so many when it is done */
} operations[] = {
    { "open", NULL, do_open, "SELECT 0", 0 },
    { "add", NULL, do_add, "SELECT count(*) FROM cases", 1 },
    { "save", NULL, do_save, "SELECT revision FROM cases WHERE id = 1", 1 },
    { "undo", saved, do_undo, "SELECT revision FROM cases WHERE id = 1", 1 },
    { "attach", NULL, do_attach,
      "SELECT bytes FROM files JOIN contents USING (hash) WHERE case_id = 1 "
      "AND name = 'a.wav'",
      1 },
    { "detach", with_file, do_detach,
      "SELECT count(*) FROM files WHERE case_id = 1", -1 },
    { "remove", with_case, do_remove, "SELECT count(*) FROM cases", -1 },
    { "put", NULL, do_put, "SELECT coalesce(max(number), 0) FROM results",
      1 },
    { "read", with_result, do_read, "SELECT 0", 0 },
    { "backup", without_copy, do_back_up, "SELECT 0", 0 },
    { "export", NULL, do_export, "SELECT 0", 0 },
    { "import", with_archive, do_import, "SELECT count(*) FROM cases", 1 },
};

/* ---- each refused ------------------------------------------------------ */

struct tally {
    size_t injected, refused, there; /* there: refused and done all the same */
};

static long long ask(const char *sql)
{
    int64_t value = -1;
    assert_int_equal(ht_sql_number(store, &err, &value, sql, NULL, 0), HT_OK);
    return value;
}

/* Opened anew: sound, every content that a case has stands on the disk, and no
 * other. */
static void check_store(void)
{
    ht_store_close(store);
    store = given_open();
    assert_int_equal(ask("SELECT count(*) FROM pragma_integrity_check "
                         "WHERE integrity_check <> 'ok'"),
                     0);
    long long contents = ask("SELECT count(DISTINCT hash) FROM files");
    assert_int_equal(ask("SELECT count(*) FROM contents"), contents);
    assert_int_equal(given_count(given_path("store/attachments")), contents);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
}

/* Whether anything was refused: else its end was passed. What fails for good
 * still does when the store is closed, as if the program had crashed. */
static bool try_one(const struct operation *operation, struct faults *faults,
                    size_t at, bool for_good, struct tally *tally)
{
    if (operation->before)
        operation->before();
    long long before = ask(operation->probe);
    *faults = (struct faults){ .at = at, .for_good = for_good };
    enum ht_status status = operation->run();
    size_t injected = faults->injected;
    if (for_good) {
        ht_store_close(store);
        store = NULL;
    }
    *faults = (struct faults){ 0 };
    check_store();
    long long after = ask(operation->probe);
    if (status == HT_OK || after != before)
        assert_int_equal(after, before + operation->rises);
    if (strcmp(operation->name, "attach") == 0)
        attached = (size_t)after;
    tally->injected += injected;
    tally->refused += status != HT_OK;
    tally->there += status != HT_OK && after != before;
    return injected > 0;
}

/* Of very many, some, spread. */
static size_t step_after(size_t at)
{
    return at < 16 || getenv("HALFTURN_ALL_ALLOCATIONS") ? 1 : at / 5;
}

static void try_all(struct faults *faults)
{
    struct tally all = { 0 };
    for (size_t i = 0; i < sizeof operations / sizeof operations[0]; i++) {
        struct tally tally = { 0 };
        size_t at = 1, places = 0;
        for (bool more = true; more; at += step_after(at)) {
            bool once = try_one(&operations[i], faults, at, false, &tally);
            bool good = try_one(&operations[i], faults, at, true, &tally);
            more = once && good;
            places += more;
        }
        print_message("%-8s %4zu places, %5zu injected, %4zu refused, "
                      "%zu there all the same\n",
                      operations[i].name, places, tally.injected,
                      tally.refused, tally.there);
        all.injected += tally.injected;
        all.refused += tally.refused;
        assert_true(tally.injected >= 2 * places);
    }
    assert_true(all.injected >= 100 && all.refused >= 100);
}

static int begin(void **state)
{
    if (given_begin(state) != 0)
        return -1;
    err = (struct ht_error){ 0 };
    file_faults_are_full = false;
    store = given_open();
    (void)given_case(store, "one");
    (void)given_attach(store, 1, "a.wav", "abc");
    attached = 3;
    return 0;
}

static int end(void **state)
{
    ht_store_close(store);
    store = NULL;
    return given_end(state);
}

static void the_disk_fails_under_the_database(void **state)
{
    (void)state;
    try_all(&file_faults);
}

static void the_disk_is_full_under_the_database(void **state)
{
    (void)state;
    file_faults_are_full = true;
    try_all(&file_faults);
}

static void memory_fails_under_the_database(void **state)
{
    (void)state;
    try_all(&memory_faults);
}

static void the_disk_fails_under_our_own_calls(void **state)
{
    (void)state;
    try_all(&call_faults);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)
    const struct CMUnitTest tests[] = {
        TEST(the_disk_fails_under_the_database),
        TEST(the_disk_is_full_under_the_database),
        TEST(memory_fails_under_the_database),
        TEST(the_disk_fails_under_our_own_calls),
    };
    shim_install();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
