/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; a note is a row of a sentence alone. A row is whole:
 * only names, numbers, units and lists are put into it.
 */
#ifndef HALFTURN_RECORDING_TEXTS_H
#define HALFTURN_RECORDING_TEXTS_H

#include "halfturn/status.h"

/* Refusals: any file. */

#define RECORDING_CANNOT_OPEN                                                  \
    HT_CANNOT_READ, "%s cannot be opened: %s. Is the name right?"
#define RECORDING_CANNOT_READ                                                  \
    HT_CANNOT_READ, "%s cannot be read to its end: %s. Copy it from the "  \
                    "recorder again."
#define RECORDING_NOTHING_READ                                                 \
    HT_CANNOT_READ, "%s: nothing can be read from it. Copy it from the "       \
                    "recorder again."
#define RECORDING_EMPTY                                                        \
    HT_BAD_FILE, "%s: the file is empty. Copy it from the recorder again."
#define RECORDING_IS_PIPE                                                      \
    HT_CANNOT_READ, "%s: this is a pipe or a device. Save the recording as a " \
                    "file."
#define RECORDING_IS_FOLDER                                                    \
    HT_CANNOT_READ, "%s: this is a folder. Name the recording in it."
/* the last is a line to type */
#define RECORDING_KIND_NOT_READ                                                \
    HT_BAD_FILE,                                                               \
        "%s is of the kind %s, which is not read here. Convert it once, then " \
        "name the new file: %s"
#define RECORDING_KIND_NOT_READ_LONG                                           \
    HT_BAD_FILE,                                                               \
        "%.150s is of the kind %s, which is not read here. Its path is too "   \
        "long for one line: go to its folder, convert it once with ffmpeg -i " \
        "OLD NEW.wav, then name the new file."
#define RECORDING_KIND_UNKNOWN                                                 \
    HT_BAD_FILE, "%s: this is no kind of recording that is read here; it "     \
                 "begins with the bytes %s. Wanted: WAV, FLAC, Ogg, MP3, "     \
                 "AIFF, CAF, or a table of numbers."
#define RECORDING_IS_PROSE                                                     \
    HT_BAD_FILE, "%s: this is text, but neither a recording nor a table with " \
                 "rows of numbers; it begins with \"%.*s\". Is it the right "  \
                 "file?"
#define RECORDING_STOPPED HT_STOPPED, "%s: reading it was stopped."
#define RECORDING_TOO_LONG                                                     \
    HT_TOO_BIG, "%s: longer than %d hours. Cut out the drive."
#define RECORDING_NO_MEMORY                                                    \
    HT_NO_MEMORY, "%s: there is not enough memory to read it. Cut out the "    \
                  "drive, or close other programs."

/* Refusals: WAV files. */

#define RECORDING_WAV_HEAD_CUT                                                 \
    HT_BAD_FILE, "%s: this WAV file is cut off in its head. Copy it from the " \
                 "recorder again."
#define RECORDING_WAV_OTHER_RIFF                                               \
    HT_BAD_FILE, "%s: this is a RIFF file, but not a sound in it. Name the "   \
                 "WAV file of the drive."
#define RECORDING_WAV_FORMAT_DAMAGED                                           \
    HT_BAD_FILE, "%s: this WAV file has a damaged format chunk. Copy it from " \
                 "the recorder again."
#define RECORDING_WAV_NO_FORMAT                                                \
    HT_BAD_FILE, "%s: this WAV file has no format before its sound. Copy it "  \
                 "from the recorder again."
#define RECORDING_WAV_TWO_FORMATS                                              \
    HT_BAD_FILE, "%s: this WAV file has two formats. Copy it from the "        \
                 "recorder again."
#define RECORDING_WAV_CHUNK_TOO_LONG                                           \
    HT_BAD_FILE, "%s: this WAV file has a chunk that reaches beyond its end. " \
                 "Copy it from the recorder again."
#define RECORDING_WAV_NO_SOUND                                                 \
    HT_BAD_FILE, "%s: this WAV file ends before its sound begins. Copy it "    \
                 "from the recorder again."
#define RECORDING_WAV_CHUNKS                                                   \
    HT_BAD_FILE, "%s: this WAV file has thousands of chunks and no sound. "    \
                 "Copy it from the recorder again."
#define RECORDING_WAV_CHANNELS                                                 \
    HT_BAD_FILE, "%s: the WAV head claims %u channels; 1 to %d are read. Copy "\
                 "it from the recorder again."
#define RECORDING_WAV_RATE                                                     \
    HT_BAD_FILE, "%s: the WAV head claims %u samples a second; 1 to %d are "   \
                 "read. Copy it from the recorder again."

/* Refusals: what a sound holds. */

#define RECORDING_ONE_CHANNEL                                                  \
    HT_BAD_FILE, "%s holds 1 channel, the sheet names %zu. Which one is "      \
                 "missing?"
#define RECORDING_FEWER_CHANNELS                                               \
    HT_BAD_FILE, "%s holds %zu channels, the sheet names %zu. Which one is "   \
                 "missing?"
#define RECORDING_MORE_CHANNELS                                                \
    HT_BAD_FILE, "%s holds %zu channels, the sheet names %zu. Name every "     \
                 "channel."
#define RECORDING_NOT_FINITE                                                   \
    HT_BAD_FILE, "%s: channel %zu holds a value that is no number, at %.3f s. "\
                 "Save the recording again, as 16 or 24 bit."
#define RECORDING_SAMPLE_TOO_LARGE                                             \
    HT_BAD_FILE, "%s: channel %zu holds %g, at %.3f s; no sensor reads that. " \
                 "Save the recording again, as 16 or 24 bit."
#define RECORDING_NO_SOUND                                                     \
    HT_BAD_FILE, "%s: there is no sound in it. Copy it from the recorder "     \
                 "again."
#define RECORDING_ALL_THE_SAME                                                 \
    HT_BAD_FILE, "%s: every sample is the same. Was the sensor plugged in?"
#define RECORDING_CHANNELS_OFF                                                 \
    HT_BAD_USE, "%s: %zu channels. Wanted: 1 to %d."
#define RECORDING_RATE_OFF                                                     \
    HT_BAD_USE, "%s: %g samples a second. Wanted: 1 to %d."

/* Refusals: the decoder program. What it says itself follows the path; it
 * begins with a small letter there. */

#define RECORDING_DECODER_ABSENT                                               \
    HT_CANNOT_READ, "%s: sound files need the decoder program %s, which is "   \
                    "not there. Install Halfturn again."
#define RECORDING_DECODER_NOT_RUN                                              \
    HT_CANNOT_READ, "%s: sound files need the decoder program %s, which "      \
                    "cannot be run. Install Halfturn again."
#define RECORDING_DECODER_NOT_STARTED                                          \
    HT_CANNOT_READ, "%s: the decoder program %s cannot be started: %s. Close " \
                    "other programs."
#define RECORDING_DECODER_NO_MEMORY                                            \
    HT_NO_MEMORY, "%s: there is not enough memory to start the decoder "       \
                  "program %s. Close other programs."
#define RECORDING_DECODER_PIPE                                                 \
    HT_CANNOT_READ, "%s: nothing can be read from the decoder: %s. Close "     \
                    "other programs."
#define RECORDING_DECODER_COMPUTED                                             \
    HT_BAD_FILE, "%s: the decoder stopped: it had computed for %g s. The file "\
                 "may be damaged: copy it from the recorder again, or "        \
                 "convert it to WAV."
#define RECORDING_DECODER_CRASHED                                              \
    HT_BAD_FILE, "%s: the decoder stopped: it crashed (signal %d). The file "  \
                 "may be damaged: copy it from the recorder again, or "        \
                 "convert it to WAV."
#define RECORDING_DECODER_ENDED                                                \
    HT_BAD_FILE, "%s: the decoder stopped before the end of the sound (exit "  \
                 "code %d). The file may be damaged: copy it from the "        \
                 "recorder again, or convert it to WAV."
#define RECORDING_DECODER_SILENT                                               \
    HT_BAD_FILE, "%s: the decoder stopped answering and was ended after %g s. "\
                 "Is the file on a slow drive? Copy it nearer."
#define RECORDING_DECODER_LATE                                                 \
    HT_BAD_FILE, "%s: the decoder had not come to the end after %g s and was " \
                 "stopped. Cut out the drive."
#define RECORDING_DECODER_FOREIGN                                              \
    HT_BAD_FILE, "%s: the decoder stopped: %s does not answer as this version "\
                 "wants it. Install Halfturn again."
#define RECORDING_DECODER_GARBLED                                              \
    HT_BAD_FILE, "%s: the decoder stopped: its answer is garbled. Copy the "   \
                 "file from the recorder again, or convert it to WAV."
#define RECORDING_DECODER_SAYS "%s: %s"
#define RECORDING_SOUND_KIND                                                   \
    HT_BAD_FILE, "this kind of sound file is not read. Wanted: WAV, FLAC, "    \
                 "Ogg, MP3, AIFF or CAF."
#define RECORDING_SOUND_HEAD                                                   \
    HT_BAD_FILE, "its head claims %d channels at %d samples a second; that "   \
                 "cannot be. Copy it from the recorder again."
#define RECORDING_SOUND_DAMAGED                                                \
    HT_BAD_FILE, "this sound file cannot be decoded (%s). Is it complete?"
#define RECORDING_SOUND_NO_MEMORY                                              \
    HT_NO_MEMORY, "there is not enough memory to decode it. Close other "      \
                  "programs."
#define RECORDING_SOUND_UNHEARD                                                \
    HT_CANNOT_WRITE, "nobody listens at the other end of the pipe."

/* Refusals: tables. */

#define RECORDING_TABLE_PIPE                                                   \
    HT_CANNOT_READ, "%s: this is a pipe or a device. Save the table as a file."
#define RECORDING_TABLE_FOLDER                                                 \
    HT_CANNOT_READ, "%s: this is a folder. Name the table in it."
#define RECORDING_TABLE_BYTES                                                  \
    HT_TOO_BIG, "%s: the table has %.0f MB; %zu MB are read. Cut out the drive."
#define RECORDING_TABLE_NO_TEXT                                                \
    HT_BAD_FILE, "%s: this is not text. Wanted: a table of numbers."
#define RECORDING_TABLE_LINE                                                   \
    HT_BAD_FILE, "%s, line %zu: longer than %d characters. Is this a table of "\
                 "numbers?"
#define RECORDING_TABLE_NO_ROWS                                                \
    HT_BAD_FILE, "%s: there are no rows in it. Was it exported whole?"
#define RECORDING_TABLE_ONLY_HEADER                                            \
    HT_BAD_FILE, "%s: there is a header and no row of numbers. Was it "        \
                 "exported whole?"
#define RECORDING_TABLE_COLUMNS                                                \
    HT_TOO_BIG, "%s: %zu columns; %d are read. Leave out columns that no "     \
                "drive needs."
#define RECORDING_TABLE_ROWS                                                   \
    HT_TOO_BIG, "%s: more than %d rows. Cut out the drive."
#define RECORDING_VALUES_COMMAS                                                \
    HT_BAD_FILE, "%s, line %zu: %zu values, the header has %zu. Is a comma "   \
                 "used as the decimal mark? Write semicolons between the "     \
                 "values."
#define RECORDING_VALUES_COMMAS_FIRST                                          \
    HT_BAD_FILE, "%s, line %zu: %zu values, line 1 has %zu. Is a comma used "  \
                 "as the decimal mark? Write semicolons between the values."
#define RECORDING_ONE_VALUE                                                    \
    HT_BAD_FILE, "%s, line %zu: 1 value, the header has %zu. Is the file "     \
                 "complete?"
#define RECORDING_ONE_VALUE_FIRST                                              \
    HT_BAD_FILE, "%s, line %zu: 1 value, line 1 has %zu. Is the file complete?"
#define RECORDING_VALUES                                                       \
    HT_BAD_FILE, "%s, line %zu: %zu values, the header has %zu. Is the file "  \
                 "complete?"
#define RECORDING_VALUES_FIRST                                                 \
    HT_BAD_FILE, "%s, line %zu: %zu values, line 1 has %zu. Is the file "      \
                 "complete?"
#define RECORDING_CELL                                                         \
    HT_BAD_FILE, "%s, line %zu: '%.*s' in column %zu is not a number. Delete " \
                 "the line, or leave the cell empty."
#define RECORDING_CELL_NAMED                                                   \
    HT_BAD_FILE, "%s, line %zu: '%.*s' in column %zu (%s) is not a number. "   \
                 "Delete the line, or leave the cell empty."
#define RECORDING_CELL_COMMA                                                   \
    HT_BAD_FILE, "%s, line %zu: '%.*s' in column %zu is not a number. Write a "\
                 "decimal point, or give the decimal mark."
#define RECORDING_CELL_COMMA_NAMED                                             \
    HT_BAD_FILE, "%s, line %zu: '%.*s' in column %zu (%s) is not a number. "   \
                 "Write a decimal point, or give the decimal mark."
#define RECORDING_CELL_NOT_FINITE                                              \
    HT_BAD_FILE, "%s, line %zu: '%.*s' in column %zu is not a number to work " \
                 "with. Leave the cell empty where nothing was measured."
#define RECORDING_CELL_NOT_FINITE_NAMED                                        \
    HT_BAD_FILE, "%s, line %zu: '%.*s' in column %zu (%s) is not a number to " \
                 "work with. Leave the cell empty where nothing was measured."

/* Refusals: tables of accelerations. */

#define RECORDING_FEW_ROWS                                                     \
    HT_BAD_FILE, "%s: rows in the table: %zu; that is no drive. Wanted: at "   \
                 "least %d."
#define RECORDING_FEW_STAMPED                                                  \
    HT_BAD_FILE, "%s: rows with a time of their own: %zu; that is no drive. "  \
                 "Wanted: at least %d."
#define RECORDING_NO_TIME                                                      \
    HT_BAD_FILE, "%s: no column is called time. Name it time_s, time_ms or "   \
                 "the like."
#define RECORDING_TIME_UNIT                                                    \
    HT_BAD_FILE, "%s: by the unit in its name, column '%s' rises by %g s in "  \
                 "each row; no drive is sampled like that. Is the time in "    \
                 "another unit?"
#define RECORDING_TIME_STEP                                                    \
    HT_BAD_FILE, "%s: the time column rises by %g in each row; in s, ms, µs "  \
                 "or ns that is no accelerometer. Are the columns swapped?"
#define RECORDING_NO_AXIS                                                      \
    HT_BAD_FILE, "%s: no column looks like an acceleration. Name them x_mps2, "\
                 "y_mps2, z_mps2 or forward_g, left_g, up_g."
#define RECORDING_NO_STAMP                                                     \
    HT_BAD_FILE, "%s, line %zu: the time is missing. Delete the line, or fill "\
                 "it in."
#define RECORDING_TIME_FALLS                                                   \
    HT_BAD_FILE, "%s, line %zu: the time does not rise (%g after %g). Column " \
                 "%zu was taken as the time. Are the columns swapped?"
#define RECORDING_TIME_FALLS_NAMED                                             \
    HT_BAD_FILE, "%s, line %zu: the time does not rise (%g after %g). Column " \
                 "%zu, %s, was taken as the time. Are the columns swapped?"
#define RECORDING_TIME_TOO_LONG                                                \
    HT_TOO_BIG, "%s, line %zu: %.0f s after the first row; %d hours are read. "\
                "Is the time in another unit?"
#define RECORDING_TIME_STANDS                                                  \
    HT_BAD_FILE, "%s: the rows lie less than a millionth of a second apart, "  \
                 "or do not move on. Is the time in another unit, or is "      \
                 "column %zu not the time?"
#define RECORDING_MOSTLY_MISSING                                               \
    HT_BAD_FILE, "%s: more than half of the samples are missing (%zu rows "    \
                 "over %.0f s). Record again with fewer programs running."
#define RECORDING_VALUE_TOO_LARGE                                              \
    HT_BAD_FILE, "%s, line %zu: %g in column %zu cannot be an acceleration. "  \
                 "Delete the line, or leave the cell empty."

/* Notes: what was found, what was assumed. */

#define RECORDING_STANDS_STILL                                                 \
    "'%s' stands still: every sample is the same. It is left out."
#define RECORDING_STILL_ONCE                                                   \
    "Nothing moves from %.1f s to %.1f s: the sensor or the recorder hung, or "\
    "the sound is too faint for the file's steps. It counts as not measured."
#define RECORDING_STILL                                                        \
    "In %zu stretches, %.1f s in all, the first at %.1f s, nothing moves: the "\
    "sensor or the recorder hung, or the sound is too faint for the file's "   \
    "steps. They count as not measured."
#define RECORDING_COPIED "'%s' is a copy of '%s' and counts once."
#define RECORDING_CLIPPED_ONCE                                                 \
    "'%s' touches full scale once: it was recorded too loud, and levels may "  \
    "be too low."
#define RECORDING_CLIPPED                                                      \
    "'%s' touches full scale %zu times: it was recorded too loud, and levels " \
    "may be too low."
#define RECORDING_WAV_UNFINISHED                                               \
    "The WAV file was not finished; what is there, %.1f s, is read."
#define RECORDING_SHORT                                                        \
    "By its head the file holds %.1f s of sound; it is damaged or cut off, "   \
    "and only %.1f s are read. Copy it from the recorder again."
#define RECORDING_NO_END                                                       \
    "The file lacks its end: it was cut off, or not finished. What is there, " \
    "%.1f s, is read."
#define RECORDING_TIME_TAKEN_IN "The time column is taken to be in %s."
#define RECORDING_LEFT_OUT "Left out, as no acceleration: %s."
#define RECORDING_ROW_REPEATS "1 row repeats the row before and is dropped."
#define RECORDING_ROWS_REPEAT "%zu rows repeat the row before and are dropped."
#define RECORDING_SAMPLES_MISSING                                              \
    "Samples missing: %zu. Gaps longer than two samples: %zu."
#define RECORDING_STAMPS_USED                                                  \
    "The time stamps are uneven (%.2f ms) and the sampling with them: the "    \
    "stamps are used."
#define RECORDING_CLOCK_FITTED                                                 \
    "The time stamps are uneven (%.2f ms); the sensor's own clock is fitted "  \
    "and used."
#define RECORDING_TAKEN_IN_G                                                   \
    "The values are taken to be in g: gravity reads %.2f."
#define RECORDING_TAKEN_IN_M_S2                                                \
    "The values are taken to be in m/s²: gravity reads %.2f."
#define RECORDING_NO_GRAVITY                                                   \
    "Gravity is not in the values; they are taken to be in m/s²."
#define RECORDING_POINTS_UP "'%s' carries gravity: it points up."
#define RECORDING_POINTS_DOWN "'%s' carries gravity: it points down."

/* Names where the file gives none. */

#define RECORDING_CHANNEL "channel %zu"
#define RECORDING_AXIS "axis %zu"
#define RECORDING_NAMELESS_COLUMN "a column without a name"
#define RECORDING_SAMPLES "samples"
#define RECORDING_FORMAT_SEMICOLONS "table, semicolons"
#define RECORDING_FORMAT_TABS "table, tabs"
#define RECORDING_FORMAT_COMMAS "table, commas"
#define RECORDING_FORMAT_SOUND "%s, %s"
#define RECORDING_COMPRESSED "compressed"

#endif
