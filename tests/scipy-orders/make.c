/* Writes frames (turns, sample) to the file named, then prints the order map
 * of the same drive: order from and to, then the levels. */
#include "made.h"

static double slowly(double t) { return 24.72 + 0.2 * sin(0.1 * t); }

int main(int count, char **argument)
{
    struct made m;
    struct ht_orders orders;
    struct random_source source = { 5 };
    FILE *file = count == 2 ? fopen(argument[1], "wb") : NULL;
    if (!file)
        return 1;
    made_start(&m, 2000, 120, 1, slowly);
    size_t wheel = made_part(&m, "wheel", 1, HT_FAMILY_WHEEL, false);
    made_order(&m, wheel, 1);
    made_line(&m, 0, 1, 0.1, 2, 0);
    made_line(&m, 0, 3.73, 0.2, 1, 0.2);
    made_line(&m, 0, 7.46, 0.05, 0, 0.7);
    made_noise(&m, 0, 1e-5, &source);
    for (size_t i = 0; i < m.recording.frames; i++) {
        double pair[2] = { m.angle[i],
                           (double)m.channel[0].samples[i] };
        if (fwrite(pair, sizeof pair, 1, file) != 1)
            return 1;
    }
    if (fclose(file) != 0 || !made_find(&orders, &m, NAN, "wheel", 1))
        return 1;
    const struct ht_order_map *map = &orders.map;
    printf("%zu %.17g %.17g\n", map->up, map->order_from, map->order_to);
    for (size_t x = 0; x < map->across; x++)
        printf("%.9g\n", (double)map->whole[x]);
    ht_orders_free(&orders);
    made_free(&m);
    return 0;
}
