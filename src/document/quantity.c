#include "quantity.h"

#include "common/constants.h"

#include <stdio.h>
#include <string.h>

static const struct quantity quantities[HT_QUANTITIES] = {
    [HT_QUANTITY_PLAIN] = { { { "", "", 1 } } },
    [HT_QUANTITY_SAME] = { { { "", "", 1 } } },
    [HT_QUANTITY_ANGLE] = { { { "deg", "°", HT_RAD_PER_DEG } } },
    [HT_QUANTITY_SPEED] = { { { "km_h", "km/h", HT_M_S_PER_KM_H },
                              { "mph", "mph", HT_M_S_PER_MPH } } },
    [HT_QUANTITY_LENGTH] = { { { "mm", "mm", 0.001 },
                               { "in", "in", HT_M_PER_INCH },
                               { "thou", "thou", HT_M_PER_INCH / 1000 } } },
    [HT_QUANTITY_DISTANCE] = { { { "km", "km", 1000 },
                                 { "mile", "mile", HT_M_PER_MILE } } },
    [HT_QUANTITY_PER_DISTANCE] = { { { "km", "per km", 1.0 / 1000 },
                                     { "mile", "per mile",
                                       1 / HT_M_PER_MILE } } },
    [HT_QUANTITY_TORQUE] = { { { "n_m", "N m", 1 },
                               { "lb_ft", "lb ft", HT_N_M_PER_LB_FT } } },
    /* International avoirdupois pound, 1959 (exact). */
    [HT_QUANTITY_MASS] = { { { "kg", "kg", 1 }, { "lb", "lb", 0.45359237 } } },
};

const struct quantity *ht_quantity_of(enum ht_quantity quantity)
{
    return &quantities[(size_t)quantity < HT_QUANTITIES ? quantity
                                                        : HT_QUANTITY_PLAIN];
}

/* The key's length before the ending that another unit takes the place of; 0:
 * the row cannot be given in that unit. */
static size_t stem_of(const struct ht_row *row, size_t which)
{
    const struct quantity *quantity = ht_quantity_of(row->quantity);
    if (which >= UNITS_MAX || !quantity->unit[which].ending)
        return 0;
    size_t key = strlen(row->key), first = strlen(quantity->unit[0].ending);
    if (key <= first + 1 || row->key[key - first - 1] != '_' ||
        strcmp(row->key + key - first, quantity->unit[0].ending) != 0)
        return 0;
    return key - first;
}

bool ht_quantity_key(const struct ht_row *row, size_t which, char *buffer,
                     size_t size)
{
    if (which == 0) {
        (void)snprintf(buffer, size, "%s", row->key);
        return true;
    }
    size_t stem = stem_of(row, which);
    if (stem)
        (void)snprintf(buffer, size, "%.*s%s", (int)stem, row->key,
                       ht_quantity_of(row->quantity)->unit[which].ending);
    return stem > 0;
}

size_t ht_quantity_find(const struct ht_row *row, const char *key)
{
    if (strcmp(row->key, key) == 0)
        return 0;
    for (size_t which = 1; which < UNITS_MAX; which++) {
        size_t stem = stem_of(row, which);
        if (stem == 0)
            break;
        if (strncmp(row->key, key, stem) == 0 &&
            strcmp(ht_quantity_of(row->quantity)->unit[which].ending,
                   key + stem) == 0)
            return which;
    }
    return UNITS_MAX;
}

static const struct unit *first_of(const struct unit *unit)
{
    for (size_t q = 0; q < HT_QUANTITIES; q++)
        for (size_t u = 0; u < UNITS_MAX; u++)
            if (unit == &quantities[q].unit[u])
                return &quantities[q].unit[0];
    return unit;
}

double ht_quantity_to_si(double number, const struct unit *unit)
{
    const struct unit *first = first_of(unit);
    if (first == unit)
        return number * unit->factor;
    return number * unit->factor / first->factor * first->factor;
}

void ht_quantity_format(char *buffer, size_t size, double value)
{
    ht_format_number(buffer, size, value, 4);
    char *mark = strchr(buffer, '.');
    size_t length = strlen(buffer);
    while (mark && buffer[length - 1] == '0')
        buffer[--length] = '\0';
    if (mark && buffer[length - 1] == '.')
        buffer[length - 1] = '\0';
}
