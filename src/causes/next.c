/* The checks worth making next: what each is expected to tell about which
 * cause is repaired first, for each minute it takes. */
#include "causes/ranking.h"
#include "causes/texts.h"

#include "common/parallel.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { NEXT = sizeof((struct ht_ranking *)0)->next /
              sizeof(struct ht_next_check) };
static const double least_minutes = 0.5;
static const double least_gain_nats = 0.01;
/* Heavier vehicles are never coasted out of gear (common practice, no
 * source). */
static const double coasting_mass_kg = 3500;

static bool says(const struct ht_words *words, const char *word)
{
    for (size_t i = 0; i < words->count; i++)
        if (strcmp(words->text[i], word) == 0)
            return true;
    return false;
}

static bool at_hand(const struct ht_sheet *sheet, const char *tool)
{
    if (!tool || strcmp(tool, "hands") == 0)
        return true;
    if (!sheet)
        return strcmp(tool, "lamp") == 0 || strcmp(tool, "lever") == 0;
    if (strcmp(tool, "angle_gauge") == 0 && sheet->angles_count)
        return true;
    if (strcmp(tool, "recorder") == 0 && sheet->drive_count)
        return true;
    if (sheet->next.tools.count)
        return says(&sheet->next.tools, tool);
    return strcmp(tool, "lamp") == 0 || strcmp(tool, "lever") == 0;
}

static bool may_coast(const struct ht_sheet *sheet)
{
    if (!sheet)
        return false;
    if (isfinite(sheet->vehicle.mass_kg))
        return sheet->vehicle.mass_kg <= coasting_mass_kg;
    return sheet->vehicle.class == HT_CLASS_CAR ||
           sheet->vehicle.class == HT_CLASS_VAN;
}

static bool feasible(const struct ranking_work *work, size_t f)
{
    const struct ht_finding_kind *kind = &work->kinds[f];
    const struct ht_findings *findings = work->request->findings;
    if (!kind->question || findings->finding[f].known)
        return false;
    const struct ht_sheet *sheet = work->request->sheet;
    if (kind->of_complaint && sheet && !sheet->complaint.given)
        return false;
    if (kind->needs_drive && findings->no_drive)
        return false;
    if (kind->coasting && !may_coast(sheet))
        return false;
    if (kind->is_line && findings->drive_recorded)
        return false;
    return at_hand(sheet, kind->tool);
}

/* Which member of a set is repaired first: the likeliest. */
static size_t first_of(const struct ranking_work *work,
                       const struct ht_net_set *set)
{
    size_t first = HT_CAUSES_MAX;
    for (size_t m = 0; m < set->members; m++)
        if (first == HT_CAUSES_MAX ||
            work->probability[set->member[m]] > work->probability[first])
            first = set->member[m];
    return first;
}

/* joint[f][k][c]: chance of answer k and cause c first, of every SHARESth
 * set. Sets that do not touch a finding show the leak's answers; here stands
 * how the others differ from that. */
enum { SHARES = RANKING_SHARES };

static void add_sets(void *context, size_t share)
{
    struct ranking_work *work = context;
    const struct ht_network *network = &work->network;
    ht_joint_chances *joint = work->joint + share * network->findings;
    double *first_chance = work->first_chance[share];
    for (size_t s = share; s < network->sets; s += SHARES) {
        const struct ht_net_set *set = &network->set[s];
        struct ht_touched touched[HT_TOUCHED_MAX];
        size_t first = first_of(work, set);
        size_t count = ht_net_touched(network, set, false, touched);
        first_chance[first] += set->weight;
        for (size_t i = 0; i < count; i++) {
            size_t f = touched[i].finding;
            for (size_t k = 0; k < network->finding[f].answers; k++)
                joint[f][k][first] +=
                    set->weight *
                    (ht_net_share(touched[i].below, k) -
                     ht_net_share(network->finding[f].below, k));
        }
    }
}

/* Into the first share. */
static void join_shares(struct ranking_work *work)
{
    size_t values = work->network.findings * sizeof(ht_joint_chances) /
                    sizeof(double);
    double *all = &work->joint[0][0][0];
    for (size_t share = 1; share < SHARES; share++) {
        for (size_t i = 0; i < values; i++)
            all[i] += all[share * values + i];
        for (size_t c = 0; c <= HT_CAUSES_MAX; c++)
            work->first_chance[0][c] += work->first_chance[share][c];
    }
}

static void fill_joint(struct ranking_work *work)
{
    const struct ht_network *network = &work->network;
    const double *first_chance = work->first_chance[0];
    ht_parallel(SHARES, add_sets, work);
    join_shares(work);
    for (size_t f = 0; f < network->findings; f++) {
        const struct ht_net_finding *finding = &network->finding[f];
        double healthy[HT_ANSWERS_MAX];
        ht_net_healthy_below(finding, healthy);
        for (size_t k = 0; k < finding->answers; k++) {
            for (size_t c = 0; c < network->causes; c++)
                work->joint[f][k][c] +=
                    first_chance[c] * ht_net_share(finding->below, k);
            work->joint[f][k][HT_CAUSES_MAX] =
                first_chance[HT_CAUSES_MAX] * ht_net_share(healthy, k);
        }
    }
}

/* Mutual information of the answer and the cause repaired first, in nats. */
static double gain_of(const struct ranking_work *work, size_t f)
{
    size_t answers = work->network.finding[f].answers;
    double first[HT_CAUSES_MAX + 1] = { 0 }, answer[HT_ANSWERS_MAX] = { 0 };
    for (size_t k = 0; k < answers; k++)
        for (size_t c = 0; c <= HT_CAUSES_MAX; c++) {
            first[c] += work->joint[f][k][c];
            answer[k] += work->joint[f][k][c];
        }
    double gain = 0;
    for (size_t k = 0; k < answers; k++)
        for (size_t c = 0; c <= HT_CAUSES_MAX; c++)
            if (work->joint[f][k][c] > 1e-300)
                gain += work->joint[f][k][c] *
                        log(work->joint[f][k][c] / (answer[k] * first[c]));
    return fmax(0, gain);
}

/* Two checks that come from one piece of work are offered once. */
static bool one_work(const struct ht_finding_kind *a,
                     const struct ht_finding_kind *b)
{
    if (a->group && b->group && strcmp(a->group, b->group) == 0)
        return true;
    return a->tool && b->tool && strcmp(a->tool, b->tool) == 0 &&
           (strcmp(a->tool, "angle_gauge") == 0 ||
            strcmp(a->tool, "recorder") == 0);
}

static double rate_of(const struct ht_next_check *check)
{
    return check->gain_nats / fmax(check->minutes, least_minutes);
}

/* The best one not offered yet; false: none worth making. */
static bool pick(struct ht_ranking *ranking, const struct ranking_work *work,
                 struct ht_next_check *best)
{
    *best = (struct ht_next_check){ .minutes = 1 };
    for (size_t f = 0; f < work->network.findings; f++) {
        const struct ht_finding_kind *kind = &work->kinds[f];
        bool taken = !feasible(work, f);
        for (size_t i = 0; i < ranking->next_checks; i++)
            taken = taken || ranking->next[i].finding == f ||
                    one_work(kind, &work->kinds[ranking->next[i].finding]);
        if (taken)
            continue;
        struct ht_next_check check = { .finding = f, .id = kind->id,
                                       .question = kind->question,
                                       .minutes = kind->minutes,
                                       .gain_nats = gain_of(work, f) };
        if (check.gain_nats >= least_gain_nats &&
            rate_of(&check) > rate_of(best))
            *best = check;
    }
    return best->id != NULL;
}

/* The lowest of complaint + 5 km/h, top speed, lawful; NAN: none known. */
static double highest_speed_m_s(const struct ht_sheet *sheet)
{
    double complaint = NAN;
    for (size_t i = 0; i < sheet->complaint.speed_m_s.count; i++)
        complaint = fmax(complaint, sheet->complaint.speed_m_s.value[i]);
    return fmin(fmin(complaint + 5 / 3.6, sheet->vehicle.top_speed_m_s),
                sheet->next.lawful_m_s);
}

/* One more sentence for a text of fixed size; what does not fit is cut. */
static void append(char *text, size_t size, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
static void append(char *text, size_t size, const char *format, ...)
{
    size_t used = strlen(text);
    va_list arguments;
    if (used > 0 && used + 1 < size) {
        text[used++] = ' ';
        text[used] = '\0';
    }
    va_start(arguments, format);
    (void)vsnprintf(text + used, size - used, format, arguments);
    va_end(arguments);
}

static void say_how(struct ht_next_check *check,
                    const struct ranking_work *work)
{
    const struct ht_finding_kind *kind = &work->kinds[check->finding];
    const struct ht_sheet *sheet = work->request->sheet;
    size_t size = sizeof check->how;
    check->how[0] = '\0';
    if (kind->tool && strcmp(kind->tool, "hands") != 0) {
        char tool[40];
        snprintf(tool, sizeof tool, "%s", kind->tool);
        for (char *at = tool; *at; at++)
            *at = *at == '_' ? ' ' : *at;
        append(check->how, size, CAUSES_TOOL, tool);
    }
    if (kind->needs_drive) {
        double speed = sheet ? highest_speed_m_s(sheet) : NAN;
        if (isnan(speed))
            append(check->how, size, CAUSES_LAWFUL);
        else
            append(check->how, size, CAUSES_NO_FASTER,
                   (int)floor(speed * 3.6 + 1e-6));
        append(check->how, size, CAUSES_TWO_PEOPLE);
    }
    if (kind->caution)
        append(check->how, size, "%s", kind->caution);
}

/* The cause whose probability the answer changes most. */
static size_t most_changed(const struct ranking_work *work)
{
    size_t most = 0;
    double largest = -1;
    for (size_t c = 0; c < work->network.causes; c++) {
        double change =
            fabs(work->network.probability[c] - work->probability[c]);
        if (change > largest) {
            largest = change;
            most = c;
        }
    }
    return most;
}

static void say_outcome(struct ht_next_check *check, size_t answer,
                        const struct ranking_work *work)
{
    const char *statement =
        work->kinds[check->finding].statement[answer];
    size_t c = most_changed(work);
    int now = ht_in_100(work->network.probability[c]);
    int before = ht_in_100(work->probability[c]);
    const char *title = work->cause[c]->title;
    char *text = check->outcome[answer];
    if (now > before)
        snprintf(text, sizeof check->outcome[0], CAUSES_RISES, statement, title,
                 now);
    else if (now < before)
        snprintf(text, sizeof check->outcome[0], CAUSES_FALLS, statement, title,
                 now);
    else
        snprintf(text, sizeof check->outcome[0], CAUSES_STAYS, statement, title,
                 now);
}

/* As if each answer in turn had been given. */
static void add_outcomes(struct ht_next_check *check,
                         struct ranking_work *work)
{
    struct ht_network *network = &work->network;
    struct ht_net_finding *finding = &network->finding[check->finding];
    struct ht_net_finding kept = *finding;
    check->outcomes = finding->answers;
    for (size_t k = 0; k < finding->answers; k++) {
        struct ht_finding supposed = { .kind = check->finding };
        ht_finding_suppose(&supposed, k);
        memcpy(finding->likelihood, supposed.likelihood,
               sizeof finding->likelihood);
        finding->speaks = true;
        ht_ranking_exponents(network, work->kinds,
                             work->request->catalogue->tempering);
        ht_net_weigh(network);
        say_outcome(check, k, work);
    }
    *finding = kept;
    ht_ranking_exponents(network, work->kinds,
                         work->request->catalogue->tempering);
}

static void say_tools(struct ht_ranking *ranking, const struct ht_sheet *sheet)
{
    char listed[120] = "hands";
    size_t used = strlen(listed), size = sizeof listed;
    if (!sheet || !sheet->next.tools.count) {
        snprintf(ranking->tools, sizeof ranking->tools, "%s",
                 CAUSES_TOOLS_TAKEN);
        return;
    }
    for (size_t i = 0; i < sheet->next.tools.count && used < size; i++)
        used += (size_t)snprintf(listed + used, size - used, ", %.30s",
                                 sheet->next.tools.text[i]);
    snprintf(ranking->tools, sizeof ranking->tools, CAUSES_TOOLS_SAID, listed);
}

void ht_ranking_next(struct ht_ranking *ranking, struct ranking_work *work)
{
    memcpy(work->probability, work->network.probability,
           sizeof work->probability);
    fill_joint(work);
    say_tools(ranking, work->request->sheet);
    while (ranking->next_checks < NEXT) {
        struct ht_next_check best;
        if (!pick(ranking, work, &best))
            break;
        ranking->next[ranking->next_checks++] = best;
    }
    for (size_t i = 0; i < ranking->next_checks; i++) {
        say_how(&ranking->next[i], work);
        add_outcomes(&ranking->next[i], work);
    }
}
