#include "names.h"

#include "halfturn/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool ht_rotation_given(double value)
{
    return isfinite(value) && value > 0;
}

void ht_rotation_note(struct ht_rotation *rotation, const char *format, ...)
{
    if (rotation->notes >= HT_ROTATION_NOTES_MAX)
        return;
    va_list values;
    va_start(values, format);
    vsnprintf(rotation->note[rotation->notes++], sizeof rotation->note[0],
              format, values);
    va_end(values);
}

size_t ht_rotation_add_part(struct ht_rotation *rotation, const char *name,
                            enum ht_family family, double turns,
                            bool follows_gear)
{
    if (rotation->parts >= HT_PARTS_MAX)
        return HT_PARTS_MAX;
    struct ht_part *part = &rotation->part[rotation->parts];
    snprintf(part->name, sizeof part->name, "%s", name);
    part->family = family;
    part->turns = turns;
    part->follows_gear = follows_gear;
    return rotation->parts++;
}

bool ht_rotation_has_part(const struct ht_rotation *rotation, const char *name)
{
    static const char *const own[] = { "wheel",     "shaft",
                                       "engine",    "half-shaft",
                                       "axle mesh", "electric motor" };
    size_t room = sizeof rotation->part[0].name - 1;
    for (size_t i = 0; i < sizeof own / sizeof own[0]; i++)
        if (strcmp(own[i], name) == 0)
            return true;
    for (size_t i = 0; i < rotation->parts; i++)
        if (strncmp(rotation->part[i].name, name, room) == 0)
            return true;
    return false;
}

void ht_rotation_add_order(struct ht_rotation *rotation, size_t part,
                           double multiple)
{
    if (part >= rotation->parts || rotation->orders >= HT_ORDERS_MAX)
        return;
    for (size_t i = 0; i < rotation->orders; i++)
        if (rotation->order[i].part == part &&
            rotation->order[i].multiple == multiple)
            return;
    struct ht_order *order = &rotation->order[rotation->orders++];
    char number[40], name[32]; /* a copy: source and target share an object */
    memcpy(name, rotation->part[part].name, sizeof name);
    double tenths = multiple * 10;
    int decimals = multiple == floor(multiple) ? 0
                   : tenths == floor(tenths)   ? 1
                                               : 2;
    ht_format_number(number, sizeof number, multiple, decimals);
    order->part = part;
    order->multiple = multiple;
    snprintf(order->name, sizeof order->name, "%.12s\xc3\x97 %.31s", number,
             name);
}
