#include "text_parts.h"

#include "effects_said.h"
#include "joint_cells.h"
#include "judged.h"
#include "lines.h"
#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "summary.h"
#include "texts.h"
#include "travel.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

static void add_cell(void *table, const char *text)
{
    table_cell(table, text);
}

static void put_joints(struct ht_text *out, const struct ht_angles *angles)
{
    struct table table = { .align = "rclll" };
    joint_cells(out, angles, add_cell, &table);
    ht_text_add(out, "\n");
    table_write(out, &table);
}

static void end_paragraph(struct ht_text *out, struct ht_text *text)
{
    put_paragraph(out, "  ", ht_text_get(text));
    ht_text_end(out, text);
}

static void put_shakes(struct ht_text *out, const struct ht_accelerations *a,
                       bool both)
{
    struct ht_text text = { 0 };
    struct shown rpm = shown_number(a->shaft_rad_s * 60 / (2 * HT_PI), 0);
    if (isnan(a->speed_m_s))
        ht_text_addf(&text, REPORT_AT_SHAFT_SPEED, rpm.text);
    else if (both)
        ht_text_addf(&text, REPORT_AT_BOTH, shown_speed(a->speed_m_s).text,
                     rpm.text);
    else
        ht_text_addf(&text, REPORT_AT_SPEED, shown_speed(a->speed_m_s).text);
    end_paragraph(out, &text);
    ht_text_addf(&text, REPORT_SHAKE_AXLE, shown_rate_range(&a->axle).text);
    end_paragraph(out, &text);
    if (isfinite(a->pulled.value))
        ht_text_addf(&text, REPORT_SHAKE_PULLED,
                     shown_rate_range(&a->pulled).text);
    end_paragraph(out, &text);
    if (isfinite(a->held.value))
        ht_text_addf(&text, REPORT_SHAKE_HELD,
                     shown_rate_range(&a->held).text);
    end_paragraph(out, &text);
}

static void put_chain(struct ht_text *out, const struct ht_angles *angles,
                      bool both_speeds)
{
    struct ht_text text = { 0 };
    if (isfinite(angles->leftover_rad.value))
        ht_text_addf(&text,
                     angles->leftover_is_zero ? REPORT_LEFT_OVER_ZERO
                                              : REPORT_LEFT_OVER,
                     shown_angle_range(&angles->leftover_rad).text);
    end_paragraph(out, &text);
    if (isfinite(angles->accelerations.axle.value))
        put_shakes(out, &angles->accelerations, both_speeds);
}

/* ---- sources ------------------------------------------------------------ */

static void put_sources(struct ht_text *out, const struct ht_workup *workup)
{
    struct ht_text lines = { 0 };
    say_limit_sources(&lines, workup);
    put_list(out, REPORT_LIMITS, ht_text_get(&lines));
    ht_text_end(out, &lines);
}

/* ---- one set, or several ------------------------------------------------ */

static void put_set(struct ht_text *out, const struct ht_angles *angles,
                    bool both_speeds)
{
    put_joints(out, angles);
    ht_text_add(out, "\n");
    put_chain(out, angles, both_speeds);
    text_limits(out, angles);
}

static void put_effects(struct ht_text *out, const struct ht_workup *workup,
                        size_t line)
{
    struct ht_text lines = { 0 };
    say_effects(&lines, workup, line);
    put_list(out, REPORT_DOES, ht_text_get(&lines));
    ht_text_end(out, &lines);
}

static void put_named_set(struct ht_text *out, const struct ht_workup *workup,
                          const struct ht_line_angles *line)
{
    struct ht_text text = { 0 }, name = { 0 };
    (void)set_name(&name, workup, line);
    capital(&name, 0);
    ht_text_addf(&text, line->decides ? REPORT_SET_DECIDES : REPORT_SET_ALONE,
                 ht_text_get(&name));
    ht_text_add(out, "\n");
    put_paragraph(out, "", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &name);
    put_set(out, &line->angles, several_drivelines(workup));
    if (line->decides)
        put_effects(out, workup, (size_t)(line - workup->lines));
}

static void put_travel(struct ht_text *out, const struct ht_workup *workup,
                       const struct ht_line_angles *deciding)
{
    static const char *const aligns[] = { "", "", "cr", "crr", "crrr", "crrrr",
                                          "crrrrr" };
    struct travel travel;
    struct ht_text text = { 0 };
    if (!travel_from(&travel, workup, deciding))
        return;
    travel_caption(&text, workup, &travel);
    ht_text_add(out, "\n");
    put_paragraph(out, "", ht_text_get(&text));
    ht_text_end(out, &text);
    for (size_t j = 0; j < travel.joints; j += TRAVEL_JOINTS_ACROSS) {
        struct table table = { .align = aligns[travel_columns(&travel, j)] };
        travel_cells(&travel, j, add_cell, &table);
        ht_text_add(out, "\n");
        table_write(out, &table);
    }
}

void text_angles(struct ht_text *out, const struct ht_workup *workup)
{
    if (!several_sets(workup)) {
        put_set(out, &workup->angles, false);
        put_effects(out, workup, 0);
    } else
        for (size_t i = 0; i < workup->line_count; i++)
            put_named_set(out, workup, set_in_order(workup, i));
    for (size_t i = 0; several_sets(workup) && i < workup->line_count; i++)
        if (set_in_order(workup, i)->decides)
            put_travel(out, workup, set_in_order(workup, i));
    put_sources(out, workup);
}
