/* The table of findings says what it must. */
#include "close.h"

#include "halfturn/findings.h"

#include <math.h>
#include <string.h>

static void every_finding_has_its_words(void **state)
{
    (void)state;
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    assert_in_range(count, 60, HT_FINDINGS_MAX);
    for (size_t i = 0; i < count; i++) {
        assert_non_null(kinds[i].id);
        assert_in_range(kinds[i].answers, 2, HT_ANSWERS_MAX);
        assert_non_null(kinds[i].weigh);
        for (size_t k = 0; k < kinds[i].answers; k++) {
            assert_non_null(kinds[i].answer[k]);
            assert_non_null(kinds[i].statement[k]);
            assert_null(strchr(kinds[i].statement[k], '!'));
        }
        /* Asked of a person: then it takes time. */
        if (kinds[i].question)
            assert_true(kinds[i].minutes >= 0.5);
        else
            assert_true(isnan(kinds[i].minutes));
    }
}

static void ids_are_unique_and_found(void **state)
{
    (void)state;
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t i = 0; i < count; i++)
        assert_int_equal(ht_finding_index(kinds[i].id), i);
    assert_int_equal(ht_finding_index("no-such-finding"), SIZE_MAX);
}

static void words_of_the_sheet_are_known(void **state)
{
    (void)state;
    static const char *const seen[] = {
        "dent", "missing_weight", "undercoating", "loose_joint",
        "rough_centre_bearing", "torn_centre_rubber", "cupped_tyre",
        "mud_in_wheel"
    };
    for (size_t i = 0; i < sizeof seen / sizeof seen[0]; i++)
        assert_true(ht_finding_word_known(seen[i], false));
    assert_true(ht_finding_word_known("mounts", true));
    assert_true(ht_finding_word_known("bushes", true));
    assert_false(ht_finding_word_known("mounts", false));
    assert_false(ht_finding_word_known("dnet", false));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_finding_has_its_words),
        cmocka_unit_test(ids_are_unique_and_found),
        cmocka_unit_test(words_of_the_sheet_are_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
