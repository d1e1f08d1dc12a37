/* How every line of arithmetic is written. */
#include "explain.h"

#include "lines.h"
#include "markup.h"
#include "shown.h"

#include "common/constants.h"

#include <math.h>

/* ---- lines -------------------------------------------------------------- */

void explain_open(struct ht_text *line, const char *name, size_t number)
{
    *line = (struct ht_text){ 0 };
    ht_text_addf(line, name, number);
}

double explain_number(struct ht_text *line, double value, int decimals)
{
    value = explain_rounded(value, decimals);
    ht_text_add(line, shown_number(value, decimals).text);
    return value;
}

double explain_size(struct ht_text *line, double value, int decimals)
{
    return explain_number(line, fabs(value), decimals);
}

double explain_result(struct ht_text *line, double value, int decimals)
{
    ht_text_add(line, " = ");
    return explain_number(line, value, decimals);
}

void explain_close(struct explain *explain, struct ht_text *line)
{
    put_paragraph(explain->out, "  - ", ht_text_get(line));
    ht_text_end(explain->out, line);
}

void explain_heading(struct explain *explain, const char *text)
{
    ht_text_add(explain->out, "\n");
    put_paragraph(explain->out, "", text);
}

void explain_sentence(struct explain *explain, const char *text)
{
    put_paragraph(explain->out, "  ", text);
}

void explain_made(struct explain *explain, struct ht_text *text)
{
    explain_sentence(explain, ht_text_get(text));
    ht_text_end(explain->out, text);
}

double in_degrees(double rad)
{
    return rad * HT_DEG_PER_RAD;
}

/* As it stands in a line. */
double explain_rounded(double value, int decimals)
{
    double scale = pow(10, decimals);
    double rounded = round(value * scale) / scale;
    return rounded == 0 ? 0 : rounded; /* no minus before a zero */
}

double explain_given(struct explain *explain, const char *name, size_t number,
                     double value, int decimals)
{
    struct ht_text line;
    explain_open(&line, name, number);
    value = explain_number(&line, value, decimals);
    explain_close(explain, &line);
    return value;
}

double explain_next(struct ht_text *line, double value, int decimals,
                    bool first)
{
    if (first)
        return explain_number(line, value, decimals);
    ht_text_add(line, value < 0 ? " " MINUS " " : " + ");
    double size = explain_size(line, value, decimals);
    return value < 0 ? -size : size;
}

double explain_less(struct ht_text *line, double value, int decimals)
{
    value = explain_rounded(value, decimals);
    ht_text_add(line, value < 0 ? " " MINUS " (" : " " MINUS " ");
    (void)explain_number(line, value, decimals);
    ht_text_add(line, value < 0 ? ")" : "");
    return value;
}

double explain_squared(struct ht_text *line, double value)
{
    value = explain_size(line, value, EXPLAIN_DEGREES);
    ht_text_add(line, SQUARED);
    return value * value;
}
