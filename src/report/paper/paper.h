/* paper.h - black on white: pages of a PDF, in millimetres from the top left.
 *
 * The only files that know Cairo and Pango are those of this folder. Their
 * memory is their own: Pango ends the program when there is none, Cairo says
 * so, and paper_close passes it on.
 */
#ifndef HALFTURN_REPORT_PAPER_H
#define HALFTURN_REPORT_PAPER_H

#include "halfturn/report.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

#include <cairo.h>
#include <pango/pangocairo.h>

#include <stdbool.h>

#define PAPER_MARGIN 12.0   /* mm, at the sides; most printers reach to 5 */
#define PAPER_EDGE 8.0      /* above and below */
#define PAPER_SMALL 7.5     /* pt: the smallest there is on paper */
#define PAPER_BODY 8.5
#define PAPER_HEAD 10.0
#define PAPER_TITLE 14.0

struct paper {
    struct ht_text *out;        /* gets the bytes; NULL: only counted */
    struct ht_text drawn;       /* a PDF, as Cairo writes it */
    struct ht_text alternatives; /* a line for each figure */
    bool tagged, aside;
    int within;                 /* tags that hold what is drawn */
    double across;              /* what 100 % of a painted length is */
    double width, height;
    cairo_surface_t *surface;
    cairo_t *cairo;
    PangoFontMap *fonts;
    PangoContext *context;
    PangoLayout *layout;
    PangoAttrList *plain;       /* of texts without marks */
    bool lost;                  /* a text had no memory */
    size_t pages;               /* begun so far */
};

/* What stands in the file beside its pages. */
struct paper_about {
    const char *title;
    const char *date;           /* 2026-11-20; NULL: none. Never the clock */
};

/* HT_CANNOT_READ when no font is installed. Close it in every case. */
enum ht_status paper_open(struct paper *paper, struct ht_text *out,
                          enum ht_paper kind, const struct paper_about *about,
                          struct ht_error *err);
/* For a surface and a cairo of another kind: letters to write with. */
enum ht_status paper_letters(struct paper *paper, struct ht_error *err);
/* Such a surface, of pixels, as a PNG. */
void paper_png(struct paper *paper);
/* Ends the last page, says whether everything reached `out`. */
enum ht_status paper_close(struct paper *paper, struct ht_error *err);

void paper_page(struct paper *paper); /* begins the next page */

/* ---- what a screen reader is told (draw.c) ------------------------------ */

/* Everything drawn between them belongs to the tag (ISO 32000-1, 14.8.4), or
 * to the tags within it, which may stand on several pages: Table, TR, L, LI,
 * LBody.
 * Text within none is a paragraph; other drawing is for the eye alone. */
void paper_tag(struct paper *paper, const char *tag);
void paper_untag(struct paper *paper, const char *tag);
/* A tag that holds other tags for once: a paragraph over two pages. */
void paper_tag_around(struct paper *paper, const char *tag);
void paper_untag_around(struct paper *paper, const char *tag);
/* A figure, and the words that stand for it. */
void paper_figure(struct paper *paper, const char *alternative);
void paper_figure_end(struct paper *paper);
/* What is drawn from here on is not read out: heads and feet of pages. */
void paper_aside(struct paper *paper, bool aside);

/* ---- text --------------------------------------------------------------- */

/* Has the widest letters that are sure to be there; what it does not hold
 * comes from any font that does. */
extern const char paper_font[];

enum paper_align { PAPER_LEFT, PAPER_MIDDLE, PAPER_RIGHT };
struct paper_style {
    double points;
    bool bold, white;
    enum paper_align align;
    int lines;                  /* what is longer ends in an ellipsis; 0: as
                                   many as it needs */
};

/* A text of ours or one cleaned. Each takes a box's top left and width (the
 * text's middle or right end lies in it by `align`) and returns the height. */
double paper_text(struct paper *paper, double x, double y, double width,
                  struct paper_style style, const char *text);
double paper_text_height(struct paper *paper, double width,
                         struct paper_style style, const char *text);
double paper_text_width(struct paper *paper, struct paper_style style,
                        const char *text);
/* The same with a text made for the place, which is released. */
double paper_put(struct paper *paper, double x, double y, double width,
                 struct paper_style style, struct ht_text *text);

/* For whoever shows the lines one by one: the text into the layout. */
void paper_lay_out(struct paper *paper, double width,
                   struct paper_style style, const char *text);
/* With its baseline's begin where the pen is. */
void paper_show_line(struct paper *paper, PangoLayoutLine *line);

/* ---- lines and boxes ---------------------------------------------------- */

void paper_line(struct paper *paper, double x1, double y1, double x2,
                double y2, double thick);
void paper_dotted(struct paper *paper, double x1, double y1, double x2,
                  double y2);
void paper_box(struct paper *paper, double x, double y, double width,
               double height, double thick);
void paper_fill(struct paper *paper, double x, double y, double width,
                double height);
/* An empty square to tick, with a word behind it; returns the width of both. */
double paper_tick(struct paper *paper, double x, double y, const char *word);
/* A word, a line to write on and a unit behind it. */
void paper_field(struct paper *paper, double x, double y, double width,
                 const char *word, const char *unit);
/* A ring, filled or not, with a letter; a square where `square`. */
void paper_letter(struct paper *paper, double x, double y, double radius,
                  const char *letter, bool filled, bool square);
/* From x1 to x2 at one height, its head at x2. */
void paper_arrow(struct paper *paper, double x1, double x2, double y);

#endif
