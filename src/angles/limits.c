#include "halfturn/angles.h"

/* Until the reader of the document room is there: no sets. */
enum ht_status ht_limits_read(struct ht_limits *limits, const char *path,
                              struct ht_error *err)
{
    *limits = (struct ht_limits){ 0 };
    return ht_fail(err, HT_CANNOT_READ, "%s: limits cannot be read yet",
                   path ? path : "built-in limits");
}
