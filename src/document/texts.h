/* texts.h - every sentence with which this room refuses. */
#ifndef HALFTURN_DOCUMENT_TEXTS_H
#define HALFTURN_DOCUMENT_TEXTS_H

/* ---- values of a sheet that do not fit each other ---------------------- */
#define TUBE_WALL                                                              \
    "the wall is half the tube's diameter or more; give wall thickness and "   \
    "outer diameter"
#define TUBE_OUTER                                                             \
    "the tube is as thick as it is long; give its outer diameter, and the "    \
    "length between joint centres"
#define LIMITS_CROSSED                                                         \
    "the smallest angle allowed lies above the largest; change the two round"
#define CHANNEL_SCALE                                                          \
    "a scale of 0 turns every value into 0; give units in one of the file's"
#define NAME_EMPTY "a name is missing before this value"

#endif
