/* texts.h - every sentence this room says, but for the tables of commands,
 * options and questions, which hold their own, and the manual pages
 * (texts_manual.h).
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; the rest are rows of a text alone. */
#ifndef HALFTURN_COMMAND_TEXTS_H
#define HALFTURN_COMMAND_TEXTS_H

#include "halfturn/status.h"

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
    HT_BAD_USE, "'%.60s' looks like a reading. Readings stand after '--': "    \
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
    HT_BAD_USE, "--%s does not know '%.60s'. Did you mean '%s'? It takes: %s."
#define OPTION_NO_WORD HT_BAD_USE, "--%s does not know '%.60s'. It takes: %s."
#define LIST_WRONG                                                             \
    HT_BAD_USE,                                                                \
        "--%s %.60s: wanted degrees from %g to %g with commas between them, "  \
        "%zu of them."

#define LIST_OF_NONE                                                           \
    HT_BAD_USE, "--%s %.60s: one joint stands here, and so no shaft between "  \
                "two joints. Leave it out."
#define LENGTHS_WRONG                                                          \
    HT_BAD_USE, "--%s %.60s: wanted millimetres from %g to %g with commas "    \
                "between them, %zu of them."
#define OPTIONS_SAY_THE_SAME                                                   \
    HT_BAD_USE, "--%s and --%s say the same thing. Keep one."
#define OPTION_NOT_OF_ZEROED                                                   \
    HT_BAD_USE, "--zeroed readings are differences from the side and know no " \
                "--%s. Leave it out, or read every member."

/* ---- which case -------------------------------------------------------- */
#define CASE_NOT_NAMED                                                         \
    HT_BAD_USE, "Name a case sheet, for instance case.yaml. --help shows how."
#define COMMAND_NO_MEMORY                                                      \
    HT_NO_MEMORY, "There is not enough memory to begin with this case."
#define CASE_SEVERAL                                                           \
    HT_BAD_USE, "Name one case sheet. Words that stand here: %zu, the first "  \
                "'%.60s' and '%.60s'."
#define CASE_PATH_LONG                                                         \
    HT_CANNOT_READ, "The path is too long: %.200s. Go into the folder, and "   \
                    "name the file alone."
#define CASE_IS_OUTPUT                                                         \
    HT_BAD_USE, "--output %.300s: the case is read from this file. Name "      \
                "another one for the result."
#define CASE_FILE_NEAR                                                         \
    HT_CANNOT_READ, "%.300s: no such file. Did you mean '%s', in the same "    \
                    "folder?"
#define CASE_LINK_NOWHERE                                                      \
    HT_CANNOT_READ, "%.300s is a link to a file that is not there. Name the "  \
                    "file itself, or mend the link."

/* ---- the measuring sheet ----------------------------------------------- */
#define BLANK_NO_JSON                                                          \
    HT_BAD_USE, "--blank writes a sheet of paper, and --json asks for data. "  \
                "Give one of them."
#define BLANK_NO_FIGURES                                                       \
    HT_BAD_USE, "--blank writes a sheet to fill in, and there are no figures " \
                "yet. Leave --figures out."
#define BLANK_NO_EXPLAIN                                                       \
    HT_BAD_USE, "--blank writes a sheet to fill in, and --explain works out "  \
                "readings. Give one of them."
#define EXPLAIN_NO_JSON                                                        \
    HT_BAD_USE, "--explain shows a calculation to people, and --json asks "    \
                "for data. Give one of them."
#define BLANK_TO_TERMINAL                                                      \
    HT_BAD_USE, "A PDF is not for reading on a terminal. Name a file: "        \
                "-o sheet.pdf"
#define REPORT_NO_JSON                                                         \
    HT_BAD_USE, "A PDF is for people, and --json asks for data. Give one of "  \
                "them, and for data a file that does not end in .pdf."
#define REPORT_TO_TERMINAL                                                     \
    HT_BAD_USE, "A PDF is not for reading on a terminal. Name a file: "        \
                "-o report.pdf"
#define BLANK_WRITTEN                                                          \
    "%s is written. Print it at full size (100 %%).\n"
#define BLANK_NO_CASE "measuring"
#define ELSEWHERE_ABSENT                                                       \
    HT_CANNOT_READ, "This is done by the program %s, which cannot be run. "    \
                    "Install Halfturn again."

/* ---- serve ------------------------------------------------------------- */
#define SERVE_ADDRESS                                                          \
    "Open this in a browser on this computer:\n\n  %s\n\n"                     \
    "Cases are kept in %s. Ctrl-C ends it; nothing saved is lost.\n"
#define SERVE_NO_HOME                                                          \
    HT_BAD_USE, "There is no HOME to keep the cases under. Name a folder with "\
                "--folder."
#define SERVE_NO_FOLDER                                                        \
    HT_CANNOT_WRITE, "The folder %s cannot be made: %s. Name another one with "\
                     "--folder."
#define SERVE_NOT_SAID                                                         \
    HT_CANNOT_WRITE, "The address could not be printed: %s. Nothing is served."
#define SERVE_NO_WORDS                                                         \
    HT_BAD_USE, "serve takes no case sheet, but '%s' was given. Bring it in "  \
                "from the page."

/* ---- parts and readings ------------------------------------------------ */
#define PARTS_NO_SPEED                                                         \
    HT_BAD_USE,                                                                \
        "Which speed is not said. Add --speed 95 (km/h) or --speed 60mph."
#define READING_COMMA HT_BAD_USE, "%.60s: write a decimal point, not a comma."
#define READING_NO_NUMBER                                                      \
    HT_BAD_USE, "'%.200s' is neither a case sheet nor a reading in degrees. "  \
                "Readings are written like: -- 2.1 4.3 / 4.3 2.4"
#define READING_STEEP                                                          \
    HT_BAD_USE, "%.60s: wanted degrees from %g to %g. Is a decimal point "     \
                "missing?"
#define READING_NOT_IN_PAIRS                                                   \
    HT_BAD_USE, "A joint has two readings, the member before it and the "      \
                "member after it. Readings that stand here: %zu. Put '/' "     \
                "between joints: -- 2.1 4.3 / 4.3 2.4"
#define READING_NOT_ONE                                                        \
    HT_BAD_USE, "With --zeroed a joint has one reading, the signed "           \
                "difference. Readings that stand here: %zu. Put '/' between "  \
                "joints: -- 0.4 / 1.5 / -1.6"
#define READING_STRAP                                                          \
    HT_BAD_USE, "--read-on strap: a strap bends as its bolts are tightened "   \
                "and lies square to nothing. Take it off and read on the cap."
#define READING_TOO_MANY                                                       \
    HT_BAD_USE, "These are readings of more than %d joints. A driveline of "   \
                "so many is not worked out; read a part of it."

#define OPTION_OF_READINGS                                                     \
    HT_BAD_USE, "--%s belongs to readings on the line, and none stand here. "  \
                "In a case sheet it is the key %s."
#define LINE_NO_RPM                                                            \
    "The shaft's speed is not said: shake has no figure. Add --rpm."
#define LINE_NO_SHEET                                                          \
    "Readings on the line know no torque, tubes, bearings and road speed: "    \
    "couples, support forces, critical speeds and the road speed at which a "  \
    "limit is met want a case sheet. 'halfturn new' makes one."

/* ---- the result -------------------------------------------------------- */
#define OUTPUT_CUT HT_CANNOT_WRITE, "%.300s: %s. Nothing was finished."
#define OUTPUT_CANNOT HT_CANNOT_WRITE, "%.300s cannot be written: %s."
#define OUTPUT_PATH_LONG                                                       \
    HT_CANNOT_WRITE, "The path is too long: %.200s. Go into the folder, and "  \
                     "name the file alone."
#define OUTPUT_NO_FOLDER                                                       \
    HT_CANNOT_WRITE, "--figures %.300s: this folder cannot be made: %s."
#define OUTPUT_NOT_FOLDER                                                      \
    HT_CANNOT_WRITE, "--figures %.300s: this is no folder. Name one, or a "    \
                     "name that is not taken."
#define OUTPUT_NO_FIGURES                                                      \
    HT_BAD_USE,                                                                \
        "--figures: there is nothing to draw. Joint angles give figures, and " \
        "so does a road test."
#define OUTPUT_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory for the result."
#define OUTPUT_STANDARD "standard output"
#define OUTPUT_FAILED "the output failed"

/* ---- new: answers ------------------------------------------------------ */
#define ANSWER_TOO_LONG                                                        \
    HT_BAD_USE, "That is more than fits one answer. Write it shorter."
#define ANSWER_OFF HT_BAD_FILE, "%s" /* a sentence of the sheet's reader */
#define ANSWER_NOT_UTF_8                                                       \
    HT_BAD_USE, "The answer is not UTF-8 text. Type it again."
#define ANSWER_WORD HT_BAD_USE, "'%.60s' is not a number; numbers were wanted."
#define ANSWER_NUMBER HT_BAD_USE, "'%.60s' is a number; words were wanted."
#define ANSWER_NOT_WORDS                                                       \
    HT_BAD_USE, "'%.60s' begins with a digit; words were wanted. A tyre, a "   \
                "ratio or a figure has a question of its own."
#define ANSWER_ENGINE                                                          \
    HT_BAD_USE,                                                                \
        "Wanted the number of cylinders, then 2 or 4 strokes: 4 4. Or "        \
        "electric, then motor turns per wheel turn: electric 9.1"
#define ANSWER_ONE_MEMBER                                                      \
    HT_BAD_USE,                                                                \
        "A driveline has two members or more, with commas between them: "      \
        "gearbox, shaft, pinion"
#define SLOPE_NO_NUMBER                                                        \
    HT_BAD_USE, "A slope begins with its degrees: 2.1 rear. Found '%.60s'."
#define SLOPE_SIGN                                                             \
    HT_BAD_USE,                                                                \
        "%.60s: say which end is lower instead of a sign: %.60s rear, or "     \
        "front."
#define SLOPE_NO_END                                                           \
    HT_BAD_USE, "'%.60s' is no end of a member: rear or front is lower."
#define SLOPE_WHICH_END                                                        \
    HT_BAD_USE, "Which end is lower at %.60s? Write %.60s rear, or %.60s "     \
                "front."
#define DRIVE_SPEEDS                                                           \
    HT_BAD_USE, "'%.60s': one speed, or from and to: 95, or 50-110."
#define DRIVE_MORE                                                             \
    HT_BAD_USE,                                                                \
        "Both '%.60s' and '%.60s' stand for the speed. Wanted: recording, "    \
        "then a speed log or a speed, then gear 5, then the sensor's place."

/* ---- new: the sheet ---------------------------------------------------- */
#define NEW_THERE                                                              \
    HT_BAD_USE, "%.300s is there already and stays as it is. Name another "    \
                "file."
#define NEW_NO_FOLDER                                                          \
    HT_CANNOT_WRITE, "%.300s: nothing can be written there: %s."
#define NEW_TWO_NAMES                                                          \
    HT_BAD_USE, "Name one new sheet; here stand %zu words: '%.60s' and "       \
                "'%.60s'."
#define NEW_STOPPED HT_BAD_USE, "Stopped. Nothing was written."
#define NEW_CUT                                                                \
    HT_BAD_FILE,                                                               \
        "The input ended before question %zu had an answer that fits. "        \
        "Nothing was written."
#define NEW_FROM_PATH                                                          \
    HT_CANNOT_READ, "%.300s: its place cannot be named in a sheet."
#define NEW_FROM_NO_FILE                                                       \
    HT_CANNOT_READ, "%.300s is a folder, a pipe or a device. --from wants a "  \
                    "case sheet or a recording that is a file."

/* ---- new: what is said on the way -------------------------------------- */
#define NEW_KEYS                                                               \
    "Enter alone means: I do not know. Ctrl-D stops, and nothing is "          \
    "written.\n"
#define NEW_NUMBER "%zu of %zu  "
#define NEW_REFUSED "halfturn new, question %zu: %s"
#define NEW_WRITTEN                                                            \
    "\n%s is written. Any editor opens it; it says what else it could "        \
    "hold.\nNext, type:\n  "
#define NEW_HEAD                                                               \
    "# A case sheet: what is known of one vehicle with one complaint. A key "  \
    "behind\n# a '#' in the first column is not said yet: take the '#' away "  \
    "and write its\n# value. What is not said is unknown, never taken to be "  \
    "convenient.\n# 'man halfturn-sheet' explains every key. Next:\n#     "

/* ---- --help ------------------------------------------------------------ */
#define HELP_HEAD                                                              \
    "Halfturn finds out why a vehicle with a propeller shaft shakes.\n\nUse: " \
    "halfturn COMMAND ...\n\n"
#define HELP_INSTANCES "\nFor instance\n"
#define HELP_EXAMPLES "\nExamples\n"
#define HELP_OPTIONS "\nOptions\n"
#define HELP_CAUTION "\nCaution\n"
#define HELP_EXITS "\nExit codes\n"
#define HELP_CASE                                                              \
    "A CASE is a case sheet: a text file that says what is known of one "      \
    "vehicle with one complaint. 'halfturn COMMAND --help' shows options and " \
    "more examples; 'man halfturn-sheet' every key of the sheet."
#define HELP_NOT_SAFE                                                          \
    "This looks for vibration causes. It does not show that the vehicle is "   \
    "safe to drive. The vehicle maker's figures come first."

#endif
