/* angles --blank in the program itself: another one, halfturn-paper, is linked
 * to the libraries that draw. They take longer to load than all others. */
#include "commands.h"
#include "elsewhere.h"

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
