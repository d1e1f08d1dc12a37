#define _GNU_SOURCE /* memfd_create */
#include "harness.h"

#include "common/memory.h"
#include "random.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

unsigned fuzz_refuse_one_in = 100;

static struct random_source refusals;
static unsigned refuse_one_of; /* of the allocations of this call */
static bool refused;

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

int fuzz_run(void (*one)(const char *bytes, size_t length),
             const uint8_t *data, size_t size)
{
    static const unsigned rates[] = { 1, 2, 5, 20, 100 };
    const char *bytes = size > 0 ? (const char *)data : "";
    refused = false;
    one(bytes, size);
    refusals.state = hash(data, size);
    if (random_bits(&refusals) % fuzz_refuse_one_in != 0)
        return 0;
    refuse_one_of =
        rates[random_bits(&refusals) % (sizeof rates / sizeof rates[0])];
    ht_memory_permit = permit;
    one(bytes, size);
    ht_memory_permit = NULL;
    refused = false;
    return 0;
}

bool fuzz_was_read(enum ht_status status, const struct ht_error *err)
{
    if (status == HT_OK)
        return true;
    FUZZ_DEMAND(status == err->status);
    FUZZ_DEMAND(err->text[0] != '\0');
    FUZZ_DEMAND(memchr(err->text, '\0', sizeof err->text) != NULL);
    FUZZ_DEMAND(status == HT_BAD_FILE || status == HT_TOO_BIG || refused);
    FUZZ_DEMAND(status != HT_BUG);
    return false;
}

const char *fuzz_file(const char *bytes, size_t length)
{
    static int handle = -1;
    static char path[40];
    if (handle < 0) {
        handle = memfd_create("halfturn-fuzz", MFD_CLOEXEC);
        (void)snprintf(path, sizeof path, "/proc/self/fd/%d", handle);
    }
    FUZZ_DEMAND(handle >= 0);
    FUZZ_DEMAND(ftruncate(handle, 0) == 0);
    FUZZ_DEMAND(pwrite(handle, bytes, length, 0) == (ssize_t)length);
    return path;
}

void fuzz_fail(const char *file, int line, const char *what)
{
    (void)fprintf(stderr, "%s:%d: does not hold: %s\n", file, line, what);
    abort();
}
