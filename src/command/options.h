/* options.h - what stands on the command line, read by one table.
 *
 * The table gives the parser, --help, the nearest-name hint, the man pages and
 * the completion. Texts point into argv.
 */
#ifndef HALFTURN_COMMAND_OPTIONS_H
#define HALFTURN_COMMAND_OPTIONS_H

#include "halfturn/report.h"
#include "halfturn/sheet.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stdbool.h>
#include <stddef.h>

enum command_bit { /* which commands know an option */
    FOR_PARTS = 1, FOR_ANGLES = 2, FOR_ORDERS = 4, FOR_RANK = 8,
    FOR_REPORT = 16, FOR_NEW = 32, FOR_SHIMS = 64,
    FOR_SERVE = 128,
    FOR_DRIVES = FOR_ORDERS | FOR_RANK | FOR_REPORT,
    FOR_ALL = FOR_PARTS | FOR_ANGLES | FOR_SHIMS | FOR_DRIVES
};

struct options {
    bool json, quiet, help;
    bool blank;         /* angles: the measuring sheet */
    bool pdf;           /* report: whatever the output is called */
    enum command_bit command;
    bool explain;       /* angles: the calculation, step by step */
    enum ht_paper paper;
    bool zeroed, drawing;                   /* what the readings are */
    const char *from;   /* new: what it starts from */
    const char *output, *limits, *limits_file, *catalogue_file, *shop, *figures;
    const char *folder; /* serve: where the cases are kept */
    double port;        /* serve; NAN: not given */
    double speed_m_s, hz, gear, shaft_rpm;  /* NAN: not given */
    double gauge_rad, step_rad, set_up_rad; /* NAN: not given */
    double crosswise_rad;                   /* NAN: not given */
    enum ht_suspension suspension;
    enum ht_surface read_on;
    enum ht_end driven_from;
    const char *headings, *yokes;           /* comma lists, degrees */
    const char *offsets, *lengths;          /* comma lists, mm */
    char **words;                           /* what is no option */
    size_t word_count;
    char **line;        /* all of it, from the program's name to NULL */
};

/* Reads argv[1..]; `command` is the bit of the command that was named. */
enum ht_status options_read(struct options *options, enum command_bit command,
                            int argc, char **argv, struct ht_error *err);

/* The options of a command, one line each, for --help. */
void options_describe(struct ht_text *text, enum command_bit command);

/* Their names, "--json --output ...", with blanks between. */
void options_names(struct ht_text *text, enum command_bit command);

/* The same for a manual page, in scdoc's form. */
void options_manual(struct ht_text *text, enum command_bit command);
/* For completion: the branches of a `case` on the option before the word. */
void options_values(struct ht_text *text);

/* A comma list of degrees into radians; false: not such a list. */
bool options_degrees(const char *list, double *angle_rad, size_t room,
                     size_t *count);
/* The same of millimetres into metres. */
bool options_lengths(const char *list, double *length_m, size_t room,
                     size_t *count);

#endif
