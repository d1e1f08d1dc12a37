/* put.h - each answer under the keys of the sheet; values are judged by the
 * sheet's reader. HT_BAD_USE with a sentence for what has no key. */
#ifndef HALFTURN_COMMAND_PUT_H
#define HALFTURN_COMMAND_PUT_H

#include "halfturn/json.h"
#include "halfturn/sheet.h"
#include "halfturn/status.h"

/* All alike, so that the questions are a table. */
#define PUT(name)                                                              \
    enum ht_status name(struct ht_json *json, const struct ht_sheet *sheet,    \
                        const char *answer, struct ht_error *err)

PUT(put_class);
PUT(put_tyre);
PUT(put_axle);
PUT(put_gearbox);
PUT(put_engine);
PUT(put_driveline);
PUT(put_suspension);
PUT(put_slopes);
PUT(put_complaint);
PUT(put_drive);

#endif
