#include "wav_bytes.h"

#include <math.h>
#include <string.h>

void wav_little(unsigned char *at, size_t value, size_t bytes)
{
    for (size_t i = 0; i < bytes; i++)
        at[i] = (unsigned char)(value >> (8 * i));
}

size_t wav_make(unsigned char *wav, size_t frames)
{
    static const unsigned char head[44] = "RIFF....WAVEfmt ";
    memcpy(wav, head, sizeof head);
    wav_little(wav + 4, 36 + 2 * frames, 4);
    wav_little(wav + 16, 16, 4);
    wav_little(wav + 20, 1, 2);
    wav_little(wav + 22, 1, 2);
    wav_little(wav + 24, 2000, 4);
    wav_little(wav + 28, 4000, 4);
    wav_little(wav + 32, 2, 2);
    wav_little(wav + 34, 16, 2);
    memcpy(wav + 36, "data", 4);
    wav_little(wav + 40, 2 * frames, 4);
    for (size_t i = 0; i < frames; i++) {
        int v = (int)lrint(9000 * sin(6.283185307179586 * 0.025 * (double)i));
        wav_little(wav + 44 + 2 * i, (size_t)(v & 0xffff), 2);
    }
    return 44 + 2 * frames;
}
