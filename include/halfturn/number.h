/* number.h - reading numbers written by people and by loggers.
 *
 * Pure; independent of the locale; no allocation. The decimal mark is a
 * point. Decimal commas are recognised only so that they can be named.
 */
#ifndef HALFTURN_NUMBER_H
#define HALFTURN_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

enum ht_number_problem {
    HT_NUMBER_FINE,
    HT_NUMBER_EMPTY,
    HT_NUMBER_NOT_A_NUMBER,
    HT_NUMBER_DECIMAL_COMMA, /* would be one with a point: 2,1 */
    HT_NUMBER_NOT_FINITE,    /* nan, inf, or too large for a double */
    HT_NUMBER_PROBLEMS
};

/* Reads exactly text[0..length): optional sign (also U+2212), digits, one
 * point, optional exponent. No blanks, no hexadecimal. *value is written only
 * when fine; correctly rounded. Numbers longer than 63 characters are not
 * numbers. */
enum ht_number_problem ht_number_read(const char *text, size_t length,
                                      double *value);

/* As above with `mark` ('.' or ',') as the decimal mark: for tables. */
enum ht_number_problem ht_number_read_mark(const char *text, size_t length,
                                           char mark, double *value);

/* Degrees and minutes, "20d30" (also "-1d05"); value in degrees. Minutes are
 * 0 to 59.999. */
enum ht_number_problem ht_number_read_degrees(const char *text, size_t length,
                                              double *degrees);

#endif
