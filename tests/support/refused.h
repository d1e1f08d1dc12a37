/* refused.h - a refusal is the row of the room's table that is meant, whole. */
#ifndef HALFTURN_TESTS_REFUSED_H
#define HALFTURN_TESTS_REFUSED_H

#include "halfturn/status.h"

/* assert_refused(status, ROW, ...): that status, and in the test's own `err`
 * the row's sentence with the words in their places. */
#define assert_refused(...) check_refused(&err, __VA_ARGS__)

void check_refused(const struct ht_error *err, enum ht_status status,
                   enum ht_status wanted, const char *row, ...)
    __attribute__((format(printf, 4, 5)));

#endif
