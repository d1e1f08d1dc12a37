/* What is added to Cairo's tags: the rest of a page as artifacts. The whole
 * file is looked at in tests/paper/check. */
#include "close.h"

#include "report/paper/tagged.h"

#include <string.h>

static void expect(const char *content, const char *wanted)
{
    struct ht_text out = { 0 };
    mark_artifacts(&out, content, strlen(content));
    assert_string_equal(ht_text_get(&out), wanted);
    ht_text_free(&out);
}

static void what_no_tag_holds_is_an_artifact(void **state)
{
    (void)state;
    expect("", "");
    expect("0 0 m\nf\n", "/Artifact BMC\n0 0 m\nf\n\nEMC\n");
    expect("/P << /MCID 0 >> BDC\n(a)Tj\nEMC", "/P << /MCID 0 >> BDC\n(a)Tj\n"
                                              "EMC");
    expect("q\n/P << /MCID 0 >> BDC (a)Tj EMC\n1 w 0 0 m S Q",
           "/Artifact BMC\nq\nEMC\n\n/P << /MCID 0 >> BDC (a)Tj EMC"
           "/Artifact BMC\n\n1 w 0 0 m S Q\nEMC\n");
}

static void marks_within_a_tag_stay_within_it(void **state)
{
    static const char nested[] = "/P << /MCID 0 >> BDC /Span << /ActualText "
                                 "<feff0066> >> BDC <01>Tj EMC (x)Tj EMC";
    (void)state;
    expect(nested, nested);
}

static void words_within_strings_and_names_are_no_operators(void **state)
{
    static const char tagged[] =
        "/EMC << /MCID 0 >> BDC (EMC \\) BDC (EMC) \\\\)Tj EMC";
    (void)state;
    expect(tagged, tagged);
    expect("[(BDC)-3( EMC )]TJ", "/Artifact BMC\n[(BDC)-3( EMC )]TJ\nEMC\n");
    expect("(cut short", "(cut short");
    expect("EMC f", "EMC/Artifact BMC\n f\nEMC\n");
}

static void what_is_no_pdf_is_a_mistake_of_ours(void **state)
{
    struct ht_text out = { 0 }, pdf = { 0 }, nothing = { 0 };
    struct ht_error err = { 0 };
    (void)state;
    ht_text_add(&pdf, "no PDF at all");
    assert_int_equal(tagged_finish(&out, &pdf, &nothing, &err), HT_BUG);
    assert_non_null(strstr(err.text, "mistake"));
    assert_int_equal(out.length, 0);
    ht_text_free(&pdf);
    ht_text_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_no_tag_holds_is_an_artifact),
        cmocka_unit_test(marks_within_a_tag_stay_within_it),
        cmocka_unit_test(words_within_strings_and_names_are_no_operators),
        cmocka_unit_test(what_is_no_pdf_is_a_mistake_of_ours),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
