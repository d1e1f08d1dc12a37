/* foreign.h - sound files of kinds that phones write and that are not read
 * here: the refusal holds the line that converts the file. */
#ifndef HALFTURN_RECORDING_FOREIGN_H
#define HALFTURN_RECORDING_FOREIGN_H

#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stddef.h>

/* HT_OK when the first bytes are not those of such a kind. */
enum ht_status ht_foreign_refuse(const char *path, const unsigned char *head,
                                 size_t length, struct ht_error *err);

/* The line to type, with the names quoted for a shell. */
void ht_foreign_line(struct ht_text *line, const char *path);

#endif
