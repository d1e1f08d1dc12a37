#include "refused.h"
#include "close.h"

#include <stdarg.h>
#include <stdio.h>

void check_refused(const struct ht_error *err, enum ht_status status,
                   enum ht_status wanted, const char *row, ...)
{
    char text[sizeof err->text];
    va_list words;
    va_start(words, row);
    (void)vsnprintf(text, sizeof text, row, words);
    va_end(words);
    assert_int_equal(status, wanted);
    assert_string_equal(err->text, text);
}
