/* serve: the page for a browser, until somebody ends it. */
#include "commands.h"
#include "texts.h"

#include "page/page.h"

#include <errno.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

enum { USUAL_PORT = 4290, BEAT_S = 3 };

/* Where a person's data stand by the XDG Base Directory Specification 0.8. */
static enum ht_status usual_folder(char *path, size_t size,
                                   struct ht_error *err)
{
    const char *data = getenv("XDG_DATA_HOME");
    const char *home = getenv("HOME");
    int length = -1;
    if (data && data[0] == '/')
        length = snprintf(path, size, "%s/halfturn", data);
    else if (home && home[0] == '/')
        length = snprintf(path, size, "%s/.local/share/halfturn", home);
    return length > 0 && (size_t)length < size ? HT_OK
                                               : ht_fail(err, SERVE_NO_HOME);
}

/* The folders above it; the store makes the last one. */
static enum ht_status make_above(char *path, struct ht_error *err)
{
    for (char *at = path + 1; (at = strchr(at, '/')); at++) {
        *at = '\0';
        bool there = mkdir(path, 0700) == 0 || errno == EEXIST;
        if (!there)
            return ht_fail(err, SERVE_NO_FOLDER, path, strerror(errno));
        *at = '/';
    }
    return HT_OK;
}

static enum ht_status say_address(const struct server *server,
                                  const char *folder, struct ht_error *err)
{
    bool said = printf(SERVE_ADDRESS, server_address(server), folder) > 0 &&
                fflush(stdout) == 0;
    return said ? HT_OK : ht_fail(err, SERVE_NOT_SAID, strerror(errno));
}

/* Signals that end it are blocked in every thread and waited for here. */
static void wait_for_end(struct server *server, const sigset_t *ends)
{
    const struct timespec beat = { .tv_sec = BEAT_S };
    while (sigtimedwait(ends, NULL, &beat) < 0)
        server_tend(server);
}

static enum ht_status serve(const struct page_options *options,
                            struct ht_error *err)
{
    struct server *server;
    sigset_t ends;
    (void)sigemptyset(&ends);
    (void)sigaddset(&ends, SIGTERM);
    (void)sigaddset(&ends, SIGINT);
    (void)sigaddset(&ends, SIGHUP);
    (void)sigprocmask(SIG_BLOCK, &ends, NULL);
    (void)signal(SIGPIPE, SIG_IGN);
    enum ht_status status = server_start(&server, options, err);
    if (status != HT_OK)
        return status;
    status = say_address(server, options->folder, err);
    if (status == HT_OK)
        wait_for_end(server, &ends);
    server_stop(server);
    return status;
}

enum ht_status command_serve(const struct options *options,
                             struct ht_text *out, struct ht_error *err)
{
    char folder[4096];
    enum ht_status status = HT_OK;
    struct page_options wanted = {
        .folder = options->folder,
        .shop = options->shop,
        .port = isnan(options->port) ? USUAL_PORT : (unsigned)options->port,
    };
    (void)out;
    if (options->word_count > 0)
        return ht_fail(err, SERVE_NO_WORDS, options->words[0]);
    if (!wanted.folder) {
        status = usual_folder(folder, sizeof folder, err);
        if (status == HT_OK)
            status = make_above(folder, err);
        wanted.folder = folder;
    }
    return status == HT_OK ? serve(&wanted, err) : status;
}
