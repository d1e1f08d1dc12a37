/* How often the 95 % intervals of the angles hold the truth: 10 000 made-up
 * measurements of each vehicle. Prints; docs/angles.md keeps what it printed.
 *   cmake --build build --target angles-coverage && build/tests/angles-coverage
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "made_measurements.h"

int main(void)
{
    enum { RUNS = 10000 };
    printf("held, %% of %d; standard error 0.22\n"
           "| vehicle | joints | complex sum | leftover | "
           "leftover, in its u |\n|---|---|---|---|---|\n", RUNS);
    for (size_t v = 0; v < VEHICLES; v++) {
        struct coverage c = cover(&vehicles[v], RUNS, 1000 + v);
        printf("| %s |", vehicles[v].name);
        for (size_t j = 0; j + 1 < vehicles[v].members; j++)
            printf(" %.1f", 100.0 * c.joint[j] / RUNS);
        printf(" | %.1f | %.1f | %.1f |\n", 100.0 * c.sum / RUNS,
               100.0 * c.leftover / RUNS, c.off);
    }
    return 0;
}
