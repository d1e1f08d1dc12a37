#include "commands.h"
#include "option_table.h"
#include "sheet_row.h"
#include "texts.h"

#include "common/constants.h"
#include "halfturn/document.h"
#include "halfturn/number.h"

#include <ctype.h>
#include <getopt.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* A command that knows the option, when this one does not. */
static const char *elsewhere(const char *bare)
{
    size_t count;
    const struct command *command = commands_list(&count);
    for (size_t i = 0; i < OPTIONS; i++)
        for (size_t c = 0; c < count; c++)
            if (strcmp(option_rows[i].name, bare) == 0 &&
                (option_rows[i].commands & command[c].bit))
                return command[c].name;
    return NULL;
}

static enum ht_status unknown_option(const char *given, const char *name,
                                     enum command_bit command,
                                     struct ht_error *err)
{
    const char *names[OPTIONS + 1] = { NULL };
    char bare[64];
    size_t count = 0;
    for (size_t i = 0; i < OPTIONS; i++)
        if (option_rows[i].commands & command)
            names[count++] = option_rows[i].name;
    (void)snprintf(bare, sizeof bare, "%s", given + strspn(given, "-"));
    bare[strcspn(bare, "=")] = '\0';
    if (isdigit((unsigned char)bare[0]) || bare[0] == '.')
        return ht_fail(err, OPTION_IS_READING, given);
    const char *near = ht_nearest_name(bare, names);
    if (near)
        return ht_fail(err, OPTION_UNKNOWN_NEAR, given, near);
    const char *other = elsewhere(bare);
    if (other)
        return ht_fail(err, OPTION_ELSEWHERE, name, given, other);
    return ht_fail(err, OPTION_UNKNOWN, given);
}

/* An angle is what the sheet takes under this key. */
static const char *sheet_key(const struct option_row *row)
{
    static const struct {
        size_t offset;
        const char *key;
    } keys[] = {
        { offsetof(struct options, gauge_rad), "angles/gauge/accuracy_deg" },
        { offsetof(struct options, step_rad), "angles/gauge/step_deg" },
        { offsetof(struct options, set_up_rad), "angles/gauge/set_up_deg" },
        { offsetof(struct options, crosswise_rad),
          "angles/slopes_deg/crosswise_deg" },
    };
    size_t i = 0;
    while (keys[i].offset != row->offset)
        i++;
    return keys[i].key;
}

static enum ht_status bad_value(const struct option_row *row, const char *text,
                                double low, double high, struct ht_error *err)
{
    if (strchr(text, ','))
        return ht_fail(err, OPTION_COMMA, row->name, text);
    if (row->kind == SPEED)
        return ht_fail(err, OPTION_NO_SPEED, row->name, text,
                       high / HT_M_S_PER_KM_H);
    if (row->kind == ANGLE)
        return ht_fail(err, OPTION_NO_DEGREES, row->name, text, low, high);
    if (row->kind == WHOLE)
        return ht_fail(err, OPTION_NO_WHOLE, row->name, text, low, high);
    return ht_fail(err, OPTION_NO_NUMBER, row->name, text, low, high);
}

static bool ends_with(const char *text, const char *end, size_t *head)
{
    size_t length = strlen(text), tail = strlen(end);
    if (length < tail || strcmp(text + length - tail, end) != 0)
        return false;
    *head = length - tail;
    return true;
}

static double speed_factor(const char *text, size_t *head)
{
    *head = strlen(text);
    if (ends_with(text, "mph", head))
        return HT_M_S_PER_MPH;
    if (ends_with(text, "km/h", head) || ends_with(text, "kmh", head) ||
        ends_with(text, "km_h", head))
        return HT_M_S_PER_KM_H;
    if (ends_with(text, "m/s", head))
        return 1;
    return HT_M_S_PER_KM_H;
}

static enum ht_status set_number(const struct option_row *row,
                                 const char *text,
                                 double *value, struct ht_error *err)
{
    size_t head = strlen(text);
    double factor = row->kind == SPEED ? speed_factor(text, &head) : 1;
    double read, low = row->low, high = row->high;
    enum ht_number_problem problem =
        row->kind == ANGLE ? ht_number_read_degrees(text, head, &read)
                           : ht_number_read(text, head, &read);
    if (row->kind == ANGLE) {
        low = sheet_row(sheet_key(row))->low;
        high = sheet_row(sheet_key(row))->high;
    }
    if (problem != HT_NUMBER_FINE || read * factor < low ||
        read * factor > high || (row->kind == WHOLE && fmod(read, 1) != 0))
        return bad_value(row, text, low, high, err);
    *value = row->kind == ANGLE ? read * HT_RAD_PER_DEG : read * factor;
    return HT_OK;
}

static enum ht_status set_word(const struct option_row *row, const char *text,
                               void *field, struct ht_error *err)
{
    const char *names[8] = { NULL };
    char list[200] = "";
    size_t count = 0;
    for (const struct option_word *w = row->words; w->name; w++) {
        size_t used = strlen(list);
        (void)snprintf(list + used, sizeof list - used, "%s%s",
                       used ? ", " : "", w->name);
        names[count++] = w->name;
        if (strcmp(w->name, text) == 0) {
            /* every enum of the sheet is stored as an unsigned int */
            unsigned value = (unsigned)w->value;
            memcpy(field, &value, sizeof value);
            return HT_OK;
        }
    }
    /* no word of ours, but what people do stand a gauge on */
    if (row->offset == offsetof(struct options, read_on) &&
        strcmp(text, "strap") == 0)
        return ht_fail(err, READING_STRAP);
    const char *near = ht_nearest_name(text, names);
    return near ? ht_fail(err, OPTION_NO_WORD_NEAR, row->name, text, near, list)
                : ht_fail(err, OPTION_NO_WORD, row->name, text, list);
}

static enum ht_status set_row(struct options *options,
                              const struct option_row *row,
                              const char *text, struct ht_error *err)
{
    void *field = (char *)options + row->offset;
    switch (row->kind) {
    case FLAG:
        *(bool *)field = true;
        return HT_OK;
    case TEXT:
    case PATH:
    case SET:
        *(const char **)field = text;
        return text[0] ? HT_OK
                       : ht_fail(err, OPTION_EMPTY, row->name, row->argument);
    case WORD:
        return set_word(row, text, field, err);
    default:
        return set_number(row, text, field, err);
    }
}

/* getopt's two tables, from ours. */
static void make_getopt(enum command_bit command, struct option *longs,
                        char *letters)
{
    size_t n = 0, l = 0;
    letters[l++] = ':';
    for (size_t i = 0; i < OPTIONS; i++) {
        if (!(option_rows[i].commands & command))
            continue;
        longs[n++] = (struct option){
            option_rows[i].name, option_rows[i].kind == FLAG ? no_argument
                                               : required_argument,
            NULL, 256 + (int)i
        };
        if (option_rows[i].letter) {
            letters[l++] = option_rows[i].letter;
            if (option_rows[i].kind != FLAG)
                letters[l++] = ':';
        }
    }
    longs[n] = (struct option){ 0 };
    letters[l] = '\0';
}

static const struct option_row *row_of(int found)
{
    if (found >= 256)
        return &option_rows[found - 256];
    for (size_t i = 0; i < OPTIONS; i++)
        if (option_rows[i].letter == found)
            return &option_rows[i];
    return NULL;
}

/* The word that getopt refused: it may not have gone past it yet. */
static const char *refused(int argc, char **argv)
{
    const char *before = argv[optind - 1];
    bool letter = optopt > 0 && optopt < 256;
    if (letter && optind < argc &&
        (before[0] != '-' || before[1] == '-' || !strchr(before, optopt)))
        return argv[optind];
    return before;
}

enum ht_status options_read(struct options *options, enum command_bit command,
                            int argc, char **argv, struct ht_error *err)
{
    struct option longs[OPTIONS + 1];
    char letters[2 * OPTIONS + 2];
    enum ht_status status = HT_OK;
    *options = (struct options){ .command = command,
                                 .speed_m_s = NAN, .hz = NAN, .gear = NAN,
                                 .shaft_rpm = NAN, .gauge_rad = NAN,
                                 .step_rad = NAN, .set_up_rad = NAN,
                                 .crosswise_rad = NAN };
    make_getopt(command, longs, letters);
    opterr = 0;
    optind = 0; /* also forgets where an earlier reading broke off */
    while (status == HT_OK) {
        int found = getopt_long(argc, argv, letters, longs, NULL);
        if (found == -1)
            break;
        if (found == ':')
            status = ht_fail(err, OPTION_WANTS_VALUE, argv[optind - 1]);
        else if (found == '?')
            status = unknown_option(refused(argc, argv), argv[0], command, err);
        else
            status = set_row(options, row_of(found), optarg, err);
    }
    options->words = argv + optind;
    options->word_count = (size_t)(argc - optind);
    return status;
}

typedef enum ht_number_problem (*read_function)(const char *text,
                                                size_t length, double *value);

static bool read_list(const char *list, read_function read, double factor,
                      double *value, size_t room, size_t *count)
{
    *count = 0;
    for (const char *at = list;;) {
        size_t length = strcspn(at, ",");
        double number;
        if (*count == room || read(at, length, &number) != HT_NUMBER_FINE)
            return false;
        value[(*count)++] = number * factor;
        if (at[length] == '\0')
            return true;
        at += length + 1;
    }
}

bool options_degrees(const char *list, double *angle_rad, size_t room,
                     size_t *count)
{
    return read_list(list, ht_number_read_degrees, HT_RAD_PER_DEG, angle_rad,
                     room, count);
}

bool options_lengths(const char *list, double *length_m, size_t room,
                     size_t *count)
{
    return read_list(list, ht_number_read, 1e-3, length_m, room, count);
}
