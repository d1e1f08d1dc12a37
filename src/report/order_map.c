/* The order map: order across, road speed up, level as temper colours. */
#include "figure.h"

#include "markup.h"
#include "shown.h"
#include "temper.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NAMES_MAX = 12, NAME_ROWS = 3, NAME_ROW = 16, TOP = 18 };

struct name {
    double x, leader_x, half_width;
    int row;
    const char *family;
    bool chosen;
    char text[128];
};
struct names {
    bool failed; /* a name was lost for want of memory */
    size_t count;
    struct name name[NAMES_MAX];
};

double map_first_edge(const struct ht_orders *orders)
{
    const double edge = 0.005; /* m/s², workshop orders of magnitude */
    double most = 0;
    for (size_t i = 0; i < orders->map.across * orders->map.up; i++)
        if ((double)orders->map.level[i] > most)
            most = (double)orders->map.level[i];
    if (most <= 0)
        return edge;
    /* Class 8 begins seven doublings above class 1. */
    double over = ceil(log2(most / (edge * 256)));
    return edge * exp2(orders->calibrated ? fmax(over, 0) : over);
}

static double map_height(double width)
{
    return width > FIGURE_NARROW ? 310 : 200;
}

/* ---- names above the map ------------------------------------------------ */

static bool collides(const struct name *a, const struct name *b)
{
    if (a->row == b->row)
        return fabs(a->x - b->x) < a->half_width + b->half_width + 5;
    const struct name *low = a->row < b->row ? a : b;
    const struct name *high = a->row < b->row ? b : a;
    return fabs(high->leader_x - low->x) < low->half_width + 2;
}

static bool is_free(const struct names *names, const struct name *name)
{
    for (size_t i = 0; i < names->count; i++)
        if (collides(&names->name[i], name))
            return false;
    return true;
}

static void add_name(struct names *names, struct name name, double width)
{
    static const double shift[] = { 0, -0.85, 0.85 };
    name.half_width = text_width_px(name.text, 13) / 2 * 1.02;
    for (int i = 0; i < 3 * NAME_ROWS && names->count < NAMES_MAX; i++) {
        double x = name.leader_x + shift[i / NAME_ROWS] * name.half_width;
        name.row = i % NAME_ROWS;
        name.x = fmin(fmax(x, name.half_width + 2),
                      width - name.half_width - 2);
        if (is_free(names, &name)) {
            names->name[names->count++] = name;
            return;
        }
    }
}

static const struct ht_cannot_separate *
pair_of(const struct ht_orders *orders, const char *name)
{
    for (size_t i = 0; i < orders->cannot_separate_count; i++)
        if (strcmp(orders->cannot_separate[i].a, name) == 0 ||
            strcmp(orders->cannot_separate[i].b, name) == 0)
            return &orders->cannot_separate[i];
    return NULL;
}

/* An order that cannot be told from another shares one name with it. */
static void write_name(struct names *names, struct name *name,
                       const struct ht_orders *orders,
                       const struct ht_order_result *result)
{
    const struct ht_cannot_separate *pair =
        pair_of(orders, result->order.name);
    struct ht_text first = { 0 }, second = { 0 };
    order_name(&first, pair ? pair->a : result->order.name);
    if (pair) {
        (void)snprintf(name->text, sizeof name->text, "%s, %s",
                       ht_text_get(&first), order_name(&second, pair->b));
        name->family = "other";
    } else
        (void)snprintf(name->text, sizeof name->text, "%s",
                       ht_text_get(&first));
    names->failed = names->failed || first.failed || second.failed;
    ht_text_free(&first);
    ht_text_free(&second);
}

static bool is_named(const struct names *names, const char *text)
{
    for (size_t i = 0; i < names->count; i++)
        if (strcmp(names->name[i].text, text) == 0)
            return true;
    return false;
}

static void place_names(struct names *names, const struct ht_workup *workup,
                        const struct scale *axis, double width)
{
    const struct ht_order_result *sorted[HT_ORDERS_MAX];
    size_t count = orders_by_strength(&workup->orders, sorted, HT_ORDERS_MAX);
    for (size_t i = 0; i < count && sorted[i]->state == HT_SEEN; i++) {
        double order = sorted[i]->wheel_order;
        struct name name = { .leader_x = scale_px(axis, order),
                             .chosen = i == 0 };
        if (!(order >= axis->from && order <= axis->to))
            continue;
        name.family = family_class(order_family(workup, sorted[i]));
        write_name(names, &name, &workup->orders, sorted[i]);
        if (!is_named(names, name.text))
            add_name(names, name, width);
    }
}

static void place_all(struct names *names, const struct ht_workup *workup,
                      double width, struct scale *order, struct scale *speed)
{
    const struct ht_order_map *map = &workup->orders.map;
    int rows = 1;
    *names = (struct names){ 0 };
    *order = (struct scale){ map->order_from, map->order_to, 36, width - 10 };
    place_names(names, workup, order, width);
    for (size_t i = 0; i < names->count; i++)
        rows = names->name[i].row >= rows ? names->name[i].row + 1 : rows;
    double top = TOP + rows * NAME_ROW + 6;
    *speed = (struct scale){ map->from_m_s, map->to_m_s,
                             top + map_height(width), top };
}

void map_scales(const struct ht_workup *workup, double width,
                struct scale *order, struct scale *speed)
{
    struct names names;
    place_all(&names, workup, width, order, speed);
}

static void draw_names(struct ht_text *out, const struct names *names,
                       double top)
{
    for (size_t i = 0; i < names->count; i++) {
        const struct name *name = &names->name[i];
        double y = top - 8 - name->row * NAME_ROW;
        char classes[48];
        figure_line(out, name->leader_x, y + 3, name->leader_x, top,
                    "leader");
        (void)snprintf(classes, sizeof classes, "t13 m halo %s%s",
                       name->family, name->chosen ? " bold" : "");
        figure_text(out, name->x, y, classes, name->text);
    }
}

/* ---- axes, key ---------------------------------------------------------- */

static void draw_axes(struct ht_text *out, const struct scale *order,
                      const struct scale *speed)
{
    double km_h_from = speed->from * HT_KM_H_PER_M_S;
    double km_h_to = speed->to * HT_KM_H_PER_M_S;
    double step = tick_step(km_h_to - km_h_from, 7);
    double first = tick_first(km_h_from, step);
    for (size_t i = 0; first + step * (double)i <= km_h_to + 1e-9; i++) {
        double v = first + step * (double)i;
        double y = scale_px(speed, v * HT_M_S_PER_KM_H);
        figure_line(out, order->start - 5, y, order->start, y, "axis");
        figure_text(out, order->start - 8, y + 4, "t12 e dim",
                    shown_number(v, 0).text);
    }
    step = fmax(tick_step(order->to - order->from, 10), 0.5);
    first = tick_first(order->from, step);
    for (size_t i = 0; first + step * (double)i <= order->to + 1e-9; i++) {
        double v = first + step * (double)i;
        double x = scale_px(order, v);
        figure_line(out, x, speed->start, x, speed->start + 5, "axis");
        figure_text(out, x, speed->start + 18, "t12 m dim",
                    shown_number(v, tick_decimals(step)).text);
    }
    figure_text(out, 0, 12, "t12 dim", FIGURE_ROAD_SPEED);
    figure_text(out, order->end, speed->start + 34, "t12 e dim",
                FIGURE_MAP_AXIS);
}

static void draw_key(struct ht_text *out, const struct ht_orders *orders,
                     const struct scale *order, double y, double first_edge)
{
    double width = fmin((order->end - order->start) / MAP_CLASSES, 40);
    for (int i = 0; i < MAP_CLASSES; i++)
        markup(out, "<rect class=\"k%d\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"10\"/>", i, order->start + i * width, y, width + 0.3);
    markup(out, "<rect class=\"frame\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"10\"/>\n", order->start, y, MAP_CLASSES * width);
    for (int i = 2; i < MAP_CLASSES; i += 2)
        figure_text(out, order->start + i * width, y + 23, "t12 m dim",
                    shown_short(first_edge * exp2(i - 1)).text);
    struct ht_text title = { 0 };
    ht_text_addf(&title, FIGURE_MAP_KEY, unit_text(orders->unit),
                 place_word(orders->place));
    figure_text(out, order->start, y + 38, "t12 dim", ht_text_get(&title));
    ht_text_end(out, &title);
}

/* ---- marks on the map --------------------------------------------------- */

static void draw_felt(struct ht_text *out, const struct ht_workup *workup,
                      const struct scale *order, const struct scale *speed)
{
    double from, to;
    if (!felt_range(workup, &from, &to))
        return;
    double low = scale_held_px(speed, from), high = scale_held_px(speed, to);
    if (low - high < 4) {
        high = fmax(high - 2, speed->end);
        low = high + 4;
    }
    markup(out, "<rect class=\"felt\" x=\"%n\" y=\"%n\" width=\"6\" "
           "height=\"%n\"/>", order->start - 3, high, low - high);
    figure_text(out, order->start + 8, (low + high) / 2 + 4, "t12 halo",
                FIGURE_FELT_HERE);
}

static void draw_chosen(struct ht_text *out,
                        const struct ht_order_result *chosen,
                        const struct scale *order, const struct scale *speed)
{
    if (!chosen || !(chosen->wheel_order >= order->from) ||
        !(chosen->wheel_order <= order->to) || !isfinite(chosen->at_m_s))
        return;
    double x = scale_px(order, chosen->wheel_order);
    double y = scale_held_px(speed, chosen->at_m_s);
    bool left = x - order->start > 90;
    figure_line(out, x + (left ? -15 : 7), y, x + (left ? -7 : 15), y,
                "limit");
    figure_text(out, x + (left ? -19 : 19), fmax(y + 4.5, speed->end + 14),
                left ? "t13 bold halo e" : "t13 bold halo",
                shown_speed(chosen->at_m_s).text);
    markup(out, "<path class=\"pointer\" d=\"M%n %nl-5 8h10z\"/>\n", x,
           speed->start + 1);
}

static enum ht_status draw_image(struct ht_text *out,
                                 const struct ht_orders *orders,
                                 const struct scale *order,
                                 const struct scale *speed, double first_edge,
                                 struct ht_error *err)
{
    enum ht_status status = HT_OK;
    size_t columns = (size_t)((order->end - order->start) / 2);
    for (int dark = 0; dark < 2 && status == HT_OK; dark++) {
        markup(out, "<image class=\"%s\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"%n\" preserveAspectRatio=\"none\" href=\"",
               dark ? "map-dark" : "map-light", order->start, speed->end,
               order->end - order->start, speed->start - speed->end);
        status = temper_png(out, &orders->map, first_edge, columns, dark, err);
        ht_text_add(out, "\"/>\n");
    }
    markup(out, "<rect class=\"frame\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"%n\"/>\n", order->start, speed->end,
           order->end - order->start, speed->start - speed->end);
    return status;
}

static void say_map(struct ht_text *out, const struct ht_order_result *chosen)
{
    struct ht_text name = { 0 };
    if (chosen)
        ht_text_addf(out, FIGURE_MAP_LABEL,
                     order_name(&name, chosen->order.name),
                     shown_speed(chosen->at_m_s).text);
    else
        ht_text_add(out, FIGURE_MAP_LABEL_NONE);
    ht_text_end(out, &name);
}

enum ht_status draw_order_map(struct ht_text *out,
                              const struct ht_workup *workup, double width,
                              struct ht_error *err)
{
    const struct ht_orders *orders = &workup->orders;
    const struct ht_order_result *chosen = strongest_order(orders);
    double first_edge = map_first_edge(orders);
    struct scale order, speed;
    struct names names;
    struct ht_text label = { 0 };
    place_all(&names, workup, width, &order, &speed);
    if (names.failed)
        ht_text_fail(out);
    say_map(&label, chosen);
    figure_open(out, width, speed.start + 86,
                width > FIGURE_NARROW ? "wide" : "narrow", ht_text_get(&label));
    ht_text_end(out, &label);
    enum ht_status status =
        draw_image(out, orders, &order, &speed, first_edge, err);
    draw_names(out, &names, speed.end);
    draw_axes(out, &order, &speed);
    draw_felt(out, workup, &order, &speed);
    draw_chosen(out, chosen, &order, &speed);
    draw_key(out, orders, &order, speed.start + 46, first_edge);
    figure_close(out);
    return status;
}
