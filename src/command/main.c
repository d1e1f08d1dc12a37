/* halfturn - the program: which command, what it prints, how it ends. */
#include "commands.h"
#include "options.h"
#include "output.h"

#include "halfturn/document.h"

#include <stdio.h>
#include <string.h>

static const struct command {
    const char *name, *arguments, *summary, *example;
    enum command_bit bit;
    enum ht_status (*run)(const struct options *options, struct ht_text *out,
                          struct ht_error *err);
} commands[] = {
    { "parts", "CASE --speed 95", "what turns how fast; needs no recording",
      "halfturn parts case.yaml --speed 95 --gear 5\n"
      "  halfturn parts case.yaml --speed 60mph --hz 42",
      FOR_PARTS, command_parts },
    { "angles", "CASE, or readings in pairs",
      "working angles (operating angles), what they do, verdicts",
      "halfturn angles case.yaml\n"
      "  halfturn angles --suspension wheels_on_ground --gauge 0.1 \\\n"
      "      --read-on cap -- 2.1 4.3 / 4.3 2.4",
      FOR_ANGLES, command_angles },
    { "orders", "CASE", "what the road test holds: which turns, how strong",
      "halfturn orders case.yaml", FOR_ORDERS, command_orders },
    { "rank", "CASE", "likely causes, why, and the next check",
      "halfturn rank case.yaml\n  halfturn rank case.yaml --json", FOR_RANK,
      command_rank },
    { "report", "CASE -o report.html", "one page for customer and colleague",
      "halfturn report case.yaml -o report.html", FOR_REPORT,
      command_report },
};
enum { COMMANDS = sizeof commands / sizeof commands[0] };

static void describe_program(struct ht_text *text)
{
    ht_text_add(text, "Halfturn finds out why a vehicle with a propeller "
                      "shaft shakes.\n\nUse: halfturn COMMAND ...\n\n");
    for (size_t i = 0; i < COMMANDS; i++)
        ht_text_addf(text, "  %-8s %-28s %s\n", commands[i].name,
                     commands[i].arguments, commands[i].summary);
    ht_text_add(text,
                "\n'halfturn COMMAND --help' tells more. A CASE is a case "
                "sheet (YAML or JSON).\nReadings with a minus sign stand "
                "after '--'.\n"
                "This looks for vibration causes. It does not show that the "
                "vehicle is safe\nto drive. The vehicle maker's figures come "
                "first.\n");
}

static void describe_command(struct ht_text *text,
                             const struct command *command)
{
    ht_text_addf(text, "halfturn %s %s\n%s\n\nOptions\n", command->name,
                 command->arguments, command->summary);
    options_describe(text, command->bit);
    ht_text_addf(text, "\nFor instance\n  %s\n", command->example);
}

/* Bash completion from the two tables; written to a file by the build. */
static void write_completion(struct ht_text *text)
{
    ht_text_add(text, "_halfturn() {\n"
                      "    local word=${COMP_WORDS[COMP_CWORD]}\n"
                      "    local words\n"
                      "    case ${COMP_WORDS[1]} in\n");
    for (size_t i = 0; i < COMMANDS; i++) {
        ht_text_addf(text, "    %s) words='", commands[i].name);
        options_names(text, commands[i].bit);
        ht_text_add(text, "' ;;\n");
    }
    ht_text_add(text, "    esac\n"
                      "    [ \"$COMP_CWORD\" -eq 1 ] && words='--help "
                      "--version");
    for (size_t i = 0; i < COMMANDS; i++)
        ht_text_addf(text, " %s", commands[i].name);
    ht_text_add(text, "'\n"
                      "    COMPREPLY=($(compgen -W \"$words\" -- "
                      "\"$word\"))\n"
                      "}\n"
                      "complete -o default -F _halfturn halfturn\n");
}

static int finish(const struct ht_text *text, const char *path)
{
    struct ht_error err = { 0 };
    enum ht_status status = output_text(text, path, &err);
    if (status != HT_OK)
        (void)fprintf(stderr, "halfturn: %s\n", err.text);
    return ht_status_exit_code(status);
}

static const struct command *find_command(const char *name)
{
    for (size_t i = 0; i < COMMANDS; i++)
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
    return NULL;
}

static int no_such_command(const char *name)
{
    const char *names[COMMANDS + 1] = { NULL };
    for (size_t i = 0; i < COMMANDS; i++)
        names[i] = commands[i].name;
    const char *near = ht_nearest_name(name, names);
    (void)fprintf(stderr, "halfturn: There is no command '%s'.", name);
    if (near)
        (void)fprintf(stderr, " Did you mean '%s'?\n", near);
    else
        (void)fprintf(stderr, " 'halfturn --help' lists the commands.\n");
    return ht_status_exit_code(HT_BAD_USE);
}

static int run_command(const struct command *command, int argc, char **argv)
{
    struct options options;
    struct ht_error err = { 0 };
    struct ht_text out = { 0 };
    enum ht_status status =
        options_read(&options, command->bit, argc, argv, &err);
    if (status == HT_OK && options.help)
        describe_command(&out, command);
    else if (status == HT_OK)
        status = command->run(&options, &out, &err);
    int code = ht_status_exit_code(status);
    if (status == HT_OK)
        code = finish(&out, options.help ? NULL : options.output);
    else if (err.text[0])
        (void)fprintf(stderr, "halfturn: %s\n", err.text);
    ht_text_free(&out);
    return code;
}

int main(int argc, char **argv)
{
    struct ht_text text = { 0 };
    int code;
    if (argc < 2 || strcmp(argv[1], "--help") == 0 ||
        strcmp(argv[1], "-h") == 0 || strcmp(argv[1], "help") == 0) {
        describe_program(&text);
        code = finish(&text, NULL);
        if (argc < 2 && code == 0)
            code = ht_status_exit_code(HT_BAD_USE);
    } else if (strcmp(argv[1], "--version") == 0) {
        ht_text_add(&text, "halfturn " HALFTURN_VERSION "\n");
        code = finish(&text, NULL);
    } else if (strcmp(argv[1], "--bash-completion") == 0) {
        write_completion(&text);
        code = finish(&text, NULL);
    } else {
        const struct command *command = find_command(argv[1]);
        code = command ? run_command(command, argc - 1, argv + 1)
                       : no_such_command(argv[1]);
    }
    ht_text_free(&text);
    return code;
}
