#include "manual.h"

#include "scdoc.h"

#include "command/help.h"
#include "command/texts_manual.h"

#include <stdio.h>
#include <string.h>

/* The rest of a line or paragraph, and the empty line after it. */
static void paragraph(struct ht_text *text, const char *plain)
{
    scdoc_text(text, plain, strlen(plain));
    ht_text_add(text, "\n\n");
}

static void title(struct ht_text *text, const char *name, int section)
{
    ht_text_addf(text, "%s(%d) \"Halfturn " HALFTURN_VERSION "\"\n\n", name,
                 section);
}

/* ---- sections that several pages share --------------------------------- */

static void put_example(struct ht_text *text,
                        const struct command_example *example)
{
    paragraph(text, example->what);
    scdoc_literal(text, example->line);
    ht_text_add(text, "\n");
}

/* A name in bold, and indented what it means. */
static void entry(struct ht_text *text, const char *name, const char *meaning,
                  const char *end)
{
    scdoc_bold(text, name);
    ht_text_add(text, "\n\t");
    scdoc_text(text, meaning, strlen(meaning));
    ht_text_add(text, end);
}

static void put_exits(struct ht_text *text)
{
    ht_text_add(text, MANUAL_EXITS);
    for (const struct help_exit *e = help_exits; e->code; e++)
        entry(text, e->code, e->meaning, "\n\n");
}

static void put_files(struct ht_text *text)
{
    ht_text_add(text, MANUAL_FILES);
}

static void put_cautions(struct ht_text *text, const struct command *command)
{
    const char *sentence[HELP_CAUTIONS];
    help_cautions(command, sentence);
    ht_text_add(text, MANUAL_CAUTION);
    for (size_t i = 0; sentence[i]; i++)
        paragraph(text, sentence[i]);
}

/* "halfturn-rank(1)" */
static void name_page(struct ht_text *text, const char *command)
{
    char name[40];
    (void)snprintf(name, sizeof name, "halfturn-%s", command);
    scdoc_bold(text, name);
    ht_text_add(text, "(1)");
}

static void put_see_also(struct ht_text *text, const char *page)
{
    size_t count;
    const struct command *list = commands_list(&count);
    const char *between = "";
    ht_text_add(text, MANUAL_SEE_ALSO);
    if (strcmp(page, "halfturn") != 0) {
        ht_text_add(text, "*halfturn*(1)");
        between = ", ";
    }
    for (size_t i = 0; i < count; i++) {
        if (strcmp(page, list[i].name) == 0)
            continue;
        ht_text_add(text, between);
        name_page(text, list[i].name);
        between = ", ";
    }
    if (strcmp(page, "sheet") != 0)
        ht_text_add(text, ", *halfturn-sheet*(5)");
    ht_text_add(text, "\n");
}

/* ---- the pages --------------------------------------------------------- */

static void write_command(struct ht_text *text, const struct command *command)
{
    char name[40];
    (void)snprintf(name, sizeof name, "halfturn-%s", command->name);
    title(text, name, 1);
    ht_text_add(text, MANUAL_NAME);
    scdoc_text(text, name, strlen(name));
    ht_text_add(text, " - ");
    paragraph(text, command->summary);
    ht_text_add(text, MANUAL_SYNOPSIS);
    for (size_t i = 0; i < COMMAND_USES && command->use[i]; i++) {
        (void)snprintf(name, sizeof name, "halfturn %s", command->name);
        scdoc_bold(text, name);
        ht_text_add(text, " ");
        paragraph(text, command->use[i]);
    }
    ht_text_add(text, MANUAL_DESCRIPTION);
    for (size_t i = 0; i < COMMAND_PARAGRAPHS && command->about[i]; i++)
        paragraph(text, command->about[i]);
    ht_text_add(text, MANUAL_OPTIONS);
    options_manual(text, command->bit);
    ht_text_add(text, MANUAL_EXAMPLES);
    for (size_t i = 0; i < COMMAND_EXAMPLES && command->example[i].line; i++)
        put_example(text, &command->example[i]);
    put_exits(text);
    put_files(text);
    put_cautions(text, command);
    put_see_also(text, command->name);
}

static void write_program(struct ht_text *text)
{
    size_t count;
    const struct command *list = commands_list(&count);
    title(text, "halfturn", 1);
    ht_text_add(text, MANUAL_PROGRAM);
    paragraph(text, MANUAL_WHAT_IT_DOES);
    paragraph(text, MANUAL_CASE);
    ht_text_add(text, MANUAL_COMMANDS);
    for (size_t i = 0; i < count; i++) {
        entry(text, list[i].name, list[i].summary, MANUAL_COMMAND_PAGE);
        name_page(text, list[i].name);
        ht_text_add(text, ".\n\n");
    }
    ht_text_add(text, MANUAL_OPTIONS);
    paragraph(text, MANUAL_SHARED_OPTIONS);
    options_manual(text, FOR_ALL);
    ht_text_add(text, MANUAL_EXAMPLES);
    for (size_t i = 0; i < count; i++)
        put_example(text, &list[i].example[0]);
    ht_text_add(text, MANUAL_ENVIRONMENT);
    paragraph(text, MANUAL_NO_COLOUR);
    put_exits(text);
    put_files(text);
    put_cautions(text, &(struct command){ .cautions = CAUTION_STANDING |
                                                      CAUTION_ROAD });
    put_see_also(text, "halfturn");
}

static void write_sheet(struct ht_text *text)
{
    title(text, "halfturn-sheet", 5);
    ht_text_add(text, MANUAL_SHEET);
    manual_sheet(text);
    ht_text_add(text, MANUAL_EXAMPLES);
    put_example(text, &(struct command_example){ MANUAL_SHEET_NEW,
                                                 MANUAL_SHEET_NEW_LINE });
    put_example(text, &(struct command_example){ MANUAL_SHEET_CHECK,
                                                 MANUAL_SHEET_CHECK_LINE });
    ht_text_add(text, MANUAL_EXITS);
    paragraph(text, MANUAL_SHEET_EXIT);
    put_files(text);
    put_cautions(text, &(struct command){ .cautions = CAUTION_STANDING |
                                                      CAUTION_ROAD });
    put_see_also(text, "sheet");
}

void manual_list(struct ht_text *text)
{
    size_t count;
    const struct command *list = commands_list(&count);
    ht_text_add(text, "halfturn.1\n");
    for (size_t i = 0; i < count; i++)
        ht_text_addf(text, "halfturn-%s.1\n", list[i].name);
    ht_text_add(text, "halfturn-sheet.5\n");
}

bool manual_write(struct ht_text *text, const char *page)
{
    static const char before[] = "halfturn-";
    char name[40] = "";
    if (strcmp(page, "halfturn.1") == 0) {
        write_program(text);
        return true;
    }
    if (strcmp(page, "halfturn-sheet.5") == 0) {
        write_sheet(text);
        return true;
    }
    if (strncmp(page, before, sizeof before - 1) != 0)
        return false;
    (void)snprintf(name, sizeof name, "%.30s", page + sizeof before - 1);
    char *end = strstr(name, ".1");
    if (end)
        *end = '\0';
    const struct command *command = commands_find(name);
    if (command)
        write_command(text, command);
    return command != NULL;
}
