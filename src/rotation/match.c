/* match.c - what meets what: equal frequencies, a frequency heard, images. */
#include "halfturn/rotation.h"

#include <math.h>

double ht_order_per_wheel(const struct ht_rotation *rotation,
                          const struct ht_order *order)
{
    return order->multiple * rotation->part[order->part].turns;
}

double ht_order_hz(const struct ht_rotation *rotation,
                   const struct ht_order *order, double speed_m_s)
{
    return ht_order_per_wheel(rotation, order) * speed_m_s /
           rotation->circumference_m;
}

size_t ht_rotation_coincide(const struct ht_rotation *rotation, double relative,
                            struct ht_coincidence *found, size_t room)
{
    size_t count = 0;
    for (size_t a = 0; a < rotation->orders; a++) {
        for (size_t b = a + 1; b < rotation->orders; b++) {
            double first = ht_order_per_wheel(rotation, &rotation->order[a]);
            double second = ht_order_per_wheel(rotation, &rotation->order[b]);
            double apart = fabs(first - second) / first;
            /* a NAN (ratio unknown) compares false */
            if (!(apart <= relative) || count >= room)
                continue;
            found[count++] = (struct ht_coincidence){ a, b, apart };
        }
    }
    return count;
}

static struct ht_hz_match nearest_match(const struct ht_rotation *rotation,
                                        size_t order, double hz,
                                        double from_m_s, double to_m_s)
{
    const struct ht_order *of = &rotation->order[order];
    double wanted_m_s = hz * rotation->circumference_m /
                        ht_order_per_wheel(rotation, of);
    double speed_m_s = fmin(fmax(wanted_m_s, from_m_s), to_m_s);
    double is_hz = ht_order_hz(rotation, of, speed_m_s);
    /* met on the way: what is left is rounding */
    double relative = speed_m_s == wanted_m_s ? 0 : (is_hz - hz) / hz;
    return (struct ht_hz_match){ order, speed_m_s, is_hz, relative };
}

/* Insertion by distance keeps the nearest `room` of them. */
size_t ht_rotation_match_hz(const struct ht_rotation *rotation, double hz,
                            double from_m_s, double to_m_s, double relative,
                            struct ht_hz_match *found, size_t room)
{
    size_t count = 0;
    for (size_t i = 0; i < rotation->orders; i++) {
        struct ht_hz_match match =
            nearest_match(rotation, i, hz, from_m_s, to_m_s);
        if (!(fabs(match.relative) <= relative))
            continue;
        size_t at = count < room ? count++ : room;
        for (; at > 0 && fabs(found[at - 1].relative) > fabs(match.relative);
             at--)
            if (at < room)
                found[at] = found[at - 1];
        if (at < room)
            found[at] = match;
    }
    return count;
}

double ht_order_image_hz(double hz, double rate_hz)
{
    return fabs(hz - rate_hz * round(hz / rate_hz));
}

static size_t insert_image(struct ht_image *found, size_t count, size_t room,
                           struct ht_image image)
{
    size_t at = count < room ? count++ : room;
    for (; at > 0 && found[at - 1].speed_m_s > image.speed_m_s; at--)
        if (at < room)
            found[at] = found[at - 1];
    if (at < room)
        found[at] = image;
    return count;
}

struct images {
    const struct ht_rotation *rotation;
    double rate_hz, top_wheel_hz;
    struct ht_image *found;
    size_t count, room;
};

/* Orders a > b (cycles per wheel turn): a, above half the rate, appears on b
 * below it where k * rate = (a + b) f or (a - b) f, f in wheel turns per s. */
static void meet(struct images *images, size_t a, size_t b, int side)
{
    const struct ht_rotation *r = images->rotation;
    double high = ht_order_per_wheel(r, &r->order[a]);
    double low = ht_order_per_wheel(r, &r->order[b]);
    if (!(high > low)) /* NAN, a ratio that is not known, included */
        return;
    double step_hz = images->rate_hz / (high + side * low);
    double half_hz = images->rate_hz / 2;
    for (size_t k = 1; (double)k * step_hz <= images->top_wheel_hz; k++) {
        double f = (double)k * step_hz;
        if (high * f <= half_hz || low * f > half_hz)
            continue;
        struct ht_image image = { a, b, f * r->circumference_m, low * f };
        images->count =
            insert_image(images->found, images->count, images->room, image);
    }
}

size_t ht_rotation_images(const struct ht_rotation *rotation, double rate_hz,
                          double top_speed_m_s, struct ht_image *found,
                          size_t room)
{
    struct images images = {
        rotation, rate_hz, top_speed_m_s / rotation->circumference_m,
        found,    0,       room
    };
    for (size_t a = 0; a < rotation->orders; a++) {
        for (size_t b = 0; b < rotation->orders; b++) {
            meet(&images, a, b, 1);
            meet(&images, a, b, -1);
        }
    }
    return images.count;
}
