/* What a ranking says beside its numbers. */
#include "causes/ranking.h"
#include "causes/texts.h"

#include "common/memory.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Below this factor a finding is not worth a line. */
static const double least_times = 1.25;
/* Causes closer than this on every finding known look the same. */
static const double same_change = 0.02;

struct row { /* one cause on its way into the ranking */
    const struct cat_cause *cause;
    size_t index;               /* in the network; HT_CAUSES_MAX: nothing */
    double probability;
};

static double odds(double probability)
{
    double kept = fmin(1 - 1e-12, fmax(1e-12, probability));
    return kept / (1 - kept);
}

static bool is_sure(const struct ht_finding *finding, size_t answers)
{
    for (size_t k = 0; k < answers; k++)
        if (k != finding->answer && finding->likelihood[k] > 1.0 / 3)
            return false;
    return true;
}

/* A line that is there, and may be too strong: that much is sure. */
static bool is_there(const struct ht_finding_kind *kind,
                     const struct ht_finding *finding)
{
    return kind->is_line && finding->likelihood[0] <= 1.0 / 3;
}

/* "2x shaft is stronger than healthy (0.33 m/s² at 92 km/h)". */
static void say_finding(char *text, size_t size,
                        const struct ranking_work *work, size_t f)
{
    const struct ht_finding *finding = &work->request->findings->finding[f];
    const struct ht_finding_kind *kind = &work->kinds[f];
    const char *statement = kind->statement[finding->answer];
    const char *figure = finding->text;
    bool known = strpbrk(figure, "0123456789") != NULL;
    if (is_sure(finding, kind->answers) && known)
        snprintf(text, size, CAUSES_SEEN_FIGURE, statement, figure);
    else if (is_sure(finding, kind->answers))
        snprintf(text, size, CAUSES_SEEN, statement);
    else if (is_there(kind, finding) && known)
        snprintf(text, size, CAUSES_SEEN_PERHAPS_FIGURE, kind->statement[1],
                 figure);
    else if (is_there(kind, finding))
        snprintf(text, size, CAUSES_SEEN_PERHAPS, kind->statement[1]);
    else if (known)
        snprintf(text, size, CAUSES_SEEN_UNSURE_FIGURE, statement, figure);
    else
        snprintf(text, size, CAUSES_SEEN_UNSURE, statement);
}

static void keep(struct ht_influence *list, size_t *count,
                 const struct ht_influence *one)
{
    enum { ROOM = sizeof((struct ht_ranked_cause *)0)->raised_by /
                  sizeof(struct ht_influence) };
    size_t at = *count;
    while (at > 0 && list[at - 1].times < one->times)
        at--;
    if (at == ROOM)
        return;
    size_t last = *count < ROOM ? *count : ROOM - 1;
    memmove(&list[at + 1], &list[at], (last - at) * sizeof *list);
    list[at] = *one;
    *count = last + 1;
}

static void add_influences(struct ht_ranked_cause *to,
                           const struct ranking_work *work, size_t index)
{
    for (size_t f = 0; f < work->network.findings; f++) {
        if (!work->network.finding[f].speaks)
            continue;
        struct ht_influence one = { .finding = f };
        one.without = index == HT_CAUSES_MAX
                          ? work->nothing_without[f]
                          : work->without[f * HT_CAUSES_MAX + index];
        double times = odds(to->probability) / odds(one.without);
        one.times = times > 1 ? times : 1 / times;
        if (one.times < least_times)
            continue;
        say_finding(one.text, sizeof one.text, work, f);
        if (times > 1)
            keep(to->raised_by, &to->raised, &one);
        else
            keep(to->lowered_by, &to->lowered, &one);
    }
}

static int falling(const void *a, const void *b)
{
    const struct row *left = a, *right = b;
    if (left->probability != right->probability)
        return left->probability < right->probability ? 1 : -1;
    return left->cause < right->cause ? -1 : 1;
}

static size_t list_rows(struct row *rows, const struct ranking_work *work)
{
    const struct ht_network *network = &work->network;
    const struct ht_catalogue *catalogue = work->request->catalogue;
    size_t count = 0;
    for (size_t c = 0; c < network->causes; c++)
        rows[count++] =
            (struct row){ work->cause[c], c, network->probability[c] };
    for (size_t c = 0; c < catalogue->cause_count; c++)
        if (ht_cause_is_nothing(catalogue->causes[c].id) &&
            count < HT_CAUSES_MAX)
            rows[count++] = (struct row){ &catalogue->causes[c],
                                          HT_CAUSES_MAX,
                                          network->probability_nothing };
    qsort(rows, count, sizeof *rows, falling);
    return count;
}

static void add_causes(struct ht_ranking *ranking,
                       const struct ranking_work *work)
{
    struct row rows[HT_CAUSES_MAX];
    ranking->causes = list_rows(rows, work);
    for (size_t i = 0; i < ranking->causes; i++) {
        struct ht_ranked_cause *to = &ranking->cause[i];
        to->id = rows[i].cause->id;
        to->title = rows[i].cause->title;
        to->repair = rows[i].cause->repair;
        to->caution = rows[i].cause->caution;
        to->do_not_drive = rows[i].cause->do_not_drive;
        to->probability = rows[i].probability;
        add_influences(to, work, rows[i].index);
    }
    const struct ht_ranked_cause *first = &ranking->cause[0];
    if (first->probability >= 0.5 && !ht_cause_is_nothing(first->id) &&
        !ht_cause_is_other(first->id))
        ranking->accused = first->id;
}

/* Whether a named cause of the set would show the finding's top answer. */
static bool accounts_for(const struct ht_network *network,
                         const struct ht_net_set *set, size_t f)
{
    size_t top = network->finding[f].answers - 1;
    for (size_t m = 0; m < set->members; m++) {
        const struct ht_net_cause *cause = &network->cause[set->member[m]];
        for (size_t i = 0; i < cause->links && !cause->other; i++)
            if (cause->link[i].finding == f &&
                1 - cause->link[i].below[top - 1] >= 0.1)
                return true;
    }
    return false;
}

/* A measured angle is a state of the vehicle that may be a cause, not a
 * symptom that wants one. */
static bool is_of_angles(const struct ht_finding_kind *kind)
{
    return kind->group && strncmp(kind->group, "angles", 6) == 0;
}

/* Observed at its most, seldom without a reason, and surely. */
static bool wants_a_cause(const struct ranking_work *work, size_t f)
{
    if (is_of_angles(&work->kinds[f]))
        return false;
    const struct ht_net_finding *finding = &work->network.finding[f];
    const struct ht_finding *found = &work->request->findings->finding[f];
    size_t top = finding->answers - 1;
    return finding->speaks && found->answer == top &&
           is_sure(found, finding->answers) &&
           1 - finding->below[top - 1] <= 0.15;
}

static void add_unexplained(struct ht_ranking *ranking,
                            const struct ranking_work *work)
{
    enum { ROOM = sizeof ranking->unexplained_text /
                  sizeof ranking->unexplained_text[0] };
    const struct ht_network *network = &work->network;
    for (size_t f = 0; f < network->findings; f++) {
        double alone = 0;
        if (!wants_a_cause(work, f) || ranking->unexplained == ROOM)
            continue;
        for (size_t s = 0; s < network->sets; s++)
            if (!accounts_for(network, &network->set[s], f))
                alone += network->set[s].weight;
        if (alone < 0.5)
            continue;
        char text[200];
        say_finding(text, sizeof text, work, f);
        snprintf(ranking->unexplained_text[ranking->unexplained++],
                 sizeof ranking->unexplained_text[0], "%.150s", text);
    }
}

/* What a cause does to each finding that speaks: its own changes. */
static double change_of(const struct ht_net_cause *cause, size_t f)
{
    for (size_t i = 0; i < cause->links; i++)
        if (cause->link[i].finding == f)
            return cause->change[i];
    return 0;
}

/* The same on every finding that speaks, and moved by one at least. */
static bool look_the_same(const struct ht_network *network, size_t a,
                          size_t b)
{
    bool moved = false;
    for (size_t f = 0; f < network->findings; f++) {
        double first = change_of(&network->cause[a], f);
        double second = change_of(&network->cause[b], f);
        if (network->finding[f].speaks &&
            fabs(first - second) > same_change)
            return false;
        moved = moved || fabs(first) > log(least_times);
    }
    return moved;
}

static void add_alike(struct ht_ranking *ranking,
                      const struct ranking_work *work)
{
    enum { ROOM = sizeof ranking->alike_text / sizeof ranking->alike_text[0] };
    const struct ht_network *network = &work->network;
    for (size_t a = 0; a < network->causes; a++)
        for (size_t b = a + 1; b < network->causes; b++)
            if (network->probability[a] >= 0.05 &&
                network->probability[b] >= 0.05 && ranking->alike < ROOM &&
                look_the_same(network, a, b))
                snprintf(ranking->alike_text[ranking->alike++],
                         sizeof ranking->alike_text[0], CAUSES_ALIKE,
                         work->cause[a]->title, work->cause[b]->title);
}

/* Causes that make the vehicle unsafe stand above the ranking when they are
 * not unlikely. */
static void add_stops(struct ht_ranking *ranking)
{
    enum { ROOM = sizeof ranking->safety / sizeof ranking->safety[0] };
    for (size_t i = 0; i < ranking->causes; i++) {
        const struct ht_ranked_cause *cause = &ranking->cause[i];
        if (cause->probability < 0.25 || !cause->caution ||
            !cause->do_not_drive || ranking->safety_count == ROOM)
            continue;
        struct ht_safety *to = &ranking->safety[ranking->safety_count++];
        snprintf(to->id, sizeof to->id, "%.31s", cause->id);
        snprintf(to->text, sizeof to->text, CAUSES_STOP, cause->title,
                 ht_in_100(cause->probability), cause->caution);
    }
}

enum ht_status ht_ranking_words(struct ht_ranking *ranking,
                                const struct ranking_work *work,
                                struct ht_error *err)
{
    (void)err;
    add_causes(ranking, work);
    add_unexplained(ranking, work);
    add_alike(ranking, work);
    add_stops(ranking);
    return HT_OK;
}
