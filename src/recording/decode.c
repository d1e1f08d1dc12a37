#include "decode.h"

#include "child.h"
#include "stream.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#ifdef __has_feature
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define ADDRESS_SANITIZER 1
#endif
#endif
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || \
    defined(ADDRESS_SANITIZER)
/* its shadow needs more address space than any limit */
enum { MEMORY_BYTES = 0 };
#else
/* 64 channels take 30 MB; the rest is what libraries ask for themselves */
enum { MEMORY_BYTES = 256 * 1024 * 1024 };
#endif

/* Six hours of four channels take less than two minutes of each. */
static const double CPU_S = 600;
static const double ALL_S = 1800;
static const double SILENT_S = 30;

/* Where the decoder is, the first that is there: the build folder's, if the
 * build was told so, then the installed one. */
static const char *const places[] = {
#ifdef HALFTURN_DECODER_BUILT
    HALFTURN_DECODER_BUILT,
#endif
    HALFTURN_DECODER_INSTALLED,
};

enum { PLACES = sizeof places / sizeof places[0] };

struct work {
    const char *path;       /* of the sound file */
    const char *program;
    struct child child;
    struct ht_error *err;
};

static double given_or(double given, double usual)
{
    return given > 0 ? given : usual;
}

static struct child_limits limits_of(const struct ht_decoder *decoder)
{
    struct child_limits limits = {
        .memory_bytes = decoder->memory_bytes ? decoder->memory_bytes
                                              : (size_t)MEMORY_BYTES,
        .cpu_s = given_or(decoder->cpu_s, CPU_S),
        .silent_s = given_or(decoder->silent_s, SILENT_S),
        .all_s = given_or(decoder->all_s, ALL_S),
    };
    return limits;
}

static enum ht_status cannot_start(const struct work *work, int failure)
{
    if (failure == ENOENT)
        return ht_fail(work->err, RECORDING_DECODER_ABSENT, work->path,
                       work->program);
    if (failure == EACCES || failure == ENOEXEC || failure == ENOTDIR)
        return ht_fail(work->err, RECORDING_DECODER_NOT_RUN, work->path,
                       work->program);
    if (failure == ENOMEM)
        return ht_fail(work->err, RECORDING_DECODER_NO_MEMORY, work->path,
                       work->program);
    return ht_fail(work->err, RECORDING_DECODER_NOT_STARTED, work->path,
                   work->program, strerror(failure));
}

static enum ht_status start(struct work *work, int file,
                            const struct sound_patch *patch,
                            const struct ht_decoder *decoder)
{
    char at[24] = "", bytes[16] = "";
    const struct child_limits limits = limits_of(decoder);
    if (patch) {
        const unsigned char *b = patch->byte;
        (void)snprintf(at, sizeof at, "%" PRIu64, patch->at);
        (void)snprintf(bytes, sizeof bytes, "%02x%02x%02x%02x", b[0], b[1],
                       b[2], b[3]);
    }
    int failure = ENOENT;
    size_t count = decoder->program ? 1 : PLACES;
    for (size_t i = 0; i < count && failure == ENOENT; i++) {
        work->program = decoder->program ? decoder->program : places[i];
        char *arguments[] = { "halfturn-decoder", patch ? at : NULL, bytes,
                              NULL };
        failure = ht_child_start(&work->child, work->program, arguments, file,
                                 &limits);
    }
    return failure == 0 ? HT_OK : cannot_start(work, failure);
}

static enum ht_status stopped(const struct work *work, struct child_exit end)
{
    const struct child_limits *limits = &work->child.limits;
    if (end.signal == SIGXCPU)
        return ht_fail(work->err, RECORDING_DECODER_COMPUTED, work->path,
                       limits->cpu_s);
    if (end.signal > 0)
        return ht_fail(work->err, RECORDING_DECODER_CRASHED, work->path,
                       end.signal);
    return ht_fail(work->err, RECORDING_DECODER_ENDED, work->path, end.code);
}

static enum ht_status out_of_time(const struct work *work)
{
    const struct child *child = &work->child;
    if (child->silent)
        return ht_fail(work->err, RECORDING_DECODER_SILENT, work->path,
                       child->limits.silent_s);
    return ht_fail(work->err, RECORDING_DECODER_LATE, work->path,
                   child->limits.all_s);
}

static enum ht_status judge(const struct work *work, enum stream_end said,
                            struct child_exit end)
{
    if (work->child.late || work->child.silent)
        return out_of_time(work);
    if (work->child.failure != 0)
        return ht_fail(work->err, RECORDING_DECODER_PIPE, work->path,
                       strerror(work->child.failure));
    switch (said) {
    case STREAM_COMPLETE:
        return end.signal > 0 || end.code > 0 ? stopped(work, end) : HT_OK;
    case STREAM_FOREIGN:
        return ht_fail(work->err, RECORDING_DECODER_FOREIGN, work->path,
                       work->program);
    case STREAM_GARBLED:
        return ht_fail(work->err, RECORDING_DECODER_GARBLED, work->path);
    default:
        /* POSIX: what a spawn that fails late leaves behind */
        return end.code == 127 ? cannot_start(work, ENOEXEC)
                               : stopped(work, end);
    }
}

static enum ht_status run(struct work *work, const struct sound_sink *sink)
{
    const struct stream_source source = { &work->child, ht_child_read };
    enum ht_status status;
    enum stream_end said =
        ht_stream_read(&source, work->path, sink, &status, work->err);
    bool at_once = said != STREAM_COMPLETE && said != STREAM_CUT;
    at_once = at_once || work->child.late || work->child.silent;
    struct child_exit end = ht_child_end(&work->child, at_once);
    return said == STREAM_REFUSED ? status : judge(work, said, end);
}

enum ht_status ht_decode(const char *path, const struct sound_patch *patch,
                         const struct ht_decoder *decoder,
                         const struct sound_sink *sink, struct ht_error *err)
{
    static const struct ht_decoder usual = { 0 };
    struct work work = { .path = path, .err = err };
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0)
        return ht_fail(err, RECORDING_CANNOT_OPEN, path, strerror(errno));
    enum ht_status status =
        start(&work, file, patch, decoder ? decoder : &usual);
    (void)close(file);
    return status == HT_OK ? run(&work, sink) : status;
}
