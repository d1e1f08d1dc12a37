/* names.h - private to the room: adding parts, orders and notes. */
#ifndef HALFTURN_ROTATION_NAMES_H
#define HALFTURN_ROTATION_NAMES_H

#include "halfturn/rotation.h"

/* A quantity was given: not NAN, not zero, not negative. */
bool ht_rotation_given(double value);

void ht_rotation_note(struct ht_rotation *rotation, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Index of the new part; HT_PARTS_MAX when the table is full. */
size_t ht_rotation_add_part(struct ht_rotation *rotation, const char *name,
                            enum ht_family family, double turns,
                            bool follows_gear);

/* Also for the names the room gives itself: wheel, shaft, engine, ... */
bool ht_rotation_has_part(const struct ht_rotation *rotation, const char *name);

/* Adds "2x shaft" unless it is there; full tables are left as they are. */
void ht_rotation_add_order(struct ht_rotation *rotation, size_t part,
                           double multiple);

/* The orders a road test is asked about, from the parts. */
void ht_rotation_ask(struct ht_rotation *rotation);

#endif
