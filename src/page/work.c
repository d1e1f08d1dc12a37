#include "work.h"

#include "texts.h"

#include "common/memory.h"
#include "halfturn/report.h"

#include <stdio.h>
#include <string.h>

enum ht_status work_files_key(char hex[HT_KEY_HEX],
                              const struct ht_store_file *list, size_t count,
                              struct ht_error *err)
{
    struct ht_text text = { 0 };
    for (size_t i = 0; i < count; i++)
        ht_text_addf(&text, "%s %s\n", list[i].hash, list[i].name);
    bool whole = ht_text_ok(&text);
    struct ht_key key = ht_key_of_bytes(ht_text_get(&text), text.length);
    ht_key_write(hex, &key);
    ht_text_free(&text);
    return whole ? HT_OK : ht_fail(err, PAGE_NO_MEMORY);
}

/* A case's files, as a workup wants them. */
struct files {
    char folder[4096];
    struct ht_store_file *list;
    struct ht_known_file *known;
    size_t count;
    char key[HT_KEY_HEX];       /* of names and contents */
};

static enum ht_status lay_out(struct files *files, struct page *page,
                              int64_t id, struct ht_error *err)
{
    (void)pthread_mutex_lock(&page->store_lock);
    enum ht_status status =
        ht_store_lay_out(page->store, id, files->folder,
                         sizeof files->folder, err);
    if (status == HT_OK)
        status = ht_store_files(page->store, id, &files->list, &files->count,
                                err);
    if (status == HT_OK)
        status = work_files_key(files->key, files->list, files->count, err);
    (void)pthread_mutex_unlock(&page->store_lock);
    if (status != HT_OK || files->count == 0)
        return status;
    files->known = ht_allocate(files->count, sizeof *files->known);
    if (!files->known)
        return ht_fail(err, PAGE_NO_MEMORY);
    for (size_t i = 0; i < files->count; i++)
        files->known[i] = (struct ht_known_file){ files->list[i].name,
                                                  files->list[i].key };
    return HT_OK;
}

static void put_away(struct files *files, struct page *page)
{
    if (files->folder[0]) {
        ht_store_put_away(page->store, files->folder);
        ht_store_tidy(page->store);
    }
    ht_store_release(files->list);
    ht_release(files->known);
}

/* ---- writing ----------------------------------------------------------- */

static enum ht_status write_result(struct ht_text *out,
                                   const struct ht_workup *workup,
                                   const struct work_request *request,
                                   struct ht_error *err)
{
    static const unsigned blocks[JOB_KINDS] = {
        [JOB_ANGLES] = HT_BLOCK_ANGLES,
        [JOB_SHIMS] = HT_BLOCK_SHIMS,
        [JOB_ORDERS] = HT_BLOCK_ORDERS,
        [JOB_RANK] = HT_BLOCK_ANGLES | HT_BLOCK_ORDERS | HT_BLOCK_RANK,
    };
    enum job_kind kind = request->of.kind;
    char name[40];
    if (kind < JOB_REPORT)
        return ht_report_json(out, workup, blocks[kind], err);
    (void)snprintf(name, sizeof name, PAGE_CASE_NAME,
                   (long long)request->of.id);
    struct ht_report_names names = { name, request->page->shop };
    if (kind == JOB_REPORT)
        return ht_report_html(out, workup, &names, err);
    return ht_report_pdf(out, workup, &names,
                         kind == JOB_REPORT_LETTER ? HT_PAPER_LETTER
                                                   : HT_PAPER_A4, err);
}

/* JSON results are kept; a report is written anew, its stages are kept. */
static void keep_result(const struct work_request *request,
                        const struct files *files, const struct ht_text *text)
{
    struct page *page = request->page;
    struct ht_store_result_of of = {
        request->of.id, request->of.revision, job_word(request->of.kind),
        HALFTURN_VERSION, request->of.files
    };
    struct ht_error ignored; /* it would be worked out again */
    if (!of.id || request->of.kind >= JOB_REPORT ||
        strcmp(files->key, of.settings) != 0) /* others than were asked for */
        return;
    (void)pthread_mutex_lock(&page->store_lock);
    (void)ht_store_put_result(page->store, &of, ht_text_get(text), &ignored);
    (void)pthread_mutex_unlock(&page->store_lock);
}

/* A file that the sheet names and that was not given: the case is off, not the
 * machine. */
static enum ht_status blame_case(enum ht_status status)
{
    return status == HT_CANNOT_READ ? HT_BAD_FILE : status;
}

static enum ht_status work_up(struct ht_text *out,
                              const struct ht_sheet *sheet,
                              const struct files *files,
                              const struct work_request *request,
                              struct ht_error *err)
{
    enum job_kind kind = request->of.kind;
    bool drive = kind >= JOB_ORDERS;
    bool causes = kind >= JOB_RANK;
    struct ht_workup_options options = {
        .folder = files->folder,
        .drive = drive,
        .causes = causes,
        .shims = kind == JOB_SHIMS || (causes && sheet->shim_count > 0),
        .progress = request->progress,
        .context = request->context,
        .keeper = request->keeper,
        .keys = true,
        .known = files->known,
        .known_count = files->count,
    };
    struct ht_workup *workup = ht_allocate(1, sizeof *workup);
    if (!workup)
        return ht_fail(err, PAGE_NO_MEMORY);
    enum ht_status status =
        blame_case(ht_workup_run(workup, sheet, &options, err));
    if (status == HT_OK) {
        status = write_result(out, workup, request, err);
        ht_workup_free(workup);
    }
    ht_release(workup);
    return status;
}

/* What the folder is called is nobody's business. */
static void hide_folder(struct ht_error *err, const char *folder)
{
    char *at;
    size_t length = strlen(folder);
    while (length && (at = strstr(err->text, folder))) {
        char *behind = at + length + (at[length] == '/');
        memmove(at, behind, strlen(behind) + 1);
    }
}

void work_do(struct work_result *result, const struct work_request *request)
{
    struct files files = { .folder = "" };
    struct ht_sheet sheet;
    struct ht_error *err = &result->err;
    enum ht_status status =
        ht_sheet_read_text(&sheet, PAGE_SHEET_NAME,
                           ht_text_get(request->sheet),
                           request->sheet->length, NULL, err);
    if (status == HT_OK && request->of.id)
        status = lay_out(&files, request->page, request->of.id, err);
    if (status == HT_OK)
        status = work_up(&result->text, &sheet, &files, request, err);
    if (status == HT_OK)
        keep_result(request, &files, &result->text);
    err->status = status;
    if (status != HT_OK)
        hide_folder(err, files.folder);
    put_away(&files, request->page);
    ht_sheet_free(&sheet);
}

void work_answer(const struct work_result *result, enum job_kind kind,
                 struct answer *answer)
{
    if (result->err.status != HT_OK) {
        answer_fail(answer, &result->err);
        return;
    }
    ht_text_add_bytes(&answer->body, result->text.bytes,
                      result->text.length);
    if (!ht_text_ok(&answer->body)) {
        answer_refuse(answer, 503, "memory", PAGE_NO_MEMORY_TEXT);
        return;
    }
    if (kind >= JOB_REPORT) {
        answer->type = kind == JOB_REPORT ? "text/html; charset=utf-8"
                                          : "application/pdf";
        answer->policy = POLICY_REPORT;
    }
}

void work_clear(struct work_result *result)
{
    ht_text_free(&result->text);
    result->text = (struct ht_text){ 0 };
}
