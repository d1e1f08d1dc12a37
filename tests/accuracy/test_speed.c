/* Smoke accuracy of the speed room on drives from the test generator: a late,
 * scaled, noisy log once a second, truth known exactly. */
#include "close.h"
#include "drive_bridge.h"

#include "halfturn/speed.h"

#include <math.h>

enum { DRIVES = 20, LIMIT = 3 };

struct tally {
    int refused, lag_off, scale_off, lossy;
};

/* Cycles per wheel turn of the drive's loudest fault line; 1 if it has none
 * that follows the road. */
static double order_of(const struct drive *drive)
{
    const struct drive_line *loudest = NULL;
    for (size_t i = 0; i < drive->lines; i++) {
        const struct drive_line *line = &drive->line[i];
        if (line->is_fault && line->part != DRIVE_FIXED &&
            (!loudest || line->level_m_s2 > loudest->level_m_s2))
            loudest = line;
    }
    const struct drive_vehicle *vehicle = &drive->vehicle;
    double shaft = vehicle->axle_ratio;
    double engine = shaft * vehicle->gear_ratio[vehicle->gear - 1];
    if (!loudest || loudest->part == DRIVE_WHEEL)
        return loudest ? loudest->multiple : 1;
    return loudest->multiple * (loudest->part == DRIVE_SHAFT ? shaft : engine);
}

/* Share of a line's amplitude that survives averaging over blocks of 64 wheel
 * turns along the found history: |mean exp(2 pi i o (found - true))|, mean
 * over the blocks. 1: nothing lost. */
static double amplitude_kept(const struct ht_turns *turns,
                             const struct drive *drive, double order)
{
    double real = 0, imaginary = 0, count = 0, sum = 0, blocks = 0;
    double block_from = NAN;
    for (size_t i = 0; i < turns->points; i++) {
        double time_s = turns->start_s + (double)i / turns->rate_hz;
        if (!turns->usable[i] || time_s > drive->duration_s)
            continue;
        double off = turns->turns[i] - drive_turns_at(drive, time_s);
        real += cos(6.283185307179586 * order * off);
        imaginary += sin(6.283185307179586 * order * off);
        count++;
        if (isnan(block_from))
            block_from = turns->turns[i];
        if (turns->turns[i] - block_from >= 64) {
            sum += hypot(real, imaginary) / count;
            blocks++;
            real = imaginary = count = 0;
            block_from = NAN;
        }
    }
    return sum / blocks;
}

static void count_one(struct tally *tally, struct drive_bridge *bridge)
{
    const struct drive *drive = bridge->drive;
    struct ht_speed_request request = { .recording = &bridge->recording,
                                        .rotation = &bridge->rotation,
                                        .log = &bridge->log,
                                        .steady_m_s = NAN };
    struct ht_turns turns;
    assert_int_equal(ht_turns_find(&turns, &request, NULL), HT_OK);
    if (turns.state == HT_SPEED_REFUSED) {
        tally->refused++;
    } else {
        double scale = drive->scale * drive->vehicle.circumference_m /
                       drive->vehicle.nominal_m;
        double order = order_of(drive);
        double kept = amplitude_kept(&turns, drive, order);
        tally->lag_off += !(fabs(turns.lag_s - drive->lag_s) <= 0.1);
        tally->scale_off += !(fabs(turns.scale / scale - 1) <= 0.002);
        tally->lossy += !(kept >= 0.97);
        print_message("%-17s seed %2d: lag %+.3f s, scale %+.3f %%, order "
                      "%.2f keeps %.3f\n",
                      drive_fault_name(drive->request.fault),
                      (int)drive->request.seed, turns.lag_s - drive->lag_s,
                      100 * (turns.scale / scale - 1), order, kept);
    }
    ht_turns_free(&turns);
}

/* Goals: lag to 0.1 s, scale to 0.2 %, 97 % of the fault's amplitude kept. A
 * room that meets a goal in 95 of 100 drives fails more than 3 of 20 with
 * probability 0.016 (binomial); one that meets it in 60 passes with 0.016. */
static void a_late_scaled_log_is_put_right(void **state)
{
    (void)state;
    struct tally tally = { 0, 0, 0, 0 };
    for (int i = 0; i < DRIVES; i++) {
        struct drive_request request =
            drive_request_for((uint64_t)i + 1, (enum drive_fault)(i % 9));
        struct drive_bridge *bridge = drive_bridge_make(&request);
        assert_non_null(bridge);
        count_one(&tally, bridge);
        drive_bridge_free(bridge);
    }
    print_message("of %d: refused %d, lag off %d, scale off %d, lossy %d\n",
                  DRIVES, tally.refused, tally.lag_off, tally.scale_off,
                  tally.lossy);
    assert_true(tally.refused <= LIMIT);
    assert_true(tally.lag_off <= LIMIT);
    assert_true(tally.scale_off <= LIMIT);
    assert_true(tally.lossy <= LIMIT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_late_scaled_log_is_put_right),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
