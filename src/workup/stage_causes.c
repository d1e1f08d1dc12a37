/* Findings from all that was measured and said, and the ranking. */
#include "slice.h"
#include "stages.h"
#include "texts.h"

#include "document/nearest.h"
#include "halfturn/document.h"

/* The known words of checks.seen or checks.sound that is nearest; or NULL. */
static const char *nearest_word(const char *word, bool sound)
{
    const char *names[2 * HT_FINDINGS_MAX + 1] = { NULL };
    size_t kinds, count = 0;
    const struct ht_finding_kind *kind = ht_finding_kinds(&kinds);
    for (size_t i = 0; i < kinds; i++) {
        const char *name = sound ? kind[i].sound_word : kind[i].subject;
        if (name && ht_finding_word_known(name, sound))
            names[count++] = name;
    }
    return ht_nearest_name(word, names);
}

static void name_unknown_words(struct ht_workup *workup, const char *key,
                               const struct ht_words *words, bool sound)
{
    for (size_t i = 0; i < words->count; i++) {
        const char *word = words->text[i];
        if (ht_finding_word_known(word, sound))
            continue;
        const char *near = nearest_word(word, sound);
        if (near)
            ht_stage_missing(workup, WORKUP_WORD_NEAR, word, key, near);
        else
            ht_stage_missing(workup, WORKUP_WORD_UNKNOWN, word, key);
    }
}

/* A shop has tools that no check asks for; a slip of one letter is named. */
static void name_misspelt_tools(struct ht_workup *workup,
                                const struct ht_words *tools)
{
    size_t kinds;
    const struct ht_finding_kind *kind = ht_finding_kinds(&kinds);
    for (size_t i = 0; i < tools->count; i++) {
        struct nearest nearest = { .name = tools->text[i] };
        for (size_t k = 0; k < kinds; k++)
            if (kind[k].tool)
                ht_nearest_offer(&nearest, kind[k].tool);
        if (nearest.found[0] && nearest.distance == 1)
            ht_stage_missing(workup, WORKUP_TOOL_NEAR, tools->text[i],
                             nearest.found);
    }
}

/* ---- findings ---------------------------------------------------------- */

struct findings_request {
    struct ht_sheet sheet;
    struct ht_findings_input input;
};

static bool hash_findings(struct ht_digest *digest, const void *from)
{
    const struct findings_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    return true;
}

static enum ht_status make_findings(void *result, const void *from,
                                    struct ht_error *err)
{
    const struct findings_request *request = from;
    (void)err; /* cannot fail */
    ht_findings_collect(result, &request->input);
    return HT_OK;
}

/* The sets to go by: of the only driveline, or of each of several. */
static void take_angles(struct ht_findings_input *input,
                        const struct ht_workup *workup)
{
    const struct ht_sheet *sheet = workup->sheet;
    input->drivelines = sheet->driveline_count;
    for (size_t d = 0; d < input->drivelines; d++)
        input->driveline[d].name = sheet->drivelines[d].name;
    for (size_t i = 0; i < workup->line_count; i++) {
        const struct ht_line_angles *line = &workup->lines[i];
        if (!line->decides)
            continue;
        if (line->driveline_index == 0)
            input->angles = &line->angles;
        if (line->driveline_index < input->drivelines)
            input->driveline[line->driveline_index].angles = &line->angles;
    }
}

static enum ht_status get_findings(const struct stage *stage)
{
    static const char *const read[] = { "safety",    "vehicle", "driveline",
                                        "angles",    "checks",  "complaint",
                                        NULL };
    static const struct stage_kind kind = {
        .stage = HT_STAGE_FINDINGS,
        .uses = USES(PARTS) | USES(ANGLES) | USES(SPEED) | USES(GEAR) |
                USES(ORDERS),
        .size = sizeof(struct ht_findings),
        .hash = hash_findings,
        .make = make_findings,
    };
    struct ht_workup *workup = stage->workup;
    struct findings_request request;
    const void *result;
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    request.input = (struct ht_findings_input){
        .sheet = &request.sheet,
        .rotation = workup->has_rotation ? &workup->rotation : NULL,
        .turns = workup->has_turns ? &workup->turns : NULL,
        .orders = workup->has_orders ? &workup->orders : NULL,
    };
    take_angles(&request.input, workup);
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        workup->findings = *(const struct ht_findings *)result;
    return status;
}

/* ---- catalogue --------------------------------------------------------- */

static bool hash_file(struct ht_digest *digest, const void *file)
{
    return ht_stage_file_hash(digest, file);
}

static void clear_catalogue(void *result)
{
    ht_catalogue_free(*(struct ht_catalogue **)result);
}

static enum ht_status make_catalogue(void *result, const void *from,
                                     struct ht_error *err)
{
    const struct stage_file *file = from;
    enum ht_status status = ht_catalogue_read(result, file->path, err);
    if (status != HT_OK)
        return status;
    status = ht_stage_file_same(file, err);
    if (status != HT_OK)
        clear_catalogue(result);
    return status;
}

/* It does not tell; the built-in one holds 71 KB (mallinfo2 before and
 * after). */
static size_t behind_catalogue(const void *result)
{
    (void)result;
    return 72000;
}

static enum ht_status get_catalogue(const struct stage *stage)
{
    static const struct stage_kind kind = {
        .stage = HT_STAGE_CATALOGUE,
        .size = sizeof(struct ht_catalogue *),
        .hash = hash_file,
        .make = make_catalogue,
        .clear = clear_catalogue,
        .bytes_behind = behind_catalogue,
    };
    struct stage_file file;
    const void *result;
    enum ht_status status =
        ht_stage_file_option(&file, stage, stage->options->catalogue_path);
    if (status == HT_OK)
        status = ht_stage_get(stage, &kind, &file, &result);
    if (status == HT_OK)
        stage->workup->catalogue = *(struct ht_catalogue *const *)result;
    ht_stage_file_close(&file);
    return status;
}

/* ---- ranking ----------------------------------------------------------- */

struct ranking_wanted {
    struct ht_sheet sheet;
    struct ht_ranking_request request;
};

static bool hash_ranking(struct ht_digest *digest, const void *from)
{
    const struct ranking_wanted *wanted = from;
    ht_slice_hash(digest, &wanted->sheet, ht_sheet_schema());
    return true;
}

static enum ht_status make_ranking(void *result, const void *from,
                                   struct ht_error *err)
{
    const struct ranking_wanted *wanted = from;
    return ht_ranking_find(result, &wanted->request, err);
}

static enum ht_status get_ranking(const struct stage *stage)
{
    static const char *const read[] = { "setting", "vehicle", "driveline",
                                        "angles",  "drive",   "complaint",
                                        "next",    NULL };
    static const struct stage_kind kind = {
        .stage = HT_STAGE_RANKING,
        .uses = USES(FINDINGS) | USES(CATALOGUE),
        .size = sizeof(struct ht_ranking),
        .hash = hash_ranking,
        .make = make_ranking,
        .leans = USES(CATALOGUE), /* on its texts */
    };
    struct ht_workup *workup = stage->workup;
    struct ranking_wanted wanted;
    const void *result;
    ht_slice(&wanted.sheet, stage->sheet, ht_sheet_schema(), read);
    wanted.request = (struct ht_ranking_request){
        .catalogue = workup->catalogue,
        .findings = &workup->findings,
        .sheet = &wanted.sheet,
    };
    enum ht_status status = ht_stage_get(stage, &kind, &wanted, &result);
    if (status == HT_OK)
        workup->ranking = *(const struct ht_ranking *)result;
    workup->has_ranking = status == HT_OK;
    return status;
}

enum ht_status ht_stage_causes(const struct stage *stage)
{
    const struct ht_sheet_checks *checks = &stage->sheet->checks;
    if (!stage->options->causes)
        return HT_OK;
    name_unknown_words(stage->workup, "seen", &checks->seen, false);
    name_unknown_words(stage->workup, "sound", &checks->sound, true);
    name_misspelt_tools(stage->workup, &stage->sheet->next.tools);
    enum ht_status status = get_findings(stage);
    if (status == HT_OK)
        status = get_catalogue(stage);
    return status == HT_OK ? get_ranking(stage) : status;
}
