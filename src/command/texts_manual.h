/* texts_manual.h - what the manual pages say beside the tables of commands,
 * options, questions and keys, as scdoc reads it. */
#ifndef HALFTURN_COMMAND_TEXTS_MANUAL_H
#define HALFTURN_COMMAND_TEXTS_MANUAL_H

#define MANUAL_NAME "# NAME\n\n"
#define MANUAL_SYNOPSIS "# SYNOPSIS\n\n"
#define MANUAL_DESCRIPTION "# DESCRIPTION\n\n"
#define MANUAL_COMMANDS "# COMMANDS\n\n"
#define MANUAL_OPTIONS "# OPTIONS\n\n"
#define MANUAL_EXAMPLES "# EXAMPLES\n\n"
#define MANUAL_EXITS "# EXIT STATUS\n\n"
#define MANUAL_CAUTION "# CAUTION\n\n"
#define MANUAL_SEE_ALSO "# SEE ALSO\n\n"
#define MANUAL_COMMAND_PAGE ". See "

#define MANUAL_FILES                                                           \
    "# FILES\n\n_/usr/share/halfturn/limits.yaml_\n\tThe limit sets that are " \
    "built in. An edited copy is used with "                                   \
    "*--limits-file*.\n\n_/usr/share/halfturn/catalogue.yaml_\n\tThe "         \
    "catalogue of causes that is built in. An edited copy is used with "       \
    "*--catalogue-file*.\n\n_/usr/share/doc/halfturn/examples_\n\tCase "       \
    "sheets to copy, one with the recording of a drive.\n\n"

/* The program's page. */

#define MANUAL_PROGRAM                                                         \
    "# NAME\n\nhalfturn - find out why a vehicle with a propeller shaft "      \
    "shakes\n\n# SYNOPSIS\n\n*halfturn* _COMMAND_ [_options_] "                \
    "_CASE_\n\n*halfturn* _COMMAND_ *--help*\n\n# DESCRIPTION\n\n"
#define MANUAL_WHAT_IT_DOES                                                    \
    "Halfturn turns gauge readings of universal joints into working angles "   \
    "(operating angles) and a verdict that knows the gauge's accuracy, finds " \
    "which turns of wheel, shaft and engine a road test holds, and ranks the " \
    "likely causes."
#define MANUAL_CASE                                                            \
    "A CASE is a case sheet, YAML or JSON: what is known of one vehicle with " \
    "one complaint. Files that it names lie beside it."
#define MANUAL_SHARED_OPTIONS                                                  \
    "Every command but new knows these; the rest stand on the command's own "  \
    "page."
#define MANUAL_ENVIRONMENT "# ENVIRONMENT\n\n*NO_COLOR*\n\t"
#define MANUAL_NO_COLOUR                                                       \
    "Changes nothing: no colours and no other terminal marks are ever "        \
    "printed. Progress is shown on a terminal only, and never with --quiet "   \
    "or --json."

/* The page of the case sheet. */

#define MANUAL_KIND " (_%s_)\n\n"
#define MANUAL_KIND_UNIT " (_%s_, in %s)\n\n"
#define MANUAL_KIND_RANGE " (_%s_, %s)\n\n"
#define MANUAL_KIND_UNIT_RANGE " (_%s_, in %s, %s)\n\n"
#define MANUAL_SHEET_NEW_LINE "halfturn new case.yaml"
#define MANUAL_SHEET_CHECK_LINE "halfturn angles case.yaml"
#define MANUAL_SHEET                                                           \
    "# NAME\n\nhalfturn-sheet - the case sheet: what is known of one vehicle " \
    "with one complaint\n\n"
#define MANUAL_SHEET_NEW                                                       \
    "A sheet is written from ten short questions, with every key in its "      \
    "comments:"
#define MANUAL_SHEET_CHECK "Every problem of a sheet, with line and column:"
#define MANUAL_SHEET_EXIT "A sheet with a problem ends every command with 65."

#endif
