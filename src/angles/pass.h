/* pass.h - every pin of a line at one rotation of its driving end. */
#ifndef HALFTURN_ANGLES_PASS_H
#define HALFTURN_ANGLES_PASS_H

#include "line.h"

/* All in drive order: member 0 turns evenly, joint j stands behind member j. */
struct ht_pass {
    double front_pin[HT_MEMBERS_MAX][3]; /* a member's driven pins; member 0:
                                            its driving pins */
    double driving_pin[HT_JOINTS_MAX][3];
    double ratio[HT_MEMBERS_MAX];  /* speed over member 0's */
    double growth[HT_MEMBERS_MAX]; /* d ln ratio / d rotation of member 0 */
};

/* At an input rotation of cosine c and sine s. */
void ht_pass_at(struct ht_pass *pass, const struct ht_line *line, double c,
                double s);

#endif
