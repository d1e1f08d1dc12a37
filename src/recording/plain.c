#include "plain.h"

#include "common/decimal.h"

const char *ht_plain_row(const char *line, char separator, char mark,
                         double *value, size_t count)
{
    const char *at = line;
    for (size_t c = 0; c < count; c++) {
        while (*at == ' ')
            at++;
        at = ht_decimal_scan(at, mark, &value[c]);
        if (!at)
            return NULL;
        while (*at == ' ')
            at++;
        if (c + 1 < count && *at++ != separator)
            return NULL;
    }
    at += *at == '\r';
    return *at == '\n' ? at + 1 : NULL;
}
