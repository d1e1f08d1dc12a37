/* edited_case.h - one made-up case with a drive, whose sheet is edited and
 * worked up again. Everything fails the running test when it does not go.
 */
#ifndef HALFTURN_TESTS_EDITED_CASE_H
#define HALFTURN_TESTS_EDITED_CASE_H

#include "halfturn/text.h"
#include "halfturn/workup.h"

/* Pieces of the sheet, as YAML. */
struct edits {
    const char *title, *tyre, *gear, *top_speed, *slopes, *limits;
    const char *recording, *unit, *place, *speed;
    const char *complaint, *checks, *next, *safety, *class;
};
extern const struct edits edits_plain;

/* The piece at an offset. */
void edits_set(struct edits *edits, size_t at, const char *piece);

/* For cmocka's group: a folder (scratch.h) with drive.wav, renamed.wav (the
 * same bytes) and speed.csv. */
int edited_begin(void **state);
int edited_end(void **state);

struct edited {
    struct ht_sheet sheet;
    struct ht_workup *workup;
    struct ht_error err;
    enum ht_status status;
};

/* Drive and causes are always wanted, in the case's folder; the rest as given.
 * Any status is the caller's to look at. */
void edited_run(struct edited *run, const struct edits *edits,
                struct ht_workup_options options);
void edited_free(struct edited *run);

/* With a keeper, and successful. */
void edited_run_kept(struct edited *run, const struct edits *edits,
                     struct ht_keeper *keeper);

/* Stages as bits; FROM_x: x and all that comes of it. */
#define BIT(stage) (1u << HT_STAGE_##stage)
enum {
    FROM_ANGLES = BIT(ANGLES) | BIT(EFFECTS),
    FROM_FINDINGS = BIT(FINDINGS) | BIT(RANKING),
    FROM_ORDERS = FROM_FINDINGS | BIT(ORDERS),
    FROM_SPEED = FROM_ORDERS | BIT(SPEED),
    FROM_RECORDING = FROM_SPEED | BIT(RECORDING) | BIT(PLACE),
};

/* Those of that origin. */
unsigned edited_stages(const struct edited *run, enum ht_origin origin);

/* Exactly these stages were made; `what` stands in the failure. */
void assert_made(const struct edited *run, unsigned wanted, const char *what);

/* Everything that a user sees of it: JSON, text, page. */
struct ht_text edited_told(const struct edited *run);
void assert_told_alike(const struct edited *one, const struct edited *other);

/* The same bytes as without a keeper. */
void assert_as_new(const struct edited *kept, const struct edits *edits);

#endif
