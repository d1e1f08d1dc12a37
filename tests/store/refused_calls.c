/* The store's own calls for files, by the linker's --wrap. */
#include "shim.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <sys/stat.h>
#include <unistd.h>

struct faults call_faults;
int call_errno = EIO;

static bool refused(void)
{
    if (!faults_strike(&call_faults))
        return false;
    errno = call_errno;
    return true;
}

#define FAULTY(type, name, parameters, arguments)                              \
    type __real_##name parameters;                                             \
    type __wrap_##name parameters;                                             \
    type __wrap_##name parameters                                              \
    {                                                                          \
        return refused() ? -1 : __real_##name arguments;                       \
    }

FAULTY(int, mkdir, (const char *path, mode_t mode), (path, mode))
FAULTY(int, mkdirat, (int at, const char *path, mode_t mode), (at, path, mode))
FAULTY(int, fsync, (int file), (file))
FAULTY(int, fchmod, (int file, mode_t mode), (file, mode))
FAULTY(int, flock, (int file, int how), (file, how))
FAULTY(int, renameat, (int a, const char *b, int c, const char *d),
       (a, b, c, d))
FAULTY(int, linkat, (int a, const char *b, int c, const char *d, int e),
       (a, b, c, d, e))
FAULTY(int, symlinkat, (const char *a, int b, const char *c), (a, b, c))
FAULTY(int, unlinkat, (int a, const char *b, int c), (a, b, c))
FAULTY(ssize_t, read, (int file, void *bytes, size_t length),
       (file, bytes, length))
FAULTY(ssize_t, pread, (int file, void *bytes, size_t length, off_t at),
       (file, bytes, length, at))
FAULTY(ssize_t, write, (int file, const void *bytes, size_t length),
       (file, bytes, length))

/* With the mode, which is not looked at where nothing is made. */
static mode_t mode_in(va_list arguments, int flags)
{
    return flags & O_CREAT ? va_arg(arguments, mode_t) : 0;
}

int __real_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...)
{
    va_list arguments;
    va_start(arguments, flags);
    mode_t mode = mode_in(arguments, flags);
    va_end(arguments);
    return refused() ? -1 : __real_open(path, flags, mode);
}

int __real_openat(int at, const char *path, int flags, ...);
int __wrap_openat(int at, const char *path, int flags, ...);
int __wrap_openat(int at, const char *path, int flags, ...)
{
    va_list arguments;
    va_start(arguments, flags);
    mode_t mode = mode_in(arguments, flags);
    va_end(arguments);
    return refused() ? -1 : __real_openat(at, path, flags, mode);
}
