/* stages.h - the stages of a workup, each filling its own part of it. */
#ifndef HALFTURN_WORKUP_STAGES_H
#define HALFTURN_WORKUP_STAGES_H

#include "digest.h"

#include "halfturn/workup.h"

struct stage {
    struct ht_workup *workup;
    const struct ht_sheet *sheet;
    const struct ht_workup_options *options;
    struct ht_error *err;
    struct stage_said {         /* last, by ht_stage_progress */
        const char *name;
        double share;
    } *said;
};

/* Says what is begun now, and which share of the work is done; HT_STOPPED:
 * the caller wants no more of it. */
enum ht_status ht_stage_progress(const struct stage *stage, const char *name,
                                 double share);

/* The same within a stage, as `go_on` of a struct ht_ask with the stage as its
 * context: nothing new to be said. */
bool ht_stage_still_wanted(void *stage);

enum ht_status ht_stage_rotation(const struct stage *stage);
enum ht_status ht_stage_gear(const struct stage *stage, unsigned gear);
enum ht_status ht_stage_limits(const struct stage *stage);
enum ht_status ht_stage_angles(const struct stage *stage);
enum ht_status ht_stage_effects(const struct stage *stage);
enum ht_status ht_stage_shims(const struct stage *stage);

/* Figures written in the sheet itself: the vehicle maker's own. False: there
 * are none. */
bool ht_stage_own_limits(const struct ht_sheet_limits *given,
                         struct ht_limit_set *own);
enum ht_status ht_stage_drive(const struct stage *stage);
enum ht_status ht_stage_causes(const struct stage *stage);

/* The steps of ht_stage_drive; the place comes after the speed, which does
 * not look at it. */
enum ht_status ht_stage_recording(const struct stage *stage,
                                  const struct ht_sheet_drive *drive);
enum ht_status ht_stage_speed(const struct stage *stage,
                              const struct ht_sheet_drive *drive);
enum ht_status ht_stage_place(const struct stage *stage,
                              const struct ht_sheet_drive *drive);
#define SHIMS_FROM 0.03
#define RECORDING_FROM 0.05
#define RECORDING_UNTIL 0.6 /* share of the work when it is decoded */
const struct ht_schema *ht_stage_drive_schema(void);

/* ---- one stage's value ------------------------------------------------- */

/* A request is all that a stage reads: slices of the sheet, figures, files,
 * results of the stages that it uses. `hash` and `make` see nothing else. */
struct stage_kind {
    enum ht_stage stage;
    unsigned uses;              /* bits 1 << stage: their keys go into its */
    size_t size;                /* of the result */
    /* False: cannot be keyed. Results that it uses are not hashed here. */
    bool (*hash)(struct ht_digest *digest, const void *request);
    /* On failure the result is left empty. */
    enum ht_status (*make)(void *result, const void *request,
                           struct ht_error *err);
    void (*clear)(void *result);               /* NULL: nothing behind it */
    size_t (*bytes_behind)(const void *result);/* likewise */
    unsigned leans;             /* the bit of one stage of `uses`, whose memory
                                   is pointed into; 0: of none */
};
#define USES(stage) (1u << HT_STAGE_##stage)

/* The kept value, or a new one, held by the workup; *result points into it. */
enum ht_status ht_stage_get(const struct stage *stage,
                            const struct stage_kind *kind, const void *request,
                            const void **result);

/* ---- a file that a stage reads ----------------------------------------- */

struct stage_file {
    char *path;                 /* NULL: what is built in */
    bool has_key, known;        /* known: the caller said the key */
    struct ht_key key;
};
/* `name` is the sheet's, in the workup's folder. */
enum ht_status ht_stage_file_open(struct stage_file *file,
                                  const struct stage *stage, const char *name);
/* The options' own path; NULL: built in. */
enum ht_status ht_stage_file_option(struct stage_file *file,
                                    const struct stage *stage,
                                    const char *path);
bool ht_stage_file_hash(struct ht_digest *digest,
                        const struct stage_file *file);
/* After it was read: whether it is still what the key says. */
enum ht_status ht_stage_file_same(const struct stage_file *file,
                                  struct ht_error *err);
void ht_stage_file_close(struct stage_file *file);

/* ---- sentences --------------------------------------------------------- */

/* One sentence about what could not be done, or what was assumed; beyond the
 * room for them further sentences are dropped. */
void ht_stage_missing(struct ht_workup *workup, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void ht_stage_assumed(struct ht_workup *workup, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Where the vehicle's top speed is not given: the complaint's highest speed;
 * NAN when neither is known. */
double ht_stage_highest_speed(const struct ht_sheet *sheet);

#endif
