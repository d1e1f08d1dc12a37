/* laid.h - words of the report laid out in lines, which may go on on the next
 * page.
 */
#ifndef HALFTURN_REPORT_LAID_H
#define HALFTURN_REPORT_LAID_H

#include "blocks.h"
#include "paper.h"

struct manner {
    double points, width;       /* mm */
    bool bold, grey, at_right;
    int lines;                  /* at most, the rest is cut; 0: all */
};

/* Into the paper's layout, where they stay until the next text. */
void lay_words(struct paper *paper, const struct manner *manner,
               const struct piece *words);
size_t laid_lines(const struct paper *paper);
/* Of `count` lines from the one of that index on; past the last: nothing. */
double laid_height(const struct paper *paper, size_t from, size_t count);
/* How many of them from `from` on fit into the height. */
size_t laid_fit(const struct paper *paper, size_t from, double height);
void show_laid(struct paper *paper, const struct manner *manner, double x,
               double y, size_t from, size_t count);

#endif
