/* Every public function with its allocations refused: each one once, and from
 * each one on for good. It ends in HT_NO_MEMORY with its outputs empty and
 * nothing held; what needs no memory asks for none. The sanitized build looks
 * for leaks in what foreign libraries hold for us too.
 *
 * What makes many allocations is tried at some of them, spread; with
 * HALFTURN_ALL_ALLOCATIONS set, at all of them. */
#include "close.h"
#include "row.h"

#include <stdlib.h>

static const struct row *running;
static size_t wrong;

void row_fails(const char *file, int line, const char *what)
{
    if (wrong++ < 20)
        print_error("%s: does not hold: %s (%s:%d)\n",
                    running ? running->function : "?", what, file, line);
}

static void demand(bool holds, const char *what, size_t n, bool for_good)
{
    if (holds || wrong++ >= 20)
        return;
    print_error("%s, allocation %zu refused%s: %s\n", running->function, n,
                for_good ? " for good" : "", what);
}

/* With memory: it works, asks where it should, and holds nothing after. */
static size_t run_with_memory(const struct row *row)
{
    struct ht_error err = { 0 };
    running = row;
    watch_plan(0, false);
    enum ht_status status = row->run(&err);
    struct watch_figures seen = watch_figures();
    if (status != HT_OK)
        fail_msg("%s with memory: %s", row->function, err.text);
    demand(seen.calls == seen.asked, "memory got by another way", 0, false);
    demand(seen.held == 0, "still holds memory", 0, false);
    return seen.asked;
}

/* Whether something was refused. */
static bool run_refused(const struct row *row, size_t n, bool for_good)
{
    struct ht_error err = { 0 };
    watch_plan(n, for_good);
    enum ht_status status = row->run(&err);
    struct watch_figures seen = watch_figures();
    demand(seen.refused > 0, "nothing was refused", n, for_good);
    demand(status == HT_NO_MEMORY ||
               (status == HT_OK && row->kind == DOES_WITHOUT),
           ht_status_name(status), n, for_good);
    demand(seen.held == 0, "still holds memory", n, for_good);
    demand(err.status == HT_OK || err.status == HT_NO_MEMORY,
           "the error is of another kind", n, for_good);
    demand(err.status == HT_OK || err.text[0] != '\0', "no sentence", n,
           for_good);
    return seen.refused > 0;
}

/* The first and the last ones, then some, spread; an odd step, so that none of
 * the repeated kinds is always passed over. */
static size_t step_after(size_t n, size_t count)
{
    size_t step = count / 40 | 1;
    if (getenv("HALFTURN_ALL_ALLOCATIONS") || n < 12 || n + 3 > count)
        return 1;
    return n + step + 3 > count ? count - 2 - n : step;
}

static void try_row(const struct row *row)
{
    size_t count = run_with_memory(row), tried = 0;
    if (row->kind == NO_MEMORY_NEEDED) {
        demand(count == 0, "asks for memory", 0, false);
        return;
    }
    demand(count > 0, "asks for no memory", 0, false);
    for (size_t n = 1; n <= count; n += step_after(n, count)) {
        tried += run_refused(row, n, false);
        tried += run_refused(row, n, true);
    }
    demand(tried > 0, "nothing was tried", 0, false);
    print_message("%-26s %5zu allocations, %zu tried\n", row->function, count,
                  tried / 2);
}

static void try_rows(const struct row *rows)
{
    for (wrong = 0; rows->function; rows++)
        try_row(rows);
    assert_int_equal(wrong, 0);
}

static void texts_and_json_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_text);
}

static void documents_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_document);
}

static void angles_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_angles);
}

static void drives_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_drive);
}

static void causes_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_causes);
}

static void repairs_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_repair);
}

static void reports_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_report);
}

static void stores_end_in_no_memory(void **state)
{
    (void)state;
    try_rows(rows_store);
}

/* ---- the test's own proof ---------------------------------------------- */

static void *leaked;

/* Takes no notice of a refusal, and keeps what it got. */
static enum ht_status careless(struct ht_error *err)
{
    (void)err;
    watch_begin();
    leaked = malloc(10);
    watch_end();
    return HT_OK;
}

static void a_careless_function_is_found_out(void **state)
{
    static const struct row row = { "careless", ALLOCATES, careless };
    (void)state;
    wrong = 20; /* past what is printed */
    (void)run_with_memory(&row);
    free(leaked);
    assert_int_equal(wrong, 22); /* by another way; held */
    (void)run_refused(&row, 1, false);
    free(leaked);
    assert_int_equal(wrong, 25); /* not refused; not NO_MEMORY; held */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_careless_function_is_found_out),
        cmocka_unit_test(texts_and_json_end_in_no_memory),
        cmocka_unit_test(documents_end_in_no_memory),
        cmocka_unit_test(angles_end_in_no_memory),
        cmocka_unit_test(drives_end_in_no_memory),
        cmocka_unit_test(causes_end_in_no_memory),
        cmocka_unit_test(repairs_end_in_no_memory),
        cmocka_unit_test(reports_end_in_no_memory),
        cmocka_unit_test(stores_end_in_no_memory),
    };
    return cmocka_run_group_tests(tests, given_make, given_remove);
}
