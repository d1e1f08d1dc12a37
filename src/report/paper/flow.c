#include "flow.h"

#include "report/texts_paper.h"

#include <math.h>

#define BETWEEN_FRAMES 3.0
#define FRAME_EDGE 1.2
#define CAUTION_EDGE 2.6
#define STRIPE 2.2          /* from one to the next, over the whole page */
#define BEHIND_THINGS 2.0   /* more space than below a text */

/* ---- pages -------------------------------------------------------------- */

static void draw_foot(struct flow *flow)
{
    static const struct paper_style left = { PAPER_SMALL, false, false,
                                             PAPER_LEFT, 1 };
    static const struct paper_style right = { PAPER_SMALL, false, false,
                                              PAPER_RIGHT, 1 };
    enum { ROOM = 45 };
    struct paper *p = flow->paper;
    double y = p->height - FLOW_EDGE + 2;
    struct ht_text page = { 0 };
    ht_text_addf(&page, PAPER_PAGE_OF, HALFTURN_VERSION, p->pages,
                 flow->pages);
    paper_aside(p, true);
    paper_line(p, flow->left, y - 1, flow->left + FLOW_WIDTH, y - 1, 0.18);
    (void)paper_text(p, flow->left, y, FLOW_WIDTH - ROOM - 3, left,
                     flow->foot);
    (void)paper_put(p, flow->left + FLOW_WIDTH - ROOM, y, ROOM, right, &page);
    paper_aside(p, false);
}

void flow_page(struct flow *flow)
{
    struct paper *p = flow->paper;
    paper_page(p);
    flow->left = (p->width - FLOW_WIDTH) / 2;
    flow->top = FLOW_EDGE;
    flow->bottom = p->height - FLOW_EDGE - 2;
    draw_foot(flow);
    flow->y = flow->top;
}

/* ---- frames ------------------------------------------------------------- */

double flow_indent(const struct block *block)
{
    enum { FRAMED = 5, ITEM = 4 };
    return (block->frame == FRAME_NONE ? 0 : FRAMED) +
           (block->item ? ITEM : 0);
}

struct manner flow_manner(const struct block *block)
{
    double indent = flow_indent(block);
    return (struct manner){ .points = block->look->points,
                            .width = fmin(FLOW_TEXT, FLOW_WIDTH - indent),
                            .bold = block->look->bold,
                            .grey = block->look->grey };
}

static void draw_stripes(struct paper *p, double x, double y, double height)
{
    cairo_save(p->cairo);
    cairo_rectangle(p->cairo, x, y, CAUTION_EDGE, height);
    cairo_clip(p->cairo);
    double first = floor(y / STRIPE - 2);
    for (int i = 0; STRIPE * (first + i) < y + height + CAUTION_EDGE; i++) {
        double at = STRIPE * (first + i);
        paper_line(p, x - 1, at + CAUTION_EDGE + 1, x + CAUTION_EDGE + 1,
                   at - 1, 0.8);
    }
    cairo_restore(p->cairo);
}

void flow_edge(struct flow *flow, enum block_frame frame, double from)
{
    double height = flow->y - from;
    if (frame == FRAME_CAUTION)
        draw_stripes(flow->paper, flow->left, from, height);
    else if (frame != FRAME_NONE)
        paper_fill(flow->paper, flow->left, from, FRAME_EDGE, height);
}

/* ---- what stays together ------------------------------------------------ */

static double space_above(const struct flow *flow, const struct block *block)
{
    double more = block->frame != flow->frame ? BETWEEN_FRAMES : 0;
    bool text = block->kind == BLOCK_TEXT || block->kind == BLOCK_SIDES;
    if (text && (flow->before == BLOCK_FIGURE || flow->before == BLOCK_ROW))
        more += BEHIND_THINGS;
    return flow->y > flow->top ? block->look->above + more : 0;
}

static double height_of(struct flow *flow, const struct block *block)
{
    switch (block->kind) {
    case BLOCK_FIGURE: return flow_figure_height(flow, block);
    case BLOCK_ROW: return flow_row_height(flow, block);
    default: return flow_text_height(flow, block);
    }
}

/* Of this block and of those that it must not be parted from. */
static double kept_height(struct flow *flow, const struct blocks *blocks,
                          size_t from)
{
    double sum = space_above(flow, &blocks->block[from]);
    for (size_t i = from; i < blocks->count; i++) {
        sum += i > from ? blocks->block[i].look->above : 0;
        sum += height_of(flow, &blocks->block[i]);
        if (!blocks->block[i].keeps)
            break;
    }
    return sum;
}

static void need(struct flow *flow, double height)
{
    if (flow->y + height > flow->bottom && flow->y > flow->top)
        flow_page(flow);
}

/* Space and rule above a block; a frame begins behind its space. */
static void begin_block(struct flow *flow, const struct block *block)
{
    double above = space_above(flow, block), from = flow->y;
    if (block->look->rule && block->frame == FRAME_NONE && above > 0)
        paper_line(flow->paper, flow->left, from + above - 1.2,
                   flow->left + FLOW_WIDTH, from + above - 1.2, 0.5);
    flow->y += above;
    if (block->frame == flow->frame)
        flow_edge(flow, block->frame, from);
    flow->frame = block->frame;
}

static void draw_block(struct flow *flow, const struct block *block)
{
    switch (block->kind) {
    case BLOCK_TEXT: flow_text(flow, block); break;
    case BLOCK_SIDES: flow_sides(flow, block); break;
    case BLOCK_FIGURE: flow_figure(flow, block); break;
    case BLOCK_ROW: flow_row(flow, block); break;
    }
}

void flow_blocks(struct flow *flow, const struct blocks *blocks)
{
    flow_page(flow);
    for (size_t i = 0; i < blocks->count; i++) {
        const struct block *block = &blocks->block[i];
        if (i == 0 || !blocks->block[i - 1].keeps)
            need(flow, kept_height(flow, blocks, i));
        begin_block(flow, block);
        draw_block(flow, block);
        flow->before = block->kind;
    }
}
