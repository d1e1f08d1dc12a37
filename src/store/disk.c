/* sync_file_range */
#define _GNU_SOURCE /* NOLINT(bugprone-reserved-identifier) */
#include "disk.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { FOLDER_FLAGS = O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC };

int ht_disk_folder(int at, const char *name)
{
    if (mkdirat(at, name, 0700) != 0 && errno != EEXIST)
        return -1;
    return openat(at, name, FOLDER_FLAGS);
}

bool ht_disk_write(int file, const void *bytes, size_t length)
{
    const char *next = bytes;
    while (length > 0) {
        ssize_t done = write(file, next, length);
        if (done < 0 && errno != EINTR)
            return false;
        if (done > 0) {
            next += done;
            length -= (size_t)done;
        }
    }
    return true;
}

ptrdiff_t ht_disk_read(int file, void *bytes, size_t length)
{
    ssize_t got;
    do
        got = read(file, bytes, length);
    while (got < 0 && errno == EINTR);
    return got;
}

void ht_disk_push(int file, uint64_t at, uint64_t length)
{
    (void)sync_file_range(file, (off_t)at, (off_t)length,
                          SYNC_FILE_RANGE_WAIT_BEFORE |
                              SYNC_FILE_RANGE_WRITE |
                              SYNC_FILE_RANGE_WAIT_AFTER);
}

bool ht_disk_sync_above(const char *path)
{
    char above[4096] = ".";
    size_t length = strlen(path);
    while (length > 1 && path[length - 1] == '/')
        length--;
    while (length > 0 && path[length - 1] != '/')
        length--;
    if (length >= sizeof above) {
        errno = ENAMETOOLONG;
        return false;
    }
    if (length > 0) {
        memcpy(above, path, length);
        above[length] = '\0';
    }
    int folder = open(above, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0)
        return false;
    bool synced = fsync(folder) == 0;
    int failure = errno;
    (void)close(folder);
    errno = failure;
    return synced;
}

bool ht_disk_list(int folder, void (*each)(void *context, const char *name),
                  void *context)
{
    int again = openat(folder, ".", FOLDER_FLAGS);
    DIR *list = again >= 0 ? fdopendir(again) : NULL;
    if (!list) {
        if (again >= 0)
            (void)close(again);
        return false;
    }
    bool whole = true;
    for (;;) {
        errno = 0;
        const struct dirent *entry = readdir(list);
        if (!entry) {
            whole = errno == 0;
            break;
        }
        if (strcmp(entry->d_name, ".") != 0 &&
            strcmp(entry->d_name, "..") != 0)
            each(context, entry->d_name);
    }
    return closedir(list) == 0 && whole;
}

static void remove_in(void *context, const char *name)
{
    ht_disk_remove(*(const int *)context, name);
}

/* Only as deep as what we make ourselves: links are removed, not followed. */
void ht_disk_remove(int at, const char *name)
{
    if (unlinkat(at, name, 0) == 0 || (errno != EISDIR && errno != EPERM))
        return;
    int folder = openat(at, name, FOLDER_FLAGS);
    if (folder >= 0) {
        (void)ht_disk_list(folder, remove_in, &folder);
        (void)close(folder);
    }
    (void)unlinkat(at, name, AT_REMOVEDIR);
}
