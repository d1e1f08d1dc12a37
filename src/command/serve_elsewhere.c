/* serve in the program itself: another one, halfturn-page, is linked to the
 * libraries of the server and the database. */
#include "commands.h"
#include "elsewhere.h"

static const char *const places[] = {
#ifdef HALFTURN_PAGE_BUILT
    HALFTURN_PAGE_BUILT,
#endif
    HALFTURN_PAGE_INSTALLED,
};

enum ht_status command_serve(const struct options *options,
                             struct ht_text *out, struct ht_error *err)
{
    (void)out;
    return elsewhere_run(places, sizeof places / sizeof places[0],
                         options->line, err);
}
