/* Every command of the program with its allocations refused: each one once,
 * and from each one on for good. Exit 71, one sentence on standard error,
 * nothing on standard output, no file and no part of one.
 *
 * What makes many allocations is tried at some of them, spread; with
 * HALFTURN_ALL_ALLOCATIONS set, at all of them. */
#include "close.h"
#include "given.h"
#include "watch.h"

#include "halfturn/status.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int halfturn_main(int argc, char **argv); /* of src/command/main.c */

enum { WORDS_MAX = 20, SAID_MAX = 1 << 20 };
#define NO_INPUT "(no input)"

/* CASE and OUT stand for the sheet and a file that is not there yet. */
static const struct run {
    const char *command;
    const char *words[WORDS_MAX]; /* NO_INPUT first: nobody answers */
} runs[] = {
    { "parts", { "parts", "CASE", "--speed", "95", "--hz", "42" } },
    { "parts", { "parts", "CASE", "--speed", "95", "--json" } },
    { "parts", { "parts", "CASE", "--speed", "95", "-o", "OUT" } },
    { "angles", { "angles", "CASE" } },
    { "angles", { "angles", "CASE", "--json", "-o", "OUT" } },
    { "angles", { "angles", "--gauge", "0.1", "--", "2.1", "4.3" } },
    { "angles", { "angles", "--blank", "CASE", "-o", "OUT" } },
    { "angles", { "angles", "--explain", "CASE" } },
    { "shims", { "shims", "CASE" } },
    { "shims", { "shims", "CASE", "--json", "-o", "OUT" } },
    { "orders", { "orders", "CASE" } },
    { "orders", { "orders", "CASE", "--json", "-o", "OUT" } },
    { "rank", { "rank", "CASE" } },
    { "rank", { "rank", "CASE", "--json", "-o", "OUT" } },
    { "report", { "report", "CASE", "-o", "OUT" } },
    { "report", { "report", "CASE" } },
    { "report", { "report", "CASE", "--pdf", "-o", "OUT" } },
    { "new", { "new", "--quiet", "OUT" } },
    { "new", { NO_INPUT, "new", "--quiet", "--from", "CASE", "OUT" } },
    { "new", { "new", "--quiet", "-" } },
    { "--help", { "--help" } },
    { "--version", { "--version" } },
    { "--bash-completion", { "--bash-completion" } },
    { "rank", { "rank", "--help" } },
    { "serve", { "serve", "--help" } },
    { "help", { "help", "angles" } },
};
enum { RUNS = sizeof runs / sizeof runs[0] };

static const char answers[] = "van rear\n235/65R16\n3.73\n"; /* to `new` */

static char out_path[96], said_path[2][96], answers_path[96];
static char said[2][SAID_MAX]; /* on standard output and standard error */

static size_t wrong;

static void demand(bool holds, const char *what, const struct run *run,
                   size_t n)
{
    if (!holds && wrong++ < 20)
        print_error("%s %s, allocation %zu: %s; said: %.200s\n", run->command,
                    run->words[1] ? run->words[1] : "", n, what, said[1]);
}

static int begin(void **state)
{
    if (given_make(state) != 0)
        return -1;
    (void)snprintf(out_path, sizeof out_path, "%s/out", given.folder);
    for (int i = 0; i < 2; i++)
        (void)snprintf(said_path[i], sizeof said_path[i], "%s-said-%d",
                       given.folder, i);
    (void)snprintf(answers_path, sizeof answers_path, "%s-answers",
                   given.folder);
    FILE *file = fopen(answers_path, "wb");
    bool written = file && fputs(answers, file) >= 0;
    return file && fclose(file) == 0 && written ? 0 : -1;
}

static int end(void **state)
{
    for (int i = 0; i < 2; i++)
        (void)unlink(said_path[i]);
    (void)unlink(answers_path);
    return given_remove(state);
}

/* Standard output and error go to files for a while. */
static void redirect(int kept[2])
{
    (void)fflush(stdout);
    (void)fflush(stderr);
    for (int i = 0; i < 2; i++) {
        int file = open(said_path[i], O_RDWR | O_CREAT | O_TRUNC, 0600);
        kept[i] = dup(i + 1);
        assert_true(file >= 0 && kept[i] >= 0);
        (void)dup2(file, i + 1);
        (void)close(file);
    }
}

static void restore(const int kept[2])
{
    (void)fflush(stdout);
    (void)fflush(stderr);
    for (int i = 0; i < 2; i++) {
        (void)lseek(i + 1, 0, SEEK_SET);
        ssize_t length = read(i + 1, said[i], SAID_MAX - 1);
        said[i][length > 0 ? length : 0] = '\0';
        (void)dup2(kept[i], i + 1);
        (void)close(kept[i]);
    }
}

/* The program, from main to its exit code. */
static int call(const struct run *run)
{
    char *argv[WORDS_MAX + 2] = { strdup("halfturn") };
    int argc = 1, kept[2];
    bool silent = strcmp(run->words[0], NO_INPUT) == 0;
    for (const char *const *word = run->words + silent; *word; word++) {
        const char *stands = strcmp(*word, "CASE") == 0  ? given.sheet_path
                             : strcmp(*word, "OUT") == 0 ? out_path
                                                         : *word;
        argv[argc++] = strdup(stands);
    }
    char *made[WORDS_MAX + 2]; /* argv is put into another order */
    memcpy(made, argv, sizeof made);
    assert_non_null(freopen(silent ? "/dev/null" : answers_path, "rb", stdin));
    redirect(kept);
    watch_begin();
    int code = halfturn_main(argc, argv);
    watch_end();
    restore(kept);
    for (int i = 0; i < argc; i++)
        free(made[i]);
    return code;
}

static size_t files_there(void)
{
    size_t count = 0;
    DIR *folder = opendir(given.folder);
    assert_non_null(folder);
    while (readdir(folder))
        count++;
    (void)closedir(folder);
    return count;
}

static bool is_one_sentence(const char *text)
{
    const char *end = strchr(text, '\n');
    return strncmp(text, "halfturn: ", 10) == 0 && end && end[1] == '\0' &&
           end - text > 20;
}

static size_t run_with_memory(const struct run *run)
{
    watch_plan(0, false);
    int code = call(run);
    if (code != 0)
        fail_msg("%s with memory: exit %d, %s", run->command, code, said[1]);
    demand(access(out_path, F_OK) == 0 || said[0][0], "no result", run, 0);
    demand(watch_figures().held == 0, "still holds memory", run, 0);
    demand(watch_figures().calls == watch_figures().asked,
           "memory got by another way", run, 0);
    (void)unlink(out_path);
    return watch_figures().asked;
}

static void run_refused(const struct run *run, size_t n, bool for_good)
{
    size_t before = files_there();
    watch_plan(n, for_good);
    int code = call(run);
    demand(watch_figures().refused > 0, "nothing was refused", run, n);
    demand(code == ht_status_exit_code(HT_NO_MEMORY), "exit code", run, n);
    demand(said[0][0] == '\0', "something on standard output", run, n);
    demand(is_one_sentence(said[1]), "not one sentence", run, n);
    demand(files_there() == before, "left a file", run, n);
    demand(watch_figures().held == 0, "still holds memory", run, n);
    (void)unlink(out_path);
}

/* The first and the last ones, then some, spread; an odd step, so that none of
 * the repeated kinds is always passed over. */
static size_t step_after(size_t n, size_t count)
{
    size_t step = count / 12 | 1;
    if (getenv("HALFTURN_ALL_ALLOCATIONS") || n < 6 || n + 3 > count)
        return 1;
    return n + step + 3 > count ? count - 2 - n : step;
}

static void every_command_without_memory_says_so(void **state)
{
    (void)state;
    wrong = 0;
    for (const struct run *run = runs; run < runs + RUNS; run++) {
        size_t count = run_with_memory(run), tried = 0;
        demand(count > 0, "asks for no memory", run, 0);
        for (size_t n = 1; n <= count; n += step_after(n, count), tried++) {
            run_refused(run, n, false);
            run_refused(run, n, true);
        }
        print_message("%-8s %-12s %5zu allocations, %zu tried\n",
                      run->command, run->words[1] ? run->words[1] : "", count,
                      tried);
    }
    assert_int_equal(wrong, 0);
}

static bool has_run(const char *name, size_t length)
{
    for (size_t i = 0; i < RUNS; i++)
        if (strlen(runs[i].command) == length &&
            strncmp(runs[i].command, name, length) == 0)
            return true;
    return false;
}

/* The list is the program's own: the names that are completed. */
static void no_command_is_left_out(void **state)
{
    static const struct run run = { "", { "--bash-completion" } };
    static const char before[] = "words='--help --version ";
    (void)state;
    watch_plan(0, false);
    assert_int_equal(call(&run), 0);
    const char *at = strstr(said[0], before);
    size_t names = 0;
    assert_non_null(at);
    for (at += sizeof before - 1; *at != '\''; names++) {
        size_t length = strcspn(at, " '");
        if (!has_run(at, length))
            fail_msg("the command '%.*s' has no row here", (int)length, at);
        at += length + (at[length] == ' ');
    }
    assert_true(names >= 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_command_is_left_out),
        cmocka_unit_test(every_command_without_memory_says_so),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
