/* angles --blank: the measuring sheet, as PDF. */
#include "case.h"
#include "commands.h"
#include "output.h"
#include "texts.h"

#include "common/printable.h"
#include "halfturn/report.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* "van-sheet.pdf" in the working directory for a case van.yaml. */
static enum ht_status name_file(char *name, size_t size,
                                const struct case_file *file,
                                struct ht_error *err)
{
    const char *of = file->place.name ? file->place.name : BLANK_NO_CASE;
    const char *dot = strrchr(of, '.');
    size_t stem = dot && dot > of ? (size_t)(dot - of) : strlen(of);
    int length = snprintf(name, size, "%.*s-sheet.pdf", (int)stem, of);
    if (length < 0 || (size_t)length >= size)
        return ht_fail(err, OUTPUT_PATH_LONG, of);
    return HT_OK;
}

/* On a terminal the sheet goes into a file beside the person who asked; one
 * that is there stays, as it may be another's. */
static enum ht_status to_own_file(const struct ht_text *pdf,
                                  const struct case_file *file,
                                  struct ht_text *out, struct ht_error *err)
{
    char name[300], shown[300];
    enum ht_status status = name_file(name, sizeof name, file, err);
    if (status != HT_OK)
        return status;
    (void)snprintf(shown, sizeof shown, "%s", name);
    ht_make_printable(shown);
    /* first, as nothing may fail once the sheet is there */
    ht_text_addf(out, BLANK_WRITTEN, shown);
    if (!ht_text_ok(out))
        return ht_fail(err, COMMAND_NO_MEMORY);
    return output_new(pdf, name, err);
}

static enum ht_status write_blank(const struct options *options,
                                  const struct case_file *file,
                                  struct ht_text *out, struct ht_error *err)
{
    const struct ht_blank_request request = {
        .sheet = file->place.name ? &file->sheet : NULL,
        .case_name = file->place.name,
        .paper = options->paper,
    };
    struct ht_text pdf = { 0 };
    if (options->output || !isatty(1))
        return ht_report_blank_pdf(out, &request, err);
    enum ht_status status = ht_report_blank_pdf(&pdf, &request, err);
    if (status == HT_OK)
        status = to_own_file(&pdf, file, out, err);
    ht_text_free(&pdf);
    return status;
}

enum ht_status command_blank(const struct options *options,
                             struct ht_text *out, struct ht_error *err)
{
    struct case_file file = { 0 };
    enum ht_status status = HT_OK;
    if (options->json)
        return ht_fail(err, BLANK_NO_JSON);
    if (options->explain)
        return ht_fail(err, BLANK_NO_EXPLAIN);
    if (options->figures)
        return ht_fail(err, BLANK_NO_FIGURES);
    if (options->output && strcmp(options->output, "-") == 0 && isatty(1))
        return ht_fail(err, BLANK_TO_TERMINAL);
    if (options->word_count > 0)
        status = case_read(&file, options, err);
    if (status == HT_OK)
        status = write_blank(options, &file, out, err);
    case_free(&file);
    return status;
}
