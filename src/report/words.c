#include "words.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

static const struct likelihood_word likelihoods[] = {
    { 95, "almost certain", "Almost certain" },
    { 80, "very likely", "Very likely" },
    { 60, "likely", "Likely" },
    { 40, "even", "Even" },
    { 25, "less likely", "Less likely" },
    { 5, "unlikely", "Unlikely" },
    { 0, "hardly", "Hardly" },
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

bool verdict_has_chance(const struct ht_limit_verdict *verdict)
{
    double p = verdict->probability_over;
    return verdict->verdict != HT_VERDICT_OPEN || (p > 0.05 && p < 0.95);
}

bool verdict_from_side(const struct ht_limit_verdict *verdict)
{
    bool is_larger = (verdict->probability_over > 0.5) != verdict->is_minimum;
    return !verdict_has_chance(verdict) && !is_larger;
}

static const struct likelihood_word *likelihood_of(double probability)
{
    size_t i = 0;
    while (in_100(probability) < likelihoods[i].from)
        i++;
    return &likelihoods[i];
}

const char *likelihood_word(double probability)
{
    return likelihood_of(probability)->word;
}

const char *likelihood_first_word(double probability)
{
    return likelihood_of(probability)->first_word;
}

const char *verdict_word(enum ht_verdict verdict)
{
    static const char *const words[] = {
        [HT_VERDICT_NONE] = "no verdict", [HT_VERDICT_OVER] = "over",
        [HT_VERDICT_UNDER] = "under",     [HT_VERDICT_WITHIN] = "within",
        [HT_VERDICT_OPEN] = "can’t tell",
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

const char *unit_text(const char *unit)
{
    return strcmp(unit, "m/s2") == 0 ? "m/s²" : unit;
}

void capital(struct ht_text *out, size_t from)
{
    if (out->bytes && from < out->length)
        out->bytes[from] = (char)toupper((unsigned char)out->bytes[from]);
}
