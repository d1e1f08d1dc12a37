/* A decoder that misbehaves as the file on its descriptor 0 says: "fLaC " and
 * a word. It speaks the words of stream.h as far as it goes. */
#include "recording/stream.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { FRAMES = 1000 };
static float samples[STREAM_BLOCK_FRAMES];

static void say(const void *bytes, size_t length)
{
    if (write(STDOUT_FILENO, bytes, length) != (ssize_t)length)
        _exit(40);
}

static void mark(uint32_t kind, uint32_t count, uint64_t total)
{
    const struct stream_mark one = { kind, count, total };
    say(&one, sizeof one);
}

static void head(uint32_t version, uint32_t channels, double rate_hz)
{
    struct stream_head one = { .magic = STREAM_MAGIC, .version = version,
                               .channels = channels, .rate_hz = rate_hz,
                               .frames = FRAMES, .name = "stub" };
    mark(STREAM_HEAD, channels, 0);
    say(&one, sizeof one);
}

static void good_head(void)
{
    head(STREAM_VERSION, 1, 2000);
}

static void block(uint32_t frames)
{
    mark(STREAM_BLOCK, frames, 0);
    say(samples, frames * sizeof samples[0]);
}

static int act_good(void)
{
    good_head();
    block(FRAMES);
    mark(STREAM_END, 0, FRAMES);
    return 0;
}

static int act_abort(void)
{
    (void)raise(SIGABRT);
    return 0;
}

static int act_crash(void)
{
    good_head();
    block(FRAMES);
    (void)raise(SIGSEGV);
    return 0;
}

static int act_hang(void)
{
    while (pause() != 0)
        ; /* a signal that it survives changes nothing */
    return 0;
}

static int act_hang_midway(void)
{
    good_head();
    block(FRAMES);
    return act_hang();
}

static int act_hang_after_end(void)
{
    (void)act_good();
    (void)close(STDOUT_FILENO);
    return act_hang();
}

static int act_trickle(void)
{
    const struct timespec pause = { .tv_nsec = 20000000 };
    good_head();
    mark(STREAM_BLOCK, FRAMES, 0);
    while (nanosleep(&pause, NULL) <= 0)
        say("", 1);
    return 0;
}

static int act_spin(void)
{
    volatile unsigned turns = 1;
    while (turns > 0)
        turns = turns == 1 ? 2 : 1;
    return 0;
}

static int act_flood(void)
{
    good_head();
    while (STREAM_BLOCK_FRAMES > 0)
        block(STREAM_BLOCK_FRAMES);
    return 0;
}

static int act_eat(void)
{
    for (size_t eaten = 0; eaten < (size_t)1 << 40; eaten += 1 << 20) {
        volatile char *more = malloc(1 << 20);
        if (!more)
            return 33;
        for (size_t i = 0; i < 1 << 20; i += 4096)
            more[i] = 1;
    }
    return 0;
}

static int act_midway(void)
{
    good_head();
    mark(STREAM_BLOCK, FRAMES, 0);
    say(samples, 100);
    return 0;
}

static int act_no_end(void)
{
    good_head();
    block(FRAMES);
    return 0;
}

static int act_short_count(void)
{
    good_head();
    block(FRAMES);
    mark(STREAM_END, 0, FRAMES + 1);
    return 0;
}

static int act_more_behind(void)
{
    (void)act_good();
    mark(STREAM_END, 0, FRAMES);
    return 0;
}

static int act_fail_after_end(void)
{
    (void)act_good();
    return 5;
}

static int act_garbage(void)
{
    for (unsigned i = 0; i < sizeof samples; i++)
        ((unsigned char *)samples)[i] = (unsigned char)(i * 7919u >> 3);
    say(samples, sizeof samples);
    return 0;
}

static int act_text(void)
{
    (void)fprintf(stderr, "stub: cannot go on\n");
    (void)printf("sorry, cannot go on, and this is a long text about it\n");
    return 3;
}

static int act_nothing(void)
{
    return 0;
}

static int act_old(void)
{
    head(STREAM_VERSION + 1, 1, 2000);
    return 0;
}

static int act_no_rate(void)
{
    head(STREAM_VERSION, 1, (double)NAN);
    return 0;
}

static int act_many_channels(void)
{
    head(STREAM_VERSION, 4000000000, 2000);
    return 0;
}

static int act_block_first(void)
{
    block(FRAMES);
    return 0;
}

static int act_two_heads(void)
{
    good_head();
    good_head();
    return 0;
}

static int act_huge_block(void)
{
    good_head();
    mark(STREAM_BLOCK, UINT32_MAX, 0);
    return 0;
}

static int act_refuse(void)
{
    static const char text[] = "no \x1b[31msuch\xff sound.";
    mark(STREAM_REFUSAL, sizeof text - 1, HT_BAD_FILE);
    say(text, sizeof text - 1);
    return 0;
}

static int act_refuse_strangely(void)
{
    mark(STREAM_REFUSAL, 4, 9999);
    say("text", 4);
    return 0;
}

/* Says which descriptors it has and whether SIGPIPE is ignored. */
static int act_look(void)
{
    struct sigaction action;
    char text[STREAM_TEXT_MAX] = "open:";
    for (int d = 0; d < 256; d++)
        if (lseek(d, 0, SEEK_CUR) >= 0 || dup2(d, d) == d)
            (void)snprintf(text + strlen(text), 8, " %d", d);
    (void)sigaction(SIGPIPE, NULL, &action);
    (void)snprintf(text + strlen(text), 16, " pipe %s",
                   action.sa_handler == SIG_IGN ? "ignored" : "usual");
    mark(STREAM_REFUSAL, (uint32_t)strlen(text), HT_BAD_FILE);
    say(text, strlen(text));
    return 0;
}

static const struct {
    const char *word;
    int (*act)(void);
} acts[] = {
    { "good", act_good },
    { "abort", act_abort },
    { "crash", act_crash },
    { "hang", act_hang },
    { "hang midway", act_hang_midway },
    { "hang after end", act_hang_after_end },
    { "trickle", act_trickle },
    { "spin", act_spin },
    { "flood", act_flood },
    { "eat", act_eat },
    { "midway", act_midway },
    { "no end", act_no_end },
    { "short count", act_short_count },
    { "more behind", act_more_behind },
    { "fail after end", act_fail_after_end },
    { "garbage", act_garbage },
    { "text", act_text },
    { "nothing", act_nothing },
    { "old", act_old },
    { "no rate", act_no_rate },
    { "many channels", act_many_channels },
    { "block first", act_block_first },
    { "two heads", act_two_heads },
    { "huge block", act_huge_block },
    { "refuse", act_refuse },
    { "refuse strangely", act_refuse_strangely },
    { "look", act_look },
};

int main(void)
{
    char file[64] = "";
    ssize_t length = read(STDIN_FILENO, file, sizeof file - 1);
    for (size_t i = 0; i < FRAMES; i++)
        samples[i] = (float)(i % 10) / 100;
    for (size_t i = 0; i < sizeof acts / sizeof acts[0]; i++)
        if (length > 5 && strcmp(file + 5, acts[i].word) == 0)
            return acts[i].act();
    return 41; /* no such word */
}
