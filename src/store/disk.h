/* disk.h - files and folders by their descriptors; errno says what failed. */
#ifndef HALFTURN_STORE_DISK_H
#define HALFTURN_STORE_DISK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A folder in another one, made if it is not there; -1: failed. */
int ht_disk_folder(int at, const char *name);

bool ht_disk_write(int file, const void *bytes, size_t length);

/* Bytes read, 0 at the end, -1: failed. */
ptrdiff_t ht_disk_read(int file, void *bytes, size_t length);

/* Has the disk write that piece now and waits for it, as far as it can be
 * done; promises nothing. */
void ht_disk_push(int file, uint64_t at, uint64_t length);

/* A name in the folder that holds `path` is on the disk. */
bool ht_disk_sync_above(const char *path);

/* Calls `each` for every name in the folder but "." and ".."; false: the
 * folder cannot be read. */
bool ht_disk_list(int folder, void (*each)(void *context, const char *name),
                  void *context);

/* A file, or a folder with the files and folders in it, as far as it can be
 * done. */
void ht_disk_remove(int at, const char *name);

#endif
