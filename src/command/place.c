#include "place.h"

#include "texts.h"

#include <stdio.h>
#include <string.h>

enum ht_status place_of(struct place *place, const char *path,
                        struct ht_error *err)
{
    const char *slash = strrchr(path, '/');
    size_t length = slash ? (size_t)(slash - path) : 0;
    place->name = slash ? slash + 1 : path;
    if (length >= sizeof place->folder)
        return ht_fail(err, CASE_PATH_LONG, path);
    if (!slash)
        snprintf(place->folder, sizeof place->folder, ".");
    else if (length == 0)
        snprintf(place->folder, sizeof place->folder, "/");
    else {
        memcpy(place->folder, path, length);
        place->folder[length] = '\0';
    }
    return HT_OK;
}
