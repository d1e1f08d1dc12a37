/* The commands that work a case sheet up: angles, orders, rank, report. */
#include "case.h"
#include "commands.h"
#include "figures.h"
#include "near_file.h"
#include "output.h"
#include "pairs.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "halfturn/report.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
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
                 : pdf_wanted(options)
                     ? figures_pdf(out, workup, &names, options, err)
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

bool pdf_wanted(const struct options *options)
{
    const char *dot = options->output ? strrchr(options->output, '.') : NULL;
    return options->command == FOR_REPORT &&
           (options->pdf || (dot && strcasecmp(dot, ".pdf") == 0));
}

enum ht_status command_report(const struct options *options,
                              struct ht_text *out, struct ht_error *err)
{
    static const struct job job = { CASE_CAUSES, NULL,
                                    HT_BLOCK_ANGLES | HT_BLOCK_ORDERS |
                                        HT_BLOCK_RANK };
    bool printed = !options->output || strcmp(options->output, "-") == 0;
    if (options->json && pdf_wanted(options))
        return ht_fail(err, REPORT_NO_JSON);
    if (pdf_wanted(options) && printed && isatty(1))
        return ht_fail(err, REPORT_TO_TERMINAL);
    return work_case(options, &job, out, err);
}

/* What the line has no words for, and what it would bring. */
static void say_missing(struct ht_workup *workup, const char *sentence)
{
    char *room = workup->missing[workup->missing_count++];
    (void)snprintf(room, sizeof workup->missing[0], "%s", sentence);
}

static enum ht_status work_up_pairs(struct ht_workup *workup,
                                    const struct pairs *pairs,
                                    const struct options *options,
                                    struct ht_error *err)
{
    const struct ht_workup_options wanted = {
        .limits_path = options->limits_file,
        .readings_alone = true,
        .shaft_rad_s = options->shaft_rpm * 2 * HT_PI / 60,
        .keys = options->json,
    };
    enum ht_status status = limits_known(options, err);
    if (status == HT_OK)
        status = ht_workup_run(workup, &pairs->sheet, &wanted, err);
    if (status == HT_CANNOT_READ && options->limits_file)
        status = near_file(status, options->limits_file, err);
    if (status != HT_OK)
        return status;
    workup->missing_count = 0;
    if (isnan(options->shaft_rpm))
        say_missing(workup, LINE_NO_RPM);
    say_missing(workup, LINE_NO_SHEET);
    return HT_OK;
}

static enum ht_status work_pairs(const struct options *options,
                                 const struct job *job, struct ht_text *out,
                                 struct ht_error *err)
{
    struct pairs pairs;
    struct ht_workup *workup = ht_allocate(1, sizeof *workup);
    if (!workup)
        return ht_fail(err, COMMAND_NO_MEMORY);
    enum ht_status status = pairs_read(&pairs, options, err);
    if (status == HT_OK)
        status = work_up_pairs(workup, &pairs, options, err);
    if (status == HT_OK)
        status = write_result(options, out, workup, job->text, job->blocks,
                              err);
    if (status == HT_OK)
        status = figures_write(options, workup, err);
    ht_workup_free(workup);
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

/* What a sheet says itself is not taken from the line, and not dropped. */
static enum ht_status no_reading_options(const struct options *options,
                                         struct ht_error *err)
{
    const struct {
        bool given;
        const char *name, *key;
    } rows[] = {
        { options->suspension != HT_SUSPENSION_UNKNOWN, "suspension",
          "angles/suspension" },
        { !isnan(options->gauge_rad), "gauge", "angles/gauge/accuracy_deg" },
        { !isnan(options->step_rad), "step", "angles/gauge/step_deg" },
        { !isnan(options->set_up_rad), "set-up", "angles/gauge/set_up_deg" },
        { !isnan(options->crosswise_rad), "crosswise",
          "angles/read/crosswise_deg" },
        { options->read_on != HT_SURFACE_UNKNOWN, "read-on",
          "angles/read_on" },
        { options->headings != NULL, "headings", "angles/headings_deg" },
        { options->offsets != NULL, "offsets", "angles/offsets_mm" },
        { options->zeroed, "zeroed", "angles/joints_deg" },
        { options->drawing, "drawing", "angles/slopes_are" },
        { options->lengths != NULL, "lengths",
          "driveline/tubes/joint_to_joint_mm" },
        { options->yokes != NULL, "yokes", "driveline/yokes_deg" },
        { options->driven_from != HT_END_UNKNOWN, "driven-from",
          "driveline/driven_from" },
        { !isnan(options->shaft_rpm), "rpm", "vehicle/top_speed_km_h" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (rows[i].given)
            return ht_fail(err, OPTION_OF_READINGS, rows[i].name, rows[i].key);
    return HT_OK;
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
    bool readings = are_readings(options);
    enum ht_status status = HT_OK;
    if (options->blank || (options->word_count == 1 && !readings))
        status = no_reading_options(options, err);
    if (status != HT_OK)
        return status;
    if (options->blank)
        return command_blank(options, out, err);
    if (options->explain && options->json)
        return ht_fail(err, EXPLAIN_NO_JSON);
    return readings ? work_pairs(options, &job, out, err)
                    : work_case(options, &job, out, err);
}
