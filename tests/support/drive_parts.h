/* drive_parts.h - private to the drive maker's own files. */
#ifndef HALFTURN_TESTS_DRIVE_PARTS_H
#define HALFTURN_TESTS_DRIVE_PARTS_H

#include "drive_maker.h"

#define TWO_PI 6.283185307179586
#define REFERENCE_M_S (100 / 3.6)

double drive_distance_on_leg(const struct drive_leg *leg, double since_s);
void drive_plan_speed(struct drive *drive, struct random_source *source);
void drive_make_log(struct drive *drive, struct random_source *source);

void drive_draw_vehicle(struct drive *drive, struct random_source *source);
void drive_draw_lines(struct drive *drive, struct random_source *source);

/* A vector of the vehicle as the sensor's axes see it. */
void drive_turn_to_sensor(const struct drive *drive, const double *vehicle,
                          double *sensor);
void drive_make_engine(struct drive *drive);
void drive_make_samples(struct drive *drive, struct random_source *source);

#endif
