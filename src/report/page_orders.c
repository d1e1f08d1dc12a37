#include "page.h"
enum ht_status page_orders(struct ht_text *out,
                           const struct ht_workup *workup,
                           struct ht_error *err)
{
    (void)out; (void)workup; (void)err;
    return HT_OK;
}
