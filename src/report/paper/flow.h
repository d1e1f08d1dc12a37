/* flow.h - blocks down the pages: what stays together, heads and feet. */
#ifndef HALFTURN_REPORT_FLOW_H
#define HALFTURN_REPORT_FLOW_H

#include "blocks.h"
#include "laid.h"
#include "paper.h"

#define FLOW_WIDTH 170.0    /* mm */
#define FLOW_TEXT 150.0     /* of lines of text */
#define FLOW_EDGE 15.0      /* above and below */
#define FLOW_PX 0.235       /* mm of a figure's pixel: 12 px are 8 pt */
#define FLOW_CELL 1.2       /* within a table's cell, at its sides and ends */

struct flow {
    struct paper *paper;
    double left, top, bottom, y;
    size_t pages;               /* of the whole file; 0: not known yet */
    const char *foot;           /* words at the foot of every page */
    const struct block *heads;  /* of the table under way */
    bool list;                  /* one is under way */
    enum block_frame frame;     /* of the block before */
    enum block_kind before;     /* its kind */
    bool unknown;               /* a figure that cannot be painted */
};

void flow_page(struct flow *flow);
/* All of them, one after another. */
void flow_blocks(struct flow *flow, const struct blocks *blocks);

/* ---- one kind of block each --------------------------------------------- */

/* Where its words begin, and how they are laid out there. */
double flow_indent(const struct block *block);
struct manner flow_manner(const struct block *block);
/* The edge at the side of framed blocks, to where the flow stands. */
void flow_edge(struct flow *flow, enum block_frame frame, double from);

/* Height; of text that goes on over pages, of its first lines. */
double flow_text_height(struct flow *flow, const struct block *block);
double flow_row_height(struct flow *flow, const struct block *row);
double flow_figure_height(const struct flow *flow, const struct block *block);
void flow_text(struct flow *flow, const struct block *block);
void flow_sides(struct flow *flow, const struct block *block);
void flow_row(struct flow *flow, const struct block *row);
void flow_figure(struct flow *flow, const struct block *block);
/* At a place of its own, as wide as that. */
void flow_draw(struct flow *flow, const struct block *figure, double x,
               double y, double width);

#endif
