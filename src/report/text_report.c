/* Text for people: what the commands print. */
#include "halfturn/report.h"

#include "judged.h"
#include "lines.h"
#include "summary.h"
#include "text_parts.h"
#include "texts.h"

typedef void (*say_function)(struct ht_text *, const struct told *);

static void put_said(struct ht_text *out, const char *lead, say_function say,
                     const struct told *told)
{
    struct ht_text text = { 0 };
    say(&text, told);
    put_paragraph(out, lead, ht_text_get(&text));
    ht_text_end(out, &text);
}

static void put_said_list(struct ht_text *out, const char *heading,
                          say_function say, const struct told *told)
{
    struct ht_text text = { 0 };
    say(&text, told);
    put_list(out, heading, ht_text_get(&text));
    ht_text_end(out, &text);
}

/* Safety, then the answer as `say` gives it, then why. */
static void put_top(struct ht_text *out, const struct told *told,
                    say_function say)
{
    if (told->workup->sheet->title)
        put_said(out, "", say_title, told);
    put_said_list(out, REPORT_SAFETY, say_safety, told);
    if (out->length > 0)
        ht_text_add(out, "\n");
    put_said(out, "", say, told);
}

static void put_end(struct ht_text *out, const struct told *told)
{
    put_said_list(out, REPORT_DOUBTS, say_doubts, told);
    put_said_list(out, REPORT_UNTOLD, say_untold, told);
    put_said_list(out, REPORT_ASSUMED, say_assumed, told);
    put_said_list(out, REPORT_CAUTION, say_cautions, told);
    ht_text_add(out, "\n");
    put_paragraph(out, "", REPORT_NOT_SAFE);
}

static enum ht_status finish(const struct ht_text *out, struct ht_error *err)
{
    return ht_text_ok(out) ? HT_OK : ht_fail(err, REPORT_NO_MEMORY_TEXT);
}

enum ht_status ht_report_angles_text(struct ht_text *out,
                                     const struct ht_workup *workup,
                                     struct ht_error *err)
{
    const struct told told = told_of(workup, HT_BLOCK_ANGLES);
    put_top(out, &told, say_answer);
    put_said(out, "", say_reason, &told);
    if (told.angles)
        text_angles(out, workup);
    put_end(out, &told);
    return finish(out, err);
}

enum ht_status ht_report_shims_text(struct ht_text *out,
                                    const struct ht_workup *workup,
                                    struct ht_error *err)
{
    const struct told told = told_of(workup, HT_BLOCK_ANGLES);
    if (workup->sheet->title)
        put_said(out, "", say_title, &told);
    text_shims(out, workup);
    if (workup->shims_count == 0)
        put_said_list(out, REPORT_UNTOLD, say_untold, &told);
    put_said_list(out, REPORT_CAUTION, say_shim_cautions, &told);
    ht_text_add(out, "\n");
    put_paragraph(out, "", REPORT_NOT_SAFE);
    return finish(out, err);
}

enum ht_status ht_report_orders_text(struct ht_text *out,
                                     const struct ht_workup *workup,
                                     struct ht_error *err)
{
    const struct told told = told_of(workup, HT_BLOCK_ORDERS);
    put_top(out, &told, say_answer);
    put_said(out, "", say_reason, &told);
    put_said(out, "", say_speed, &told);
    if (told.orders)
        text_orders(out, workup);
    put_end(out, &told);
    return finish(out, err);
}

enum ht_status ht_report_rank_text(struct ht_text *out,
                                   const struct ht_workup *workup,
                                   struct ht_error *err)
{
    const struct told told = told_all(workup);
    put_top(out, &told, say_answer);
    put_said(out, "", say_sureness, &told);
    put_said(out, "", say_reason, &told);
    if (workup->has_ranking && workup->ranking.next_checks) {
        ht_text_add(out, "\n");
        put_said(out, REPORT_NEXT, say_next, &told);
        put_said_list(out, REPORT_OUTCOMES, say_next_outcomes, &told);
    }
    if (workup->has_ranking)
        text_causes(out, workup);
    if (workup->has_angles)
        text_angles(out, workup);
    if (workup->has_orders)
        text_orders(out, workup);
    put_end(out, &told);
    return finish(out, err);
}
