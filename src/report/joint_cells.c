#include "joint_cells.h"

#include "judged.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <math.h>

static void put_limits(struct ht_text *out, const struct judged *judged)
{
    struct shown least = shown_degrees(judged->least, 1);
    struct shown most = shown_degrees(judged->most, 1);
    if (judged->sets > 1)
        ht_text_addf(out, REPORT_OUT_IN_SETS, judged->sets_bad, judged->sets);
    else if (isfinite(judged->least) && isfinite(judged->most))
        ht_text_addf(out, REPORT_BETWEEN, least.text, most.text);
    else if (isfinite(judged->most))
        ht_text_addf(out, REPORT_AT_MOST, most.text);
    else if (isfinite(judged->least))
        ht_text_addf(out, REPORT_AT_LEAST, least.text);
}

static void put_verdict(struct ht_text *out, const struct judged *judged)
{
    const struct ht_limit_verdict *v = judged->deciding;
    if (judged->sets == 1 && judged->verdict == HT_VERDICT_OPEN &&
        verdict_has_chance(v))
        ht_text_addf(out,
                     v->is_minimum ? REPORT_CHANCE_UNDER : REPORT_CHANCE_OVER,
                     verdict_word(v->verdict), verdict_in_100(v));
    else
        ht_text_add(out, verdict_word(judged->verdict));
}

struct row {
    struct ht_text *whole;
    void (*cell)(void *context, const char *text);
    void *context;
};

static void end_cell(const struct row *row, struct ht_text *text)
{
    row->cell(row->context, ht_text_get(text));
    ht_text_end(row->whole, text);
}

static void put_row(const struct row *row, const struct ht_angles *angles,
                    size_t joint)
{
    struct judged judged = judged_joint(angles, joint);
    struct ht_text text = { 0 };
    ht_text_addf(&text, "%zu", joint);
    end_cell(row, &text);
    clean_text(&text, angles->joint[joint - 1].between);
    end_cell(row, &text);
    ht_text_add(&text,
                shown_angle_range(&angles->joint[joint - 1].angle_rad).text);
    end_cell(row, &text);
    put_limits(&text, &judged);
    end_cell(row, &text);
    put_verdict(&text, &judged);
    end_cell(row, &text);
}

void joint_cells(struct ht_text *whole, const struct ht_angles *angles,
                 void (*cell)(void *context, const char *text), void *context)
{
    static const char *const heads[JOINT_COLUMNS] = {
        "", REPORT_HEAD_JOINT, REPORT_HEAD_ANGLE, REPORT_HEAD_ALLOWED,
        REPORT_HEAD_VERDICT
    };
    const struct row row = { whole, cell, context };
    for (size_t i = 0; i < JOINT_COLUMNS; i++)
        cell(context, heads[i]);
    for (size_t j = 1; j <= angles->joints; j++)
        put_row(&row, angles, j);
}
