#include "alone.h"

#include "figure.h"
#include "markup.h"
#include "styles.h"
#include "texts.h"
#include "texts_figures.h"

#include <math.h>
#include <string.h>

enum { MARGIN = 20, TITLE = 34 };

/* ---- element by element ------------------------------------------------- */

/* Everything but its classes; old viewers know only xlink's href. */
static void put_attributes(struct ht_text *out, const struct tag *tag)
{
    for (size_t i = 0; i < tag->attributes; i++) {
        if (piece_is(&tag->attribute[i], "class"))
            continue;
        ht_text_add(out, " ");
        if (piece_is(&tag->attribute[i], "href"))
            ht_text_add(out, "xlink:");
        ht_text_add_bytes(out, tag->attribute[i].at, tag->attribute[i].length);
        ht_text_add(out, "=\"");
        ht_text_add_bytes(out, tag->value[i].at, tag->value[i].length);
        ht_text_add(out, "\"");
    }
}

static void put_tag(struct ht_text *out, const struct tag *tag,
                    const struct ht_text *style, const char *more)
{
    ht_text_add(out, "<");
    ht_text_add_bytes(out, tag->name.at, tag->name.length);
    ht_text_add(out, more);
    put_attributes(out, tag);
    ht_text_add_bytes(out, ht_text_get(style), style->length);
    ht_text_add(out, tag->empty ? "/>" : ">");
    ht_text_add_bytes(out, tag->text.at, tag->text.length);
}

/* Not every viewer paints the outline of letters first: they stand twice. */
static void put_halo(struct ht_text *out, const struct tag *tag,
                     const struct piece *classes, struct ht_text *style)
{
    put_tag(out, tag, style, " aria-hidden=\"true\"");
    ht_text_add(out, "</text>");
    style->length = 0;
    style_without_stroke(style, &tag->name, classes);
    put_tag(out, tag, style, "");
}

static void put_element(struct ht_text *out, const struct tag *tag)
{
    struct ht_text style = { 0 };
    struct piece classes = tag_value(tag, "class");
    if (tag->closes) {
        ht_text_add(out, "</");
        ht_text_add_bytes(out, tag->name.at, tag->name.length);
        ht_text_add(out, ">");
        ht_text_add_bytes(out, tag->text.at, tag->text.length);
        return;
    }
    bool stroke = style_attributes(&style, &tag->name, &classes);
    if (stroke && piece_is(&tag->name, "text"))
        put_halo(out, tag, &classes, &style);
    else if (!piece_is(&classes, "map-dark"))
        put_tag(out, tag, &style, "");
    ht_text_end(out, &style);
}

bool figure_styled(struct ht_text *out, const struct ht_text *from)
{
    for (const char *at = ht_text_get(from); *at;) {
        struct tag tag;
        at = tag_read(&tag, at);
        if (!at)
            return false;
        put_element(out, &tag);
    }
    return true;
}

/* ---- the whole ---------------------------------------------------------- */

static void put_head(struct ht_text *out, const struct tag *root,
                     const struct alone *about, double width, double height)
{
    struct piece label = tag_value(root, "aria-label");
    markup(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\""
           "http://www.w3.org/1999/xlink\" role=\"img\" width=\"%n\" height="
           "\"%n\" viewBox=\"0 0 %n %n\" font-family=\"%s\">\n<title>%a"
           "</title>\n<desc>", width, height, width, height,
           FIGURE_FONTS, about->title);
    ht_text_add_bytes(out, label.at, label.length);
    ht_text_add(out, "</desc>\n");
}

/* Title above, caption below, all with classes still; returns its height. */
static double put_frame(struct ht_text *out, const struct tag *root,
                        const char *inside, const struct alone *about,
                        double width)
{
    double y = MARGIN;
    figure_text(out, MARGIN, y + 15, "t15 bold", about->title);
    y += 22;
    y += figure_paragraph(out, MARGIN, y, width - 2 * MARGIN, about->of) + 12;
    markup(out, "<g transform=\"translate(%d %n)\">\n", MARGIN, y);
    ht_text_add_bytes(out, inside, strlen(inside) - strlen("</svg>\n"));
    ht_text_add(out, "</g>\n");
    y += tag_number(root, "height", 0) + 12;
    return y + MARGIN - 4 +
           figure_paragraph(out, MARGIN, y, width - 2 * MARGIN,
                            about->caption);
}

enum ht_status figure_alone(struct ht_text *out, const struct ht_text *svg,
                            const struct alone *about, struct ht_error *err)
{
    struct tag root;
    struct ht_text body = { 0 }, whole = { 0 };
    if (!ht_text_ok(svg)) {
        ht_text_fail(out);
        return HT_OK;
    }
    const char *inside = tag_read(&root, ht_text_get(svg));
    if (!inside)
        return ht_fail(err, FIGURE_NOT_READ);
    double width = tag_number(&root, "width", 0) + 2 * MARGIN;
    double height = ceil(put_frame(&body, &root, inside, about, width));
    put_head(&whole, &root, about, width, height);
    markup(&whole, "<rect class=\"clear\" width=\"%n\" height=\"%n\"/>\n",
           width, height);
    ht_text_add_bytes(&whole, ht_text_get(&body), body.length);
    ht_text_add(&whole, "</svg>\n");
    ht_text_end(out, &body);
    bool read = figure_styled(out, &whole);
    ht_text_end(out, &whole);
    return read || !ht_text_ok(out) ? HT_OK : ht_fail(err, FIGURE_NOT_READ);
}
