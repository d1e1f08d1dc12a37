/* An edited copy of the limit sets. */
#include "harness.h"

#include "angles/limits.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

static void read_limits(const char *bytes, size_t length)
{
    static struct ht_limits limits;
    struct ht_error err = { 0 };
    struct ht_source source = { "fuzz", bytes, length, 0 };
    enum ht_status status = ht_limits_read_source(&limits, &source, &err);
    if (!fuzz_was_read(status, &err)) {
        FUZZ_DEMAND(limits.sets == 0);
        return;
    }
    FUZZ_DEMAND(limits.sets >= 1);
    FUZZ_DEMAND(limits.sets <= sizeof limits.set / sizeof limits.set[0]);
    for (size_t i = 0; i < limits.sets; i++) {
        const struct ht_limit_set *set = &limits.set[i];
        FUZZ_DEMAND(set->id[0] && memchr(set->id, 0, sizeof set->id));
        FUZZ_DEMAND(set->title[0] && memchr(set->title, 0, sizeof set->title));
        FUZZ_DEMAND(memchr(set->source, 0, sizeof set->source) != NULL);
        FUZZ_DEMAND(!(set->joint_max_rad < 0 || set->joint_max_rad > 0.8));
        FUZZ_DEMAND(!isinf(set->axle_rad_s2) && !isinf(set->shaft_rad_s2));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_limits, data, size);
}
