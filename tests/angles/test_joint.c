/* One Cardan joint and one tube: closed forms against published and worked
 * values. "Derived" marks a value worked out by ourselves at more digits. */
#include "close.h"

#include "halfturn/joint.h"

#include <math.h>

#define PI 3.14159265358979323846
#define DEG (PI / 180)

static double rad_s(double rpm)
{
    return rpm * PI / 30;
}

/* Dana industrial drive-shaft catalogue, Kinematics of Hooke's joints, and
 * ELBE technical pages (zero of the rotation, maxima and minima): their
 * formulae at 30 deg, 10 digits. */
static void the_angle_map_starts_with_the_pins_in_the_shafts_plane(void **state)
{
    (void)state;
    assert_close(ht_joint_driven_rad(30 * DEG, 30 * DEG) / DEG, 33.6900675260,
                 1e-9);
    /* the other zero, a quarter turn on */
    assert_close(ht_joint_driven_rad(30 * DEG, 120 * DEG) / DEG - 90,
                 26.5650511771, 1e-9);
}

static void the_angle_map_runs_on_over_many_turns(void **state)
{
    (void)state;
    double before = ht_joint_driven_rad(40 * DEG, -20);
    for (double turn = -20; turn < 20; turn += 0.01) {
        double now = ht_joint_driven_rad(40 * DEG, turn);
        assert_true(now >= before && now - before < 0.02);
        before = now;
    }
}

/* cos and 1/cos: Dana catalogue and ELBE technical pages; 12 digits. */
static void speed_ratio_peaks_at_the_inverse_cosine(void **state)
{
    (void)state;
    assert_close_relative(ht_joint_ratio(20 * DEG, 0), 1.064177772476, 1e-12);
    assert_close_relative(ht_joint_ratio(20 * DEG, PI / 2), 0.939692620786,
                          1e-12);
    assert_close(ht_joint_ratio(20 * DEG, 45 * DEG), 0.998068541, 1e-9);
}

/* Examination answer tan(theta) = sqrt(cos alpha) (Indian engineering
 * services, 2013); 18 deg. */
static void both_shafts_turn_alike_at_the_published_position(void **state)
{
    (void)state;
    double at = ht_joint_equal_speed_rad(18 * DEG);
    assert_close(at / DEG, 44.281274216, 1e-8);
    assert_close(ht_joint_ratio(18 * DEG, at), 1, 1e-14);
}

/* Derived series q^n/n (Seherr-Thoss, Schmelz and Aucktor, Universal Joints
 * and Driveshafts, from memory); 10 digits. */
static void harmonics_follow_the_series(void **state)
{
    (void)state;
    assert_close_relative(ht_joint_harmonic_rad(20 * DEG, 1), 0.031091204126,
                          1e-9);
    assert_close_relative(ht_joint_harmonic_rad(20 * DEG, 2), 4.833314870e-4,
                          1e-9);
    assert_close_relative(ht_joint_harmonic_rad(20 * DEG, 3), 1.001823862e-5,
                          1e-9);
}

/* The same harmonics from the exact map and from the pin chain. 1e-12: row
 * value; 1e-14: double precision over 720 points. */
static void harmonics_of_map_and_chain_are_the_series(void **state)
{
    (void)state;
    double sine = 0;
    for (int k = 0; k < 4096; k++) {
        double at = 2 * PI * k / 4096;
        sine += (ht_joint_driven_rad(10 * DEG, at) - at) * sin(2 * at) / 2048;
    }
    assert_close(sine, 0.007654266246, 1e-12);
    struct ht_chain chain = { .members = 2, .slope_rad = { 0, 10 * DEG } };
    struct ht_chain_motion motion = ht_chain_exact(&chain);
    for (unsigned n = 1; n <= 3; n++)
        assert_close(motion.harmonic_rad[n - 1],
                     ht_joint_harmonic_rad(10 * DEG, n), 1e-14);
    /* a parabola through steps of half a degree: error below 1e-9 */
    assert_close(motion.ripple, 1 / cos(10 * DEG) - 1, 1e-9);
}

/* All columns derived in closed form and confirmed by brute force; the same
 * quantities as in the peak tables of component makers (Dana catalogue).
 * Tolerances: half of the last digit printed. */
static void the_master_table_holds_at_every_printed_digit(void **state)
{
    (void)state;
    static const struct {
        double bend, q, error, highest, lowest, unevenness, peak, at;
    } rows[] = {
        { 1, 0.000076158, 0.0043635, 1.00015233, 0.99984770, 0.00030463,
          0.00030463, 44.99127 },
        { 2, 0.000304679, 0.0174568, 1.00060954, 0.99939083, 0.00121872,
          0.00121872, 44.96509 },
        { 3, 0.000685702, 0.0392879, 1.00137235, 0.99862953, 0.00274281,
          0.00274282, 44.92142 },
        { 4, 0.001219460, 0.0698699, 1.00244190, 0.99756405, 0.00487785,
          0.00487788, 44.86026 },
        { 5, 0.001906278, 0.1092217, 1.00381984, 0.99619470, 0.00762514,
          0.00762525, 44.78156 },
        { 6, 0.002746575, 0.1573674, 1.00550828, 0.99452190, 0.01098638,
          0.01098672, 44.68528 },
        { 7, 0.003740866, 0.2143363, 1.00750983, 0.99254615, 0.01496367,
          0.01496451, 44.57137 },
        { 8, 0.004889759, 0.2801637, 1.00982757, 0.99026807, 0.01955950,
          0.01956137, 44.43976 },
        { 10, 0.007654266, 0.4385614, 1.01542661, 0.98480775, 0.03061886,
          0.03062603, 44.12321 },
        { 12, 0.011046900, 0.6329536, 1.02234059, 0.97814760, 0.04419299,
          0.04421456, 43.73509 },
        { 15, 0.017332380, 0.9931220, 1.03527618, 0.96592583, 0.06935035,
          0.06943364, 43.01762 },
        { 18, 0.025085631, 1.4374516, 1.05146222, 0.95105652, 0.10040571,
          0.10065813, 42.13674 },
        { 20, 0.031091204, 1.7816819, 1.06417777, 0.93969262, 0.12448515,
          0.12496558, 41.45870 },
        { 25, 0.049148523, 2.8171379, 1.10337792, 0.90630779, 0.19707013,
          0.19896546, 39.45102 },
        { 30, 0.071796770, 4.1171943, 1.15470054, 0.86602540, 0.28867513,
          0.29457110, 37.02146 },
        { 35, 0.099413326, 5.7053882, 1.22077459, 0.81915204, 0.40162254,
          0.41723249, 34.22807 },
        { 40, 0.132474331, 7.6125980, 1.30540729, 0.76604444, 0.53936285,
          0.57621534, 31.15901 },
        { 45, 0.171572875, 9.8792819, 1.41421356, 0.70710678, 0.70710678,
          0.78720032, 27.91837 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double bend = rows[i].bend * DEG;
        struct ht_joint_peak peak = ht_joint_peak_acceleration(bend);
        assert_close(ht_joint_harmonic_rad(bend, 1), rows[i].q, 5.01e-10);
        assert_close(ht_joint_peak_error_rad(bend) / DEG, rows[i].error,
                     5.01e-8);
        assert_close(ht_joint_ratio(bend, 0), rows[i].highest, 5.01e-9);
        assert_close(ht_joint_ratio(bend, PI / 2), rows[i].lowest, 5.01e-9);
        assert_close(ht_joint_unevenness(bend), rows[i].unevenness, 5.01e-9);
        assert_close(peak.factor, rows[i].peak, 5.01e-9);
        assert_close(peak.at_rad / DEG, rows[i].at, 5.01e-6);
    }
}

static void peak_acceleration_is_the_highest_of_the_whole_turn(void **state)
{
    (void)state;
    double highest = 0;
    for (int k = 0; k < 36000; k++)
        highest = fmax(highest, ht_joint_acceleration(20 * DEG, k * DEG / 100));
    /* 1e-8: row value; a hundredth of a degree beside the peak costs 4e-9 */
    assert_close(ht_joint_peak_acceleration(20 * DEG).factor, highest, 1e-8);
    assert_close(ht_joint_peak_acceleration(20 * DEG).factor, 0.124965577,
                 1e-8);
    assert_close(ht_joint_peak_acceleration(20 * DEG).at_rad / DEG, 41.458695,
                 1e-5);
    assert_close(ht_joint_peak_acceleration(0).factor, 0, 0);
}

static void acceleration_is_the_slope_of_the_speed_ratio(void **state)
{
    (void)state;
    for (double at = 0; at < 7; at += 0.1) {
        double step = 1e-5;
        double slope = (ht_joint_ratio(25 * DEG, at + step) -
                        ht_joint_ratio(25 * DEG, at - step)) /
                       (2 * step);
        /* central difference: step^2 times the third derivative, below 10 */
        assert_close(ht_joint_acceleration(25 * DEG, at), slope, 1e-9);
    }
}

static double peak_rad_s2(double rpm, double bend_deg)
{
    double w = rad_s(rpm);
    return w * w * ht_joint_peak_acceleration(bend_deg * DEG).factor;
}

/* 500 rpm: derived. 1500 rpm, 12 kg at 100 mm: Khurmi and Gupta, Theory of
 * Machines, example 9.2, from memory, "about 371 N m" (0.5 %). 2400 rpm at
 * 30 deg: examination problem, statement only. */
static void worked_problems_on_peak_acceleration(void **state)
{
    (void)state;
    assert_close_relative(peak_rad_s2(500, 20), 342.6002256, 1e-8);
    double torque_n_m = 0.12 * peak_rad_s2(1500, 20);
    assert_close_relative(torque_n_m, 370.008244, 1e-7);
    assert_close_relative(torque_n_m, 371, 0.005);
    assert_close(peak_rad_s2(1500, 20), 3083.402030, 1e-6);
    assert_close(peak_rad_s2(2400, 30), 18606.7214, 1e-4);
    assert_close(3 * peak_rad_s2(2400, 30), 55820.16, 0.005);
}

/* Published examination pages give 532.1 / 469.85 and 566.25 / 441.5 rpm for
 * 500 rpm at 20 deg, and 453 / 353.2 for 400 rpm (Rattan, Theory of Machines,
 * from memory); rounded there, so 0.02. */
static void worked_problems_on_highest_and_lowest_speed(void **state)
{
    (void)state;
    double high = ht_joint_ratio(20 * DEG, 0), low = 1 / high;
    assert_close(500 * high, 532.088886, 1e-6);
    assert_close(500 * low, 469.846310, 1e-6);
    assert_close(500 * high, 532.1, 0.02);
    assert_close(500 * low, 469.85, 0.02);
    assert_close(500 * high * high, 566.237166, 1e-5);
    assert_close(500 * low * low, 441.511111, 1e-5);
    assert_close(500 * high * high, 566.25, 0.02);
    assert_close(400 * high * high, 452.989733, 1e-6);
    assert_close(400 * low * low, 353.208889, 1e-6);
    assert_close(100 * ht_joint_ratio(25 * DEG, 0), 110.337792, 1e-6);
    assert_close(100 * ht_joint_ratio(25 * DEG, PI / 2), 90.630779, 1e-6);
    /* the same from the chain: two joints, the section's yokes crossed */
    struct ht_chain chain = { .members = 3,
                              .slope_rad = { 0, 20 * DEG, 0 },
                              .yoke_rad = { 0, 90 * DEG, 0 } };
    /* parabola at 720 steps: below 1e-6 of the speed at 20 deg */
    assert_close(500 * (1 + ht_chain_exact(&chain).ripple), 566.237166, 5e-4);
}

/* 1200 rpm within 100 rpm: the examination page prints 16.2 deg, a slip, as
 * its own cosine 0.9592 gives 16.42. 1500 rpm within 200: 20.67 printed.
 * +-6 %, +-4 %, +-5 %: Khurmi and Gupta, example 9.4, from memory, about
 * 19.64. 240 rpm within 24: about 18, same book. 475 to 525 rpm: common
 * examination problem, from memory, about 17.8 (upper bound governs). */
static void worked_problems_on_the_bend_for_a_given_unevenness(void **state)
{
    (void)state;
    double bend = ht_joint_bend_of_unevenness(100.0 / 1200);
    assert_close(bend / DEG, 16.4229079, 1e-6);
    assert_close(1200 * ht_joint_ratio(bend, 0), 1251.041215, 1e-6);
    assert_close(1200 * ht_joint_ratio(bend, PI / 2), 1151.041215, 1e-6);
    bend = ht_joint_bend_of_unevenness(200.0 / 1500);
    assert_close(bend / DEG, 20.682315, 1e-6);
    assert_close(bend / DEG, 20.67, 0.02);
    assert_close(1500 * ht_joint_ratio(bend, 0), 1603.329638, 1e-6);
    assert_close(ht_joint_bend_of_unevenness(0.12) / DEG, 19.6442018, 1e-6);
    assert_close(ht_joint_bend_of_unevenness(0.08) / DEG, 16.0957586, 1e-6);
    assert_close(ht_joint_bend_of_unevenness(0.10) / DEG, 17.964236, 1e-6);
    assert_close(acos(500.0 / 525) / DEG, 17.752790, 1e-6);
    assert_close(525 / ht_joint_ratio(17.752790 * DEG, 0), 500, 1e-5);
    /* ELBE technical pages: U up to 0.0027; our inversion */
    assert_close(ht_joint_bend_of_unevenness(0.0027) / DEG, 2.976505764, 1e-8);
    assert_close_relative(ht_joint_unevenness(3 * DEG), 0.002742811243, 1e-9);
    for (double u = 1e-9; u < 2; u *= 3) /* round trip, number format */
        assert_close_relative(
            ht_joint_unevenness(ht_joint_bend_of_unevenness(u)), u, 1e-14);
}

/* 240 rpm, 20 deg, 55 kg at 150 mm, 200 N m, at 45 deg: Khurmi and Gupta,
 * example 9.6, from memory, about 102.6 N m. */
static void worked_problem_on_the_driving_torque(void **state)
{
    (void)state;
    double w = rad_s(240), at = 45 * DEG;
    double inertia = 55 * 0.15 * 0.15;
    double acceleration = w * w * ht_joint_acceleration(20 * DEG, at);
    assert_close(acceleration, -78.328175, 1e-6);
    double torque =
        (200 + inertia * acceleration) * ht_joint_ratio(20 * DEG, at);
    assert_close(torque, 102.869811, 1e-5);
    assert_close_relative(torque, 102.6, 0.005);
}

/* 25 deg, 180 rpm, 7.5 kW, 150 mm, swing up to 15 %: Rattan, Theory of
 * Machines, from memory, about 37.5 kg. */
static void worked_problem_on_the_flywheel(void **state)
{
    (void)state;
    double torque = 7500 / rad_s(180);
    double inertia = 0.15 * torque / peak_rad_s2(180, 25);
    assert_close(torque, 397.887358, 1e-6);
    assert_close(inertia, 0.844251, 1e-6);
    assert_close(inertia / (0.15 * 0.15), 37.522256, 2e-5);
    assert_close(inertia / (0.15 * 0.15), 37.5, 0.05);
}

/* Workshop form 3.34e-6 N^2 A^2 (truck driveline guides, from memory): the
 * rounded coefficient, so 2e-3; and the turning speed at which a bend brings
 * 1000 rad/s^2. */
static void workshop_form_is_the_small_angle_limit(void **state)
{
    (void)state;
    double small = pow(rad_s(3000) * 3 * DEG, 2);
    assert_close_relative(small, 270.5808084, 1e-8);
    assert_close_relative(small, 3.34e-6 * 3000 * 3000 * 9, 2e-3);
    assert_close(peak_rad_s2(3000, 3), 270.705128, 1e-6);
    assert_close_relative(sqrt(1000) * 30 / PI / DEG, 17301.90864, 1e-8);
}

/* Couples T sin(b) and T tan(b): bearing forces page of a cardan shaft maker
 * (Klein); 1000 N m at 5 deg, 400 N m at 3 deg, 6 decimals. */
static void couples_follow_sine_and_tangent(void **state)
{
    (void)state;
    struct ht_joint_couples couples = ht_joint_couples(5 * DEG, 1000);
    assert_close(couples.driving_peak_n_m, 87.488664, 1e-5);
    assert_close(couples.driven_peak_n_m, 87.155743, 1e-5);
    assert_close(couples.steady_n_m, 43.744332, 1e-5);
    assert_close(couples.twice_n_m, 43.744332, 1e-5);
    assert_close(ht_joint_couples(3 * DEG, 400).driven_peak_n_m, 20.934382,
                 1e-5);
}

/* Simply supported beam, first mode (any vibration handbook): 90 x 3 x
 * 1500 mm steel, and an inch tube by the handbook form 4.769e6 sqrt(D^2+d^2)
 * / L^2 (30e6 psi, 0.283 lb/in^3, g = 32.2 ft/s^2; half of the constant's
 * last digit is 1.05e-4 of it). */
static void critical_speed_of_a_tube(void **state)
{
    (void)state;
    double w = ht_critical_speed_rad_s(1.5, 0.09, 0.003, 207e9, 7850);
    assert_close_relative(w * 30 / PI, 6620.202297, 1e-8);
    double inch = ht_critical_speed_rad_s(60, 3.0, 0.065, 30e6, 0.283 / 386.4);
    double handbook = 4.769e6 * sqrt(9 + 2.87 * 2.87) / 3600;
    assert_close_relative(handbook, 5499.895055, 1e-8);
    assert_close_relative(inch * 30 / PI, handbook, 1.1e-4);
    assert_true(isnan(ht_critical_speed_rad_s(1, 0.05, 0.03, 1, 1)));
    assert_true(isnan(ht_critical_speed_rad_s(NAN, 0.05, 0.002, 1, 1)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            the_angle_map_starts_with_the_pins_in_the_shafts_plane),
        cmocka_unit_test(the_angle_map_runs_on_over_many_turns),
        cmocka_unit_test(speed_ratio_peaks_at_the_inverse_cosine),
        cmocka_unit_test(both_shafts_turn_alike_at_the_published_position),
        cmocka_unit_test(harmonics_follow_the_series),
        cmocka_unit_test(harmonics_of_map_and_chain_are_the_series),
        cmocka_unit_test(the_master_table_holds_at_every_printed_digit),
        cmocka_unit_test(peak_acceleration_is_the_highest_of_the_whole_turn),
        cmocka_unit_test(acceleration_is_the_slope_of_the_speed_ratio),
        cmocka_unit_test(worked_problems_on_peak_acceleration),
        cmocka_unit_test(worked_problems_on_highest_and_lowest_speed),
        cmocka_unit_test(worked_problems_on_the_bend_for_a_given_unevenness),
        cmocka_unit_test(worked_problem_on_the_driving_torque),
        cmocka_unit_test(worked_problem_on_the_flywheel),
        cmocka_unit_test(workshop_form_is_the_small_angle_limit),
        cmocka_unit_test(couples_follow_sine_and_tangent),
        cmocka_unit_test(critical_speed_of_a_tube),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
