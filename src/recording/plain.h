/* plain.h - rows of a table that hold plain numbers and nothing else. */
#ifndef HALFTURN_RECORDING_PLAIN_H
#define HALFTURN_RECORDING_PLAIN_H

#include <stddef.h>

/* Reads `count` numbers with `separator` between them, up to the end of the
 * line. Returns the start of the next line, or NULL: then the line wants the
 * careful reader of table.c, whatever it holds, and value[] is spoilt. The
 * line ends with '\n', with HT_DECIMAL_BEHIND readable bytes behind it; mark
 * and separator differ. */
const char *ht_plain_row(const char *line, char separator, char mark,
                         double *value, size_t count);

#endif
