/* The input as a file, for the replay of the corpus. */
#define _GNU_SOURCE /* memfd_create */
#include "harness.h"

#include <stdio.h>
#include <sys/mman.h>
#include <unistd.h>

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
