/* blank.h - the measuring sheet, part by part. */
#ifndef HALFTURN_REPORT_BLANK_H
#define HALFTURN_REPORT_BLANK_H

#include "caps.h"
#include "paper.h"

/* One driveline's pages under way. */
struct form {
    struct paper *paper;
    const struct ht_blank_request *request;
    const struct ht_sheet *sheet;   /* NULL: nothing is known */
    struct blank_line line;
    struct cap_plan plan;
    size_t line_index, line_count;
    size_t pages;                   /* of the whole file; 0: not known yet */
    double left, right, bottom, y;
};

/* Begins a page with its head. */
void form_page(struct form *form, bool first);
/* Room for so many millimetres: here, or at the top of another page. */
void form_need(struct form *form, double height);
/* A rule, the words of a part, and a sentence behind them (or NULL). */
void form_part(struct form *form, const char *title, const char *sentence);
/* Height that form_part takes. */
double form_part_height(struct form *form, const char *title,
                        const char *sentence);

/* The parts, from the top of the page to its foot. */
void form_cautions(struct form *form);
void form_standing(struct form *form);
void form_view(struct form *form);
void form_signs(struct form *form);
void form_caps(struct form *form);
void form_headings(struct form *form);
void form_joints(struct form *form);
void form_runout(struct form *form);
void form_end(struct form *form);

/* ---- words -------------------------------------------------------------- */

/* "A" for the first member. */
const char *member_letter(size_t member);
/* The member's own name, or "member 2"; appended. */
void put_member(struct ht_text *out, const struct form *form, size_t member);

/* Two small pictures: a bar on a shaft whose rear end is lower, or higher. */
void draw_sign(struct paper *paper, double x, double y, double width,
               bool lower);

#endif
