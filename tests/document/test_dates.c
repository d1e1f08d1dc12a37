/* A date is a day of the calendar. */
#include "close.h"

#include "halfturn/sheet.h"

#include <stdio.h>
#include <string.h>

static bool is_read(const char *form, const char *date)
{
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    char body[200];
    (void)snprintf(body, sizeof body, form, date);
    enum ht_status status =
        ht_sheet_read_text(&sheet, "test", body, strlen(body), NULL, &err);
    if (status != HT_OK)
        assert_non_null(strstr(err.text, "a day of the calendar"));
    ht_sheet_free(&sheet);
    return status == HT_OK;
}

/* Leap years by the Gregorian rule: Calendar (ISO 8601-1:2019, 4.2.1). */
static void days_that_are_none_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *date;
        bool is_day;
    } rows[] = { { "2026-11-30", true },   { "2026-02-30", false },
                 { "2026-02-29", false },  { "2024-02-29", true },
                 { "1900-02-29", false },  { "2000-02-29", true },
                 { "2026-13-01", false },  { "2026-00-10", false },
                 { "2026-04-31", false },  { "2026-12-31", true },
                 { "2026-01-00", false },  { "2026-1-2", false },
                 { "20.11.2026", false } };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(is_read("halfturn: 1\nidentity: {date: %s}\n",
                                 rows[i].date), rows[i].is_day);
        assert_int_equal(is_read("halfturn: 1\nangles: {slopes_deg: [0, 4], "
                                 "date: %s}\n", rows[i].date),
                         rows[i].is_day);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_that_are_none_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
