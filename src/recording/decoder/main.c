/* halfturn-decoder - decodes the sound file on descriptor 0 into the pipe on
 * descriptor 1, in the words of stream.h. Not for people: the library starts
 * it, with limits on memory and time.
 *
 * halfturn-decoder [AT BYTES]: eight hexadecimal digits stand in for the four
 * bytes of the file at AT.
 */
#include "sound.h"

#include "recording/stream.h"
#include "recording/texts.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/uio.h>
#include <unistd.h>

/* Nobody listens any more, or the command line is off. */
enum { FAILED = 1 };

struct writer {
    size_t channels;
    uint64_t frames;
    bool broken;
};

static bool write_all(struct iovec *part, int parts)
{
    while (parts > 0) {
        ssize_t written = writev(STDOUT_FILENO, part, parts);
        if (written < 0 && errno != EINTR)
            return false;
        size_t done = written > 0 ? (size_t)written : 0;
        for (; parts > 0 && done >= part->iov_len; part++, parts--)
            done -= part->iov_len;
        if (parts > 0) {
            part->iov_base = (char *)part->iov_base + done;
            part->iov_len -= done;
        }
    }
    return true;
}

/* A mark and what follows it, in one go. */
static bool write_mark(struct stream_mark mark, const void *more,
                       size_t length)
{
    /* iovec's pointers serve reading too, so they are not const */
    union {
        const void *given;
        void *wanted;
    } same = { more };
    struct iovec part[] = { { &mark, sizeof mark }, { same.wanted, length } };
    return write_all(part, length > 0 ? 2 : 1);
}

/* The text is for nobody: who would read it is gone. */
static enum ht_status gone(struct writer *writer, struct ht_error *err)
{
    writer->broken = true;
    return ht_fail(err, RECORDING_SOUND_UNHEARD);
}

static enum ht_status write_head(void *context,
                                 const struct sound_format *format,
                                 struct ht_error *err)
{
    struct writer *writer = context;
    struct stream_head head = { .magic = STREAM_MAGIC,
                                .version = STREAM_VERSION,
                                .channels = (uint32_t)format->channels,
                                .rate_hz = format->rate_hz,
                                .frames = format->frames };
    memcpy(head.name, format->name, sizeof head.name);
    writer->channels = format->channels;
    const struct stream_mark mark = { STREAM_HEAD, head.channels, 0 };
    return write_mark(mark, &head, sizeof head) ? HT_OK : gone(writer, err);
}

static enum ht_status write_frames(struct writer *writer,
                                   enum stream_kind kind, const void *frames,
                                   size_t count, size_t value_bytes,
                                   struct ht_error *err)
{
    const struct stream_mark mark = { kind, (uint32_t)count, 0 };
    writer->frames += count;
    return write_mark(mark, frames, count * writer->channels * value_bytes)
               ? HT_OK
               : gone(writer, err);
}

static enum ht_status write_block(void *context, const float *frames,
                                  size_t count, struct ht_error *err)
{
    return write_frames(context, STREAM_BLOCK, frames, count, sizeof *frames,
                        err);
}

static enum ht_status write_shorts(void *context, const int16_t *frames,
                                   size_t count, struct ht_error *err)
{
    return write_frames(context, STREAM_SHORTS, frames, count, sizeof *frames,
                        err);
}

static bool write_refusal(enum ht_status status, const struct ht_error *err)
{
    size_t length = strlen(err->text);
    if (length > STREAM_TEXT_MAX)
        length = STREAM_TEXT_MAX;
    const struct stream_mark mark = { STREAM_REFUSAL, (uint32_t)length,
                                      status };
    return write_mark(mark, err->text, length);
}

static bool is_made_of(const char *text, const char *digits)
{
    return text[0] != '\0' && text[strspn(text, digits)] == '\0';
}

static bool read_patch(struct sound_patch *patch, const char *at,
                       const char *bytes)
{
    if (!is_made_of(at, "0123456789") || strlen(bytes) != 8 ||
        !is_made_of(bytes, "0123456789abcdefABCDEF"))
        return false;
    errno = 0;
    patch->at = strtoull(at, NULL, 10);
    unsigned long all = strtoul(bytes, NULL, 16);
    for (size_t i = 0; i < 4; i++)
        patch->byte[i] = (unsigned char)(all >> (8 * (3 - i)) & 0xff);
    return errno == 0;
}

int main(int count, char **arguments)
{
    struct writer writer = { 0 };
    const struct sound_sink sink = { &writer, write_head, write_block,
                                     write_shorts };
    struct sound_patch patch;
    struct ht_error err = { 0 };
    if (count != 1 &&
        (count != 3 || !read_patch(&patch, arguments[1], arguments[2])))
        return FAILED;
    FILE *file = fdopen(STDIN_FILENO, "rb");
    if (!file)
        return FAILED;
    enum ht_status status =
        ht_sound_decode(file, count == 3 ? &patch : NULL, &sink, &err);
    (void)fclose(file);
    if (writer.broken)
        return FAILED;
    const struct stream_mark end = { STREAM_END, 0, writer.frames };
    bool told = status == HT_OK ? write_mark(end, NULL, 0)
                                : write_refusal(status, &err);
    return told ? 0 : FAILED;
}
