/* shelf.h - what can be done at each place of a driveline with what is there.
 */
#ifndef HALFTURN_REPAIR_SHELF_H
#define HALFTURN_REPAIR_SHELF_H

#include "sizes.h"

/* One place; the first choice is to leave it alone. */
struct shelf_place {
    enum ht_shim_place place;
    size_t member;
    double minutes;             /* of work there, whatever is put in */
    struct sizes sizes;         /* none at a spline */
    size_t choices;
    struct ht_shim_work *choice;
};
struct shelf {
    size_t places;
    struct shelf_place place[HT_SHIM_PLACES_MAX];
    size_t combinations;        /* product of the choices */
    struct ht_shim_work *memory;
};

/* Of work at such a place. */
double ht_shelf_minutes(enum ht_shim_place place);

/* Fills the shelf, and says in *shims what does not go: places this driveline
 * does not have, a wedge under a steered axle. */
enum ht_status ht_shelf_create(struct shelf *shelf, struct ht_shims *shims,
                               const struct ht_shims_input *input,
                               const struct ht_joint_centres *centres,
                               struct ht_error *err);
void ht_shelf_free(struct shelf *shelf);

/* The works of one combination, those that leave a place alone left out;
 * *mask gets a bit for each place that is worked at. */
size_t ht_shelf_works(const struct shelf *shelf, size_t combination,
                      struct ht_shim_work *work, unsigned *mask);

#endif
