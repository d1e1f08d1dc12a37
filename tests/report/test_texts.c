/* The sentences of the report: each variant whole, where it is meant. */
#include "close.h"
#include "workup_fixture.h"

#include "report/shown.h"
#include "report/summary.h"
#include "report/texts.h"

#include "common/constants.h"
#include "halfturn/report.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

typedef void (*say_function)(struct ht_text *, const struct told *);

static struct fixture *fixture;
static struct ht_workup *workup;
static struct ht_text text;

static int begin(void **state)
{
    (void)state;
    fixture = fixture_create(FIXTURE_VAN);
    workup = fixture_workup(fixture);
    return 0;
}

static int end(void **state)
{
    (void)state;
    ht_text_free(&text);
    fixture_free(fixture);
    return 0;
}

static const char *said(say_function say)
{
    const struct told told = told_all(workup);
    text.length = 0;
    say(&text, &told);
    return ht_text_get(&text);
}

static const char *written(enum ht_status (*write)(struct ht_text *,
                                                   const struct ht_workup *,
                                                   struct ht_error *))
{
    text.length = 0;
    assert_int_equal(write(&text, workup, NULL), HT_OK);
    return ht_text_get(&text);
}

static void assert_holds(const char *whole, const char *piece)
{
    if (!strstr(whole, piece))
        fail_msg("\"%s\" does not hold \"%s\"", whole, piece);
}

static void judge_all(enum ht_verdict verdict)
{
    for (size_t i = 0; i < workup->angles.verdicts; i++)
        workup->angles.verdict[i].verdict = verdict;
}

static void joints_out_of_limits_are_counted_in_whole_sentences(void **state)
{
    (void)state;
    workup->has_ranking = false;
    assert_string_equal(said(say_answer), "Joint 3 bends too far.");
    for (size_t i = 0; i < workup->angles.verdicts; i++)
        if (workup->angles.verdict[i].joint == 2 &&
            !workup->angles.verdict[i].is_minimum)
            workup->angles.verdict[i].verdict = HT_VERDICT_OVER;
    assert_string_equal(said(say_answer), "2 joints bend too far.");
    judge_all(HT_VERDICT_WITHIN);
    assert_string_equal(said(say_answer), REPORT_ANGLES_WITHIN);
    workup->angles.verdict[1].verdict = HT_VERDICT_UNDER;
    assert_string_equal(said(say_answer), "Joint 1 bends too little.");
    judge_all(HT_VERDICT_OPEN);
    assert_string_equal(said(say_answer), REPORT_ANGLES_OPEN);
    judge_all(HT_VERDICT_WITHIN);
    for (size_t i = 0; i < workup->angles.verdicts; i++)
        if (workup->angles.verdict[i].joint == 0)
            workup->angles.verdict[i].verdict = HT_VERDICT_OVER;
    assert_string_equal(said(say_answer), REPORT_NOT_CANCELLING);
    workup->angles.verdicts = 0;
    assert_string_equal(said(say_answer), REPORT_ANGLES_MEASURED);
    workup->angles.verdict_allowed = false;
    assert_string_equal(said(say_answer), REPORT_SUSPENSION_UNKNOWN);
}

static void without_angles_the_orders_or_their_lack_answer(void **state)
{
    (void)state;
    workup->has_ranking = workup->has_angles = false;
    assert_string_equal(said(say_answer),
                        "The strongest order is 2×" NBSP "shaft.");
    workup->orders.results = 0;
    assert_string_equal(said(say_answer), REPORT_NO_ORDER_SEEN);
    workup->has_orders = false;
    workup->turns.state = HT_SPEED_REFUSED;
    assert_string_equal(said(say_answer), REPORT_SPEED_NOT_FOUND);
    workup->has_turns = false;
    assert_string_equal(said(say_answer), REPORT_NO_DRIVE);
}

static void a_command_answers_what_it_was_asked_about(void **state)
{
    (void)state;
    assert_holds(written(ht_report_angles_text), "Joint 3 bends too far.\n");
    assert_holds(written(ht_report_orders_text),
                 "The strongest order is 2× shaft.\n");
    workup->has_angles = workup->has_orders = workup->has_turns = false;
    assert_holds(written(ht_report_angles_text), REPORT_NO_ANGLES "\n");
    assert_holds(written(ht_report_orders_text), REPORT_NO_DRIVE "\n");
}

static void what_is_left_out_is_named_as_people_name_it(void **state)
{
    (void)state;
    const char *said = written(ht_report_rank_text);
    assert_holds(said, "this vehicle has none: A hub reduction gear is at "
                       "fault\n");
    assert_null(strstr(said, "hub-reduction"));
}

static void *write_all(void *status)
{
    struct ht_text out = { 0 };
    *(int *)status = ht_report_angles_text(&out, workup, NULL) == HT_OK &&
                     ht_report_orders_text(&out, workup, NULL) == HT_OK &&
                     ht_report_rank_text(&out, workup, NULL) == HT_OK;
    ht_text_free(&out);
    return NULL;
}

/* A workup would not fit on it. */
static void a_workup_is_told_of_on_a_small_stack(void **state)
{
    (void)state;
    enum { STACK_BYTES = 256 * 1024 };
    pthread_attr_t small;
    pthread_t thread;
    int fine = 0;
    assert_true(sizeof *workup > STACK_BYTES);
    assert_int_equal(pthread_attr_init(&small), 0);
    assert_int_equal(pthread_attr_setstacksize(&small, STACK_BYTES), 0);
    assert_int_equal(pthread_create(&thread, &small, write_all, &fine), 0);
    assert_int_equal(pthread_join(thread, NULL), 0);
    assert_int_equal(pthread_attr_destroy(&small), 0);
    assert_true(fine);
}

static void a_cause_is_named_only_when_it_is_accused(void **state)
{
    (void)state;
    workup->ranking.cause[0].title = "A wheel is loose";
    workup->ranking.cause[0].probability = 0.42;
    assert_string_equal(said(say_answer), "A wheel is loose.");
    assert_string_equal(said(say_sureness),
                        "Even: 42" NBSP "in" NBSP "100.");
    workup->ranking.accused = NULL;
    assert_string_equal(said(say_answer), REPORT_CAUSE_OPEN);
    assert_string_equal(said(say_sureness),
                        "A wheel is loose stands first, even: 42" NBSP
                        "in" NBSP "100.");
    workup->ranking.cause[0].id = "nothing-abnormal";
    judge_all(HT_VERDICT_WITHIN);
    assert_string_equal(said(say_answer), REPORT_NOTHING_STANDS_OUT);
    workup->ranking.cause[0].probability = 0.7;
    assert_string_equal(said(say_answer), REPORT_NOTHING_FOUND);
    workup->has_orders = workup->has_angles = false;
    assert_string_equal(said(say_answer), REPORT_TOO_LITTLE);
    assert_string_equal(said(say_sureness),
                        "No cause of vibration stands out (nothing abnormal: "
                        "70" NBSP "in" NBSP "100).");
}

static void the_leftover_says_whether_it_shakes_or_is_nothing(void **state)
{
    (void)state;
    workup->has_orders = false;
    assert_holds(said(say_reason), "which shakes the axle twice per shaft "
                                   "turn.");
    workup->angles.leftover_is_zero = true;
    assert_holds(said(say_reason), ": not to be told from zero with this "
                                   "gauge.");
    workup->angles.leftover_is_zero = false;
    judge_all(HT_VERDICT_WITHIN);
    assert_string_equal(said(say_reason),
                        "All joints together leave 3.70°" NBSP "±" NBSP
                        "0.20°.");
}

static void the_worst_speed_says_whether_the_customer_feels_it(void **state)
{
    (void)state;
    workup->has_angles = false;
    assert_string_equal(said(say_reason),
                        "The strongest order, 2×" NBSP "shaft, is worst at 93"
                        NBSP "km/h, where the customer feels it.");
    fixture_sheet(fixture)->complaint.given = false;
    assert_string_equal(said(say_reason),
                        "The strongest order, 2×" NBSP "shaft, is worst at 93"
                        NBSP "km/h.");
}

static void one_minute_is_not_minutes(void **state)
{
    (void)state;
    workup->ranking.next[0].question = "Is it loose?";
    workup->ranking.next[0].how[0] = '\0';
    workup->ranking.next[0].minutes = 1.2;
    assert_string_equal(said(say_next), "Is it loose? 1" NBSP "minute.");
    workup->ranking.next[0].minutes = 8;
    assert_string_equal(said(say_next), "Is it loose? 8" NBSP "minutes.");
}

static void every_source_of_speed_has_its_sentence(void **state)
{
    (void)state;
    static const struct {
        enum ht_speed_source source;
        double lag_s;
        const char *text;
    } rows[] = {
        { HT_SPEED_NONE, NAN, REPORT_SPEED_UNKNOWN },
        { HT_SPEED_PULSES, NAN, REPORT_SPEED_PULSES },
        { HT_SPEED_LOG, NAN, REPORT_SPEED_LOG },
        { HT_SPEED_LOG, 0.44, "Speed from the log, 0.4" NBSP "s late, "
                              "corrected." },
        { HT_SPEED_LOG, -1.2, "Speed from the log, 1.2" NBSP "s early, "
                              "corrected." },
        { HT_SPEED_STEADY, NAN, REPORT_SPEED_STEADY },
        { HT_SPEED_HINT, NAN, REPORT_SPEED_HINT },
        { HT_SPEED_RECORDING, NAN, REPORT_SPEED_RECORDING },
    };
    workup->turns.gear = 0;
    workup->turns.circumference_found = false;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        workup->turns.source = rows[i].source;
        workup->turns.lag_s = rows[i].lag_s;
        assert_string_equal(said(say_speed), rows[i].text);
    }
    workup->turns.gear = 4;
    workup->turns.circumference_found = true;
    workup->turns.circumference_m = 2.145;
    workup->turns.circumference_u_m = 0.0005;
    assert_string_equal(said(say_speed),
                        REPORT_SPEED_RECORDING " Gear" NBSP "4. Wheel rolls "
                        "2.145" NBSP "±" NBSP "0.001" NBSP "m a turn, found.");
}

static void two_orders_that_cannot_be_told_apart_say_why(void **state)
{
    (void)state;
    struct ht_cannot_separate *pair = workup->orders.cannot_separate;
    workup->orders.cannot_separate_count = 3;
    for (size_t i = 0; i < 3; i++) {
        (void)snprintf(pair[i].a, sizeof pair[i].a, "%zu× engine", i);
        (void)snprintf(pair[i].b, sizeof pair[i].b, "3× wheel");
        (void)snprintf(pair[i].way_out, sizeof pair[i].way_out, "%s",
                       i < 2 ? "Do this." : "");
        pair[i].never = i > 0;
    }
    const char *lines = said(say_untold);
    assert_holds(lines, BOLD_ON "0×" NBSP "engine from 3×" NBSP "wheel."
                        BOLD_OFF " They lie too close. Do this.\n");
    assert_holds(lines, BOLD_ON "1×" NBSP "engine from 3×" NBSP "wheel."
                        BOLD_OFF " Do this.\n");
    assert_holds(lines, BOLD_ON "2×" NBSP "engine from 3×" NBSP "wheel."
                        BOLD_OFF " They have the same frequency at every "
                        "speed.\n");
}

static void what_could_not_be_told_is_told(void **state)
{
    (void)state;
    double felt[] = { 20, 60 };
    struct ht_limit_verdict *first = &workup->angles.verdict[0];
    fixture_sheet(fixture)->complaint.speed_m_s =
        (struct ht_numbers){ felt, 2 };
    workup->turns.state = HT_SPEED_AMBIGUOUS;
    (void)snprintf(workup->turns.reason, sizeof workup->turns.reason,
                   "Two readings fit.");
    workup->angles.side_view_only = true;
    workup->ranking.unexplained = 1;
    (void)snprintf(workup->ranking.unexplained_text[0],
                   sizeof workup->ranking.unexplained_text[0], "A hum.");
    first->verdict = HT_VERDICT_OPEN;
    (void)snprintf(first->way_out, sizeof first->way_out, "Repeat it.");
    felt[0] = 1;
    const char *lines = said(say_untold);
    assert_holds(lines, BOLD_ON "The speed." BOLD_OFF " Two readings fit.\n");
    assert_holds(lines, REPORT_SIDE_VIEW_ONLY "\n");
    assert_holds(lines, BOLD_ON "Not explained:" BOLD_OFF " A hum.\n");
    assert_holds(lines, BOLD_ON "Joint 1" BOLD_OFF " against its 3.0° limit: ");
    assert_holds(lines, ". Repeat it.\n");
    assert_holds(lines, "km/h." BOLD_OFF " Felt there, but not driven.\n");
    assert_holds(lines, BOLD_ON "Below ");
    assert_holds(lines, BOLD_ON "Above ");
    workup->angles.verdict_allowed = false;
    assert_holds(said(say_untold), REPORT_NO_ANGLE_VERDICT "\n");
}

static void causes_below_the_line_are_counted_in_one_and_in_many(void **state)
{
    (void)state;
    for (size_t i = 1; i < 4; i++)
        workup->ranking.cause[i].probability = 0.03;
    workup->ranking.causes = 2;
    assert_holds(written(ht_report_rank_text), "  1 more, below 5 in 100.\n");
    workup->ranking.causes = 4;
    assert_holds(written(ht_report_rank_text),
                 "  3 more, each below 5 in 100.\n");
}

static void a_limit_is_said_with_both_ends_or_the_one_it_has(void **state)
{
    (void)state;
    struct ht_angles *a = &workup->angles;
    workup->has_ranking = workup->has_orders = false;
    assert_holds(written(ht_report_angles_text), "0.5° to 3.0°");
    a->verdicts = 1;
    assert_false(a->verdict[0].is_minimum);
    assert_holds(written(ht_report_angles_text), "at most 3.0°");
    a->verdict[0] = a->verdict[1];
    assert_true(a->verdict[0].is_minimum);
    assert_holds(written(ht_report_angles_text), "at least 0.5°");
    a->verdict[0].verdict = HT_VERDICT_OPEN;
    a->verdict[0].probability_over = 0.4;
    assert_holds(written(ht_report_angles_text), "40 in 100 under\n");
    a->verdict[0].joint = 0;
    assert_holds(written(ht_report_angles_text), "tell, 40 in 100\n");
    assert_holds(written(ht_report_angles_text), "that it is under.");
    a->accelerations.speed_m_s = NAN;
    a->accelerations.shaft_rad_s = 300;
    assert_holds(written(ht_report_angles_text),
                 "At 2865 rev/min of the shaft:");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)
        TEST(joints_out_of_limits_are_counted_in_whole_sentences),
        TEST(without_angles_the_orders_or_their_lack_answer),
        TEST(a_command_answers_what_it_was_asked_about),
        TEST(what_is_left_out_is_named_as_people_name_it),
        TEST(a_workup_is_told_of_on_a_small_stack),
        TEST(a_cause_is_named_only_when_it_is_accused),
        TEST(the_leftover_says_whether_it_shakes_or_is_nothing),
        TEST(the_worst_speed_says_whether_the_customer_feels_it),
        TEST(one_minute_is_not_minutes),
        TEST(every_source_of_speed_has_its_sentence),
        TEST(two_orders_that_cannot_be_told_apart_say_why),
        TEST(what_could_not_be_told_is_told),
        TEST(causes_below_the_line_are_counted_in_one_and_in_many),
        TEST(a_limit_is_said_with_both_ends_or_the_one_it_has),
#undef TEST
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
