/* blocks.h - the report's markup as a list of blocks, one under another.
 *
 * Reads what page_on_paper (page.h) writes and nothing else. The blocks point
 * into that text. Pure.
 */
#ifndef HALFTURN_REPORT_BLOCKS_H
#define HALFTURN_REPORT_BLOCKS_H

#include "report/tags.h"

#include <stdbool.h>

enum { BLOCK_CELLS_MAX = 8 };

enum block_kind {
    BLOCK_TEXT,                 /* heading, paragraph or item of a list */
    BLOCK_SIDES,                /* a text, and one at the right end */
    BLOCK_FIGURE,
    BLOCK_ROW                   /* of a table */
};
enum block_frame { FRAME_NONE, FRAME_NEXT, FRAME_SAFETY, FRAME_CAUTION };

struct look {
    const char *element, *word; /* <element class="... word ...">; "": any */
    const char *tag;            /* of the PDF */
    double points, above;       /* size; mm of space above */
    bool bold, grey, rule;      /* rule: a line across the page above */
    bool keeps;                 /* not without what follows */
};

struct block {
    enum block_kind kind;
    enum block_frame frame;
    const struct look *look;
    bool keeps;                 /* on one page with the next block's begin */
    bool item, last;            /* of a list; the last of its list or table */
    bool heads, numbered;       /* a row of heads; one that begins with a
                                   number */
    struct piece text;          /* words with marks; a figure's elements */
    struct piece beside;        /* at the right end; a figure's label, or none
                                   where it only repeats what is written */
    double width, height;       /* of a figure, px; 0 wide: as its place */
    size_t cells;
    struct cell {
        bool head;
        struct piece text;
    } cell[BLOCK_CELLS_MAX];
};

struct blocks {
    size_t count, room;
    struct block *block;
    bool lost;                  /* no memory */
};

/* False for what the report does not write. Free them in every case. */
bool blocks_read(struct blocks *blocks, const char *markup);
void blocks_free(struct blocks *blocks);

/* An <svg> at `at`: elements, label, size; returns what follows it, or NULL. */
const char *block_figure(struct block *block, const char *at);
/* Of a cell: the drawing in it. */
bool cell_figure(struct block *figure, const struct cell *cell);

#endif
