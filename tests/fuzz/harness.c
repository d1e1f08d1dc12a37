#include "harness.h"

#include "common/memory.h"
#include "random.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

unsigned fuzz_refused_runs = 0;

enum { REFUSE_ONE_IN = 100 };

static struct random_source refusals;
static unsigned refuse_one_of; /* of the allocations of this call */
static bool refused;

/* What the calls of one input gave with memory, in their order. */
static enum ht_status with_memory[8];
static size_t call;

static bool permit(size_t bytes)
{
    (void)bytes;
    bool permitted = random_bits(&refusals) % refuse_one_of != 0;
    refused = refused || !permitted;
    return permitted;
}

uint64_t fuzz_hash(uint64_t sum, const void *bytes, size_t size)
{
    const uint8_t *byte = bytes;
    for (size_t i = 0; i < size; i++)
        sum = (sum ^ byte[i]) * UINT64_C(0x100000001b3);
    return sum;
}

static void run_refused(void (*one)(const char *bytes, size_t length),
                        const char *bytes, size_t size)
{
    static const unsigned rates[] = { 1, 2, 5, 20, 100 };
    refuse_one_of =
        rates[random_bits(&refusals) % (sizeof rates / sizeof rates[0])];
    call = 0;
    ht_memory_permit = permit;
    one(bytes, size);
    ht_memory_permit = NULL;
    refused = false;
}

static double clock_s(clockid_t clock)
{
    struct timespec now;
    (void)clock_gettime(clock, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Returns the seconds it took by that clock. */
static double run_with_memory(void (*one)(const char *bytes, size_t length),
                              const char *bytes, size_t size, clockid_t clock)
{
    double start_s = clock_s(clock);
    refused = false;
    call = 0;
    one(bytes, size);
    return clock_s(clock) - start_s;
}

/* The machine may be busy, so computing time counts. To ask for it takes a
 * good part of what a short input takes, and what ended soon by the clock on
 * the wall cannot have taken more than that on each of 64 processors. */
static void run_timed(void (*one)(const char *bytes, size_t length),
                      const char *bytes, size_t size)
{
    static const double soon_s = FUZZ_SECONDS_MAX / 64;
    if (run_with_memory(one, bytes, size, CLOCK_MONOTONIC) > soon_s)
        FUZZ_DEMAND(run_with_memory(one, bytes, size,
                                    CLOCK_PROCESS_CPUTIME_ID) <=
                    FUZZ_SECONDS_MAX);
}

int fuzz_run(void (*one)(const char *bytes, size_t length),
             const uint8_t *data, size_t size)
{
    const char *bytes = size > 0 ? (const char *)data : "";
    run_timed(one, bytes, size);
    refusals.state = fuzz_hash(FUZZ_HASH_START, data, size);
    unsigned runs = fuzz_refused_runs;
    if (runs == 0)
        runs = random_bits(&refusals) % REFUSE_ONE_IN == 0;
    for (unsigned i = 0; i < runs; i++)
        run_refused(one, bytes, size);
    return 0;
}

/* A good file for which memory was refused is neither read by halves nor
 * called a bad one. */
static void judge_refused(enum ht_status status)
{
    FUZZ_DEMAND(status != HT_OK);
    FUZZ_DEMAND(status == HT_NO_MEMORY || with_memory[call] != HT_OK);
}

bool fuzz_was_read(enum ht_status status, const struct ht_error *err)
{
    FUZZ_DEMAND(call < sizeof with_memory / sizeof with_memory[0]);
    if (!ht_memory_permit)
        with_memory[call] = status;
    else if (refused)
        judge_refused(status);
    else
        FUZZ_DEMAND(status == with_memory[call]);
    call++;
    if (status != HT_OK) {
        FUZZ_DEMAND(status == err->status);
        FUZZ_DEMAND(err->text[0] != '\0');
        FUZZ_DEMAND(memchr(err->text, '\0', sizeof err->text) != NULL);
        FUZZ_DEMAND(status == HT_BAD_FILE || status == HT_TOO_BIG ||
                    (status == HT_NO_MEMORY && refused));
    }
    refused = false;
    return status == HT_OK;
}

void fuzz_fail(const char *file, int line, const char *what)
{
    (void)fprintf(stderr, "%s:%d: does not hold: %s\n", file, line, what);
    abort();
}
