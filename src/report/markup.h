/* markup.h - what a browser reads: escaped text and small pieces of markup.
 *
 * Texts of ours may carry marks (below U+0020, so no user text can hold
 * them): words behind paint and words in bold. In plain text they vanish.
 */
#ifndef HALFTURN_REPORT_MARKUP_H
#define HALFTURN_REPORT_MARKUP_H

#include "halfturn/text.h"

#define OVER_ON "\001"
#define OVER_OFF "\002"
#define BOLD_ON "\003"
#define BOLD_OFF "\004"
#define NBSP "\302\240"
#define MINUS "\342\210\222"
#define TIMES "\303\227"
#define DEGREE "\302\260"
#define PLUS_MINUS "\302\261"
#define DOT "\302\267"
#define DASH "\342\200\223"

/* Copies user text: control characters become blanks, bytes that are not
 * UTF-8 become U+FFFD. Every text of a sheet, a file or a result passes. */
void clean_text(struct ht_text *out, const char *text);

/* A text with its marks taken out. */
void unmarked_text(struct ht_text *out, const char *text);

/* Like printf with its own letters; arguments must match exactly:
 *   %n double: a coordinate, at most two decimals
 *   %d int     %s const char *: markup or a word of ours, as it is
 *   %t const char *: escaped, marks become <b> and <mark>
 *   %a const char *: escaped, marks dropped (attributes, SVG text)
 *   %% a percent sign */
void markup(struct ht_text *out, const char *format, ...);

#endif
