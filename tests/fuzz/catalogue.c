/* An edited copy of the catalogue: whatever loads ranks, or says why not. */
#include "harness.h"

#include "causes/catalogue.h"
#include "common/limits.h"
#include "halfturn/causes.h"

#include <math.h>
#include <string.h>

/* Every set of three of many causes takes milliseconds. */
enum { CAUSES_TO_RANK = 8 };

/* Nothing was observed: the priors come out, and are probabilities. */
static void must_rank(const struct ht_catalogue *catalogue)
{
    static struct ht_findings findings;
    static struct ht_ranking ranking;
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    ht_sheet_clear(&sheet);
    ht_findings_collect(&findings,
                        &(struct ht_findings_input){ .sheet = &sheet });
    struct ht_ranking_request request = { catalogue, &findings, &sheet };
    enum ht_status status = ht_ranking_find(&ranking, &request, &err);
    if (!fuzz_was_read(status, &err))
        return; /* no cause has a weight */
    FUZZ_DEMAND(ranking.causes > 0);
    for (size_t i = 0; i < ranking.causes; i++) {
        double p = ranking.cause[i].probability;
        FUZZ_DEMAND(p >= 0 && p <= 1 + 1e-9);
        FUZZ_DEMAND(ranking.cause[i].id && ranking.cause[i].title);
    }
}

static void read_catalogue(const char *bytes, size_t length)
{
    struct ht_catalogue *catalogue = NULL;
    struct ht_error err = { 0 };
    struct ht_source source = { "fuzz", bytes, length,
                                HT_CATALOGUE_BYTES_MAX };
    enum ht_status status =
        ht_catalogue_read_source(&catalogue, &source, &err);
    if (fuzz_was_read(status, &err)) {
        double tempering = ht_catalogue_tempering(catalogue);
        FUZZ_DEMAND(tempering >= 0.05 && tempering <= 1);
        FUZZ_DEMAND(ht_catalogue_alike(catalogue) != NULL);
        for (size_t i = 0; i < ht_catalogue_causes(catalogue); i++)
            FUZZ_DEMAND(ht_catalogue_cause_id(catalogue, i)[0] != '\0');
        if (ht_catalogue_causes(catalogue) <= CAUSES_TO_RANK)
            must_rank(catalogue);
    } else {
        FUZZ_DEMAND(catalogue == NULL);
    }
    ht_catalogue_free(catalogue);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_catalogue, data, size);
}
