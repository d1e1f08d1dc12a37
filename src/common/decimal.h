/* decimal.h - plain decimal numbers, read eight digits at a time.
 *
 * Every double is the one that lies nearest to the digits, ties to even, as
 * strtod gives it:
 * - up to 2^53 times or over a power of ten up to 10^22 both are exact, so
 *   one operation rounds once (W. D. Clinger, How to read floating point
 *   numbers accurately, PLDI 1990);
 * - up to 2^64 over a power of ten up to 10^19 is divided as whole numbers,
 *   with more digits than a double holds and a last one that stands for the
 *   rest.
 * Whatever is neither is left to a slower reader. Inline, because tables hold
 * millions of numbers and the call would cost as much as the digits.
 */
#ifndef HALFTURN_COMMON_DECIMAL_H
#define HALFTURN_COMMON_DECIMAL_H

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Bytes that must be readable behind a text, whatever they hold; the first
 * of them is no digit. */
enum { HT_DECIMAL_BEHIND = 8 };

enum { HT_DECIMAL_EXACT_POWER = 22, HT_DECIMAL_WHOLE_POWER = 19 };

static const double ht_power_of_ten[] = {
    1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
    1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22
};

static const uint64_t ht_whole_power_of_ten[] = {
    1u, 10u, 100u, 1000u, 10000u, 100000u, 1000000u, 10000000u, 100000000u,
    1000000000u, 10000000000u, 100000000000u, 1000000000000u,
    10000000000000u, 100000000000000u, 1000000000000000u,
    10000000000000000u, 100000000000000000u, 1000000000000000000u,
    10000000000000000000u
};

/* Eight bytes, the first one lowest; compilers make one load of it. */
static inline uint64_t ht_decimal_bytes(const char *at)
{
    const unsigned char *b = (const unsigned char *)at;
    return (uint64_t)b[0] | (uint64_t)b[1] << 8 | (uint64_t)b[2] << 16 |
           (uint64_t)b[3] << 24 | (uint64_t)b[4] << 32 |
           (uint64_t)b[5] << 40 | (uint64_t)b[6] << 48 |
           (uint64_t)b[7] << 56;
}

/* Puts the digits at `at`, eight at most, behind those in *number; returns
 * how many. Pairs, fours and eights of digits are joined side by side. */
static inline size_t ht_decimal_eight(const char *at, uint64_t *number)
{
    uint64_t digit = ht_decimal_bytes(at) ^ 0x3030303030303030u;
    uint64_t other = ((digit + 0x0606060606060606u) | digit) &
                     0xf0f0f0f0f0f0f0f0u;
    size_t n = other ? (size_t)__builtin_ctzll(other) / 8 : 8;
    digit = n ? digit << (64 - 8 * n) : 0; /* noughts before them */
    digit = digit * 10 + (digit >> 8);
    digit = ((digit & 0x000000ff000000ffu) * 0x000f424000000064u +
             (digit >> 16 & 0x000000ff000000ffu) * 0x0000271000000001u) >> 32;
    *number = *number * ht_whole_power_of_ten[n] + digit;
    return n;
}

/* Moves *at behind the digits there; returns how many, 24 at most. */
static inline size_t ht_decimal_digits(const char **at, uint64_t *number)
{
    size_t n = ht_decimal_eight(*at, number), all = n;
    *at += n;
    while (n == 8 && all < 24) {
        n = ht_decimal_eight(*at, number);
        *at += n;
        all += n;
    }
    return all;
}

/* The same for the digits before a mark: mostly one or two, and guessed right
 * by the processor, which need not wait for their count then. */
static inline size_t ht_decimal_few(const char **at, uint64_t *number)
{
    const char *from = *at;
    for (size_t n = 0; n < 4; n++, ++*at) {
        unsigned digit = (unsigned)((unsigned char)**at - '0');
        if (digit > 9)
            return n;
        *number = *number * 10 + digit;
    }
    return (size_t)(*at - from) + ht_decimal_digits(at, number);
}

/* e-05 and the like; nothing is 0. False: an e without digits, or more of
 * them than any number has. */
static inline bool ht_decimal_exponent(const char **at, int *exponent)
{
    uint64_t number = 0;
    *exponent = 0;
    if ((**at | 0x20) != 'e')
        return true;
    const char sign = (*at)[1];
    *at += sign == '-' || sign == '+' ? 2 : 1;
    size_t n = ht_decimal_digits(at, &number);
    if (n < 1 || n > 4)
        return false;
    *exponent = sign == '-' ? -(int)number : (int)number;
    return true;
}

#ifdef __SIZEOF_INT128__
/* number / 10^power to the nearest double: both are shifted up to 64 bits, so
 * that the quotient has at least 62 and its lowest bit can hold the rest. */
static inline bool ht_decimal_quotient(uint64_t number, int power,
                                       double *value)
{
    __extension__ typedef unsigned __int128 wide;
    uint64_t divisor = ht_whole_power_of_ten[power];
    int up = __builtin_clzll(number), divisor_up = __builtin_clzll(divisor);
    wide dividend = (wide)(number << up) << 63;
    divisor <<= divisor_up;
    uint64_t quotient = (uint64_t)(dividend / divisor);
    quotient |= (wide)quotient * divisor != dividend;
    *value = ldexp((double)quotient, divisor_up - up - 63);
    return true;
}
#else
static inline bool ht_decimal_quotient(uint64_t number, int power,
                                       double *value)
{
    (void)number;
    (void)power;
    (void)value;
    return false;
}
#endif

/* number * 10^power to the nearest double. False: not by these ways. */
static inline bool ht_decimal_join(uint64_t number, int power, double *value)
{
    const int most = HT_DECIMAL_EXACT_POWER;
    if (FLT_EVAL_METHOD != 0) /* wider registers would round twice */
        return false;
    if (number <= (uint64_t)1 << 53 && power <= most && power >= -most) {
        double whole = (double)(int64_t)number;
        *value = power < 0 ? whole / ht_power_of_ten[-power]
                           : whole * ht_power_of_ten[power];
        return true;
    }
    return number > 0 && power <= 0 && power >= -HT_DECIMAL_WHOLE_POWER &&
           ht_decimal_quotient(number, -power, value);
}

/* Reads [-] digits [mark digits] [e [+-] digits]; returns what stands behind,
 * or NULL when it is no such number or not one that these ways can read: that
 * says nothing about the text. */
static inline const char *ht_decimal_scan(const char *at, char mark,
                                          double *value)
{
    uint64_t number = 0;
    size_t part = 0;
    int exponent;
    double size;
    bool negative = *at == '-';
    at += negative;
    size_t nought = *at == '0';
    size_t whole = ht_decimal_few(&at, &number);
    if (*at == mark) {
        at++;
        part = ht_decimal_digits(&at, &number);
    }
    /* 19 digits fit 64 bits, and one nought before them */
    if (whole + part == 0 || whole + part > 19 + nought ||
        !ht_decimal_exponent(&at, &exponent) ||
        !ht_decimal_join(number, exponent - (int)part, &size))
        return NULL;
    *value = negative ? -size : size;
    return at;
}

#endif
