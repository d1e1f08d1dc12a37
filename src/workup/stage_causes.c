/* Findings from all that was measured and said, and the ranking. */
#include "stages.h"

enum ht_status ht_stage_causes(const struct stage *stage)
{
    struct ht_workup *workup = stage->workup;
    struct ht_findings_input input = {
        .sheet = stage->sheet,
        .angles = workup->has_angles ? &workup->angles : NULL,
        .rotation = workup->has_rotation ? &workup->rotation : NULL,
        .turns = workup->has_turns ? &workup->turns : NULL,
        .orders = workup->has_orders ? &workup->orders : NULL,
    };
    if (!stage->options->causes)
        return HT_OK;
    ht_findings_collect(&workup->findings, &input);
    enum ht_status status =
        ht_catalogue_read(&workup->catalogue, stage->options->catalogue_path,
                          stage->err);
    if (status != HT_OK)
        return status;
    struct ht_ranking_request request = {
        .catalogue = workup->catalogue,
        .findings = &workup->findings,
        .sheet = stage->sheet,
    };
    status = ht_ranking_find(&workup->ranking, &request, stage->err);
    workup->has_ranking = status == HT_OK;
    return status;
}
