/* tyre.c - tyre codes. The rule, the assumed heights and their sources stand
 * in docs/rotation.md. */
#include "texts.h"

#include "halfturn/number.h"
#include "halfturn/rotation.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Rolling circumference over outer diameter: tyre trade figures. */
#define RADIAL_RULE 3.05
#define BIAS_RULE 2.99
#define USUAL_LOW (-0.025)
#define USUAL_HIGH 0.015

struct size {
    double first, second, rim_in; /* width or diameter; aspect or width */
    bool has_second, has_times, inch_width, bias, dash;
};

/* Height over width where the code leaves it out, and how far real tyres lie
 * from it in outer diameter (from memory of the makers' size tables). */
static const struct assumed {
    const char *what;
    double aspect, spread;
} assumed_metric = { "195R14C", 0.82, 0.015 },
  assumed_tubeless = { "11R22.5", 0.86, 0.02 },
  assumed_tubed = { "7.50R16", 1.05, 0.03 };

/* Upper case, comma to point, U+00D7 to X, blanks dropped. */
static void normalise(const char *code, char *plain, size_t room)
{
    size_t n = 0;
    for (const char *c = code; *c && n + 1 < room; c++) {
        if (*c == ' ' || *c == '\t')
            continue;
        if (c[0] == '\xc3' && c[1] == '\x97') {
            plain[n++] = 'X';
            c++;
        } else if (*c == ',') {
            plain[n++] = '.';
        } else {
            plain[n++] = *c >= 'a' && *c <= 'z' ? (char)(*c - 32) : *c;
        }
    }
    plain[n] = '\0';
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Up to `digits` digits before the point and `decimals` after it. */
static bool take_number(const char **at, size_t digits, size_t decimals,
                        double *value)
{
    size_t n = 0;
    while (n < digits && is_digit((*at)[n]))
        n++;
    if (n == 0)
        return false;
    if (decimals > 0 && (*at)[n] == '.' && is_digit((*at)[n + 1])) {
        size_t end = n + 1 + decimals;
        for (n++; n < end && is_digit((*at)[n]);)
            n++;
    }
    bool fine = ht_number_read(*at, n, value) == HT_NUMBER_FINE;
    *at += n;
    return fine;
}

static void take_prefix(const char **at)
{
    static const char *const prefixes[] = { "LT", "ST", "P", "T" };
    for (size_t i = 0; i < sizeof prefixes / sizeof prefixes[0]; i++) {
        size_t length = strlen(prefixes[i]);
        if (strncmp(*at, prefixes[i], length) == 0) {
            *at += length;
            return;
        }
    }
}

/* The letter or dash between the width and the rim. */
static bool take_build(const char **at, struct size *size)
{
    static const struct {
        const char *text;
        bool bias, dash;
    } builds[] = { { "ZRF", false, false }, { "ZR", false, false },
                   { "RF", false, false },  { "R", false, false },
                   { "D", true, false },    { "B", true, false },
                   { "-", true, true } };
    for (size_t i = 0; i < sizeof builds / sizeof builds[0]; i++) {
        size_t length = strlen(builds[i].text);
        if (strncmp(*at, builds[i].text, length) == 0) {
            *at += length;
            size->bias = builds[i].bias;
            size->dash = builds[i].dash;
            return true;
        }
    }
    return false;
}

/* What may follow the rim: nothing, letters (C, LT, XL, M+S), or a load index
 * with its speed letter (94V, 156/150L, (95Y)). */
static bool rest_is_fine(const char *rest)
{
    const char *at = rest;
    while ((*at >= 'A' && *at <= 'Z') || *at == '(')
        at++;
    for (int i = 0; i < 2 && is_digit(*at); i++) {
        size_t digits = strspn(at, "0123456789");
        if (digits < 2 || digits > 3)
            return false;
        at += digits;
        if (*at == '/')
            at++;
        else if (*at < 'A' || *at > 'Y')
            return false;
    }
    return strspn(at, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789+()/") == strlen(at);
}

static bool scan(const char *at, struct size *size)
{
    *size = (struct size){ 0 };
    take_prefix(&at);
    const char *start = at;
    if (!take_number(&at, 3, 2, &size->first))
        return false;
    size->inch_width = at - start != 3 || start[1] == '.' || start[2] == '.';
    if (*at == '/' || *at == 'X') {
        size->has_times = *at == 'X';
        size->has_second = true;
        at++;
        if (!take_number(&at, 3, 2, &size->second))
            return false;
    }
    return take_build(&at, size) && take_number(&at, 2, 1, &size->rim_in) &&
           rest_is_fine(at);
}

/* What the numbers of each form may be. They are width and height; width;
 * width; outer diameter and width. */
enum form { METRIC, METRIC_SHORT, INCH_WIDTH, INCH_DIAMETER };

static const struct plausible {
    double first_low, first_high, second_low, second_high;
} plausible[] = {
    [METRIC] = { 105, 455, 20, 105 },
    [METRIC_SHORT] = { 105, 335, 0, 0 },
    [INCH_WIDTH] = { 4, 20, 0, 0 },
    [INCH_DIAMETER] = { 20, 50, 4, 20 },
};

static enum form form_of(const struct size *size)
{
    if (size->has_times)
        return INCH_DIAMETER;
    if (size->has_second)
        return METRIC;
    return size->inch_width ? INCH_WIDTH : METRIC_SHORT;
}

static enum ht_status first_is_off(const struct size *size, const char *code,
                                   struct ht_error *err)
{
    const struct plausible *p = &plausible[form_of(size)];
    switch (form_of(size)) {
    case INCH_DIAMETER:
        return ht_fail(err, ROTATION_OUTER_OFF, code, size->first,
                       p->first_low, p->first_high);
    case INCH_WIDTH:
        return ht_fail(err, ROTATION_WIDTH_INCH_OFF, code, size->first,
                       p->first_low, p->first_high);
    default:
        return ht_fail(err, ROTATION_WIDTH_MM_OFF, code, size->first,
                       p->first_low, p->first_high);
    }
}

static enum ht_status second_is_off(const struct size *size, const char *code,
                                    struct ht_error *err)
{
    const struct plausible *p = &plausible[form_of(size)];
    if (size->has_times)
        return ht_fail(err, ROTATION_WIDTH_INCH_OFF, code, size->second,
                       p->second_low, p->second_high);
    return ht_fail(err, ROTATION_HEIGHT_OFF, code, size->second, p->second_low,
                   p->second_high);
}

/* Refuses a size that has the right form and impossible numbers. */
static enum ht_status check_size(const struct size *size, const char *code,
                                 struct ht_error *err)
{
    const struct plausible *p = &plausible[form_of(size)];
    if (size->rim_in < 10 || size->rim_in > 26)
        return ht_fail(err, ROTATION_RIM_OFF, code, size->rim_in);
    if (size->first < p->first_low || size->first > p->first_high)
        return first_is_off(size, code, err);
    if (size->second < p->second_low || size->second > p->second_high)
        return second_is_off(size, code, err);
    if (size->has_times && size->first < size->rim_in + 4)
        return ht_fail(err, ROTATION_RIM_AS_LARGE, code, size->first,
                       size->rim_in);
    return HT_OK;
}

static void assume_height(struct ht_tyre *tyre, const struct assumed *rule)
{
    tyre->aspect = rule->aspect;
    tyre->aspect_assumed = true;
    tyre->tolerance_low -= rule->spread;
    tyre->tolerance_high += rule->spread;
}

/* Width, height and outer diameter, by the form of the code. */
static void work_out_section(struct ht_tyre *tyre, const struct size *size)
{
    tyre->width_m = size->first * 0.001;
    switch (form_of(size)) {
    case METRIC:
        tyre->aspect = size->second / 100;
        break;
    case METRIC_SHORT:
        assume_height(tyre, &assumed_metric);
        break;
    case INCH_WIDTH:
        tyre->width_m = size->first * HT_M_PER_INCH;
        assume_height(tyre, fmod(size->rim_in, 1) != 0 ? &assumed_tubeless
                                                       : &assumed_tubed);
        break;
    case INCH_DIAMETER:
        tyre->width_m = size->second * HT_M_PER_INCH;
        tyre->aspect =
            (size->first - size->rim_in) / 2 * HT_M_PER_INCH / tyre->width_m;
        tyre->tolerance_low -= 0.015; /* real ones are smaller than marked */
        break;
    }
    tyre->outer_m = tyre->rim_m + 2 * tyre->width_m * tyre->aspect;
}

static void work_out(struct ht_tyre *tyre, const struct size *size)
{
    tyre->tolerance_low = USUAL_LOW;
    tyre->tolerance_high = USUAL_HIGH;
    tyre->rim_m = size->rim_in * HT_M_PER_INCH;
    work_out_section(tyre, size);
    double rule = size->bias ? BIAS_RULE : RADIAL_RULE;
    if (size->dash && form_of(size) == METRIC) {
        rule = RADIAL_RULE; /* 205/55-16: most people mean a radial */
        tyre->tolerance_low -= 1 - BIAS_RULE / RADIAL_RULE;
    }
    tyre->circumference_m = rule * tyre->outer_m;
}

enum ht_status ht_tyre_read(struct ht_tyre *tyre, const char *code,
                            struct ht_error *err)
{
    *tyre = (struct ht_tyre){ 0 };
    char plain[48] = "";
    struct size size;
    normalise(code, plain, sizeof plain);
    if (strlen(code) > 40 || !scan(plain, &size))
        return ht_fail(err, ROTATION_NO_TYRE_SIZE, code);
    enum ht_status status = check_size(&size, code, err);
    if (status == HT_OK)
        work_out(tyre, &size);
    return status;
}
