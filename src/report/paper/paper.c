#include "paper.h"

#include "tagged.h"

#include "report/texts_paper.h"

#include <cairo-pdf.h>

#include <string.h>

#define POINTS_PER_MM (72.0 / 25.4)

static const char maker[] = "Halfturn " HALFTURN_VERSION;

static const struct {
    double width, height; /* mm */
} sizes[] = {
    [HT_PAPER_A4] = { 210, 297 },
    [HT_PAPER_LETTER] = { 215.9, 279.4 },
};

static cairo_status_t take(void *closure, const unsigned char *bytes,
                           unsigned length)
{
    struct ht_text *out = closure;
    if (!out)
        return CAIRO_STATUS_SUCCESS;
    ht_text_add_bytes(out, (const char *)bytes, length);
    return ht_text_ok(out) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_NO_MEMORY;
}

/* Without a date of the case a fixed one: a file of the same input has the
 * same bytes. */
static void put_about(cairo_surface_t *surface,
                      const struct paper_about *about)
{
    static const char fixed[] = "2000-01-01";
    const char *date = about->date && strlen(about->date) == sizeof fixed - 1 &&
                               strspn(about->date, "0123456789-") ==
                                   sizeof fixed - 1
                           ? about->date
                           : fixed;
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   about->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR,
                                   maker);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   date);
}

/* Without any font there are still families, all of them empty. */
static bool has_fonts(const struct paper *paper)
{
    pango_layout_set_text(paper->layout, "Aa0", -1);
    return pango_layout_get_unknown_glyphs_count(paper->layout) == 0;
}

/* Every letter by itself, so that a search finds the word. */
static void part_letters(struct paper *paper)
{
    paper->plain = pango_attr_list_new();
    pango_attr_list_insert(paper->plain,
                           pango_attr_font_features_new("liga=0"));
    pango_layout_set_attributes(paper->layout, paper->plain);
}

/* Widths that do not depend on the size drawn at: no hinting. */
static void make_layout(struct paper *paper)
{
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    paper->fonts = pango_cairo_font_map_new();
    paper->context = pango_font_map_create_context(paper->fonts);
    pango_cairo_context_set_font_options(paper->context, options);
    pango_context_set_round_glyph_positions(paper->context, FALSE);
    pango_context_set_language(paper->context,
                               pango_language_from_string("en"));
    cairo_font_options_destroy(options);
    pango_cairo_update_context(paper->cairo, paper->context);
    paper->layout = pango_layout_new(paper->context);
    part_letters(paper);
}

enum ht_status paper_letters(struct paper *paper, struct ht_error *err)
{
    make_layout(paper);
    return has_fonts(paper) ? HT_OK : ht_fail(err, PAPER_NO_FONT);
}

void paper_png(struct paper *paper)
{
    if (cairo_surface_write_to_png_stream(paper->surface, take, paper->out) !=
        CAIRO_STATUS_SUCCESS)
        paper->lost = true;
}

enum ht_status paper_open(struct paper *paper, struct ht_text *out,
                          enum ht_paper kind, const struct paper_about *about,
                          struct ht_error *err)
{
    *paper = (struct paper){ .out = out, .tagged = true,
                             .width = sizes[kind].width,
                             .height = sizes[kind].height };
    paper->surface = cairo_pdf_surface_create_for_stream(
        take, out ? &paper->drawn : NULL, paper->width * POINTS_PER_MM,
        paper->height * POINTS_PER_MM);
    paper->cairo = cairo_create(paper->surface);
    put_about(paper->surface, about);
    cairo_scale(paper->cairo, POINTS_PER_MM, POINTS_PER_MM);
    cairo_set_source_rgb(paper->cairo, 0, 0, 0);
    cairo_tag_begin(paper->cairo, "Document", NULL);
    return paper_letters(paper, err);
}

void paper_page(struct paper *paper)
{
    if (paper->pages++ > 0)
        cairo_show_page(paper->cairo);
}

static enum ht_status judge(cairo_status_t found, bool lost,
                            struct ht_error *err)
{
    if (lost || found == CAIRO_STATUS_NO_MEMORY ||
        found == CAIRO_STATUS_WRITE_ERROR)
        return ht_fail(err, PAPER_NO_MEMORY);
    if (found != CAIRO_STATUS_SUCCESS)
        return ht_fail(err, PAPER_NOT_DRAWN, cairo_status_to_string(found));
    return HT_OK;
}

enum ht_status paper_close(struct paper *paper, struct ht_error *err)
{
    if (paper->tagged)
        cairo_tag_end(paper->cairo, "Document");
    cairo_status_t found = cairo_status(paper->cairo);
    cairo_destroy(paper->cairo);
    cairo_surface_finish(paper->surface);
    if (found == CAIRO_STATUS_SUCCESS)
        found = cairo_surface_status(paper->surface);
    cairo_surface_destroy(paper->surface);
    g_object_unref(paper->layout);
    pango_attr_list_unref(paper->plain);
    g_object_unref(paper->context);
    g_object_unref(paper->fonts);
    bool lost = paper->lost || (paper->out && paper->out->failed) ||
                paper->drawn.failed || paper->alternatives.failed;
    enum ht_status status = judge(found, lost, err);
    if (status == HT_OK && paper->tagged && paper->out)
        status = tagged_finish(paper->out, &paper->drawn,
                               &paper->alternatives, err);
    ht_text_free(&paper->drawn);
    ht_text_free(&paper->alternatives);
    *paper = (struct paper){ 0 };
    return status;
}
