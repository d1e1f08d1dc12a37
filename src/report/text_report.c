/* Text for people: what the commands print. */
#include "halfturn/report.h"

#include "judged.h"
#include "lines.h"
#include "summary.h"
#include "text_parts.h"
#include "texts.h"

typedef void (*say_function)(struct ht_text *, const struct ht_workup *);

static void put_said(struct ht_text *out, const char *lead, say_function say,
                     const struct ht_workup *workup)
{
    struct ht_text text = { 0 };
    say(&text, workup);
    put_paragraph(out, lead, ht_text_get(&text));
    ht_text_end(out, &text);
}

static void put_said_list(struct ht_text *out, const char *heading,
                          say_function say, const struct ht_workup *workup)
{
    struct ht_text text = { 0 };
    say(&text, workup);
    put_list(out, heading, ht_text_get(&text));
    ht_text_end(out, &text);
}

/* Safety, then the answer as `say` gives it, then why. */
static void put_top(struct ht_text *out, const struct ht_workup *workup,
                    say_function say)
{
    if (workup->sheet->title)
        put_said(out, "", say_title, workup);
    put_said_list(out, REPORT_SAFETY, say_safety, workup);
    if (out->length > 0)
        ht_text_add(out, "\n");
    put_said(out, "", say, workup);
}

static void put_end(struct ht_text *out, const struct ht_workup *workup)
{
    put_said_list(out, REPORT_UNTOLD, say_untold, workup);
    put_said_list(out, REPORT_ASSUMED, say_assumed, workup);
    put_said_list(out, REPORT_CAUTION, say_cautions, workup);
    ht_text_add(out, "\n");
    put_paragraph(out, "", REPORT_NOT_SAFE);
}

static enum ht_status finish(const struct ht_text *out, struct ht_error *err)
{
    return ht_text_ok(out) ? HT_OK : ht_fail(err, REPORT_NO_MEMORY_TEXT);
}

/* Only the part of a workup that a command is about: its answer does not
 * lead with what another command tells. */
static struct ht_workup only(const struct ht_workup *workup, bool angles,
                             bool drive)
{
    struct ht_workup part = *workup;
    part.has_ranking = false;
    part.has_angles = part.has_angles && angles;
    part.has_recording = part.has_recording && drive;
    part.has_turns = part.has_turns && drive;
    part.has_orders = part.has_orders && drive;
    return part;
}

enum ht_status ht_report_angles_text(struct ht_text *out,
                                     const struct ht_workup *workup,
                                     struct ht_error *err)
{
    struct ht_workup part = only(workup, true, false);
    put_top(out, &part, say_answer);
    put_said(out, "", say_reason, &part);
    if (part.has_angles)
        text_angles(out, &part);
    put_end(out, &part);
    return finish(out, err);
}

enum ht_status ht_report_orders_text(struct ht_text *out,
                                     const struct ht_workup *workup,
                                     struct ht_error *err)
{
    struct ht_workup part = only(workup, false, true);
    put_top(out, &part, say_answer);
    put_said(out, "", say_reason, &part);
    put_said(out, "", say_speed, &part);
    if (part.has_orders)
        text_orders(out, &part);
    put_end(out, &part);
    return finish(out, err);
}

enum ht_status ht_report_rank_text(struct ht_text *out,
                                   const struct ht_workup *workup,
                                   struct ht_error *err)
{
    put_top(out, workup, say_answer);
    put_said(out, "", say_sureness, workup);
    put_said(out, "", say_reason, workup);
    if (workup->has_ranking && workup->ranking.next_checks) {
        ht_text_add(out, "\n");
        put_said(out, REPORT_NEXT, say_next, workup);
        put_said_list(out, REPORT_OUTCOMES, say_next_outcomes, workup);
    }
    if (workup->has_ranking)
        text_causes(out, workup);
    if (workup->has_angles)
        text_angles(out, workup);
    if (workup->has_orders)
        text_orders(out, workup);
    put_end(out, workup);
    return finish(out, err);
}
