/* texts.h - every sentence with which this room refuses. */
#ifndef HALFTURN_WORKUP_TEXTS_H
#define HALFTURN_WORKUP_TEXTS_H

#include "halfturn/status.h"

#define WORKUP_CANNOT_OPEN HT_CANNOT_READ, "%s: %s. Is the name right?"
#define WORKUP_CANNOT_READ HT_CANNOT_READ, "%s: reading stopped: %s"
#define WORKUP_FILE_CHANGED                                                    \
    HT_CANNOT_READ,                                                            \
        "%s: the file changed while it was being read. Wait until it is "      \
        "written, then try again."
#define WORKUP_NO_MEMORY HT_NO_MEMORY, "%s: out of memory"

#endif
