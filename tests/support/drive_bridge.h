/* drive_bridge.h - a made-up drive as the structs the library's rooms take,
 * without a file between. Only copies; works nothing out. */
#ifndef HALFTURN_TESTS_DRIVE_BRIDGE_H
#define HALFTURN_TESTS_DRIVE_BRIDGE_H

#include "drive_maker.h"

#include "halfturn/recording.h"
#include "halfturn/rotation.h"
#include "halfturn/sheet.h"
#include "halfturn/speed.h"

struct drive_bridge {
    struct drive *drive;
    struct ht_sheet sheet; /* only its vehicle is filled */
    struct ht_rotation rotation;
    struct ht_recording recording; /* means taken out; slow at 5 Hz */
    struct ht_channel channel[DRIVE_AXES];
    struct ht_speed_log log;
};

/* Takes the drive over. NULL: out of memory. */
struct drive_bridge *drive_bridge_make(const struct drive_request *request);
void drive_bridge_free(struct drive_bridge *bridge);

#endif
