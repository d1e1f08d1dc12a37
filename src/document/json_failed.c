/* What went wrong while writing JSON: the first failure, kept. */
#include "json.h"

#include <stdarg.h>
#include <stdio.h>

void ht_json_failed(struct ht_json *json, enum ht_status status,
                    const char *format, ...)
{
    va_list arguments;
    if (json->error.status != HT_OK)
        return;
    json->error.status = status;
    va_start(arguments, format);
    (void)vsnprintf(json->error.text, sizeof json->error.text, format,
                    arguments);
    va_end(arguments);
}

const char *ht_json_place(const char *key)
{
    return key ? key : "[]";
}
