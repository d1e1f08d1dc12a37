/* halfturn - the program: which command, what it prints, how it ends. */
#include "commands.h"
#include "figures.h"
#include "help.h"
#include "output.h"
#include "texts.h"

#include "command/manual/manual.h"
#include "common/memory.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

static int finish(const struct ht_text *text, const char *path)
{
    struct ht_error err = { 0 };
    enum ht_status status = output_text(text, path, &err);
    if (status != HT_OK)
        (void)fprintf(stderr, "halfturn: %s\n", err.text);
    return ht_status_exit_code(status);
}

static int fail(const struct ht_error *err)
{
    (void)fprintf(stderr, "halfturn: %s\n", err->text);
    return ht_status_exit_code(err->status);
}

static int no_such_command(const char *name)
{
    struct ht_error err = { 0 };
    const char *near = commands_nearest(name);
    if (access(name, F_OK) == 0)
        (void)ht_fail(&err, COMMAND_IS_FILE, name, name);
    else if (near)
        (void)ht_fail(&err, COMMAND_UNKNOWN_NEAR, name, near);
    else
        (void)ht_fail(&err, COMMAND_UNKNOWN, name);
    return fail(&err);
}

/* argv[0] is the command; the program's name stands before it. */
static int run_command(const struct command *command, int argc, char **argv)
{
    struct options options;
    struct ht_error err = { 0 };
    struct ht_text out = { 0 };
    enum ht_status status =
        options_read(&options, command->bit, argc, argv, &err);
    options.line = argv - 1;
    if (status == HT_OK && options.help)
        help_command(&out, command);
    else if (status == HT_OK) {
        status = figures_begin(&options, &err);
        if (status == HT_OK)
            status = command->run(&options, &out, &err);
    }
    int code = ht_status_exit_code(status);
    if (status == HT_OK)
        code = finish(&out, options.help ? NULL : options.output);
    else if (err.text[0])
        (void)fprintf(stderr, "halfturn: %s\n", err.text);
    ht_text_free(&out);
    return code;
}

/* What the program says of itself; false: the word is none of these. */
static bool describes_itself(struct ht_text *text, int argc, char **argv)
{
    const char *word = argc > 1 ? argv[1] : "--help";
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 ||
        (strcmp(word, "help") == 0 && argc < 3))
        help_program(text);
    else if (strcmp(word, "help") == 0 && commands_find(argv[2]))
        help_command(text, commands_find(argv[2]));
    else if (strcmp(word, "--version") == 0)
        ht_text_add(text, "halfturn " HALFTURN_VERSION "\n");
    else if (strcmp(word, "--bash-completion") == 0)
        completion_write(text);
    else if (strcmp(word, "--manual") == 0 && argc < 3)
        manual_list(text);
    else
        return strcmp(word, "--manual") == 0 && manual_write(text, argv[2]);
    return true;
}

int main(int argc, char **argv)
{
    struct ht_text text = { 0 };
    int code;
    ht_memory_keep();
    if (describes_itself(&text, argc, argv)) {
        code = finish(&text, NULL);
        if (argc < 2 && code == 0)
            code = ht_status_exit_code(HT_BAD_USE);
    } else {
        bool help = strcmp(argv[1], "help") == 0;
        const char *name = argv[help ? 2 : 1];
        const struct command *command = commands_find(name);
        code = command ? run_command(command, argc - 1, argv + 1)
                       : no_such_command(name);
    }
    ht_text_free(&text);
    return code;
}
