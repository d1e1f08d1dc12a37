#include "verdict.h"

enum ht_status ht_verdicts_add(struct ht_angles *result,
                               const struct ht_model *model,
                               const struct ht_spread *spread,
                               const struct ht_driveline *driveline,
                               const struct ht_angles_options *options,
                               struct ht_error *err)
{
    (void)result, (void)model, (void)spread, (void)driveline, (void)options,
        (void)err;
    return HT_OK;
}
