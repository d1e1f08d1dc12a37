#include "paint_parts.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

static void skip(struct piece *piece, size_t bytes)
{
    piece->at += bytes;
    piece->length -= bytes;
}

static bool numbers(struct piece *list, double *number, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!piece_number(list, &number[i]))
            return false;
    return true;
}

/* ---- paths -------------------------------------------------------------- */

/* SVG 1.1, appendix F.6.5, for a circle. */
static bool trace_arc(cairo_t *cairo, const double *n, double x, double y)
{
    bool large = n[3] != 0, sweep = n[4] != 0;
    double x0, y0;
    cairo_get_current_point(cairo, &x0, &y0);
    double half = hypot(x - x0, y - y0) / 2;
    double r = fmax(n[0], half);
    if (!(half > 0))
        return true;
    double off = sqrt(r * r - half * half) / (2 * half);
    double side = large == sweep ? -1 : 1;
    double cx = (x0 + x) / 2 - side * off * (y - y0);
    double cy = (y0 + y) / 2 + side * off * (x - x0);
    double from = atan2(y0 - cy, x0 - cx), to = atan2(y - cy, x - cx);
    if (sweep)
        cairo_arc(cairo, cx, cy, r, from, to);
    else
        cairo_arc_negative(cairo, cx, cy, r, from, to);
    return true;
}

static bool move(cairo_t *cairo, char kind, const double *n)
{
    (kind == 'M' ? cairo_move_to : cairo_line_to)(cairo, n[0], n[1]);
    return true;
}

/* Small letters count from where the pen is. */
static bool trace_step(cairo_t *cairo, char letter, struct piece *list)
{
    double n[7], x, y;
    char kind = letter >= 'a' ? (char)(letter - 'a' + 'A') : letter;
    cairo_get_current_point(cairo, &x, &y); /* 0, 0 where there is none */
    double dx = kind == letter ? 0 : x, dy = kind == letter ? 0 : y;
    switch (kind) {
    case 'M':
    case 'L':
        return numbers(list, n, 2) &&
               move(cairo, kind, (double[]){ n[0] + dx, n[1] + dy });
    case 'H':
        return numbers(list, n, 1) &&
               move(cairo, kind, (double[]){ n[0] + dx, y });
    case 'V':
        return numbers(list, n, 1) &&
               move(cairo, kind, (double[]){ x, n[0] + dy });
    case 'A':
        return numbers(list, n, 7) && n[0] == n[1] &&
               trace_arc(cairo, n, n[5] + dx, n[6] + dy);
    case 'Z':
        cairo_close_path(cairo);
        return true;
    default:
        return false;
    }
}

bool paint_trace(cairo_t *cairo, struct piece d)
{
    while (d.length) {
        char letter = *d.at;
        skip(&d, 1);
        if (!trace_step(cairo, letter, &d))
            return false;
    }
    return true;
}

/* ---- transforms --------------------------------------------------------- */

static bool starts(struct piece *list, const char *word)
{
    size_t length = strlen(word);
    if (list->length < length || memcmp(list->at, word, length) != 0)
        return false;
    skip(list, length);
    return true;
}

/* A word, '(' and its numbers. */
static bool takes(struct piece *list, const char *word, double *n, size_t count)
{
    return starts(list, word) && starts(list, "(") && numbers(list, n, count);
}

static bool transform_step(cairo_t *cairo, struct piece *list)
{
    double n[2];
    if (takes(list, "translate", n, 2))
        cairo_translate(cairo, n[0], n[1]);
    else if (takes(list, "rotate", n, 1))
        cairo_rotate(cairo, n[0] * pi / 180);
    else if (takes(list, "scale", n, 2))
        cairo_scale(cairo, n[0], n[1]);
    else
        return false;
    return starts(list, ")");
}

bool paint_transform(cairo_t *cairo, struct piece list)
{
    while (list.length) {
        if (!transform_step(cairo, &list))
            return false;
        (void)starts(&list, " ");
    }
    return true;
}

/* ---- pictures ----------------------------------------------------------- */

/* RFC 4648, section 4; -1: none of its digits. */
static int digit_of(char c)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnop"
                                 "qrstuvwxyz0123456789+/";
    const char *at = c ? strchr(digits, c) : NULL;
    return at ? (int)(at - digits) : -1;
}

struct reader {
    struct piece left;
    unsigned word, bits;
};

static cairo_status_t give(void *closure, unsigned char *bytes,
                           unsigned length)
{
    struct reader *reader = closure;
    while (length) {
        int digit = reader->left.length ? digit_of(*reader->left.at) : -1;
        if (digit < 0)
            return CAIRO_STATUS_READ_ERROR;
        skip(&reader->left, 1);
        reader->word = (reader->word << 6 | (unsigned)digit) & 0xFFFFU;
        reader->bits += 6;
        if (reader->bits >= 8) {
            reader->bits -= 8;
            *bytes++ = (unsigned char)(reader->word >> reader->bits & 0xFFU);
            length--;
        }
    }
    return CAIRO_STATUS_SUCCESS;
}

cairo_surface_t *paint_picture(struct piece address)
{
    struct reader reader = { address, 0, 0 };
    if (!starts(&reader.left, "data:image/png;base64,"))
        reader.left.length = 0;
    return cairo_image_surface_create_from_png_stream(give, &reader);
}
