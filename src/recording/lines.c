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
    lines->room = lines->size < BLOCK_BYTES ? lines->size : BLOCK_BYTES;
    lines->bytes = ht_reserve(lines->room + 1 + HT_DECIMAL_BEHIND, 1);
    if (!lines->bytes)
        return ht_fail(err, RECORDING_NO_MEMORY, path);
    return ht_lines_rewind(lines) || lines->status == HT_OK ? HT_OK
                                                            : lines->status;
}

void ht_lines_close(struct lines *lines)
{
    if (lines->file >= 0)
        (void)close(lines->file);
    ht_release(lines->bytes);
    *lines = (struct lines){ .file = -1 };
}

/* As many bytes as there are, or as fit. */
static bool read_block(struct lines *lines)
{
    size_t room = (size_t)(lines->bytes + lines->room - lines->filled);
    size_t wanted = lines->left < room ? lines->left : room, got = 0;
    while (got < wanted) {
        ssize_t part = read(lines->file, lines->filled + got, wanted - got);
        if (part == 0) /* it was cut meanwhile */
            lines->left = wanted = got;
        else if (part > 0)
            got += (size_t)part;
        else if (errno != EINTR) {
            lines->status = ht_fail(lines->err, RECORDING_CANNOT_READ,
                                    lines->path, strerror(errno));
            return false;
        }
    }
    if (got > 0 && memchr(lines->filled, '\0', got)) {
        lines->status = ht_fail(lines->err, RECORDING_TABLE_NO_TEXT,
                                lines->path);
        return false;
    }
    lines->filled += got;
    lines->left -= got;
    return true;
}

static bool too_long(struct lines *lines, size_t line)
{
    lines->status =
        ht_fail_at_line(lines->err, line, 0, RECORDING_TABLE_LINE,
                        lines->path, line, HT_TABLE_LINE_BYTES_MAX);
    return false;
}

/* Behind the last line that is whole. */
static char *end_of_lines(struct lines *lines)
{
    if (lines->left == 0) {
        if (lines->filled > lines->at && lines->filled[-1] != '\n')
            *lines->filled++ = '\n';
        return lines->filled;
    }
    char *end = lines->filled;
    while (end > lines->at && end[-1] != '\n')
        end--;
    return end;
}

bool ht_lines_more(struct lines *lines)
{
    if (lines->at < lines->end)
        return true;
    if (lines->status != HT_OK)
        return false;
    size_t begun = (size_t)(lines->filled - lines->at);
    memmove(lines->bytes, lines->at, begun);
    lines->at = lines->bytes;
    lines->end = lines->at;
    lines->filled = lines->at + begun;
    if (!read_block(lines))
        return false;
    lines->end = end_of_lines(lines);
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
    lines->at = lines->end = lines->filled = lines->bytes;
    if (lseek(lines->file, 0, SEEK_SET) != 0 || !ht_lines_more(lines))
        return false;
    if (lines->filled - lines->at >= 3 &&
        memcmp(lines->at, "\xef\xbb\xbf", 3) == 0)
        lines->at += 3;
    return true;
}
