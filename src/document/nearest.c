#include "nearest.h"

#include "halfturn/document.h"

#include <stdio.h>
#include <string.h>

enum { LONGEST = 63 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Edits with neighbours swapped counted as one (optimal string alignment:
 * Damerau, Commun. ACM 7 (1964)). */
static size_t edits(const char *a, const char *b)
{
    size_t na = strlen(a), nb = strlen(b);
    size_t rows[3][LONGEST + 1];
    if (na > LONGEST || nb > LONGEST)
        return LONGEST;
    for (size_t j = 0; j <= nb; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= na; i++) {
        size_t *now = rows[i % 3], *last = rows[(i + 2) % 3];
        size_t *before = rows[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= nb; j++) {
            now[j] = least(least(last[j], now[j - 1]) + 1,
                           last[j - 1] + (a[i - 1] != b[j - 1]));
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                now[j] = least(now[j], before[j - 2] + 1);
        }
    }
    return rows[na % 3][nb];
}

static size_t allowed(size_t length)
{
    return length < 4 ? 1 : length < 12 ? 2 : length / 4;
}

/* "top_speed" for "top_speed_km_h": the unit was forgotten. */
static bool begins(const char *name, const char *candidate)
{
    size_t length = strlen(name);
    return length >= 3 && strncmp(name, candidate, length) == 0 &&
           candidate[length] == '_';
}

/* Edits are at least the difference of the lengths: most candidates need no
 * counting. */
static bool may_be_near(size_t length, size_t other, size_t most)
{
    return (length > other ? length - other : other - length) <= most;
}

void ht_nearest_offer(struct nearest *nearest, const char *candidate)
{
    size_t length = strlen(nearest->name), most = allowed(length);
    size_t distance = 1;
    if (!begins(nearest->name, candidate)) {
        if (!may_be_near(length, strlen(candidate), most))
            return;
        distance = edits(nearest->name, candidate);
    }
    if (distance > most || distance >= length ||
        (nearest->found[0] && distance >= nearest->distance))
        return;
    nearest->distance = distance;
    (void)snprintf(nearest->found, sizeof nearest->found, "%s", candidate);
}

const char *ht_nearest_name(const char *name, const char *const *names)
{
    struct nearest nearest = { .name = name };
    const char *found = NULL;
    for (; *names; names++) {
        size_t before = nearest.distance;
        bool had = found != NULL;
        ht_nearest_offer(&nearest, *names);
        if (nearest.found[0] && (!had || nearest.distance < before))
            found = *names;
    }
    return found;
}
