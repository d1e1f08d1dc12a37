/* new: asks at most ten questions and writes a commented case sheet. Nothing
 * is written before the last answer, and never over a file that is there. */
#include "answer.h"
#include "draft.h"
#include "questions.h"

#include "command/case.h"
#include "command/commands.h"
#include "command/help.h"
#include "command/output.h"
#include "command/texts.h"
#include "common/printable.h"
#include "common/shell.h"
#include "report/lines.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* What one line of input was. */
enum line { LINE_ANSWER, LINE_EMPTY, LINE_TOO_LONG, LINE_END };

struct dialogue {
    struct draft draft;
    bool quiet, terminal;
    bool refused;           /* the last answer was */
    size_t number, count;   /* of the question that is asked now */
};

/* Without the line's end and the blanks around it. */
static enum line read_line(char *line, size_t size, const char **answer)
{
    if (!fgets(line, (int)size, stdin))
        return LINE_END;
    size_t length = strlen(line);
    bool whole = length > 0 && line[length - 1] == '\n';
    if (!whole && !feof(stdin)) {
        for (int c = getchar(); c != EOF && c != '\n'; c = getchar())
            ;
        return LINE_TOO_LONG;
    }
    while (length > 0 && strchr(" \t\r\n", line[length - 1]))
        line[--length] = '\0';
    *answer = line + strspn(line, " \t");
    return **answer ? LINE_ANSWER : LINE_EMPTY;
}

static void say(const struct ht_text *text)
{
    (void)fputs(ht_text_get(text), stderr);
    (void)fflush(stderr);
}

static void say_paragraph(const char *lead, const char *sentence)
{
    struct ht_text text = { 0 };
    put_paragraph(&text, lead, sentence);
    say(&text);
    ht_text_free(&text);
}

static void caution_standing(void)
{
    const char *sentence[HELP_CAUTIONS];
    help_cautions(&(struct command){ .cautions = CAUTION_STANDING }, sentence);
    (void)fputc('\n', stderr);
    for (size_t i = 0; i < 2; i++)
        say_paragraph("  - ", sentence[i]);
}

static void ask(const struct dialogue *dialogue,
                const struct question *question)
{
    char lead[40];
    const struct ht_sheet *sheet = &dialogue->draft.sheet;
    bool recorded = question->recorded_text && sheet->drive_count > 0;
    if (dialogue->quiet)
        return;
    if (question->standing && !dialogue->refused)
        caution_standing();
    (void)snprintf(lead, sizeof lead, NEW_NUMBER, dialogue->number,
                   dialogue->count);
    (void)fputc('\n', stderr);
    say_paragraph(lead, recorded ? question->recorded_text : question->text);
    say_paragraph("  ", recorded ? question->recorded_example
                                 : question->example);
    (void)fputs("> ", stderr);
    (void)fflush(stderr);
}

static void refuse(const struct dialogue *dialogue, const char *sentence)
{
    struct ht_text text = { 0 };
    if (dialogue->terminal)
        ht_text_add(&text, sentence);
    else
        ht_text_addf(&text, NEW_REFUSED, dialogue->number, sentence);
    if (!dialogue->quiet && !dialogue->terminal)
        (void)fputc('\n', stderr);
    say_paragraph("  ", ht_text_get(&text));
    ht_text_free(&text);
}

/* HT_OK also where the question stays open: nobody knows. */
static enum ht_status ask_until_known(struct dialogue *dialogue,
                                      const struct question *question,
                                      struct ht_error *err)
{
    char line[ANSWER_BYTES];
    const char *answer = "";
    struct ht_error why;
    for (;;) {
        ask(dialogue, question);
        switch (read_line(line, sizeof line, &answer)) {
        case LINE_EMPTY:
            return HT_OK;
        case LINE_END:
            if (dialogue->terminal)
                return ht_fail(err, NEW_STOPPED);
            return dialogue->refused ? ht_fail(err, NEW_CUT, dialogue->number)
                                     : HT_OK;
        case LINE_TOO_LONG:
            (void)ht_fail(&why, ANSWER_TOO_LONG);
            break;
        default:
            if (draft_try(&dialogue->draft, question, answer, &why) == HT_OK) {
                dialogue->refused = false;
                return HT_OK;
            }
            if (why.status == HT_NO_MEMORY) {
                *err = why;
                return why.status;
            }
        }
        dialogue->refused = true;
        refuse(dialogue, why.text);
    }
}

static enum ht_status ask_all(struct dialogue *dialogue, struct ht_error *err)
{
    enum ht_status status = HT_OK;
    bool open[QUESTIONS];
    dialogue->count = 0;
    for (size_t i = 0; i < QUESTIONS; i++) {
        open[i] = !questions[i].known(&dialogue->draft.sheet);
        dialogue->count += open[i];
    }
    for (size_t i = 0; i < QUESTIONS && status == HT_OK; i++) {
        if (!open[i])
            continue;
        dialogue->number++;
        status = ask_until_known(dialogue, &questions[i], err);
    }
    return status;
}

/* ---- the sheet --------------------------------------------------------- */

/* The command that makes the most of what is known. */
static void add_next(struct ht_text *text, const struct ht_sheet *sheet,
                     const char *path)
{
    bool angles = sheet->angles_count && sheet->angles[0].slope_count;
    const char *command = "rank";
    if (!sheet->drive_count && !sheet->complaint.given)
        command = angles ? "angles" : "parts";
    ht_text_addf(text, "halfturn %s ", command);
    ht_text_shell_word(text, path);
    if (strcmp(command, "parts") == 0)
        ht_text_add(text, " --speed 90");
}

static enum ht_status write_sheet(struct ht_text *text,
                                  const struct draft *draft, const char *path,
                                  struct ht_error *err)
{
    ht_text_add(text, NEW_HEAD);
    add_next(text, &draft->sheet, path);
    ht_text_add(text, "\n");
    return ht_sheet_write_yaml(text, &draft->sheet, err);
}

static void say_next(struct ht_text *out, const struct draft *draft,
                     const char *path)
{
    char shown[4096];
    (void)snprintf(shown, sizeof shown, "%s", path);
    ht_make_printable(shown);
    ht_text_addf(out, NEW_WRITTEN, shown);
    add_next(out, &draft->sheet, path);
    ht_text_add(out, "\n");
}

/* Found out before ten answers are given for nothing. */
static enum ht_status check_place(const char *path, struct ht_error *err)
{
    struct place place;
    enum ht_status status = place_of(&place, path, err);
    if (status != HT_OK)
        return status;
    if (access(path, F_OK) == 0)
        return ht_fail(err, NEW_THERE, path);
    if (access(place.folder, W_OK) != 0)
        return ht_fail(err, NEW_NO_FOLDER, path, strerror(errno));
    return HT_OK;
}

static enum ht_status write_new(struct dialogue *dialogue, const char *path,
                                struct ht_text *out, struct ht_error *err)
{
    struct ht_text sheet = { 0 };
    bool to_file = strcmp(path, "-") != 0;
    enum ht_status status = write_sheet(
        to_file ? &sheet : out, &dialogue->draft, to_file ? path : "case.yaml",
        err);
    if (status == HT_OK && to_file) {
        /* first, as nothing may fail once the sheet is there */
        say_next(out, &dialogue->draft, path);
        if (!ht_text_ok(out))
            status = ht_fail(err, COMMAND_NO_MEMORY);
        else if ((status = output_new(&sheet, path, err)) != HT_OK)
            (void)fputs(ht_text_get(&sheet), stdout); /* nothing is lost */
    }
    ht_text_free(&sheet);
    return status;
}

enum ht_status command_new(const struct options *options, struct ht_text *out,
                           struct ht_error *err)
{
    const char *path = options->word_count ? options->words[0] : "case.yaml";
    struct dialogue dialogue = { .quiet = options->quiet,
                                 .terminal = isatty(0) };
    enum ht_status status = HT_OK;
    if (options->word_count > 1)
        return ht_fail(err, NEW_TWO_NAMES, options->word_count,
                       options->words[0], options->words[1]);
    if (strcmp(path, "-") != 0)
        status = check_place(path, err);
    if (status == HT_OK)
        status = draft_open(&dialogue.draft, path, options->from,
                            isatty(2) && !options->quiet, err);
    if (status != HT_OK)
        return status;
    if (dialogue.terminal && !options->quiet)
        (void)fputs(NEW_KEYS, stderr);
    status = ask_all(&dialogue, err);
    if (status == HT_OK)
        status = write_new(&dialogue, path, out, err);
    draft_free(&dialogue.draft);
    return status;
}
