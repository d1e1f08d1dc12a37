/* Smoke accuracy of speed and orders together on drives from the test
 * generator: a late, scaled log once a second, every line's truth known. */
#include "close.h"
#include "drive_bridge.h"

#include "halfturn/orders.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DRIVES = 40, FIGURES_MAX = 20000 };

#define HEALTHY_M_S2                                                           \
    0.04 /* upper edge of the healthy band at the seat rail                    \
          */

struct tally {
    size_t errors, covered;      /* bins judged; those whose limits hold it */
    double error[FIGURES_MAX];   /* relative, of bins above the band */
    size_t clear;                /* how many of those */
    size_t faults, faults_seen;  /* lines of the fault */
    size_t absent, absent_seen;  /* orders that no line stands at */
    size_t drives_seeing_absent; /* drives with at least one of them */
    size_t claims, wrong_claims; /* "not seen", although above the band */
};

static struct tally tally;

static int part_of(const struct drive_bridge *bridge,
                   const struct ht_order *order)
{
    static const char *const names[] = { "wheel", "shaft", "engine" };
    const char *name = bridge->rotation.part[order->part].name;
    for (int i = 0; i < 3; i++)
        if (strcmp(names[i], name) == 0)
            return i;
    return -1;
}

/* The found speed stands on the log's scale; the truth on the road's. */
static double truth_of(const struct drive_bridge *bridge,
                       const struct ht_turns *turns, int part, double multiple,
                       const struct ht_order_bin *bin)
{
    double to_road =
        bridge->drive->vehicle.circumference_m / turns->circumference_m;
    return drive_truth_rms(bridge->drive, (enum drive_part)part, multiple, -1,
                           bin->from_m_s * to_road, bin->to_m_s * to_road);
}

/* Bins with at least 32 turns (half a long block) and a line above a third of
 * the healthy band. */
static void judge_bins(const struct drive_bridge *bridge,
                       const struct ht_turns *turns, int part,
                       const struct ht_order_result *result)
{
    for (size_t i = 0; i < result->bins; i++) {
        const struct ht_order_bin *bin = &result->bin[i];
        double truth =
            truth_of(bridge, turns, part, result->order.multiple, bin);
        if (bin->turns < 32 || !(truth > HEALTHY_M_S2 / 3))
            continue;
        if (bin->state == HT_NOT_SEEN) {
            tally.claims++;
            tally.wrong_claims += truth > HEALTHY_M_S2;
        }
        if (bin->state != HT_SEEN || tally.clear == FIGURES_MAX)
            continue;
        tally.errors++;
        tally.covered += bin->level.low <= truth && truth <= bin->level.high;
        if (truth > HEALTHY_M_S2)
            tally.error[tally.clear++] = fabs(bin->level.value / truth - 1);
    }
}

static const struct drive_line *line_of(const struct drive *drive, int part,
                                        double multiple)
{
    for (size_t i = 0; i < drive->lines; i++)
        if ((int)drive->line[i].part == part && drive->line[i].off == 0 &&
            drive->line[i].multiple == multiple)
            return &drive->line[i];
    return NULL;
}

/* An order at which the generator put nothing. */
static void judge_absent(const struct drive_bridge *bridge,
                         const struct ht_order_result *result)
{
    tally.absent++;
    if (result->state != HT_SEEN)
        return;
    tally.absent_seen++;
    print_message("  seed %d %s: seen with %.4f, no such line\n",
                  (int)bridge->drive->request.seed, result->order.name,
                  result->level.value);
}

/* The truth is that of the turns that could be analysed: where the log has
 * ended (it is up to a second late), the wheel's angle is not known. */
static void judge_known_turns(struct drive *drive, const struct ht_turns *turns)
{
    size_t from = 0, to = turns->points - 1;
    while (from < to && !turns->usable[from])
        from++;
    while (to > from && !turns->usable[to])
        to--;
    drive->judged_from_s = (double)from / turns->rate_hz;
    drive->judged_to_s = (double)to / turns->rate_hz;
}

static void judge_fault(const struct drive_bridge *bridge,
                        const struct ht_order_result *result)
{
    tally.faults++;
    tally.faults_seen += result->state == HT_SEEN;
    if (result->state != HT_SEEN)
        print_message("  seed %d %s: is there, not seen. %s\n",
                      (int)bridge->drive->request.seed, result->order.name,
                      result->reason);
}

static void judge(const struct drive_bridge *bridge,
                  const struct ht_turns *turns, const struct ht_orders *orders)
{
    size_t before = tally.absent_seen;
    for (size_t i = 0; i < orders->results; i++) {
        const struct ht_order_result *result = &orders->result[i];
        int part = part_of(bridge, &result->order);
        if (result->channel != -1 || part < 0)
            continue;
        const struct drive_line *line =
            line_of(bridge->drive, part, result->order.multiple);
        if (!line)
            judge_absent(bridge, result);
        else if (line->is_fault)
            judge_fault(bridge, result);
        if (line)
            judge_bins(bridge, turns, part, result);
    }
    tally.drives_seeing_absent += tally.absent_seen > before;
}

static void drive_and_judge(uint64_t seed)
{
    struct drive_request request =
        drive_request_for(seed, (enum drive_fault)(seed % DRIVE_FAULTS));
    request.severity_m_s2 = 0.2;
    struct drive_bridge *bridge = drive_bridge_make(&request);
    assert_non_null(bridge);
    struct ht_speed_request how = { .recording = &bridge->recording,
                                    .rotation = &bridge->rotation,
                                    .log = &bridge->log,
                                    .steady_m_s = NAN };
    struct ht_turns turns;
    struct ht_orders orders;
    struct ht_error err = { 0 };
    assert_int_equal(ht_turns_find(&turns, &how, &err), HT_OK);
    assert_int_not_equal(turns.state, HT_SPEED_REFUSED);
    if (ht_orders_find(&orders, &bridge->recording, &bridge->rotation, &turns,
                       HEALTHY_M_S2, NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
    judge_known_turns(bridge->drive, &turns);
    judge(bridge, &turns, &orders);
    ht_orders_free(&orders);
    ht_turns_free(&turns);
    drive_bridge_free(bridge);
}

static int rising(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static int drive_all(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= DRIVES; seed++)
        drive_and_judge(seed);
    qsort(tally.error, tally.clear, sizeof tally.error[0], rising);
    print_message("%zu bins above the band: median error %.2f %%, 90 %% below "
                  "%.2f %%; of %zu bins limits hold the truth in %.1f %%\n",
                  tally.clear, 100 * tally.error[tally.clear / 2],
                  100 * tally.error[tally.clear * 9 / 10], tally.errors,
                  100 * (double)tally.covered / (double)tally.errors);
    print_message("fault lines seen %zu of %zu; orders without a line seen %zu "
                  "of %zu, in %zu drives; wrong \"not seen\" %zu of %zu\n",
                  tally.faults_seen, tally.faults, tally.absent_seen,
                  tally.absent, tally.drives_seeing_absent, tally.wrong_claims,
                  tally.claims);
    return 0;
}

/* The goal itself. */
static void amplitudes_are_right_to_three_percent(void **state)
{
    (void)state;
    assert_true(tally.clear > 200);
    assert_true(tally.error[tally.clear / 2] <= 0.03);
}

/* 95 % is what the limits claim, 93 % the least that is let pass. Misses come
 * together in a drive: over 80 other drives (1680 bins) their number scattered
 * from drive to drive 1.7 times as much as binomial. 828 bins at 93 %: below
 * 91.1 % once in 20 honest suites. */
static void limits_hold_the_truth(void **state)
{
    (void)state;
    assert_true(tally.errors > 700);
    assert_true((double)tally.covered >= 0.911 * (double)tally.errors);
}

/* A line of 0.2 m/s2 missed in one of 20: more than 5 of 53 missed has
 * probability 0.05 (binomial). */
static void a_clear_fault_line_is_seen(void **state)
{
    (void)state;
    assert_true(tally.faults >= 40);
    assert_true(tally.faults - tally.faults_seen <= 5);
}

/* 1 % false alarms a report: more than 2 drives of 40 has probability 0.007
 * (binomial). */
static void what_is_not_there_is_not_seen(void **state)
{
    (void)state;
    assert_true(tally.absent >= 80);
    assert_true(tally.drives_seeing_absent <= 2);
}

/* "Not seen" is said of a line above the healthy band in at most one of 20
 * bins: more than 7 of 70 has probability 0.03. */
static void not_seen_is_said_of_weak_lines_only(void **state)
{
    (void)state;
    assert_true(tally.claims > 0);
    assert_true(tally.wrong_claims <= 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(amplitudes_are_right_to_three_percent),
        cmocka_unit_test(limits_hold_the_truth),
        cmocka_unit_test(a_clear_fault_line_is_seen),
        cmocka_unit_test(what_is_not_there_is_not_seen),
        cmocka_unit_test(not_seen_is_said_of_weak_lines_only),
    };
    return cmocka_run_group_tests(tests, drive_all, NULL);
}
