/* close.h - comparing doubles: cmocka 1.1.5 compares only float. */
#ifndef HALFTURN_TESTS_CLOSE_H
#define HALFTURN_TESTS_CLOSE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Fails, printing both numbers, unless |got - wanted| <= tolerance. NaN
 * fails. */
#define assert_close(got, wanted, tolerance)                                   \
    check_close((got), (wanted), (tolerance), #got, __FILE__, __LINE__)

/* The same with |got - wanted| <= tolerance * |wanted|. */
#define assert_close_relative(got, wanted, tolerance)                          \
    check_close_relative((got), (wanted), (tolerance), #got, __FILE__, __LINE__)

void check_close(double got, double wanted, double tolerance,
                 const char *expression, const char *file, int line);
void check_close_relative(double got, double wanted, double tolerance,
                          const char *expression, const char *file, int line);

#endif
