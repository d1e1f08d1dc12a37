/* The measuring sheet: pages, their heads and feet, one driveline after
 * another. */
#include "blank.h"

#include "report/markup.h"
#include "report/texts_paper.h"

#include "halfturn/rotation.h"

#include <math.h>
#include <string.h>

enum { HEAD_FIELDS = 5 };
#define FOOT_HEIGHT 8.0
#define RULE 0.5

static const struct paper_style title_style = { PAPER_TITLE, true, false,
                                                PAPER_LEFT, 1 };
static const struct paper_style head_style = { PAPER_HEAD, true, false,
                                               PAPER_LEFT, 1 };
static const struct paper_style right_style = { PAPER_BODY, false, false,
                                                PAPER_RIGHT, 1 };
static const struct paper_style small_style = { PAPER_SMALL, false, false,
                                                PAPER_LEFT, 1 };

const char *member_letter(size_t member)
{
    static const char *const letters[HT_MEMBERS_MAX] = { "A", "B", "C",
                                                         "D", "E", "F",
                                                         "G", "H", "I" };
    return letters[member];
}

void put_member(struct ht_text *out, const struct form *form, size_t member)
{
    const char *name = form->line.member[member];
    if (name && name[0])
        clean_text(out, name);
    else
        ht_text_addf(out, PAPER_MEMBER, member + 1);
}

/* ---- head and foot ------------------------------------------------------ */

static void put_case(struct ht_text *out, const struct form *form)
{
    const struct ht_sheet *sheet = form->sheet;
    if (sheet && sheet->title)
        clean_text(out, sheet->title);
    if (sheet && sheet->identity.unit) {
        struct ht_text unit = { 0 };
        clean_text(&unit, sheet->identity.unit);
        ht_text_add(out, out->length ? ", " : "");
        ht_text_addf(out, PAPER_UNIT_MARK, ht_text_get(&unit));
        ht_text_end(out, &unit);
    }
}

static void put_which(struct ht_text *out, const struct form *form, bool first)
{
    if (form->line_count > 1 && form->line.name) {
        struct ht_text name = { 0 };
        clean_text(&name, form->line.name);
        ht_text_addf(out, PAPER_LINE_OF, form->line_index + 1,
                     form->line_count, ht_text_get(&name));
        ht_text_end(out, &name);
    } else if (form->line_count > 1)
        ht_text_addf(out, PAPER_LINE_NUMBER, form->line_index + 1,
                     form->line_count);
    if (!first) {
        ht_text_add(out, out->length ? ", " : "");
        ht_text_add(out, PAPER_CONTINUED);
    }
}

static void draw_head(struct form *form, bool first)
{
    struct paper *p = form->paper;
    struct ht_text name = { 0 }, which = { 0 };
    double width = form->right - form->left;
    double x = paper_text_width(p, title_style, PAPER_SHEET) + 5;
    put_case(&name, form);
    if (name.length == 0 && form->line.made_up)
        ht_text_add(&name, PAPER_GENERAL);
    put_which(&which, form, first);
    double room = which.length ? paper_text_width(p, right_style,
                                                  which.bytes) : 0;
    room = fmin(room, (width - x) / 2);
    paper_aside(p, !first);
    paper_tag(p, "H1");
    (void)paper_text(p, form->left, form->y, width, title_style, PAPER_SHEET);
    paper_untag(p, "H1");
    (void)paper_put(p, form->left + x, form->y + 1.5, width - x - room - 2,
                    head_style, &name);
    (void)paper_put(p, form->right - room, form->y + 2, room, right_style,
                    &which);
    paper_aside(p, false);
    form->y += 6.6;
}

/* What is written on every sheet, whatever the case says already. */
static void draw_fields(struct form *form)
{
    static const struct {
        const char *word;
        double share;
    } fields[HEAD_FIELDS] = { { PAPER_DATE, 0.17 },
                              { PAPER_BY, 0.24 },
                              { PAPER_UNIT, 0.20 },
                              { PAPER_ODOMETER, 0.20 },
                              { PAPER_LOAD, 0.19 } };
    double x = form->left, width = form->right - form->left;
    form->y += 1.2;
    for (size_t i = 0; i < HEAD_FIELDS; i++) {
        double room = fields[i].share * width;
        bool last = i + 1 == HEAD_FIELDS;
        paper_field(form->paper, x, form->y, room - (last ? 0 : 3),
                    fields[i].word, "");
        x += room;
    }
    form->y += 5;
}

static void put_foot(struct ht_text *out, const struct form *form)
{
    const char *name = form->request->case_name;
    struct ht_text clean = { 0 };
    if (!name) {
        ht_text_add(out, PAPER_FOOT);
        return;
    }
    clean_text(&clean, name);
    ht_text_addf(out, PAPER_FOOT_CASE, ht_text_get(&clean),
                 ht_text_get(&clean));
    ht_text_end(out, &clean);
}

static void draw_foot(struct form *form)
{
    struct paper *p = form->paper;
    struct ht_text foot = { 0 }, page = { 0 };
    struct paper_style right = small_style;
    double width = form->right - form->left;
    double y = p->height - PAPER_EDGE - 6.4;
    right.align = PAPER_RIGHT;
    put_foot(&foot, form);
    ht_text_addf(&page, PAPER_PAGE_OF, HALFTURN_VERSION, p->pages, form->pages);
    paper_line(p, form->left, y - 0.6, form->right, y - 0.6, 0.18);
    paper_aside(p, p->pages > 1);
    (void)paper_put(p, form->left, y, width - 42, small_style, &foot);
    (void)paper_text(p, form->left, y + 3.3, width, small_style,
                     PAPER_NOT_SAFE);
    paper_aside(p, true);
    (void)paper_put(p, form->right - 42, y, 42, right, &page);
    paper_aside(p, false);
}

void form_page(struct form *form, bool first)
{
    struct paper *p = form->paper;
    paper_page(p);
    form->left = PAPER_MARGIN;
    form->right = p->width - PAPER_MARGIN;
    form->bottom = p->height - PAPER_EDGE - FOOT_HEIGHT;
    form->y = PAPER_EDGE - 1;
    draw_head(form, first);
    if (first)
        draw_fields(form);
    else
        form->y += 3;
    draw_foot(form);
}

/* ---- parts -------------------------------------------------------------- */

void form_need(struct form *form, double height)
{
    if (form->y + height > form->bottom)
        form_page(form, false);
}

double form_part_height(struct form *form, const char *title,
                        const char *sentence)
{
    struct paper *p = form->paper;
    double width = form->right - form->left;
    double used = paper_text_width(p, head_style, title) + 3;
    struct paper_style style = small_style;
    style.lines = 0;
    double height = 5.4;
    if (sentence) {
        double room = width - used;
        double beside = paper_text_height(p, room, style, sentence);
        height = beside + 1.6 > height ? beside + 1.6 : height;
    }
    return height + 1;
}

void form_part(struct form *form, const char *title, const char *sentence)
{
    struct paper *p = form->paper;
    double width = form->right - form->left;
    double used = paper_text_width(p, head_style, title) + 3;
    double height = form_part_height(form, title, sentence);
    struct paper_style style = small_style;
    style.lines = 0;
    paper_line(p, form->left, form->y, form->right, form->y, RULE);
    paper_tag(p, "H2");
    (void)paper_text(p, form->left, form->y + 0.7, width, head_style, title);
    paper_untag(p, "H2");
    if (sentence) {
        paper_tag(p, "P");
        (void)paper_text(p, form->left + used, form->y + 1.5, width - used,
                         style, sentence);
        paper_untag(p, "P");
    }
    form->y += height;
}

/* ---- the whole ---------------------------------------------------------- */

static void draw_line(struct form *form)
{
    form_page(form, true);
    form_cautions(form);
    form_standing(form);
    form_view(form);
    form_signs(form);
    form_caps(form);
    form_headings(form);
    form_joints(form);
    form_runout(form);
    form_end(form);
}

/* Draws everything once; how many pages there will be must be known, or 0. */
static enum ht_status draw_all(struct ht_text *out,
                               const struct ht_blank_request *request,
                               const struct ht_rotation *rotation,
                               size_t *pages, struct ht_error *err)
{
    const struct ht_sheet *sheet = request->sheet;
    struct paper paper;
    struct ht_text title = { 0 };
    struct form form = { .paper = &paper, .request = request, .sheet = sheet,
                         .pages = *pages, .line_count = 1 };
    if (sheet && sheet->driveline_count > 1)
        form.line_count = sheet->driveline_count;
    put_case(&title, &form);
    const struct paper_about about = {
        title.length ? title.bytes : PAPER_SHEET,
        sheet ? sheet->identity.date : NULL
    };
    enum ht_status status =
        paper_open(&paper, out, request->paper, &about, err);
    for (size_t i = 0; status == HT_OK && i < form.line_count; i++) {
        form.line_index = i;
        blank_line_from(&form.line, sheet, i, rotation);
        cap_plan_from(&form.plan, &form.line);
        draw_line(&form);
    }
    *pages = paper.pages;
    paper.lost = paper.lost || title.failed;
    ht_text_free(&title);
    enum ht_status closed = paper_close(&paper, status == HT_OK ? err : NULL);
    return status == HT_OK ? closed : status;
}

enum ht_status ht_report_blank_pdf(struct ht_text *out,
                                   const struct ht_blank_request *request,
                                   struct ht_error *err)
{
    struct ht_rotation rotation;
    enum ht_status status = HT_OK;
    size_t pages = 0;
    bool known = request->sheet != NULL;
    if (known)
        status = ht_rotation_from_vehicle(&rotation, &request->sheet->vehicle,
                                          0, err);
    const struct ht_rotation *turning = known ? &rotation : NULL;
    if (status == HT_OK) /* counts the pages */
        status = draw_all(NULL, request, turning, &pages, err);
    if (status == HT_OK)
        status = draw_all(out, request, turning, &pages, err);
    if (status != HT_OK && status != HT_BAD_FILE)
        ht_text_fail(out); /* half a sheet is none */
    return status;
}
