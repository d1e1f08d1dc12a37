/* workup.h - one case through everything: the one path that every user of the
 * library takes. Stages that cannot run say why in `missing`.
 *
 * Each stage's result is a value: never changed once made, keyed by all that
 * it was worked out from. A keeper holds such values between workups, so that
 * an answer that is changed makes anew only what reads it. What keys what,
 * and what it costs: docs/workup.md.
 */
#ifndef HALFTURN_WORKUP_H
#define HALFTURN_WORKUP_H

#include "halfturn/angles.h"
#include "halfturn/causes.h"
#include "halfturn/effects.h"
#include "halfturn/findings.h"
#include "halfturn/orders.h"
#include "halfturn/recording.h"
#include "halfturn/repair.h"
#include "halfturn/rotation.h"
#include "halfturn/sheet.h"
#include "halfturn/speed.h"
#include "halfturn/status.h"

/* ---- keys -------------------------------------------------------------- */

/* 128 bits, most significant byte first. The same on every machine. No seal:
 * whoever wants two inputs of one key can make them. */
struct ht_key {
    unsigned char byte[16];
};
enum { HT_KEY_HEX = 33 };       /* characters with the final 0 */

/* 32 small hexadecimal digits: a name for a store. */
void ht_key_write(char hex[HT_KEY_HEX], const struct ht_key *key);

/* The key of a content, of whatever name: plain XXH3 with 128 bits. */
struct ht_key ht_key_of_bytes(const void *bytes, size_t length);
enum ht_status ht_key_of_file(struct ht_key *key, const char *path,
                              struct ht_error *err);

/* ---- stages ------------------------------------------------------------ */

enum ht_stage {
    HT_STAGE_PARTS,             /* what turns how fast */
    HT_STAGE_LIMITS,            /* the limits file */
    HT_STAGE_ANGLES,
    HT_STAGE_EFFECTS,           /* what the angles do */
    HT_STAGE_SHIMS,             /* what would put the angles right */
    HT_STAGE_RECORDING,         /* decoded and decimated */
    HT_STAGE_PLACE,             /* with the place of its sensor */
    HT_STAGE_SPEED_LOG,
    HT_STAGE_SPEED,             /* turn history */
    HT_STAGE_GEAR,              /* parts again, in the gear that was found */
    HT_STAGE_ORDERS,
    HT_STAGE_FINDINGS,
    HT_STAGE_CATALOGUE,         /* the catalogue file */
    HT_STAGE_RANKING,
    HT_STAGES
};
/* "parts", "limits", ... "ranking": the words of the JSON output. */
const char *ht_stage_name(enum ht_stage stage);

enum ht_origin { HT_NOT_RUN, HT_MADE, HT_KEPT };
struct ht_stage_record {
    enum ht_origin origin;
    bool has_key;               /* not when keys were not asked for, or a file
                                   of it is no regular one (a pipe) */
    struct ht_key key;
};

/* ---- keeper ------------------------------------------------------------ */

/* Values of earlier workups, up to so many bytes; what was not used for the
 * longest time is dropped first. One thread at a time may hand it to
 * ht_workup_run, ask its figures or free it; a workup that borrows from it
 * may outlive it and be read and freed in any thread. Never a reason for a
 * failure: what cannot be kept is made. */
struct ht_keeper;
struct ht_keeper *ht_keeper_create(size_t most_bytes); /* NULL: no memory */
void ht_keeper_free(struct ht_keeper *keeper);         /* NULL is accepted */

struct ht_keeper_figures {
    size_t values, bytes, most_bytes; /* held now, and the ceiling */
    size_t found, missed, dropped;    /* since it was created */
};
struct ht_keeper_figures ht_keeper_figures(const struct ht_keeper *keeper);

/* ---- a workup ---------------------------------------------------------- */

/* A file of the sheet whose content is known already: an attachment that is
 * stored by its key. It is then not read for the key. */
struct ht_known_file {
    const char *name;           /* as the sheet names it */
    struct ht_key key;          /* of its content; must be right */
};

struct ht_workup_options {
    const char *folder;          /* file names of the sheet are relative to
                                    it; NULL: the working directory */
    const char *limits_path, *catalogue_path; /* NULL: built in */
    bool drive, causes;          /* how far to go; angles and parts always */
    bool shims;                  /* plan them too */
    bool readings_alone;         /* the sheet holds one set of readings and no
                                    vehicle: none is asked for, and the shafts
                                    turn at shaft_rad_s; NAN: not known */
    double shaft_rad_s;
    /* Told what begins and what share of all is done; at 1 it has ended,
     * well or not. False: no more of it, the workup ends with HT_STOPPED.
     * Asked several times a second, with a drive of some minutes: also within
     * the stages, with their name and share as before. */
    bool (*progress)(void *context, const char *stage, double share);
    void *context;
    struct ht_keeper *keeper;    /* NULL: nothing is kept */
    bool keys;                   /* fill the keys also without a keeper: one
                                    reading more of every file */
    const struct ht_known_file *known;
    size_t known_count;
};

/* One set of readings of one driveline, worked out. */
struct ht_line_angles {
    size_t driveline_index, set_index;  /* into the sheet's lists */
    const char *driveline, *set, *when; /* names; NULL: none */
    double height_m;            /* ride height at the axle; NAN: not said */
    bool normal_height;         /* said to be the normal one */
    bool decides;               /* of all sets of its driveline, the one to go
                                   by: docs/angles.md */
    double shaft_turns;         /* per wheel turn; NAN: not known */
    struct ht_angles angles;
};

/* Shims for one driveline, and its readings after those that were fitted. */
struct ht_line_shims {
    size_t driveline_index;
    struct ht_shims shims;
    bool has_after;
    struct ht_shims_after after;
};

/* The results are views: what they point to belongs to values that the workup
 * holds until it is freed, and others may hold too. Read only. */
struct ht_workup {
    const struct ht_sheet *sheet; /* the caller's; outlives the workup */
    bool has_angles, has_rotation, has_recording, has_turns, has_orders,
        has_ranking;
    struct ht_limits limits;
    struct ht_angles angles;     /* of lines[0] */
    size_t line_count;           /* sets with readings, in the sheet's order */
    const struct ht_line_angles *lines;
    const struct ht_effects *effects; /* of lines[0], lines[1], ..; or NULL */
    size_t shims_count;          /* one for each driveline that was read */
    const struct ht_line_shims *shims;
    struct ht_rotation rotation;
    struct ht_recording recording;
    struct ht_turns turns;
    struct ht_orders orders;
    struct ht_findings findings;
    const struct ht_catalogue *catalogue;
    struct ht_ranking ranking;
    size_t missing_count;
    char missing[24][240];       /* what could not be done, for want of what */
    size_t assumed_count;
    char assumed[64][240];       /* what an absent key was taken to mean */
    struct ht_stage_record stage[HT_STAGES];
    struct ht_value *held[HT_STAGES]; /* whose memory the views point to */
};

/* Files that the sheet names and that cannot be read end the workup with
 * their status; everything optional that is absent ends up in `missing`. The
 * results are the same bytes with a keeper as without. */
enum ht_status ht_workup_run(struct ht_workup *workup,
                             const struct ht_sheet *sheet,
                             const struct ht_workup_options *options,
                             struct ht_error *err);
void ht_workup_free(struct ht_workup *workup);

#endif
