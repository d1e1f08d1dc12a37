/* given_store.h - a store in a folder of its own, and what goes into it. */
#ifndef HALFTURN_TESTS_GIVEN_STORE_H
#define HALFTURN_TESTS_GIVEN_STORE_H

#include "halfturn/store.h"

#include <stdbool.h>

/* For cmocka's set-up and tear-down of each test: a new empty folder, in
 * memory where the machine has such a place. */
int given_begin(void **state);
int given_end(void **state);

/* A path in the folder; good until the eighth next call. */
const char *given_path(const char *name);
#define STORE_FOLDER given_path("store")

/* Fails the test when it cannot. */
struct ht_store *given_open(void);
struct ht_store_case given_case(struct ht_store *store, const char *title);
struct ht_store_file given_attach(struct ht_store *store, int64_t id,
                                  const char *name, const char *text);
struct ht_arrival *given_arrival(struct ht_store *store, const void *bytes,
                                 size_t length);

/* A sheet's JSON; good until the next call. `more` goes in as it is. */
const char *given_sheet(const char *title, const char *more);

void given_write(const char *path, const void *bytes, size_t length);
/* Bytes of the file, or -1. */
long given_size(const char *path);
/* Names in a folder, but for "." and "..". */
size_t given_count(const char *path);

/* On the database of a closed store: runs it; the first value of its first
 * row as a number, -1 without one. */
long long given_sql(const char *sql);

#endif
