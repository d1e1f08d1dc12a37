/* angles --blank, report --pdf and --figures in the program itself: another,
 * halfturn-paper, is linked to the libraries that draw. They take longer to
 * load than all others. */
#include "commands.h"
#include "elsewhere.h"
#include "figures.h"

static const char *const places[] = {
#ifdef HALFTURN_PAPER_BUILT
    HALFTURN_PAPER_BUILT,
#endif
    HALFTURN_PAPER_INSTALLED,
};

enum ht_status command_blank(const struct options *options,
                             struct ht_text *out, struct ht_error *err)
{
    (void)out;
    return elsewhere_run(places, sizeof places / sizeof places[0],
                         options->line, err);
}

enum ht_status figures_begin(const struct options *options,
                             struct ht_error *err)
{
    if (!options->figures && !pdf_wanted(options))
        return HT_OK;
    return elsewhere_run(places, sizeof places / sizeof places[0],
                         options->line, err);
}

/* None are asked for, or figures_begin had not returned well. */
enum ht_status figures_write(const struct options *options,
                             const struct ht_workup *workup,
                             struct ht_error *err)
{
    (void)options;
    (void)workup;
    (void)err;
    return HT_OK;
}

/* The same: the program would have become the other one. */
enum ht_status figures_pdf(struct ht_text *out,
                           const struct ht_workup *workup,
                           const struct ht_report_names *names,
                           const struct options *options,
                           struct ht_error *err)
{
    (void)out;
    (void)workup;
    (void)names;
    return figures_begin(options, err);
}
