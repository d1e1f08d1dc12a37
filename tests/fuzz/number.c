/* Numbers, degrees and minutes, keys with units. The first byte says which
 * unit; the rest is the text. */
#include "harness.h"

#include "document/quantity.h"
#include "halfturn/number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The C library reads the same value from whatever is accepted. */
static void must_agree(const char *text, size_t length, char mark,
                       double value)
{
    char plain[80];
    size_t at = 0;
    FUZZ_DEMAND(length < sizeof plain);
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)text[i] == 0xe2 && i + 2 < length) {
            plain[at++] = '-'; /* U+2212 */
            i += 2;
        } else {
            plain[at++] = text[i] == mark ? '.' : text[i];
        }
    plain[at] = '\0';
    char *end;
    FUZZ_DEMAND(isfinite(value));
    FUZZ_DEMAND(strtod(plain, &end) == value);
    FUZZ_DEMAND(*end == '\0' && end != plain);
}

static void read_mark(const char *text, size_t length, char mark)
{
    double value = 12345;
    enum ht_number_problem problem =
        ht_number_read_mark(text, length, mark, &value);
    FUZZ_DEMAND(problem < HT_NUMBER_PROBLEMS);
    if (problem == HT_NUMBER_FINE)
        must_agree(text, length, mark, value);
    else
        FUZZ_DEMAND(value == 12345);
}

static void read_degrees(const char *text, size_t length)
{
    double degrees = 12345;
    enum ht_number_problem problem =
        ht_number_read_degrees(text, length, &degrees);
    FUZZ_DEMAND(problem < HT_NUMBER_PROBLEMS);
    FUZZ_DEMAND(problem == HT_NUMBER_FINE ? isfinite(degrees)
                                          : degrees == 12345);
}

/* What is written in a unit comes back as the same SI value. */
static void convert(unsigned char which, double value)
{
    const struct quantity *quantity =
        ht_quantity_of((enum ht_quantity)(which / UNITS_MAX % HT_QUANTITIES));
    const struct unit *first = &quantity->unit[0];
    const struct unit *unit = &quantity->unit[which % UNITS_MAX];
    char text[40];
    if (!unit->ending)
        unit = first;
    double si = ht_quantity_to_si(value, unit);
    /* beyond, the product is no longer a normal number */
    if (!(fabs(value) < 1e300) || (fabs(value) < 1e-300 && value != 0))
        return;
    FUZZ_DEMAND(isfinite(si));
    FUZZ_DEMAND(ht_quantity_to_si(si / first->factor, first) == si);
    ht_quantity_format(text, sizeof text, value);
    FUZZ_DEMAND(memchr(text, '\0', sizeof text) && text[0] != '\0');
}

static void read_key(const char *text, size_t length)
{
    char key[72], other[80]; /* the longest ending has room */
    if (length >= sizeof key)
        return;
    memcpy(key, text, length);
    key[length] = '\0';
    for (size_t q = 0; q < HT_QUANTITIES; q++) {
        struct ht_row row = { .key = key, .quantity = (enum ht_quantity)q };
        for (size_t u = 0; u <= UNITS_MAX; u++)
            if (ht_quantity_key(&row, u, other, sizeof other))
                FUZZ_DEMAND(ht_quantity_find(&row, other) == u);
    }
}

static void read_all(const char *bytes, size_t length)
{
    if (length == 0)
        return;
    const char *text = bytes + 1;
    length--;
    double value;
    read_mark(text, length, '.');
    read_mark(text, length, ',');
    read_degrees(text, length);
    read_key(text, length);
    if (ht_number_read(text, length, &value) == HT_NUMBER_FINE)
        convert((unsigned char)bytes[0], value);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_all, data, size);
}
