/* One quantity has one range, wherever it is printed. */
#include "worked.h"

#include <stdio.h>

#define CASE(limits, slopes)                                                   \
    "halfturn: 1\nvehicle: {tyre: 235/65R16, drive: rear, axle_ratio: 3.73, "  \
    "top_speed_km_h: 130}\ndriveline: {members: [gearbox, front shaft, rear "  \
    "shaft, pinion], yokes_deg: [0, 0]}\nlimits: " limits "\nangles: {"        \
    "suspension: wheels_on_ground, read_on: cap, gauge: {accuracy_deg: 0.1, "  \
    "step_deg: 0.05, set_up_deg: 0.15}, headings_deg: [0, 0, 0, 0], "          \
    "slopes_deg: " slopes "}\n"

/* Round numbers, equal numbers, nothing at all, repeats that scatter. */
static const char *const cases[] = {
    CASE("light_truck", "[2.1, 2.5, 4.0, 2.4]"),
    CASE("light_truck", "[0, 0, 0, 0]"),
    CASE("light_truck", "[2, 2, 2, 2]"),
    CASE("light_truck", "[0, 3, 6, 3]"),
    CASE("light_truck", "[0, 3, 3, 0]"),
    CASE("light_truck", "[[2, 2.4, 2.2], [2.5, 2.5, 2.5], 4, [2, 3]]"),
    CASE("{leftover_max_deg: 1, joint_max_deg: 3, difference_max_deg: 1, "
         "axle_rad_s2: 400, shaft_rad_s2: 1000}", "[0, 0.3, 1, 0]"),
};
enum { CASES = sizeof cases / sizeof *cases };

/* Lines of a paragraph joined, no-break spaces plain. */
static void unwrap(char *line)
{
    char *to = line;
    for (const char *p = line; *p; p++) {
        if (*p == '\n' && p[1] == ' ' && p[2] == ' ' && p[3] != ' ') {
            *to++ = ' ';
            p += 2;
        } else
            *to++ = *p;
    }
    *to = '\0';
}

/* What follows `before`, up to one of `ends`. */
static void take(char *buffer, size_t size, const char *whole,
                 const char *before, const char *ends)
{
    const char *p = strstr(whole, before);
    if (!p)
        fail_msg("no \"%s\" in\n%s", before, whole);
    p += strlen(before);
    const char *end = strstr(p, ends);
    assert_non_null(end);
    (void)snprintf(buffer, size, "%.*s", (int)(end - p), p);
}

static void a_shake_has_the_same_range_beside_its_limit(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        { "Shake passed to the axle: ", "Shake passed to the axle: " },
        { "own shake, pulled from the front: ",
          "own shake pulled from the front: " },
        { "own shake, held from the rear: ", "own shake held from the rear: " },
        { "Left over after all joints: ", "Leftover angle: " },
    };
    for (size_t i = 0; i < CASES; i++) {
        work(cases[i]);
        text.length = 0;
        assert_int_equal(ht_report_angles_text(&text, workup, NULL), HT_OK);
        char *whole = strdup(ht_text_get(&text));
        assert_non_null(whole);
        unwrap(whole);
        for (size_t k = 0; k < 3U + (i == CASES - 1); k++) {
            char first[80], second[80];
            const char *behind = strstr(whole, pairs[k][0]);
            if (!behind)
                fail_msg("no \"%s\" in\n%s", pairs[k][0], whole);
            take(first, sizeof first, whole, pairs[k][0],
                 k < 3 ? "." : "\302\260)");
            take(second, sizeof second, behind + strlen(pairs[k][0]),
                 pairs[k][1], k < 3 ? ", at most" : "\302\260)");
            assert_string_equal(first, second);
        }
        free(whole);
    }
}

/* The strip of the page writes the numbers of the text, "±" as well. */
static void figures_write_a_range_as_the_text_does(void **state)
{
    (void)state;
    struct ht_report_names names = { "case.yaml", NULL };
    char first[80], second[80];
    work(cases[1]);
    text.length = 0;
    assert_int_equal(ht_report_angles_text(&text, workup, NULL), HT_OK);
    take(first, sizeof first, ht_text_get(&text), "gearbox / front shaft",
         "\302\260)");
    const char *high = strstr(first, "to ");
    assert_non_null(high);
    assert_non_null(strstr(first, "0.00\302\260 (0.00\302\260 to "));
    (void)snprintf(second, sizeof second, ">0.00–%s<", high + 3);
    text.length = 0;
    assert_int_equal(ht_report_html(&text, workup, &names, NULL), HT_OK);
    if (!strstr(ht_text_get(&text), second))
        fail_msg("the page does not say \"%s\"", second);
}

/* Headings are known here: it is not the side view that leaves it open. */
static void what_leaves_a_verdict_open_is_told_rightly(void **state)
{
    (void)state;
    work("halfturn: 1\nlimits: {leftover_max_deg: 0.1}\nangles: {suspension: "
         "wheels_on_ground, slopes_deg: [[1, 2.5], 3, 1], headings_deg: "
         "[0, 0, 0]}\n");
    text.length = 0;
    assert_int_equal(ht_report_angles_text(&text, workup, NULL), HT_OK);
    char *whole = strdup(ht_text_get(&text));
    assert_non_null(whole);
    unwrap(whole);
    assert_non_null(strstr(whole, "as zero is not ruled out"));
    assert_null(strstr(whole, "from the side"));
    free(whole);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shake_has_the_same_range_beside_its_limit),
        cmocka_unit_test(figures_write_a_range_as_the_text_does),
        cmocka_unit_test(what_leaves_a_verdict_open_is_told_rightly),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
