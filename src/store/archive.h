/* archive.h - what a case's zip may be: the same going out as coming in. */
#ifndef HALFTURN_STORE_ARCHIVE_H
#define HALFTURN_STORE_ARCHIVE_H

#include "files.h"

enum {
    ARCHIVE_ENTRIES_MAX = 1 + HT_STORE_CASE_FILES_MAX,
    ARCHIVE_RATIO_MAX = 200,
    UNIX_KIND = 0170000, UNIX_FILE = 0100000 /* as zip has modes, anywhere */
};

/* Of the contents, unpacked. A little less than 4 GiB, so that no archive of
 * ours needs the zip format's larger numbers, which are not read. */
#define ARCHIVE_BYTES_MAX (((unsigned long long)4 << 30) - (1 << 20))

#define ARCHIVE_SHEET "case.json"
#define ARCHIVE_FILES "files/"

/* The end of the archive, before any library builds on it: the number of
 * entries, and that the table of entries ends where the end begins and the end
 * where the file does. `called`: the archive, in refusals. */
enum ht_status ht_archive_look(const char *path, const char *called,
                               struct ht_error *err);

#endif
