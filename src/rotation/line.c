/* line.c - how fast one driveline of several turns. */
#include "names.h"

#include <math.h>
#include <string.h>
#include <strings.h>

/* Whether the text has the word in it, whatever the case of its letters. */
static bool says(const char *text, const char *word)
{
    for (; text && *text; text++)
        if (strncasecmp(text, word, strlen(word)) == 0)
            return true;
    return false;
}

double ht_rotation_line_turns(const struct ht_rotation *rotation,
                              const struct ht_sheet_driveline *line)
{
    if (!line)
        return rotation->shaft_turns;
    if (ht_rotation_given(line->turns_per_wheel_turn))
        return line->turns_per_wheel_turn;
    bool to_axle = says(line->to, "axle");
    if (!to_axle && (says(line->to, "wheel") || says(line->to, "hub")))
        return rotation->hub_turns;
    if (!to_axle && says(line->to, "transfer"))
        return rotation->output_turns;
    return rotation->shaft_turns;
}
