/* findings.h, causes.h, practice.h */
#include "row.h"

#include "halfturn/causes.h"
#include "halfturn/findings.h"
#include "halfturn/practice.h"

#include <math.h>
#include <stdint.h>

static enum ht_status collect(struct ht_error *err)
{
    static struct ht_findings findings;
    const struct ht_workup *workup = &given.workup;
    const struct ht_findings_input input = {
        .sheet = &given.sheet,
        .angles = &workup->angles,
        .rotation = &workup->rotation,
        .turns = &workup->turns,
        .orders = &workup->orders,
    };
    (void)err;
    watch_begin();
    ht_findings_collect(&findings, &input);
    watch_end();
    ROW_DEMAND(findings.findings > 0 && findings.drive_recorded);
    return HT_OK;
}

static enum ht_status ask_findings(struct ht_error *err)
{
    const double likelihood[] = { 0.1, 0.5 };
    struct ht_finding finding = { 0 };
    double edge;
    size_t kinds;
    (void)err;
    watch_begin();
    const struct ht_finding_kind *kind = ht_finding_kinds(&kinds);
    ROW_DEMAND(ht_finding_index(kind[1].id) == 1);
    ROW_DEMAND(!ht_finding_word_known("no such word", false));
    ht_finding_say(&finding, 2, likelihood, "said");
    ROW_DEMAND(ht_finding_speaks(&finding) && finding.answer == 1);
    ht_finding_suppose(&finding, 0);
    double healthy = ht_healthy_m_s2(HT_PLACE_SEAT_RAIL, true, &edge);
    watch_end();
    ROW_DEMAND(isfinite(healthy));
    return HT_OK;
}

static enum ht_status read_catalogue(struct ht_error *err)
{
    struct ht_catalogue *catalogue = NULL;
    watch_begin();
    enum ht_status status = ht_catalogue_read(&catalogue, NULL, err);
    watch_end();
    ROW_DEMAND((catalogue != NULL) == (status == HT_OK));
    ht_catalogue_free(catalogue);
    return status;
}

static enum ht_status ask_catalogue(struct ht_error *err)
{
    struct ht_catalogue *catalogue = NULL;
    enum ht_status status = ht_catalogue_read(&catalogue, NULL, err);
    watch_begin();
    ROW_DEMAND(ht_catalogue_causes(catalogue) > 0);
    ROW_DEMAND(ht_catalogue_cause_id(catalogue, 0)[0] != '\0');
    ROW_DEMAND(ht_catalogue_tempering(catalogue) > 0);
    ROW_DEMAND(ht_catalogue_nothing(catalogue, HT_SETTING_COMPLAINT) > 0);
    ROW_DEMAND(ht_catalogue_alike(catalogue) != NULL);
    ht_catalogue_free(catalogue);
    watch_end();
    return status;
}

static enum ht_status rank(struct ht_error *err)
{
    static struct ht_ranking ranking;
    const struct ht_ranking_request request = { given.workup.catalogue,
                                                &given.workup.findings,
                                                &given.sheet };
    watch_begin();
    enum ht_status status = ht_ranking_find(&ranking, &request, err);
    watch_end();
    ROW_DEMAND((ranking.causes > 0) == (status == HT_OK));
    if (status != HT_OK)
        ROW_DEMAND(!ranking.accused && ranking.next_checks == 0 &&
                   ranking.safety_count == 0 && ranking.struck_out == 0);
    return status;
}

/* ---- practice ---------------------------------------------------------- */

static enum ht_status add_cause(struct ht_error *err)
{
    struct ht_practice_request request = given.practice;
    watch_begin();
    enum ht_status status = ht_practice_add_cause(
        &request, "angle-mismatch", 0.3, 3.7, 5, err);
    watch_end();
    ROW_DEMAND(request.forces > 0);
    return status;
}

static enum ht_status make_drive(struct ht_error *err)
{
    struct ht_practice practice;
    watch_begin();
    enum ht_status status =
        ht_practice_make(&practice, &given.practice, err);
    watch_end();
    if (status != HT_OK)
        ROW_DEMAND(!practice.memory && !practice.samples[0] &&
                   practice.frames == 0 && practice.log_rows == 0);
    ht_practice_free(&practice);
    return status;
}

static enum ht_status write_drive(struct ht_error *err, bool log)
{
    struct ht_practice practice;
    struct ht_text out = { 0 };
    enum ht_status status =
        ht_practice_make(&practice, &given.practice, err);
    watch_begin();
    if (log)
        ht_practice_write_log(&out, &practice);
    else
        ht_practice_write_table(&out, &practice);
    watch_end();
    ht_practice_free(&practice);
    enum ht_status written = row_text(&out);
    return status == HT_OK ? written : status;
}

static enum ht_status write_table(struct ht_error *err)
{
    return write_drive(err, false);
}

static enum ht_status write_log(struct ht_error *err)
{
    return write_drive(err, true);
}

static enum ht_status free_drive(struct ht_error *err)
{
    struct ht_practice practice;
    enum ht_status status =
        ht_practice_make(&practice, &given.practice, err);
    watch_begin();
    ht_practice_free(&practice);
    watch_end();
    ROW_DEMAND(!practice.memory && practice.frames == 0);
    return status;
}

const struct row rows_causes[] = {
    { "ht_findings_collect", NO_MEMORY_NEEDED, collect },
    { "ht_finding_kinds", NO_MEMORY_NEEDED, ask_findings },
    { "ht_finding_index", NO_MEMORY_NEEDED, ask_findings },
    { "ht_finding_word_known", NO_MEMORY_NEEDED, ask_findings },
    { "ht_finding_say", NO_MEMORY_NEEDED, ask_findings },
    { "ht_finding_speaks", NO_MEMORY_NEEDED, ask_findings },
    { "ht_finding_suppose", NO_MEMORY_NEEDED, ask_findings },
    { "ht_healthy_m_s2", NO_MEMORY_NEEDED, ask_findings },
    { "ht_catalogue_read", ALLOCATES, read_catalogue },
    { "ht_catalogue_causes", NO_MEMORY_NEEDED, ask_catalogue },
    { "ht_catalogue_cause_id", NO_MEMORY_NEEDED, ask_catalogue },
    { "ht_catalogue_tempering", NO_MEMORY_NEEDED, ask_catalogue },
    { "ht_catalogue_nothing", NO_MEMORY_NEEDED, ask_catalogue },
    { "ht_catalogue_alike", NO_MEMORY_NEEDED, ask_catalogue },
    { "ht_catalogue_free", NO_MEMORY_NEEDED, ask_catalogue },
    { "ht_ranking_find", ALLOCATES, rank },
    { "ht_practice_add_cause", NO_MEMORY_NEEDED, add_cause },
    { "ht_practice_make", ALLOCATES, make_drive },
    { "ht_practice_write_table", ALLOCATES, write_table },
    { "ht_practice_write_log", ALLOCATES, write_log },
    { "ht_practice_free", NO_MEMORY_NEEDED, free_drive },
    { 0 },
};
