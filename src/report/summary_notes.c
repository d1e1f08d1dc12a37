/* What the angles rest on, of one set of readings or of several. */
#include "summary.h"

#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <string.h>

static bool has_note(const struct ht_angles *angles, const char *note)
{
    for (size_t i = 0; i < angles->notes; i++)
        if (strcmp(angles->note[i], note) == 0)
            return true;
    return false;
}

static bool was_said(const struct ht_workup *workup, size_t set,
                     const char *note)
{
    for (size_t i = 0; i < set; i++)
        if (has_note(&workup->lines[i].angles, note))
            return true;
    return false;
}

/* The names of the sets that have the note; how many they are. */
static size_t names_of(struct ht_text *out, const struct ht_workup *workup,
                       const char *note)
{
    struct ht_text name = { 0 };
    size_t having = 0;
    for (size_t i = 0; i < workup->line_count; i++) {
        if (!has_note(&workup->lines[i].angles, note))
            continue;
        if (having++)
            ht_text_add(out, "; ");
        ht_text_add(out, set_name(&name, workup, &workup->lines[i]));
    }
    ht_text_end(out, &name);
    return having;
}

/* A note of all sets stands once, one of some with their names. */
static void say_note(struct ht_text *out, const struct ht_workup *workup,
                     const char *note)
{
    struct ht_text names = { 0 }, clean = { 0 };
    size_t having = names_of(&names, workup, note);
    put_held(&clean, note);
    capital(&names, 0);
    if (having == workup->line_count)
        ht_text_addf(out, "%s\n", ht_text_get(&clean));
    else
        ht_text_addf(out, REPORT_NOTE_OF_SET "\n", ht_text_get(&names),
                     ht_text_get(&clean));
    ht_text_end(out, &names);
    ht_text_end(out, &clean);
}

void say_angle_notes(struct ht_text *out, const struct ht_workup *workup)
{
    if (!several_sets(workup))
        for (size_t i = 0; i < workup->angles.notes; i++) {
            put_held(out, workup->angles.note[i]);
            ht_text_add(out, "\n");
        }
    else
        for (size_t k = 0; k < workup->line_count; k++)
            for (size_t i = 0; i < workup->lines[k].angles.notes; i++)
                if (!was_said(workup, k, workup->lines[k].angles.note[i]))
                    say_note(out, workup, workup->lines[k].angles.note[i]);
}

static void say_doubts_of(struct ht_text *out, const struct ht_angles *angles,
                          const char *set)
{
    struct ht_text clean = { 0 };
    for (size_t i = 0; i < angles->doubts; i++) {
        put_held(&clean, angles->doubt[i]);
        if (set)
            ht_text_addf(out, REPORT_NOTE_OF_SET "\n", set,
                         ht_text_get(&clean));
        else
            ht_text_addf(out, "%s\n", ht_text_get(&clean));
        clean.length = 0;
    }
    ht_text_end(out, &clean);
}

void say_doubts(struct ht_text *out, const struct told *told)
{
    const struct ht_workup *workup = told->workup;
    struct ht_text name = { 0 };
    if (!told->angles)
        return;
    if (!several_sets(workup))
        say_doubts_of(out, &workup->angles, NULL);
    for (size_t k = 0; several_sets(workup) && k < workup->line_count; k++) {
        name.length = 0;
        say_doubts_of(out, &workup->lines[k].angles,
                      set_name(&name, workup, &workup->lines[k]));
    }
    ht_text_end(out, &name);
}

/* ---- sources ------------------------------------------------------------ */

/* Each source once, whichever set of readings was held against it. */
static void add_sources(struct ht_text *lines, const struct ht_angles *angles)
{
    struct ht_text line = { 0 }, set = { 0 }, source = { 0 };
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        line.length = 0;
        ht_text_addf(&line, REPORT_SET_SOURCE "\n", id_words(&set, v->set),
                     cleaned(&source, v->source));
        if (!strstr(ht_text_get(lines), ht_text_get(&line)))
            ht_text_add(lines, ht_text_get(&line));
    }
    ht_text_end(lines, &line);
    ht_text_end(lines, &set);
    ht_text_end(lines, &source);
}

void say_limit_sources(struct ht_text *out, const struct ht_workup *workup)
{
    if (workup->line_count == 0)
        add_sources(out, &workup->angles);
    for (size_t i = 0; i < workup->line_count; i++)
        add_sources(out, &workup->lines[i].angles);
}
