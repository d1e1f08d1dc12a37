/* Outside values in tables, each row with its source beside it: one joint,
 * lines of joints, couples, supports and tubes. */
#include "published.h"

#include <string.h>

/* ---- answers ------------------------------------------------------------ */

/* Slopes; headings; yokes of members 2 and 3. Three members when the fourth
 * slope is NAN. */
static struct ht_chain line_of(const double *with)
{
    struct ht_chain chain = { .members = isnan(with[3]) ? 3 : 4 };
    for (size_t m = 0; m < chain.members; m++) {
        chain.slope_rad[m] = with[m] * DEG;
        chain.heading_rad[m] = with[4 + m] * DEG;
    }
    chain.yoke_rad[1] = with[8] * DEG;
    chain.yoke_rad[2] = with[9] * DEG;
    return chain;
}

static double leaves(const double *with)
{
    struct ht_chain chain = line_of(with);
    return ht_chain_exact(&chain).leftover_rad / DEG;
}

/* The same of a drawing, side view and plan view: tan e = tan v cos h. */
static double drawn_leaves(const double *with)
{
    double read[10];
    memcpy(read, with, sizeof read);
    for (int m = 0; m < 3; m++)
        read[m] = atan(tan(with[m] * DEG) * cos(with[4 + m] * DEG)) / DEG;
    return leaves(read);
}

static double sum_leaves(const double *with)
{
    struct ht_chain chain = line_of(with);
    struct ht_phasor sum = ht_chain_closed_form(&chain);
    return ht_joint_bend_of_harmonic(ht_phasor_size(sum)) / DEG;
}

/* Root of signed squares. */
static double squares(const double *with)
{
    double sum = 0;
    for (int i = 0; i < 3; i++)
        sum += with[i] * fabs(with[i]);
    return sqrt(fabs(sum));
}

/* First term of the exact map's Fourier series, by summation. */
static double map_term(const double *with)
{
    double sum = 0;
    for (int k = 0; k < 4096; k++) {
        double at = 2 * PI * k / 4096;
        sum += (ht_joint_driven_rad(with[0] * DEG, at) - at) * sin(2 * at);
    }
    return sum / 2048;
}

static double peak_at(const double *with)
{
    return ht_joint_peak_acceleration(with[0] * DEG).at_rad / DEG;
}

/* 240 rpm, 20 degrees, at 45: 55 kg at 150 mm, 200 N m behind. */
static double driving_torque(const double *with)
{
    double w = rad_s(with[0]), at = 45 * DEG;
    double flywheel = 55 * 0.15 * 0.15;
    return (200 + flywheel * w * w * ht_joint_acceleration(20 * DEG, at)) *
           ht_joint_ratio(20 * DEG, at);
}

static double small_angle_peak(const double *with)
{
    return pow(rad_s(with[0]) * with[1] * DEG, 2);
}

static double rpm_degrees(const double *with)
{
    return sqrt(with[0]) * 30 / PI / DEG;
}

static double compound(const double *with)
{
    return ht_working_angle_rad(with[0] * DEG, with[1] * DEG, with[2] * DEG,
                                with[3] * DEG) /
           DEG;
}

/* bend, torque */
static double driving_couple(const double *with)
{
    return ht_joint_couples(with[0] * DEG, with[1]).driving_peak_n_m;
}

static double driven_couple(const double *with)
{
    return ht_joint_couples(with[0] * DEG, with[1]).driven_peak_n_m;
}

enum bearing { A, B, E, F }; /* far, near the first joint; near, far of the
                                second */

/* Bends, which bearing, rotation. 1000 N m, 1.5 m between the joints, bearings
 * 0.2 m apart, 0.15 m from the joint. Rotation 0: driving pins in the joint's
 * plane, which is upright. */
static double bearing(const double *with)
{
    static const enum ht_support_place place[] = {
        HT_SUPPORT_FAR, HT_SUPPORT_NEAR, HT_SUPPORT_NEAR, HT_SUPPORT_FAR
    };
    const double length[] = { NAN, 1.5, NAN };
    const struct ht_bearings bearings[] = { { 0.2, 0.15, NAN },
                                            { NAN, NAN, NAN },
                                            { 0.2, 0.15, NAN } };
    struct ht_chain chain = {
        .members = 3,
        .slope_rad = { 0, with[0] * DEG, (with[0] + with[1]) * DEG },
    };
    struct ht_load load = { &chain, 1000, length, bearings };
    struct ht_loads loads;
    double force[HT_SUPPORTS_MAX + 2][3];
    int which = (int)with[2];
    ht_loads_compute(&loads, &load);
    ht_supports_at(force, &load, (with[3] + 90) * DEG);
    for (size_t s = 0; s < loads.supports; s++)
        if (loads.support[s].member == (which == A || which == B ? 0 : 2) &&
            loads.support[s].place == place[which])
            return hypot(force[s][0], hypot(force[s][1], force[s][2]));
    return NAN;
}

/* torque, bends before and behind, length */
static double centre_bound(const double *with)
{
    return ht_centre_bearing_bound(with[0], with[1] * DEG, with[2] * DEG,
                                   with[3]);
}

/* share, outer, wall, length, metres */
static double steel(const double *with)
{
    double young, density;
    if (!ht_tube_material("steel", &young, &density))
        return NAN;
    return with[0] * 30 / PI *
           ht_critical_speed_rad_s(with[3], with[1], with[2], young, density);
}

/* constant, outer, inner, length */
static double hand_form(const double *with)
{
    return with[0] * hypot(with[1], with[2]) / (with[3] * with[3]);
}

/* 4 ft, 3 in, 1/8 in wall, 29e6 psi, 0.00883 slug/in^3. */
static double first_mode(const double *with)
{
    return with[0] * 30 / PI *
           ht_critical_speed_rad_s(48, 3, 0.125, 29e6, 0.00883 / 12);
}

/* All of the mass at mid-span: sqrt(48 E I / (m L^3)). */
static double lumped(const double *with)
{
    double area = PI / 4 * (9 - 2.75 * 2.75);
    double second = PI / 64 * (81 - pow(2.75, 4));
    double mass = 0.00883 / 12 * area * 48;
    return with[0] * 30 / PI * sqrt(48 * 29e6 * second / (mass * pow(48, 3)));
}

static double lumped_share(const double *with)
{
    return lumped(with) / first_mode(with);
}

/* ---- rows --------------------------------------------------------------- */

#define THREE(a, b, c) a, b, c, NAN
#define STRAIGHT 0, 0, 0, 0

/* Tolerances: half of the last digit given, or what the row states. */
static const struct row check_values[] = {
    { 1, "map, pins in the plane", DANA, driven, { 30, 30 }, 33.6900675260,
      ABS(1e-9) },
    { 2, "map, the other zero", DANA, driven, { 30, 120 }, 90 + 26.5650511771,
      ABS(1e-9) },
    { 3, "highest ratio", DANA, ratio, { 20, 0 }, 1.064177772476, REL(1e-12) },
    { 3, "lowest ratio", DANA, ratio, { 20, 90 }, 0.939692620786, REL(1e-12) },
    { 4, "ratio at 45", KHURMI, ratio, { 20, 45 }, 0.998068541, ABS(1e-9) },
    { 5, "equal speeds", EXAM, equal_speed, { 18 }, 44.281274216, ABS(1e-8) },
    { 6, "q", DERIVED, term, { 20, 1 }, 0.031091204126, REL(1e-9) },
    { 6, "second term", DERIVED, term, { 20, 2 }, 4.833314870e-4, REL(1e-9) },
    { 6, "third term", DERIVED, term, { 20, 3 }, 1.001823862e-5, REL(1e-9) },
    { 7, "Fourier sum of the map", DERIVED, map_term, { 10 }, 0.007654266246,
      ABS(1e-12) },
    { 8, "peak error", DERIVED, peak_error, { 10 }, 0.4385614, ABS(1e-6) },
    { 8, "peak error", DERIVED, peak_error, { 30 }, 4.1171943, ABS(1e-6) },
    { 9, "unevenness", DANA, unevenness, { 3 }, 0.002742811243, REL(1e-9) },
    { 10, "peak acceleration", DERIVED, peak, { 30 / PI, 20, 1 }, 0.124965577,
      ABS(1e-8) },
    { 10, "and where", DERIVED, peak_at, { 20 }, 41.458695, ABS(1e-5) },
    { 11, "500 rpm", DERIVED, peak, { 500, 20, 1 }, 342.6002256, REL(1e-8) },
    { 12, "1500 rpm, 0.12 kg m2", KHURMI, peak, { 1500, 20, 0.12 }, 370.008244,
      REL(1e-7) },
    { 12, "the book's own figure", KHURMI, peak, { 1500, 20, 0.12 }, 371,
      REL(0.005) },
    { 13, "1200 rpm within 100", DERIVED, bend_for, { 100.0 / 1200 },
      16.4229079, ABS(1e-6) },
    { 13, "its highest speed", DERIVED, fastest, { 1200, 16.42290790, 1 },
      1251.041215, ABS(1e-5) },
    { 14, "+-6 %", KHURMI, bend_for, { 0.12 }, 19.6442018, ABS(1e-6) },
    { 14, "+-4 %", DERIVED, bend_for, { 0.08 }, 16.0957586, ABS(1e-6) },
    { 15, "driving torque", KHURMI, driving_torque, { 240 }, 102.869811,
      ABS(1e-5) },
    { 16, "yokes crossed: highest", EXAM, fastest, { 500, 20, 2 }, 566.237166,
      ABS(1e-5) },
    { 16, "lowest", EXAM, slowest, { 500, 20, 2 }, 441.511111, ABS(1e-5) },
    { 17, "3000 rpm, 3, small angles", DERIVED, small_angle_peak, { 3000, 3 },
      270.5808084, REL(1e-8) },
    { 18, "rpm degrees for 1000 rad/s2", DERIVED, rpm_degrees, { 1000 },
      17301.90864, REL(1e-8) },
    { 19, "unevenness as a bend", ELBE, bend_for, { 0.0027 }, 2.976505764,
      ABS(1e-8) },
    { 20, "(3, 2), small angles", ELBE, squares, { 3, -2, 0 }, 2.236067977,
      ABS(1e-8) },
    { 20, "(3, 2), chain", CHAIN, leaves, { THREE(0, 3, 1) }, 2.236522,
      ABS(2e-6) },
    { 21, "parallel, parallel", CHAIN, leaves, { 0, 2, 5, 9 }, 3.317161,
      ABS(2e-6) },
    { 21, "crossed, parallel", CHAIN, leaves, { 0, 2, 5, 9, STRAIGHT, 90, 0 },
      1.734251, ABS(2e-6) },
    { 21, "parallel, crossed", CHAIN, leaves, { 0, 2, 5, 9, STRAIGHT, 0, 90 },
      4.581910, ABS(2e-6) },
    { 21, "crossed, crossed", CHAIN, leaves, { 0, 2, 5, 9, STRAIGHT, 90, 90 },
      5.382863, ABS(2e-6) },
    { 22, "compound, inclinations and headings", CHAIN, leaves,
      { THREE(-3, -5, -2.5), 0, 1, 0.5 }, 1.831026, ABS(2e-6) },
    { 22, "the same read as a drawing", CHAIN, drawn_leaves,
      { THREE(-3, -5, -2.5), 0, 1, 0.5 }, 1.830853, ABS(2e-6) },
    { 23, "equal bends, planes apart", CHAIN, leaves,
      { THREE(0, -3, -5), 0, 0, 2.236 }, 3.655776, ABS(2e-6) },
    { 24, "yokes 3 off", CHAIN, leaves, { THREE(0, 3, 0), STRAIGHT, 3 },
      0.970790, ABS(2e-6) },
    { 24, "5 off", CHAIN, leaves, { THREE(0, 3, 0), STRAIGHT, 5 }, 1.252755,
      ABS(2e-6) },
    { 24, "10 off", CHAIN, leaves, { THREE(0, 3, 0), STRAIGHT, 10 }, 1.768220,
      ABS(2e-6) },
    { 24, "90 off", CHAIN, leaves, { THREE(0, 3, 0), STRAIGHT, 90 }, 4.241671,
      ABS(2e-6) },
    { 25, "compound angle", DERIVED, compound, { -3, 0, -6, 4 }, 4.989766,
      ABS(1e-5) },
    { 26, "driving couple", KLEIN, driving_couple, { 5, 1000 }, 87.488664,
      ABS(1e-5) },
    { 26, "driven couple", KLEIN, driven_couple, { 5, 1000 }, 87.155743,
      ABS(1e-5) },
    { 27, "intersecting, A at 0", GWB, bearing, { 5, 5, A, 0 }, 87.155743,
      ABS(1e-5) },
    { 27, "B at 0", GWB, bearing, { 5, 5, B, 0 }, 203.363400, ABS(1e-5) },
    { 27, "A at 90", GWB, bearing, { 5, 5, A, 90 }, 437.443318, ABS(1e-5) },
    { 28, "90 x 3 x 1500 mm steel", BEAM, steel, { 1, 0.09, 0.003, 1.5 },
      6620.202297, REL(1e-8) },
    { 29, "3.0 x 0.065 x 60 in", "handbook form, from memory", hand_form,
      { 4.769e6, 3, 2.87, 60 }, 5499.895055, REL(1e-8) },
    { 29, "the same tube, 207 GPa", BEAM, steel,
      { 1, 3 * 0.0254, 0.065 * 0.0254, 60 * 0.0254 }, 5493.572, ABS(0.0005) },
};

static void check_values_1_to_29_hold(void **state)
{
    (void)state;
    hold(check_values, COUNT(check_values));
    int next = 1; /* none is left out */
    for (size_t i = 0; i < COUNT(check_values); i++)
        next += check_values[i].number == next;
    assert_int_equal(next, 30);
}

/* The signs of a two-piece shaft's four kinds (Meritor maintenance manual 5
 * has the names); why equal angles are not enough. The root of signed squares
 * against the chain: tolerances are what higher orders leave at these bends. */
static const struct row lines[] = {
    { 3, "parallel, parallel: 4 - 9 + 16", ELBE, leaves, { 0, 2, 5, 9 },
      3.316625, ABS(1e-3) },
    { 3, "crossed, parallel: 4 + 9 - 16", ELBE, leaves,
      { 0, 2, 5, 9, STRAIGHT, 90, 0 }, 1.732051, ABS(3e-3) },
    { 3, "parallel, crossed: 4 - 9 - 16", ELBE, leaves,
      { 0, 2, 5, 9, STRAIGHT, 0, 90 }, 4.582576, ABS(1e-3) },
    { 3, "crossed, crossed: 4 + 9 + 16", ELBE, leaves,
      { 0, 2, 5, 9, STRAIGHT, 90, 90 }, 5.385165, ABS(3e-3) },
    { 3, "1, 3, 3 crossed, parallel", ELBE, leaves,
      { 0, 1, 4, 7, STRAIGHT, 90, 0 }, 1, ABS(1e-4) },
    { 2, "10 and 8, sum of tan^2", DERIVED, sum_leaves, { THREE(0, 10, 2) },
      6.019519, ABS(5e-7) },
    { 2, "10 and 8", MAPS, leaves, { THREE(0, 10, 2) }, 6.019631, ABS(5e-7) },
    { 2, "20 and 20 adding, sum of tan^2", DERIVED, sum_leaves,
      { THREE(0, 20, 0), STRAIGHT, 90 }, 28.003884, ABS(5e-7) },
    { 2, "20 and 20 adding", MAPS, leaves, { THREE(0, 20, 0), STRAIGHT, 90 },
      27.990891, ABS(5e-7) },
    { 4, "compound by phasors", DERIVED, leaves,
      { THREE(-3, -5, -2.5), 0, 1, 0.5 }, 1.831421, ABS(5e-4) },
    { 4, "the naive root of squares, a third too low", DERIVED, squares,
      { 2.2360680, -2.5495098, 0 }, 1.224745, ABS(5e-6) },
    { 5, "equal 3, planes 48.19 apart: 3 sqrt(2 sin G)", DERIVED, leaves,
      { THREE(0, -3, -5), 0, 0, 2.236 }, 3.662842, ABS(8e-3) },
    { 5, "equal 3, planes 30 apart: as one joint alone", DERIVED, leaves,
      { THREE(0, -3, -5.598076), 0, 0, 1.5 }, 3, ABS(8e-3) },
    { 6, "yokes 3 off: 3 sqrt(2 sin psi)", DERIVED, leaves,
      { THREE(0, 3, 0), STRAIGHT, 3 }, 0.970591, ABS(1e-3) },
    { 6, "30 off: as one joint alone", DERIVED, leaves,
      { THREE(0, 3, 0), STRAIGHT, 30 }, 3, ABS(1e-3) },
    { 6, "90 off", DERIVED, leaves, { THREE(0, 3, 0), STRAIGHT, 90 }, 4.242641,
      ABS(1.1e-3) },
};

static void lines_of_several_joints_leave_the_published_angles(void **state)
{
    (void)state;
    hold(lines, COUNT(lines));
}

static const struct row bearings_of_two_joints[] = {
    { 1, "intersecting 5, 5: A at 0", GWB, bearing, { 5, 5, A, 0 }, 87.155743,
      ABS(1e-6) },
    { 1, "B at 0", GWB, bearing, { 5, 5, B, 0 }, 203.363400, ABS(1e-6) },
    { 1, "A at 90", GWB, bearing, { 5, 5, A, 90 }, 437.443318, ABS(1e-6) },
    { 1, "B at 90", GWB, bearing, { 5, 5, B, 90 }, 437.443318, ABS(1e-6) },
    { 2, "parallel 5, 5: A at 0", GWB, bearing, { 5, -5, A, 0 }, 0, ABS(1e-9) },
    { 2, "B at 0", GWB, bearing, { 5, -5, B, 0 }, 0, ABS(1e-9) },
    { 3, "parallel 6, 4: A at 0", GWB, bearing, { 6, -4, A, 0 }, 17.492359,
      ABS(1e-6) },
    { 3, "B at 0", GWB, bearing, { 6, -4, B, 0 }, 40.815504, ABS(1e-6) },
    { 3, "A at 90", GWB, bearing, { 6, -4, A, 90 }, 525.521176, ABS(1e-6) },
    { 3, "F at 90", GWB, bearing, { 6, -4, F, 90 }, 350.703560, ABS(1e-6) },
    { 3, "E at 90", GWB, bearing, { 6, -4, E, 90 }, 350.703560, ABS(1e-6) },
    { 4, "intersecting 6, 4: A at 0", GWB, bearing, { 6, 4, A, 0 }, 87.036104,
      ABS(1e-6) },
    { 4, "B at 0", GWB, bearing, { 6, 4, B, 0 }, 203.084244, ABS(1e-6) },
    { 5, "400 N m, 3: driving", KLEIN, driving_couple, { 3, 400 }, 20.963112,
      ABS(1e-6) },
    { 5, "driven", KLEIN, driven_couple, { 3, 400 }, 20.934382, ABS(1e-6) },
    { 6, "centre bearing, bound", DERIVED, centre_bound, { 1200, 0.5, 3, 0.7 },
      104.80, ABS(0.005) },
};

static void a_two_joint_shaft_loads_its_bearings_as_published(void **state)
{
    (void)state;
    hold(bearings_of_two_joints, COUNT(bearings_of_two_joints));
}

/* The printed 5800 is all of the mass at mid-span. */
static const struct row tubes[] = {
    { 1, "SI constant, 207 GPa", BEAM, hand_form, { 1.209933e8, 90, 84, 1500 },
      6620.202, ABS(0.005) },
    { 1, "mm, 207 GPa", BEAM, speed_constant, { 207e9, 7850, 1e-3 },
      1.209933e8, ABS(50) },
    { 1, "mm, 210 GPa", BEAM, speed_constant, { 210e9, 7850, 1e-3 },
      1.218670e8, ABS(50) },
    { 1, "inch, 386.4 in/s2", BEAM, speed_constant, { 30e6, 0.283 / 386.4, 1 },
      4.7687e6, ABS(50) },
    { 1, "inch, 386.089 in/s2", BEAM, speed_constant,
      { 30e6, 0.283 / 386.089, 1 }, 4.7667e6, ABS(50) },
    { 2, "0.75 of the inch tube", BEAM, inch_tube, { 0.75 }, 4123, ABS(0.5) },
    { 2, "half of the inch tube", BEAM, inch_tube, { 0.5 }, 2748.6, ABS(0.05) },
    { 2, "0.75 of critical", "a shaft maker's speed limits", steel,
      { 0.75, 0.09, 0.003, 1.5 }, 4965.15, ABS(0.005) },
    { 2, "half of critical", DERIVED, steel, { 0.5, 0.09, 0.003, 1.5 }, 3310.10,
      ABS(0.005) },
    { 3, "4 ft, 3 in, 1/8 in: first mode", BEAM, first_mode, { 1 }, 8262.298,
      ABS(0.5) },
    { 3, "the printed, cruder model", EXAM, lumped, { 1 }, 5800, ABS(0.5) },
    { 3, "its share of the first mode", DERIVED, lumped_share, { 1 }, 0.701974,
      ABS(5e-7) },
};

static void tubes_have_the_handbook_critical_speed(void **state)
{
    (void)state;
    hold(tubes, COUNT(tubes));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(check_values_1_to_29_hold),
        cmocka_unit_test(lines_of_several_joints_leave_the_published_angles),
        cmocka_unit_test(a_two_joint_shaft_loads_its_bearings_as_published),
        cmocka_unit_test(tubes_have_the_handbook_critical_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
