/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail, ht_problem_note, ht_complain and ht_finish_problem;
 * the last three stand behind file, line, column and key. The rest are rows
 * of a text alone. */
#ifndef HALFTURN_DOCUMENT_TEXTS_H
#define HALFTURN_DOCUMENT_TEXTS_H

#include "halfturn/status.h"

/* Refusals: the file. */

#define DOCUMENT_CANNOT_OPEN                                                   \
    HT_CANNOT_READ, "%s cannot be opened: %s. Is the name right?"
#define DOCUMENT_IS_FOLDER HT_CANNOT_READ, "%s is a folder. Name a file in it."
#define DOCUMENT_READING_STOPPED                                               \
    HT_CANNOT_READ, "%s could not be read to its end: %s."
#define DOCUMENT_TOO_BIG                                                       \
    HT_TOO_BIG, "%s is larger than %zu kB, the most that is read here. "       \
                "Recordings and logs are named in it, not pasted into it."
#define DOCUMENT_NO_MEMORY                                                     \
    HT_NO_MEMORY, "There is not enough memory to read %s."
#define DOCUMENT_EMPTY                                                         \
    HT_BAD_FILE, "The file is empty. Wanted is the text of the %s."
#define DOCUMENT_UTF_16                                                        \
    HT_BAD_FILE, "The file is saved as UTF-16. Save it as UTF-8."
#define DOCUMENT_NOT_UTF_8                                                     \
    HT_BAD_FILE, "The byte 0x%02x is not UTF-8. Save the file as UTF-8."
#define DOCUMENT_BYTE_ZERO                                                     \
    HT_BAD_FILE, "A byte 0 stands here. This is not a text file, or it was "   \
                 "cut off while being saved."

/* Refusals: the first problem of a list, as an error of its own. */

#define DOCUMENT_PROBLEM_AT HT_BAD_FILE, "%s:%zu:%zu: %s"
#define DOCUMENT_PROBLEM_AT_OF                                                 \
    HT_BAD_FILE, "%s:%zu:%zu: %s (Problems in all: %zu.)"

/* Refusals: what is not YAML, or more of it than is read. */

#define DOCUMENT_TAB HT_BAD_FILE, "A tab stands here. Use blanks."
#define DOCUMENT_TAB_INDENT                                                    \
    HT_BAD_FILE, "A tab stands in the indentation. Use blanks."
#define DOCUMENT_TOO_DEEP                                                      \
    HT_BAD_FILE, "Lists and mappings stand more than %d deep here. A sheet "   \
                 "is flatter; look for a bracket too many."
#define DOCUMENT_ANCHOR                                                        \
    HT_BAD_FILE, "Anchors (&name) are not read. Write the value out."
#define DOCUMENT_ALIAS                                                         \
    HT_BAD_FILE, "Aliases (*name) are not read. Write the value out."
#define DOCUMENT_TAG HT_BAD_FILE, "Tags (!name) are not read. Remove this one."
#define DOCUMENT_CHARACTER_ZERO                                                \
    HT_BAD_FILE, "The text holds the character 0. Remove it."
#define DOCUMENT_KEY_NOT_A_WORD                                                \
    HT_BAD_FILE,                                                               \
        "A list or mapping stands where a key must be. A key is one word."
#define DOCUMENT_SECOND                                                        \
    HT_BAD_FILE, "A second document starts here. One file holds one."
#define DOCUMENT_LIST_OPEN_FROM                                                \
    HT_BAD_FILE, "The list that starts with '[' on line %zu is not closed. A " \
                 "',' or ']' is missing."
#define DOCUMENT_MAPPING_OPEN_FROM                                             \
    HT_BAD_FILE, "The mapping that starts with '{' on line %zu is not "        \
                 "closed. A ',' or '}' is missing."
#define DOCUMENT_NOT_YAML                                                      \
    HT_BAD_FILE, "This is not YAML: %s. Look at colons, quotes and brackets "  \
                 "here and on the line above."

/* The same without a status: libyaml's terms (yaml.c has the table) in the
 * words of somebody who writes a sheet. */

#define DOCUMENT_YAML_COLON                                                    \
    "A ': ' stands where no key can be. Indent the keys of one mapping "       \
    "alike, and put a text that holds ': ' in quotes."
#define DOCUMENT_YAML_KEY                                                      \
    "This line fits neither the mapping above it nor a new key. Indent the "   \
    "keys of one mapping alike, or close the quote or bracket before it."
#define DOCUMENT_YAML_ITEM                                                     \
    "A list item is wanted here: '- ' in the same column as the other items."
#define DOCUMENT_YAML_LIST_OPEN                                                \
    "The list that starts with '[' is not closed. A ',' or ']' is missing."
#define DOCUMENT_YAML_MAPPING_OPEN                                             \
    "The mapping that starts with '{' is not closed. A ',' or '}' is missing."
#define DOCUMENT_YAML_NO_COLON                                                 \
    "This key has no ': ' after it. Write 'key: value'."
#define DOCUMENT_YAML_QUOTE_OPEN                                               \
    "The file ends inside a quoted text. The closing quote is missing."
#define DOCUMENT_YAML_QUOTE_END                                                \
    "'---' or '...' stands inside a quoted text. The closing quote is "        \
    "missing."
#define DOCUMENT_YAML_ITEM_HERE                                                \
    "A list item ('- ') cannot start here. Put it on a line of its own."
#define DOCUMENT_YAML_BLOCK_HERE                                               \
    "A list or mapping cannot start here. Put it on a line of its own."
#define DOCUMENT_YAML_CONTROL "A control character stands here. Remove it."
#define DOCUMENT_YAML_ESCAPE                                                   \
    "The escape after '\\' is not known. In single quotes a backslash is "     \
    "just a backslash."
#define DOCUMENT_YAML_START                                                    \
    "This character cannot begin a value. Put the text in quotes."
#define DOCUMENT_YAML_VALUE                                                    \
    "A value is wanted here. There is a comma too many, or a bracket that is " \
    "not closed."
#define DOCUMENT_YAML_GOES_ON                                                  \
    "The file goes on after its end. One file holds one mapping."

/* Refusals: what is not JSON. */

#define DOCUMENT_JSON_ENDS                                                     \
    HT_BAD_FILE, "The file ends before its JSON does. A bracket or a quote "   \
                 "is not closed."
#define DOCUMENT_JSON_GOES_ON                                                  \
    HT_BAD_FILE, "The file goes on after the end of its JSON. One file holds " \
                 "one object."
#define DOCUMENT_JSON_KEY_TWICE                                                \
    HT_BAD_FILE, "The key just before this place stands in its object "        \
                 "already. Keep one."
#define DOCUMENT_JSON_ZERO                                                     \
    HT_BAD_FILE, "A text holds \\u0000, the character 0. Remove it."
#define DOCUMENT_JSON_NUMBER HT_BAD_FILE, "This number is too large to be read."
#define DOCUMENT_NOT_JSON                                                      \
    HT_BAD_FILE, "This is not JSON. Look for a missing comma, colon, quote "   \
                 "or bracket here or just before."

/* Refusals: keys. */

#define DOCUMENT_UNKNOWN                                                       \
    HT_BAD_FILE, "The name %s is not known here. Known are: %s."
#define DOCUMENT_UNKNOWN_NEAR                                                  \
    HT_BAD_FILE, "The name %s is not known here. Did you mean '%s'?"
#define DOCUMENT_UNKNOWN_COMMAS                                                \
    HT_BAD_FILE, "The name %s is not known here. Are these decimal commas? "   \
                 "Write 2.1, not 2,1."
#define DOCUMENT_TWICE                                                         \
    HT_BAD_FILE, "This is given twice, first on line %zu. Keep one."
#define DOCUMENT_TWICE_AS                                                      \
    HT_BAD_FILE, "This is given twice, first as '%s' on line %zu. Keep one."
#define DOCUMENT_EXCLUDES                                                      \
    HT_BAD_FILE, "'%s' and '%s' on line %zu say the same thing. Keep one."
#define DOCUMENT_MISSING HT_BAD_FILE, "The key '%s' is missing. Add it."

/* Refusals: values. What was found is the text in quotes, or one of the three
 * below it. */

#define DOCUMENT_WANTED_MAPPING                                                \
    HT_BAD_FILE, "Wanted is a mapping (lines of 'key: value'). Found: %s."
#define DOCUMENT_WANTED_MAPPINGS                                               \
    HT_BAD_FILE, "Wanted is a list of mappings. Found: %s."
#define DOCUMENT_WANTED_NAMED                                                  \
    HT_BAD_FILE, "Wanted is a mapping of names to numbers. Found: %s."
#define DOCUMENT_WANTED_TEXT HT_BAD_FILE, "Wanted is a text. Found: %s."
#define DOCUMENT_WANTED_NUMBER HT_BAD_FILE, "Wanted is a number. Found: %s."
#define DOCUMENT_WANTED_NUMBER_IN                                              \
    HT_BAD_FILE, "Wanted is a number in %s. Found: %s."
#define DOCUMENT_WANTED_DEGREES                                                \
    HT_BAD_FILE, "Wanted is a number in degrees, as 2.1 or 2d06. Found: %s."
#define DOCUMENT_WANTED_POINT                                                  \
    HT_BAD_FILE,                                                               \
        "Wanted is a number with a decimal point, not a comma. Found: %s."
#define DOCUMENT_WANTED_FINITE                                                 \
    HT_BAD_FILE, "Wanted is a number. Found: %s. Leave the key out when the "  \
                 "value is not known."
#define DOCUMENT_WANTED_WHOLE                                                  \
    HT_BAD_FILE, "Wanted is a whole number. Found: %s."
#define DOCUMENT_A_LIST "a list"
#define DOCUMENT_A_MAPPING "a mapping"
#define DOCUMENT_NOTHING "nothing"
#define DOCUMENT_OUT_OF_RANGE                                                  \
    HT_BAD_FILE, "%s is outside the plausible range %s to %s."
#define DOCUMENT_OUT_OF_RANGE_IN                                               \
    HT_BAD_FILE,                                                               \
        "%s is outside the plausible range %s to %s %s. Is it in this unit?"
#define DOCUMENT_OUT_OF_RANGE_DEGREES                                          \
    HT_BAD_FILE, "%s is outside the plausible range %s\xc2\xb0 to %s\xc2\xb0."
#define DOCUMENT_NOT_ONE_OF HT_BAD_FILE, "%s is not one of: %s."
#define DOCUMENT_NOT_ONE_OF_NEAR                                               \
    HT_BAD_FILE, "%s is not one of: %s. Did you mean '%s'?"
#define DOCUMENT_TEXT_TOO_LONG                                                 \
    HT_BAD_FILE, "The text is longer than %zu bytes. Make it shorter."

/* Refusals: how many. */

#define DOCUMENT_COUNT HT_BAD_FILE, "Values given: %zu. Wanted: %zu."
#define DOCUMENT_COUNT_MOST                                                    \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu at most."
#define DOCUMENT_COUNT_LEAST                                                   \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu at least."
#define DOCUMENT_COUNT_COMMAS                                                  \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu. Are these decimal commas? "  \
                 "Write 2.1, not 2,1."
#define DOCUMENT_PAIRS                                                         \
    HT_BAD_FILE, "The %zu values are written in pairs. Are these decimal "     \
                 "commas? Write 2.1, not 2,1."

/* Refusals: a case sheet. */

#define DOCUMENT_NO_VERSION                                                    \
    HT_BAD_FILE, "'halfturn: 1' is missing. It says that this is a case "      \
                 "sheet, and of which version. Add it as the first line."
#define DOCUMENT_NO_SUCH_VERSION                                               \
    HT_BAD_FILE, "There is no such version. Write 'halfturn: 1'."
#define DOCUMENT_NEWER                                                         \
    HT_BAD_FILE, "This sheet is of version %.40s, and this program reads "     \
                 "version %d. Use a newer program."
#define DOCUMENT_LIKE_TWICE                                                    \
    HT_BAD_FILE, "A template cannot be like another. One level is read; put "  \
                 "the keys together in one template."
#define DOCUMENT_LIKE_NO_FOLDER                                                \
    HT_BAD_FILE, "'like' names a file, and this sheet has no folder. Put the " \
                 "template's keys into the sheet."
#define DOCUMENT_LIKE_PATH                                                     \
    HT_BAD_FILE, "A template stands in the folder of its sheet. Give a file "  \
                 "name without a path."
#define DOCUMENT_LIKE_TOO_LONG                                                 \
    HT_BAD_FILE, "The path of this template is longer than %zu bytes. Move "   \
                 "the sheet and its template to a shorter path."
#define DOCUMENT_DATE                                                          \
    HT_BAD_FILE, "Wanted is a day of the calendar, year first, as "            \
                 "2026-11-20. Found: '%.40s'."
#define DOCUMENT_TEETH_SWAPPED                                                 \
    HT_BAD_FILE, "The teeth are given as %.0f and %.0f. The ring gear stands " \
                 "first, as in [41, 11]."
#define DOCUMENT_STROKES HT_BAD_FILE, "An engine has 2 or 4 strokes. Found: 3."
#define DOCUMENT_RUN_HALF                                                      \
    HT_BAD_FILE,                                                               \
        "A run has a speed it starts from and one it goes to. Give both."
#define DOCUMENT_SPEED_TWICE                                                   \
    HT_BAD_FILE, "The speed is given in two ways. Give a log, or a steady "    \
                 "speed, or from and to."
#define DOCUMENT_SPEED_FALLS                                                   \
    HT_BAD_FILE, "The speeds run from the higher to the lower. Write the "     \
                 "lower first, as in [85, 100]."
#define DOCUMENT_GEAR_ABOVE                                                    \
    HT_BAD_FILE, "The drive was in gear %.0f, but gear_ratios holds only "     \
                 "%zu. Correct the gear or the list."

/* Refusals: a driveline and its angles. */

#define DOCUMENT_CHAIN_WANTS_JOINT                                             \
    HT_BAD_FILE, "Entry %zu must be a joint. Members and joints stand in "     \
                 "turn, front to rear."
#define DOCUMENT_CHAIN_WANTS_MEMBER                                            \
    HT_BAD_FILE, "Entry %zu must be a member. Members and joints stand in "    \
                 "turn, front to rear."
#define DOCUMENT_CHAIN_JOINT_HAS                                               \
    HT_BAD_FILE, "Entry %zu is a joint and has a yoke, a tube or bearings. "   \
                 "Give these to the shaft beside it."
#define DOCUMENT_CHAIN_ENDS_IN_JOINT                                           \
    HT_BAD_FILE,                                                               \
        "The last entry is a joint. A member (pinion, axle) must follow it."
#define DOCUMENT_CHAIN_HOLDS_IT                                                \
    HT_BAD_FILE,                                                               \
        "'chain' holds this already. Put it into the entries of the chain."
#define DOCUMENT_CHAIN_YOKES                                                   \
    HT_BAD_FILE, "yoke_deg is given for %zu of %zu shafts. Give it for all "   \
                 "or for none."
#define DOCUMENT_JOINT_COUNT                                                   \
    HT_BAD_FILE,                                                               \
        "Joints given: %zu. Wanted: %zu, one between each pair of members."
#define DOCUMENT_YOKE_COUNT                                                    \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu, one for each shaft (the "    \
                 "members between the two ends)."
#define DOCUMENT_TUBE_COUNT                                                    \
    HT_BAD_FILE, "Tubes given: %zu. Wanted: %zu, one for each shaft (the "     \
                 "members between the two ends)."
#define DOCUMENT_HEADING_COUNT                                                 \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu, one for each slope."
#define DOCUMENT_SLOPE_COUNT                                                   \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu, one for each member of the " \
                 "driveline."
#define DOCUMENT_JOINT_ANGLE_COUNT                                             \
    HT_BAD_FILE,                                                               \
        "Values given: %zu. Wanted: %zu, one for each joint of the driveline."
#define DOCUMENT_MEMBER_ORDER                                                  \
    HT_BAD_FILE, "'%.60s' stands where the driveline has '%.60s'. Members "    \
                 "are listed front to rear."
#define DOCUMENT_DRIVELINE_NAME                                                \
    HT_BAD_FILE, "There are several drivelines, and entry %zu has no name. "   \
                 "Give each of them a name."
#define DOCUMENT_DRIVELINE_TWICE                                               \
    HT_BAD_FILE, "Two drivelines are called '%.60s'. Give each its own name."
#define DOCUMENT_NO_DRIVELINE                                                  \
    HT_BAD_FILE, "No driveline of this sheet is called '%.60s'. Write one of " \
                 "the names under driveline."
#define DOCUMENT_NO_DRIVELINE_NEAR                                             \
    HT_BAD_FILE, "No driveline of this sheet is called '%.60s'. Is it '%s'?"
#define DOCUMENT_OTHER_DRIVELINE                                               \
    HT_BAD_FILE, "The set names no driveline, and its readings do not fit "    \
                 "'%.60s' with its %zu members. They fit '%.60s': write "      \
                 "driveline: %.60s into the set."
#define DOCUMENT_READ_HEADINGS                                                 \
    HT_BAD_FILE, "With 'read' the headings stand beside the slopes. Give "     \
                 "each entry its heading_deg."
#define DOCUMENT_READ_NOTHING                                                  \
    HT_BAD_FILE,                                                               \
        "There is no reading for '%.60s'. Give slope_deg, flip, opposite or "  \
        "face."
#define DOCUMENT_READ_SOME_HEADINGS                                            \
    HT_BAD_FILE, "heading_deg is given for %zu of %zu members. Give it for "   \
                 "all or for none."

#define DOCUMENT_FACE_NOT_ACROSS                                               \
    HT_BAD_FILE, "A face across the axis reads near 90 degrees. Found: %s. "   \
                 "If the gauge lay along the shaft, it is a slope. If it was " \
                 "zeroed upright, add 90."
#define DOCUMENT_STRAP                                                         \
    HT_BAD_FILE, "A strap bends as its bolts are tightened and lies square "   \
                 "to nothing. Take it off and read on the cap: cap, "          \
                 "machined_flange or yoke."
#define DOCUMENT_CROSSWISE_FACE                                                \
    HT_BAD_FILE, "A face across the axis has no cap to lay the gauge "         \
                 "crosswise on. Give set_up_deg instead."
#define DOCUMENT_DRAWING_READ                                                  \
    HT_BAD_FILE, "Slope %zu was read with a gauge (flip, opposite, face or "   \
                 "crosswise_deg) and so is an inclination. Leave out "         \
                 "'slopes_are: drawing'."
#define DOCUMENT_OFFSETS_AND_HEADING                                           \
    HT_BAD_FILE, "offsets_mm says where '%.60s' runs, and its heading_deg "    \
                 "says it too. Keep one."
#define DOCUMENT_OFFSET_COUNT                                                  \
    HT_BAD_FILE, "Values given: %zu. Wanted: %zu, one for each joint centre, " \
                 "front to rear."
#define DOCUMENT_END_HEADINGS                                                  \
    HT_BAD_FILE, "end_headings_deg goes with offsets_mm. Without offsets "     \
                 "give headings_deg, one for each member."

/* Refusals: values of a sheet that do not fit each other. */

#define DOCUMENT_TUBE_WALL                                                     \
    HT_BAD_FILE, "The wall is half the tube's diameter or more. Give wall "    \
                 "thickness and outer diameter."
#define DOCUMENT_TUBE_OUTER                                                    \
    HT_BAD_FILE, "The tube is as thick as it is long. Give its outer "         \
                 "diameter, and the length between joint centres."
#define DOCUMENT_LIMITS_CROSSED                                                \
    HT_BAD_FILE, "The smallest angle allowed lies above the largest. Change "  \
                 "the two round."
#define DOCUMENT_CHANNEL_SCALE                                                 \
    HT_BAD_FILE, "A scale of 0 turns every value into 0. Give units in one "   \
                 "of the file's."
#define DOCUMENT_NAME_EMPTY                                                    \
    HT_BAD_FILE, "A name is missing before this value. Add it."

/* Refusals: writing JSON. Mistakes of whoever calls the writer, but for the
 * memory. */

#define DOCUMENT_WRITE_NO_MEMORY                                               \
    HT_NO_MEMORY, "There is not enough memory to write the JSON."
#define DOCUMENT_WRITE_TWICE                                                   \
    HT_BUG, "Writing JSON: the key '%.40s' is given twice."
#define DOCUMENT_WRITE_KEY_IN_LIST                                             \
    HT_BUG, "Writing JSON: '%.40s' is given in a list, and a list has no "     \
            "keys."
#define DOCUMENT_WRITE_NO_KEY                                                  \
    HT_BUG, "Writing JSON: a value in a mapping is given without a key."
#define DOCUMENT_WRITE_TOO_DEEP                                                \
    HT_BUG, "Writing JSON: lists and mappings stand more than %d deep."
#define DOCUMENT_WRITE_CLOSED                                                  \
    HT_BUG, "Writing JSON: a list or mapping is closed once too often."
#define DOCUMENT_WRITE_NOT_UTF_8                                               \
    HT_BUG, "Writing JSON: the text of '%.40s' is not UTF-8."

/* What follows the list of problems. */

#define DOCUMENT_PROBLEM_COUNT                                                 \
    "%s: problems found: %zu. Nothing was worked out.\n"
#define DOCUMENT_PROBLEM_COUNT_CUT                                             \
    "%s: problems found: %zu; the first %zu are shown. Nothing was worked "    \
    "out.\n"

/* The reference page (Markdown). */

#define DOCUMENT_PAGE_COUNT "%s, %zu"
#define DOCUMENT_PAGE_COUNT_RANGE "%s, %zu to %zu"
#define DOCUMENT_PAGE_COUNT_MOST "%s, up to %zu"
#define DOCUMENT_PAGE_RANGE "%s to %s"
#define DOCUMENT_PAGE_ALSO "; also `%s`"
#define DOCUMENT_PAGE_REQUIRED ". Must be given"
#define DOCUMENT_PAGE_SINCE ". Since version %d"
#define DOCUMENT_PAGE_HEAD                                                     \
    "| key | kind | unit | plausible | meaning |\n| --- | --- | --- | --- | "  \
    "--- |\n"

#endif
