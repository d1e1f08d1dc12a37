/* The options in words: for --help, the man pages and completion. */
#include "option_table.h"

#include "command/manual/scdoc.h"
#include "halfturn/angles.h"
#include "report/lines.h"

#include <stdio.h>
#include <string.h>

static void describe_row(struct ht_text *text, const struct option_row *row)
{
    enum { COLUMN = 28 };
    char lead[COLUMN + 1];
    int length = row->letter
                     ? snprintf(lead, sizeof lead, "  -%c, --%s", row->letter,
                                row->name)
                     : snprintf(lead, sizeof lead, "      --%s", row->name);
    if (row->argument)
        length += snprintf(lead + length, sizeof lead - (size_t)length, " %s",
                           row->argument);
    (void)snprintf(lead + length, sizeof lead - (size_t)length, "%*s",
                   COLUMN - length, "");
    put_paragraph(text, lead, row->help);
}

void options_describe(struct ht_text *text, enum command_bit command)
{
    for (size_t i = 0; i < OPTIONS; i++)
        if (option_rows[i].commands & command)
            describe_row(text, &option_rows[i]);
}

void options_names(struct ht_text *text, enum command_bit command)
{
    const char *between = "";
    for (size_t i = 0; i < OPTIONS; i++) {
        if (!(option_rows[i].commands & command))
            continue;
        ht_text_addf(text, "%s--%s", between, option_rows[i].name);
        between = " ";
    }
}

static void manual_row(struct ht_text *text, const struct option_row *row)
{
    char name[40];
    if (row->letter) {
        (void)snprintf(name, sizeof name, "-%c", row->letter);
        scdoc_bold(text, name);
        ht_text_add(text, ", ");
    }
    (void)snprintf(name, sizeof name, "--%s", row->name);
    scdoc_bold(text, name);
    if (row->argument) {
        ht_text_add(text, " ");
        scdoc_underlined(text, row->argument);
    }
    ht_text_add(text, "\n\t");
    scdoc_text(text, row->help, strlen(row->help));
    ht_text_add(text, "\n\n");
}

void options_manual(struct ht_text *text, enum command_bit command)
{
    for (size_t i = 0; i < OPTIONS; i++)
        if ((option_rows[i].commands & command) == (unsigned)command)
            manual_row(text, &option_rows[i]);
}

static void list_values(struct ht_text *text, const struct option_row *row)
{
    struct ht_limits limits;
    const char *between = "words='";
    if (row->kind == WORD)
        for (const struct option_word *w = row->words; w->name; w++) {
            ht_text_addf(text, "%s%s", between, w->name);
            between = " ";
        }
    else if (ht_limits_read(&limits, NULL, NULL) == HT_OK)
        for (size_t i = 0; i < limits.sets; i++) {
            ht_text_addf(text, "%s%s", between, limits.set[i].id);
            between = " ";
        }
    else
        ht_text_fail(text); /* the built-in copy: for want of memory only */
    ht_text_add(text, "'");
}

void options_values(struct ht_text *text)
{
    for (size_t i = 0; i < OPTIONS; i++) {
        const struct option_row *row = &option_rows[i];
        if (row->kind == FLAG)
            continue;
        ht_text_add(text, "        ");
        if (row->letter)
            ht_text_addf(text, "-%c | ", row->letter);
        ht_text_addf(text, "--%s) ", row->name);
        if (row->kind == WORD || row->kind == SET)
            list_values(text, row);
        else if (row->kind == PATH)
            ht_text_add(text, "return"); /* to file names */
        else
            ht_text_add(text, "compopt +o default; return");
        ht_text_add(text, " ;;\n");
    }
}
