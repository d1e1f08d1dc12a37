/* notes.h - what a reader assumed or found, in sentences for people, and what
 * the readers of sounds and of tables do alike. */
#ifndef HALFTURN_RECORDING_NOTES_H
#define HALFTURN_RECORDING_NOTES_H

#include "halfturn/recording.h"

#include <stdbool.h>

/* Beyond the room for notes further ones are dropped. */
void ht_recording_note(struct ht_recording *recording, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Takes a channel out. */
void ht_recording_drop(struct ht_recording *recording, size_t c);

/* Takes out, and names, every channel that does not live: it measured nothing,
 * and what it lacks says nothing about the drive. */
void ht_recording_drop_still(struct ht_recording *recording,
                             const bool *lives);

/* `slow` of every channel whose unit is m/s2, from its samples and mean: low-
 * passed for pull and overrun. False: out of memory. */
bool ht_recording_make_slow(struct ht_recording *recording);

#endif
