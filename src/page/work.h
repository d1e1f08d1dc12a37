/* work.h - one job: a sheet and its files through the workup, and written. */
#ifndef HALFTURN_PAGE_WORK_H
#define HALFTURN_PAGE_WORK_H

#include "jobs.h"

struct work_request {
    struct page *page;
    struct job_of of;
    const struct ht_text *sheet;      /* JSON */
    struct ht_keeper *keeper;
    bool (*progress)(void *context, const char *stage, double share);
    void *context;
};

struct work_result {
    struct ht_error err;              /* status HT_OK: `text` is whole */
    struct ht_text text;
};

/* The key of a case's files: their names and contents. */
enum ht_status work_files_key(char hex[HT_KEY_HEX],
                              const struct ht_store_file *list, size_t count,
                              struct ht_error *err);

void work_do(struct work_result *result, const struct work_request *request);
void work_answer(const struct work_result *result, enum job_kind kind,
                 struct answer *answer);
void work_clear(struct work_result *result);

#endif
