/* texts.h - every sentence with which this room refuses. */
#ifndef HALFTURN_COMMAND_TEXTS_H
#define HALFTURN_COMMAND_TEXTS_H

/* ---- which command, which option -------------------------------------- */
#define COMMAND_UNKNOWN_NEAR                                                   \
    HT_BAD_USE, "There is no command '%.60s'. Did you mean '%s'?"
#define COMMAND_UNKNOWN                                                        \
    HT_BAD_USE,                                                                \
        "There is no command '%.60s'. 'halfturn --help' lists the commands."
#define COMMAND_IS_FILE                                                        \
    HT_BAD_USE,                                                                \
        "'%.200s' is a file. The command stands before it, for instance: "     \
        "halfturn rank %.200s"
#define OPTION_UNKNOWN_NEAR                                                    \
    HT_BAD_USE, "There is no option '%.60s'. Did you mean '--%s'?"
#define OPTION_UNKNOWN                                                         \
    HT_BAD_USE, "There is no option '%.60s'. --help lists the options."
#define OPTION_IS_READING                                                      \
    HT_BAD_USE,                                                                \
        "'%.60s' looks like a reading. Readings stand after '--': "            \
        "halfturn angles -- 2.1 -1.3 / -1.3 0.9"
#define OPTION_ELSEWHERE                                                       \
    HT_BAD_USE, "'%s' takes no option '%.60s'; 'halfturn %s' does."
#define OPTION_WANTS_VALUE HT_BAD_USE, "%.60s wants a value after it."
#define OPTION_EMPTY HT_BAD_USE, "--%s: wanted %s, found nothing."
#define OPTION_COMMA                                                           \
    HT_BAD_USE, "--%s %.60s: write a decimal point, not a comma."
#define OPTION_NO_SPEED                                                        \
    HT_BAD_USE,                                                                \
        "--%s %.60s: wanted a speed from 1 to %.0f km/h, written as 95 "       \
        "(km/h), 95km/h or 60mph."
#define OPTION_NO_NUMBER                                                       \
    HT_BAD_USE, "--%s %.60s: wanted a number from %g to %g."
#define OPTION_NO_WHOLE                                                        \
    HT_BAD_USE, "--%s %.60s: wanted a whole number from %g to %g."
#define OPTION_NO_DEGREES                                                      \
    HT_BAD_USE, "--%s %.60s: wanted degrees from %g to %g."
#define OPTION_NO_WORD_NEAR                                                    \
    HT_BAD_USE,                                                                \
        "--%s does not know '%.60s'. Did you mean '%s'? It takes: %s."
#define OPTION_NO_WORD                                                         \
    HT_BAD_USE, "--%s does not know '%.60s'. It takes: %s."
#define LIST_WRONG                                                             \
    HT_BAD_USE,                                                                \
        "--%s %.60s: wanted degrees from %g to %g with commas between them, "  \
        "%zu of them."

/* ---- which case -------------------------------------------------------- */
#define CASE_NOT_NAMED                                                         \
    HT_BAD_USE,                                                                \
        "Name a case sheet, for instance case.yaml. --help shows how."
#define COMMAND_NO_MEMORY HT_NO_MEMORY, "out of memory"

/* ---- new: answers ------------------------------------------------------ */
#define ANSWER_TOO_LONG                                                        \
    HT_BAD_USE, "That is more than fits one answer. Write it shorter."
#define ANSWER_OFF HT_BAD_FILE, "%s" /* a sentence of the sheet's reader */
#define ANSWER_NOT_UTF_8                                                       \
    HT_BAD_USE, "The answer is not UTF-8 text. Type it again."
#define ANSWER_WORD HT_BAD_USE, "'%.60s' is not a number; numbers were wanted."
#define ANSWER_NUMBER                                                          \
    HT_BAD_USE, "'%.60s' is a number; words were wanted."
#define ANSWER_ENGINE                                                          \
    HT_BAD_USE,                                                                \
        "Wanted the number of cylinders, then 2 or 4 strokes: 4 4. Or "        \
        "electric, then motor turns per wheel turn: electric 9.1"
#define ANSWER_ONE_MEMBER                                                      \
    HT_BAD_USE,                                                                \
        "A driveline has two members or more, with commas between them: "      \
        "gearbox, shaft, pinion"
#define SLOPE_NO_NUMBER                                                        \
    HT_BAD_USE,                                                                \
        "A slope begins with its degrees: 2.1 rear. Found '%.60s'."
#define SLOPE_SIGN                                                             \
    HT_BAD_USE,                                                                \
        "%.60s: say which end is lower instead of a sign: %.60s rear, or "     \
        "front."
#define SLOPE_NO_END                                                           \
    HT_BAD_USE, "'%.60s' is no end of a member: rear or front is lower."
#define SLOPE_WHICH_END                                                        \
    HT_BAD_USE,                                                                \
        "Which end is lower at %.60s? Write %.60s rear, or %.60s front."
#define DRIVE_SPEEDS                                                           \
    HT_BAD_USE, "'%.60s': one speed, or from and to: 95, or 50-110."
#define DRIVE_MORE                                                             \
    HT_BAD_USE,                                                                \
        "Both '%.60s' and '%.60s' stand for the speed. Wanted: recording, "    \
        "then a speed log or a speed, then gear 5, then the sensor's place."

/* ---- new: the sheet ---------------------------------------------------- */
#define NEW_THERE                                                              \
    HT_BAD_USE,                                                                \
        "%.300s is there already and stays as it is. Name another file."
#define NEW_NO_FOLDER                                                          \
    HT_CANNOT_WRITE, "%.300s: nothing can be written there: %s."
#define NEW_TWO_NAMES                                                          \
    HT_BAD_USE,                                                                \
        "Name one new sheet; here stand %zu words: '%.60s' and '%.60s'."
#define NEW_STOPPED HT_BAD_USE, "Stopped. Nothing was written."
#define NEW_CUT                                                                \
    HT_BAD_FILE,                                                               \
        "The input ended before question %zu had an answer that fits. "        \
        "Nothing was written."
#define NEW_FROM_PATH                                                          \
    HT_CANNOT_READ, "%.300s: its place cannot be named in a sheet."

#endif
