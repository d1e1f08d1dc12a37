/* From findings to a ranking: the network set up, weighed, and put in words. */
#include "causes/ranking.h"
#include "causes/texts.h"

#include "common/memory.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

int ht_in_100(double probability)
{
    return (int)fmin(99, fmax(1, floor(100 * probability + 0.5)));
}

void ht_ranking_exponents(struct ht_network *network,
                          const struct ht_finding_kind *kinds,
                          double tempering)
{
    for (size_t f = 0; f < network->findings; f++) {
        size_t sharing = 1;
        for (size_t g = 0; g < network->findings && kinds[f].group; g++)
            sharing += g != f && network->finding[g].speaks &&
                       kinds[g].group &&
                       strcmp(kinds[g].group, kinds[f].group) == 0;
        network->finding[f].exponent = tempering / (double)sharing;
    }
}

/* A line that nothing in the table is about, in one with another: the leak of
 * an ordinary line (common practice, no source). */
static const double stranger_below[3] = { 0.70, 0.96, 1 };

/* Lines in one: the strongest of them is seen, so the chances of being at
 * most so strong multiply, of the leaks here and of the causes' own below. */
static void join_lines(struct ranking_work *work)
{
    const struct ht_findings *findings = work->request->findings;
    struct ht_net_finding *finding = work->network.finding;
    for (size_t f = 0; f < work->network.findings; f++) {
        size_t speaker = findings->finding[f].one_with;
        for (size_t k = 0; k < 3 && work->kinds[f].is_line; k++) {
            if (speaker != f)
                finding[speaker].below[k] *= finding[f].below[k];
            finding[f].below[k] *=
                pow(stranger_below[k], (double)findings->finding[f].strangers);
        }
    }
}

static void add_link(struct ht_net_cause *to, size_t finding,
                     const double below[HT_ANSWERS_MAX])
{
    for (size_t i = 0; i < to->links; i++)
        if (to->link[i].finding == finding) {
            for (size_t k = 0; k < HT_ANSWERS_MAX; k++)
                to->link[i].below[k] *= below[k];
            return;
        }
    to->link[to->links].finding = finding;
    memcpy(to->link[to->links++].below, below,
           sizeof to->link[0].below);
}

static void set_findings(struct ranking_work *work)
{
    const struct ht_catalogue *catalogue = work->request->catalogue;
    const struct ht_findings *findings = work->request->findings;
    struct ht_network *network = &work->network;
    network->findings = findings->findings;
    for (size_t f = 0; f < network->findings; f++) {
        struct ht_net_finding *finding = &network->finding[f];
        bool has_leak = catalogue->leak_below[f][0] > 0;
        finding->answers = work->kinds[f].answers;
        finding->is_line = work->kinds[f].is_line;
        finding->speaks = has_leak && ht_finding_speaks(&findings->finding[f]);
        for (size_t k = 0; k < finding->answers; k++) {
            finding->below[k] =
                has_leak ? catalogue->leak_below[f][k]
                         : (double)(k + 1) / (double)finding->answers;
            finding->likelihood[k] = findings->finding[f].likelihood[k];
        }
    }
    join_lines(work);
    ht_ranking_exponents(network, work->kinds, catalogue->tempering);
}

static void strike(struct ht_ranking *ranking, const struct cat_cause *cause,
                   const char *why)
{
    ranking->struck[ranking->struck_out].id = cause->id;
    ranking->struck[ranking->struck_out].title = cause->title;
    snprintf(ranking->struck[ranking->struck_out].why,
             sizeof ranking->struck[0].why, "%s", why);
    ranking->struck_out++;
}

static void set_causes(struct ht_ranking *ranking, struct ranking_work *work)
{
    const struct ht_catalogue *catalogue = work->request->catalogue;
    const struct ht_sheet *sheet = work->request->sheet;
    enum ht_vehicle_class class =
        sheet ? sheet->vehicle.class : HT_CLASS_UNKNOWN;
    const struct ht_findings *findings = work->request->findings;
    struct ht_network *network = &work->network;
    double weight[HT_CAUSES_MAX] = { 0 }, sum = 0;
    for (size_t c = 0; c < catalogue->cause_count; c++) {
        const struct cat_cause *cause = &catalogue->causes[c];
        const char *why = ht_cause_struck(cause, sheet);
        double own = ht_cause_weight(cause, class);
        if (why)
            strike(ranking, cause, why);
        if (why || !(own > 0) || ht_cause_is_nothing(cause->id))
            continue;
        struct ht_net_cause *to = &network->cause[network->causes];
        to->other = ht_cause_is_other(cause->id);
        for (size_t i = 0; i < cause->link_count; i++)
            add_link(to, findings->finding[cause->links[i].kind].one_with,
                     cause->links[i].below);
        work->cause[network->causes] = cause;
        weight[network->causes++] = own;
        sum += own;
    }
    for (size_t c = 0; c < network->causes; c++)
        network->cause[c].prior =
            -expm1(-catalogue->faults_per_vehicle * weight[c] / sum);
}

/* No complaint: nobody complained, so the fleet's share of sound vehicles. */
static void set_setting(struct ht_ranking *ranking, struct ranking_work *work)
{
    static const char *const said[] = { [HT_SETTING_COMPLAINT] =
                                            CAUSES_COMPLAINT_SAID,
                                        [HT_SETTING_FLEET] = CAUSES_FLEET_SAID,
                                        [HT_SETTING_COURSE] =
                                            CAUSES_COURSE_SAID };
    const struct ht_sheet *sheet = work->request->sheet;
    enum ht_setting setting = sheet ? sheet->setting : HT_SETTING_UNKNOWN;
    const char *text = said[setting];
    if (setting == HT_SETTING_UNKNOWN) {
        bool complaint = sheet && sheet->complaint.given;
        setting = complaint ? HT_SETTING_COMPLAINT : HT_SETTING_FLEET;
        text = complaint ? CAUSES_COMPLAINT_TAKEN : CAUSES_FLEET_TAKEN;
    }
    work->network.nothing =
        ht_catalogue_nothing(work->request->catalogue, setting);
    ranking->nothing_before = work->network.nothing;
    ranking->tempering = work->request->catalogue->tempering;
    snprintf(ranking->setting, sizeof ranking->setting, "%s", text);
}

static void copy_safety(struct ht_ranking *ranking,
                        const struct ht_findings *findings)
{
    ranking->safety_count = findings->safety_count;
    memcpy(ranking->safety, findings->safety, sizeof ranking->safety);
}

static enum ht_status rank(struct ht_ranking *ranking,
                           struct ranking_work *work, struct ht_error *err)
{
    set_setting(ranking, work);
    set_findings(work);
    set_causes(ranking, work);
    if (!work->network.causes)
        return ht_fail(err, CAUSES_NONE_LEFT);
    enum ht_status status = ht_net_list(&work->network, err);
    if (status != HT_OK)
        return status;
    size_t findings = work->network.findings;
    work->without = ht_allocate(findings * HT_CAUSES_MAX, sizeof(double));
    work->joint =
        ht_allocate(RANKING_SHARES * findings, sizeof *work->joint);
    if (!work->without || !work->joint)
        return ht_fail(err, CAUSES_NO_MEMORY);
    ht_net_weigh(&work->network);
    ht_net_without(&work->network, work->without, work->nothing_without);
    ranking->prior_mass_cut = work->network.prior_mass_cut;
    status = ht_ranking_words(ranking, work, err);
    if (status == HT_OK)
        ht_ranking_next(ranking, work);
    return status;
}

enum ht_status ht_ranking_find(struct ht_ranking *ranking,
                               const struct ht_ranking_request *request,
                               struct ht_error *err)
{
    memset(ranking, 0, sizeof *ranking);
    struct ranking_work *work = ht_allocate(1, sizeof *work);
    if (!work)
        return ht_fail(err, CAUSES_NO_MEMORY);
    size_t count;
    work->request = request;
    work->kinds = ht_finding_kinds(&count);
    copy_safety(ranking, request->findings);
    enum ht_status status = rank(ranking, work, err);
    ht_net_free(&work->network);
    ht_release(work->without);
    ht_release(work->joint);
    ht_release(work);
    if (status != HT_OK)
        memset(ranking, 0, sizeof *ranking);
    return status;
}
