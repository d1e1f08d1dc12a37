#include "shim.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

struct faults file_faults, memory_faults;
bool file_faults_are_full;

bool faults_strike(struct faults *faults)
{
    faults->asked++;
    bool strikes = faults->at > 0 &&
                   (faults->for_good ? faults->asked >= faults->at
                                     : faults->asked == faults->at);
    faults->injected += strikes;
    return strikes;
}

static bool strikes(void)
{
    return faults_strike(&file_faults);
}

/* ---- files: the real one stands behind ours in the same memory ---------- */

static sqlite3_vfs *real;

static sqlite3_file *behind(sqlite3_file *file)
{
    return file + 1;
}

static int shim_close(sqlite3_file *file)
{
    return behind(file)->pMethods->xClose(behind(file));
}

static int shim_read(sqlite3_file *file, void *bytes, int length,
                     sqlite3_int64 at)
{
    if (strikes())
        return SQLITE_IOERR_READ;
    return behind(file)->pMethods->xRead(behind(file), bytes, length, at);
}

static int shim_write(sqlite3_file *file, const void *bytes, int length,
                      sqlite3_int64 at)
{
    if (strikes())
        return file_faults_are_full ? SQLITE_FULL : SQLITE_IOERR_WRITE;
    return behind(file)->pMethods->xWrite(behind(file), bytes, length, at);
}

static int shim_truncate(sqlite3_file *file, sqlite3_int64 size)
{
    if (strikes())
        return SQLITE_IOERR_TRUNCATE;
    return behind(file)->pMethods->xTruncate(behind(file), size);
}

static int shim_sync(sqlite3_file *file, int flags)
{
    if (strikes())
        return SQLITE_IOERR_FSYNC;
    return behind(file)->pMethods->xSync(behind(file), flags);
}

static int shim_size(sqlite3_file *file, sqlite3_int64 *size)
{
    return behind(file)->pMethods->xFileSize(behind(file), size);
}

static int shim_lock(sqlite3_file *file, int level)
{
    return behind(file)->pMethods->xLock(behind(file), level);
}

static int shim_unlock(sqlite3_file *file, int level)
{
    return behind(file)->pMethods->xUnlock(behind(file), level);
}

static int shim_check_lock(sqlite3_file *file, int *is)
{
    return behind(file)->pMethods->xCheckReservedLock(behind(file), is);
}

static int shim_control(sqlite3_file *file, int what, void *argument)
{
    return behind(file)->pMethods->xFileControl(behind(file), what, argument);
}

static int shim_sector(sqlite3_file *file)
{
    return behind(file)->pMethods->xSectorSize(behind(file));
}

static int shim_device(sqlite3_file *file)
{
    return behind(file)->pMethods->xDeviceCharacteristics(behind(file));
}

static const sqlite3_io_methods methods = {
    .iVersion = 1,
    .xClose = shim_close,
    .xRead = shim_read,
    .xWrite = shim_write,
    .xTruncate = shim_truncate,
    .xSync = shim_sync,
    .xFileSize = shim_size,
    .xLock = shim_lock,
    .xUnlock = shim_unlock,
    .xCheckReservedLock = shim_check_lock,
    .xFileControl = shim_control,
    .xSectorSize = shim_sector,
    .xDeviceCharacteristics = shim_device,
};

static int shim_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *file,
                     int flags, int *given)
{
    (void)vfs;
    file->pMethods = NULL;
    if (strikes())
        return SQLITE_CANTOPEN;
    int code = real->xOpen(real, name, behind(file), flags, given);
    if (code == SQLITE_OK)
        file->pMethods = &methods;
    return code;
}

static int shim_delete(sqlite3_vfs *vfs, const char *name, int sync)
{
    (void)vfs;
    if (strikes())
        return SQLITE_IOERR_DELETE;
    return real->xDelete(real, name, sync);
}

/* ---- memory ------------------------------------------------------------ */

static sqlite3_mem_methods plain;

static void *shim_malloc(int bytes)
{
    return faults_strike(&memory_faults) ? NULL : plain.xMalloc(bytes);
}

static void *shim_realloc(void *memory, int bytes)
{
    return faults_strike(&memory_faults) ? NULL
                                         : plain.xRealloc(memory, bytes);
}

void shim_install(void)
{
    static sqlite3_vfs shim;
    (void)sqlite3_config(SQLITE_CONFIG_GETMALLOC, &plain);
    sqlite3_mem_methods refusing = plain;
    refusing.xMalloc = shim_malloc;
    refusing.xRealloc = shim_realloc;
    (void)sqlite3_config(SQLITE_CONFIG_MALLOC, &refusing);
    /* else memory comes from a stock that never fails */
    (void)sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 0, 0);
    (void)sqlite3_initialize();
    real = sqlite3_vfs_find(NULL);
    shim = *real;
    shim.pNext = NULL;
    shim.zName = "shim";
    shim.szOsFile = real->szOsFile + (int)sizeof(sqlite3_file);
    shim.xOpen = shim_open;
    shim.xDelete = shim_delete;
    (void)sqlite3_vfs_register(&shim, 1);
}
