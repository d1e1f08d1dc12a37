/* files.h - the files of one case, as the database has them. */
#ifndef HALFTURN_STORE_FILES_H
#define HALFTURN_STORE_FILES_H

#include "inside.h"

struct case_files {
    size_t count;
    struct ht_store_file file[HT_STORE_CASE_FILES_MAX];
};

/* In the order of their names. */
enum ht_status ht_files_read(struct ht_store *store, int64_t id,
                             struct case_files *files, struct ht_error *err);

#endif
