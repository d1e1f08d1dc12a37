#include "figure.h"

#include "markup.h"

#include <math.h>

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
