/* What a sheet says and is likely a slip is said, and nothing is refused. */
#include "worked.h"

static size_t said(const char *sentence)
{
    size_t found = 0;
    for (size_t i = 0; i < workup->assumed_count; i++)
        found += strstr(workup->assumed[i], sentence) != NULL;
    for (size_t i = 0; i < workup->missing_count; i++)
        found += strstr(workup->missing[i], sentence) != NULL;
    return found;
}

#define SET(more) "  - {" more ", slopes_deg: [0, 4, 0]}\n"

static void two_normal_or_equal_heights_are_said(void **state)
{
    (void)state;
    work("halfturn: 1\nangles:\n"
         SET("name: a, normal_height: yes, height_mm: 400")
         SET("name: b, normal_height: yes, height_mm: 400")
         SET("name: c, height_mm: 450"));
    assert_int_equal(said("both say normal_height: yes. Set 1 is gone by"), 1);
    assert_int_equal(said("same ride height, 400 mm"), 1);
    /* not before and after the work, not without heights */
    work("halfturn: 1\nangles:\n"
         SET("name: a, when: before, normal_height: yes, height_mm: 400")
         SET("name: b, when: after, normal_height: yes, height_mm: 400"));
    assert_int_equal(said("both say") + said("same ride height"), 0);
    work("halfturn: 1\nangles:\n" SET("name: a") SET("name: b"));
    assert_int_equal(said("both say") + said("same ride height"), 0);
}

static void names_and_materials_are_looked_at(void **state)
{
    (void)state;
    work("halfturn: 1\ndriveline: {members: [box, shaft, shaft, axle], tubes: "
         "[{joint_to_joint_mm: 900, outer_mm: 76, wall_mm: 2, material: wood},"
         " {joint_to_joint_mm: 900, outer_mm: 76, wall_mm: 2, material: Steel}"
         "]}\nangles: {slopes_deg: [0, 4, 0, 1]}\n");
    assert_int_equal(said("Members 2 and 3 of a driveline are both called "
                          "'shaft'"), 1);
    assert_int_equal(said("tube of 'wood'"), 1);
    assert_int_equal(said("tube of"), 1);
    assert_int_equal(workup->effects[0].criticals, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_normal_or_equal_heights_are_said),
        cmocka_unit_test(names_and_materials_are_looked_at),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
