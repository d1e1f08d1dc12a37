/* text.h - growing text that can fail once and stay failed.
 *
 * A writer appends without looking and asks ht_text_ok at the end; a text
 * that has failed is empty. Numbers are written the same in every locale.
 */
#ifndef HALFTURN_TEXT_H
#define HALFTURN_TEXT_H

#include <stdbool.h>
#include <stddef.h>

struct ht_text {
    char *bytes;        /* 0-terminated once anything was appended */
    size_t length, room;
    size_t limit;       /* ceiling in bytes; 0: 64 MiB */
    bool failed;        /* out of memory or over the ceiling: then empty */
};

void ht_text_add(struct ht_text *text, const char *piece);
void ht_text_add_bytes(struct ht_text *text, const char *bytes, size_t length);

/* printf, but do not print a floating number with it where a host might have
 * set a locale: use ht_text_number. */
void ht_text_addf(struct ht_text *text, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Fixed decimals (0..9), '.' as the mark, "-" U+002D; "?" when not finite. */
void ht_text_number(struct ht_text *text, double value, int decimals);

/* Significant digits (1..17), no exponent for 1e-6 <= |value| < 1e9, trailing
 * zeros kept: what a level with two significant digits wants. */
void ht_text_significant(struct ht_text *text, double value, int digits);

/* Makes the text a failed one: what was to stand in it was lost. */
void ht_text_fail(struct ht_text *text);

bool ht_text_ok(const struct ht_text *text);

/* "" when nothing was appended; never NULL. */
const char *ht_text_get(const struct ht_text *text);

void ht_text_free(struct ht_text *text);

/* Releases a piece whose bytes went into `whole`: when the piece has failed,
 * so has the whole. */
void ht_text_end(struct ht_text *whole, struct ht_text *piece);

/* The same two number forms into a caller's buffer of at least 40 bytes. */
void ht_format_number(char *buffer, size_t size, double value, int decimals);
void ht_format_significant(char *buffer, size_t size, double value,
                           int digits);

#endif
