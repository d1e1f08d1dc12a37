/* help.h - what --help prints, from the tables of commands and options. */
#ifndef HALFTURN_COMMAND_HELP_H
#define HALFTURN_COMMAND_HELP_H

#include "commands.h"

void help_program(struct ht_text *text);
void help_command(struct ht_text *text, const struct command *command);

/* The sentences of a command's cautions, one after another; NULL ends. Room
 * for HELP_CAUTIONS of them. */
enum { HELP_CAUTIONS = 8 };
void help_cautions(const struct command *command,
                   const char *sentence[HELP_CAUTIONS]);

/* One line for each exit code: "0", "done". */
struct help_exit {
    const char *code, *meaning;
};
extern const struct help_exit help_exits[]; /* ends with a NULL code */

/* Bash completion, written to a file by the build. */
void completion_write(struct ht_text *text);

#endif
