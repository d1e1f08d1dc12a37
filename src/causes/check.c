/* What the parts of a catalogue owe each other, and the links as numbers. */
#include "causes/catalogue.h"
#include "causes/texts.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* Strong, moderate, weak: engineering judgement as a factor on the odds. */
static const double times_of[] = { [CAT_WEAK] = 1.5,
                                   [CAT_MODERATE] = 3,
                                   [CAT_STRONG] = 10 };

bool ht_cause_is_nothing(const char *id)
{
    return strcmp(id, "nothing-abnormal") == 0;
}

bool ht_cause_is_other(const char *id)
{
    return strncmp(id, "other-", 6) == 0;
}

/* Where a check stands: a key of the file, and the finding it is about. */
struct spot {
    struct ht_finish *finish;
    const char *path, *finding;
};

/* Shares as P(answer <= k). */
static void below_from_shares(const struct spot *spot,
                              const struct ht_numbers *shares, size_t answers,
                              double below[HT_ANSWERS_MAX])
{
    double sum = 0;
    if (shares->count != answers) {
        ht_finish_problem(spot->finish, spot->path, CAUSES_SHARE_COUNT,
                          spot->finding, shares->count, answers);
        return;
    }
    for (size_t k = 0; k < answers; k++) {
        sum += shares->value[k];
        below[k] = sum;
    }
    if (!(fabs(sum - 1) <= 0.001))
        ht_finish_problem(spot->finish, spot->path, CAUSES_SHARE_SUM,
                          spot->finding, sum);
    else if (below[0] > 0.999 || below[0] < 0.001)
        ht_finish_problem(spot->finish, spot->path, CAUSES_SHARE_CERTAIN,
                          spot->finding, below[0]);
    for (size_t k = 0; k < answers && sum > 0; k++)
        below[k] /= sum;
}

void ht_link_from_strength(const double *leak_below, size_t answers,
                           size_t answer, double times,
                           double below[HT_ANSWERS_MAX])
{
    double less = leak_below[answer - 1];
    for (size_t k = 0; k < answers; k++)
        below[k] = k < answer ? 1 / (less + times * (1 - less)) : 1;
}

static bool source_known(const struct ht_catalogue *catalogue,
                         const char *id)
{
    for (size_t i = 0; i < catalogue->source_count; i++)
        if (catalogue->sources[i].id &&
            strcmp(catalogue->sources[i].id, id) == 0)
            return true;
    return false;
}

static void check_source(struct ht_finish *finish,
                         const struct ht_catalogue *catalogue,
                         const char *id, const char *path)
{
    enum { NAMES = 64 };
    const char *names[NAMES + 1] = { NULL };
    char key[96];
    if (!id || source_known(catalogue, id))
        return;
    snprintf(key, sizeof key, "%s/source", path);
    for (size_t i = 0, n = 0; i < catalogue->source_count && n < NAMES; i++)
        if (catalogue->sources[i].id)
            names[n++] = catalogue->sources[i].id;
    const char *near = ht_nearest_name(id, names);
    if (near)
        ht_finish_problem(finish, key, CAUSES_NO_SOURCE_NEAR, id, near);
    else
        ht_finish_problem(finish, key, CAUSES_NO_SOURCE, id);
}

static void no_finding(struct ht_finish *finish, const char *path,
                       const char *id)
{
    const char *names[HT_FINDINGS_MAX + 1] = { NULL };
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t i = 0; i < count && i < HT_FINDINGS_MAX; i++)
        names[i] = kinds[i].id;
    const char *near = ht_nearest_name(id, names);
    if (near)
        ht_finish_problem(finish, path, CAUSES_NO_FINDING_NEAR, id, near);
    else
        ht_finish_problem(finish, path, CAUSES_NO_FINDING, id);
}

static void check_leak(struct ht_finish *finish,
                       struct ht_catalogue *catalogue, size_t i)
{
    const struct cat_leak *leak = &catalogue->leaks[i];
    char path[64];
    snprintf(path, sizeof path, "leaks/%zu", i + 1);
    size_t kind = leak->finding ? ht_finding_index(leak->finding) : SIZE_MAX;
    check_source(finish, catalogue, leak->source, path);
    if (kind == SIZE_MAX) {
        if (leak->finding)
            no_finding(finish, path, leak->finding);
        return;
    }
    if (catalogue->leak_below[kind][0] > 0)
        ht_finish_problem(finish, path, CAUSES_LEAK_TWICE, leak->finding);
    struct spot spot = { finish, path, leak->finding };
    below_from_shares(&spot, &leak->shares,
                      ht_finding_kinds(&(size_t){ 0 })[kind].answers,
                      catalogue->leak_below[kind]);
}

static size_t answer_index(const struct ht_finding_kind *kind,
                           const char *answer)
{
    for (size_t k = 1; answer && k < kind->answers; k++)
        if (strcmp(kind->answer[k], answer) == 0)
            return k;
    return 0;
}

/* The link as numbers. */
static void link_numbers(const struct spot *spot,
                         const struct ht_catalogue *catalogue,
                         struct cat_link *link)
{
    const struct ht_finding_kind *kind =
        &ht_finding_kinds(&(size_t){ 0 })[link->kind];
    size_t answer = answer_index(kind, link->answer);
    if (!(catalogue->leak_below[link->kind][0] > 0))
        ht_finish_problem(spot->finish, spot->path, CAUSES_LEAK_MISSING,
                          spot->finding);
    else if (link->shares.count && (link->answer || link->strength))
        ht_finish_problem(spot->finish, spot->path, CAUSES_LINK_BOTH,
                          spot->finding);
    else if (link->shares.count)
        below_from_shares(spot, &link->shares, kind->answers, link->below);
    else if (!answer || !link->strength)
        ht_finish_problem(spot->finish, spot->path, CAUSES_LINK_NEITHER,
                          spot->finding);
    else
        ht_link_from_strength(catalogue->leak_below[link->kind], kind->answers,
                              answer, times_of[link->strength], link->below);
}

static void check_link(const struct spot *spot,
                       const struct ht_catalogue *catalogue,
                       const struct cat_cause *cause, size_t i)
{
    struct cat_link *link = &cause->links[i];
    if (link->kind == SIZE_MAX) {
        no_finding(spot->finish, spot->path, spot->finding);
        return;
    }
    for (size_t j = 0; j < i; j++)
        if (cause->links[j].kind == link->kind) {
            ht_finish_problem(spot->finish, spot->path, CAUSES_LINK_TWICE,
                              spot->finding);
            return;
        }
    link_numbers(spot, catalogue, link);
}

static void check_links(struct ht_finish *finish,
                        struct ht_catalogue *catalogue, size_t c)
{
    struct cat_cause *cause = &catalogue->causes[c];
    char path[64];
    snprintf(path, sizeof path, "causes/%zu", c + 1);
    if (cause->link_count > HT_LINKS_MAX)
        ht_finish_problem(finish, path, CAUSES_LINK_COUNT, cause->link_count,
                          (int)HT_LINKS_MAX);
    for (size_t i = 0; i < cause->link_count; i++) {
        struct cat_link *link = &cause->links[i];
        snprintf(path, sizeof path, "causes/%zu/links/%zu", c + 1, i + 1);
        check_source(finish, catalogue, link->source, path);
        link->kind = link->finding ? ht_finding_index(link->finding) : SIZE_MAX;
        struct spot spot = { finish, path, link->finding };
        if (link->finding)
            check_link(&spot, catalogue, cause, i);
    }
}

static void check_cause(struct ht_finish *finish,
                        struct ht_catalogue *catalogue, size_t c)
{
    const struct cat_cause *cause = &catalogue->causes[c];
    char path[64], known[200];
    snprintf(path, sizeof path, "causes/%zu", c + 1);
    for (size_t j = 0; j < c && cause->id; j++)
        if (catalogue->causes[j].id &&
            strcmp(catalogue->causes[j].id, cause->id) == 0)
            ht_finish_problem(finish, path, CAUSES_ID_TWICE, cause->id);
    if (cause->weights.count != 1 && cause->weights.count != CAT_CLASSES)
        ht_finish_problem(finish, path, CAUSES_WEIGHT_COUNT,
                          cause->weights.count);
    for (size_t i = 0; i < cause->needs.count; i++)
        if (!ht_need_known(cause->needs.text[i]))
            ht_finish_problem(finish, path, CAUSES_NEED_UNKNOWN,
                              cause->needs.text[i],
                              ht_needs_list(known, sizeof known));
}

static bool same_numbers(const double *a, const double *b, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (a[i] != b[i])
            return false;
    return true;
}

static bool same_links(const struct cat_cause *a, const struct cat_cause *b)
{
    if (a->link_count != b->link_count)
        return false;
    for (size_t i = 0; i < a->link_count; i++) {
        bool found = false;
        for (size_t j = 0; j < b->link_count; j++)
            found = found ||
                    (a->links[i].kind == b->links[j].kind &&
                     same_numbers(a->links[i].below, b->links[j].below,
                                  HT_ANSWERS_MAX));
        if (!found)
            return false;
    }
    return true;
}

void ht_catalogue_list_alike(struct ht_catalogue *catalogue)
{
    for (size_t i = 0; i < catalogue->cause_count; i++)
        for (size_t j = i + 1; j < catalogue->cause_count; j++)
            if (same_links(&catalogue->causes[i], &catalogue->causes[j]))
                ht_text_addf(&catalogue->alike, "%s, %s\n",
                             catalogue->causes[i].id,
                             catalogue->causes[j].id);
}

void ht_catalogue_finish(struct ht_finish *finish, void *record)
{
    struct ht_catalogue *catalogue = record;
    memset(catalogue->leak_below, 0, sizeof catalogue->leak_below);
    if (!catalogue->cause_count || catalogue->cause_count > HT_CAUSES_MAX)
        ht_finish_problem(finish, "causes", CAUSES_COUNT,
                          catalogue->cause_count, (int)HT_CAUSES_MAX);
    for (size_t i = 0; i < catalogue->leak_count; i++)
        check_leak(finish, catalogue, i);
    for (size_t c = 0; c < catalogue->cause_count; c++) {
        check_cause(finish, catalogue, c);
        check_links(finish, catalogue, c);
    }
}

double ht_cause_weight(const struct cat_cause *cause,
                       enum ht_vehicle_class class)
{
    const struct ht_numbers *weights = &cause->weights;
    double sum = 0;
    if (weights->count == CAT_CLASSES && class != HT_CLASS_UNKNOWN)
        return weights->value[class - HT_CLASS_CAR];
    for (size_t i = 0; i < weights->count; i++)
        sum += weights->value[i];
    return sum / (double)weights->count;
}
