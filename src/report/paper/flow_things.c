/* Figures, and tables row by row with their heads on every page. */
#include "flow.h"

#include "paint.h"

#include "report/alone.h"

#include <math.h>

/* ---- figures ------------------------------------------------------------ */

static double scale_of(const struct flow *flow, const struct block *figure)
{
    double room = flow->bottom - flow->top;
    double height = figure->height * FLOW_PX;
    return height > room ? FLOW_PX * room / height : FLOW_PX;
}

double flow_figure_height(const struct flow *flow, const struct block *block)
{
    return block->height * scale_of(flow, block);
}

void flow_draw(struct flow *flow, const struct block *figure, double x,
               double y, double width)
{
    struct paper *p = flow->paper;
    struct ht_text elements = { 0 }, styled = { 0 };
    double scale = scale_of(flow, figure);
    ht_text_add_bytes(&elements, figure->text.at, figure->text.length);
    bool known = figure_styled(&styled, &elements);
    p->across = figure->width > 0 ? figure->width : width / scale;
    cairo_save(p->cairo);
    cairo_translate(p->cairo, x, y);
    cairo_scale(p->cairo, scale, scale);
    known = known && paint_on_paper(p, ht_text_get(&styled));
    cairo_restore(p->cairo);
    p->lost = p->lost || elements.failed || styled.failed;
    flow->unknown = flow->unknown || !(known || p->lost);
    ht_text_free(&elements);
    ht_text_free(&styled);
}

/* With words of its own it is a figure, else it repeats what is written. */
static void draw_tagged(struct flow *flow, const struct block *figure,
                        double x, double y, double width)
{
    struct ht_text label = { 0 };
    piece_unescape(&label, &figure->beside);
    if (label.length)
        paper_figure(flow->paper, ht_text_get(&label));
    else
        paper_aside(flow->paper, true);
    flow_draw(flow, figure, x, y, width);
    if (label.length)
        paper_figure_end(flow->paper);
    paper_aside(flow->paper, false);
    flow->paper->lost = flow->paper->lost || label.failed;
    ht_text_free(&label);
}

void flow_figure(struct flow *flow, const struct block *block)
{
    double indent = flow_indent(block), from = flow->y;
    draw_tagged(flow, block, flow->left + indent, flow->y,
                FLOW_WIDTH - indent);
    flow->y += flow_figure_height(flow, block);
    flow_edge(flow, block->frame, from);
}

/* ---- tables ------------------------------------------------------------- */

/* The first column has the names, or their numbers and the second names. */
static double column_width(const struct block *row, size_t column)
{
    double number = row->numbered ? 0.05 : 0;
    double first = row->cells > 2 ? 0.31 : 0.5;
    size_t names = row->numbered ? 1 : 0;
    double others = (double)(row->cells - names) - 1;
    double share = column < names    ? number
                   : column == names ? first
                                     : (1 - number - first) / others;
    return share * FLOW_WIDTH;
}

static struct manner cell_manner(const struct block *row, size_t column)
{
    enum { LINES = 16 };
    return (struct manner){ .points = row->look->points,
                            .width = column_width(row, column) -
                                     2 * FLOW_CELL,
                            .grey = row->heads, .lines = LINES };
}

double flow_row_height(struct flow *flow, const struct block *row)
{
    double height = 0;
    for (size_t i = 0; i < row->cells; i++) {
        const struct manner manner = cell_manner(row, i);
        struct block figure;
        if (cell_figure(&figure, &row->cell[i])) {
            height = fmax(height, figure.height * FLOW_PX);
            continue;
        }
        lay_words(flow->paper, &manner, &row->cell[i].text);
        height = fmax(height, laid_height(flow->paper, 0,
                                          laid_lines(flow->paper)));
    }
    return height + 2 * FLOW_CELL;
}

static void draw_cell(struct flow *flow, const struct block *row,
                      size_t column, double x)
{
    struct paper *p = flow->paper;
    const struct cell *cell = &row->cell[column];
    const struct manner manner = cell_manner(row, column);
    const char *tag = cell->head ? "TH" : "TD";
    struct block figure;
    if (cell_figure(&figure, cell)) {
        paper_tag(p, tag);          /* what it shows stands beside it */
        flow_draw(flow, &figure, x, flow->y + FLOW_CELL, manner.width);
        paper_untag(p, tag);
        return;
    }
    lay_words(p, &manner, &cell->text);
    paper_tag(p, tag);
    show_laid(p, &manner, x, flow->y + FLOW_CELL, 0, laid_lines(p));
    paper_untag(p, tag);
}

static void draw_row(struct flow *flow, const struct block *row, double height)
{
    double x = flow->left, from = flow->y;
    paper_tag(flow->paper, "TR");
    for (size_t i = 0; i < row->cells; i++) {
        draw_cell(flow, row, i, i ? x + FLOW_CELL : x);
        x += column_width(row, i);
    }
    paper_untag(flow->paper, "TR");
    flow->y += height;
    if (!row->heads) /* lighter below the others */
        cairo_set_source_rgb(flow->paper->cairo, 0.6, 0.6, 0.6);
    paper_line(flow->paper, flow->left, flow->y, flow->left + FLOW_WIDTH,
               flow->y, row->heads ? 0.3 : 0.18);
    cairo_set_source_rgb(flow->paper->cairo, 0, 0, 0);
    flow_edge(flow, row->frame, from);
}

void flow_row(struct flow *flow, const struct block *row)
{
    double height = flow_row_height(flow, row);
    bool goes_on = flow->heads != NULL;
    if (goes_on && flow->y + height > flow->bottom)
        flow_page(flow);
    if (goes_on && flow->y <= flow->top) {
        paper_aside(flow->paper, true); /* read out once */
        draw_row(flow, flow->heads, flow_row_height(flow, flow->heads));
        paper_aside(flow->paper, false);
    }
    if (!goes_on)
        paper_tag(flow->paper, "Table");
    if (!goes_on)
        flow->heads = row;
    draw_row(flow, row, height);
    if (row->last) {
        paper_untag(flow->paper, "Table");
        flow->heads = NULL;
    }
}
