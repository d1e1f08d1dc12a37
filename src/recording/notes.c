#include "notes.h"

#include "common/memory.h"
#include "signal/decimate.h"
#include "texts.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Pull and overrun change within seconds; 10 values a second show them, and
 * every order lies above the band that is left (0 to about 3 Hz). */
static const double SLOW_RATE_HZ = 10;
static const double SLOW_PASS_SHARE = 0.4;
enum { AT_A_TIME = 4096 }; /* the filter's copy stays in the cache */

void ht_recording_note(struct ht_recording *recording, const char *format, ...)
{
    va_list arguments;
    if (recording->notes >= sizeof recording->note / sizeof recording->note[0])
        return;
    va_start(arguments, format);
    (void)vsnprintf(recording->note[recording->notes++],
                    sizeof recording->note[0], format, arguments);
    va_end(arguments);
}

void ht_recording_drop(struct ht_recording *recording, size_t c)
{
    ht_release(recording->channel[c].samples);
    memmove(&recording->channel[c], &recording->channel[c + 1],
            (recording->channels - c - 1) * sizeof recording->channel[0]);
    recording->channels--;
    recording->channel[recording->channels] = (struct ht_channel){ 0 };
}

void ht_recording_drop_still(struct ht_recording *recording, const bool *lives)
{
    size_t channels = recording->channels;
    for (size_t c = 0, at = 0; c < channels; c++) {
        if (lives[c]) {
            at++;
            continue;
        }
        ht_recording_note(recording, RECORDING_STANDS_STILL,
                          recording->channel[at].name);
        ht_recording_drop(recording, at);
    }
}

static bool make_slow(struct ht_recording *recording,
                      struct ht_channel *channel, size_t factor)
{
    size_t room = 0, count = 0;
    struct ht_decimator *decimator =
        ht_decimator_create(factor, SLOW_PASS_SHARE);
    if (!decimator)
        return false;
    bool made = true;
    for (size_t at = 0; made && at < recording->frames; at += AT_A_TIME) {
        size_t left = recording->frames - at;
        made = ht_decimator_push(decimator, channel->samples + at,
                                 left < AT_A_TIME ? left : AT_A_TIME,
                                 &channel->slow, &room, &count);
    }
    made = made &&
           ht_decimator_finish(decimator, &channel->slow, &room, &count);
    ht_decimator_free(decimator);
    for (size_t i = 0; made && i < count; i++)
        channel->slow[i] += (float)channel->mean;
    recording->slow_frames = count;
    return made;
}

bool ht_recording_make_slow(struct ht_recording *recording)
{
    size_t factor = (size_t)fmax(1, floor(recording->rate_hz / SLOW_RATE_HZ));
    recording->slow_rate_hz = recording->rate_hz / (double)factor;
    for (size_t c = 0; c < recording->channels; c++)
        if (recording->channel[c].unit == HT_UNIT_M_S2 &&
            !make_slow(recording, &recording->channel[c], factor))
            return false;
    return true;
}
