#include "near_file.h"

#include "place.h"
#include "texts.h"

#include "document/nearest.h"

#include <dirent.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

enum { ENTRIES_MAX = 5000 };

/* The path itself is there, and what it points to is not. */
static bool is_link_to_nowhere(const char *path)
{
    struct stat known;
    return lstat(path, &known) == 0 && S_ISLNK(known.st_mode);
}

enum ht_status near_file(enum ht_status status, const char *path,
                         struct ht_error *err)
{
    struct place place;
    if (status != HT_CANNOT_READ || access(path, F_OK) == 0 ||
        place_of(&place, path, NULL) != HT_OK)
        return status;
    if (is_link_to_nowhere(path))
        return ht_fail(err, CASE_LINK_NOWHERE, path);
    struct nearest nearest = { .name = place.name };
    DIR *folder = opendir(place.folder);
    for (size_t i = 0; folder && i < ENTRIES_MAX; i++) {
        const struct dirent *entry = readdir(folder);
        if (!entry)
            break;
        if (strcasecmp(entry->d_name, place.name) == 0) {
            (void)snprintf(nearest.found, sizeof nearest.found, "%.63s",
                           entry->d_name);
            break;
        }
        if (entry->d_name[0] != '.')
            ht_nearest_offer(&nearest, entry->d_name);
    }
    if (folder)
        (void)closedir(folder);
    return nearest.found[0]
               ? ht_fail(err, CASE_FILE_NEAR, path, nearest.found)
               : status;
}

static enum ht_status near_named(enum ht_status status, const char *folder,
                                 const char *name, struct ht_error *err)
{
    char path[8192];
    if (!name)
        return status;
    bool whole = name[0] == '/' || strcmp(folder, ".") == 0;
    int length = snprintf(path, sizeof path, "%s%s%s", whole ? "" : folder,
                          whole ? "" : "/", name);
    return length > 0 && (size_t)length < sizeof path
               ? near_file(status, path, err)
               : status;
}

enum ht_status near_file_of_sheet(enum ht_status status, const char *folder,
                                  const struct ht_sheet *sheet,
                                  struct ht_error *err)
{
    for (size_t i = 0; i < sheet->drive_count && i < 1; i++) {
        status = near_named(status, folder, sheet->drives[i].recording, err);
        status = near_named(status, folder, sheet->drives[i].speed.file, err);
    }
    return status;
}
