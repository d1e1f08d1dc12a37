/* ask.c - which orders a road test is asked about. */
#include "names.h"

#include <math.h>
#include <string.h>

enum { MULTIPLES_MAX = 4 };

/* Wheel 1 to 3: balance and tyre uniformity; 4 is asked because it lies next
 * to 1x shaft at axle ratios near 4. Shaft 3: three-armed rubber discs; 4: the
 * next harmonic of a joint. Half-shaft 3: tripod joints. */
static const struct asked {
    const char *part;
    double multiple[MULTIPLES_MAX];
} asked[] = {
    { "wheel", { 1, 2, 3, 4 } },      { "shaft", { 1, 2, 3, 4 } },
    { "half-shaft", { 1, 3, 0, 0 } }, { "electric motor", { 1, 2, 0, 0 } },
    { "axle mesh", { 1, 0, 0, 0 } },
};

/* A four-stroke engine repeats every two turns: multiples of a half. Firing
 * is cylinders / 2; half of it (cylinders / 4) shows a difference between
 * banks, where it is such a multiple. Service literature of a vehicle maker,
 * 2021. */
static void ask_engine(struct ht_rotation *rotation, size_t part)
{
    bool two_stroke = rotation->strokes == 2;
    double firing = rotation->cylinders / (two_stroke ? 1 : 2);
    double step = two_stroke ? 1 : 0.5;
    ht_rotation_add_order(rotation, part, step);
    ht_rotation_add_order(rotation, part, 1);
    if (!two_stroke)
        ht_rotation_add_order(rotation, part, 1.5);
    ht_rotation_add_order(rotation, part, 2);
    if (!ht_rotation_given(firing))
        return;
    if (fmod(firing / 2, step) == 0)
        ht_rotation_add_order(rotation, part, firing / 2);
    ht_rotation_add_order(rotation, part, firing);
}

static bool ask_listed(struct ht_rotation *rotation, size_t part)
{
    const char *name = rotation->part[part].name;
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        if (strcmp(asked[i].part, name) != 0)
            continue;
        for (size_t k = 0; k < MULTIPLES_MAX && asked[i].multiple[k] > 0; k++)
            ht_rotation_add_order(rotation, part, asked[i].multiple[k]);
        return true;
    }
    return false;
}

/* Without hub reduction a half-shaft turns with its wheel: one line, and the
 * wheel's name for it. */
static bool is_the_wheel(const struct ht_part *part)
{
    return strcmp(part->name, "half-shaft") == 0 && part->turns == 1;
}

void ht_rotation_ask(struct ht_rotation *rotation)
{
    for (size_t i = 0; i < rotation->parts; i++) {
        if (is_the_wheel(&rotation->part[i]))
            continue;
        if (strcmp(rotation->part[i].name, "engine") == 0)
            ask_engine(rotation, i);
        else if (!ask_listed(rotation, i))
            ht_rotation_add_order(rotation, i, 1);
    }
}
