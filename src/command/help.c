#include "help.h"

#include "texts.h"

#include "report/lines.h"

#include <string.h>

static const struct {
    unsigned when; /* any of these bits; 0: always */
    const char *text;
} cautions[] = {
    { CAUTION_STANDING,
      "Angles count only with the axle carrying the vehicle's weight: on a "
      "drive-on rack, or the axle at ride height on rated stands." },
    { CAUTION_STANDING,
      "Never work under a vehicle on a jack alone, never with the engine "
      "running. Key out, wheels chocked. Keep clear of a turning shaft." },
    { CAUTION_ROAD,
      "Before any drive: every joint clip back and seated all round, straps "
      "and flange bolts at the maker's torque, wheel nuts checked, no play or "
      "roughness at any joint; tyres, brakes and steering sound. Any no: "
      "repair first." },
    { CAUTION_ROAD,
      "Two people: one drives, one records. On a suitable road, within the "
      "law." },
    { 0, "The vehicle maker's figures and local codes come first. When in "
         "doubt, ask a qualified person." },
    { 0, "This looks for vibration causes. It does not show that the vehicle "
         "is safe to drive." },
};

const struct help_exit help_exits[] = {
    { "0", "done" },
    { "64", "the command line is off" },
    { "65", "a file's content is off, or it is too big" },
    { "66", "a file is missing or cannot be read" },
    { "70", "a mistake of this program" },
    { "71", "out of memory" },
    { "74", "the result could not be written" },
    { NULL, NULL },
};

void help_cautions(const struct command *command,
                   const char *sentence[HELP_CAUTIONS])
{
    size_t count = 0;
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++)
        if (!cautions[i].when || (cautions[i].when & command->cautions))
            sentence[count++] = cautions[i].text;
    sentence[count] = NULL;
}

static void put_exits(struct ht_text *text)
{
    ht_text_add(text, HELP_EXITS);
    for (const struct help_exit *e = help_exits; e->code; e++)
        ht_text_addf(text, "  %-3s %s\n", e->code, e->meaning);
}

/* An example may take several lines; all are indented. */
static void put_example(struct ht_text *text,
                        const struct command_example *example)
{
    put_paragraph(text, "  ", example->what);
    for (const char *line = example->line; *line;) {
        size_t length = strcspn(line, "\n");
        ht_text_addf(text, "      %.*s\n", (int)length, line);
        line += length + (line[length] == '\n');
    }
}

void help_program(struct ht_text *text)
{
    size_t count;
    const struct command *list = commands_list(&count);
    ht_text_add(text, HELP_HEAD);
    for (size_t i = 0; i < count; i++)
        ht_text_addf(text, "  %-8s %s\n", list[i].name, list[i].summary);
    ht_text_add(text, HELP_INSTANCES);
    for (size_t i = 0; i < count; i++)
        put_example(text, &list[i].example[0]);
    ht_text_add(text, "\n");
    put_paragraph(text, "", HELP_CASE);
    put_exits(text);
    ht_text_add(text, "\n");
    put_paragraph(text, "", HELP_NOT_SAFE);
}

void help_command(struct ht_text *text, const struct command *command)
{
    const char *sentence[HELP_CAUTIONS];
    for (size_t i = 0; i < COMMAND_USES && command->use[i]; i++)
        ht_text_addf(text, "halfturn %s %s\n", command->name, command->use[i]);
    ht_text_add(text, "\n");
    ht_text_addf(text, "%s: %s.\n", command->name, command->summary);
    for (size_t i = 0; i < COMMAND_PARAGRAPHS && command->about[i]; i++) {
        ht_text_add(text, "\n");
        put_paragraph(text, "", command->about[i]);
    }
    ht_text_add(text, HELP_EXAMPLES);
    for (size_t i = 0; i < COMMAND_EXAMPLES && command->example[i].line; i++)
        put_example(text, &command->example[i]);
    ht_text_add(text, HELP_OPTIONS);
    options_describe(text, command->bit);
    ht_text_add(text, HELP_CAUTION);
    help_cautions(command, sentence);
    for (size_t i = 0; sentence[i]; i++)
        put_paragraph(text, "  - ", sentence[i]);
}
