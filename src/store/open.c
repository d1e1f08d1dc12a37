/* A store's folder: who has it, what stands in it, what was left over. */
#include "attachment.h"
#include "base.h"
#include "common/memory.h"
#include "disk.h"
#include "inside.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static const uint64_t FILE_BYTES_MAX = (uint64_t)2 << 30;
static const uint64_t ALL_BYTES_MAX = (uint64_t)64 << 30;

static enum ht_status make_folder(const char *folder, struct ht_error *err)
{
    if (mkdir(folder, 0700) != 0)
        return errno == EEXIST ? HT_OK
                               : ht_fail(err, STORE_FOLDER_NOT_MADE, folder,
                                         strerror(errno));
    if (!ht_disk_sync_above(folder))
        return ht_fail(err, STORE_FOLDER_NOT_MADE, folder, strerror(errno));
    return HT_OK;
}

/* The lock is the folder's own: there is no file to be left behind. */
static enum ht_status take_folder(struct ht_store *store, const char *folder,
                                  struct ht_error *err)
{
    size_t length = strlen(folder);
    while (length > 1 && folder[length - 1] == '/')
        length--;
    store->folder = ht_copy_text(folder, length);
    store->called = store->folder;
    if (!store->folder)
        return ht_fail(err, STORE_NO_MEMORY, folder);
    enum ht_status status = make_folder(folder, err);
    if (status != HT_OK)
        return status;
    store->at = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (store->at < 0)
        return ht_fail(err, STORE_FOLDER_NOT_OPENED, folder, strerror(errno));
    if (flock(store->at, LOCK_EX | LOCK_NB) == 0)
        return HT_OK;
    if (errno == EWOULDBLOCK)
        return ht_fail(err, STORE_IN_USE, folder);
    return ht_fail(err, STORE_FOLDER_NOT_OPENED, folder, strerror(errno));
}

static void note_any(void *any, const char *name)
{
    (void)name;
    *(bool *)any = true;
}

/* Attachments without their database are not thrown away for a new one. */
static enum ht_status check_not_lost(const struct ht_store *store,
                                     struct ht_error *err)
{
    struct stat base;
    bool any = false;
    if (fstatat(store->at, "cases.db", &base, 0) == 0 && base.st_size > 0)
        return HT_OK;
    int folder = openat(store->at, "attachments",
                        O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0)
        return HT_OK;
    bool listed = ht_disk_list(folder, note_any, &any);
    (void)close(folder);
    if (any || !listed)
        return ht_fail(err, STORE_NO_BASE, store->called);
    return HT_OK;
}

static enum ht_status make_folders(struct ht_store *store,
                                   struct ht_error *err)
{
    store->attachments = ht_disk_folder(store->at, "attachments");
    if (store->attachments >= 0)
        store->arriving = ht_disk_folder(store->at, "arriving");
    if (store->arriving < 0 || fsync(store->at) != 0)
        return ht_fail(err, STORE_FOLDER_NOT_OPENED, store->called,
                       strerror(errno));
    return HT_OK;
}

static enum ht_status open_in(struct ht_store *store, const char *folder,
                              struct ht_error *err)
{
    enum ht_status status = take_folder(store, folder, err);
    if (status == HT_OK)
        status = check_not_lost(store, err);
    if (status == HT_OK)
        status = ht_base_open(store, &ht_store_forms, err);
    if (status == HT_OK)
        status = make_folders(store, err);
    if (status == HT_OK)
        status = ht_attachments_sweep(store, err);
    return status;
}

enum ht_status ht_store_open(struct ht_store **store, const char *folder,
                             const struct ht_store_limits *limits,
                             struct ht_error *err)
{
    *store = NULL;
    struct ht_store *made = ht_allocate(1, sizeof *made);
    if (!made)
        return ht_fail(err, STORE_NO_MEMORY, folder);
    made->at = made->attachments = made->arriving = -1;
    if (limits)
        made->limits = *limits;
    if (made->limits.file_bytes_max == 0)
        made->limits.file_bytes_max = FILE_BYTES_MAX;
    if (made->limits.all_bytes_max == 0)
        made->limits.all_bytes_max = ALL_BYTES_MAX;
    enum ht_status status = open_in(made, folder, err);
    if (status == HT_OK)
        *store = made;
    else
        ht_store_close(made);
    return status;
}

void ht_store_call_short(struct ht_store *store)
{
    const char *slash = strrchr(store->folder, '/');
    if (slash && slash[1])
        store->called = slash + 1;
}

void ht_store_put_off(struct ht_store *store)
{
    store->puts_off = true;
}

/* The lock last. */
void ht_store_close(struct ht_store *store)
{
    if (!store)
        return;
    (void)sqlite3_close(store->base);
    const int files[] = { store->attachments, store->arriving, store->at };
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++)
        if (files[i] >= 0)
            (void)close(files[i]);
    ht_release(store->folder);
    ht_release(store);
}

void ht_store_release(void *list)
{
    ht_release(list);
}
