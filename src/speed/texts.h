/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; a reason or a note is a row of a sentence alone, with
 * the places that say.h fills in. A row is whole: only names, numbers and
 * lists are put into it.
 */
#ifndef HALFTURN_SPEED_TEXTS_H
#define HALFTURN_SPEED_TEXTS_H

#include "halfturn/status.h"

/* Refusals: no memory. */

#define SPEED_STOPPED HT_STOPPED, "Looking for the speed was stopped."
#define SPEED_NO_MEMORY                                                        \
    HT_NO_MEMORY, "There is not enough memory to find the speed of this "      \
                  "drive. A shorter recording needs less."
#define SPEED_LOG_NO_MEMORY                                                    \
    HT_NO_MEMORY, "%s: there is not enough memory to read the speed log. Cut " \
                  "out the drive."

/* Refusals: the speed log. */

#define SPEED_LOG_NO_TABLE                                                     \
    HT_BAD_FILE, "%s: rows: %zu, columns: %zu; a speed log has a time and a "  \
                 "speed column and many rows. Was it exported whole?"
#define SPEED_LOG_FEW_ROWS                                                     \
    HT_BAD_FILE, "%s: rows that hold a time and a speed: %zu; at least %d are "\
                 "wanted. Log the whole drive."
#define SPEED_LOG_NO_COLUMN                                                    \
    HT_BAD_FILE, "%s: no speed column among: %s. Name it in the first line, "  \
                 "for instance time_s,speed_kmh, or say which with speed: "    \
                 "{file: ..., column: ...}."
#define SPEED_LOG_UNIT_UNKNOWN                                                 \
    HT_BAD_FILE, "%s: the unit of column \"%s\" is not known. Name the column "\
                 "speed_kmh, speed_mph or speed_mps, or write speed: {file: "  \
                 "..., unit: km/h}."
#define SPEED_LOG_TIME_FALLS                                                   \
    HT_BAD_FILE, "%s, line %zu: the time goes back to %s s. Times must rise. " \
                 "Are the columns swapped, or two logs in one file?"
#define SPEED_LOG_NO_ROAD_SPEED                                                \
    HT_BAD_FILE, "%s, line %zu: %s km/h is no road speed (0 to 250 wanted). "  \
                 "Is the unit right, or are the columns swapped?"

/* Notes on the speed log. */

#define SPEED_LOG_UNNAMED "(no name)"
#define SPEED_LOG_ROW_EMPTY                                                    \
    "1 row of the speed log is empty and left out."
#define SPEED_LOG_ROWS_EMPTY                                                   \
    "%zu rows of the speed log are empty and left out."
#define SPEED_LOG_ROW_REPEATS                                                  \
    "1 row of the speed log repeats the time before and is left out."
#define SPEED_LOG_ROWS_REPEAT                                                  \
    "%zu rows of the speed log repeat the time before and are left out."
#define SPEED_LOG_ROW_JUMPS                                                    \
    "1 row of the speed log jumps and comes back: left out."
#define SPEED_LOG_ROWS_JUMP                                                    \
    "%zu rows of the speed log jump and come back: left out."
#define SPEED_LOG_STEPS "The speed log is in steps of %s km/h."
#define SPEED_LOG_HOLE "The speed log has a hole of %s s."
#define SPEED_LOG_IN_S "Times of the speed log are taken as seconds."
#define SPEED_LOG_IN_MS "Times of the speed log are taken as milliseconds."
#define SPEED_LOG_IN_US "Times of the speed log are taken as microseconds."
#define SPEED_LOG_IN_NS "Times of the speed log are taken as nanoseconds."

/* Why a speed is refused, and the drive or the entry that would settle it. */

#define SPEED_NOT_KNOWN                                                        \
    "The speed is not known. Give a speed log (speed: FILE.csv), or the "      \
    "steady speed driven (speed: {steady_km_h: 95})."
#define SPEED_RECORDING_SHORT                                                  \
    "The recording is %.1f s long; at least %.0f s are needed. Drive and "     \
    "record for a minute or more."
#define SPEED_LOG_ROWS_FEW                                                     \
    "The speed log has too few rows: %zu; at least 4 are needed. Log the "     \
    "whole drive."
#define SPEED_STEADY_NO_TYRE                                                   \
    "A steady speed needs the tyre size. Give the tyre, or a speed log."
#define SPEED_OTHER_DATE                                                       \
    "The speed log and the recording carry dates that do not overlap: this "   \
    "is the log of another drive. Give the log of this drive, or the steady "  \
    "speed driven."
#define SPEED_LOG_CLOCK_JUMPS                                                  \
    "The speed log spans %.0f hours: its clock jumps. Give the rows of this "  \
    "drive alone."
#define SPEED_LOG_COVERS_LITTLE                                                \
    "The speed log covers only %.0f s of the recording's %.0f s. Give the log "\
    "of this drive, or the steady speed driven."
#define SPEED_LOG_STANDS_STILL                                                 \
    "The speed log stands still (highest speed %.1f km/h). Check its unit, or "\
    "drive and record again."
#define SPEED_RECORDING_SLOW                                                   \
    "The recording holds %.1f values a second, too few for this drive: at its "\
    "lowest speed, %.0f km/h, the wheel turns %.1f times a second. Record 200 "\
    "values a second or more."
#define SPEED_LOG_IN_KM_H                                                      \
    "The recording fits this speed log better when its speeds are 1.609 times "\
    "lower: are its numbers km/h, read as mph? Then write speed: {file: ..., " \
    "unit: km/h}. Or is the tyre or the log another vehicle's?"
#define SPEED_LOG_IN_MPH                                                       \
    "The recording fits this speed log better when its speeds are 1.609 times "\
    "higher: are its numbers mph, read as km/h? Then write speed: {file: ..., "\
    "unit: mph}. Or is the tyre or the log another vehicle's?"
#define SPEED_NOTHING_FOLLOWS_NO_TYRE                                          \
    "Nothing in the recording follows this speed and the tyre is not known. "  \
    "Give the tyre size, and check that the log is of this drive."
#define SPEED_NOTHING_FOLLOWS_NO_CLOCK                                         \
    "Nothing in the recording follows this speed log, and its clock does not " \
    "fit: is it the log of another day? Give the log of this drive, or the "   \
    "steady speed driven."
#define SPEED_NOTHING_FOLLOWS_NO_GROWTH                                        \
    "No line in the recording follows this speed log, and the shake does not " \
    "grow where the log is faster: this looks like the log of another drive. " \
    "Give the log of this drive, or the steady speed driven."

/* Why a speed is in doubt. */

#define SPEED_LOG_ABOVE_TOP                                                    \
    "The speed log reaches %.0f km/h, and the sheet says that this vehicle's " \
    "top speed is %.0f km/h. Are the log's numbers in the unit that it names? "\
    "Say speed: {file: ..., unit: ...}, or mend top_speed_km_h."
#define SPEED_READING_STEADY "about %.0f km/h"
#define SPEED_READING_LOG "one wheel turn is %.3f m of the log"
#define SPEED_RIVAL_STEADY                                                     \
    "Another reading fits the recording almost as well: about %.0f km/h. "     \
    "Record a speed log beside the drive."
#define SPEED_RIVAL_LOG                                                        \
    "Another reading fits the recording almost as well: one wheel turn is "    \
    "%.3f m of the log. Give the tyre size, or drive again through a wider "   \
    "range of speed."
#define SPEED_SHARE_SMALL                                                      \
    "Only %.0f %% of the recording follows this speed. Is it the log of this " \
    "drive? Give the right log, or drive again with a log beside the "         \
    "recording."
#define SPEED_STEADY_UNSEEN                                                    \
    "No line stands within 3 %% of the steady speed: high orders cannot be "   \
    "seen. Record a speed log beside the drive."

/* Notes: what was found and assumed. */

#define SPEED_GEAR_FOUND                                                       \
    "Gear %u: its engine orders stand in the recording for %.0f %% of the "    \
    "drive."
#define SPEED_GEAR_UNKNOWN                                                     \
    "The recording does not tell which gear was driven, or it changed: "       \
    "nothing is said about the engine. Note the gear, and hold it for the "    \
    "drive."
#define SPEED_WHEEL_TURN                                                       \
    "One wheel turn is %.3f m by the log (within %.2f %%). A dash speed can "  \
    "read 2 to 5 %% high and the circumference with it; orders do not depend " \
    "on it."
#define SPEED_LOG_EARLY "The log runs ahead by %.2f s (within %.2f s)."
#define SPEED_LOG_LATE "The log is late by %.2f s (within %.2f s)."
#define SPEED_LAG_UNSEEN                                                       \
    "The log's lag is not observable: the speed changes too little."
#define SPEED_LOG_HIGH                                                         \
    "The log's speed is %.1f %% higher than the tyre says: dash speed, "       \
    "another tyre size or another axle ratio?"
#define SPEED_LOG_LOW                                                          \
    "The log's speed is %.1f %% lower than the tyre says: dash speed, "        \
    "another tyre size or another axle ratio?"
#define SPEED_LOG_ALONE                                                        \
    "The recording shows no line that follows this log: is it the log of "     \
    "this drive? The angle is the log's alone."
#define SPEED_STEADY_ALONE                                                     \
    "The recording shows no line that follows this steady speed: is it the "   \
    "speed of this drive? The angle is the speed's alone."
#define SPEED_LOG_OTHER_CLOCK                                                  \
    "The speed log's clock starts at %.0f s and does not fit the recording's: "\
    "both starts are laid on each other, then the lag is searched."
#define SPEED_LOG_SMOOTHED                                                     \
    "The speed log is in steps of %.1f km/h; it was smoothed within its steps."

#endif
