/* words.h - the words of every output: probabilities, verdicts, numbers.
 *
 * Pure. A number never parts from its unit: no-break spaces; minus U+2212.
 */
#ifndef HALFTURN_REPORT_WORDS_H
#define HALFTURN_REPORT_WORDS_H

#include "halfturn/angles.h"
#include "halfturn/orders.h"
#include "halfturn/text.h"

/* The one scale of likelihood words, in falling order. */
struct likelihood_word {
    double from;            /* in 100 */
    const char *word;
};
const struct likelihood_word *likelihood_words(size_t *count);

/* 1 to 99, never 0 or 100. */
int in_100(double probability);
/* The same of a verdict: an open one never shows a number that would have
 * decided it (over from 95, within up to 5). */
int verdict_in_100(const struct ht_limit_verdict *verdict);
/* "very likely", of the number that in_100 shows. */
const char *likelihood_word(double probability);

/* "over", "under", "within", "can't tell", "no verdict" */
const char *verdict_word(enum ht_verdict verdict);
/* Class of the disc that stands before the word. */
const char *verdict_disc(enum ht_verdict verdict);
/* "seen", "not seen", "could not be seen" */
const char *state_word(enum ht_order_state state);
/* Class of a family's colour and dash. */
const char *family_class(enum ht_family family);
const char *place_word(enum ht_place place);

/* Appends a number with U+2212 for the minus. */
void put_number(struct ht_text *out, double value, int decimals);
void put_significant(struct ht_text *out, double value, int digits);
/* Two digits, or fewer where zeros would end it: "0.04". */
void put_short(struct ht_text *out, double value);
/* "4.10°" from radians. */
void put_degrees(struct ht_text *out, double rad, int decimals);
/* "92 km/h" from m/s. */
void put_speed(struct ht_text *out, double m_s);
/* "4.10° ± 0.17°"; "0.45° (0.28° to 0.91°)" when the range is lopsided. */
void put_angle_range(struct ht_text *out, const struct ht_estimate *rad);
/* "640 ± 70 rad/s²" the same way. */
void put_rate_range(struct ht_text *out, const struct ht_estimate *rad_s2);
/* "0.33 (0.29 to 0.36)", two digits, without the unit. */
void put_level(struct ht_text *out, const struct ht_level *level);
/* "m/s²" for "m/s2"; other units as they are. */
const char *unit_text(const char *unit);

/* First letter of what was appended since `from` as a capital. */
void capital(struct ht_text *out, size_t from);
/* The other way round, unless the word is all capitals. */
void small_letter(struct ht_text *out, size_t from);
/* An order's name, held together: "2× shaft". */
void put_order_name(struct ht_text *out, const char *name);

#endif
