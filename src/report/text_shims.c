/* Shims in words: what comes first, the plans, the readings to expect. */
#include "text_parts.h"

#include "lines.h"
#include "markup.h"
#include "shims.h"
#include "shown.h"
#include "summary.h"
#include "texts.h"
#include "texts_shims.h"

#include "common/constants.h"

#include <math.h>

static void end_paragraph(struct ht_text *out, const char *lead,
                          struct ht_text *text)
{
    put_paragraph(out, lead, ht_text_get(text));
    ht_text_end(out, text);
}

/* ---- one plan ------------------------------------------------------------ */

static void put_chance(struct ht_text *out, const char *lead,
                       const struct ht_shim_plan *plan)
{
    struct ht_text text = { 0 };
    say_chance(&text, plan);
    end_paragraph(out, lead, &text);
}

/* A row a member; a joint stands on the row of the member before it. */
static void put_readings(struct ht_text *out, const struct ht_shims *shims,
                         const struct ht_shim_plan *plan)
{
    struct table table = { .align = "lllll" };
    struct ht_text text = { 0 };
    const struct ht_shim_plan *now = &shims->as_it_stands;
    static const char *const heads[] = {
        REPORT_HEAD_MEMBER, REPORT_HEAD_NOW, REPORT_HEAD_EXPECT,
        REPORT_HEAD_JOINT_NUMBER, REPORT_HEAD_BENDS
    };
    for (size_t i = 0; i < 5; i++)
        table_cell(&table, heads[i]);
    for (size_t m = 0; m < plan->members; m++) {
        bool joint = m + 1 < plan->members;
        table_cell(&table, shim_member(&text, shims, m));
        table_cell(&table, shown_degrees(now->slope_rad[m].value, 2).text);
        table_cell(&table, shown_angle_range(&plan->slope_rad[m]).text);
        table_cell(&table, joint ? shown_number((double)m + 1, 0).text : "");
        table_cell(&table,
                   joint ? shown_angle_range(&plan->joint_rad[m]).text : "");
        ht_text_end(&table.cells, &text);
    }
    table_write(out, &table);
    ht_text_addf(&text, REPORT_LEFT_AFTER,
                 shown_angle_range(&plan->leftover_rad).text);
    end_paragraph(out, "    ", &text);
}

static void put_plan(struct ht_text *out, const struct ht_shims *shims,
                     size_t index)
{
    const struct ht_shim_plan *plan = &shims->plan[index];
    struct ht_text text = { 0 };
    ht_text_add(out, "\n");
    ht_text_addf(&text, REPORT_PLAN, index + 1,
                 shown_number(plan->minutes, 0).text);
    if (index == shims->advised) {
        next_sentence(&text);
        ht_text_add(&text, shims->enough ? REPORT_PLAN_ADVISED
                                         : REPORT_PLAN_LIKELIEST);
    }
    end_paragraph(out, "", &text);
    for (size_t i = 0; i < plan->works; i++) {
        say_work(&text, shims, &plan->work[i]);
        end_paragraph(out, "  - ", &text);
    }
    put_chance(out, "    ", plan);
    put_readings(out, shims, plan);
}

static void put_plans(struct ht_text *out, const struct ht_shims *shims)
{
    struct ht_text text = { 0 };
    ht_text_add(out, "\n");
    ht_text_addf(&text, REPORT_TRIED, shims->combinations);
    end_paragraph(out, "", &text);
    put_chance(out, REPORT_AS_IT_STANDS, &shims->as_it_stands);
    if (shims->plans == 0)
        put_paragraph(out, "", without_plan(shims));
    for (size_t p = 0; p < shims->plans; p++)
        put_plan(out, shims, p);
    if (shims->plans > 0 && !shims->enough) {
        ht_text_add(out, "\n");
        put_paragraph(out, "", REPORT_NOT_ENOUGH);
    }
}

/* ---- after the repair ---------------------------------------------------- */

static void put_after(struct ht_text *out, const struct ht_shims *shims,
                      const struct ht_shims_after *after)
{
    struct table table = { .align = "lllll" };
    struct ht_text text = { 0 };
    static const char *const heads[] = { REPORT_HEAD_MEMBER,
                                         REPORT_HEAD_EXPECT, REPORT_HEAD_READ,
                                         REPORT_HEAD_OFF, "" };
    ht_text_add(out, "\n");
    say_after(&text, shims, after);
    end_paragraph(out, "", &text);
    if (!after->compared)
        return;
    for (size_t i = 0; i < 5; i++)
        table_cell(&table, heads[i]);
    for (size_t m = 0; m < after->members; m++) {
        const struct ht_shim_reading *r = &after->reading[m];
        table_cell(&table, shim_member(&text, shims, m));
        ht_text_end(&table.cells, &text);
        table_cell(&table, shown_degrees(r->predicted_rad, 2).text);
        table_cell(&table, shown_degrees(r->measured_rad, 2).text);
        table_cell(&table,
                   shown_plus_minus(HT_DEG_PER_RAD *
                                        (r->measured_rad - r->predicted_rad),
                                    HT_DEG_PER_RAD * 1.96 * r->u_rad, 2)
                       .text);
        table_cell(&table, r->as_predicted ? REPORT_AS_PREDICTED
                                           : REPORT_NOT_PREDICTED);
    }
    table_write(out, &table);
}

/* ---- one driveline ------------------------------------------------------- */

static void put_lines(struct ht_text *out, const char *heading,
                      const char (*line)[200], size_t count)
{
    struct ht_text lines = { 0 };
    for (size_t i = 0; i < count; i++) {
        put_held(&lines, line[i]);
        ht_text_add(&lines, "\n");
    }
    put_list(out, heading, ht_text_get(&lines));
    ht_text_end(out, &lines);
}

static void put_line(struct ht_text *out, const struct ht_line_shims *line)
{
    const struct ht_shims *shims = &line->shims;
    struct ht_text text = { 0 }, name = { 0 };
    if (shims->driveline[0]) {
        ht_text_addf(&text, REPORT_SHIMS_OF, cleaned(&name, shims->driveline));
        ht_text_add(out, "\n");
        end_paragraph(out, "", &text);
    }
    ht_text_end(out, &name);
    if (line->has_after)
        put_after(out, shims, &line->after);
    if (shims->refusals > 0)
        put_lines(out, REPORT_FIRST, shims->refusal, shims->refusals);
    else
        put_plans(out, shims);
    put_lines(out, REPORT_SHIMS_TAKEN, shims->note, shims->notes);
}

void text_shims(struct ht_text *out, const struct ht_workup *workup)
{
    for (size_t i = 0; i < workup->shims_count; i++)
        put_line(out, &workup->shims[i]);
}

/* ---- cautions ------------------------------------------------------------ */

static bool wedge_is_planned(const struct ht_workup *workup)
{
    for (size_t i = 0; i < workup->shims_count; i++)
        for (size_t p = 0; p < workup->shims[i].shims.plans; p++) {
            const struct ht_shim_plan *plan = &workup->shims[i].shims.plan[p];
            for (size_t w = 0; w < plan->works; w++)
                if (plan->work[w].place == HT_SHIM_AXLE)
                    return true;
        }
    return false;
}

void say_shim_cautions(struct ht_text *out, const struct told *told)
{
    if (wedge_is_planned(told->workup))
        ht_text_add(out, REPORT_CAUTION_WEDGE "\n");
    ht_text_add(out, REPORT_CAUTION_PLATE "\n" REPORT_CAUTION_STANDS
                                          "\n" REPORT_CAUTION_BEFORE_DRIVE
                                          "\n" REPORT_CAUTION_PRACTICE "\n");
}
