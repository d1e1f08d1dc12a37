/* harness.h - what the fuzz targets share.
 *
 * A target is one source file with one LLVMFuzzerTestOneInput that calls
 * fuzz_run. It is linked with libFuzzer for long runs and with replay.c for
 * the corpus. What the target finds wrong ends the process by FUZZ_DEMAND.
 */
#ifndef HALFTURN_TESTS_FUZZ_HARNESS_H
#define HALFTURN_TESTS_FUZZ_HARNESS_H

#include "halfturn/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* libFuzzer's entry; declared here because it brings no header for C. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Computing time that one input may take. */
#define FUZZ_SECONDS_MAX 1.0

/* Calls `one`; for one input in 100 it calls it again with allocations refused
 * at random, seeded from the input. With fuzz_refused_runs, which the replay
 * sets, it does so that many times for every input. */
int fuzz_run(void (*one)(const char *bytes, size_t length),
             const uint8_t *data, size_t size);
extern unsigned fuzz_refused_runs;

/* What a reader must return: OK, or a refusal with a sentence in *err;
 * HT_NO_MEMORY when an allocation was refused on the way, and only then. To be
 * called once after each reading. True: read, so look at what came out. */
bool fuzz_was_read(enum ht_status status, const struct ht_error *err);

/* A file without a name that holds these bytes; the path is good until the
 * next call. */
const char *fuzz_file(const char *bytes, size_t length);

/* FNV-1a, 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv): the sum so far, gone
 * on with. */
#define FUZZ_HASH_START UINT64_C(0xcbf29ce484222325)
uint64_t fuzz_hash(uint64_t sum, const void *bytes, size_t size);

/* Unlike assert it also stands in builds with NDEBUG. */
#define FUZZ_DEMAND(what)                                                      \
    ((what) ? (void)0 : fuzz_fail(__FILE__, __LINE__, #what))
_Noreturn void fuzz_fail(const char *file, int line, const char *what);

#endif
