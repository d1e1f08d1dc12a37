/* finder.h - inside the room: one search for the turn history, in stages. */
#ifndef HALFTURN_SPEED_FINDER_H
#define HALFTURN_SPEED_FINDER_H

#include "search.h"
#include "turns.h"

struct ht_finder {
    const struct ht_speed_request *request;
    struct ht_turns *turns;
    struct ht_speed_path path;
    struct ht_work work;
    struct ht_frames frames;
    struct ht_lines lines;
    struct ht_comb comb;
    struct ht_fit fit;
    struct ht_wheel wheel;
    double clock_s; /* log time less recording time */
    double times;   /* log speed over true speed, when another unit of the log
                       is tried; else 1 */
    const char *other_unit; /* that fits better: what to say; or NULL */
    bool unit_doubted; /* it fits so much better that this is a doubt */
    double fastest_m_s; /* of the log during the recording */
    bool steady, sweeps, follows, clock_assumed;
    bool use[HT_LINES_MAX];
};

/* Times inside the search count from frame 0. */
double ht_finder_length_s(const struct ht_finder *f);
bool ht_finder_tyre_known(const struct ht_finder *f);
double ht_finder_largest_m(const struct ht_finder *f); /* a turn of the wheel */

/* Stages, in order. Those that return a status fail only for want of memory;
 * a refusal is a reason in the turns. */
enum ht_status ht_finder_make_path(struct ht_finder *f, struct ht_error *err);
bool ht_finder_log_is_enough(struct ht_finder *f);
enum ht_status ht_finder_search(struct ht_finder *f, struct ht_error *err);
/* Whether the recording fits the log's numbers better in another unit: then
 * the speed is refused, with the unit. After the search. */
enum ht_status ht_finder_question_unit(struct ht_finder *f,
                                       struct ht_error *err);
enum ht_status ht_finder_follow_wander(struct ht_finder *f,
                                       struct ht_error *err);
enum ht_status ht_finder_choose_lines(struct ht_finder *f,
                                      struct ht_error *err);
void ht_finder_compare(struct ht_finder *f);
void ht_finder_take_scale(struct ht_finder *f);
void ht_finder_doubt(struct ht_finder *f);
void ht_finder_doubt_top_speed(struct ht_finder *f);
enum ht_status ht_finder_settle_gear(struct ht_finder *f, struct ht_error *err);
enum ht_status ht_finder_keep_log(struct ht_finder *f, struct ht_error *err);
void ht_finder_describe(struct ht_finder *f);

/* HT_STOPPED when the caller wants no more of it. */
enum ht_status ht_finder_goes_on(const struct ht_finder *f,
                                 struct ht_error *err);

#endif
