/* findings.h - questions answered by measurement or observation.
 *
 * One table of findings; a finding's answers are ordered from nothing to most
 * and exclude each other. What is known arrives as a likelihood for each
 * answer: how probable the observation is if that answer is the truth (all
 * equal: says nothing). docs/findings.md (generated from the table).
 */
#ifndef HALFTURN_FINDINGS_H
#define HALFTURN_FINDINGS_H

#include "halfturn/angles.h"
#include "halfturn/orders.h"
#include "halfturn/rotation.h"
#include "halfturn/sheet.h"
#include "halfturn/speed.h"
#include "halfturn/status.h"

enum { HT_ANSWERS_MAX = 4, HT_FINDINGS_MAX = 128 };

struct ht_finding;
struct ht_findings_input;

struct ht_finding_kind {
    const char *id;             /* "shaft-2x", "neutral-coast", ... */
    const char *question;       /* asked of a person, or NULL: measured */
    size_t answers;             /* 2..4 */
    const char *answer[HT_ANSWERS_MAX]; /* words, nothing .. most */
    const char *statement[HT_ANSWERS_MAX]; /* as evidence: "2x shaft is
                                               stronger than healthy" */
    const char *group;          /* findings that rest on one observation */
    double minutes;             /* to get it; NAN: needs no person */
    bool needs_drive;
    const char *tool;           /* NULL: none */
    const char *caution;        /* NULL: none */
    bool coasting;              /* needs rolling out of gear */
    bool of_complaint;          /* about what somebody complains of */
    bool is_line;               /* answers are not seen, seen, stronger than
                                   healthy */
    /* The function of the results; called by ht_findings_collect with a
     * finding about which nothing is known. */
    void (*weigh)(struct ht_finding *finding,
                  const struct ht_finding_kind *kind,
                  const struct ht_findings_input *input);
    const char *subject;        /* a part's name, or the word in checks.seen */
    const char *sound_word;     /* in checks.sound; NULL: the same word */
    double figure;              /* multiple of the order, or a limit in m */
};

/* The table; count in *count. Never NULL. */
const struct ht_finding_kind *ht_finding_kinds(size_t *count);
/* Index of an id, or SIZE_MAX. */
size_t ht_finding_index(const char *id);
/* Whether checks.seen (or checks.sound) knows the word. */
bool ht_finding_word_known(const char *word, bool sound);

struct ht_finding {
    size_t kind;                /* index into the table */
    double likelihood[HT_ANSWERS_MAX]; /* P(observation | answer); the largest
                                          is 1; all 1: says nothing */
    bool known;                 /* false: nobody has looked */
    size_t answer;              /* the most likely one, when known */
    size_t one_with;            /* lines that the drive cannot separate: the
                                   finding that speaks for all of them; the
                                   own index: stands alone, or is that one */
    size_t strangers;           /* lines in the same one that no finding of
                                   the table is about */
    char text[160];             /* the figure: "0.33 m/s² at 92 km/h" */
};

struct ht_safety {
    char id[32];
    char text[240];
};

struct ht_findings {
    size_t findings;            /* one for each kind, in the table's order */
    struct ht_finding finding[HT_FINDINGS_MAX];
    size_t safety_count;        /* above the ranking, outside probabilities */
    struct ht_safety safety[16];
    bool no_drive;              /* walk-round failed: propose no drive */
    bool drive_recorded;        /* orders were looked for */
    size_t strong_lines;        /* orders clearly above the healthy band */
};

/* One of several drivelines. */
struct ht_driveline_angles {
    const char *name;           /* NULL: none */
    const struct ht_angles *angles; /* of the set to go by; NULL: not read */
};

struct ht_findings_input {      /* any pointer may be NULL */
    const struct ht_sheet *sheet;
    const struct ht_angles *angles; /* where there is one driveline */
    size_t drivelines;          /* several: the worst of them speaks, named; 0
                                   or 1: `angles` does */
    struct ht_driveline_angles driveline[HT_DRIVELINES_MAX];
    const struct ht_rotation *rotation;
    const struct ht_turns *turns;
    const struct ht_orders *orders;
};
/* Cannot fail. */
void ht_findings_collect(struct ht_findings *findings,
                         const struct ht_findings_input *input);

/* Says the observation; scales the likelihoods so that the largest is 1 and
 * picks the answer. `text` may be NULL. */
void ht_finding_say(struct ht_finding *finding, size_t answers,
                    const double *likelihood, const char *text);
/* False when all answers are equally likely. */
bool ht_finding_speaks(const struct ht_finding *finding);

/* As if the question had been answered so: what the answer would weigh. */
void ht_finding_suppose(struct ht_finding *finding, size_t answer);

/* Level a healthy vehicle may show at a sensor place, peak m/s². *edge (may
 * be NULL): standard deviation of ln(level) over which the edge is soft.
 * NAN where no band is known (sound, unnamed place). */
double ht_healthy_m_s2(enum ht_place place, bool calibrated, double *edge);

#endif
