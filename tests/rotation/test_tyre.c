#include "close.h"
#include "random.h"

#include "halfturn/rotation.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Outer diameter = 25.4 rim + 2 width aspect / 100 and C = 3.05 OD: the tyre
 * trade's rule (BRV, worked example 235/45R17: 644 mm, 1964 mm). The table's
 * figures follow from it by hand; relative 1e-7: their last digit. */
static void rolling_circumference_is_3_05_outer_diameters(void **state)
{
    (void)state;
    static const struct {
        const char *code;
        double outer_mm, c_mm;
    } rows[] = {
        { "175/65R14", 583.1, 1778.4550 },
        { "195/65R15", 634.5, 1935.2250 },
        { "205/55R16", 631.9, 1927.2950 },
        { "P215/65R15", 660.5, 2014.5250 },
        { "225/45ZR17", 634.3, 1934.6150 },
        { "245/45R18", 677.7, 2066.9850 },
        { "265/70R17", 802.8, 2448.5400 },
        { "LT245/75R16", 773.9, 2360.3950 },
        { "LT275/70R18", 842.2, 2568.7100 },
        { "295/75R22.5", 1014.0, 3092.70 },
        { "315/80 R 22.5 156/150L", 1075.5, 3280.2750 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_tyre tyre;
        assert_int_equal(ht_tyre_read(&tyre, rows[i].code, NULL), HT_OK);
        assert_close_relative(tyre.outer_m, rows[i].outer_mm / 1000, 1e-7);
        assert_close_relative(tyre.circumference_m, rows[i].c_mm / 1000, 1e-7);
        assert_close(tyre.tolerance_low, -0.025, 1e-12);
        assert_close(tyre.tolerance_high, 0.015, 1e-12);
        assert_false(tyre.aspect_assumed);
    }
}

/* The published example rounds rim (431.8 -> 432) and section height (105.75
 * -> 106, twice) to whole mm before it adds: 0.7 mm in diameter, 3.05 times
 * that and half a mm in circumference. */
static void the_tyre_trades_worked_example_comes_out(void **state)
{
    (void)state;
    struct ht_tyre tyre;
    assert_int_equal(ht_tyre_read(&tyre, "235/45R17", NULL), HT_OK);
    assert_close(tyre.outer_m * 1000, 644, 0.71);
    assert_close(tyre.circumference_m * 1000, 1964, 3.05 * 0.71 + 0.5);
}

static void one_size_is_read_however_it_is_written(void **state)
{
    (void)state;
    static const char *const codes[] = {
        "205/55R16",           "205/55 R16 91V", "205/55r16",
        " 205 / 55 R 16 ",     "205/55ZR16 XL",  "205/55R16 (95Y)",
        "205/55R16C",          "205/55RF16 91W", "205/55R16 94V XL M+S",
        "205/55R16C 109/107T",
    };
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
        struct ht_tyre tyre;
        if (ht_tyre_read(&tyre, codes[i], NULL) != HT_OK)
            fail_msg("%s was refused", codes[i]);
        assert_close(tyre.circumference_m, 1.927295, 1e-9);
        assert_close(tyre.width_m, 0.205, 1e-12);
        assert_close(tyre.aspect, 0.55, 1e-12);
        assert_close(tyre.rim_m, 0.4064, 1e-12);
    }
}

/* Outer diameters from memory of the makers' size tables, new tyre; they vary
 * between makers. The code leaves the height out, so what must hold is that
 * the real figure lies in the tolerance we give. */
static void codes_without_a_height_cover_the_real_tyre(void **state)
{
    (void)state;
    static const struct {
        const char *code;
        double outer_mm;
    } rows[] = {
        { "11R22.5", 1050 },         { "12R22.5", 1084 },
        { "10R22.5", 1018 },         { "11R24.5", 1104 },
        { "7.50R16", 805 },          { "7.50R16LT", 808 },
        { "6.50R16", 748 },          { "10.00R20", 1052 },
        { "11.00 R 20", 1082 },      { "195R14C", 666 },
        { "185R14C 102/100Q", 650 }, { "11R22,5", 1050 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_tyre tyre;
        if (ht_tyre_read(&tyre, rows[i].code, NULL) != HT_OK)
            fail_msg("%s was refused", rows[i].code);
        assert_true(tyre.aspect_assumed);
        double real_m = 3.05 * rows[i].outer_mm / 1000;
        assert_in_range(real_m * 1e6,
                        tyre.circumference_m * (1 + tyre.tolerance_low) * 1e6,
                        tyre.circumference_m * (1 + tyre.tolerance_high) * 1e6);
        assert_true(tyre.tolerance_high - tyre.tolerance_low < 0.11);
    }
}

static void inch_diameter_codes_carry_their_diameter(void **state)
{
    (void)state;
    static const char *const codes[] = { "31x10.50R15", "31X10.50 R15 LT",
                                         "LT31x10.50R15 109Q",
                                         ("31\xc3\x97"
                                          "10.50R15LT") };
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
        struct ht_tyre tyre;
        if (ht_tyre_read(&tyre, codes[i], NULL) != HT_OK)
            fail_msg("%s was refused", codes[i]);
        assert_close(tyre.outer_m, 31 * 0.0254, 1e-12);
        assert_close(tyre.width_m, 10.5 * 0.0254, 1e-12);
        assert_close(tyre.circumference_m, 3.05 * 31 * 0.0254, 1e-12);
    }
}

/* 2.99 for bias-ply tyres: tyre trade figure, from memory. */
static void bias_tyres_roll_shorter(void **state)
{
    (void)state;
    struct ht_tyre radial, bias;
    assert_int_equal(ht_tyre_read(&radial, "7.50R16", NULL), HT_OK);
    assert_int_equal(ht_tyre_read(&bias, "7.50-16", NULL), HT_OK);
    assert_close(bias.outer_m, radial.outer_m, 0);
    assert_close(bias.circumference_m / bias.outer_m, 2.99, 1e-12);
}

static void what_is_no_size_is_answered_with_an_example(void **state)
{
    (void)state;
    static const char *const codes[] = {
        "",
        "big ones",
        "205/55",
        "205-55-16-4-5",
        "205/55R6",
        "55/205R16",
        "205/55R61",
        "2050/55R16",
        "205/5R16",
        "205/55R165",
        "31x10.50",
        "99x10R15",
        "11R2.5",
        "205/55R16 1V",
        "1.1R22.5",
        "205/55R16;drop",
        "205/55R16 9999999999999999999999999999999999999999999",
    };
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
        struct ht_tyre tyre;
        struct ht_error err = { 0 };
        if (ht_tyre_read(&tyre, codes[i], &err) != HT_BAD_FILE)
            fail_msg("%s was read as a tyre", codes[i]);
        assert_non_null(strstr(err.text, "205/55R16"));
        char found[48];
        snprintf(found, sizeof found, "\"%.40s\"", codes[i]);
        assert_non_null(strstr(err.text, found));
        assert_close(tyre.circumference_m, 0, 0);
    }
}

static void an_impossible_size_is_answered_with_the_number_that_is_off(
    void **state)
{
    (void)state;
    static const struct {
        const char *code, *piece;
    } rows[] = {
        { "205/55R61", "on a rim of 61 inches" },
        { "55/205R16", "would be 55 mm wide; wanted" },
        { "555/55R16", "would be 555 mm wide; wanted are 105 to 455 mm" },
        { "205/5R16", "would be 5 percent as high as it is wide" },
        { "99x10R15", "would be 99 inches across; wanted are 20 to 50" },
        { "31x35R15", "would be 35 inches wide; wanted are 4 to 20" },
        { "21x10R20", "would be 21 inches across on a rim of 20 inches" },
        { "1.1R22.5", "would be 1.1 inches wide" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_tyre tyre;
        struct ht_error err = { 0 };
        assert_int_equal(ht_tyre_read(&tyre, rows[i].code, &err), HT_BAD_FILE);
        if (!strstr(err.text, rows[i].piece))
            fail_msg("%s: %s", rows[i].code, err.text);
    }
}

/* Sizes bent at random, and plain rubbish: either refused with the example, or
 * read as a wheel that a road vehicle can have (0.9 m: 10 inch rim; 5 m: a
 * 50 inch tyre is 3.9). */
static void rubbish_is_never_read_as_an_impossible_wheel(void **state)
{
    (void)state;
    static const char *const seeds[] = { "205/55R16 91V", "315/80R22.5",
                                         "31x10.50R15", "7.50-16", "11R22.5" };
    static const char alphabet[] = "0123456789./-xXRrCLTzZ ,()\xc3\x97";
    struct random_source source = { 20261124 };
    size_t read = 0;
    for (int i = 0; i < 20000; i++) {
        char code[64];
        strcpy(code, seeds[random_bits(&source) % 5]);
        for (uint64_t k = random_bits(&source) % 4; k < 4; k++)
            code[random_bits(&source) % strlen(code)] =
                alphabet[random_bits(&source) % (sizeof alphabet - 1)];
        struct ht_tyre tyre;
        struct ht_error err = { 0 };
        if (ht_tyre_read(&tyre, code, &err) != HT_OK) {
            assert_non_null(strstr(err.text, "205/55R16"));
            continue;
        }
        read++;
        assert_true(tyre.circumference_m > 0.9 && tyre.circumference_m < 5);
        assert_true(tyre.tolerance_low < 0 && tyre.tolerance_high > 0);
    }
    assert_true(read > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rolling_circumference_is_3_05_outer_diameters),
        cmocka_unit_test(the_tyre_trades_worked_example_comes_out),
        cmocka_unit_test(one_size_is_read_however_it_is_written),
        cmocka_unit_test(codes_without_a_height_cover_the_real_tyre),
        cmocka_unit_test(inch_diameter_codes_carry_their_diameter),
        cmocka_unit_test(bias_tyres_roll_shorter),
        cmocka_unit_test(what_is_no_size_is_answered_with_an_example),
        cmocka_unit_test(
            an_impossible_size_is_answered_with_the_number_that_is_off),
        cmocka_unit_test(rubbish_is_never_read_as_an_impossible_wheel),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
