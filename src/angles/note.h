/* note.h - assumptions said aloud, and short texts with numbers in them. */
#ifndef HALFTURN_ANGLES_NOTE_H
#define HALFTURN_ANGLES_NOTE_H

#include "model.h"

/* Appends one sentence; %1 and %2 stand for the two numbers, printed with
 * the given decimals. What does not fit is left out. */
void ht_note(struct ht_angles *result, const char *sentence, double first,
             int first_decimals, double second, int second_decimals);

/* The same into a buffer. */
void ht_sentence(char *buffer, size_t size, const char *sentence, double first,
                 int first_decimals, double second, int second_decimals);

/* The same about a member, whose name stands for %0, numbers in degrees. */
void ht_sentence_about(char *buffer, size_t size, const char *sentence,
                       const char *name, const double angle_rad[2],
                       int decimals);

/* Every default and every assumption that this driveline makes use of. */
void ht_note_assumptions(struct ht_angles *result,
                         const struct ht_driveline *driveline,
                         const struct ht_model *model);

#endif
