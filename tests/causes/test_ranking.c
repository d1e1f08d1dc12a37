#include "made_case.h"

static struct made_case made;

static const char van[] =
    "vehicle: {class: van, tyre: 235/65R16, drive: rear, gearbox: automatic,"
    " axle_teeth: [41, 11], engine: {cylinders: 4, strokes: 4},"
    " top_speed_km_h: 120, mass_kg: 2400}\n"
    "driveline: {members: [gearbox, front shaft, rear shaft, pinion]}\n";

static void a_healthy_drive_accuses_nothing(void **state)
{
    (void)state;
    made_sheet(&made, van);
    const struct made_line lines[] = {
        { "wheel", 1, 0.03, NAN, NAN },  { "wheel", 2, 0.01, NAN, NAN },
        { "wheel", 3, 0, NAN, NAN },     { "shaft", 1, 0.012, NAN, NAN },
        { "shaft", 2, 0.01, 2.0, 0.5 },  { "engine", 2, 0.035, NAN, NAN },
    };
    made_lines(&made, lines, 6);
    made_rank(&made);
    assert_null(made.ranking.accused);
    assert_string_equal(made.ranking.cause[0].id, "nothing-abnormal");
    made_free(&made);
}

static void look(void **state)
{
    (void)state;
    char text[2000];
    snprintf(text, sizeof text, "%scomplaint: {speed_km_h: [85, 100], "
             "felt: [seat, floor], neutral_coast: stays, gear_change: same}\n", van);
    made_sheet(&made, text);
    const struct made_line lines[] = {
        { "wheel", 1, 0.03, NAN, NAN }, { "wheel", 2, 0, NAN, NAN },
        { "wheel", 3, 0, NAN, NAN }, { "shaft", 1, 0.012, NAN, NAN },
        { "shaft", 2, 0.3, 2.0, 0.5 }, { "engine", 2, 0.02, NAN, NAN },
    };
    made_lines(&made, lines, 6);
    made_rank(&made);
    made_print(&made);
    made_free(&made);
    made_sheet(&made, text);
    made_rank(&made);
    made_print(&made);
    made_free(&made);
    made_sheet(&made, van);
    const struct made_line healthy[] = {
        { "wheel", 1, 0.03, NAN, NAN }, { "wheel", 2, 0.01, NAN, NAN },
        { "wheel", 3, 0, NAN, NAN }, { "shaft", 1, 0.012, NAN, NAN },
        { "shaft", 2, 0.01, 2.0, 0.5 }, { "engine", 2, 0.035, NAN, NAN },
    };
    made_lines(&made, healthy, 6);
    made_rank(&made);
    made_print(&made);
    made_free(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_healthy_drive_accuses_nothing),
        cmocka_unit_test(look),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
