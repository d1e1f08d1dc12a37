#include "output.h"

#include "texts.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum ht_status write_all(FILE *file, const struct ht_text *text,
                                const char *name, struct ht_error *err)
{
    errno = 0;
    size_t done = fwrite(ht_text_get(text), 1, text->length, file);
    if (done != text->length || fflush(file) != 0)
        return ht_fail(err, OUTPUT_CUT, name,
                       errno ? strerror(errno) : OUTPUT_FAILED);
    return HT_OK;
}

/* Device files and pipes (/dev/stdout) are written to as they are. */
static int is_plain(const char *path)
{
    struct stat known;
    return stat(path, &known) != 0 || S_ISREG(known.st_mode);
}

/* From a finished file beside it: over the old one, or only where there is
 * none. Without hard links (memory sticks) the second is looked at first. */
static bool settle(const char *fresh, const char *path, bool over)
{
    if (over)
        return rename(fresh, path) == 0;
    if (link(fresh, path) == 0)
        return unlink(fresh) == 0;
    return errno != EEXIST && access(path, F_OK) != 0 &&
           rename(fresh, path) == 0;
}

static enum ht_status cannot_settle(const char *path, bool over,
                                    struct ht_error *err)
{
    return !over && errno == EEXIST
               ? ht_fail(err, NEW_THERE, path)
               : ht_fail(err, OUTPUT_CANNOT, path, strerror(errno));
}

static enum ht_status write_beside(const struct ht_text *text,
                                   const char *path, bool over,
                                   struct ht_error *err)
{
    char fresh[4096];
    int length = snprintf(fresh, sizeof fresh, "%s.new-XXXXXX", path);
    if (length < 0 || (size_t)length >= sizeof fresh)
        return ht_fail(err, OUTPUT_PATH_LONG, path);
    int descriptor = mkstemp(fresh);
    if (descriptor < 0)
        return ht_fail(err, OUTPUT_CANNOT, path, strerror(errno));
    mode_t mask = umask(0);
    (void)umask(mask);
    (void)fchmod(descriptor, 0666 & ~mask);
    FILE *file = fdopen(descriptor, "wb");
    enum ht_status status =
        file ? write_all(file, text, path, err)
             : ht_fail(err, OUTPUT_CANNOT, path, strerror(errno));
    int closed = file ? fclose(file) : close(descriptor);
    if (status == HT_OK && (closed != 0 || !settle(fresh, path, over)))
        status = cannot_settle(path, over, err);
    if (status != HT_OK)
        (void)unlink(fresh);
    return status;
}

/* Ctrl-C waits until the file is whole, so that no piece is left behind. */
static enum ht_status replace(const struct ht_text *text, const char *path,
                              bool over, struct ht_error *err)
{
    sigset_t held, before;
    (void)sigemptyset(&held);
    (void)sigaddset(&held, SIGINT);
    (void)sigaddset(&held, SIGTERM);
    (void)sigaddset(&held, SIGHUP);
    (void)sigprocmask(SIG_BLOCK, &held, &before);
    enum ht_status status = write_beside(text, path, over, err);
    (void)sigprocmask(SIG_SETMASK, &before, NULL);
    return status;
}

enum ht_status output_new(const struct ht_text *text, const char *path,
                          struct ht_error *err)
{
    if (!ht_text_ok(text))
        return ht_fail(err, OUTPUT_NO_MEMORY);
    return replace(text, path, false, err);
}

enum ht_status output_text(const struct ht_text *text, const char *path,
                           struct ht_error *err)
{
    if (!ht_text_ok(text))
        return ht_fail(err, OUTPUT_NO_MEMORY);
    if (!path || strcmp(path, "-") == 0)
        return write_all(stdout, text, OUTPUT_STANDARD, err);
    if (is_plain(path))
        return replace(text, path, true, err);
    FILE *file = fopen(path, "wb");
    if (!file)
        return ht_fail(err, OUTPUT_CANNOT, path, strerror(errno));
    enum ht_status status = write_all(file, text, path, err);
    if (fclose(file) != 0 && status == HT_OK)
        status = ht_fail(err, OUTPUT_CANNOT, path, strerror(errno));
    return status;
}

static enum ht_status make_folder(const char *folder, struct ht_error *err)
{
    struct stat known;
    if (mkdir(folder, 0777) != 0 && errno != EEXIST)
        return ht_fail(err, OUTPUT_NO_FOLDER, folder, strerror(errno));
    if (stat(folder, &known) != 0 || !S_ISDIR(known.st_mode))
        return ht_fail(err, OUTPUT_NOT_FOLDER, folder);
    return HT_OK;
}

enum ht_status output_figures(const struct ht_figures *figures,
                              const char *folder, struct ht_error *err)
{
    if (figures->count == 0)
        return ht_fail(err, OUTPUT_NO_FIGURES);
    enum ht_status status = make_folder(folder, err);
    for (size_t i = 0; i < figures->count && status == HT_OK; i++) {
        const struct ht_figure_file *file = &figures->file[i];
        char path[4096];
        int length = snprintf(path, sizeof path, "%s/%s", folder, file->name);
        status = length < 0 || (size_t)length >= sizeof path
                     ? ht_fail(err, OUTPUT_PATH_LONG, folder)
                     : output_text(&file->bytes, path, err);
    }
    return status;
}

bool progress_show(void *context, const char *stage, double share)
{
    struct progress *progress = context;
    if (!progress->wanted)
        return true;
    if (share >= 1)
        (void)fprintf(stderr, "\r%40s\r", "");
    else
        (void)fprintf(stderr, "\r%3.0f %% %-30s", 100 * share, stage);
    (void)fflush(stderr);
    progress->shown = share < 1;
    return true;
}
