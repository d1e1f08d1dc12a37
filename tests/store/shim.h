/* shim.h - the n-th thing that SQLite asks of the machine fails: a file
 * layer in front of its own, and an allocator. */
#ifndef HALFTURN_TESTS_STORE_SHIM_H
#define HALFTURN_TESTS_STORE_SHIM_H

#include <stdbool.h>
#include <stddef.h>

/* One running count for whoever injects: refuse number `at` (from 1; 0: none),
 * or it and all after it. */
struct faults {
    size_t at, asked, injected;
    bool for_good;
};
bool faults_strike(struct faults *faults);

extern struct faults file_faults, memory_faults;
extern bool file_faults_are_full; /* a write fails for want of room */

/* Of our own calls: refused_calls.c, in the programs that are linked so. */
extern struct faults call_faults;
extern int call_errno;          /* why they fail; EIO */

/* Before anything of SQLite is used. */
void shim_install(void);

#endif
