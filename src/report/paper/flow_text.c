/* Headings, paragraphs and lists; long ones go on on the next page. */
#include "flow.h"

#include <math.h>

enum { KEPT_LINES = 2 };        /* of a paragraph on either page */
#define RIGHT_WIDTH 50.0        /* mm, of the words at the right end */

/* How many of the lines from `from` on go onto this page; 0: another is
 * begun. */
static size_t lines_here(const struct flow *flow, size_t from)
{
    size_t left = laid_lines(flow->paper) - from;
    size_t fits = laid_fit(flow->paper, from, flow->bottom - flow->y);
    if (fits >= left)
        return left;
    if (fits + KEPT_LINES > left)
        fits = left > KEPT_LINES ? left - KEPT_LINES : 0;
    if (fits < KEPT_LINES)
        fits = 0;
    return fits == 0 && flow->y <= flow->top ? 1 : fits;
}

static void begin_item(struct flow *flow, const struct block *block)
{
    static const struct piece bullet = { "\342\200\242", 3 };
    struct manner manner = { .points = block->look->points, .width = 4 };
    if (!flow->list)
        paper_tag(flow->paper, "L");
    flow->list = true;
    paper_tag(flow->paper, "LI");
    paper_tag(flow->paper, "Lbl");
    lay_words(flow->paper, &manner, &bullet);
    show_laid(flow->paper, &manner,
              flow->left + flow_indent(block) - manner.width, flow->y, 0, 1);
    paper_untag(flow->paper, "Lbl");
    paper_tag(flow->paper, "LBody");
}

static void end_item(struct flow *flow, const struct block *block)
{
    paper_untag(flow->paper, "LBody");
    paper_untag(flow->paper, "LI");
    if (block->last) {
        paper_untag(flow->paper, "L");
        flow->list = false;
    }
}

static void show_here(struct flow *flow, const struct block *block,
                      const struct manner *manner, size_t from, size_t count,
                      const char *tag)
{
    double top = flow->y;
    double height = laid_height(flow->paper, from, count);
    paper_tag(flow->paper, tag);
    show_laid(flow->paper, manner, flow->left + flow_indent(block), flow->y,
              from, count);
    paper_untag(flow->paper, tag);
    flow->y += height;
    flow_edge(flow, block->frame, top);
}

/* A foot is written on a new page, so the words are laid out again. */
static size_t next_page(struct flow *flow, const struct block *block,
                        const struct manner *manner, size_t from)
{
    flow_page(flow);
    lay_words(flow->paper, manner, &block->text);
    return lines_here(flow, from);
}

static void show_lines(struct flow *flow, const struct block *block,
                       const struct manner *manner, size_t here,
                       const char *tag)
{
    lay_words(flow->paper, manner, &block->text);
    size_t total = laid_lines(flow->paper);
    bool parted = here < total;
    if (parted)
        paper_tag_around(flow->paper, tag);
    for (size_t from = 0; from < total;) {
        show_here(flow, block, manner, from, here, parted ? "Span" : tag);
        from += here;
        if (from < total)
            here = next_page(flow, block, manner, from);
    }
    if (parted)
        paper_untag_around(flow->paper, tag);
}

void flow_text(struct flow *flow, const struct block *block)
{
    const struct manner manner = flow_manner(block);
    lay_words(flow->paper, &manner, &block->text);
    size_t here = lines_here(flow, 0);
    if (here == 0)
        here = next_page(flow, block, &manner, 0);
    if (block->item)
        begin_item(flow, block);
    show_lines(flow, block, &manner, here,
               block->item ? "P" : block->look->tag);
    if (block->item)
        end_item(flow, block);
}

/* ---- words at both ends ------------------------------------------------- */

static struct manner left_manner(const struct block *block)
{
    enum { LINES = 8 };
    struct manner manner = flow_manner(block);
    manner.width = FLOW_WIDTH - flow_indent(block) - RIGHT_WIDTH - 2;
    manner.lines = LINES;
    return manner;
}

void flow_sides(struct flow *flow, const struct block *block)
{
    const struct manner left = left_manner(block);
    struct manner right = { .points = block->look->points,
                            .width = RIGHT_WIDTH, .at_right = true,
                            .lines = left.lines };
    struct paper *p = flow->paper;
    double y = flow->y;
    lay_words(p, &left, &block->text);
    paper_tag(p, block->look->tag);
    show_laid(p, &left, flow->left + flow_indent(block), y, 0,
              laid_lines(p));
    paper_untag(p, block->look->tag);
    flow->y += laid_height(p, 0, laid_lines(p));
    lay_words(p, &right, &block->beside);
    paper_tag(p, "P");
    show_laid(p, &right, flow->left + FLOW_WIDTH - RIGHT_WIDTH, y, 0,
              laid_lines(p));
    paper_untag(p, "P");
    flow->y = fmax(flow->y, y + laid_height(p, 0, laid_lines(p)));
    flow_edge(flow, block->frame, y);
}

double flow_text_height(struct flow *flow, const struct block *block)
{
    const struct manner manner = block->kind == BLOCK_SIDES
                                     ? left_manner(block)
                                     : flow_manner(block);
    lay_words(flow->paper, &manner, &block->text);
    size_t lines = laid_lines(flow->paper);
    bool parts = block->kind == BLOCK_TEXT && lines >= 2 * KEPT_LINES;
    return laid_height(flow->paper, 0, parts ? KEPT_LINES : lines);
}
