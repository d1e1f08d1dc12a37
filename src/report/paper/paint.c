#include "paint.h"

#include "paint_parts.h"
#include "paper.h"

#include "report/tags.h"
#include "report/texts_figures.h"

#include <math.h>

/* ---- colours and lines -------------------------------------------------- */

/* #RRGGBB; false: none, or nothing said and `otherwise` is none. */
static bool set_colour(struct paper *paper, const struct tag *tag,
                       const char *attribute, bool otherwise)
{
    struct piece value = tag_value(tag, attribute);
    double part[3] = { 0 };
    if (value.length == 0 && !otherwise)
        return false;
    if (value.length == 7)
        for (int i = 0; i < 6; i++) {
            char c = value.at[1 + i];
            int digit = c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10;
            part[i / 2] = 16 * part[i / 2] + digit;
        }
    else if (value.length)
        return false;
    cairo_set_source_rgba(paper->cairo, part[0] / 255, part[1] / 255,
                          part[2] / 255, tag_number(tag, "opacity", 1));
    return true;
}

static void set_dashes(struct paper *paper, const struct tag *tag)
{
    struct piece list = tag_value(tag, "stroke-dasharray");
    double dash[8];
    int count = 0;
    while (count < 8 && piece_number(&list, &dash[count]))
        count++;
    cairo_set_dash(paper->cairo, dash, count, 0);
}

static void stroke(struct paper *paper, const struct tag *tag)
{
    struct piece join = tag_value(tag, "stroke-linejoin");
    cairo_set_line_width(paper->cairo, tag_number(tag, "stroke-width", 1));
    cairo_set_line_join(paper->cairo, piece_is(&join, "round")
                                          ? CAIRO_LINE_JOIN_ROUND
                                          : CAIRO_LINE_JOIN_MITER);
    set_dashes(paper, tag);
    cairo_stroke(paper->cairo);
}

/* Fills and outlines the path, and forgets it. */
static void paint(struct paper *paper, const struct tag *tag)
{
    if (set_colour(paper, tag, "fill", true))
        cairo_fill_preserve(paper->cairo);
    if (set_colour(paper, tag, "stroke", false))
        stroke(paper, tag);
    cairo_new_path(paper->cairo);
}

/* ---- elements ----------------------------------------------------------- */

/* Pixels, or parts in 100 of the drawing's width. */
static double length(const struct paper *paper, const struct tag *tag,
                     const char *attribute)
{
    struct piece value = tag_value(tag, attribute);
    double number;
    if (!piece_number(&value, &number))
        return 0;
    return value.length && *value.at == '%' ? number * paper->across / 100
                                            : number;
}

static bool paint_rect(struct paper *paper, const struct tag *tag)
{
    double x = length(paper, tag, "x"), y = length(paper, tag, "y");
    double width = length(paper, tag, "width");
    double height = length(paper, tag, "height");
    double r = fmin(tag_number(tag, "rx", 0), fmin(width, height) / 2);
    if (!(width > 0) || !(height > 0))
        return true;
    if (r > 0) {
        cairo_arc(paper->cairo, x + r, y + r, r, G_PI, -G_PI / 2);
        cairo_arc(paper->cairo, x + width - r, y + r, r, -G_PI / 2, 0);
        cairo_arc(paper->cairo, x + width - r, y + height - r, r, 0, G_PI / 2);
        cairo_arc(paper->cairo, x + r, y + height - r, r, G_PI / 2, G_PI);
        cairo_close_path(paper->cairo);
    } else {
        cairo_rectangle(paper->cairo, x, y, width, height);
    }
    paint(paper, tag);
    return true;
}

static bool paint_line(struct paper *paper, const struct tag *tag)
{
    cairo_move_to(paper->cairo, length(paper, tag, "x1"),
                  length(paper, tag, "y1"));
    cairo_line_to(paper->cairo, length(paper, tag, "x2"),
                  length(paper, tag, "y2"));
    paint(paper, tag);
    return true;
}

static bool paint_circle(struct paper *paper, const struct tag *tag)
{
    cairo_arc(paper->cairo, length(paper, tag, "cx"), length(paper, tag, "cy"),
              tag_number(tag, "r", 0), 0, 2 * G_PI);
    cairo_close_path(paper->cairo);
    paint(paper, tag);
    return true;
}

static bool paint_path(struct paper *paper, const struct tag *tag)
{
    struct piece d = tag_value(tag, "d");
    bool known = paint_trace(paper->cairo, d);
    paint(paper, tag);
    return known;
}

static bool paint_image(struct paper *paper, const struct tag *tag)
{
    cairo_surface_t *image = paint_picture(tag_value(tag, "xlink:href"));
    double width = cairo_image_surface_get_width(image);
    double height = cairo_image_surface_get_height(image);
    bool known = width > 0 && height > 0;
    if (known) {
        cairo_save(paper->cairo);
        cairo_translate(paper->cairo, tag_number(tag, "x", 0),
                        tag_number(tag, "y", 0));
        cairo_scale(paper->cairo, tag_number(tag, "width", width) / width,
                    tag_number(tag, "height", height) / height);
        cairo_set_source_surface(paper->cairo, image, 0, 0);
        cairo_pattern_set_filter(cairo_get_source(paper->cairo),
                                 CAIRO_FILTER_NEAREST);
        cairo_paint(paper->cairo);
        cairo_restore(paper->cairo);
    }
    cairo_surface_destroy(image);
    return known;
}

/* A drawing within the drawing, at its place. */
static bool paint_svg(struct paper *paper, const struct tag *tag)
{
    cairo_save(paper->cairo);
    cairo_translate(paper->cairo, length(paper, tag, "x"),
                    length(paper, tag, "y"));
    return true;
}

static void set_font(struct paper *paper, const struct tag *tag)
{
    struct piece weight = tag_value(tag, "font-weight");
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family(font, paper_font);
    pango_font_description_set_weight(font, piece_is(&weight, "700")
                                                ? PANGO_WEIGHT_BOLD
                                                : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(
        font, tag_number(tag, "font-size", 12) * PANGO_SCALE);
    pango_layout_set_font_description(paper->layout, font);
    pango_font_description_free(font);
}

static bool paint_text(struct paper *paper, const struct tag *tag)
{
    struct ht_text text = { 0 };
    struct piece anchor = tag_value(tag, "text-anchor");
    int width;
    piece_unescape(&text, &tag->text);
    set_font(paper, tag);
    pango_layout_set_text(paper->layout, ht_text_get(&text), -1);
    pango_layout_get_size(paper->layout, &width, NULL);
    double share = piece_is(&anchor, "middle") ? 0.5
                   : piece_is(&anchor, "end") ? 1
                                              : 0;
    double up = (double)pango_layout_get_baseline(paper->layout) / PANGO_SCALE;
    cairo_move_to(paper->cairo,
                  tag_number(tag, "x", 0) - share * width / PANGO_SCALE,
                  tag_number(tag, "y", 0) - up);
    if (paper->tagged && tag_value(tag, "stroke").length == 0) {
        if (set_colour(paper, tag, "fill", true))
            pango_cairo_show_layout(paper->cairo, paper->layout);
        cairo_new_path(paper->cairo);
    } else {
        pango_cairo_layout_path(paper->cairo, paper->layout);
        paint(paper, tag);
    }
    paper->lost = paper->lost || text.failed;
    ht_text_free(&text);
    return true;
}

static bool paint_group(struct paper *paper, const struct tag *tag)
{
    cairo_save(paper->cairo);
    return paint_transform(paper->cairo, tag_value(tag, "transform"));
}

static bool paint_nothing(struct paper *paper, const struct tag *tag)
{
    (void)paper;
    (void)tag;
    return true;
}

/* ---- the whole ---------------------------------------------------------- */

static bool paint_element(struct paper *paper, const struct tag *tag)
{
    static const struct {
        const char *name;
        bool (*paint)(struct paper *paper, const struct tag *tag);
    } elements[] = {
        { "rect", paint_rect },     { "line", paint_line },
        { "circle", paint_circle }, { "path", paint_path },
        { "text", paint_text },     { "image", paint_image },
        { "g", paint_group },       { "svg", paint_svg },
        { "title", paint_nothing }, { "desc", paint_nothing },
    };
    if (tag->closes) {
        if (piece_is(&tag->name, "g") || piece_is(&tag->name, "svg"))
            cairo_restore(paper->cairo);
        return true;
    }
    for (size_t i = 0; i < sizeof elements / sizeof *elements; i++)
        if (piece_is(&tag->name, elements[i].name))
            return elements[i].paint(paper, tag);
    return false;
}

static bool paint_all(struct paper *paper, const char *at)
{
    bool known = true;
    while (known && *at) {
        struct tag tag;
        at = tag_read(&tag, at);
        known = at && paint_element(paper, &tag);
        if (!at)
            break;
    }
    return known;
}

bool paint_on_paper(struct paper *paper, const char *elements)
{
    pango_layout_set_width(paper->layout, -1);
    pango_layout_set_height(paper->layout, -1);
    pango_layout_set_alignment(paper->layout, PANGO_ALIGN_LEFT);
    pango_layout_set_ellipsize(paper->layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_attributes(paper->layout, paper->plain);
    bool known = paint_all(paper, elements);
    cairo_set_source_rgb(paper->cairo, 0, 0, 0);
    cairo_set_dash(paper->cairo, NULL, 0, 0);
    return known;
}

static enum ht_status paint_on(struct paper *paper, const char *elements,
                               struct ht_error *err)
{
    enum ht_status status = paper_letters(paper, err);
    if (status == HT_OK && !paint_all(paper, elements))
        status = ht_fail(err, FIGURE_NOT_READ);
    if (status == HT_OK)
        paper_png(paper);
    enum ht_status closed = paper_close(paper, status == HT_OK ? err : NULL);
    return status == HT_OK ? closed : status;
}

enum ht_status paint_png(struct ht_text *out, const struct ht_text *svg,
                         struct ht_error *err)
{
    struct tag root;
    struct paper paper = { .out = out };
    const char *elements = tag_read(&root, ht_text_get(svg));
    if (!elements)
        return ht_fail(err, FIGURE_NOT_READ);
    paper.width = tag_number(&root, "width", 1);
    paper.height = tag_number(&root, "height", 1);
    paper.surface = cairo_image_surface_create(
        CAIRO_FORMAT_RGB24, (int)ceil(PAINT_SCALE * paper.width),
        (int)ceil(PAINT_SCALE * paper.height));
    paper.cairo = cairo_create(paper.surface);
    cairo_save(paper.cairo); /* the end of the root restores it */
    cairo_scale(paper.cairo, PAINT_SCALE, PAINT_SCALE);
    return paint_on(&paper, elements, err);
}
