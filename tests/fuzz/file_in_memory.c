/* The input as a file, for libFuzzer: the calls that the readers open and read
 * files with are linked to these (--wrap), which give them the bytes of the
 * input, or else go to the system. Asking the kernel took half of the time. */
#define _GNU_SOURCE /* fopencookie */
#include "harness.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* as the linker names them */
/* NOLINTBEGIN(bugprone-reserved-identifier) */
int __real_stat(const char *path, struct stat *known);
int __real_fstat(int handle, struct stat *known);
int __real_open(const char *path, int flags, ...);
ssize_t __real_read(int handle, void *to, size_t length);
off_t __real_lseek(int handle, off_t offset, int whence);
int __real_close(int handle);
FILE *__real_fopen(const char *path, const char *mode);
int __wrap_stat(const char *path, struct stat *known);
int __wrap_fstat(int handle, struct stat *known);
int __wrap_open(const char *path, int flags, ...);
ssize_t __wrap_read(int handle, void *to, size_t length);
off_t __wrap_lseek(int handle, off_t offset, int whence);
int __wrap_close(int handle);
FILE *__wrap_fopen(const char *path, const char *mode);

static const char name[] = "input";
enum { HANDLE = 1 << 28 }; /* more than the system gives */

static struct {
    const char *bytes;
    size_t length, at;
    bool open;
} input;

const char *fuzz_file(const char *bytes, size_t length)
{
    FUZZ_DEMAND(!input.open); /* the reading before has closed it */
    input.bytes = bytes;
    input.length = length;
    return name;
}

static bool is_input(const char *path)
{
    return strcmp(path, name) == 0;
}

static int describe(struct stat *known)
{
    *known = (struct stat){ .st_mode = S_IFREG | S_IRUSR,
                            .st_size = (off_t)input.length };
    return 0;
}

static ssize_t take(void *to, size_t length)
{
    size_t left = input.at < input.length ? input.length - input.at : 0;
    if (length > left)
        length = left;
    if (length > 0)
        memcpy(to, input.bytes + input.at, length);
    input.at += length;
    return (ssize_t)length;
}

static off_t go_to(off_t offset, int whence)
{
    off_t from = whence == SEEK_SET   ? 0
                 : whence == SEEK_CUR ? (off_t)input.at
                                      : (off_t)input.length;
    off_t at;
    if (__builtin_add_overflow(from, offset, &at) || at < 0) {
        errno = EINVAL;
        return -1;
    }
    input.at = (size_t)at;
    return at;
}

static int open_input(void)
{
    FUZZ_DEMAND(!input.open);
    input.open = true;
    input.at = 0;
    return HANDLE;
}

static int close_input(void)
{
    FUZZ_DEMAND(input.open);
    input.open = false;
    return 0;
}

int __wrap_stat(const char *path, struct stat *known)
{
    return is_input(path) ? describe(known) : __real_stat(path, known);
}

int __wrap_fstat(int handle, struct stat *known)
{
    return handle == HANDLE ? describe(known) : __real_fstat(handle, known);
}

int __wrap_open(const char *path, int flags, ...)
{
    va_list more;
    va_start(more, flags);
    mode_t mode = flags & O_CREAT ? va_arg(more, mode_t) : 0;
    va_end(more);
    return is_input(path) ? open_input() : __real_open(path, flags, mode);
}

ssize_t __wrap_read(int handle, void *to, size_t length)
{
    return handle == HANDLE ? take(to, length)
                            : __real_read(handle, to, length);
}

off_t __wrap_lseek(int handle, off_t offset, int whence)
{
    return handle == HANDLE ? go_to(offset, whence)
                            : __real_lseek(handle, offset, whence);
}

int __wrap_close(int handle)
{
    return handle == HANDLE ? close_input() : __real_close(handle);
}

/* The same behind the C library's streams. */
static ssize_t stream_read(void *cookie, char *to, size_t length)
{
    (void)cookie;
    return take(to, length);
}

static int stream_seek(void *cookie, off64_t *offset, int whence)
{
    (void)cookie;
    *offset = go_to(*offset, whence);
    return *offset < 0 ? -1 : 0;
}

static int stream_close(void *cookie)
{
    (void)cookie;
    return close_input();
}

FILE *__wrap_fopen(const char *path, const char *mode)
{
    if (!is_input(path))
        return __real_fopen(path, mode);
    (void)open_input();
    return fopencookie(NULL, mode,
                       (cookie_io_functions_t){ .read = stream_read,
                                                .seek = stream_seek,
                                                .close = stream_close });
}
/* NOLINTEND(bugprone-reserved-identifier) */
