#include "sheet_row.h"

#include "halfturn/sheet.h"

#include <assert.h>
#include <string.h>

static const struct ht_row *row_of(const struct ht_schema *schema,
                                   const char *key, size_t length)
{
    for (size_t i = 0; schema && i < schema->row_count; i++)
        if (strlen(schema->rows[i].key) == length &&
            strncmp(schema->rows[i].key, key, length) == 0)
            return &schema->rows[i];
    return NULL;
}

const struct ht_row *sheet_row(const char *path)
{
    const struct ht_schema *schema = ht_sheet_schema();
    const struct ht_row *row = NULL;
    for (const char *at = path; at; at = strchr(at, '/')) {
        at += *at == '/';
        row = row_of(schema, at, strcspn(at, "/"));
        assert(row);
        schema = row->child;
    }
    return row;
}

bool sheet_row_holds(const struct ht_row *row, double value, double factor)
{
    const double nearly = 1 + 1e-12; /* as the factor rounds */
    double low = row->low * factor, high = row->high * factor;
    return value >= (low < 0 ? low * nearly : low / nearly) &&
           value <= (high < 0 ? high / nearly : high * nearly);
}
