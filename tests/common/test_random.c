/* The library's generator against published outputs. */
#include "close.h"

#include "common/random.h"

/* Rosetta Code, task "Pseudo-random numbers/Splitmix64", seed 1234567; the one
 * of seed 0 from memory. */
static void the_first_numbers_are_the_published_ones(void **state)
{
    (void)state;
    static const uint64_t wanted[] = { UINT64_C(6457827717110365317),
                                       UINT64_C(3203168211198807973),
                                       UINT64_C(9817491932198370423),
                                       UINT64_C(4593380528125082431),
                                       UINT64_C(16408922859458223821) };
    uint64_t from = 1234567, none = 0;
    for (int i = 0; i < 5; i++)
        assert_true(ht_random_bits(&from) == wanted[i]);
    assert_true(ht_random_bits(&none) == UINT64_C(0xe220a8397b1dcdaf));
}

/* The same task, seed 987654321: how many of 100 000 shares fall into each
 * fifth. */
static void shares_fall_as_often_as_published(void **state)
{
    (void)state;
    static const int wanted[] = { 20027, 19892, 20073, 19978, 20030 };
    int fell[5] = { 0 };
    uint64_t from = 987654321;
    for (int i = 0; i < 100000; i++) {
        double share = ht_random_share(&from);
        assert_true(share >= 0 && share < 1);
        fell[(int)(5 * share)]++;
    }
    for (int i = 0; i < 5; i++)
        assert_int_equal(fell[i], wanted[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_numbers_are_the_published_ones),
        cmocka_unit_test(shares_fall_as_often_as_published),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
