/* A table of numbers as a logger writes it. */
#include "harness.h"

#include "common/limits.h"
#include "halfturn/recording.h"

#include <math.h>
#include <string.h>

static void read_table(const char *path, char decimal)
{
    struct ht_table table;
    struct ht_error err = { 0 };
    if (fuzz_was_read(ht_table_read(&table, path, decimal, NULL, &err), &err)) {
        FUZZ_DEMAND(table.rows > 0 && table.columns > 0);
        FUZZ_DEMAND(table.columns <= HT_TABLE_COLUMNS_MAX);
        FUZZ_DEMAND(table.first_row_line > 0);
        for (size_t c = 0; c < table.columns; c++)
            FUZZ_DEMAND(memchr(table.name[c], 0, sizeof table.name[c]));
        for (size_t i = 0; i < table.rows * table.columns; i++)
            FUZZ_DEMAND(!isinf(table.value[i]));
    } else {
        FUZZ_DEMAND(!table.name && !table.value && table.rows == 0);
    }
    ht_table_free(&table);
}

static void read_both(const char *bytes, size_t length)
{
    const char *path = fuzz_file(bytes, length);
    read_table(path, 0);
    read_table(path, ',');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_both, data, size);
}
