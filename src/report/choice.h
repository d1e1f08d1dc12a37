/* choice.h - the figure of a shim plan: where everything that has a limit lies
 * against it, as it stands and with the plan.
 *
 * All rows share one axis, in parts of each row's own limit.
 */
#ifndef HALFTURN_REPORT_CHOICE_H
#define HALFTURN_REPORT_CHOICE_H

#include "scale.h"

#include "halfturn/repair.h"
#include "halfturn/text.h"

enum { CHOICE_NAME = 100, CHOICE_LONG_NAME = 256 };

struct choice_row {
    char name[CHOICE_NAME], long_name[CHOICE_LONG_NAME]; /* with limits */
    struct ht_estimate now, then;   /* over `part`: 1 is at the limit */
    double least, most;             /* the same; NAN: none */
    double part;                    /* what 1 stands for, rad or rad/s2 */
    bool shake;                     /* rad/s2 */
    enum ht_verdict verdict;        /* of what is kept then */
};
struct choice {
    char head[CHOICE_NAME];         /* "Plan 2, 99 in 100 that ..." */
    struct ht_text works;           /* what is done; the caller frees it */
    size_t rows;
    struct choice_row row[HT_RULES_MAX];
    double top;                     /* end of the axis */
};
/* Of plan `index`; `top` is the same for all plans. False: none of its limits
 * can be drawn. */
bool choice_from(struct choice *choice, const struct ht_shims *shims,
                 size_t index);
void choice_free(struct choice *choice, struct ht_text *out);

/* One plan as a figure of its own, without head and works. */
void draw_choice(struct ht_text *out, const struct choice *choice,
                 double width);
/* All plans of a driveline, each under its head. */
void draw_choices(struct ht_text *out, const struct ht_shims *shims,
                  double width);
/* Where the axis of a figure lies. */
struct scale choice_scale(const struct choice *choice, double width);

#endif
