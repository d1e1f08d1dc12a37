#include "scratch.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char folder[200], path[500];

int scratch_begin(void **state)
{
    (void)state;
    const char *where = getenv("TMPDIR");
    (void)snprintf(folder, sizeof folder, "%s/halfturn-test-XXXXXX",
                   where && *where ? where : "/tmp");
    return mkdtemp(folder) ? 0 : -1;
}

int scratch_end(void **state)
{
    (void)state;
    DIR *open = opendir(folder);
    if (!open)
        return -1;
    for (struct dirent *entry; (entry = readdir(open)) != NULL;)
        if (entry->d_name[0] != '.')
            (void)remove(scratch_path(entry->d_name));
    (void)closedir(open);
    return rmdir(folder);
}

const char *scratch_path(const char *name)
{
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

const char *scratch_file(const char *name, const void *bytes, size_t length)
{
    FILE *file = fopen(scratch_path(name), "wb");
    if (!file || (length && fwrite(bytes, 1, length, file) != length) ||
        fclose(file) != 0)
        abort();
    return path;
}

const char *scratch_text(const char *name, const char *text)
{
    return scratch_file(name, text, strlen(text));
}
