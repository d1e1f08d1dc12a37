/* Text, lines and marks on a page. */
#include "paper.h"

#include "report/markup.h"

#include <math.h>
#include <string.h>

#define MM_PER_POINT (25.4 / 72)
#define HAIR 0.18   /* mm: row rules */
#define THIN 0.25   /* mm: cells */
#define TICK 2.6    /* mm: side of a square to tick */

/* Holds other tags, and nothing of its own. */
static bool is_group(const char *tag)
{
    static const char *const groups[] = { "Table", "TR", "L", "LI",
                                          "LBody" };
    for (size_t i = 0; i < sizeof groups / sizeof *groups; i++)
        if (strcmp(groups[i], tag) == 0)
            return true;
    return false;
}

void paper_tag(struct paper *paper, const char *tag)
{
    if (!paper->tagged || paper->aside)
        return;
    paper->within += !is_group(tag);
    cairo_tag_begin(paper->cairo, tag, NULL);
}

void paper_untag(struct paper *paper, const char *tag)
{
    if (!paper->tagged || paper->aside)
        return;
    paper->within -= !is_group(tag);
    cairo_tag_end(paper->cairo, tag);
}

void paper_tag_around(struct paper *paper, const char *tag)
{
    if (paper->tagged && !paper->aside)
        cairo_tag_begin(paper->cairo, tag, NULL);
}

void paper_untag_around(struct paper *paper, const char *tag)
{
    if (paper->tagged && !paper->aside)
        cairo_tag_end(paper->cairo, tag);
}

void paper_figure(struct paper *paper, const char *alternative)
{
    if (paper->tagged && !paper->aside) {
        ht_text_add(&paper->alternatives, alternative);
        ht_text_add(&paper->alternatives, "\n");
    }
    paper_tag(paper, "Figure");
}

void paper_figure_end(struct paper *paper)
{
    paper_untag(paper, "Figure");
}

void paper_aside(struct paper *paper, bool aside)
{
    paper->aside = aside;
}

/* ---- text --------------------------------------------------------------- */

static const PangoAlignment alignments[] = {
    [PAPER_LEFT] = PANGO_ALIGN_LEFT,
    [PAPER_MIDDLE] = PANGO_ALIGN_CENTER,
    [PAPER_RIGHT] = PANGO_ALIGN_RIGHT,
};

const char paper_font[] = "DejaVu Sans, Sans";

void paper_lay_out(struct paper *paper, double width, struct paper_style style,
                   const char *text)
{
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family(font, paper_font);
    pango_font_description_set_weight(font, style.bold ? PANGO_WEIGHT_BOLD
                                                       : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(
        font, style.points * MM_PER_POINT * PANGO_SCALE);
    pango_layout_set_font_description(paper->layout, font);
    pango_font_description_free(font);
    pango_layout_set_alignment(paper->layout, alignments[style.align]);
    pango_layout_set_auto_dir(paper->layout, style.align != PAPER_LEFT);
    pango_layout_set_wrap(paper->layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_width(paper->layout,
                           width < 0 ? -1 : (int)(width * PANGO_SCALE));
    pango_layout_set_height(paper->layout, style.lines ? -style.lines : -1);
    pango_layout_set_single_paragraph_mode(paper->layout, style.lines == 1);
    pango_layout_set_ellipsize(paper->layout, style.lines && width >= 0
                                                  ? PANGO_ELLIPSIZE_END
                                                  : PANGO_ELLIPSIZE_NONE);
    pango_layout_set_attributes(paper->layout, paper->plain);
    pango_layout_set_text(paper->layout, text, -1);
}

static double layout_height(const struct paper *paper)
{
    int height;
    pango_layout_get_size(paper->layout, NULL, &height);
    return (double)height / PANGO_SCALE;
}

/* Pango empties the blank at which a line was broken, and Cairo writes it as
 * marked content of its own, which some readers take for the end of the tag. */
static void keep_blanks(PangoLayoutLine *line)
{
    for (GSList *at = line->runs; at; at = at->next) {
        PangoLayoutRun *run = at->data;
        PangoGlyphString *blank = pango_glyph_string_new();
        pango_shape(" ", 1, &run->item->analysis, blank);
        for (int i = 0; i < run->glyphs->num_glyphs; i++)
            if (run->glyphs->glyphs[i].glyph == PANGO_GLYPH_EMPTY)
                run->glyphs->glyphs[i].glyph = blank->glyphs[0].glyph;
        pango_glyph_string_free(blank);
    }
}

void paper_show_line(struct paper *paper, PangoLayoutLine *line)
{
    keep_blanks(line);
    pango_cairo_show_layout_line(paper->cairo, line);
    cairo_new_path(paper->cairo); /* the text left its place behind */
}

static void show(struct paper *paper)
{
    for (GSList *line = pango_layout_get_lines(paper->layout); line;
         line = line->next)
        keep_blanks(line->data);
    pango_cairo_show_layout(paper->cairo, paper->layout);
    cairo_new_path(paper->cairo); /* the text left its place behind */
}

double paper_text(struct paper *paper, double x, double y, double width,
                  struct paper_style style, const char *text)
{
    double grey = style.white ? 1 : 0;
    bool alone = paper->within == 0 && text[0];
    if (alone)
        paper_tag(paper, "P");
    paper_lay_out(paper, width, style, text);
    cairo_set_source_rgb(paper->cairo, grey, grey, grey);
    cairo_move_to(paper->cairo, x, y);
    show(paper);
    cairo_set_source_rgb(paper->cairo, 0, 0, 0);
    if (alone)
        paper_untag(paper, "P");
    return layout_height(paper);
}

double paper_text_height(struct paper *paper, double width,
                         struct paper_style style, const char *text)
{
    paper_lay_out(paper, width, style, text);
    return layout_height(paper);
}

double paper_text_width(struct paper *paper, struct paper_style style,
                        const char *text)
{
    int width;
    paper_lay_out(paper, -1, style, text);
    pango_layout_get_size(paper->layout, &width, NULL);
    return (double)width / PANGO_SCALE;
}

double paper_put(struct paper *paper, double x, double y, double width,
                 struct paper_style style, struct ht_text *text)
{
    double height = paper_text(paper, x, y, width, style, ht_text_get(text));
    paper->lost = paper->lost || text->failed;
    ht_text_free(text);
    return height;
}

/* ---- lines and boxes ---------------------------------------------------- */

static void stroke(struct paper *paper, double thick)
{
    cairo_set_line_width(paper->cairo, thick);
    cairo_stroke(paper->cairo);
}

void paper_line(struct paper *paper, double x1, double y1, double x2,
                double y2, double thick)
{
    cairo_move_to(paper->cairo, x1, y1);
    cairo_line_to(paper->cairo, x2, y2);
    stroke(paper, thick);
}

void paper_dotted(struct paper *paper, double x1, double y1, double x2,
                  double y2)
{
    static const double gaps[] = { 0.3, 0.7 };
    cairo_set_dash(paper->cairo, gaps, 2, 0);
    paper_line(paper, x1, y1, x2, y2, THIN);
    cairo_set_dash(paper->cairo, NULL, 0, 0);
}

void paper_box(struct paper *paper, double x, double y, double width,
               double height, double thick)
{
    cairo_rectangle(paper->cairo, x, y, width, height);
    stroke(paper, thick);
}

void paper_fill(struct paper *paper, double x, double y, double width,
                double height)
{
    cairo_rectangle(paper->cairo, x, y, width, height);
    cairo_fill(paper->cairo);
}

double paper_tick(struct paper *paper, double x, double y, const char *word)
{
    static const struct paper_style style = { .points = PAPER_SMALL };
    paper_box(paper, x, y + 0.35, TICK, TICK, THIN);
    (void)paper_text(paper, x + TICK + 1, y, -1, style, word);
    return TICK + 1 + paper_text_width(paper, style, word);
}

void paper_field(struct paper *paper, double x, double y, double width,
                 const char *word, const char *unit)
{
    static const struct paper_style style = { .points = PAPER_SMALL };
    double head = paper_text_width(paper, style, word);
    double tail = unit[0] ? paper_text_width(paper, style, unit) + 1 : 0;
    (void)paper_text(paper, x, y, -1, style, word);
    paper_line(paper, x + head + 1, y + 3.3, x + width - tail, y + 3.3, HAIR);
    if (unit[0])
        (void)paper_text(paper, x + width - tail + 1, y, -1, style, unit);
}

/* ---- marks -------------------------------------------------------------- */

static void letter_outline(struct paper *paper, double x, double y,
                           double radius, bool square)
{
    if (square)
        cairo_rectangle(paper->cairo, x - radius, y - radius, 2 * radius,
                        2 * radius);
    else
        cairo_arc(paper->cairo, x, y, radius, 0, 2 * G_PI);
}

void paper_letter(struct paper *paper, double x, double y, double radius,
                  const char *letter, bool filled, bool square)
{
    struct paper_style style = { .points = radius * 3.6, .bold = true,
                                 .white = filled, .align = PAPER_MIDDLE };
    letter_outline(paper, x, y, radius, square);
    if (filled)
        cairo_fill_preserve(paper->cairo);
    else {
        cairo_set_source_rgb(paper->cairo, 1, 1, 1);
        cairo_fill_preserve(paper->cairo);
        cairo_set_source_rgb(paper->cairo, 0, 0, 0);
    }
    stroke(paper, 0.35);
    double height = paper_text_height(paper, 4 * radius, style, letter);
    (void)paper_text(paper, x - 2 * radius, y - height / 2, 4 * radius, style,
                     letter);
}

void paper_arrow(struct paper *paper, double x1, double x2, double y)
{
    double back = x2 < x1 ? 1.8 : -1.8;
    paper_line(paper, x1, y, x2 + back / 2, y, THIN);
    cairo_move_to(paper->cairo, x2, y);
    cairo_line_to(paper->cairo, x2 + back, y - 0.8);
    cairo_line_to(paper->cairo, x2 + back, y + 0.8);
    cairo_close_path(paper->cairo);
    cairo_fill(paper->cairo);
}
