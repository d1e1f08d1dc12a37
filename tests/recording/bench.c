/* bench-reading FILE [TIMES [HIGHEST_HZ]]: what reading a recording costs.
 * Each line: seconds by the clock on the wall, computing time of this process
 * and of the decoder, and a sum over every sample and bit, equal when the
 * result is. Not a test: it has no opinion. */
#include "halfturn/recording.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

static double seconds(clockid_t clock)
{
    struct timespec now;
    (void)clock_gettime(clock, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static double seconds_of(struct timeval time)
{
    return (double)time.tv_sec + 1e-6 * (double)time.tv_usec;
}

static double decoder_s(void)
{
    struct rusage used;
    (void)getrusage(RUSAGE_CHILDREN, &used);
    return seconds_of(used.ru_utime) + seconds_of(used.ru_stime);
}

/* FNV-1a (Fowler, Noll and Vo), over words. */
static uint64_t mix(uint64_t sum, const float *values, size_t n)
{
    for (size_t i = 0; values && i < n; i++) {
        uint32_t bits;
        memcpy(&bits, &values[i], sizeof bits);
        sum = (sum ^ bits) * 1099511628211u;
    }
    return sum;
}

static int read_once(const char *path, double highest_hz)
{
    struct ht_recording_options options = { .highest_hz = highest_hz };
    struct ht_recording r;
    struct ht_error err = { 0 };
    double wall = seconds(CLOCK_MONOTONIC), child = decoder_s();
    double own = seconds(CLOCK_PROCESS_CPUTIME_ID);
    if (ht_recording_read(&r, path, &options, &err) != HT_OK) {
        (void)fprintf(stderr, "%s\n", err.text);
        return 1;
    }
    wall = seconds(CLOCK_MONOTONIC) - wall;
    own = seconds(CLOCK_PROCESS_CPUTIME_ID) - own;
    uint64_t sum = 14695981039346656037u;
    for (size_t c = 0; c < r.channels; c++) {
        sum = mix(sum, r.channel[c].samples, r.frames);
        sum = mix(sum, r.channel[c].slow, r.slow_frames);
    }
    printf("wall %.4f s, own %.4f s, decoder %.4f s; %zu channels, %zu frames "
           "at %.6g Hz, sum %016llx\n",
           wall, own, decoder_s() - child, r.channels, r.frames, r.rate_hz,
           (unsigned long long)sum);
    ht_recording_free(&r);
    return 0;
}

int main(int count, char **arguments)
{
    if (count < 2)
        return 64;
    int times = count > 2 ? (int)strtol(arguments[2], NULL, 10) : 5;
    double highest_hz = count > 3 ? strtod(arguments[3], NULL) : (double)NAN;
    int failed = 0;
    while (times-- > 0 && !failed)
        failed = read_once(arguments[1], highest_hz);
    struct rusage used;
    (void)getrusage(RUSAGE_SELF, &used);
    printf("memory at most %ld KiB\n", used.ru_maxrss);
    return failed;
}
