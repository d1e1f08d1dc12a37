/* Outside values in tables, each row with its source beside it: check values
 * of one joint, of lines, of couples, supports and tubes; worked problems of
 * textbooks with their published answers, right and wrong. */
#include "close.h"

#include "halfturn/effects.h"

#include <math.h>
#include <stdio.h>

#define PI 3.14159265358979323846
#define DEG (PI / 180)
#define COUNT(rows) (sizeof(rows) / sizeof *(rows))

static double rad_s(double rpm)
{
    return rpm * PI / 30;
}

static double rpm_of(double w)
{
    return w * 30 / PI;
}

static double root(double squares)
{
    return sqrt(fabs(squares));
}

/* Slopes, headings and yokes in degrees. */
static struct ht_chain line(size_t members, const double *slope_deg,
                            const double *heading_deg, const double *yoke_deg)
{
    struct ht_chain chain = { .members = members };
    for (size_t m = 0; m < members; m++) {
        chain.slope_rad[m] = slope_deg[m] * DEG;
        chain.heading_rad[m] = heading_deg ? heading_deg[m] * DEG : 0;
        chain.yoke_rad[m] = yoke_deg ? yoke_deg[m] * DEG : 0;
    }
    return chain;
}

static double leaves_deg(size_t members, const double *slope_deg,
                         const double *heading_deg, const double *yoke_deg)
{
    struct ht_chain chain = line(members, slope_deg, heading_deg, yoke_deg);
    return ht_chain_exact(&chain).leftover_rad / DEG;
}

/* Two joints by the closed form. */
static double sums_deg(const double *slope_deg, const double *yoke_deg)
{
    struct ht_chain chain = line(3, slope_deg, NULL, yoke_deg);
    return ht_joint_bend_of_harmonic(
               ht_phasor_size(ht_chain_closed_form(&chain))) /
           DEG;
}

/* 2, 3 and 4 degrees. */
static double two_piece_deg(double front_yoke_deg, double rear_yoke_deg)
{
    return leaves_deg(4, (double[]){ 0, 2, 5, 9 }, NULL,
                      (double[]){ 0, front_yoke_deg, rear_yoke_deg, 0 });
}

static double yoke_off_deg(double yoke_deg)
{
    return leaves_deg(3, (double[]){ 0, 3, 0 }, NULL,
                      (double[]){ 0, yoke_deg, 0 });
}

static double driven_deg(double bend_deg, double driving_deg)
{
    return ht_joint_driven_rad(bend_deg * DEG, driving_deg * DEG) / DEG;
}

static double peak_rad_s2(double rpm, double bend_deg)
{
    return rad_s(rpm) * rad_s(rpm) *
           ht_joint_peak_acceleration(bend_deg * DEG).factor;
}

static double bend_for_deg(double unevenness)
{
    return ht_joint_bend_of_unevenness(unevenness) / DEG;
}

static double fastest(double rpm, double bend_deg)
{
    return rpm * ht_joint_ratio(bend_deg * DEG, 0);
}

static double slowest(double rpm, double bend_deg)
{
    return rpm * ht_joint_ratio(bend_deg * DEG, PI / 2);
}

/* First term of the exact map's Fourier series, by summation. */
static double map_term(double bend_deg)
{
    double sum = 0;
    for (int k = 0; k < 4096; k++) {
        double at = 2 * PI * k / 4096;
        sum += (ht_joint_driven_rad(bend_deg * DEG, at) - at) * sin(2 * at);
    }
    return sum / 2048;
}

/* Driving torque of 55 kg at 150 mm and 200 N m behind 20 degrees, 240 rpm,
 * at 45 degrees. */
static double driving_torque_n_m(void)
{
    double w = rad_s(240), at = 45 * DEG;
    double flywheel = 55 * 0.15 * 0.15;
    double load = 200 + flywheel * w * w * ht_joint_acceleration(20 * DEG, at);
    return load * ht_joint_ratio(20 * DEG, at);
}

/* ---- bearing forces of a two-joint shaft ---------------------------------- */

enum bearing { A, B, E, F }; /* far, near the first joint; near, far of the
                                second */

/* 1000 N m, 1.5 m between the joints, bearings 0.2 m apart, 0.15 m from the
 * joint. Rotation 0: driving pins in the joint's plane, which is upright. */
static double bearing_n(double front_deg, double rear_deg, enum bearing which,
                        double rotation_deg)
{
    static const enum ht_support_place place[] = {
        HT_SUPPORT_FAR, HT_SUPPORT_NEAR, HT_SUPPORT_NEAR, HT_SUPPORT_FAR
    };
    const double slope[] = { 0, front_deg, front_deg + rear_deg };
    const double length[] = { NAN, 1.5, NAN };
    const struct ht_bearings bearings[] = { { 0.2, 0.15, NAN },
                                            { NAN, NAN, NAN },
                                            { 0.2, 0.15, NAN } };
    struct ht_chain chain = line(3, slope, NULL, NULL);
    struct ht_load load = { &chain, 1000, length, bearings };
    struct ht_loads loads;
    double force[HT_SUPPORTS_MAX + 2][3];
    ht_loads_compute(&loads, &load);
    ht_supports_at(force, &load, (rotation_deg + 90) * DEG);
    size_t member = which == A || which == B ? 0 : 2;
    for (size_t s = 0; s < loads.supports; s++)
        if (loads.support[s].member == member &&
            loads.support[s].place == place[which])
            return sqrt(force[s][0] * force[s][0] +
                        force[s][1] * force[s][1] +
                        force[s][2] * force[s][2]);
    return NAN;
}

static double couple_n_m(double bend_deg, double torque_n_m, bool driving)
{
    struct ht_joint_couples couples =
        ht_joint_couples(bend_deg * DEG, torque_n_m);
    return driving ? couples.driving_peak_n_m : couples.driven_peak_n_m;
}

static double steel_rpm(double outer_m, double wall_m, double length_m)
{
    double young, density;
    if (!ht_tube_material("steel", &young, &density))
        return NAN;
    return rpm_of(
        ht_critical_speed_rad_s(length_m, outer_m, wall_m, young, density));
}

static double inch_rpm(double outer, double wall, double length)
{
    double inner = outer - 2 * wall;
    return 4.769e6 * sqrt(outer * outer + inner * inner) / (length * length);
}

struct row {
    int number;
    const char *what, *source;
    double got, wanted, tolerance;
    bool relative;
};

static void hold(const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct row *row = &rows[i];
        double most = row->tolerance * (row->relative ? fabs(row->wanted) : 1);
        if (!(fabs(row->got - row->wanted) <= most))
            print_error("row %d, %s (%s): %.12g, wanted %.12g within %.3g\n",
                        row->number, row->what, row->source, row->got,
                        row->wanted, most);
        assert_true(fabs(row->got - row->wanted) <= most);
    }
}

#define DANA "Dana industrial drive-shaft catalogue, Hooke's joints"
#define DERIVED "derived, closed form"
#define CHAIN "derived, an independent pin chain"
#define MAPS "derived, two exact maps composed, apart from this code"
#define ELBE "ELBE technical pages, resulting angle"
#define KLEIN "Klein technical pages, bearing forces"
#define GWB "Dana, Cardan Shafts for Industrial Applications, p. 46"
#define BEAM "simply supported beam, first mode, any vibration handbook"
#define KHURMI "Khurmi and Gupta, Theory of Machines, from memory"
#define ABS(tolerance) tolerance, false
#define REL(tolerance) tolerance, true

/* Tolerances: half of the last digit given, or what the row states. */
static void rows_1_to_29_hold(void **state)
{
    (void)state;
    double slope3[] = { 0, 3, 1 };
    const struct row rows[] = {
        { 1, "map, pins in the plane, 30 at 30", DANA, driven_deg(30, 30),
          33.6900675260, ABS(1e-9) },
        { 2, "map, the other zero", DANA, driven_deg(30, 120) - 90,
          26.5650511771, ABS(1e-9) },
        { 3, "highest ratio, 20", DANA, ht_joint_ratio(20 * DEG, 0),
          1.064177772476, REL(1e-12) },
        { 3, "lowest ratio, 20", DANA, ht_joint_ratio(20 * DEG, PI / 2),
          0.939692620786, REL(1e-12) },
        { 4, "ratio, 20 at 45", KHURMI, ht_joint_ratio(20 * DEG, 45 * DEG),
          0.998068541, ABS(1e-9) },
        { 5, "equal speeds, 18", "examination answer, 2013",
          ht_joint_equal_speed_rad(18 * DEG) / DEG, 44.281274216, ABS(1e-8) },
        { 6, "q, 20", DERIVED, ht_joint_harmonic_rad(20 * DEG, 1),
          0.031091204126, REL(1e-9) },
        { 6, "second term, 20", DERIVED, ht_joint_harmonic_rad(20 * DEG, 2),
          4.833314870e-4, REL(1e-9) },
        { 6, "third term, 20", DERIVED, ht_joint_harmonic_rad(20 * DEG, 3),
          1.001823862e-5, REL(1e-9) },
        { 7, "Fourier sum of the map, 10", DERIVED, map_term(10),
          0.007654266246, ABS(1e-12) },
        { 8, "peak error, 10", DERIVED, ht_joint_peak_error_rad(10 * DEG) / DEG,
          0.4385614, ABS(1e-6) },
        { 8, "peak error, 30", DERIVED, ht_joint_peak_error_rad(30 * DEG) / DEG,
          4.1171943, ABS(1e-6) },
        { 9, "unevenness, 3", DANA, ht_joint_unevenness(3 * DEG),
          0.002742811243, REL(1e-9) },
        { 10, "peak acceleration, 20", DERIVED,
          ht_joint_peak_acceleration(20 * DEG).factor, 0.124965577, ABS(1e-8) },
        { 10, "and where", DERIVED,
          ht_joint_peak_acceleration(20 * DEG).at_rad / DEG, 41.458695,
          ABS(1e-5) },
        { 11, "500 rpm, 20", DERIVED, peak_rad_s2(500, 20), 342.6002256,
          REL(1e-8) },
        { 12, "1500 rpm, 20, 0.12 kg m2", KHURMI, 0.12 * peak_rad_s2(1500, 20),
          370.008244, REL(1e-7) },
        { 12, "the book's own figure", KHURMI, 0.12 * peak_rad_s2(1500, 20),
          371, REL(0.005) },
        { 13, "1200 rpm within 100 rpm", DERIVED, bend_for_deg(100.0 / 1200),
          16.4229079, ABS(1e-6) },
        { 13, "its highest speed", DERIVED, fastest(1200, 16.422907754),
          1251.041215, ABS(1e-5) },
        { 14, "+-6 %", KHURMI, bend_for_deg(0.12), 19.6442018, ABS(1e-6) },
        { 14, "+-4 %", DERIVED, bend_for_deg(0.08), 16.0957586, ABS(1e-6) },
        { 15, "driving torque at 45", KHURMI, driving_torque_n_m(), 102.869811,
          ABS(1e-5) },
        { 16, "crossed yokes, 500 rpm, 20: highest", "examination pages",
          fastest(fastest(500, 20), 20), 566.237166, ABS(1e-5) },
        { 16, "lowest", "examination pages", slowest(slowest(500, 20), 20),
          441.511111, ABS(1e-5) },
        { 17, "3000 rpm, 3, small angles", DERIVED, pow(rad_s(3000) * 3 * DEG, 2),
          270.5808084, REL(1e-8) },
        { 18, "rpm degrees for 1000 rad/s2", DERIVED,
          rpm_of(sqrt(1000)) / DEG, 17301.90864, REL(1e-8) },
        { 19, "unevenness 0.0027 as a bend", ELBE, bend_for_deg(0.0027),
          2.976505764, ABS(1e-8) },
        { 20, "(3, 2), small angles", ELBE, root(3 * 3 - 2 * 2), 2.236067977,
          ABS(1e-8) },
        { 20, "(3, 2), chain", CHAIN, leaves_deg(3, slope3, NULL, NULL),
          2.236522, ABS(2e-6) },
        { 21, "2, 3, 4: parallel, parallel", CHAIN, two_piece_deg(0, 0),
          3.317161, ABS(2e-6) },
        { 21, "crossed, parallel", CHAIN, two_piece_deg(90, 0), 1.734251,
          ABS(2e-6) },
        { 21, "parallel, crossed", CHAIN, two_piece_deg(0, 90), 4.581910,
          ABS(2e-6) },
        { 21, "crossed, crossed", CHAIN, two_piece_deg(90, 90), 5.382863,
          ABS(2e-6) },
        { 22, "compound, inclinations and headings", CHAIN,
          leaves_deg(3, (double[]){ -3, -5, -2.5 }, (double[]){ 0, 1, 0.5 },
                     NULL), 1.831026, ABS(2e-6) },
        { 23, "equal bends, planes apart", CHAIN,
          leaves_deg(3, (double[]){ 0, -3, -5 }, (double[]){ 0, 0, 2.236 },
                     NULL), 3.655776, ABS(2e-6) },
        { 24, "3 and 3, yokes 3 off", CHAIN, yoke_off_deg(3), 0.970790,
          ABS(2e-6) },
        { 24, "5 off", CHAIN, yoke_off_deg(5), 1.252755, ABS(2e-6) },
        { 24, "10 off", CHAIN, yoke_off_deg(10), 1.768220, ABS(2e-6) },
        { 24, "90 off", CHAIN, yoke_off_deg(90), 4.241671, ABS(2e-6) },
        { 25, "(-3, 0) to (-6, 4)", DERIVED,
          ht_working_angle_rad(-3 * DEG, 0, -6 * DEG, 4 * DEG) / DEG, 4.989766,
          ABS(1e-5) },
        { 26, "driving couple, 1000 N m, 5", KLEIN, couple_n_m(5, 1000, true),
          87.488664, ABS(1e-5) },
        { 26, "driven couple", KLEIN, couple_n_m(5, 1000, false), 87.155743,
          ABS(1e-5) },
        { 27, "intersecting 5 and 5, A at 0", GWB, bearing_n(5, 5, A, 0),
          87.155743, ABS(1e-5) },
        { 27, "B at 0", GWB, bearing_n(5, 5, B, 0), 203.363400, ABS(1e-5) },
        { 27, "A at 90", GWB, bearing_n(5, 5, A, 90), 437.443318, ABS(1e-5) },
        { 28, "90 x 3 x 1500 mm steel", BEAM, steel_rpm(0.09, 0.003, 1.5),
          6620.202297, REL(1e-8) },
        { 29, "3.0 x 0.065 x 60 in", "handbook form, from memory",
          inch_rpm(3, 0.065, 60), 5499.895055, REL(1e-8) },
        { 29, "the same in SI: 207 GPa against 30e6 psi", BEAM,
          steel_rpm(3 * 0.0254, 0.065 * 0.0254, 60 * 0.0254), 5493.572,
          ABS(0.0005) },
    };
    hold(rows, COUNT(rows));
}

/* Published answers are rounded. Where one is wrong the row says so, and must
 * lie away from it. */
struct problem {
    const char *what, *source;
    double got, exact, tolerance, published, loose;
    bool wrong;
};

static void hold_problems(const struct problem *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct problem *row = &rows[i];
        double off = fabs(row->got - row->published);
        bool fits = isnan(row->published) || (off <= row->loose) != row->wrong;
        if (!(fabs(row->got - row->exact) <= row->tolerance) || !fits)
            print_error("%s (%s): %.12g, exact %.12g, published %g\n",
                        row->what, row->source, row->got, row->exact,
                        row->published);
        assert_true(fabs(row->got - row->exact) <= row->tolerance);
        assert_true(fits);
    }
}

#define EXAM "examination page"
#define NONE NAN, 0, false
#define WITHIN(published, loose) published, loose, false
#define SLIP(published, loose) published, loose, true

static void worked_problems_have_their_exact_answers(void **state)
{
    (void)state;
    double w180 = rad_s(180), torque = 7500 / rad_s(180);
    double inertia = 0.15 * torque / peak_rad_s2(180, 25);
    double at18 = ht_joint_equal_speed_rad(18 * DEG) / DEG;
    double swing = 55 * 0.15 * 0.15 * rad_s(240) * rad_s(240) *
                   ht_joint_acceleration(20 * DEG, 45 * DEG);
    const struct problem rows[] = {
        { "W1 500 rpm, 20: highest", EXAM, fastest(500, 20), 532.088886, 1e-6,
          WITHIN(532.1, 0.05) },
        { "W1 lowest", EXAM, slowest(500, 20), 469.846310, 1e-6,
          WITHIN(469.85, 0.005) },
        { "W2 yokes crossed: highest", EXAM, fastest(fastest(500, 20), 20),
          566.237166, 1e-6, WITHIN(566.25, 0.02) },
        { "W2 lowest", EXAM, slowest(slowest(500, 20), 20), 441.511111, 1e-6,
          WITHIN(441.5, 0.05) },
        { "W3 500 rpm, 20: peak", DERIVED, peak_rad_s2(500, 20), 342.600226,
          1e-6, NONE },
        { "W4 1200 rpm within 100", EXAM, bend_for_deg(100.0 / 1200),
          16.422908, 1e-6, SLIP(16.2, 0.05) },
        { "W4 highest", EXAM, fastest(1200, bend_for_deg(100.0 / 1200)),
          1251.041215, 1e-6, WITHIN(1251, 0.5) },
        { "W4 lowest", EXAM, slowest(1200, bend_for_deg(100.0 / 1200)),
          1151.041215, 1e-6, WITHIN(1151, 0.5) },
        { "W5 1500 rpm within 200", EXAM, bend_for_deg(200.0 / 1500),
          20.682315, 1e-6, WITHIN(20.67, 0.02) },
        { "W5 highest", EXAM, fastest(1500, bend_for_deg(200.0 / 1500)),
          1603.329638, 1e-6, WITHIN(1603.25, 0.1) },
        { "W5 lowest", EXAM, slowest(1500, bend_for_deg(200.0 / 1500)),
          1403.329638, 1e-6, WITHIN(1403.39, 0.1) },
        { "W6 100 rad/s, 25: highest", EXAM, fastest(100, 25), 110.337792,
          1e-6, NONE },
        { "W6 lowest", EXAM, slowest(100, 25), 90.630779, 1e-6, NONE },
        { "W7 equal speeds, 18", EXAM, at18, 44.281274, 1e-6, NONE },
        { "W7 and the next", EXAM, 180 - at18, 135.718726, 1e-6, NONE },
        { "W8 1500 rpm, 20: peak", KHURMI, peak_rad_s2(1500, 20), 3083.402030,
          1e-6, WITHIN(3090, 10) },
        { "W8 torque, 12 kg at 100 mm", KHURMI,
          12 * 0.1 * 0.1 * peak_rad_s2(1500, 20), 370.008244, 1e-6,
          WITHIN(371, 1.5) },
        { "W9 500 rpm, 12 %", KHURMI, bend_for_deg(0.12), 19.644202, 1e-6,
          WITHIN(19.64, 0.01) },
        { "W10 8 %", DERIVED, bend_for_deg(0.08), 16.095759, 1e-6, NONE },
        { "W10 10 %", DERIVED, bend_for_deg(0.10), 17.964236, 1e-6, NONE },
        { "W11 acceleration torque", KHURMI, swing, -96.931116, 1e-6, NONE },
        { "W11 driving torque", KHURMI, driving_torque_n_m(), 102.869811, 1e-6,
          WITHIN(102.6, 0.5) },
        { "W12 240 rpm within 24", KHURMI, bend_for_deg(24.0 / 240), 17.964236,
          1e-6, WITHIN(18, 0.05) },
        { "W13 400 rpm, 20, crossed: highest", "Rattan, from memory",
          fastest(fastest(400, 20), 20), 452.989733, 1e-6, WITHIN(453, 0.05) },
        { "W13 lowest", "Rattan, from memory", slowest(slowest(400, 20), 20),
          353.208889, 1e-6, WITHIN(353.2, 0.05) },
        { "W14 torque", "Rattan, from memory", 7500 / w180, 397.887358, 1e-6,
          NONE },
        { "W14 flywheel, 25, 15 %", "Rattan, from memory",
          inertia / (0.15 * 0.15), 37.522256, 2e-5, WITHIN(37.5, 0.05) },
        { "W15 475 to 525 rpm", "examination problem, from memory",
          acos(500.0 / 525) / DEG, 17.752790, 1e-6, WITHIN(17.8, 0.05) },
        { "W15 by that bend", "the same", fastest(500, 17.752790), 525, 1e-5,
          NONE },
        { "W15 lower bound alone", "the same", acos(475.0 / 500) / DEG,
          18.194872, 1e-6, NONE },
        { "W16 2400 rpm, 30: peak", EXAM, peak_rad_s2(2400, 30), 18606.7214,
          1e-4, NONE },
        { "W16 torque, 3 kg m2", EXAM, 3 * peak_rad_s2(2400, 30), 55820.16,
          0.005, NONE },
    };
    hold_problems(rows, COUNT(rows));
}

/* The signs of F2.3's four kinds and the pitfalls of equal angles. Small
 * angles by formula, the chain beside it. */
static void lines_of_several_joints_leave_the_published_angles(void **state)
{
    (void)state;
    const struct row rows[] = {
        { 1, "2, 3, 4 parallel, parallel", ELBE, two_piece_deg(0, 0),
          root(4 - 9 + 16), ABS(1e-3) },
        { 1, "crossed, parallel", ELBE, two_piece_deg(90, 0), root(4 + 9 - 16),
          ABS(3e-3) },
        { 1, "parallel, crossed", ELBE, two_piece_deg(0, 90), root(4 - 9 - 16),
          ABS(1e-3) },
        { 1, "crossed, crossed", ELBE, two_piece_deg(90, 90), root(4 + 9 + 16),
          ABS(3e-3) },
        { 1, "1, 3, 3 crossed, parallel", ELBE,
          leaves_deg(4, (double[]){ 0, 1, 4, 7 }, NULL,
                     (double[]){ 0, 90, 0, 0 }), 1, ABS(1e-4) },
        { 2, "10 and 8, sum of tan^2", DERIVED,
          sums_deg((double[]){ 0, 10, 2 }, NULL), 6.019519, ABS(5e-7) },
        { 2, "10 and 8, maps composed", MAPS,
          leaves_deg(3, (double[]){ 0, 10, 2 }, NULL, NULL), 6.019631,
          ABS(5e-7) },
        { 2, "20 and 20 adding, sum of tan^2", DERIVED,
          sums_deg((double[]){ 0, 20, 0 }, (double[]){ 0, 90, 0 }), 28.003884,
          ABS(5e-7) },
        { 2, "20 and 20 adding, maps composed", MAPS,
          leaves_deg(3, (double[]){ 0, 20, 0 }, NULL, (double[]){ 0, 90, 0 }),
          27.990891, ABS(5e-7) },
        { 4, "compound by phasors", DERIVED,
          leaves_deg(3, (double[]){ -3, -5, -2.5 }, (double[]){ 0, 1, 0.5 },
                     NULL), 1.831421, ABS(5e-4) },
        { 4, "the naive root of squares, a third too low", DERIVED,
          root(5 - 6.5), 1.2247, ABS(5e-5) },
        { 5, "equal 3, planes 48.19 apart", DERIVED,
          leaves_deg(3, (double[]){ 0, -3, -5 }, (double[]){ 0, 0, 2.236 },
                     NULL), 3 * sqrt(2 * sin(48.189685 * DEG)), ABS(8e-3) },
        { 6, "yokes 3 off", DERIVED, yoke_off_deg(3),
          3 * sqrt(2 * sin(3 * DEG)), ABS(1e-3) },
        { 6, "30 off: as one joint alone", DERIVED, yoke_off_deg(30), 3,
          ABS(1e-3) },
        { 6, "90 off", DERIVED, yoke_off_deg(90), 4.242641, ABS(1.1e-3) },
    };
    hold(rows, COUNT(rows));
}

static void a_two_joint_shaft_loads_its_bearings_as_published(void **state)
{
    (void)state;
    const struct row rows[] = {
        { 1, "intersecting 5, 5: A at 0", GWB, bearing_n(5, 5, A, 0), 87.155743,
          ABS(1e-6) },
        { 1, "B at 0", GWB, bearing_n(5, 5, B, 0), 203.363400, ABS(1e-6) },
        { 1, "A at 90", GWB, bearing_n(5, 5, A, 90), 437.443318, ABS(1e-6) },
        { 1, "B at 90", GWB, bearing_n(5, 5, B, 90), 437.443318, ABS(1e-6) },
        { 2, "parallel 5, 5: A at 0", GWB, bearing_n(5, -5, A, 0), 0,
          ABS(1e-9) },
        { 2, "B at 0", GWB, bearing_n(5, -5, B, 0), 0, ABS(1e-9) },
        { 3, "parallel 6, 4: A at 0", GWB, bearing_n(6, -4, A, 0), 17.492359,
          ABS(1e-6) },
        { 3, "B at 0", GWB, bearing_n(6, -4, B, 0), 40.815504, ABS(1e-6) },
        { 3, "A at 90", GWB, bearing_n(6, -4, A, 90), 525.521176, ABS(1e-6) },
        { 3, "F at 90", GWB, bearing_n(6, -4, F, 90), 350.703560, ABS(1e-6) },
        { 3, "E at 90", GWB, bearing_n(6, -4, E, 90), 350.703560, ABS(1e-6) },
        { 4, "intersecting 6, 4: A at 0", GWB, bearing_n(6, 4, A, 0), 87.036104,
          ABS(1e-6) },
        { 4, "B at 0", GWB, bearing_n(6, 4, B, 0), 203.084244, ABS(1e-6) },
        { 5, "400 N m, 3: driving", KLEIN, couple_n_m(3, 400, true), 20.963112,
          ABS(1e-6) },
        { 5, "driven", KLEIN, couple_n_m(3, 400, false), 20.934382, ABS(1e-6) },
        { 6, "centre bearing, 1200 N m, 0.5 and 3, 0.7 m", DERIVED,
          ht_centre_bearing_bound(1200, 0.5 * DEG, 3 * DEG, 0.7), 104.80,
          ABS(0.005) },
    };
    hold(rows, COUNT(rows));
}

/* The printed 5800 (aluminium 5795) is all of the mass at mid-span,
 * sqrt(48 E I / (m L^3)): 0.701974 of the first mode. */
static void tubes_have_the_handbook_critical_speed(void **state)
{
    (void)state;
    double length = 48, outer = 3, inner = 2.75, young = 29e6, rho = 0.00883 / 12;
    double area = PI / 4 * (outer * outer - inner * inner);
    double second = PI / 64 * (pow(outer, 4) - pow(inner, 4));
    double lumped = rpm_of(
        sqrt(48 * young * second / (rho * area * length * pow(length, 3))));
    double mode =
        rpm_of(ht_critical_speed_rad_s(length, outer, 0.125, young, rho));
    double si = 1.209933e8 * sqrt(90 * 90 + 84 * 84) / (1500.0 * 1500);
    const struct row rows[] = {
        { 1, "SI constant, 207 GPa", BEAM, si, 6620.202, ABS(0.005) },
        { 2, "0.75 of it", "a shaft maker's speed limits",
          0.75 * steel_rpm(0.09, 0.003, 1.5), 4965.15, ABS(0.005) },
        { 2, "half of it", "a 1944 internal note on carriers",
          steel_rpm(0.09, 0.003, 1.5) / 2, 3310.10, ABS(0.005) },
        { 3, "4 ft, 3 in, 1/8 in wall, first mode", BEAM, mode, 8262.298,
          ABS(0.5) },
        { 3, "the printed, cruder model", "examination page", lumped, 5800,
          ABS(0.5) },
        { 3, "its share of the first mode", DERIVED, lumped / mode, 0.701974,
          ABS(5e-7) },
    };
    hold(rows, COUNT(rows));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_1_to_29_hold),
        cmocka_unit_test(worked_problems_have_their_exact_answers),
        cmocka_unit_test(lines_of_several_joints_leave_the_published_angles),
        cmocka_unit_test(a_two_joint_shaft_loads_its_bearings_as_published),
        cmocka_unit_test(tubes_have_the_handbook_critical_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
