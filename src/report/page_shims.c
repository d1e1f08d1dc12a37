/* Shims: the plans, how likely each keeps every limit, what to expect. */
#include "page.h"

#include "choice.h"
#include "figure.h"
#include "markup.h"
#include "shims.h"
#include "shown.h"
#include "texts.h"
#include "texts_figures.h"
#include "texts_shims.h"
#include "words.h"

#include "common/constants.h"

/* One groove 0 to 100: a bar to the chance, a dashed tick where it stands
 * without any work. */
void draw_chance_bar(struct ht_text *out, double probability, double now,
                     const char *label)
{
    markup(out, "<svg width=\"100%%\" height=\"14\" role=\"img\" "
           "aria-label=\"%a\"><rect class=\"track\" width=\"100%%\" "
           "height=\"14\"/><rect class=\"bar\" width=\"%d%%\" "
           "height=\"14\"/>", label, in_100(probability));
    for (int quarter = 1; quarter < 4; quarter++)
        markup(out, "<line class=\"quarter\" x1=\"%d%%\" x2=\"%d%%\" y1=\"0\" "
               "y2=\"14\"/>", 25 * quarter, 25 * quarter);
    markup(out, "<line class=\"between\" x1=\"%d%%\" x2=\"%d%%\" y1=\"0\" "
           "y2=\"14\"/></svg>\n", in_100(now), in_100(now));
}

static void put_works(struct ht_text *out, const struct ht_shims *shims,
                      const struct ht_shim_plan *plan)
{
    struct ht_text text = { 0 };
    for (size_t i = 0; i < plan->works; i++) {
        say_work(&text, shims, &plan->work[i]);
        page_note(out, ht_text_get(&text));
        ht_text_end(out, &text);
    }
}

static void put_expected(struct ht_text *out, const struct ht_shims *shims,
                         const struct ht_shim_plan *plan)
{
    struct ht_text name = { 0 };
    markup(out, "<table class=\"travel\"><thead><tr><th>%t</th><th>%t</th>"
           "<th>%t</th><th>%t</th></tr></thead><tbody>\n",
           REPORT_HEAD_MEMBER, REPORT_HEAD_NOW, REPORT_HEAD_EXPECT,
           REPORT_HEAD_BENDS);
    for (size_t m = 0; m < plan->members; m++) {
        struct shown_range joint = { "" };
        if (m + 1 < plan->members)
            joint = shown_angle_range(&plan->joint_rad[m]);
        markup(out, "<tr><td>%t</td><td>%t</td><td>%t</td><td>%t</td></tr>\n",
               shim_member(&name, shims, m),
               shown_degrees(shims->as_it_stands.slope_rad[m].value, 2).text,
               shown_angle_range(&plan->slope_rad[m]).text, joint.text);
        ht_text_end(out, &name);
    }
    ht_text_add(out, "</tbody></table>\n");
}

static void put_choice(struct ht_text *out, const struct ht_shims *shims,
                       size_t index)
{
    struct choice choice;
    if (choice_from(&choice, shims, index)) {
        ht_text_add(out, "<div class=\"plate\">\n");
        draw_choice(out, &choice, FIGURE_NARROW);
        draw_choice(out, &choice, FIGURE_WIDE);
        ht_text_add(out, "</div>\n");
    }
    choice_free(&choice, out);
}

static void put_plan(struct ht_text *out, const struct ht_shims *shims,
                     size_t index)
{
    const struct ht_shim_plan *plan = &shims->plan[index];
    struct ht_text head = { 0 }, chance = { 0 };
    ht_text_addf(&head, REPORT_PLAN, index + 1,
                 shown_number(plan->minutes, 0).text);
    if (index == shims->advised) {
        next_sentence(&head);
        ht_text_add(&head, shims->enough ? REPORT_PLAN_ADVISED
                                         : REPORT_PLAN_LIKELIEST);
    }
    say_chance(&chance, plan);
    markup(out, "<div class=\"cause\"><h3>%t</h3>\n", ht_text_get(&head));
    put_works(out, shims, plan);
    draw_chance_bar(out, plan->probability, shims->as_it_stands.probability,
                    ht_text_get(&chance));
    page_note(out, ht_text_get(&chance));
    put_choice(out, shims, index);
    if (index == shims->advised)
        put_expected(out, shims, plan);
    ht_text_add(out, "</div>\n");
    ht_text_end(out, &head);
    ht_text_end(out, &chance);
}

static void put_lines(struct ht_text *out, const char (*line)[200],
                      size_t count)
{
    struct ht_text lines = { 0 };
    for (size_t i = 0; i < count; i++) {
        put_held(&lines, line[i]);
        ht_text_add(&lines, "\n");
    }
    page_list(out, ht_text_get(&lines), "list");
    ht_text_end(out, &lines);
}

static void put_plans(struct ht_text *out, const struct ht_shims *shims)
{
    struct ht_text text = { 0 };
    ht_text_add(&text, REPORT_AS_IT_STANDS);
    say_chance(&text, &shims->as_it_stands);
    page_note(out, ht_text_get(&text));
    ht_text_end(out, &text);
    page_note(out, shims->plans == 0 ? without_plan(shims)
                                     : FIGURE_CHOICE_CAPTION);
    for (size_t p = 0; p < shims->plans; p++)
        put_plan(out, shims, p);
    if (shims->plans > 0)
        page_note(out, REPORT_CAUTION_WEDGE);
}

static void put_after(struct ht_text *out, const struct ht_shims *shims,
                      const struct ht_shims_after *after)
{
    struct ht_text text = { 0 };
    say_after(&text, shims, after);
    page_note(out, ht_text_get(&text));
    ht_text_end(out, &text);
    if (!after->compared)
        return;
    markup(out, "<table class=\"travel\"><thead><tr><th>%t</th><th>%t</th>"
           "<th>%t</th><th>%t</th><th></th></tr></thead><tbody>\n",
           REPORT_HEAD_MEMBER, REPORT_HEAD_EXPECT, REPORT_HEAD_READ,
           REPORT_HEAD_OFF);
    for (size_t m = 0; m < after->members; m++) {
        const struct ht_shim_reading *r = &after->reading[m];
        markup(out, "<tr><td>%t</td><td>%t</td><td>%t</td><td>%t</td>"
               "<td>%t</td></tr>\n", shim_member(&text, shims, m),
               shown_degrees(r->predicted_rad, 2).text,
               shown_degrees(r->measured_rad, 2).text,
               shown_plus_minus(HT_DEG_PER_RAD *
                                    (r->measured_rad - r->predicted_rad),
                                HT_DEG_PER_RAD * 1.96 * r->u_rad, 2).text,
               r->as_predicted ? REPORT_AS_PREDICTED : REPORT_NOT_PREDICTED);
        ht_text_end(out, &text);
    }
    ht_text_add(out, "</tbody></table>\n");
}

static void put_line(struct ht_text *out, const struct ht_line_shims *line)
{
    const struct ht_shims *shims = &line->shims;
    struct ht_text text = { 0 }, name = { 0 };
    if (shims->driveline[0]) {
        ht_text_addf(&text, REPORT_SHIMS_OF, cleaned(&name, shims->driveline));
        page_note(out, ht_text_get(&text));
        ht_text_end(out, &text);
    }
    ht_text_end(out, &name);
    if (line->has_after)
        put_after(out, shims, &line->after);
    if (shims->refusals > 0) {
        page_note(out, REPORT_FIRST);
        put_lines(out, shims->refusal, shims->refusals);
    } else {
        put_plans(out, shims);
    }
    if (shims->notes > 0) {
        page_note(out, REPORT_SHIMS_TAKEN);
        put_lines(out, shims->note, shims->notes);
    }
}

void page_shims(struct ht_text *out, const struct ht_workup *workup)
{
    if (workup->shims_count == 0)
        return;
    markup(out, "<section><h2>%t</h2>\n", REPORT_SHIMS);
    for (size_t i = 0; i < workup->shims_count; i++)
        put_line(out, &workup->shims[i]);
    ht_text_add(out, "</section>\n");
}
