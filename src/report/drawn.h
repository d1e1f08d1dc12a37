/* drawn.h - every figure by one function: the page shows what it draws, a file
 * holds it alone.
 */
#ifndef HALFTURN_REPORT_DRAWN_H
#define HALFTURN_REPORT_DRAWN_H

#include "sets.h"

#include "halfturn/status.h"
#include "halfturn/text.h"
#include "halfturn/workup.h"

struct subject { /* what a figure is about */
    const struct ht_workup *workup;
    struct shown_set set;       /* figures of the angles */
    const struct ht_shims *shims; /* of shim plans */
};

/* Appends one <svg> of that width to `svg` and what its signs mean to
 * `caption`; nothing where the subject has no such figure. A text without
 * memory is a failed one. */
typedef enum ht_status (*draw_function)(struct ht_text *svg,
                                        struct ht_text *caption,
                                        const struct subject *subject,
                                        double width, struct ht_error *err);

enum ht_status drawn_side_view(struct ht_text *svg, struct ht_text *caption,
                               const struct subject *subject, double width,
                               struct ht_error *err);
enum ht_status drawn_plan_view(struct ht_text *svg, struct ht_text *caption,
                               const struct subject *subject, double width,
                               struct ht_error *err);
enum ht_status drawn_joints(struct ht_text *svg, struct ht_text *caption,
                            const struct subject *subject, double width,
                            struct ht_error *err);
enum ht_status drawn_axle_shake(struct ht_text *svg, struct ht_text *caption,
                                const struct subject *subject, double width,
                                struct ht_error *err);
enum ht_status drawn_turn(struct ht_text *svg, struct ht_text *caption,
                          const struct subject *subject, double width,
                          struct ht_error *err);
enum ht_status drawn_shakes(struct ht_text *svg, struct ht_text *caption,
                            const struct subject *subject, double width,
                            struct ht_error *err);
enum ht_status drawn_shims(struct ht_text *svg, struct ht_text *caption,
                           const struct subject *subject, double width,
                           struct ht_error *err);
enum ht_status drawn_map(struct ht_text *svg, struct ht_text *caption,
                         const struct subject *subject, double width,
                         struct ht_error *err);
enum ht_status drawn_level(struct ht_text *svg, struct ht_text *caption,
                           const struct subject *subject, double width,
                           struct ht_error *err);

#endif
