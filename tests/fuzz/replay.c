/* Feeds files, or every file of folders, to the target it is linked with:
 * the corpus without libFuzzer, by any compiler. Each file is read once with
 * memory and several times with allocations refused. */
#include "harness.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>

enum { FILE_BYTES_MAX = 1 << 20, REFUSED_RUNS = 16 };

static const long KILOBYTES_MAX = 256 * 1024;

static size_t replayed;

static bool replay_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    uint8_t *all = malloc(FILE_BYTES_MAX);
    if (!file || !all) {
        (void)fprintf(stderr, "%s cannot be read\n", path);
        return false;
    }
    size_t length = fread(all, 1, FILE_BYTES_MAX, file);
    (void)fclose(file);
    /* a copy of its own size, so that a sanitizer sees the first byte after */
    uint8_t *data = malloc(length > 0 ? length : 1);
    if (!data)
        return false;
    memcpy(data, all, length);
    free(all);
    (void)LLVMFuzzerTestOneInput(data, length);
    free(data);
    replayed++;
    return true;
}

static bool replay_folder(const char *path)
{
    DIR *folder = opendir(path);
    bool fine = folder != NULL;
    struct dirent *entry;
    while (folder && (entry = readdir(folder))) {
        char name[1024];
        if (entry->d_name[0] == '.')
            continue;
        (void)snprintf(name, sizeof name, "%s/%s", path, entry->d_name);
        fine = replay_file(name) && fine;
    }
    if (folder)
        (void)closedir(folder);
    return fine;
}

int main(int count, char **paths)
{
    bool fine = true;
    struct rusage usage;
    struct stat known;
    fuzz_refused_runs = REFUSED_RUNS;
    for (int i = 1; i < count; i++)
        fine = (stat(paths[i], &known) == 0 && S_ISDIR(known.st_mode)
                    ? replay_folder(paths[i])
                    : replay_file(paths[i])) &&
               fine;
    (void)getrusage(RUSAGE_SELF, &usage);
    (void)printf("%zu inputs replayed, %ld MB at most\n", replayed,
                 usage.ru_maxrss / 1024);
    if (usage.ru_maxrss > KILOBYTES_MAX)
        (void)fprintf(stderr, "%ld MB is the limit\n", KILOBYTES_MAX / 1024);
    return fine && replayed > 0 && usage.ru_maxrss <= KILOBYTES_MAX ? 0 : 1;
}
