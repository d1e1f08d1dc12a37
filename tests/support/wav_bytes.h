/* wav_bytes.h - WAV files byte by byte, so that a test can break them. */
#ifndef HALFTURN_TEST_WAV_BYTES_H
#define HALFTURN_TEST_WAV_BYTES_H

#include <stddef.h>

/* Writes `bytes` bytes of `value`, the lowest first. */
void wav_little(unsigned char *at, size_t value, size_t bytes);

/* A mono WAV of 16 bit at 2 kHz with a 50 Hz sine; returns its length, which
 * is 44 + 2 * frames. `wav` has room for it. */
size_t wav_make(unsigned char *wav, size_t frames);

#endif
