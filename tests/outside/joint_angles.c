/* A program outside the project: working angles of one driveline. */
#include <halfturn/angles.h>

#include <math.h>
#include <stdio.h>

int main(void)
{
    double slope_rad[] = { 0.0349, 0.0785, 0.0349 }; /* 2.0, 4.5, 2.0 deg */
    struct ht_driveline line = ht_driveline_blank();
    struct ht_angles_options options = { .shaft_rad_s = NAN, .speed_m_s = NAN };
    struct ht_angles angles;
    struct ht_error err;
    line.members = 3;
    for (size_t m = 0; m < 3; m++) {
        line.slope[m].readings_rad = (struct ht_numbers){ &slope_rad[m], 1 };
        line.heading_rad[m] = 0;
    }
    if (ht_angles_compute(&angles, &line, &options, &err) != HT_OK)
        return fprintf(stderr, "%s\n", err.text), 1;
    for (size_t j = 0; j < angles.joints; j++)
        printf("joint %zu: %.2f deg\n", j + 1,
               angles.joint[j].angle_rad.value * 57.29577951308232);
    return 0;
}
