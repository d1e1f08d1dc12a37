/* commands.h - the sub-commands: one table for dispatch, --help, man pages,
 * completion and the nearest-name hint. */
#ifndef HALFTURN_COMMAND_COMMANDS_H
#define HALFTURN_COMMAND_COMMANDS_H

#include "options.h"

#include "halfturn/status.h"
#include "halfturn/text.h"

enum { COMMAND_PARAGRAPHS = 5, COMMAND_EXAMPLES = 5, COMMAND_USES = 3 };

enum command_caution { /* bits: which work a command leads to */
    CAUTION_STANDING = 1, /* under or beside the standing vehicle */
    CAUTION_ROAD = 2      /* a road test */
};

struct command_example {
    const char *what; /* says what it is for */
    const char *line; /* as typed; case.yaml is a case sheet */
};

struct command {
    const char *name, *summary;
    const char *use[COMMAND_USES];            /* after the name */
    const char *about[COMMAND_PARAGRAPHS];
    struct command_example example[COMMAND_EXAMPLES];
    enum command_bit bit;
    unsigned cautions;
    /* Fills `out`, the caller prints it. */
    enum ht_status (*run)(const struct options *options, struct ht_text *out,
                          struct ht_error *err);
};

const struct command *commands_list(size_t *count);

/* NULL: there is none of that name. */
const struct command *commands_find(const char *name);
const char *commands_nearest(const char *name);

enum ht_status command_new(const struct options *options, struct ht_text *out,
                           struct ht_error *err);
enum ht_status command_parts(const struct options *options,
                             struct ht_text *out, struct ht_error *err);
enum ht_status command_angles(const struct options *options,
                              struct ht_text *out, struct ht_error *err);
/* What `angles` does with --blank. */
enum ht_status command_blank(const struct options *options,
                             struct ht_text *out, struct ht_error *err);
enum ht_status command_shims(const struct options *options,
                             struct ht_text *out, struct ht_error *err);
enum ht_status command_orders(const struct options *options,
                              struct ht_text *out, struct ht_error *err);
enum ht_status command_rank(const struct options *options,
                            struct ht_text *out, struct ht_error *err);
enum ht_status command_serve(const struct options *options,
                             struct ht_text *out, struct ht_error *err);
enum ht_status command_report(const struct options *options,
                              struct ht_text *out, struct ht_error *err);

#endif
