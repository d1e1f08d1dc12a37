/* catalogue.h - the catalogue as read, with its links as numbers.
 *
 * Every text belongs to the catalogue. The checks of a file are made while it
 * is read, so that all problems come at once, with their lines.
 */
#ifndef HALFTURN_CAUSES_CATALOGUE_H
#define HALFTURN_CAUSES_CATALOGUE_H

#include "causes/network.h"
#include "halfturn/document.h"

enum cat_strength { CAT_NOT_SAID, CAT_WEAK, CAT_MODERATE, CAT_STRONG };
enum { CAT_CLASSES = 5 };

struct cat_source {
    const char *id, *text;
};
struct cat_leak {
    const char *finding, *source;
    struct ht_numbers shares;
};
struct cat_link {
    const char *finding, *answer, *source;
    enum cat_strength strength;
    struct ht_numbers shares;
    /* filled by the checks: */
    size_t kind;
    double below[HT_ANSWERS_MAX]; /* own P(answer <= k) */
};
struct cat_cause {
    const char *id, *title, *repair, *caution;
    enum ht_family family;      /* for a reader of the file; ranks nothing */
    struct ht_numbers weights;  /* one, or one a vehicle class */
    struct ht_words needs, tools;
    double minutes;
    bool do_not_drive; /* its caution forbids it */
    struct cat_link *links;
    size_t link_count;
};
struct cat_nothing {
    double complaint, fleet, course;
};
struct ht_catalogue {
    double version, tempering, faults_per_vehicle;
    struct cat_nothing nothing;
    struct cat_source *sources;
    size_t source_count;
    struct cat_leak *leaks;
    size_t leak_count;
    struct cat_cause *causes;
    size_t cause_count;
    /* filled by the checks: */
    double leak_below[HT_FINDINGS_MAX][HT_ANSWERS_MAX];
    struct ht_text alike;       /* filled after reading */
    void *memory;
};

/* As ht_catalogue_read. */
enum ht_status ht_catalogue_read_source(struct ht_catalogue **catalogue,
                                        const struct ht_source *source,
                                        struct ht_error *err);

/* Checks that look at several keys together, and what they fill. */
void ht_catalogue_finish(struct ht_finish *finish, void *record);

/* After reading: causes whose links are the same. */
void ht_catalogue_list_alike(struct ht_catalogue *catalogue);

/* Own P(answer <= k) of a link that makes the odds of `answer` or more
 * `times` what the leak's are. */
void ht_link_from_strength(const double *leak_below, size_t answers,
                           size_t answer, double times,
                           double below[HT_ANSWERS_MAX]);

/* Weight of a cause for a vehicle class (unknown class: the mean). */
double ht_cause_weight(const struct cat_cause *cause,
                       enum ht_vehicle_class class);

/* Why a vehicle cannot have the cause, or NULL. An unknown word of `needs`
 * strikes nothing out. */
const char *ht_cause_struck(const struct cat_cause *cause,
                            const struct ht_sheet *sheet);
bool ht_need_known(const char *word);
/* All of them with commas between; returns text. */
const char *ht_needs_list(char *text, size_t size);

bool ht_cause_is_nothing(const char *id);
bool ht_cause_is_other(const char *id);

#endif
