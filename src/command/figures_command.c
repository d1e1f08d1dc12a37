#include "figures.h"
#include "output.h"

#include "halfturn/report.h"

enum ht_status figures_begin(const struct options *options,
                             struct ht_error *err)
{
    (void)options;
    (void)err;
    return HT_OK;
}

enum ht_status figures_write(const struct options *options,
                             const struct ht_workup *workup,
                             struct ht_error *err)
{
    struct ht_figures figures;
    if (!options->figures)
        return HT_OK;
    enum ht_status status = ht_report_figures(&figures, workup, err);
    if (status == HT_OK)
        status = output_figures(&figures, options->figures, err);
    ht_report_figures_free(&figures);
    return status;
}

enum ht_status figures_pdf(struct ht_text *out,
                           const struct ht_workup *workup,
                           const struct ht_report_names *names,
                           const struct options *options,
                           struct ht_error *err)
{
    return ht_report_pdf(out, workup, names, options->paper, err);
}
