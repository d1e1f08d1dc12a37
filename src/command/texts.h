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

#endif
