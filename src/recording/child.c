/* For prlimit, pipe2, F_SETPIPE_SZ and closefrom in a spawned process. */
#define _GNU_SOURCE /* NOLINT(bugprone-reserved-identifier) */

#include "child.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

/* A block of three channels fits: fewer changes between the processes. */
enum { PIPE_BYTES = 256 * 1024 };

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Moves a descriptor beyond the three that the child gets: with a closed
 * stdin of ours it could stand in their way. */
static int beyond_three(int *descriptor)
{
    int moved = fcntl(*descriptor, F_DUPFD_CLOEXEC, 3);
    int failure = moved < 0 ? errno : 0;
    (void)close(*descriptor);
    *descriptor = moved;
    return failure;
}

static int open_pipe(int end[2])
{
    if (pipe2(end, O_CLOEXEC) != 0)
        return errno;
    int failure = beyond_three(&end[0]);
    int other = beyond_three(&end[1]);
    if (failure == 0 && other == 0) {
        /* a smaller pipe is slower, no more */
        (void)fcntl(end[0], F_SETPIPE_SZ, PIPE_BYTES);
        return 0;
    }
    (void)close(end[0]);
    (void)close(end[1]);
    return failure ? failure : other;
}

static int add_actions(posix_spawn_file_actions_t *actions, int file, int pipe)
{
    int failure = posix_spawn_file_actions_adddup2(actions, file, 0);
    if (failure == 0)
        failure = posix_spawn_file_actions_adddup2(actions, pipe, 1);
    if (failure == 0)
        failure = posix_spawn_file_actions_addopen(actions, 2, "/dev/null",
                                                   O_WRONLY, 0);
    if (failure == 0)
        failure = posix_spawn_file_actions_addclosefrom_np(actions, 3);
    return failure;
}

/* Signals as at login: a SIGPIPE that we ignore would keep it writing. */
static int add_signals(posix_spawnattr_t *attributes)
{
    sigset_t all, none;
    (void)sigfillset(&all);
    (void)sigemptyset(&none);
    int failure = posix_spawnattr_setsigdefault(attributes, &all);
    if (failure == 0)
        failure = posix_spawnattr_setsigmask(attributes, &none);
    if (failure == 0)
        failure = posix_spawnattr_setflags(
            attributes, POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSIGMASK);
    return failure;
}

static int spawn(pid_t *id, const char *program, char *const arguments[],
                 int file, int pipe)
{
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    int failure = posix_spawn_file_actions_init(&actions);
    if (failure != 0)
        return failure;
    failure = posix_spawnattr_init(&attributes);
    if (failure == 0) {
        failure = add_actions(&actions, file, pipe);
        if (failure == 0)
            failure = add_signals(&attributes);
        if (failure == 0)
            failure = posix_spawn(id, program, &actions, &attributes,
                                  arguments, environ);
        (void)posix_spawnattr_destroy(&attributes);
    }
    (void)posix_spawn_file_actions_destroy(&actions);
    return failure;
}

static int limit_one(pid_t id, __rlimit_resource_t what, rlim_t soft,
                     rlim_t hard)
{
    struct rlimit old, limit = { soft, hard };
    /* a ceiling that stands already is not raised */
    if (prlimit(id, what, NULL, &old) != 0)
        return errno == ESRCH ? 0 : errno;
    if (old.rlim_max < limit.rlim_max)
        limit.rlim_max = old.rlim_max;
    if (limit.rlim_max < limit.rlim_cur)
        limit.rlim_cur = limit.rlim_max;
    /* ESRCH: it has ended already */
    return prlimit(id, what, &limit, NULL) == 0 || errno == ESRCH ? 0 : errno;
}

static int limit_all(pid_t id, const struct child_limits *limits)
{
    rlim_t cpu_s = (rlim_t)ceil(limits->cpu_s);
    int failure = limit_one(id, RLIMIT_CPU, cpu_s, cpu_s + 1);
    if (failure == 0)
        failure = limit_one(id, RLIMIT_CORE, 0, 0);
    /* without a limit on memory runs a sanitizer's build, which writes too */
    if (failure == 0 && limits->memory_bytes > 0)
        failure = limit_one(id, RLIMIT_FSIZE, 0, 0);
    if (failure == 0 && limits->memory_bytes > 0)
        failure = limit_one(id, RLIMIT_AS, limits->memory_bytes,
                            limits->memory_bytes);
    return failure;
}

int ht_child_start(struct child *child, const char *program,
                   char *const arguments[], int file,
                   const struct child_limits *limits)
{
    /* asked first: where a spawn is a plain fork (under valgrind, say), it
     * cannot tell that there is no such program */
    if (access(program, X_OK) != 0)
        return errno;
    int end[2], own = fcntl(file, F_DUPFD_CLOEXEC, 3);
    if (own < 0)
        return errno;
    int failure = open_pipe(end);
    if (failure != 0) {
        (void)close(own);
        return failure;
    }
    *child = (struct child){ .pipe = end[0], .limits = *limits,
                             .deadline_s = now_s() + limits->all_s };
    failure = spawn(&child->id, program, arguments, own, end[1]);
    (void)close(own);
    (void)close(end[1]);
    if (failure != 0) {
        (void)close(end[0]);
        return failure;
    }
    failure = limit_all(child->id, limits);
    if (failure != 0)
        (void)ht_child_end(child, true);
    return failure;
}

/* True when there is something to read, be it the end. */
static bool wait_for_bytes(struct child *child)
{
    double silent_until_s = now_s() + child->limits.silent_s;
    for (;;) {
        double now = now_s();
        child->late = now >= child->deadline_s;
        child->silent = now >= silent_until_s;
        if (child->late || child->silent)
            return false;
        double wait_s = fmin(child->deadline_s, silent_until_s) - now;
        struct pollfd one = { .fd = child->pipe, .events = POLLIN };
        int ready = poll(&one, 1, 1 + (int)(1000 * fmin(wait_s, 3600)));
        if (ready > 0)
            return true;
        if (ready < 0 && errno != EINTR) {
            child->failure = errno;
            return false;
        }
    }
}

size_t ht_child_read(void *context, void *to, size_t length)
{
    struct child *child = context;
    size_t got = 0;
    while (got < length && wait_for_bytes(child)) {
        ssize_t part = read(child->pipe, (char *)to + got, length - got);
        if (part == 0)
            break;
        if (part > 0)
            got += (size_t)part;
        else if (errno != EINTR) {
            child->failure = errno;
            break;
        }
    }
    return got;
}

/* The child's id once it has ended, -1 when there is no such child (whoever
 * ignores SIGCHLD gets no news of them), 0 while it runs. */
static pid_t reap(const struct child *child, int *how, int options)
{
    pid_t ended;
    do
        ended = waitpid(child->id, how, options);
    while (ended < 0 && errno == EINTR);
    return ended;
}

struct child_exit ht_child_end(struct child *child, bool at_once)
{
    struct child_exit end = { -1, -1 };
    const struct timespec pause = { .tv_nsec = 200000 };
    double until_s = now_s() + child->limits.silent_s;
    int how = 0;
    pid_t ended = 0;
    (void)close(child->pipe);
    while (!at_once && ended == 0) {
        ended = reap(child, &how, WNOHANG);
        child->silent = at_once = ended == 0 && now_s() >= until_s;
        if (ended == 0)
            (void)nanosleep(&pause, NULL);
    }
    if (ended == 0) {
        (void)kill(child->id, SIGKILL);
        ended = reap(child, &how, 0);
    }
    if (ended > 0 && WIFEXITED(how))
        end.code = WEXITSTATUS(how);
    if (ended > 0 && WIFSIGNALED(how))
        end.signal = WTERMSIG(how);
    return end;
}
