/* The sheet's page, which is Markdown, in the form of a manual page. */
#include "manual.h"

#include "scdoc.h"

#include "command/texts_manual.h"
#include "halfturn/sheet.h"

#include <ctype.h>
#include <string.h>

/* A line's text: `code` in bold, the rest escaped. */
static void inline_text(struct ht_text *text, const char *line, size_t length)
{
    bool code = false;
    for (size_t from = 0; from < length;) {
        const char *tick = memchr(line + from, '`', length - from);
        size_t to = tick ? (size_t)(tick - line) : length;
        scdoc_text(text, line + from, to - from);
        if (tick)
            ht_text_add(text, "*");
        code = tick ? !code : code;
        from = to + 1;
    }
}

/* The cells of a table's row; a bar inside one is written \|. */
struct cells {
    char text[5][400];
};

static void cut_cells(struct cells *cells, const char *line, size_t length)
{
    size_t cell = 0, n = 0;
    *cells = (struct cells){ 0 };
    for (size_t i = 2; i < length && cell < 5; i++) {
        bool escaped = line[i] == '\\' && i + 1 < length && line[i + 1] == '|';
        if (line[i] == '|') {
            while (n > 0 && cells->text[cell][n - 1] == ' ')
                n--;
            cells->text[cell++][n] = '\0';
            n = 0;
            i += i + 1 < length && line[i + 1] == ' ';
        } else if (!escaped && n + 1 < sizeof cells->text[0])
            cells->text[cell][n++] = line[i];
    }
}

/* A cell as it stands in the page. */
static const char *inline_cell(struct ht_text *room, const char *cell)
{
    inline_text(room, cell, strlen(cell));
    return ht_text_get(room);
}

static void put_kind(struct ht_text *text, const struct cells *cells)
{
    struct ht_text room[3] = { { 0 }, { 0 }, { 0 } };
    const char *kind = inline_cell(&room[0], cells->text[1]);
    const char *unit = inline_cell(&room[1], cells->text[2]);
    const char *range = inline_cell(&room[2], cells->text[3]);
    if (unit[0] && range[0])
        ht_text_addf(text, MANUAL_KIND_UNIT_RANGE, kind, unit, range);
    else if (unit[0])
        ht_text_addf(text, MANUAL_KIND_UNIT, kind, unit);
    else if (range[0])
        ht_text_addf(text, MANUAL_KIND_RANGE, kind, range);
    else
        ht_text_addf(text, MANUAL_KIND, kind);
    for (size_t i = 0; i < 3; i++)
        ht_text_end(text, &room[i]);
}

/* "| `key` | kind | unit | plausible | meaning |" */
static void put_row(struct ht_text *text, const char *line, size_t length)
{
    struct cells cells;
    cut_cells(&cells, line, length);
    inline_text(text, cells.text[0], strlen(cells.text[0]));
    ht_text_add(text, "\n\t");
    inline_text(text, cells.text[4], strlen(cells.text[4]));
    put_kind(text, &cells);
}

static void put_upper(struct ht_text *text, const char *name, size_t length)
{
    ht_text_add(text, "# ");
    for (size_t i = 0; i < length; i++) {
        char c = (char)toupper((unsigned char)name[i]);
        scdoc_text(text, &c, 1);
    }
    ht_text_add(text, "\n");
}

/* The title becomes DESCRIPTION, second headings sections, deeper ones
 * subsections; the first table stands under KEYS. */
static void put_title(struct ht_text *text, const char *line, size_t length)
{
    size_t level = strspn(line, "#");
    const char *name = line + level + 1;
    length -= level + 1;
    if (level == 1)
        ht_text_add(text, "# DESCRIPTION\n");
    else if (level == 2 && strncmp(name, "sheet", length) == 0)
        ht_text_add(text, "# KEYS\n");
    else if (level == 2) {
        put_upper(text, name, length);
    } else {
        ht_text_add(text, "## ");
        scdoc_text(text, name, length);
        ht_text_add(text, "\n");
    }
}

static void put_line(struct ht_text *text, const char *line, size_t length)
{
    if (line[0] == '#')
        put_title(text, line, length);
    else if (strncmp(line, "| `", 3) == 0)
        put_row(text, line, length);
    else if (line[0] == '|')
        return; /* the head of a table */
    else {
        size_t bullet = strncmp(line, "- ", 2) == 0 ? 2 : 0;
        ht_text_add_bytes(text, line, bullet);
        inline_text(text, line + bullet, length - bullet);
        ht_text_add(text, "\n");
    }
}

void manual_sheet(struct ht_text *text)
{
    struct ht_text page = { 0 };
    ht_sheet_page(&page);
    const char *start = strstr(ht_text_get(&page), "-->\n");
    bool code = false;
    for (const char *line = start ? start + 4 : ht_text_get(&page); *line;) {
        size_t length = strcspn(line, "\n");
        bool fence = strncmp(line, "```", 3) == 0;
        code = fence ? !code : code;
        if (fence)
            ht_text_add(text, "```\n");
        else if (code)
            scdoc_literal_line(text, line, length);
        else
            put_line(text, line, length);
        line += length + (line[length] == '\n');
    }
    ht_text_add(text, "\n");
    ht_text_end(text, &page);
}
