/* The commands that work a case sheet up: angles, orders, rank, report. */
#include "case.h"
#include "commands.h"
#include "figures.h"
#include "output.h"
#include "pairs.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "halfturn/report.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* How a finished workup is written. */
typedef enum ht_status (*writer)(struct ht_text *out,
                                 const struct ht_workup *workup,
                                 struct ht_error *err);

static enum ht_status write_result(const struct options *options,
                                   struct ht_text *out,
                                   const struct ht_workup *workup,
                                   writer text, unsigned blocks,
                                   struct ht_error *err)
{
    return options->json ? ht_report_json(out, workup, blocks, err)
                         : text(out, workup, err);
}

struct job {
    enum case_depth depth;
    writer text;
    unsigned blocks;
};

static enum ht_status work_case(const struct options *options,
                                const struct job *job, struct ht_text *out,
                                struct ht_error *err)
{
    struct case_file file;
    struct ht_workup *workup = ht_allocate(1, sizeof *workup);
    if (!workup)
        return ht_fail(err, COMMAND_NO_MEMORY);
    enum ht_status status = case_read(&file, options, err);
    if (status == HT_OK)
        status = case_work_up(workup, &file, job->depth, options, err);
    if (status == HT_OK && job->text)
        status = write_result(options, out, workup, job->text, job->blocks,
                              err);
    else if (status == HT_OK) {
        struct ht_report_names names = { file.place.name, options->shop };
        status = options->json
                     ? ht_report_json(out, workup, job->blocks, err)
                     : ht_report_html(out, workup, &names, err);
    }
    if (status == HT_OK)
        status = figures_write(options, workup, err);
    ht_workup_free(workup);
    case_free(&file);
    ht_release(workup);
    return status;
}

enum ht_status command_orders(const struct options *options,
                              struct ht_text *out, struct ht_error *err)
{
    static const struct job job = { CASE_DRIVE, ht_report_orders_text,
                                    HT_BLOCK_ORDERS };
    return work_case(options, &job, out, err);
}

enum ht_status command_shims(const struct options *options,
                             struct ht_text *out, struct ht_error *err)
{
    static const struct job job = { CASE_SHIMS, ht_report_shims_text,
                                    HT_BLOCK_SHIMS };
    return work_case(options, &job, out, err);
}

enum ht_status command_rank(const struct options *options,
                            struct ht_text *out, struct ht_error *err)
{
    static const struct job job = { CASE_CAUSES, ht_report_rank_text,
                                    HT_BLOCK_ANGLES | HT_BLOCK_ORDERS |
                                        HT_BLOCK_RANK };
    return work_case(options, &job, out, err);
}

enum ht_status command_report(const struct options *options,
                              struct ht_text *out, struct ht_error *err)
{
    static const struct job job = { CASE_CAUSES, NULL,
                                    HT_BLOCK_ANGLES | HT_BLOCK_ORDERS |
                                        HT_BLOCK_RANK };
    return work_case(options, &job, out, err);
}

static enum ht_status judge_pairs(struct ht_workup *workup,
                                  const struct pairs *pairs,
                                  const struct options *options,
                                  struct ht_error *err)
{
    enum ht_status status =
        ht_limits_read(&workup->limits, options->limits_file, err);
    if (status == HT_OK)
        status = limits_known(options, err);
    if (status != HT_OK)
        return status;
    struct ht_angles_options how = {
        .limits = &workup->limits,
        .limit_set = options->limits,
        .shaft_rad_s = options->shaft_rpm * 2 * HT_PI / 60,
        .speed_m_s = NAN,
    };
    status = ht_angles_compute(&workup->angles, &pairs->driveline, &how, err);
    workup->has_angles = status == HT_OK;
    return status;
}

static enum ht_status work_pairs(const struct options *options,
                                 struct ht_text *out, struct ht_error *err)
{
    struct pairs pairs;
    struct ht_sheet sheet;
    struct ht_workup *workup = ht_allocate(1, sizeof *workup);
    if (!workup)
        return ht_fail(err, COMMAND_NO_MEMORY);
    enum ht_status status = pairs_read(&pairs, options, err);
    ht_sheet_clear(&sheet);
    workup->sheet = &sheet;
    if (status == HT_OK)
        status = judge_pairs(workup, &pairs, options, err);
    if (status == HT_OK && options->explain)
        status = ht_report_explain_text(out, workup, &pairs.driveline, err);
    else if (status == HT_OK)
        status = write_result(options, out, workup, ht_report_angles_text,
                              HT_BLOCK_ANGLES, err);
    if (status == HT_OK)
        status = figures_write(options, workup, err);
    ht_release(workup);
    return status;
}

/* Readings, not a sheet: more than one word, or one that starts a number. */
static bool are_readings(const struct options *options)
{
    if (options->word_count != 1)
        return options->word_count > 1;
    char first = options->words[0][0];
    return isdigit((unsigned char)first) && !strchr(options->words[0], '/') &&
           access(options->words[0], F_OK) != 0;
}

static enum ht_status explain_sheet(struct ht_text *out,
                                    const struct ht_workup *workup,
                                    struct ht_error *err)
{
    return ht_report_explain_text(out, workup, NULL, err);
}

enum ht_status command_angles(const struct options *options,
                              struct ht_text *out, struct ht_error *err)
{
    const struct job job = { CASE_ANGLES,
                             options->explain ? explain_sheet
                                              : ht_report_angles_text,
                             HT_BLOCK_ANGLES };
    if (options->blank)
        return command_blank(options, out, err);
    if (options->explain && options->json)
        return ht_fail(err, EXPLAIN_NO_JSON);
    return are_readings(options) ? work_pairs(options, out, err)
                                 : work_case(options, &job, out, err);
}
