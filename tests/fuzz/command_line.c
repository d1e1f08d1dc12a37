/* The words after the name of a command. The first byte says which command;
 * the words are lines. */
#include "harness.h"

#include "command/options.h"
#include "command/pairs.h"
#include "common/constants.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS_MAX = 40, COMMANDS = 5 };

struct line {
    int count;
    char *word[WORDS_MAX + 2];  /* as they were made */
    char *given[WORDS_MAX + 2]; /* the same, which the reader may reorder */
};

/* Each word in memory of its own, so that a sanitizer sees its end. */
static void split(struct line *line, const char *bytes, size_t length)
{
    size_t from = 0;
    line->count = 0;
    line->word[line->count++] = strdup("halfturn");
    for (size_t at = 0; at <= length && line->count <= WORDS_MAX; at++) {
        if (at < length && bytes[at] != '\n' && bytes[at] != '\0')
            continue;
        line->word[line->count++] = strndup(bytes + from, at - from);
        from = at + 1;
    }
    line->word[line->count] = NULL;
    memcpy(line->given, line->word, sizeof line->given);
    for (int i = 0; i < line->count; i++)
        FUZZ_DEMAND(line->word[i] != NULL);
}

static bool is_of(const struct line *line, const char *text)
{
    for (int i = 0; i < line->count; i++)
        if (text >= line->word[i] &&
            text <= line->word[i] + strlen(line->word[i]))
            return true;
    return false;
}

/* Not given, or within the range that --help and the refusals state. */
static bool lies(double value, double low, double high)
{
    return isnan(value) || (value >= low && value <= high);
}

static void look_at(const struct options *options, const struct line *line)
{
    const char *text[] = { options->output, options->limits,
                           options->limits_file, options->catalogue_file,
                           options->shop, options->headings, options->yokes,
                           options->offsets, options->lengths };
    const double steep_rad = 5 * HT_RAD_PER_DEG * (1 + 1e-9);
    for (size_t i = 0; i < sizeof text / sizeof text[0]; i++)
        FUZZ_DEMAND(!text[i] || is_of(line, text[i]));
    FUZZ_DEMAND(options->word_count < (size_t)line->count);
    for (size_t i = 0; i < options->word_count; i++)
        FUZZ_DEMAND(is_of(line, options->words[i]));
    FUZZ_DEMAND(lies(options->speed_m_s, 0.27, 100));
    FUZZ_DEMAND(lies(options->gear, 1, 16));
    FUZZ_DEMAND(lies(options->hz, 0.1, 2000));
    FUZZ_DEMAND(lies(options->shaft_rpm, 1, 20000));
    const double fine_rad = 0.001 * HT_RAD_PER_DEG * (1 - 1e-9);
    FUZZ_DEMAND(lies(options->gauge_rad, fine_rad, steep_rad));
    FUZZ_DEMAND(lies(options->crosswise_rad, -9 * steep_rad, 9 * steep_rad));
    FUZZ_DEMAND(lies(options->step_rad, fine_rad, steep_rad));
    FUZZ_DEMAND(lies(options->set_up_rad, 0, steep_rad));
    FUZZ_DEMAND(options->suspension <= HT_SUSPENSION_HANGING);
    FUZZ_DEMAND(options->read_on <= HT_SURFACE_YOKE);
    FUZZ_DEMAND(options->driven_from <= HT_END_REAR);
}

static void must_be_refusal(enum ht_status status, const struct ht_error *err)
{
    FUZZ_DEMAND(status == HT_BAD_USE && err->status == status);
    FUZZ_DEMAND(err->text[0] != '\0');
    FUZZ_DEMAND(memchr(err->text, '\0', sizeof err->text) != NULL);
}

static void read_readings(const struct options *options)
{
    static struct pairs pairs;
    struct ht_error err = { 0 };
    enum ht_status status = pairs_read(&pairs, options, &err);
    if (status != HT_OK) {
        must_be_refusal(status, &err);
        return;
    }
    const struct ht_sheet *sheet = &pairs.sheet;
    const struct ht_sheet_angles *set = &sheet->angles[0];
    const double most_rad = 45 * HT_RAD_PER_DEG * (1 + 1e-9);
    FUZZ_DEMAND(sheet->driveline_count == 1 && sheet->angles_count == 1);
    FUZZ_DEMAND((set->slope_count >= 2) != (set->joints_rad.count >= 1));
    FUZZ_DEMAND(set->slope_count <= HT_MEMBERS_MAX);
    FUZZ_DEMAND(set->joints_rad.count <= HT_JOINTS_MAX);
    for (size_t m = 0; m < set->slope_count; m++) {
        const struct ht_numbers *list = &set->slopes[m].readings_rad;
        FUZZ_DEMAND(list->count == 1 || list->count == 2);
        for (size_t i = 0; i < list->count; i++)
            FUZZ_DEMAND(fabs(list->value[i]) <= most_rad);
    }
    for (size_t m = 0; m < set->headings_rad.count; m++)
        FUZZ_DEMAND(fabs(set->headings_rad.value[m]) <= most_rad);
    for (size_t s = 0; s < sheet->drivelines[0].yokes_rad.count; s++)
        FUZZ_DEMAND(fabs(sheet->drivelines[0].yokes_rad.value[s]) <=
                    4 * most_rad);
}

static void read_words(const char *bytes, size_t length)
{
    struct line line;
    struct options options;
    struct ht_error err = { 0 };
    if (length == 0)
        return;
    unsigned command = 1u << (unsigned char)bytes[0] % COMMANDS;
    split(&line, bytes + 1, length - 1);
    enum ht_status status = options_read(&options, (enum command_bit)command,
                                         line.count, line.given, &err);
    if (status == HT_OK) {
        look_at(&options, &line);
        read_readings(&options);
    } else {
        must_be_refusal(status, &err);
    }
    for (int i = 0; i < line.count; i++)
        free(line.word[i]);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_words, data, size);
}
