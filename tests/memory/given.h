/* given.h - good input for every public function, made once: a short drive
 * and its sheet, and what each step makes of them. */
#ifndef HALFTURN_TESTS_MEMORY_GIVEN_H
#define HALFTURN_TESTS_MEMORY_GIVEN_H

#include "halfturn/practice.h"
#include "halfturn/workup.h"

struct given {
    char folder[64], sheet_path[96], wav_path[96], log_path[96],
        table_path[96], other_path[96];
    char *sheet_text;
    size_t sheet_length;
    struct ht_sheet sheet;
    struct ht_workup_options options;
    struct ht_workup workup;        /* with everything in it */
    struct ht_speed_log log;
    struct ht_driveline driveline;
    struct ht_practice_request practice;
};
extern struct given given;

/* For cmocka's group set-up and tear-down. */
int given_make(void **state);
int given_remove(void **state);

#endif
