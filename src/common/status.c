#include "halfturn/status.h"

#include "printable.h"

#include <stdarg.h>
#include <stdio.h>

static const struct {
    int exit_code;
    const char *name;
} statuses[HT_STATUS_COUNT] = {
    [HT_OK] = { 0, "done" },
    [HT_BAD_USE] = { 64, "wrong use" },
    [HT_BAD_FILE] = { 65, "bad data" },
    [HT_TOO_BIG] = { 65, "too big" },
    [HT_CANNOT_READ] = { 66, "cannot read" },
    [HT_NOT_THERE] = { 66, "not there" },
    [HT_PORT_TAKEN] = { 69, "port taken" },
    [HT_BUG] = { 70, "a mistake in this program" },
    [HT_NO_MEMORY] = { 71, "out of memory" },
    [HT_CANNOT_WRITE] = { 74, "output failed" },
    [HT_STOPPED] = { 75, "stopped" },
    [HT_BUSY] = { 75, "busy" },
};

static void fill(struct ht_error *err, enum ht_status status, size_t line,
                 size_t column, const char *format, va_list arguments)
{
    if (!err)
        return;
    err->status = status;
    err->line = line;
    err->column = column;
    /* clang-tidy 14 takes the second caller's list for not begun:
     * NOLINTNEXTLINE(clang-analyzer-valist.Uninitialized) */
    (void)vsnprintf(err->text, sizeof err->text, format, arguments);
    ht_make_printable(err->text);
}

enum ht_status ht_fail(struct ht_error *err, enum ht_status status,
                       const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fill(err, status, 0, 0, format, arguments);
    va_end(arguments);
    return status;
}

enum ht_status ht_fail_at_line(struct ht_error *err, size_t line,
                               size_t column, enum ht_status status,
                               const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fill(err, status, line, column, format, arguments);
    va_end(arguments);
    return status;
}

bool ht_goes_on(const struct ht_ask *ask)
{
    return !ask || !ask->go_on || ask->go_on(ask->context);
}

int ht_status_exit_code(enum ht_status status)
{
    if ((unsigned)status >= HT_STATUS_COUNT)
        return statuses[HT_BUG].exit_code;
    return statuses[status].exit_code;
}

const char *ht_status_name(enum ht_status status)
{
    if ((unsigned)status >= HT_STATUS_COUNT)
        return statuses[HT_BUG].name;
    return statuses[status].name;
}
