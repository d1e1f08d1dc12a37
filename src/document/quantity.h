/* quantity.h - the units that a key may end in. */
#ifndef HALFTURN_DOCUMENT_QUANTITY_H
#define HALFTURN_DOCUMENT_QUANTITY_H

#include "halfturn/document.h"

enum { UNITS_MAX = 3 };

struct unit {
    const char *ending;  /* "km_h" */
    const char *text;    /* "km/h"; "" where the key says it */
    double factor;       /* SI units in one */
};
struct quantity {
    struct unit unit[UNITS_MAX]; /* the first is written; NULL ends */
};

const struct quantity *ht_quantity_of(enum ht_quantity quantity);

/* The key with the ending of another unit into buffer; false when the row
 * cannot be given in it. which 0 is the key itself. */
bool ht_quantity_key(const struct ht_row *row, size_t which, char *buffer,
                     size_t size);

/* Which unit a key gives the row in; UNITS_MAX: it is not the row's. */
size_t ht_quantity_find(const struct ht_row *row, const char *key);

/* A file's number in SI, rounded so that it can be written in the first unit
 * of its quantity (a division by the factor) and come back bit by bit. */
double ht_quantity_to_si(double number, const struct unit *unit);

/* A bound for people: at most four decimals, none that are 0. */
void ht_quantity_format(char *buffer, size_t size, double value);

#endif
