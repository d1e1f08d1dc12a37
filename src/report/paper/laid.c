#include "laid.h"

#include <string.h>

#define INK2 0.255, 0.306, 0.357 /* #414E5B, as on the page */

/* ---- marks -------------------------------------------------------------- */

struct marks {
    struct ht_text text;
    PangoAttrList *list;
    guint bold_from, paint_from;
};

static void add_mark(struct marks *marks, PangoAttribute *mark, guint from)
{
    mark->start_index = from;
    mark->end_index = (guint)marks->text.length;
    pango_attr_list_insert(marks->list, mark);
}

/* Over a limit: behind paint and underlined, so that it shows in grey too. */
static void add_paint(struct marks *marks, guint from)
{
    add_mark(marks, pango_attr_weight_new(PANGO_WEIGHT_BOLD), from);
    add_mark(marks, pango_attr_underline_new(PANGO_UNDERLINE_SINGLE), from);
    add_mark(marks, pango_attr_background_new(0xFFFF, 0xD8D8, 0x4D4D), from);
}

static void take_tag(struct marks *marks, const struct tag *tag)
{
    guint now = (guint)marks->text.length;
    bool bold = piece_is(&tag->name, "b");
    bool paint = piece_is(&tag->name, "mark");
    if (bold && tag->closes)
        add_mark(marks, pango_attr_weight_new(PANGO_WEIGHT_BOLD),
                 marks->bold_from);
    else if (bold)
        marks->bold_from = now;
    if (paint && tag->closes)
        add_paint(marks, marks->paint_from);
    else if (paint)
        marks->paint_from = now;
}

static void read_marks(struct marks *marks, const struct piece *words)
{
    const char *at = words->at, *end = words->at + words->length;
    struct piece plain = { at, 0 };
    while (at + plain.length < end && at[plain.length] != '<')
        plain.length++;
    piece_unescape(&marks->text, &plain);
    at += plain.length;
    while (at < end) {
        struct tag tag;
        const char *next = tag_read(&tag, at);
        if (!next)
            return;
        take_tag(marks, &tag);
        piece_unescape(&marks->text, &tag.text);
        at = next;
    }
}

/* No line ends within "rad/s" or "km/h". */
static void hold_units(struct marks *marks)
{
    const char *text = ht_text_get(&marks->text), *slash = text;
    for (; (slash = strchr(slash, '/')); slash++) {
        PangoAttribute *hold = pango_attr_allow_breaks_new(FALSE);
        hold->start_index = (guint)(slash - text);
        hold->end_index = hold->start_index + 2;
        pango_attr_list_insert(marks->list, hold);
    }
}

/* ---- lines -------------------------------------------------------------- */

void lay_words(struct paper *paper, const struct manner *manner,
               const struct piece *words)
{
    const struct paper_style style = {
        manner->points, manner->bold, false,
        manner->at_right ? PAPER_RIGHT : PAPER_LEFT, manner->lines
    };
    struct marks marks = { .list = pango_attr_list_copy(paper->plain) };
    read_marks(&marks, words);
    hold_units(&marks);
    paper_lay_out(paper, manner->width, style, ht_text_get(&marks.text));
    pango_layout_set_attributes(paper->layout, marks.list);
    paper->lost = paper->lost || marks.text.failed;
    pango_attr_list_unref(marks.list);
    ht_text_free(&marks.text);
}

size_t laid_lines(const struct paper *paper)
{
    return (size_t)pango_layout_get_line_count(paper->layout);
}

/* Top and foot of a line, mm. */
struct extent {
    double from, to;
};

static struct extent extent_of(PangoLayoutIter *at)
{
    int y0, y1;
    pango_layout_iter_get_line_yrange(at, &y0, &y1);
    return (struct extent){ (double)y0 / PANGO_SCALE,
                            (double)y1 / PANGO_SCALE };
}

static PangoLayoutIter *line_at(const struct paper *paper, size_t index)
{
    PangoLayoutIter *at = pango_layout_get_iter(paper->layout);
    for (size_t i = 0; i < index && pango_layout_iter_next_line(at); i++)
        ;
    return at;
}

double laid_height(const struct paper *paper, size_t from, size_t count)
{
    if (count == 0 || from >= laid_lines(paper))
        return 0;
    PangoLayoutIter *at = line_at(paper, from);
    double top = extent_of(at).from, foot = extent_of(at).to;
    for (size_t i = 1; i < count && pango_layout_iter_next_line(at); i++)
        foot = extent_of(at).to;
    pango_layout_iter_free(at);
    return foot - top;
}

size_t laid_fit(const struct paper *paper, size_t from, double height)
{
    size_t fits = 0, left = laid_lines(paper) - from;
    PangoLayoutIter *at = line_at(paper, from);
    double top = extent_of(at).from;
    while (fits < left && extent_of(at).to - top <= height) {
        fits++;
        (void)pango_layout_iter_next_line(at);
    }
    pango_layout_iter_free(at);
    return fits;
}

void show_laid(struct paper *paper, const struct manner *manner, double x,
               double y, size_t from, size_t count)
{
    PangoLayoutIter *at = line_at(paper, from);
    double top = extent_of(at).from;
    if (manner->grey)
        cairo_set_source_rgb(paper->cairo, INK2);
    for (size_t i = 0; i < count; i++) {
        PangoRectangle line;
        pango_layout_iter_get_line_extents(at, NULL, &line);
        double baseline =
            (double)pango_layout_iter_get_baseline(at) / PANGO_SCALE;
        cairo_move_to(paper->cairo, x + (double)line.x / PANGO_SCALE,
                      y + baseline - top);
        paper_show_line(paper, pango_layout_iter_get_line(at));
        (void)pango_layout_iter_next_line(at);
    }
    pango_layout_iter_free(at);
    cairo_set_source_rgb(paper->cairo, 0, 0, 0);
}
