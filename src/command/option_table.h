/* option_table.h - the one table of options: what reads, describes, completes
 * and documents them. */
#ifndef HALFTURN_COMMAND_OPTION_TABLE_H
#define HALFTURN_COMMAND_OPTION_TABLE_H

#include "options.h"

/* PATH is a file's name, SET that of a limit set. */
enum option_kind { FLAG, TEXT, PATH, SET, NUMBER, WHOLE, ANGLE, SPEED, WORD };

struct option_word {
    const char *name;
    int value;
};

struct option_row {
    const char *name;
    char letter;
    enum option_kind kind;
    unsigned commands;  /* bits of those that know it */
    size_t offset;      /* in struct options */
    double low, high;   /* of an angle: those of the sheet's key */
    const struct option_word *words; /* ends with a NULL name */
    const char *argument, *help;
};

enum { OPTIONS = 33 };
extern const struct option_row option_rows[OPTIONS];

#endif
