/* Figures that leave the page: what stands in the file, and which pixels. */
#include "close.h"

#include "report/alone.h"
#include "report/figure.h"
#include "report/markup.h"
#include "report/paper/paint.h"
#include "report/styles.h"

#include <math.h>
#include <png.h>
#include <stdlib.h>
#include <string.h>

static const struct alone about = { "Shake", "a <made-up> case", "caption" };

static struct ht_text alone_of(const struct ht_text *svg)
{
    struct ht_text out = { 0 };
    struct ht_error err = { 0 };
    if (figure_alone(&out, svg, &about, &err) != HT_OK)
        fail_msg("%s", err.text);
    assert_true(ht_text_ok(&out));
    return out;
}

/* ---- styles ------------------------------------------------------------- */

static void style_is(const char *element, const char *classes,
                     const char *wanted)
{
    struct ht_text text = { 0 };
    struct piece of = { element, strlen(element) };
    struct piece list = { classes, strlen(classes) };
    (void)style_attributes(&text, &of, &list);
    assert_string_equal(ht_text_get(&text), wanted);
    ht_text_free(&text);
}

/* By the light palette at the head of page.css; the one with more classes
 * wins, then the later one (Selectors Level 3, section 9). */
static void classes_become_attributes(void **state)
{
    (void)state;
    style_is("line", "limit", " stroke=\"#14202C\" stroke-width=\"2\"");
    style_is("path", "line wheel",
             " fill=\"none\" stroke=\"#8F5210\" stroke-width=\"1.8\" "
             "stroke-dasharray=\"12 3\"");
    style_is("path", "line chosen wheel",
             " fill=\"none\" stroke=\"#8F5210\" stroke-width=\"3\" "
             "stroke-dasharray=\"none\"");
    style_is("text", "t12 dim e",
             " fill=\"#414E5B\" font-size=\"12\" text-anchor=\"end\"");
    style_is("rect", "nowhere", "");
}

/* ---- the file ----------------------------------------------------------- */

static void a_file_has_its_own_colours_and_no_style_sheet(void **state)
{
    (void)state;
    static const char *const wanted[] = {
        "<svg xmlns=\"http://www.w3.org/2000/svg\"", "role=\"img\"",
        "<title>Shake</title>", "<desc>It &lt;shakes&gt;.</desc>",
        "a &lt;made-up&gt;", "caption", "fill=\"#1D3F94\""
    };
    struct ht_text svg = { 0 };
    figure_open(&svg, 100, 50, "wide", "It <shakes>.");
    markup(&svg, "<rect class=\"block\" width=\"10\" height=\"10\"/>\n");
    figure_close(&svg);
    struct ht_text file = alone_of(&svg);
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (!strstr(file.bytes, wanted[i]))
            fail_msg("%s is not in %s", wanted[i], file.bytes);
    assert_null(strstr(file.bytes, "class="));
    assert_null(strstr(file.bytes, "var("));
    ht_text_free(&svg);
    ht_text_free(&file);
}

/* A viewer that paints outlines last would hide the letters. */
static void letters_stand_on_their_halo(void **state)
{
    (void)state;
    struct ht_text svg = { 0 };
    figure_open(&svg, 100, 50, "wide", "A label.");
    figure_text(&svg, 5, 20, "t12 halo", "said");
    figure_close(&svg);
    struct ht_text file = alone_of(&svg);
    const char *under = strstr(file.bytes, "<text aria-hidden=\"true\"");
    assert_non_null(under);
    assert_non_null(strstr(under, "stroke=\"#FFFFFF\""));
    const char *over = strstr(under + 1, "<text x=\"5\"");
    assert_non_null(over);
    size_t length = strcspn(over, ">");
    for (size_t i = 0; i < length; i++)
        assert_int_not_equal(strncmp(over + i, "stroke", 6), 0);
    ht_text_free(&svg);
    ht_text_free(&file);
}

/* ---- pixels ------------------------------------------------------------- */

struct pixels {
    png_image image;
    unsigned char *rgb;
};

static struct pixels pixels_of(const struct ht_text *file)
{
    struct ht_text png = { 0 };
    struct ht_error err = { 0 };
    if (paint_png(&png, file, &err) != HT_OK)
        fail_msg("%s", err.text);
    struct pixels pixels = { .image = { .version = PNG_IMAGE_VERSION } };
    assert_true(png_image_begin_read_from_memory(&pixels.image, png.bytes,
                                                 png.length));
    pixels.image.format = PNG_FORMAT_RGB;
    pixels.rgb = malloc(PNG_IMAGE_SIZE(pixels.image));
    assert_non_null(pixels.rgb);
    assert_true(png_image_finish_read(&pixels.image, NULL, pixels.rgb, 0,
                                      NULL));
    ht_text_free(&png);
    return pixels;
}

/* Of a place in the figure, which begins at `left`, `top` of the file. */
static unsigned colour_at(const struct pixels *pixels, double x, double y)
{
    size_t column = (size_t)(PAINT_SCALE * x), row = (size_t)(PAINT_SCALE * y);
    assert_true(column < pixels->image.width && row < pixels->image.height);
    const unsigned char *at =
        pixels->rgb + 3 * (row * pixels->image.width + column);
    return (unsigned)at[0] << 16 | (unsigned)at[1] << 8 | at[2];
}

/* Where the figure was put: translate(20 70). */
static void offset_of(const struct ht_text *file, double *left, double *top)
{
    char *at = strstr(file->bytes, "translate(");
    assert_non_null(at);
    *left = strtod(at + strlen("translate("), &at);
    *top = strtod(at, NULL);
}

static void a_limit_and_a_curve_lie_on_their_pixels(void **state)
{
    (void)state;
    static const double speed[] = { 10, 20, 30 }, axle[] = { 200, 200, 200 };
    struct shake_figure figure = {
        .points = 3, .speed_m_s = speed, .lines = 1, .limits = 1,
        .line = { { "chosen shaft", "to the axle", "t12", axle, 3 } },
        .limit = { { 400, "limit" } },
        .felt_from_m_s = NAN, .felt_to_m_s = NAN, .label = "shake",
    };
    struct ht_text svg = { 0 };
    struct scale across, up;
    double left, top;
    draw_shake_curve(&svg, &figure, FIGURE_WIDE);
    shake_scales(&figure, FIGURE_WIDE, &across, &up);
    struct ht_text file = alone_of(&svg);
    struct pixels pixels = pixels_of(&file);
    offset_of(&file, &left, &top);
    assert_int_equal(pixels.image.width, PAINT_SCALE * (FIGURE_WIDE + 40));
    double x = left + scale_px(&across, 25);
    double limit = top + scale_px(&up, 400), curve = top + scale_px(&up, 200);
    assert_int_equal(colour_at(&pixels, x, limit), 0x14202C);
    assert_int_equal(colour_at(&pixels, x, curve), 0x1D3F94);
    for (int side = -1; side <= 1; side += 2) {
        assert_int_equal(colour_at(&pixels, x, limit + 4 * side), 0xFFFFFF);
        assert_int_equal(colour_at(&pixels, x, curve + 4 * side), 0xFFFFFF);
    }
    free(pixels.rgb);
    ht_text_free(&svg);
    ht_text_free(&file);
}

/* An arc of 3 px from 9 to 12 o'clock about 50, 30, round the short way, and a
 * turned rectangle: SVG 1.1, sections 7.6 and 8.3.8. */
static void arcs_and_turns_go_the_way_that_svg_says(void **state)
{
    (void)state;
    struct ht_text svg = { 0 };
    figure_open(&svg, 100, 60, "wide", "A label.");
    markup(&svg, "<path class=\"limit hatch\" d=\"M30 30A20 20 0 0 1 50 10\"/>"
           "<g transform=\"translate(80 10) rotate(90)\"><rect class=\"block\" "
           "width=\"30\" height=\"6\"/></g>\n");
    figure_close(&svg);
    struct ht_text file = alone_of(&svg);
    struct pixels pixels = pixels_of(&file);
    double left, top, away = 20 * sqrt(0.5);
    offset_of(&file, &left, &top);
    assert_int_not_equal(
        colour_at(&pixels, left + 50 - away, top + 30 - away), 0xFFFFFF);
    assert_int_equal(
        colour_at(&pixels, left + 30 + away, top + 10 + away), 0xFFFFFF);
    assert_int_equal(colour_at(&pixels, left + 77, top + 35), 0x1D3F94);
    assert_int_equal(colour_at(&pixels, left + 95, top + 13), 0xFFFFFF);
    free(pixels.rgb);
    ht_text_free(&svg);
    ht_text_free(&file);
}

static void what_no_figure_writes_is_refused(void **state)
{
    (void)state;
    static const char *const files[] = {
        "no markup", "<svg width=\"9\" height=\"9\"><blink/></svg>",
        "<svg width=\"9\" height=\"9\"><path d=\"M1 1Q2 2 3 3\"/></svg>",
        "<svg width=\"9\" height=\"9\"><g transform=\"skewX(3)\"></g></svg>",
        "<svg width=\"9\" height=\"9\"><image xlink:href=\"a.png\"/></svg>",
        "<svg width=\"9\" height=\"9\"><rect width=4/></svg>",
    };
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        struct ht_text file = { 0 }, png = { 0 };
        struct ht_error err = { 0 };
        ht_text_add(&file, files[i]);
        if (paint_png(&png, &file, &err) != HT_BUG)
            fail_msg("\"%s\" is painted", files[i]);
        assert_int_equal(png.length, 0);
        ht_text_free(&file);
        ht_text_free(&png);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(classes_become_attributes),
        cmocka_unit_test(a_file_has_its_own_colours_and_no_style_sheet),
        cmocka_unit_test(letters_stand_on_their_halo),
        cmocka_unit_test(a_limit_and_a_curve_lie_on_their_pixels),
        cmocka_unit_test(arcs_and_turns_go_the_way_that_svg_says),
        cmocka_unit_test(what_no_figure_writes_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
