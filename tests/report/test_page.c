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

/* Every text a user or a file can bring. */
static void poison(struct fixture *fixture, const char *text)
{
    struct ht_workup *w = fixture_workup(fixture);
    struct ht_sheet *sheet = fixture_sheet(fixture);
    sheet->title = sheet->identity.unit = sheet->identity.date = text;
    sheet->identity.measured_by = text;
    sheet->drivelines[0].members.text[1] = text;
    sheet->drives[0].recording = sheet->drives[0].speed.file = text;
#define PUT(field) (void)snprintf((field), sizeof(field), "%s", text)
    PUT(w->orders.result[6].order.name);
    PUT(w->orders.result[7].reason);
    PUT(w->orders.cannot_separate[0].a);
    PUT(w->orders.cannot_separate[0].b);
    PUT(w->orders.cannot_separate[0].way_out);
    PUT(w->angles.verdict[0].source);
    PUT(w->angles.verdict[1].way_out);
    PUT(w->missing[0]);
    PUT(w->assumed[0]);
    w->missing_count = 1;
    w->ranking.cause[0].title = w->ranking.cause[0].caution = text;
    PUT(w->ranking.cause[0].raised_by[0].text);
    w->ranking.next[0].question = text;
    PUT(w->ranking.next[0].how);
    PUT(w->ranking.next[0].outcome[0]);
    PUT(w->ranking.unexplained_text[0]);
    w->ranking.unexplained = 1;
    PUT(w->ranking.safety[0].text);
}

static void no_text_of_a_user_becomes_markup(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    static const char evil[] = "<script>x\"'&</script>";
    struct ht_report_names evil_names = { evil, evil };
    struct ht_text page = { 0 };
    poison(fixture, evil);
    assert_int_equal(ht_report_html(&page, fixture_workup(fixture),
                                    &evil_names, NULL), HT_OK);
    assert_null(strstr(page.bytes, "<script"));
    assert_null(strstr(page.bytes, "x\"'"));
    size_t found = 0;
    for (const char *p = page.bytes; (p = strstr(p, "&lt;script&gt;")); p++)
        found++;
    assert_true(found >= 20); /* none of the fields above got lost */
    show("poisoned", &page);
    ht_text_free(&page);
    fixture_free(fixture);
}

static void a_page_without_a_part_has_no_section_for_it(void **state)
{
    (void)state;
    struct ht_text page = page_of(FIXTURE_ANGLES_ONLY);
    assert_null(strstr(page.bytes, "Likely causes"));
    assert_null(strstr(page.bytes, "What shakes"));
    assert_non_null(strstr(page.bytes, "Joint angles</h2>"));
    assert_non_null(strstr(page.bytes, "No recording: orders need a drive"));
    ht_text_free(&page);
    page = page_of(FIXTURE_RECORDING_ONLY);
    assert_null(strstr(page.bytes, "Joint angles</h2>"));
    assert_non_null(strstr(page.bytes, "What shakes, and when"));
    ht_text_free(&page);
}

static void safety_stands_above_the_answer(void **state)
{
    (void)state;
    struct ht_text page = page_of(FIXTURE_VAN);
    const char *safety = strstr(page.bytes, "Safety first");
    const char *answer = strstr(page.bytes, "<h1>");
    const char *causes = strstr(page.bytes, "Likely causes");
    const char *not_safe = strstr(page.bytes, "does not show that the vehicle "
                                              "is safe");
    assert_true(safety && answer && causes && not_safe);
    assert_true(safety < answer && answer < causes && causes < not_safe);
    ht_text_free(&page);
}

static void hanging_suspension_gets_no_verdict(void **state)
{
    (void)state;
    struct ht_text page = page_of(FIXTURE_HANGING);
    assert_non_null(strstr(page.bytes, "Hanging suspension gives wrong "
                                       "angles"));
    assert_null(strstr(page.bytes, ">within<"));
    assert_null(strstr(page.bytes, ">over<"));
    assert_non_null(strstr(page.bytes, ">no verdict<"));
    ht_text_free(&page);
}

static void every_page_says_that_it_does_not_show_safety(void **state)
{
    (void)state;
    for (int i = 0; i < FIXTURE_CASES; i++) {
        struct ht_text page = page_of((enum fixture_case)i);
        assert_non_null(strstr(page.bytes, "It does not show that the vehicle "
                                           "is safe to drive."));
        ht_text_free(&page);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_page_is_closed_and_asks_for_nothing),
        cmocka_unit_test(no_text_of_a_user_becomes_markup),
        cmocka_unit_test(a_page_without_a_part_has_no_section_for_it),
        cmocka_unit_test(safety_stands_above_the_answer),
        cmocka_unit_test(hanging_suspension_gets_no_verdict),
        cmocka_unit_test(every_page_says_that_it_does_not_show_safety),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
