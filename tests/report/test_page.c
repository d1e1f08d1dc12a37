/* The page of every made-up case. With HALFTURN_SHOW=folder set, the pages
 * are also written there, to be looked at. */
#include "close.h"
#include "workup_fixture.h"

#include "halfturn/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct ht_report_names names = { "case.yaml", "Bay 2" };

static struct ht_text page_of(enum fixture_case which)
{
    struct fixture *fixture = fixture_create(which);
    struct ht_text page = { 0 };
    struct ht_error err = { 0 };
    assert_int_equal(ht_report_html(&page, fixture_workup(fixture), &names,
                                    &err), HT_OK);
    fixture_free(fixture);
    return page;
}

static void show(const char *name, const struct ht_text *page)
{
    char path[400];
    const char *folder = getenv("HALFTURN_SHOW");
    if (!folder)
        return;
    (void)snprintf(path, sizeof path, "%s/%s.html", folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    (void)fwrite(page->bytes, 1, page->length, file);
    (void)fclose(file);
}

static void every_page_is_closed_and_asks_for_nothing(void **state)
{
    (void)state;
    for (int i = 0; i < FIXTURE_CASES; i++) {
        struct ht_text page = page_of((enum fixture_case)i);
        show(fixture_names[i], &page);
        assert_non_null(strstr(page.bytes, "default-src 'none'"));
        assert_null(strstr(page.bytes, "<script"));
        assert_null(strstr(page.bytes, "http://"));
        assert_null(strstr(page.bytes, "https://"));
        assert_null(strstr(page.bytes, "src=\""));
        assert_string_equal(page.bytes + page.length - 8, "</html>\n");
        ht_text_free(&page);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_page_is_closed_and_asks_for_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
