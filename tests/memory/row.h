/* row.h - one row for each public function: how to call it with good input.
 *
 * tests/memory/check holds these tables against include/halfturn/: a function
 * without a row fails.
 */
#ifndef HALFTURN_TESTS_MEMORY_ROW_H
#define HALFTURN_TESTS_MEMORY_ROW_H

#include "given.h"
#include "watch.h"

#include "halfturn/status.h"

#include <stdbool.h>

enum row_kind {
    ALLOCATES,
    DOES_WITHOUT, /* some of what it asks for may be refused: then it works */
    NO_MEMORY_NEEDED
};

/* `run` makes what the call needs, calls the function between watch_begin and
 * watch_end, demands that its outputs are empty when it did not succeed, and
 * releases everything. A function without a status returns HT_NO_MEMORY when
 * its text has failed. Rows may share a `run`. */
struct row {
    const char *function;
    enum row_kind kind;
    enum ht_status (*run)(struct ht_error *err);
};

/* Each ends with a row without a function. */
extern const struct row rows_text[], rows_document[], rows_angles[],
    rows_drive[], rows_causes[], rows_repair[], rows_report[],
    rows_store[];

/* Noted against the row that is running. */
#define ROW_DEMAND(what)                                                       \
    ((what) ? (void)0 : row_fails(__FILE__, __LINE__, #what))
void row_fails(const char *file, int line, const char *what);

/* HT_OK; or HT_NO_MEMORY, and then the text must be empty. Releases it. */
enum ht_status row_text(struct ht_text *text);

#endif
