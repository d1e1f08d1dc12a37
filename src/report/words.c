#include "words.h"

#include "common/constants.h"
#include "markup.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

static const struct likelihood_word likelihoods[] = {
    { 95, "almost certain" }, { 80, "very likely" }, { 60, "likely" },
    { 40, "even" },           { 25, "less likely" }, { 5, "unlikely" },
    { 0, "hardly" },
};

const struct likelihood_word *likelihood_words(size_t *count)
{
    *count = sizeof likelihoods / sizeof *likelihoods;
    return likelihoods;
}

int in_100(double probability)
{
    double hundred = isfinite(probability) ? round(100 * probability) : 1;
    return (int)fmin(fmax(hundred, 1), 99);
}

int verdict_in_100(const struct ht_limit_verdict *verdict)
{
    int hundred = in_100(verdict->probability_over);
    if (verdict->verdict != HT_VERDICT_OPEN)
        return hundred;
    return hundred < 6 ? 6 : hundred > 94 ? 94 : hundred;
}

const char *likelihood_word(double probability)
{
    size_t i = 0;
    while (in_100(probability) < likelihoods[i].from)
        i++;
    return likelihoods[i].word;
}

const char *verdict_word(enum ht_verdict verdict)
{
    static const char *const words[] = {
        [HT_VERDICT_NONE] = "no verdict", [HT_VERDICT_OVER] = "over",
        [HT_VERDICT_UNDER] = "under",     [HT_VERDICT_WITHIN] = "within",
        [HT_VERDICT_OPEN] = "can\342\200\231t tell",
    };
    return words[verdict];
}

const char *verdict_disc(enum ht_verdict verdict)
{
    static const char *const classes[] = {
        [HT_VERDICT_NONE] = "none",  [HT_VERDICT_OVER] = "full",
        [HT_VERDICT_UNDER] = "full", [HT_VERDICT_WITHIN] = "empty",
        [HT_VERDICT_OPEN] = "half",
    };
    return classes[verdict];
}

const char *state_word(enum ht_order_state state)
{
    static const char *const words[] = {
        [HT_COULD_NOT_BE_SEEN] = "could not be seen",
        [HT_NOT_SEEN] = "not seen", [HT_SEEN] = "seen",
    };
    return words[state];
}

const char *family_class(enum ht_family family)
{
    static const char *const classes[] = {
        [HT_FAMILY_WHEEL] = "wheel", [HT_FAMILY_SHAFT] = "shaft",
        [HT_FAMILY_ENGINE] = "engine", [HT_FAMILY_OTHER] = "other",
    };
    return classes[family];
}

const char *place_word(enum ht_place place)
{
    static const char *const words[] = {
        [HT_PLACE_UNKNOWN] = "place not said",
        [HT_PLACE_SEAT_RAIL] = "seat rail", [HT_PLACE_FLOOR] = "floor",
        [HT_PLACE_STEERING_WHEEL] = "steering wheel",
        [HT_PLACE_DASH] = "dash", [HT_PLACE_OTHER] = "other place",
    };
    return words[place];
}

static void put_digits(struct ht_text *out, const char *digits)
{
    if (*digits == '-') {
        ht_text_add(out, MINUS);
        digits++;
    }
    ht_text_add(out, digits);
}

void put_number(struct ht_text *out, double value, int decimals)
{
    char buffer[400];
    ht_format_number(buffer, sizeof buffer, value, decimals);
    put_digits(out, buffer);
}

void put_significant(struct ht_text *out, double value, int digits)
{
    char buffer[64];
    ht_format_significant(buffer, sizeof buffer, value, digits);
    put_digits(out, buffer);
}

void put_short(struct ht_text *out, double value)
{
    char buffer[64];
    ht_format_significant(buffer, sizeof buffer, value, 2);
    size_t length = strlen(buffer);
    while (strchr(buffer, '.') && !strchr(buffer, 'e') &&
           (buffer[length - 1] == '0' || buffer[length - 1] == '.'))
        buffer[--length] = '\0';
    put_digits(out, buffer);
}

void put_degrees(struct ht_text *out, double rad, int decimals)
{
    put_number(out, rad * HT_DEG_PER_RAD, decimals);
    ht_text_add(out, DEGREE);
}

void put_speed(struct ht_text *out, double m_s)
{
    put_number(out, m_s * HT_KM_H_PER_M_S, 0);
    ht_text_add(out, NBSP "km/h");
}

/* Both halves of the range alike within a tenth: one number says them. */
static bool is_even_range(const struct ht_estimate *e)
{
    double below = e->value - e->low, above = e->high - e->value;
    return fabs(above - below) <= 0.1 * (above + below);
}

static void put_range(struct ht_text *out, const struct ht_estimate *e,
                      double factor, int decimals, const char *unit)
{
    put_number(out, e->value * factor, decimals);
    if (!isfinite(e->low) || !isfinite(e->high)) {
        ht_text_add(out, unit);
        return;
    }
    bool even = is_even_range(e);
    bool sign_unit = strcmp(unit, DEGREE) == 0;
    if (sign_unit)
        ht_text_add(out, unit);
    ht_text_add(out, even ? NBSP PLUS_MINUS NBSP : NBSP "(");
    put_number(out, (even ? (e->high - e->low) / 2 : e->low) * factor,
               decimals);
    if (sign_unit)
        ht_text_add(out, unit);
    if (!even) {
        ht_text_add(out, " to" NBSP);
        put_number(out, e->high * factor, decimals);
        ht_text_add(out, sign_unit ? DEGREE ")" : ")");
    }
    if (!sign_unit)
        ht_text_add(out, unit);
}

void put_angle_range(struct ht_text *out, const struct ht_estimate *rad)
{
    put_range(out, rad, HT_DEG_PER_RAD, 2, DEGREE);
}

void put_rate_range(struct ht_text *out, const struct ht_estimate *rad_s2)
{
    double half = (rad_s2->high - rad_s2->low) / 2;
    double ten = half >= 20 && rad_s2->value >= 100 ? 10 : 1;
    struct ht_estimate rounded = {
        ten * round(rad_s2->value / ten), rad_s2->u,
        ten * round(rad_s2->low / ten), ten * round(rad_s2->high / ten)
    };
    put_range(out, &rounded, 1, 0, NBSP "rad/s\302\262");
}

void put_level(struct ht_text *out, const struct ht_level *level)
{
    put_significant(out, level->value, 2);
    ht_text_add(out, " (");
    put_significant(out, level->low, 2);
    ht_text_add(out, " to" NBSP);
    put_significant(out, level->high, 2);
    ht_text_add(out, ")");
}

const char *unit_text(const char *unit)
{
    return strcmp(unit, "m/s2") == 0 ? "m/s\302\262" : unit;
}

void capital(struct ht_text *out, size_t from)
{
    if (out->bytes && from < out->length)
        out->bytes[from] = (char)toupper((unsigned char)out->bytes[from]);
}

void small_letter(struct ht_text *out, size_t from)
{
    if (out->bytes && from + 1 < out->length &&
        (islower((unsigned char)out->bytes[from + 1]) ||
         out->bytes[from + 1] == ' '))
        out->bytes[from] = (char)tolower((unsigned char)out->bytes[from]);
}

void put_order_name(struct ht_text *out, const char *name)
{
    struct ht_text clean = { 0 };
    clean_text(&clean, name);
    for (const char *p = ht_text_get(&clean); *p; p++)
        if (*p == ' ')
            ht_text_add(out, NBSP);
        else
            ht_text_add_bytes(out, p, 1);
    ht_text_end(out, &clean);
}
