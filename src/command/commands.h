/* commands.h - the sub-commands; each fills `out`, the caller prints it. */
#ifndef HALFTURN_COMMAND_COMMANDS_H
#define HALFTURN_COMMAND_COMMANDS_H

#include "options.h"

#include "halfturn/status.h"
#include "halfturn/text.h"

enum ht_status command_parts(const struct options *options,
                             struct ht_text *out, struct ht_error *err);
enum ht_status command_angles(const struct options *options,
                              struct ht_text *out, struct ht_error *err);
enum ht_status command_orders(const struct options *options,
                              struct ht_text *out, struct ht_error *err);
enum ht_status command_rank(const struct options *options,
                            struct ht_text *out, struct ht_error *err);
enum ht_status command_report(const struct options *options,
                              struct ht_text *out, struct ht_error *err);

#endif
