/* shown.h - numbers as people read them, for the places of a sentence.
 *
 * Pure. Each lives until the end of the expression it is called in, so it can
 * stand among the arguments of ht_text_addf: shown_speed(v).text. A number
 * never parts from its unit: no-break spaces; minus U+2212.
 */
#ifndef HALFTURN_REPORT_SHOWN_H
#define HALFTURN_REPORT_SHOWN_H

#include "halfturn/angles.h"
#include "halfturn/orders.h"
#include "halfturn/text.h"

struct shown {
    char text[48];
};
struct shown_range {
    char text[176];
};

struct shown shown_number(double value, int decimals);
struct shown shown_significant(double value, int digits);
/* Two digits, or fewer where zeros would end it: "0.04". */
struct shown shown_short(double value);
/* "4.10°" from radians. */
struct shown shown_degrees(double rad, int decimals);
/* "92 km/h" from m/s. */
struct shown shown_speed(double m_s);
/* Is one number enough for both halves of the range? */
bool shown_evenly(const struct ht_estimate *e);
/* "4.10° ± 0.17°"; "0.45° (0.28° to 0.91°)" when the range is lopsided. */
struct shown_range shown_angle_range(const struct ht_estimate *rad);
/* "640 ± 70 rad/s²" the same way. */
struct shown_range shown_rate_range(const struct ht_estimate *rad_s2);
/* "0.33 (0.29 to 0.36)", two digits, without the unit. */
struct shown_range shown_level(const struct ht_level *level);
/* "2.0 ± 0.2" */
struct shown_range shown_plus_minus(double value, double half,
                                    int decimals);

/* Appends a text of another room: cleaned, and its numbers held together with
 * their units. */
void put_held(struct ht_text *out, const char *text);
/* The same for the places of a sentence: into `room`, which is emptied first
 * and stays the caller's. */
const char *cleaned(struct ht_text *room, const char *text);
/* An order's name, held together: "2× shaft". */
/* An id as words: cleaned, '_' as a blank ("light truck"). */
const char *id_words(struct ht_text *room, const char *id);
const char *order_name(struct ht_text *room, const char *name);

/* Begins a further sentence of a paragraph with a blank. */
void next_sentence(struct ht_text *paragraph);

#endif
