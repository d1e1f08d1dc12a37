/* course.h - private: the made-up road speed in closed form. */
#ifndef HALFTURN_PRACTICE_COURSE_H
#define HALFTURN_PRACTICE_COURSE_H

#include "halfturn/practice.h"

struct ht_course {
    const struct ht_practice_request *request;
    double start_s[HT_PRACTICE_LEGS_MAX + 1]; /* of each leg; then the end */
    double start_m[HT_PRACTICE_LEGS_MAX + 1];
};

struct ht_course_point {
    double metres, speed_m_s, acceleration_m_s2;
};

void ht_course_plan(struct ht_course *course,
                    const struct ht_practice_request *request);
double ht_course_end_s(const struct ht_course *course);
struct ht_course_point ht_course_at(const struct ht_course *course,
                                    double time_s);

#endif
