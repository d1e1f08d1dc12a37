/* How often the 95 % intervals of the angles hold the truth: 10 000 made-up
 * measurements of each row. Prints; docs/angles.md keeps what it printed.
 *   cmake --build build --target angles-coverage && build/tests/angles-coverage
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "made_measurements.h"

enum { RUNS = 10000 };

static double percent(int held)
{
    return 100.0 * held / RUNS;
}

static void print_vehicle(const struct vehicle *vehicle, uint64_t seed)
{
    struct coverage c = cover(vehicle, RUNS, seed);
    printf("| %s |", vehicle->name);
    for (size_t j = 0; j + 1 < vehicle->members; j++)
        printf(" %.1f", percent(c.joint[j]));
    if (vehicle->members > 2)
        printf(" | %.1f | %.1f", percent(c.pair), percent(c.sum));
    else
        printf(" | - | -");
    printf(" | %.1f | %.1f |\n", percent(c.leftover), c.off);
}

static void print_vehicles(void)
{
    printf("| vehicle | joints | pair | complex sum | leftover | "
           "leftover, in its u |\n|---|---|---|---|---|---|\n");
    for (size_t v = 0; v < VEHICLES; v++)
        print_vehicle(&vehicles[v], 1000 + v);
}

/* Size of the truth down, what it is made of across. */
static void print_planes(int dof)
{
    static const double size[] = { 0, 0.1, 0.25, 0.5, 1, 1.5, 2, 3, 4, 6 };
    static const double small[] = { 1, 0.6, 0.4, 0.24, 0.1, 0 };
    uint64_t seed = 5000 + (uint64_t)dof;
    printf("\nstandard deviations %s%.0d; across, the small over the large "
           "one and where the truth lies: 0, 45, 90 deg off the large axis\n"
           "| size | 1 | 0.6 | 0.4 | 0.24 | 0.1 | line |\n"
           "|---|---|---|---|---|---|---|\n",
           dof > 0 ? "from repeats, degrees of freedom " : "known", dof);
    for (size_t i = 0; i < sizeof size / sizeof *size; i++) {
        printf("| %g |", size[i]);
        for (size_t k = 0; k < sizeof small / sizeof *small; k++) {
            bool all_ways = small[k] > 0 && small[k] < 1;
            for (int way = 0; way < (all_ways ? 3 : 1); way++) {
                struct plane_case of = { size[i], small[k], 45 * way * DEG,
                                         dof };
                printf(" %.1f", percent(cover_plane(&of, RUNS, seed++)));
            }
            printf(" |");
        }
        printf("\n");
    }
}

/* What a single joint's two slopes are off together, deg. */
static double deviation(const struct vehicle *vehicle)
{
    return sqrt(2 * (pow(vehicle->accuracy, 2) / 6 +
                     pow(vehicle->set_up, 2) +
                     pow(vehicle->scatter, 2) / REPEATS));
}

/* One joint from nothing to six of its uncertainties, and a shaft that
 * cancels less and less. */
static void print_near_nothing(void)
{
    static const double size[] = { 0, 0.5, 1, 2, 4 };
    static const double scatter[] = { 0, 0.3 };
    printf("\n| scatter of three | from | true | joint | joint | leftover of "
           "two | leftover, in its u |\n|---|---|---|---|---|---|---|\n");
    for (int side = 0; side < 2; side++)
        for (int s = 0; s < 2; s++)
            for (size_t i = 0; i < sizeof size / sizeof *size; i++) {
                struct vehicle one = { .name = "", .members = 2,
                                       .slope = { 2, 2 }, .accuracy = 0.1,
                                       .set_up = 0.1, .scatter = scatter[s],
                                       .heading_u = side ? 0 : 0.1,
                                       .from_side = side };
                struct vehicle two = one;
                two.members = 3;
                two.slope[1] = 5;
                two.slope[2] = 2 + size[i] * deviation(&one) / 2;
                one.slope[1] += size[i] * deviation(&one);
                struct coverage a = cover(&one, RUNS, 7000 + i);
                struct coverage b = cover(&two, RUNS, 8000 + i);
                printf("| %g | %s | %g | %.1f | %.1f %.1f | %.1f | %.1f |\n",
                       scatter[s], side ? "side" : "both", size[i],
                       percent(a.joint[0]), percent(b.joint[0]),
                       percent(b.joint[1]), percent(b.leftover), b.off);
            }
}

int main(void)
{
    printf("held, %% of %d; standard error 0.22\n\n", RUNS);
    print_vehicles();
    print_planes(0);
    print_planes(4);
    print_planes(2);
    print_near_nothing();
    return 0;
}
