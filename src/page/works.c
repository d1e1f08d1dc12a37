/* What is worked out of a case: results, reports, papers. */
#include "address.h"
#include "handlers.h"
#include "texts.h"
#include "work.h"

#include "common/constants.h"
#include "halfturn/number.h"
#include "halfturn/report.h"
#include "halfturn/rotation.h"
#include "halfturn/sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- jobs -------------------------------------------------------------- */

/* What the store holds already for this revision and this version of ours. */
static bool find_result(struct ht_store *store, const struct job_of *of,
                        struct ht_text *text)
{
    struct ht_store_result_of result = { of->id, of->revision,
                                         job_word(of->kind), HALFTURN_VERSION,
                                         of->files };
    struct ht_error err;
    return of->kind < JOB_REPORT &&
           ht_store_get_result(store, &result, text, &err) == HT_OK;
}

/* A file may be replaced under its name, and the sheet stays as it is. */
static enum ht_status note_files(struct job_of *of, struct ht_store *store,
                                 struct ht_error *err)
{
    struct ht_store_file *list = NULL;
    size_t count = 0;
    enum ht_status status = ht_store_files(store, of->id, &list, &count, err);
    if (status == HT_OK)
        status = work_files_key(of->files, list, count, err);
    ht_store_release(list);
    return status;
}

static void ask_for(struct request *request, enum job_kind kind,
                    struct answer *answer)
{
    struct ht_store_case found;
    struct ht_text sheet = { 0 };
    struct job_of of = { .kind = kind, .id = request->id };
    struct ht_store *store = store_take(request->page);
    enum ht_status status =
        ht_store_get(store, request->id, &found, &sheet, &request->err);
    if (status == HT_OK)
        status = note_files(&of, store, &request->err);
    of.revision = found.revision;
    bool kept = status == HT_OK && find_result(store, &of, &answer->body);
    store_give(request->page);
    if (status != HT_OK)
        answer_fail(answer, &request->err);
    else if (!kept)
        request_wait(request, jobs_ask(request->page->jobs, &of, &sheet,
                                       &request->err),
                     answer);
    ht_text_free(&sheet);
}

void handle_work(struct request *request, struct answer *answer)
{
    ask_for(request, (enum job_kind)request->route->with, answer);
}

/* Which paper the address names; false: none that there is. */
static bool read_paper(struct request *request, enum ht_paper *paper,
                       struct answer *answer)
{
    char room[80];
    struct ht_error err;
    const char *word = request_word(request, "paper", room, sizeof room);
    bool letter = word && strcmp(word, "letter") == 0;
    *paper = letter ? HT_PAPER_LETTER : HT_PAPER_A4;
    if (!word || letter || strcmp(word, "a4") == 0)
        return true;
    (void)ht_fail(&err, PAGE_WORD_OFF, "paper", word, "a4, letter");
    answer_fail(answer, &err);
    return false;
}

void handle_report_pdf(struct request *request, struct answer *answer)
{
    enum ht_paper paper;
    if (read_paper(request, &paper, answer))
        ask_for(request, paper == HT_PAPER_LETTER ? JOB_REPORT_LETTER
                                                  : JOB_REPORT_A4, answer);
}

/* The first file that a sheet names, or NULL. */
static const char *file_of(const struct ht_sheet *sheet)
{
    for (size_t i = 0; i < sheet->drive_count; i++) {
        if (sheet->drives[i].recording)
            return sheet->drives[i].recording;
        if (sheet->drives[i].speed.file)
            return sheet->drives[i].speed.file;
    }
    return NULL;
}

void handle_work_sent(struct request *request, struct answer *answer)
{
    struct ht_sheet sheet;
    struct job_of of = { .kind = (enum job_kind)request->route->with };
    struct ht_error *err = &request->err;
    enum ht_status status =
        ht_sheet_read_text(&sheet, PAGE_SHEET_NAME, ht_text_get(&request->body),
                           request->body.length, NULL, err);
    if (status == HT_OK && file_of(&sheet))
        status = ht_fail(err, PAGE_SHEET_NAMES_FILES, file_of(&sheet));
    ht_sheet_free(&sheet);
    if (status != HT_OK) {
        answer_fail(answer, err);
        return;
    }
    request_wait(request, jobs_ask(request->page->jobs, &of, &request->body,
                                   err),
                 answer);
}

void handle_progress(struct request *request, struct answer *answer)
{
    answer->stream = jobs_listen(request->page->jobs, request->id);
    if (answer->stream)
        answer->type = "text/event-stream";
    else
        answer_refuse(answer, 503, "busy", PAGE_TOO_MANY_LISTEN);
}

void handle_cancel(struct request *request, struct answer *answer)
{
    jobs_cancel(request->page->jobs, request->id);
    answer->code = 204;
}

/* ---- the sheet of a case ----------------------------------------------- */

static bool read_sheet(struct request *request, struct ht_sheet *sheet,
                       struct answer *answer)
{
    struct ht_store_case found;
    struct ht_text text = { 0 };
    struct ht_error err;
    ht_sheet_clear(sheet);
    enum ht_status status = ht_store_get(store_take(request->page),
                                         request->id, &found, &text, &err);
    store_give(request->page);
    if (status == HT_OK)
        status = ht_sheet_read_text(sheet, PAGE_SHEET_NAME, ht_text_get(&text),
                                    text.length, NULL, &err);
    ht_text_free(&text);
    if (status != HT_OK)
        answer_fail(answer, &err);
    return status == HT_OK;
}

enum { GEARS_MAX = 16 };

struct wanted_number {
    const char *key;
    double low, high;
};

/* NAN when it is not in the address. */
static bool read_number(const struct request *request,
                        const struct wanted_number *wanted, double *value,
                        struct ht_error *err)
{
    char room[80], low[40], high[40];
    const char *word = request_word(request, wanted->key, room, sizeof room);
    *value = NAN;
    if (!word)
        return true;
    if (ht_number_read(word, strlen(word), value) == HT_NUMBER_FINE &&
        *value >= wanted->low && *value <= wanted->high)
        return true;
    ht_format_significant(low, sizeof low, wanted->low, 2);
    ht_format_number(high, sizeof high, wanted->high, 0);
    (void)ht_fail(err, PAGE_NUMBER_OFF, wanted->key, word, low, high);
    return false;
}

/* 0 when it is not in the address. */
static bool read_whole(const struct request *request, const char *key,
                       int most, unsigned *value, struct ht_error *err)
{
    char room[80];
    int64_t number = 0;
    const char *word = request_word(request, key, room, sizeof room);
    *value = 0;
    if (word && (!address_whole(word, strlen(word), &number) ||
                 number > most)) {
        (void)ht_fail(err, PAGE_WHOLE_OVER, key, word, most);
        return false;
    }
    *value = (unsigned)number;
    return true;
}

static enum ht_status write_parts(const struct ht_sheet *sheet,
                                  const double given[2], unsigned gear,
                                  struct answer *answer, struct ht_error *err)
{
    const struct ht_numbers *felt = &sheet->complaint.speed_m_s;
    struct ht_rotation rotation;
    struct ht_parts_request parts = {
        .rotation = &rotation,
        .from_m_s = NAN,
        .speed_m_s = given[0] * HT_M_S_PER_KM_H,
        .hz = given[1],
        .gear = gear,
    };
    if (isnan(parts.speed_m_s) && felt->count > 0) {
        parts.speed_m_s = felt->value[felt->count - 1];
        parts.from_m_s = felt->count > 1 ? felt->value[0] : (double)NAN;
    }
    if (isnan(parts.speed_m_s))
        return ht_fail(err, PAGE_NO_SPEED);
    enum ht_status status = ht_rotation_from_vehicle(
        &rotation, &sheet->vehicle, parts.gear, err);
    return status == HT_OK ? ht_report_parts_json(&answer->body, &parts, err)
                           : status;
}

void handle_parts(struct request *request, struct answer *answer)
{
    static const struct wanted_number wanted[] = {
        { "speed_km_h", 1, 360 }, { "hz", 0.1, 2000 }
    };
    double given[2];
    unsigned gear = 0;
    struct ht_sheet sheet;
    struct ht_error err;
    if (!read_number(request, &wanted[0], &given[0], &err) ||
        !read_number(request, &wanted[1], &given[1], &err) ||
        !read_whole(request, "gear", GEARS_MAX, &gear, &err)) {
        answer_fail(answer, &err);
        return;
    }
    if (!read_sheet(request, &sheet, answer))
        return;
    if (write_parts(&sheet, given, gear, answer, &err) != HT_OK)
        answer_fail(answer, &err);
    ht_sheet_free(&sheet);
}

void handle_measuring(struct request *request, struct answer *answer)
{
    char name[40];
    enum ht_paper paper;
    struct ht_sheet sheet;
    struct ht_error err;
    if (!read_paper(request, &paper, answer) ||
        !read_sheet(request, &sheet, answer))
        return;
    (void)snprintf(name, sizeof name, PAGE_CASE_NAME, (long long)request->id);
    struct ht_blank_request blank = {
        .sheet = &sheet, .case_name = name,
        .paper = paper
    };
    if (ht_report_blank_pdf(&answer->body, &blank, &err) == HT_OK) {
        answer->type = "application/pdf";
        answer->policy = POLICY_REPORT;
    } else {
        answer_fail(answer, &err);
    }
    ht_sheet_free(&sheet);
}
