/* model.h - one driveline as numbers with uncertainties, and what the rules
 * of the trade compare in it. */
#ifndef HALFTURN_ANGLES_MODEL_H
#define HALFTURN_ANGLES_MODEL_H

#include "chain.h"
#include "reading.h"

enum { HT_PAIRS_MAX = HT_JOINTS_MAX / 2 };

struct ht_joint_pair { /* joints that ought to cancel; counted from 0 */
    size_t front, rear;
};

/* What was measured: readings (one per member, or per joint), headings, and
 * where the joint centres lie. */
struct ht_sources {
    double value_rad[HT_MEMBERS_MAX];
    double heading_rad[HT_MEMBERS_MAX];
    double offset_m[HT_JOINTS_MAX];
};

struct ht_model {
    struct ht_sources read;
    bool by_offsets, drawing;
    double length_m[HT_MEMBERS_MAX]; /* of section m, by_offsets */
    double offset_u_m;
    struct ht_chain chain; /* as read */
    size_t joints;
    bool by_joint, side_view_only;
    size_t readings; /* members, or joints if by_joint */
    struct ht_reading reading[HT_MEMBERS_MAX];
    double zero_u_rad, heading_u_rad; /* heading: 0 when from the side */
    double joint_rad[HT_JOINTS_MAX]; /* working angles as read */
    size_t pairs;
    struct ht_joint_pair pair[HT_PAIRS_MAX];
    bool alone[HT_JOINTS_MAX]; /* the only one of its run */
    bool odd[HT_JOINTS_MAX];   /* left over beside the run's pairs */
    bool crossed;              /* a pair was left out for its yokes */
};

/* Needs a checked driveline. */
void ht_model_build(struct ht_model *model,
                    const struct ht_driveline *driveline);

/* Slopes and headings of the chain from what was measured. */
void ht_model_place(const struct ht_model *model,
                    const struct ht_sources *sources, struct ht_chain *chain);

/* Standard uncertainty and degrees of freedom of a joint's angle, and of the
 * difference of a pair, to first order. */
struct ht_spread_figure {
    double u_rad, dof;
};
struct ht_spread_figure ht_model_joint_u(const struct ht_model *model,
                                         size_t joint);
struct ht_spread_figure ht_model_pair_u(const struct ht_model *model,
                                        size_t pair);

#endif
