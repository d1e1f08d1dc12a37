/* given_archive.h - archives for a store to let in, and what must hold when it
 * does not. */
#ifndef HALFTURN_TESTS_GIVEN_ARCHIVE_H
#define HALFTURN_TESTS_GIVEN_ARCHIVE_H

#include "close.h"
#include "given_store.h"
#include "refused.h"
#include "zip_bytes.h"

#define err given_err           /* the C library has an err of its own */
extern struct ht_error err;
extern struct ht_store *store;  /* an empty one for each test */
extern struct ht_store_case made;

int archive_begin(void **state);
int archive_end(void **state);

static const char sheet[] = "{\"halfturn\": 1, \"title\": \"From elsewhere\", "
                            "\"drive\": {\"recording\": \"a.wav\"}}";

enum ht_status import(const char *path);
void assert_nothing_kept(void);
#define assert_not_let_in(path, ...)                                           \
    do {                                                                       \
        assert_refused(import(path), __VA_ARGS__);                             \
        assert_nothing_kept();                                                 \
    } while (0)

/* An archive with a sheet and one file, to be changed by the caller. */
struct zip_bytes good(void);
const char *written(const struct zip_bytes *zip);
/* A sheet, and one further part. */
const char *with(struct zip_part part);

#endif
