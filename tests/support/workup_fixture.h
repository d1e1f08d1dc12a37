/* workup_fixture.h - finished workups made up in memory, to write reports of.
 *
 * Nothing here was computed: names, readings and levels are invented.
 */
#ifndef HALFTURN_TESTS_WORKUP_FIXTURE_H
#define HALFTURN_TESTS_WORKUP_FIXTURE_H

#include "halfturn/workup.h"

enum fixture_case {
    FIXTURE_VAN,            /* everything: 2x shaft from a rear joint angle */
    FIXTURE_ANGLES_ONLY,    /* no recording; one limit set; nothing ranked */
    FIXTURE_RECORDING_ONLY, /* no angles; wheel orders; nothing accused */
    FIXTURE_REFUSED,        /* a recording whose speed cannot be found */
    FIXTURE_HANGING,        /* angles with hanging suspension: no verdict */
    FIXTURE_NOTHING,        /* everything measured, nothing abnormal */
    FIXTURE_EMPTY,          /* a sheet with a title only */
    FIXTURE_TRUCK,          /* nine members, several sets, long names */
    FIXTURE_CASES
};
extern const char *const fixture_names[FIXTURE_CASES];

struct fixture;

/* Fails the running test when out of memory. */
struct fixture *fixture_create(enum fixture_case which);
struct ht_workup *fixture_workup(struct fixture *fixture);
struct ht_sheet *fixture_sheet(struct fixture *fixture);
void fixture_free(struct fixture *fixture);

#endif
