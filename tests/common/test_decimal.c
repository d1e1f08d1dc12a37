/* The quick reader of plain numbers against the C library's: the same double,
 * bit for bit, or no answer. */
#include "close.h"
#include "random.h"

#include "common/decimal.h"
#include "halfturn/number.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROOM = 64 };

static size_t below(struct random_source *random, size_t n)
{
    return (size_t)(random_bits(random) % n);
}

static void add_digits(char *text, struct random_source *random, size_t most)
{
    size_t n = strlen(text), count = below(random, most + 1);
    while (count-- > 0)
        text[n++] = (char)('0' + below(random, 10));
    text[n] = '\0';
}

/* Signs, leading noughts, up to 12 digits before and 14 behind the point,
 * every fourth with an exponent: most of what tables hold, and more. */
static void write_number(char *text, struct random_source *random)
{
    text[0] = '\0';
    if (below(random, 3) == 0)
        strcat(text, "-");
    if (below(random, 4) == 0)
        strcat(text, "0");
    add_digits(text, random, 12);
    if (below(random, 5) > 0) {
        strcat(text, ".");
        if (below(random, 4) == 0)
            strcat(text, "000");
        add_digits(text, random, 14);
    }
    if (below(random, 4) == 0) {
        strcat(text, below(random, 2) ? "e" : "E");
        if (below(random, 3) > 0)
            strcat(text, below(random, 2) ? "-" : "+");
        add_digits(text, random, 2);
    }
}

static bool same(double a, double b)
{
    return memcmp(&a, &b, sizeof a) == 0;
}

/* Whole when it ends where the text ends and strtod agrees; "nothing read" is
 * allowed for any text. Returns whether it was read. */
static bool is_read_as_strtod_reads_it(const char *text)
{
    char padded[ROOM + HT_DECIMAL_BEHIND] = "";
    char *end;
    double value = -99;
    (void)snprintf(padded, ROOM, "%s", text);
    const char *behind = ht_decimal_scan(padded, '.', &value);
    double wanted = strtod(padded, &end);
    if (!behind)
        return false;
    if (behind != end || !same(value, wanted))
        fail_msg("'%s' is read as %.17g (to %td), strtod reads %.17g (to "
                 "%td)", text, value, behind - padded, wanted, end - padded);
    return true;
}

static void numbers_are_read_as_strtod_reads_them(void **state)
{
    (void)state;
    enum { MANY = 400000 };
    struct random_source random = { 7 };
    char text[ROOM];
    size_t read = 0;
    for (int i = 0; i < MANY; i++) {
        write_number(text, &random);
        read += is_read_as_strtod_reads_it(text);
    }
    printf("seed 7: %zu of %d numbers read the quick way\n", read, MANY);
    /* the rest are no numbers, or need more than 19 digits or powers */
    assert_true(read > MANY * 6 / 10);
}

/* Every double that is written with 17 digits comes back: no table of
 * measurements is worse. */
static void seventeen_digits_give_back_every_double(void **state)
{
    (void)state;
    struct random_source random = { 8 };
    char text[ROOM];
    size_t read = 0, many = 200000;
    for (size_t i = 0; i < many; i++) {
        double value = ldexp(random_uniform(&random, -1, 1),
                             (int)below(&random, 14) - 3);
        (void)snprintf(text, sizeof text, "%.17g", value);
        read += is_read_as_strtod_reads_it(text);
    }
    assert_true(read > many * 95 / 100);
}

/* On, just below and just above the middle between two doubles. 2^53 + 1 and
 * 2^63 + 2^10 lie in the middle: the even neighbour is the nearest. */
static void ties_go_to_the_even_neighbour(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "9007199254740993",     "9007199254740992.5",  "9007199254740993.5",
        "9223372036854776832",  "9223372036854776833", "9223372036854776831",
        "900719925474099.3",    "0.9007199254740993",  "4503599627370496.5",
        "4503599627370497.5",   "4503599627370496.501", "450359962737049.65",
        "0.1",                  "0.3",                 "-0.0",
        "9999999999999999999",  "0.9999999999999999999", "1e22",
        "1e-22",                "123456789012345678e-19", "0.000333",
        "1764032471.123456789", "1764032471123456789",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        if (!is_read_as_strtod_reads_it(texts[i]))
            fail_msg("'%s' is not read", texts[i]);
}

static void what_is_no_plain_number_is_left_alone(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "",     "-",     ".",    "-.",  "+1",  "e5",     ".e5", "1e",
        "1e+",  "nan",   "inf",  " 1",  "#1",  "1e99999", "x",  "--1",
        "12345678901234567890", "1e23", "0.12345678901234567890",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        char padded[ROOM] = "";
        double value = 5;
        (void)snprintf(padded, sizeof padded, "%s", texts[i]);
        if (ht_decimal_scan(padded, '.', &value))
            fail_msg("'%s' is read as %g", texts[i], value);
    }
}

/* Both readers behind one door: what the quick one leaves, the other reads. */
static void the_door_gives_strtods_double_for_every_length(void **state)
{
    (void)state;
    char text[ROOM] = "0.";
    for (size_t n = 2; n < 60; n++) {
        text[n] = (char)('1' + n * 7 % 9);
        double value = 0;
        assert_int_equal(ht_number_read(text, n + 1, &value), HT_NUMBER_FINE);
        assert_true(same(value, strtod(text, NULL)));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_as_strtod_reads_them),
        cmocka_unit_test(seventeen_digits_give_back_every_double),
        cmocka_unit_test(ties_go_to_the_even_neighbour),
        cmocka_unit_test(what_is_no_plain_number_is_left_alone),
        cmocka_unit_test(the_door_gives_strtods_double_for_every_length),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
