/* One order on the shared doubling axis. */
#include "figure.h"

#include "markup.h"
#include "words.h"

#include <math.h>

/* Percent along seven doublings from the map's first class edge. */
static double place_of(double level, double first_edge)
{
    double doublings = log2(fmax(level, first_edge) / first_edge);
    return 100 * fmin(doublings / (MAP_CLASSES - 2), 1);
}

void draw_order_row(struct ht_text *out, const struct ht_orders *orders,
                    const struct ht_order_result *result, const char *family)
{
    double edge = map_first_edge(orders);
    ht_text_add(out, "<svg aria-hidden=\"true\" height=\"16\"><line "
                     "class=\"doubling\" y1=\"8\" x2=\"100%\" y2=\"8\"/>");
    if (result->state == HT_SEEN) {
        double low = place_of(result->level.low, edge);
        double high = place_of(result->level.high, edge);
        double middle = place_of(result->level.value, edge);
        if (high - low < 2)
            high = low + 2;
        markup(out, "<rect class=\"block %s\" x=\"%n%%\" y=\"3\" "
               "width=\"%n%%\" height=\"10\" rx=\"1.5\"/><line class=\"slit\" "
               "x1=\"%n%%\" y1=\"3\" x2=\"%n%%\" y2=\"13\"/>",
               family, low, high - low, middle, middle);
    } else if (result->state == HT_NOT_SEEN && isfinite(result->least_seen)) {
        double end = place_of(result->least_seen, edge);
        markup(out, "<line class=\"unseen\" y1=\"8\" x2=\"%n%%\" y2=\"8\"/>"
               "<line class=\"axis\" x1=\"%n%%\" y1=\"4\" x2=\"%n%%\" "
               "y2=\"12\"/>", end, end, end);
    }
    ht_text_add(out, "</svg>");
}
