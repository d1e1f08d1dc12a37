/* A speed log: first as it stands, then with the unit said by the sheet. */
#include "harness.h"

#include "halfturn/speed.h"

#include <math.h>
#include <string.h>

static void read_log(const char *path, const struct ht_sheet_speed *how)
{
    struct ht_speed_log log;
    struct ht_error err = { 0 };
    if (fuzz_was_read(ht_speed_log_read(&log, path, how, &err), &err)) {
        FUZZ_DEMAND(log.rows > 0);
        for (size_t i = 0; i < log.rows; i++) {
            FUZZ_DEMAND(isfinite(log.time_s[i]));
            FUZZ_DEMAND(i == 0 || log.time_s[i] > log.time_s[i - 1]);
            /* 250 km/h: the fastest that docs/speed.md takes for a road */
            FUZZ_DEMAND(log.speed_m_s[i] >= 0 && log.speed_m_s[i] < 69.5);
        }
        for (size_t n = 0; n < log.notes; n++)
            FUZZ_DEMAND(memchr(log.note[n], 0, sizeof log.note[n]) != NULL);
    } else {
        FUZZ_DEMAND(!log.memory && !log.time_s && log.rows == 0);
    }
    ht_speed_log_free(&log);
}

static void read_both(const char *bytes, size_t length)
{
    static const struct ht_sheet_speed said = { .unit = "km/h" };
    const char *path = fuzz_file(bytes, length);
    read_log(path, NULL);
    read_log(path, &said);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_both, data, size);
}
