/* words.h - the words of every output: probabilities, verdicts, states.
 *
 * Pure. Words that stand alone or in the places of a sentence (texts.h).
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
    const char *first_word; /* where a sentence begins with it */
};
const struct likelihood_word *likelihood_words(size_t *count);

/* 1 to 99, never 0 or 100. */
int in_100(double probability);
/* The same of a verdict: an open one never shows a number that would have
 * decided it (over from 95, within up to 5). */
int verdict_in_100(const struct ht_limit_verdict *verdict);
/* Whether the chance is what leaves it open. Where it would have decided, it is
 * the side view alone that does, or that zero is not ruled out: then no number
 * is shown. */
bool verdict_has_chance(const struct ht_limit_verdict *verdict);
bool verdict_from_side(const struct ht_limit_verdict *verdict);
/* "very likely", of the number that in_100 shows. */
const char *likelihood_word(double probability);
const char *likelihood_first_word(double probability);

/* "over", "under", "within", "can't tell", "no verdict" */
const char *verdict_word(enum ht_verdict verdict);
/* Class of the disc that stands before the word. */
const char *verdict_disc(enum ht_verdict verdict);
/* "seen", "not seen", "could not be seen" */
const char *state_word(enum ht_order_state state);
/* Class of a family's colour and dash. */
const char *family_class(enum ht_family family);
const char *place_word(enum ht_place place);

/* "m/s²" for "m/s2"; other units as they are. */
const char *unit_text(const char *unit);

/* First letter of what was appended since `from` as a capital. */
void capital(struct ht_text *out, size_t from);

#endif
