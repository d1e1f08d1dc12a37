/* collect.h - decoded blocks into decimated channels: a sink for ht_decode. */
#ifndef HALFTURN_RECORDING_COLLECT_H
#define HALFTURN_RECORDING_COLLECT_H

#include "decode.h"
#include "promise.h"
#include "still.h"

#include "halfturn/recording.h"
#include "signal/decimate.h"

#include "common/limits.h"

struct collector {
    struct ht_recording *recording;
    const struct ht_recording_options *options;
    const char *path;
    struct ht_decimator *decimator[HT_CHANNELS_MAX];
    size_t room[HT_CHANNELS_MAX], count[HT_CHANNELS_MAX];
    double scale[HT_CHANNELS_MAX];
    float first[HT_CHANNELS_MAX]; /* sample of each channel */
    bool lives[HT_CHANNELS_MAX];  /* another one differs from it */
    float *one;             /* a block of one channel */
    size_t one_room;
    struct still still;
    uint64_t frames;        /* decoded so far */
    struct promise promise; /* how many there are by the file's own word */
};

/* Sink functions; context is a struct collector. */
enum ht_status ht_collect_begin(void *context,
                                const struct sound_format *format,
                                struct ht_error *err);
enum ht_status ht_collect_block(void *context, const float *frames,
                                size_t count, struct ht_error *err);

/* After the last block: ends the filters, makes gaps of stretches that stand
 * still, takes out means, drops a channel that stands still or is a copy of
 * another, notes it and clipping. */
enum ht_status ht_collect_finish(struct collector *collector,
                                 struct ht_error *err);
void ht_collect_free(struct collector *collector);

#endif
