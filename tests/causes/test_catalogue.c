/* The built-in catalogue holds what it must, and a wrong one is refused with
 * its line. */
#include "close.h"

#include "causes/catalogue.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *const wanted[] = {
    "angle-mismatch", "joint-angle-excess", "joint-couple", "yoke-phase",
    "joint-worn", "slip-spline-worn", "centre-support", "mount-or-arm-worn",
    "ride-height", "shaft-unbalance", "shaft-runout", "flange-runout",
    "flange-loose", "shaft-critical-speed", "half-shaft-joint",
    "wheel-unbalance", "wheel-runout", "wheel-seat", "wheel-loose",
    "tyre-uniformity", "wheel-bearing", "brake-disc", "engine-misfire",
    "engine-firing", "converter-unbalance", "converter-clutch-shudder",
    "clutch-or-flywheel", "accessory", "transfer-case", "all-wheel-bind",
    "hub-reduction", "electric-motor", "axle-mesh", "axle-bearing",
    "exhaust-contact", "nothing-abnormal", "other-wheel", "other-shaft",
    "other-engine", "other-fixed", "other-unknown"
};
enum { WANTED = sizeof wanted / sizeof wanted[0] };

static struct ht_catalogue *built_in(void)
{
    struct ht_catalogue *catalogue = NULL;
    struct ht_error err = { 0 };
    if (ht_catalogue_read(&catalogue, NULL, &err) != HT_OK)
        fail_msg("line %zu: %s", err.line, err.text);
    return catalogue;
}

static void every_cause_id_is_there(void **state)
{
    (void)state;
    struct ht_catalogue *catalogue = built_in();
    for (size_t i = 0; i < WANTED; i++) {
        bool found = false;
        for (size_t c = 0; c < ht_catalogue_causes(catalogue); c++)
            found = found || strcmp(ht_catalogue_cause_id(catalogue, c),
                                    wanted[i]) == 0;
        if (!found)
            fail_msg("no cause %s", wanted[i]);
    }
    assert_int_equal(ht_catalogue_causes(catalogue), WANTED);
    ht_catalogue_free(catalogue);
}

static void every_cause_says_what_to_do_and_what_can_hurt(void **state)
{
    (void)state;
    struct ht_catalogue *catalogue = built_in();
    for (size_t c = 0; c < catalogue->cause_count; c++) {
        const struct cat_cause *cause = &catalogue->causes[c];
        if (ht_cause_is_nothing(cause->id))
            continue;
        assert_non_null(cause->repair);
        assert_in_range(cause->link_count, 1, HT_LINKS_MAX);
        if (ht_cause_is_other(cause->id))
            continue;
        assert_non_null(cause->caution);
        assert_int_equal(cause->do_not_drive,
                         strncmp(cause->caution, "Do not drive", 12) == 0);
    }
    ht_catalogue_free(catalogue);
}

static void every_finding_has_a_leak(void **state)
{
    (void)state;
    struct ht_catalogue *catalogue = built_in();
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t f = 0; f < count; f++) {
        if (!(catalogue->leak_below[f][0] > 0))
            fail_msg("no leak for %s", kinds[f].id);
        assert_close(catalogue->leak_below[f][kinds[f].answers - 1], 1,
                     1e-12);
    }
    ht_catalogue_free(catalogue);
}

static void no_two_causes_of_the_built_in_one_are_alike(void **state)
{
    (void)state;
    struct ht_catalogue *catalogue = built_in();
    assert_string_equal(ht_catalogue_alike(catalogue), "");
    ht_catalogue_free(catalogue);
}

/* Alone, a strong link makes the odds of its answer or more 10 times the
 * leak's: leak 0.08 is odds 0.0870, so 0.870, probability 0.4651. */
static void strength_is_a_factor_on_the_odds(void **state)
{
    (void)state;
    const double leak[] = { 0.80, 0.92, 1 };
    double below[HT_ANSWERS_MAX];
    ht_link_from_strength(leak, 3, 2, 10, below);
    assert_close(1 - leak[1] * below[1], 10 * 0.08 / (0.92 + 10 * 0.08),
                 1e-15);
    ht_link_from_strength(leak, 3, 1, 3, below);
    double odds = (1 - leak[0] * below[0]) / (leak[0] * below[0]);
    assert_close(odds, 3 * 0.2 / 0.8, 1e-12);
    assert_close(1 - leak[1] * below[1], 0.08, 1e-15); /* stays as it is */
}

#define HEAD                                                                   \
    "catalogue: 1\ntempering: 0.8\n"                                           \
    "nothing: {complaint: 0.1, fleet: 0.8, course: 0.2}\n"                     \
    "faults_per_vehicle: 0.2\n"                                                \
    "sources: [{id: practice, text: common practice}]\n"                       \
    "leaks:\n  - {finding: dent, shares: [0.97, 0.03], source: practice}\n"

static enum ht_status read_text(const char *text, struct ht_error *err,
                                struct ht_catalogue **catalogue)
{
    char path[] = "/tmp/halfturn-catalogue-XXXXXX";
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, text, strlen(text)),
                     (ssize_t)strlen(text));
    close(descriptor);
    enum ht_status status = ht_catalogue_read(catalogue, path, err);
    unlink(path);
    return status;
}

static const struct {
    const char *text, *said;
    size_t line;
} wrong[] = {
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dnet, shares: [0.5, 0.5], source: practice}]}\n",
      "No finding is called 'dnet'. Did you mean 'dent'?", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "wings, shares: [0.5, 0.5], source: practice}]}\n",
      "No finding is called 'wings'. docs/findings.md lists them.", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0.5, 0.5], source: practise}]}\n",
      "Did you mean 'practice'?", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0.5, 0.6], source: practice}]}\n",
      "add up to 1", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [1.5, -0.5], source: practice}]}\n",
      "(Problems in all: 3.)", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0.5, 0.5]}]}\n",
      "source", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0.5, 0.5], source: hearsay}]}\n",
      "No source is called 'hearsay'", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "undercoating, shares: [0.5, 0.5], source: practice}]}\n",
      "no leak", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, answer: maybe, strength: strong, source: practice}]}\n",
      "one of the finding's answers", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: [1, 2]}\n",
      "Weights given: 2", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, needs: [wings]}\n",
      "'wings' is not known. Known are: propeller_shaft, cardan", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1}\n"
           "  - {id: a, title: B, weights: 1}\n",
      "stands twice", 10 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [1], source: practice}]}\n",
      "shares given: 1. Wanted: 2", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0, 1], source: practice}]}\n",
      "the first share is 0.", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0.5, 0.5], strength: weak, source: practice}]}\n",
      "shares stand beside", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: "
           "dent, shares: [0.5, 0.5], source: practice}, {finding: dent, "
           "shares: [0.4, 0.6], source: practice}]}\n",
      "has a link to 'dent' already", 9 },
    { HEAD "causes:\n  - {id: a, title: A, weights: 1, links: [{finding: x, "
           "source: practice}, {finding: x, source: practice}, {finding: x, "
           "source: practice}, {finding: x, source: practice}, {finding: x, "
           "source: practice}, {finding: x, source: practice}, {finding: x, "
           "source: practice}, {finding: x, source: practice}, {finding: x, "
           "source: practice}]}\n",
      "Links given: 9. Wanted: 8 at most.", 9 },
    { HEAD "  - {finding: dent, shares: [0.9, 0.1], source: practice}\n"
           "causes:\n  - {id: a, title: A, weights: 1}\n",
      "'dent' has a leak already", 8 },
    { HEAD, "Causes given: 0. Wanted: 1 to 64.", 1 },
};

static void a_wrong_catalogue_is_refused_with_its_line(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct ht_catalogue *catalogue = NULL;
        struct ht_error err = { 0 };
        assert_int_equal(read_text(wrong[i].text, &err, &catalogue),
                         HT_BAD_FILE);
        assert_null(catalogue);
        if (!strstr(err.text, wrong[i].said) || err.line != wrong[i].line)
            fail_msg("row %zu: line %zu: %s", i, err.line, err.text);
    }
}

static void causes_that_nothing_parts_are_listed(void **state)
{
    (void)state;
    struct ht_catalogue *catalogue = NULL;
    struct ht_error err = { 0 };
    enum ht_status status = read_text(
        HEAD "causes:\n"
             "  - {id: a, title: A, weights: 1, links: [{finding: dent, "
             "shares: [0.5, 0.5], source: practice}]}\n"
             "  - {id: b, title: B, weights: 2, links: [{finding: dent, "
             "shares: [0.5, 0.5], source: practice}]}\n",
        &err, &catalogue);
    if (status != HT_OK)
        fail_msg("%s", err.text);
    assert_string_equal(ht_catalogue_alike(catalogue), "a, b\n");
    ht_catalogue_free(catalogue);
}

static void a_missing_file_is_said(void **state)
{
    (void)state;
    struct ht_catalogue *catalogue;
    struct ht_error err = { 0 };
    assert_int_equal(
        ht_catalogue_read(&catalogue, "/nowhere/catalogue.yaml", &err),
        HT_CANNOT_READ);
    assert_null(catalogue);
    assert_non_null(strstr(err.text, "/nowhere/catalogue.yaml"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_cause_id_is_there),
        cmocka_unit_test(every_cause_says_what_to_do_and_what_can_hurt),
        cmocka_unit_test(every_finding_has_a_leak),
        cmocka_unit_test(no_two_causes_of_the_built_in_one_are_alike),
        cmocka_unit_test(strength_is_a_factor_on_the_odds),
        cmocka_unit_test(a_wrong_catalogue_is_refused_with_its_line),
        cmocka_unit_test(causes_that_nothing_parts_are_listed),
        cmocka_unit_test(a_missing_file_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
