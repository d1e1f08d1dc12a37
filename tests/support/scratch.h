/* scratch.h - files that a test writes: in a folder of their own under
 * TMPDIR, removed by scratch_end. */
#ifndef HALFTURN_TESTS_SCRATCH_H
#define HALFTURN_TESTS_SCRATCH_H

#include <stddef.h>

/* For cmocka's group set-up and tear-down. */
int scratch_begin(void **state);
int scratch_end(void **state);

/* Path of `name` in the folder; good until the next call. */
const char *scratch_path(const char *name);

/* Writes the file anew and returns its path. */
const char *scratch_file(const char *name, const void *bytes, size_t length);
const char *scratch_text(const char *name, const char *text);

#endif
