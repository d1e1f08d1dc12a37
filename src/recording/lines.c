#include "lines.h"
#include "texts.h"

#include "common/decimal.h"
#include "common/limits.h"
#include "common/memory.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const size_t TABLE_BYTES_MAX = (size_t)1 << 30;

/* An eighth of it, which is what one processor reads at a time, stays in that
 * one's second cache. */
enum { BLOCK_BYTES = 1024 * 1024 };

/* Before each block there is room for the line that the one before began. A
 * longer one (a remark, or to be refused) is put together without fetching. */
enum { BEGUN_BYTES = HT_TABLE_LINE_BYTES_MAX + 16 };

static enum ht_status refuse_size(struct lines *lines)
{
    if (lines->size == 0)
        return ht_fail(lines->err, RECORDING_EMPTY, lines->path);
    if (lines->size > TABLE_BYTES_MAX)
        return ht_fail(lines->err, RECORDING_TABLE_BYTES, lines->path,
                       (double)lines->size / 1e6, TABLE_BYTES_MAX >> 20);
    return HT_OK;
}

static enum ht_status open_file(struct lines *lines)
{
    struct stat known;
    if (stat(lines->path, &known) == 0 && !S_ISREG(known.st_mode) &&
        !S_ISDIR(known.st_mode)) /* opening a pipe could wait for ever */
        return ht_fail(lines->err, RECORDING_TABLE_PIPE, lines->path);
    lines->file = open(lines->path, O_RDONLY | O_CLOEXEC);
    if (lines->file < 0)
        return ht_fail(lines->err, RECORDING_CANNOT_OPEN, lines->path,
                       strerror(errno));
    if (fstat(lines->file, &known) != 0 || S_ISDIR(known.st_mode))
        return ht_fail(lines->err, RECORDING_TABLE_FOLDER, lines->path);
    lines->size = (size_t)known.st_size;
    return refuse_size(lines);
}

enum ht_status ht_lines_open(struct lines *lines, const char *path,
                             struct ht_error *err)
{
    *lines = (struct lines){ .path = path, .file = -1, .err = err };
    enum ht_status status = open_file(lines);
    if (status != HT_OK)
        return status;
    bool more = lines->size > BLOCK_BYTES;
    lines->room = more ? BLOCK_BYTES : lines->size;
    size_t around = BEGUN_BYTES + 1 + HT_DECIMAL_BEHIND;
    lines->memory = ht_reserve((lines->room + around) * (more ? 2 : 1), 1);
    if (!lines->memory)
        return ht_fail(err, RECORDING_NO_MEMORY, path);
    lines->bytes = lines->memory + BEGUN_BYTES;
    lines->other = more ? lines->bytes + lines->room + around : NULL;
    return ht_lines_rewind(lines) || lines->status == HT_OK ? HT_OK
                                                            : lines->status;
}

void ht_lines_close(struct lines *lines)
{
    if (lines->file >= 0)
        (void)close(lines->file);
    ht_release(lines->memory);
    *lines = (struct lines){ .file = -1 };
}

/* As many bytes as there are, or as fit. */
static void fetch(struct lines *lines, char *to, size_t room)
{
    struct lines_ahead *ahead = &lines->ahead;
    size_t wanted = lines->left < room ? lines->left : room, got = 0;
    *ahead = (struct lines_ahead){ .there = true, .left = lines->left };
    while (got < wanted && !ahead->failure) {
        ssize_t part = read(lines->file, to + got, wanted - got);
        if (part == 0) /* it was cut meanwhile */
            ahead->left = wanted = got;
        else if (part > 0)
            got += (size_t)part;
        else if (errno != EINTR)
            ahead->failure = errno;
    }
    ahead->no_text = got > 0 && memchr(to, '\0', got);
    ahead->left -= got;
    ahead->got = got;
}

/* What was fetched stands at lines->filled. */
static bool take_block(struct lines *lines)
{
    const struct lines_ahead ahead = lines->ahead;
    lines->ahead = (struct lines_ahead){ .there = false };
    if (ahead.failure)
        lines->status = ht_fail(lines->err, RECORDING_CANNOT_READ,
                                lines->path, strerror(ahead.failure));
    else if (ahead.no_text)
        lines->status = ht_fail(lines->err, RECORDING_TABLE_NO_TEXT,
                                lines->path);
    if (ahead.failure || ahead.no_text)
        return false;
    lines->filled += ahead.got;
    lines->left = ahead.left;
    return true;
}

bool ht_lines_can_fetch(const struct lines *lines)
{
    size_t begun = (size_t)(lines->filled - lines->end);
    return lines->other && lines->left > 0 && begun <= BEGUN_BYTES;
}

/* Behind the last line that is whole, of what stands in [at, filled) with
 * `left` bytes of the file behind it; the last line of all is ended. */
static char *end_of_lines(char *at, char **filled, size_t left)
{
    if (left == 0) {
        if (*filled > at && (*filled)[-1] != '\n')
            *(*filled)++ = '\n';
        return *filled;
    }
    char *end = *filled;
    while (end > at && end[-1] != '\n')
        end--;
    return end;
}

void ht_lines_fetch(struct lines *lines, const char **from, const char **to)
{
    size_t begun = (size_t)(lines->filled - lines->end);
    char *at = lines->other - begun;
    memcpy(at, lines->end, begun);
    fetch(lines, lines->other, lines->room);
    char *filled = lines->other + lines->ahead.got;
    *to = end_of_lines(at, &filled, lines->ahead.left);
    *from = at;
}

/* The next block behind the line that this one begins, which is copied before
 * it where it was fetched. */
static bool next_block(struct lines *lines)
{
    size_t begun = (size_t)(lines->filled - lines->at);
    char *bytes = lines->bytes;
    if (lines->ahead.there) {
        lines->bytes = lines->other;
        lines->other = bytes;
        lines->at = lines->bytes - begun;
    } else {
        memmove(bytes, lines->at, begun);
        lines->at = bytes;
    }
    lines->end = lines->at;
    lines->filled = lines->at + begun;
    if (!lines->ahead.there)
        fetch(lines, lines->filled,
              (size_t)(bytes + lines->room - lines->filled));
    return take_block(lines);
}

static bool too_long(struct lines *lines, size_t line)
{
    lines->status =
        ht_fail_at_line(lines->err, line, 0, RECORDING_TABLE_LINE,
                        lines->path, line, HT_TABLE_LINE_BYTES_MAX);
    return false;
}

bool ht_lines_more(struct lines *lines)
{
    if (lines->at < lines->end)
        return true;
    if (lines->status != HT_OK)
        return false;
    if (!next_block(lines))
        return false;
    lines->end = end_of_lines(lines->at, &lines->filled, lines->left);
    if (lines->at < lines->end)
        return true;
    return lines->left > 0 && too_long(lines, lines->line + 1);
}

bool ht_lines_next(struct lines *lines, const char **from, const char **to)
{
    while (ht_lines_more(lines)) {
        char *start = lines->at;
        char *stop = memchr(start, '\n', (size_t)(lines->end - start));
        lines->at = stop + 1;
        lines->line++;
        const char *first = start;
        while (*first == ' ' || *first == '\t' || *first == '\r')
            first++;
        if (first == stop || *first == '#')
            continue;
        *from = start;
        *to = stop;
        return stop - start <= HT_TABLE_LINE_BYTES_MAX ||
               too_long(lines, lines->line);
    }
    return false;
}

bool ht_lines_rewind(struct lines *lines)
{
    lines->left = lines->size;
    lines->line = 0;
    lines->ahead = (struct lines_ahead){ .there = false };
    lines->at = lines->end = lines->filled = lines->bytes;
    if (lseek(lines->file, 0, SEEK_SET) != 0 || !ht_lines_more(lines))
        return false;
    if (lines->filled - lines->at >= 3 &&
        memcmp(lines->at, "\xef\xbb\xbf", 3) == 0)
        lines->at += 3;
    return true;
}
