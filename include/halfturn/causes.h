/* causes.h - catalogue of causes, and the ranking that findings give them.
 *
 * A two-level noisy-MAX network (Henrion 1989; Diez 1993) by enumeration of
 * every set of up to three causes. Pure but for the file reader. Mathematics
 * and sources: docs/causes.md.
 */
#ifndef HALFTURN_CAUSES_H
#define HALFTURN_CAUSES_H

#include "halfturn/findings.h"
#include "halfturn/status.h"

enum { HT_CAUSES_MAX = 64, HT_LINKS_MAX = 8 };

struct ht_catalogue;             /* opaque */

/* path NULL: the copy built into the library. */
enum ht_status ht_catalogue_read(struct ht_catalogue **catalogue,
                                 const char *path, struct ht_error *err);
void ht_catalogue_free(struct ht_catalogue *catalogue);

size_t ht_catalogue_causes(const struct ht_catalogue *catalogue);
const char *ht_catalogue_cause_id(const struct ht_catalogue *catalogue,
                                  size_t cause);
/* Exponent on all evidence, and P(nothing) of a setting. */
double ht_catalogue_tempering(const struct ht_catalogue *catalogue);
double ht_catalogue_nothing(const struct ht_catalogue *catalogue,
                            enum ht_setting setting);
/* Names of causes that no finding at all can part, one group a line; "" when
 * there are none. Belongs to the catalogue. */
const char *ht_catalogue_alike(const struct ht_catalogue *catalogue);

struct ht_influence {
    size_t finding;              /* index of the finding's kind */
    char text[200];              /* "2x shaft is stronger than healthy" */
    double times;                /* odds factor, > 1: likelier with it; for
                                    lowered_by how many times less likely */
    double without;              /* probability without this finding */
};

struct ht_ranked_cause {
    const char *id, *title;      /* "angle-mismatch"; "Joint angles do not
                                    cancel" */
    const char *repair, *caution;/* catalogue texts or NULL */
    bool do_not_drive;           /* the caution forbids it */
    double probability;          /* of being present */
    size_t raised, lowered;
    struct ht_influence raised_by[6], lowered_by[6];
};

struct ht_next_check {
    size_t finding;
    const char *id, *question;
    double minutes, gain_nats;   /* expected gain about which is repaired
                                    first */
    char how[320];               /* tool, speed limit, caution; may be "" */
    char outcome[HT_ANSWERS_MAX][160]; /* "Sound rubber: falls to 6 in 100" */
    size_t outcomes;
};

struct ht_ranking {
    size_t causes;               /* falling probability */
    struct ht_ranked_cause cause[HT_CAUSES_MAX];
    const char *accused;         /* id, or NULL: nothing is accused */
    double prior_mass_cut;       /* of sets larger than three */
    double tempering;            /* exponent on all evidence */
    double nothing_before;       /* P(nothing) before the findings */
    char setting[96];            /* which setting, and why */
    char tools[160];             /* what was taken to be at hand */
    size_t unexplained;
    char unexplained_text[16][160];
    size_t struck_out;
    struct { const char *id, *title; char why[120]; } struck[HT_CAUSES_MAX];
    size_t alike;                /* causes that no finding known can part */
    char alike_text[16][200];
    size_t next_checks;
    struct ht_next_check next[3];  /* best first */
    size_t safety_count;
    struct ht_safety safety[16];
};

struct ht_ranking_request {
    const struct ht_catalogue *catalogue;
    const struct ht_findings *findings;
    const struct ht_sheet *sheet;    /* class, setting, tools, what fits */
};
enum ht_status ht_ranking_find(struct ht_ranking *ranking,
                               const struct ht_ranking_request *request,
                               struct ht_error *err);

#endif
