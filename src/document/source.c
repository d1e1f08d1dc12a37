#include "source.h"
#include "texts.h"

#include "common/limits.h"
#include "common/memory.h"
#include "common/printable.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum ht_status too_big(struct ht_error *err, const char *name,
                              size_t most)
{
    return ht_fail(err, DOCUMENT_TOO_BIG, name, most / 1024);
}

/* One byte more than allowed is asked for, so that a pipe that has no size
 * is capped too. */
static enum ht_status read_all(struct text_source *source, FILE *file,
                               size_t most, struct ht_error *err)
{
    source->owned = ht_allocate(most + 1, 1);
    if (!source->owned)
        return ht_fail(err, DOCUMENT_NO_MEMORY, source->name);
    source->length = fread(source->owned, 1, most + 1, file);
    source->bytes = source->owned;
    if (ferror(file))
        return ht_fail(err, DOCUMENT_READING_STOPPED, source->name,
                       strerror(errno));
    if (source->length > most)
        return too_big(err, source->name, most);
    return HT_OK;
}

/* Opened without waiting, so that a named pipe nobody writes to reads as
 * empty; then waited on, so that a pipe somebody writes to is read whole. */
static FILE *open_file(const char *path)
{
    int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0)
        return NULL;
    (void)fcntl(descriptor, F_SETFL, 0);
    FILE *file = fdopen(descriptor, "rb");
    if (!file)
        (void)close(descriptor);
    return file;
}

static enum ht_status read_file(struct text_source *source, size_t most,
                                struct ht_error *err)
{
    struct stat info;
    FILE *file = open_file(source->name);
    if (!file)
        return ht_fail(err, DOCUMENT_CANNOT_OPEN, source->name,
                       strerror(errno));
    enum ht_status status;
    if (fstat(fileno(file), &info) == 0 && S_ISDIR(info.st_mode))
        status = ht_fail(err, DOCUMENT_IS_FOLDER, source->name);
    else
        status = read_all(source, file, most, err);
    (void)fclose(file);
    return status;
}

size_t ht_utf_8_ends(const char *bytes, size_t length)
{
    size_t at = 0, n = 1;
    while (at < length && bytes[at] != 0 &&
           (n = ht_character_length(bytes + at, length - at)) != 0)
        at += n;
    return at;
}

static enum ht_status check_bytes(const struct text_source *source,
                                  struct noter *noter)
{
    const unsigned char *p = (const unsigned char *)source->bytes;
    size_t at = ht_utf_8_ends(source->bytes, source->length);
    if (source->length >= 2 && (memcmp(p, "\xff\xfe", 2) == 0 ||
                                memcmp(p, "\xfe\xff", 2) == 0)) {
        ht_problem_note(noter, (struct place){ 1, 1 }, 1, DOCUMENT_UTF_16);
        return HT_BAD_FILE;
    }
    if (at >= source->length)
        return HT_OK;
    if (p[at] == 0)
        ht_problem_note(noter, ht_source_place(source, at), 1,
                        DOCUMENT_BYTE_ZERO);
    else
        ht_problem_note(noter, ht_source_place(source, at), 1,
                        DOCUMENT_NOT_UTF_8, (unsigned)p[at]);
    return HT_BAD_FILE;
}

enum ht_status ht_source_open(struct text_source *source,
                              const struct ht_source *from, struct noter *noter,
                              struct ht_error *err)
{
    size_t most = from->most_bytes ? from->most_bytes : HT_SHEET_BYTES_MAX;
    *source = (struct text_source){ .name = from->name ? from->name : "text",
                                    .bytes = from->bytes,
                                    .length = from->length };
    noter->source = source;
    enum ht_status status = HT_OK;
    if (!from->bytes)
        status = read_file(source, most, err);
    else if (from->length > most)
        status = too_big(err, source->name, most);
    if (status == HT_OK && source->length >= 3 &&
        memcmp(source->bytes, "\xef\xbb\xbf", 3) == 0) {
        source->bytes += 3; /* the mark some editors put first */
        source->length -= 3;
    }
    return status == HT_OK ? check_bytes(source, noter) : status;
}

void ht_source_close(struct text_source *source)
{
    ht_release(source->owned);
    *source = (struct text_source){ 0 };
}

struct place ht_source_place(const struct text_source *source, size_t at)
{
    struct place place = { 1, 1 };
    for (size_t i = 0; i < at && i < source->length; i++) {
        if (source->bytes[i] == '\n')
            place = (struct place){ place.line + 1, 1 };
        else if (((unsigned char)source->bytes[i] & 0xc0) != 0x80)
            place.column++;
    }
    return place;
}

const char *ht_source_line(const struct text_source *source, size_t line,
                           size_t *length)
{
    const char *start = source->bytes, *end = start + source->length;
    for (size_t n = 1; n < line && start; n++) {
        start = memchr(start, '\n', (size_t)(end - start));
        start = start ? start + 1 : NULL;
    }
    if (!start || line == 0)
        return NULL;
    const char *stop = memchr(start, '\n', (size_t)(end - start));
    *length = (size_t)((stop ? stop : end) - start);
    if (*length && start[*length - 1] == '\r')
        --*length;
    return start;
}
