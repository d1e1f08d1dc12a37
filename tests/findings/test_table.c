/* The table of findings says what it must. */
#include "close.h"

#include "halfturn/findings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
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

/* One row of the table in docs/findings.md. */
static void doc_row(char *row, size_t size, const struct ht_finding_kind *kind)
{
    char answers[200] = "", minutes[24] = "";
    for (size_t k = 0; k < kind->answers; k++) {
        size_t used = strlen(answers);
        snprintf(answers + used, sizeof answers - used, "%s%s",
                 k ? " < " : "", kind->answer[k]);
    }
    if (kind->question)
        snprintf(minutes, sizeof minutes, "%.0f", kind->minutes);
    snprintf(row, size, "| `%s` | %s | %s | %s | %s%s | %s |\n", kind->id,
             kind->question ? kind->question : "measured by the drive",
             answers, minutes, kind->tool ? kind->tool : "",
             kind->needs_drive ? (kind->tool ? ", drive" : "drive") : "",
             kind->group ? kind->group : "");
}

static char *read_page(void)
{
    static char page[64 * 1024];
    FILE *file = fopen(HALFTURN_SOURCE_DIR "/docs/findings.md", "rb");
    assert_non_null(file);
    page[fread(page, 1, sizeof page - 1, file)] = '\0';
    (void)fclose(file);
    return page;
}

/* HALFTURN_PRINT=1 prints the rows for the page. */
static void the_page_holds_every_row_of_the_table(void **state)
{
    (void)state;
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    const char *page = read_page();
    for (size_t i = 0; i < count; i++) {
        char row[700];
        doc_row(row, sizeof row, &kinds[i]);
        if (getenv("HALFTURN_PRINT"))
            printf("%s", row);
        else if (!strstr(page, row))
            fail_msg("docs/findings.md lacks: %s", row);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_finding_has_its_words),
        cmocka_unit_test(ids_are_unique_and_found),
        cmocka_unit_test(words_of_the_sheet_are_known),
        cmocka_unit_test(the_page_holds_every_row_of_the_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
