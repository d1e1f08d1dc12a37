#define _GNU_SOURCE /* memfd_create */
#include "harness.h"

#include "common/memory.h"
#include "random.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <time.h>
#include <unistd.h>

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

/* FNV-1a, 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv). */
static uint64_t hash(const uint8_t *data, size_t size)
{
    uint64_t sum = 0xcbf29ce484222325u;
    for (size_t i = 0; i < size; i++)
        sum = (sum ^ data[i]) * 0x100000001b3u;
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

/* Computing time, not the clock on the wall: the machine may be busy. */
static double used_s(void)
{
    return (double)clock() / CLOCKS_PER_SEC;
}

int fuzz_run(void (*one)(const char *bytes, size_t length),
             const uint8_t *data, size_t size)
{
    const char *bytes = size > 0 ? (const char *)data : "";
    double start_s = used_s();
    refused = false;
    call = 0;
    one(bytes, size);
    FUZZ_DEMAND(used_s() - start_s <= FUZZ_SECONDS_MAX);
    refusals.state = hash(data, size);
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

const char *fuzz_file(const char *bytes, size_t length)
{
    static int handle = -1;
    static char path[40];
    static size_t there; /* bytes in the file: shortened only when it must be,
                            growing it anew costs as much as reading it */
    if (handle < 0) {
        handle = memfd_create("halfturn-fuzz", MFD_CLOEXEC);
        (void)snprintf(path, sizeof path, "/proc/self/fd/%d", handle);
    }
    FUZZ_DEMAND(handle >= 0);
    FUZZ_DEMAND(pwrite(handle, bytes, length, 0) == (ssize_t)length);
    if (length < there)
        FUZZ_DEMAND(ftruncate(handle, (off_t)length) == 0);
    there = length;
    return path;
}

void fuzz_fail(const char *file, int line, const char *what)
{
    (void)fprintf(stderr, "%s:%d: does not hold: %s\n", file, line, what);
    abort();
}
