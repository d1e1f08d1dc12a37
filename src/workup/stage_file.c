/* A file by its content. Its name keys nothing: no result holds it, only the
 * sentences of a failure do, and those are not kept. */
#include "stages.h"

#include "texts.h"

#include "common/memory.h"

#include <string.h>
#include <sys/stat.h>

/* A path in the sheet's folder; NULL: out of memory. */
static char *path_beside(const char *folder, const char *name)
{
    if (!folder || name[0] == '/')
        return ht_copy_text(name, strlen(name));
    size_t head = strlen(folder), tail = strlen(name);
    char *path = ht_allocate(head + tail + 2, 1);
    if (!path)
        return NULL;
    memcpy(path, folder, head);
    path[head] = '/';
    memcpy(path + head + 1, name, tail + 1);
    return path;
}

/* A pipe can be read once only; a file that cannot be read is for its reader
 * to refuse. */
static void find_key(struct stage_file *file)
{
    struct stat status;
    file->has_key = stat(file->path, &status) == 0 &&
                    S_ISREG(status.st_mode) &&
                    ht_key_of_file(&file->key, file->path, NULL) == HT_OK;
}

static void take_known(struct stage_file *file,
                       const struct ht_workup_options *options,
                       const char *name)
{
    for (size_t i = 0; i < options->known_count && !file->known; i++)
        if (strcmp(options->known[i].name, name) == 0) {
            file->key = options->known[i].key;
            file->has_key = file->known = true;
        }
}

static bool are_keys_wanted(const struct ht_workup_options *options)
{
    return options->keeper || options->keys;
}

enum ht_status ht_stage_file_open(struct stage_file *file,
                                  const struct stage *stage, const char *name)
{
    *file = (struct stage_file){ .path = path_beside(stage->options->folder,
                                                     name) };
    if (!file->path)
        return ht_fail(stage->err, WORKUP_NO_MEMORY, name);
    take_known(file, stage->options, name);
    if (!file->known && are_keys_wanted(stage->options))
        find_key(file);
    return HT_OK;
}

enum ht_status ht_stage_file_option(struct stage_file *file,
                                    const struct stage *stage,
                                    const char *path)
{
    *file = (struct stage_file){ .path = NULL };
    if (!path)
        return HT_OK;
    file->path = ht_copy_text(path, strlen(path));
    if (!file->path)
        return ht_fail(stage->err, WORKUP_NO_MEMORY, path);
    if (are_keys_wanted(stage->options))
        find_key(file);
    return HT_OK;
}

bool ht_stage_file_hash(struct ht_digest *digest,
                        const struct stage_file *file)
{
    ht_digest_key(digest, file->has_key ? &file->key : NULL);
    return file->has_key || !file->path;
}

enum ht_status ht_stage_file_same(const struct stage_file *file,
                                  struct ht_error *err)
{
    struct ht_key now;
    if (!file->has_key || file->known)
        return HT_OK;
    enum ht_status status = ht_key_of_file(&now, file->path, err);
    if (status == HT_OK && memcmp(&now, &file->key, sizeof now) != 0)
        status = ht_fail(err, WORKUP_FILE_CHANGED, file->path);
    return status;
}

void ht_stage_file_close(struct stage_file *file)
{
    ht_release(file->path);
    *file = (struct stage_file){ .path = NULL };
}
