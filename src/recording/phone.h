/* phone.h - accelerometer tables as phones and loggers write them. */
#ifndef HALFTURN_RECORDING_PHONE_H
#define HALFTURN_RECORDING_PHONE_H

#include "halfturn/recording.h"

/* Fills *recording from a table. On failure it is left for
 * ht_recording_free. */
enum ht_status ht_recording_from_table(struct ht_recording *recording,
                                       const char *path,
                                       const struct ht_recording_options *how,
                                       struct ht_error *err);

#endif
