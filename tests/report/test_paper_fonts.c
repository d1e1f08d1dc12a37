/* A machine without a font: the measuring sheet and the report as PDF are
 * refused. Alone in its program, as the fonts are looked up once. */
#include "close.h"
#include "scratch.h"
#include "workup_fixture.h"

#include "halfturn/report.h"

#include <stdlib.h>
#include <string.h>

static const char no_fonts[] =
    "<?xml version=\"1.0\"?>\n"
    "<!DOCTYPE fontconfig SYSTEM \"urn:fontconfig:fonts.dtd\">\n"
    "<fontconfig><dir>/nowhere</dir></fontconfig>\n";

static void without_a_font_there_is_no_sheet(void **state)
{
    struct ht_text out = { 0 };
    struct ht_error err = { 0 };
    const struct ht_blank_request request = { .sheet = NULL };
    (void)state;
    assert_int_equal(
        setenv("FONTCONFIG_FILE", scratch_text("fonts.conf", no_fonts), 1), 0);
    assert_int_equal(ht_report_blank_pdf(&out, &request, &err),
                     HT_CANNOT_READ);
    assert_int_equal(out.length, 0);
    assert_non_null(strstr(err.text, "fonts-dejavu-core"));
    ht_text_free(&out);
}

static void without_a_font_there_is_no_report(void **state)
{
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    const struct ht_report_names names = { "case.yaml", NULL };
    struct ht_text out = { 0 };
    struct ht_error err = { 0 };
    (void)state;
    assert_int_equal(ht_report_pdf(&out, fixture_workup(fixture), &names,
                                   HT_PAPER_A4, &err), HT_CANNOT_READ);
    assert_false(ht_text_ok(&out));
    assert_non_null(strstr(err.text, "fonts-dejavu-core"));
    ht_text_free(&out);
    fixture_free(fixture);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_a_font_there_is_no_sheet),
        cmocka_unit_test(without_a_font_there_is_no_report),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
