#include "figure.h"

#include "markup.h"
#include "shown.h"
#include "texts_figures.h"
#include "words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void figure_open(struct ht_text *out, double width, double height,
                 const char *css_class, const char *label)
{
    markup(out,
           "<svg class=\"%s\" role=\"img\" aria-label=\"%a\" width=\"%n\" "
           "height=\"%n\" viewBox=\"0 0 %n %n\">\n",
           css_class, label, width, height, width, height);
}

void figure_close(struct ht_text *out)
{
    ht_text_add(out, "</svg>\n");
}

void figure_text(struct ht_text *out, double x, double y, const char *classes,
                 const char *text)
{
    markup(out, "<text x=\"%n\" y=\"%n\" class=\"%s\">%a</text>\n", x, y,
           classes, text);
}

void figure_line(struct ht_text *out, double x1, double y1, double x2,
                 double y2, const char *classes)
{
    markup(out,
           "<line x1=\"%n\" y1=\"%n\" x2=\"%n\" y2=\"%n\" class=\"%s\"/>\n",
           x1, y1, x2, y2, classes);
}

/* Drawn as one path: a pattern needs an id, and ids must be unique on the
 * page. */
void figure_hatching(struct ht_text *out, double x, double y, double width,
                     double height)
{
    const double step = 4.5 * 1.4142; /* 4.5 apart across 45 degrees */
    if (width <= 1)
        return;
    ht_text_add(out, "<path class=\"hatch\" d=\"");
    size_t lines = (size_t)ceil((width + height) / step - 0.5);
    for (size_t i = 0; i < lines; i++) {
        double at = step * ((double)i + 0.5);
        double x1 = fmin(at, width), y1 = at - x1;
        double y2 = fmin(at, height), x2 = at - y2;
        markup(out, "M%n %nL%n %n", x + x1, y + y1, x + x2, y + y2);
    }
    ht_text_add(out, "\"/>\n");
}

void figure_disc(struct ht_text *out, double x, double y,
                 enum ht_verdict verdict)
{
    const char *disc = verdict_disc(verdict);
    markup(out, "<circle class=\"disc-ring %s\" cx=\"%n\" cy=\"%n\" r=\"5\"/>",
           disc, x, y);
    if (*disc == 'h')
        markup(out, "<path class=\"disc-half\" d=\"M%n %na5 5 0 0 0 0 10z\"/>",
               x, y - 5);
}

void figure_half_range(struct ht_text *out, const struct ht_estimate *e,
                       int decimals)
{
    if (shown_evenly(e))
        ht_text_addf(out, FIGURE_HALF_RANGE,
                     shown_number((e->high - e->low) / 2, decimals).text);
    else
        ht_text_addf(out, FIGURE_LOW_HIGH, shown_number(e->low, decimals).text,
                     shown_number(e->high, decimals).text);
}

void figure_fit(char *buffer, size_t size, const char *text, double size_px,
                double width_px)
{
    (void)snprintf(buffer, size - 4, "%s", text);
    size_t length = strlen(buffer);
    if (text[length] == '\0' && text_width_px(buffer, size_px) <= width_px)
        return;
    do {
        do
            length--;
        while (length && ((unsigned char)buffer[length] & 0xC0) == 0x80);
        buffer[length] = '\0';
    } while (length && text_width_px(buffer, size_px) > width_px - size_px);
    (void)snprintf(buffer + length, 4, "\342\200\246");
}

/* Bytes of the words that fit into one line; at least one word. */
static size_t line_of(struct ht_text *out, const char *text, double width)
{
    struct ht_text line = { 0 };
    size_t fits = 0;
    for (size_t end = 0; text[end];) {
        end += strspn(text + end, " ");
        end += strcspn(text + end, " ");
        line.length = 0;
        ht_text_add_bytes(&line, text, end);
        if (fits && text_width_px(ht_text_get(&line), 12) > width)
            break;
        fits = end;
    }
    ht_text_end(out, &line);
    return fits;
}

double figure_paragraph(struct ht_text *out, double x, double y, double width,
                        const char *text)
{
    enum { LINE = 16 };
    double height = 0;
    while (*text) {
        struct ht_text line = { 0 };
        size_t length = line_of(out, text, width);
        ht_text_add_bytes(&line, text, length);
        figure_text(out, x, y + height + 12, "t12 dim", ht_text_get(&line));
        ht_text_end(out, &line);
        text += length + strspn(text + length, " ");
        height += LINE;
    }
    return height;
}
