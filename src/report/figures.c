/* Every figure of a workup as files: an SVG that stands alone, a PNG of it. */
#include "halfturn/report.h"

#include "alone.h"
#include "drawn.h"
#include "figure.h"
#include "markup.h"
#include "paper/paint.h"
#include "summary.h"
#include "texts.h"
#include "texts_figures.h"
#include "words.h"

#include "common/memory.h"

#include <stdio.h>
#include <string.h>

struct kind {
    const char *name;           /* of the files */
    const char *title;
    draw_function draw;
};

/* In the order in which a page shows them. */
static const struct kind of_a_set[] = {
    { "side-view", FIGURE_TITLE_SIDE, drawn_side_view },
    { "plan-view", FIGURE_TITLE_PLAN, drawn_plan_view },
    { "joints", FIGURE_TITLE_JOINTS, drawn_joints },
    { "axle-shake", FIGURE_TITLE_AXLE, drawn_axle_shake },
    { "one-turn", FIGURE_TITLE_TURN, drawn_turn },
    { "shakes", FIGURE_TITLE_SHAKES, drawn_shakes },
};
static const struct kind of_a_short_set[] = { /* nothing is decided by it */
    { "joints", FIGURE_TITLE_JOINTS, drawn_joints },
};
static const struct kind of_shims[] = {
    { "shims", FIGURE_TITLE_SHIMS, drawn_shims },
};
static const struct kind of_a_drive[] = {
    { "order-map", FIGURE_TITLE_MAP, drawn_map },
    { "level", FIGURE_TITLE_LEVEL, drawn_level },
};

struct gallery {
    struct ht_figures *figures;
    size_t room;
    struct subject subject;
    struct ht_text of;          /* which case, which set */
    size_t number;              /* of the set or driveline; 0: the only one */
};

/* ---- one figure --------------------------------------------------------- */

static struct ht_figure_file *add_file(struct gallery *to, const char *name,
                                       const char *ending)
{
    struct ht_figures *figures = to->figures;
    if (figures->count == to->room)
        return NULL;
    struct ht_figure_file *file = &figures->file[figures->count++];
    if (to->number)
        (void)snprintf(file->name, sizeof file->name, "%s-%zu.%s", name,
                       to->number, ending);
    else
        (void)snprintf(file->name, sizeof file->name, "%s.%s", name, ending);
    return file;
}

static enum ht_status add_files(struct gallery *to, const struct kind *kind,
                                const struct ht_text *svg,
                                const struct ht_text *caption,
                                struct ht_error *err)
{
    const struct alone about = { kind->title, ht_text_get(&to->of),
                                 ht_text_get(caption) };
    struct ht_figure_file *whole = add_file(to, kind->name, "svg");
    struct ht_figure_file *pixels = add_file(to, kind->name, "png");
    if (!whole || !pixels)
        return ht_fail(err, FIGURE_NO_MEMORY);
    enum ht_status status = figure_alone(&whole->bytes, svg, &about, err);
    if (status == HT_OK && !ht_text_ok(&whole->bytes))
        status = ht_fail(err, FIGURE_NO_MEMORY);
    return status == HT_OK ? paint_png(&pixels->bytes, &whole->bytes, err)
                           : status;
}

static enum ht_status add_figure(struct gallery *to, const struct kind *kind,
                                 struct ht_error *err)
{
    struct ht_text svg = { 0 }, caption = { 0 };
    enum ht_status status =
        kind->draw(&svg, &caption, &to->subject, FIGURE_WIDE, err);
    if (status == HT_OK && (!ht_text_ok(&svg) || !ht_text_ok(&caption) ||
                            !ht_text_ok(&to->of)))
        status = ht_fail(err, FIGURE_NO_MEMORY);
    if (status == HT_OK && svg.length)
        status = add_files(to, kind, &svg, &caption, err);
    ht_text_free(&svg);
    ht_text_free(&caption);
    return status;
}

static enum ht_status add_kinds(struct gallery *to, const struct kind *kinds,
                                size_t count, struct ht_error *err)
{
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < count && status == HT_OK; i++)
        status = add_figure(to, &kinds[i], err);
    return status;
}
#define ADD_KINDS(to, kinds, err)                                              \
    add_kinds(to, kinds, sizeof kinds / sizeof *kinds, err)

/* ---- all of them -------------------------------------------------------- */

/* The case, and the set or driveline where there are several. */
static void name_subject(struct gallery *to, const char *part)
{
    const struct told told = told_all(to->subject.workup);
    struct ht_text title = { 0 };
    to->of.length = 0;
    say_title(&title, &told);
    unmarked_text(&to->of, ht_text_get(&title));
    if (part) {
        ht_text_add(&to->of, " " DOT " ");
        ht_text_add(&to->of, part);
    }
    ht_text_end(&to->of, &title);
}

static enum ht_status add_sets(struct gallery *to, struct ht_error *err)
{
    const struct ht_workup *workup = to->subject.workup;
    enum ht_status status = HT_OK;
    if (!several_sets(workup)) {
        to->number = 0;
        to->subject.set = only_set(workup);
        name_subject(to, NULL);
        return ADD_KINDS(to, of_a_set, err);
    }
    for (size_t i = 0; i < workup->line_count && status == HT_OK; i++) {
        const struct ht_line_angles *line = set_in_order(workup, i);
        struct ht_text name = { 0 };
        to->number = i + 1;
        to->subject.set = shown_set_of(workup, line);
        name_subject(to, set_name(&name, workup, line));
        ht_text_end(&to->of, &name);
        status = line->decides ? ADD_KINDS(to, of_a_set, err)
                               : ADD_KINDS(to, of_a_short_set, err);
    }
    return status;
}

static enum ht_status add_shims(struct gallery *to, struct ht_error *err)
{
    const struct ht_workup *workup = to->subject.workup;
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < workup->shims_count && status == HT_OK; i++) {
        struct ht_text name = { 0 };
        bool several = workup->shims_count > 1;
        to->number = several ? i + 1 : 0;
        to->subject.shims = &workup->shims[i].shims;
        name_subject(to, several ? driveline_name(
                                       &name, workup,
                                       workup->shims[i].driveline_index)
                                 : NULL);
        ht_text_end(&to->of, &name);
        status = ADD_KINDS(to, of_shims, err);
    }
    return status;
}

static enum ht_status add_all(struct gallery *to, struct ht_error *err)
{
    const struct ht_workup *workup = to->subject.workup;
    enum ht_status status = HT_OK;
    if (workup->has_angles && workup->angles.joints > 0)
        status = add_sets(to, err);
    if (status == HT_OK)
        status = add_shims(to, err);
    to->number = 0;
    name_subject(to, NULL);
    return status == HT_OK ? ADD_KINDS(to, of_a_drive, err) : status;
}

enum ht_status ht_report_figures(struct ht_figures *figures,
                                 const struct ht_workup *workup,
                                 struct ht_error *err)
{
    struct gallery to = { .figures = figures,
                          .room = 2 * (2 + workup->shims_count +
                                       6 * (1 + workup->line_count)),
                          .subject = { .workup = workup } };
    *figures = (struct ht_figures){ 0 };
    figures->file = ht_allocate(to.room, sizeof *figures->file);
    if (!figures->file)
        return ht_fail(err, FIGURE_NO_MEMORY);
    enum ht_status status = add_all(&to, err);
    ht_text_free(&to.of);
    if (status != HT_OK)
        ht_report_figures_free(figures);
    return status;
}

void ht_report_figures_free(struct ht_figures *figures)
{
    for (size_t i = 0; i < figures->count; i++)
        ht_text_free(&figures->file[i].bytes);
    ht_release(figures->file);
    *figures = (struct ht_figures){ 0 };
}
