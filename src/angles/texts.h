/* texts.h - every sentence with which this room refuses. */
#ifndef HALFTURN_ANGLES_TEXTS_H
#define HALFTURN_ANGLES_TEXTS_H

#define LIMITS_NO_SET_NEAR                                                     \
    HT_BAD_FILE,                                                               \
        "limits: no set is called \"%.40s\". Did you mean \"%s\"? There "      \
        "are: %s."
#define LIMITS_NO_SET                                                          \
    HT_BAD_FILE, "limits: no set is called \"%.40s\". There are: %s."

#endif
