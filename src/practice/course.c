/* A leg changes speed by the smoothstep 3 u^2 - 2 u^3, u = 0..1 over its
 * time, then holds: acceleration is 0 at both ends. Distance is its integral,
 * u^3 - u^4 / 2. */
#include "course.h"

static double start_speed(const struct ht_course *course, size_t leg)
{
    return leg == 0 ? course->request->start_m_s
                    : course->request->leg[leg - 1].to_m_s;
}

static struct ht_course_point on_leg(const struct ht_course *course, size_t i,
                                     double since_s)
{
    const struct ht_practice_leg *leg = &course->request->leg[i];
    double from = start_speed(course, i), change = leg->to_m_s - from;
    double u = leg->within_s > 0 ? since_s / leg->within_s : 1;
    double after_s = since_s - leg->within_s;
    struct ht_course_point point = { course->start_m[i], leg->to_m_s, 0 };
    if (after_s >= 0) {
        point.metres +=
            leg->within_s * (from + change / 2) + after_s * leg->to_m_s;
        return point;
    }
    point.metres +=
        from * since_s + change * leg->within_s * u * u * u * (1 - u / 2);
    point.speed_m_s = from + change * u * u * (3 - 2 * u);
    point.acceleration_m_s2 = change / leg->within_s * 6 * u * (1 - u);
    return point;
}

void ht_course_plan(struct ht_course *course,
                    const struct ht_practice_request *request)
{
    course->request = request;
    course->start_s[0] = course->start_m[0] = 0;
    for (size_t i = 0; i < request->legs; i++) {
        double length_s = request->leg[i].within_s + request->leg[i].hold_s;
        course->start_s[i + 1] = course->start_s[i] + length_s;
        course->start_m[i + 1] = on_leg(course, i, length_s).metres;
    }
}

double ht_course_end_s(const struct ht_course *course)
{
    return course->start_s[course->request->legs];
}

struct ht_course_point ht_course_at(const struct ht_course *course,
                                    double time_s)
{
    size_t i = course->request->legs - 1;
    while (i > 0 && time_s < course->start_s[i])
        i--;
    return on_leg(course, i, time_s - course->start_s[i]);
}
