/* The first look at a zip from elsewhere (PKWARE's APPNOTE, 4.3.16: end of
 * central directory record). */
#include "archive.h"

#include "disk.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    END_BYTES = 22, LOCATOR_BYTES = 20, ENTRY_BYTES = 46,
    COMMENT_MAX = 65535, TAIL_BYTES = END_BYTES + LOCATOR_BYTES
};

static uint32_t little(const unsigned char *at, int bytes)
{
    uint32_t value = 0;
    while (bytes-- > 0)
        value = value << 8 | at[bytes];
    return value;
}

struct tail {
    uint64_t size;              /* of the file */
    unsigned char head[4], bytes[TAIL_BYTES];
};

/* False: errno says why; too short a file has a tail of zeros. */
static bool read_tail(int file, struct tail *tail)
{
    struct stat about;
    if (fstat(file, &about) != 0)
        return false;
    tail->size = (uint64_t)about.st_size;
    if (!S_ISREG(about.st_mode) || about.st_size < TAIL_BYTES)
        return true;
    return pread(file, tail->head, sizeof tail->head, 0) >= 0 &&
           pread(file, tail->bytes, TAIL_BYTES,
                 about.st_size - TAIL_BYTES) >= 0;
}

/* Where another record of the kind hides in a comment, it is not the one that
 * we go by: we take none with a comment. */
static bool is_whole(const struct tail *tail)
{
    const unsigned char *end = tail->bytes + LOCATOR_BYTES;
    uint64_t table = little(end + 12, 4), at = little(end + 16, 4);
    return memcmp(end, "PK\5\6", 4) == 0 && little(end + 20, 2) == 0 &&
           memcmp(tail->bytes, "PK\6\7", 4) != 0 &&
           memcmp(tail->head, "PK\3\4", 4) == 0 &&
           little(end + 4, 4) == 0 && /* one disk, this one */
           little(end + 8, 2) == little(end + 10, 2) &&
           at + table + END_BYTES == tail->size &&
           table >= (uint64_t)ENTRY_BYTES * little(end + 10, 2);
}

enum ht_status ht_archive_look(const char *path, const char *called,
                               struct ht_error *err)
{
    struct tail tail = { 0 };
    int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return ht_fail(err, STORE_ARCHIVE_NOT_OPENED, called,
                       strerror(errno));
    bool read = read_tail(file, &tail);
    int failure = errno;
    (void)close(file);
    if (!read)
        return ht_fail(err, STORE_ARCHIVE_NOT_OPENED, called,
                       strerror(failure));
    if (!is_whole(&tail))
        return ht_fail(err, STORE_ARCHIVE_NO_END, called);
    unsigned entries = little(tail.bytes + LOCATOR_BYTES + 10, 2);
    if (entries < 1 || entries > ARCHIVE_ENTRIES_MAX)
        return ht_fail(err, STORE_ARCHIVE_ENTRIES, called, entries,
                       ARCHIVE_ENTRIES_MAX);
    return HT_OK;
}
