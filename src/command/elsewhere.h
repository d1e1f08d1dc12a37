/* elsewhere.h - a command that another program carries out in our place. */
#ifndef HALFTURN_COMMAND_ELSEWHERE_H
#define HALFTURN_COMMAND_ELSEWHERE_H

#include "halfturn/status.h"

#include <stddef.h>

/* Becomes the first program of `places` that is there, with this command line
 * (the last word NULL). Returns when none can be run. */
enum ht_status elsewhere_run(const char *const *places, size_t count,
                             char **line, struct ht_error *err);

#endif
