/* Whatever a table holds stands in the manual page as it is: odd characters
 * are put through scdoc itself, and what it made is read back. */
#include "close.h"

#include "command/manual/scdoc.h"

#include "halfturn/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Each may be a mark of scdoc or a request of the formatter, at the start of
 * a line or within one. */
static const char *const odd[] = {
    "plain words", "# no heading", "## none", "- no list", ". no list",
    ".TH no request", "'br no request", "; no remark", "[ no table", "| cell",
    "] cell", "``` no block", "*no bold*", "_no line_", "a_b * c_d", "\\n \\fB",
    "\\", "a\\", "end++", "++", "+", "~ ^ ` \" ' ! ? < > & % $ @ = / : ,",
    "-", ".", "...", "'", "x. y! z?", "{a} (b)", "--json, -j", "5 %",
    "1\xc3\x97 shaft \xc2\xb1 \xe2\x80\xa6", "*", "_", "[a](b)", "a|b", "a [b]",
};
enum { ODD = sizeof odd / sizeof odd[0] };

static void marks_are_escaped_and_line_ends_are_blanks(void **state)
{
    (void)state;
    struct ht_text text = { 0 };
    scdoc_text(&text, "  a_b\n*c*\x1b", 10);
    assert_string_equal(ht_text_get(&text), "a\\_b \\*c\\* ");
    scdoc_text(&text, "  . d", 5); /* in the middle of a line */
    assert_string_equal(ht_text_get(&text), "a\\_b \\*c\\*   . d");
    text.length = 0;
    scdoc_text(&text, ". d", 3);
    assert_string_equal(ht_text_get(&text), "__. d");
    text.length = 0;
    scdoc_bold(&text, "--x_y");
    scdoc_underlined(&text, "A*");
    assert_string_equal(ht_text_get(&text), "*\\-\\-x\\_y*_A\\*_");
    text.length = 0;
    scdoc_literal(&text, "a \\\n```\n*b*");
    assert_string_equal(ht_text_get(&text), "```\na \\\\\n\\```\n*b*\n```\n");
    ht_text_free(&text);
}

/* ---- through scdoc ----------------------------------------------------- */

static void put_page(struct ht_text *page)
{
    ht_text_add(page, "odd(5) \"odd\"\n\n# ODD\n\n");
    for (size_t i = 0; i < ODD; i++) {
        scdoc_text(page, odd[i], strlen(odd[i]));
        ht_text_add(page, "\n\n");
        scdoc_bold(page, odd[i]);
        ht_text_add(page, "\n\t");
        scdoc_text(page, odd[i], strlen(odd[i]));
        ht_text_add(page, "\n\n");
        scdoc_literal(page, odd[i]);
        ht_text_add(page, "\n");
    }
}

/* The formatter's escapes that scdoc writes, undone (groff_char(7)). */
static void undo(char *line)
{
    static const struct {
        const char *from, *to;
    } escapes[] = {
        { "\\&", "" },    { "\\fB", "" },   { "\\fI", "" },   { "\\fR", "" },
        { "\\(ti", "~" }, { "\\(ha", "^" }, { "\\e", "\\" },  { "\\\\", "\\" },
        { "\\*(Aq", "'" }, { "\\-", "-" },  { "\\(aq", "'" },
        { "\\(ga", "`" }, { "\\~", "~" },   { "\\^", "^" },
    };
    enum { ESCAPES = sizeof escapes / sizeof escapes[0] };
    char *to = line;
    for (const char *from = line; *from;) {
        size_t e = 0;
        while (e < ESCAPES && strncmp(from, escapes[e].from,
                                      strlen(escapes[e].from)) != 0)
            e++;
        if (e == ESCAPES) {
            *to++ = *from++;
            continue;
        }
        from += strlen(escapes[e].from);
        for (const char *c = escapes[e].to; *c; c++)
            *to++ = *c;
    }
    *to = '\0';
}

/* The next line of text, without the requests that stand around it. */
static const char *next_line(FILE *file)
{
    static char line[400];
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\n")] = '\0';
        bool request = line[0] == '.' || line[0] == '\'';
        if (!request && line[0]) {
            undo(line);
            return line;
        }
    }
    return NULL;
}

static void odd_characters_come_out_of_scdoc_as_they_went_in(void **state)
{
    (void)state;
    char name[] = "/tmp/halfturn-odd-XXXXXX", command[100];
    struct ht_text page = { 0 };
    if (system("command -v scdoc >/dev/null") != 0)
        skip();
    put_page(&page);
    int made = mkstemp(name);
    assert_true(made >= 0);
    assert_int_equal(write(made, page.bytes, page.length), page.length);
    assert_int_equal(close(made), 0);
    (void)snprintf(command, sizeof command, "scdoc <%s >%s.5", name, name);
    assert_int_equal(system(command), 0);
    (void)snprintf(command, sizeof command, "%s.5", name);
    FILE *file = fopen(command, "r");
    assert_non_null(file);
    for (size_t i = 0; i < ODD; i++)
        for (int form = 0; form < 4; form++) {
            const char *line = next_line(file);
            if (!line || strcmp(line, odd[i]) != 0)
                fail_msg("form %d of '%s' is '%s'", form, odd[i],
                         line ? line : "gone");
        }
    assert_null(next_line(file));
    (void)fclose(file);
    assert_int_equal(unlink(command), 0);
    assert_int_equal(unlink(name), 0);
    ht_text_free(&page);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marks_are_escaped_and_line_ends_are_blanks),
        cmocka_unit_test(odd_characters_come_out_of_scdoc_as_they_went_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
