/* near_file.h - the file that was meant, when the one that was named is not
 * there. */
#ifndef HALFTURN_COMMAND_NEAR_FILE_H
#define HALFTURN_COMMAND_NEAR_FILE_H

#include "halfturn/sheet.h"
#include "halfturn/status.h"

/* After HT_CANNOT_READ: when `path`, or a file that the sheet names, is not
 * there and its folder holds one of nearly that name, *err says so instead.
 * Any other status passes as it is. */
enum ht_status near_file(enum ht_status status, const char *path,
                         struct ht_error *err);
enum ht_status near_file_of_sheet(enum ht_status status, const char *folder,
                                  const struct ht_sheet *sheet,
                                  struct ht_error *err);

#endif
