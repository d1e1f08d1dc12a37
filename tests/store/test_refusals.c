/* How it is said that the machine refused something, and what is done where a
 * disk cannot do everything. */
#include "close.h"
#include "given_store.h"
#include "refused.h"
#include "shim.h"

#include "store/texts.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

static struct ht_error err;
static struct ht_store *store;
static struct ht_store_case now;

static int begin(void **state)
{
    if (given_begin(state) != 0)
        return -1;
    err = (struct ht_error){ 0 };
    call_errno = EIO;
    store = given_open();
    (void)given_case(store, "one");
    (void)given_attach(store, 1, "a.wav", "abc");
    return 0;
}

static int end(void **state)
{
    ht_store_close(store);
    store = NULL;
    return given_end(state);
}

static enum ht_status add(void)
{
    return ht_store_add(store, given_sheet("one more", ""), NULL, &now, &err);
}

static void assert_swept(void)
{
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    assert_int_equal(given_count(given_path("store/attachments")), 1);
}

static void a_full_disk_is_called_one(void **state)
{
    (void)state;
    file_faults_are_full = true;
    file_faults = (struct faults){ .at = 1, .for_good = true };
    enum ht_status status = add();
    file_faults = (struct faults){ 0 };
    assert_refused(status, STORE_DISK_FULL, STORE_FOLDER);
    file_faults_are_full = false;
    file_faults = (struct faults){ .at = 1, .for_good = true };
    status = add();
    file_faults = (struct faults){ 0 };
    assert_refused(status, STORE_DISK_FAILED, STORE_FOLDER, "disk I/O error");
    memory_faults = (struct faults){ .at = 1, .for_good = true };
    status = add();
    memory_faults = (struct faults){ 0 };
    assert_refused(status, STORE_NO_MEMORY, STORE_FOLDER);
    assert_int_equal(add(), HT_OK);
}

/* A disk that knows no second names: links to the first ones are laid out. */
static void where_files_have_one_name_links_are_laid_out(void **state)
{
    (void)state;
    char path[500], file[520], bytes[8];
    call_errno = EPERM;
    call_faults = (struct faults){ .at = 3 }; /* the folder made, opened */
    enum ht_status status = ht_store_lay_out(store, 1, path, sizeof path,
                                             &err);
    assert_int_equal(call_faults.injected, 1);
    call_faults = (struct faults){ 0 };
    assert_int_equal(status, HT_OK);
    (void)snprintf(file, sizeof file, "%s/a.wav", path);
    assert_true(readlink(file, bytes, sizeof bytes) > 0);
    assert_int_equal(given_size(file), 3);
    ht_store_put_away(store, path);
    assert_int_equal(access(path, F_OK), -1);
    assert_int_equal(given_count(given_path("store/attachments")), 1);
}

/* Larger than any one file may get. The signal would end the program. */
static void a_file_that_the_system_cuts_is_not_kept(void **state)
{
    (void)state;
    static char bytes[100000];
    struct rlimit before, small;
    struct ht_arrival *arrival;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = sizeof bytes / 2;
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(ht_store_begin(store, &arrival, &err), HT_OK);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    enum ht_status status = ht_arrival_write(arrival, bytes, sizeof bytes,
                                             &err);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_refused(status, STORE_ARRIVAL_STOPPED, strerror(EFBIG));
    ht_store_drop(store, arrival);
    assert_swept();
    (void)given_attach(store, 1, "b.wav", "more");
}

/* ENOSPC at each write of ours, where it most often comes. */
static void a_full_disk_keeps_no_part_of_a_file(void **state)
{
    (void)state;
    struct ht_arrival *arrival;
    assert_int_equal(ht_store_begin(store, &arrival, &err), HT_OK);
    call_errno = ENOSPC;
    call_faults = (struct faults){ .at = 1, .for_good = true };
    enum ht_status status = ht_arrival_write(arrival, "abc", 3, &err);
    call_faults = (struct faults){ 0 };
    assert_refused(status, STORE_ARRIVAL_STOPPED, strerror(ENOSPC));
    ht_store_drop(store, arrival);
    assert_swept();
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_full_disk_is_called_one),
        TEST(where_files_have_one_name_links_are_laid_out),
        TEST(a_file_that_the_system_cuts_is_not_kept),
        TEST(a_full_disk_keeps_no_part_of_a_file),
    };
    shim_install();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
