/* Whose case it is, at the head of the page. */
#include "page.h"

#include "markup.h"
#include "shown.h"
#include "summary.h"
#include "texts.h"

/* Begins a further piece of the list at the head. */
static void next_piece(struct ht_text *out)
{
    if (out->length)
        ht_text_add(out, " " DOT " ");
}

static bool is_given(const char *text)
{
    return text && *text;
}

void page_meta(struct ht_text *out, const struct ht_sheet_identity *identity,
               const char *shop)
{
    struct ht_text text = { 0 };
    if (is_given(shop))
        ht_text_add(out, cleaned(&text, shop));
    if (is_given(identity->unit)) {
        next_piece(out);
        ht_text_addf(out, REPORT_UNIT, cleaned(&text, identity->unit));
    }
    if (is_given(identity->date)) {
        next_piece(out);
        ht_text_add(out, cleaned(&text, identity->date));
    }
    if (is_given(identity->measured_by)) {
        next_piece(out);
        ht_text_addf(out, REPORT_MEASURED_BY,
                     cleaned(&text, identity->measured_by));
    }
    ht_text_end(out, &text);
}

void page_paper_head(struct ht_text *out, const struct ht_workup *workup,
                     const struct ht_report_names *names)
{
    const struct told told = told_all(workup);
    struct ht_text meta = { 0 }, shop = { 0 }, title = { 0 };
    bool named = is_given(names->shop);
    page_meta(&meta, &workup->sheet->identity, named ? REPORT_BRAND : NULL);
    say_title(&title, &told);
    markup(out, "<p class=\"shop\">%t</p>\n<p class=\"meta\">%t</p>\n"
           "<p class=\"title\">%t</p>\n",
           named ? cleaned(&shop, names->shop) : REPORT_BRAND,
           ht_text_get(&meta), ht_text_get(&title));
    ht_text_end(out, &meta);
    ht_text_end(out, &shop);
    ht_text_end(out, &title);
}

void page_title(struct ht_text *title, struct ht_text *foot,
                const struct ht_workup *workup,
                const struct ht_report_names *names)
{
    const struct told told = told_all(workup);
    struct ht_text marked = { 0 }, clean = { 0 };
    const char *unit = workup->sheet->identity.unit;
    say_title(&marked, &told);
    unmarked_text(title, ht_text_get(&marked));
    if (is_given(unit)) {
        ht_text_add(title, ", ");
        ht_text_addf(title, REPORT_UNIT, cleaned(&clean, unit));
    }
    if (is_given(names->shop)) {
        ht_text_add(foot, cleaned(&clean, names->shop));
        ht_text_add(foot, " " DOT " ");
    }
    ht_text_add(foot, ht_text_get(title));
    ht_text_end(title, &marked);
    ht_text_end(foot, &clean);
}
