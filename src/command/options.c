#include "options.h"

#include "common/constants.h"
#include "halfturn/document.h"
#include "halfturn/number.h"

#include <getopt.h>
#include <math.h>
#include <string.h>

enum kind { FLAG, TEXT, NUMBER, ANGLE, SPEED, WORD };

struct word {
    const char *name;
    int value;
};

static const struct word suspensions[] = {
    { "wheels_on_ground", HT_SUSPENSION_WHEELS_ON_GROUND },
    { "axle_on_stands_at_ride_height", HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT },
    { "hanging", HT_SUSPENSION_HANGING },
    { NULL, 0 }
};
static const struct word surfaces[] = {
    { "cap", HT_SURFACE_CAP },
    { "machined_flange", HT_SURFACE_MACHINED_FLANGE },
    { "yoke", HT_SURFACE_YOKE },
    { NULL, 0 }
};
static const struct word ends[] = { { "front", HT_END_FRONT },
                                    { "rear", HT_END_REAR },
                                    { NULL, 0 } };

#define AT(field) offsetof(struct options, field)

static const struct row {
    const char *name;
    char letter;
    enum kind kind;
    unsigned commands;
    size_t offset;
    double low, high;
    const struct word *words;
    const char *argument, *help;
} rows[] = {
    { "json", 'j', FLAG, FOR_ALL, AT(json), 0, 0, NULL, NULL,
      "print one JSON object instead of text" },
    { "output", 'o', TEXT, FOR_ALL, AT(output), 0, 0, NULL, "FILE",
      "write there instead of to the terminal" },
    { "speed", 's', SPEED, FOR_PARTS, AT(speed_m_s), 0.27, 100, NULL, "SPEED",
      "road speed: 95 is km/h, 60mph is miles per hour" },
    { "gear", 'g', NUMBER, FOR_PARTS, AT(gear), 1, 16, NULL, "N",
      "the gear, counted from 1" },
    { "hz", 'f', NUMBER, FOR_PARTS, AT(hz), 0.1, 2000, NULL, "F",
      "which parts could shake at this frequency" },
    { "suspension", 0, WORD, FOR_ANGLES, AT(suspension), 0, 0, suspensions,
      "STATE",
      "wheels_on_ground, axle_on_stands_at_ride_height or hanging; without "
      "it: numbers, no verdict" },
    { "gauge", 0, ANGLE, FOR_ANGLES, AT(gauge_rad), 0, 5, NULL, "DEG",
      "accuracy of the gauge, plus or minus" },
    { "step", 0, ANGLE, FOR_ANGLES, AT(step_rad), 0, 5, NULL, "DEG",
      "smallest step the gauge shows" },
    { "set-up", 0, ANGLE, FOR_ANGLES, AT(set_up_rad), 0, 5, NULL, "DEG",
      "uncertainty of setting yoke and gauge: 0.15 when the yoke was set by "
      "laying the gauge crosswise, 0.4 by eye" },
    { "read-on", 0, WORD, FOR_ANGLES, AT(read_on), 0, 0, surfaces, "SURFACE",
      "cap, machined_flange or yoke" },
    { "headings", 0, TEXT, FOR_ANGLES, AT(headings), 0, 0, NULL, "DEG,...",
      "heading of each member, + to the left going rearward" },
    { "yokes", 0, TEXT, FOR_ANGLES, AT(yokes), 0, 0, NULL, "DEG,...",
      "clocking of each shaft section, 0 in line" },
    { "driven-from", 0, WORD, FOR_ANGLES, AT(driven_from), 0, 0, ends, "END",
      "front or rear" },
    { "rpm", 0, NUMBER, FOR_ANGLES, AT(shaft_rpm), 1, 20000, NULL, "N",
      "shaft speed at which the accelerations are worked out" },
    { "limits", 0, TEXT, FOR_ALL & ~FOR_PARTS, AT(limits), 0, 0, NULL, "SET",
      "judge by this limit set: car, light_truck, ..." },
    { "limits-file", 0, TEXT, FOR_ALL & ~FOR_PARTS, AT(limits_file), 0, 0,
      NULL, "FILE", "an edited copy of the limits" },
    { "catalogue-file", 0, TEXT, FOR_RANK | FOR_REPORT, AT(catalogue_file), 0,
      0, NULL, "FILE", "an edited copy of the catalogue of causes" },
    { "shop", 0, TEXT, FOR_REPORT, AT(shop), 0, 0, NULL, "NAME",
      "name of the workshop at the head of the page" },
    { "quiet", 'q', FLAG, FOR_DRIVES, AT(quiet), 0, 0, NULL, NULL,
      "no progress on the terminal" },
    { "help", 'h', FLAG, FOR_ALL, AT(help), 0, 0, NULL, NULL,
      "show this help" },
};
enum { ROWS = sizeof rows / sizeof rows[0] };

static enum ht_status unknown_option(const char *given,
                                     enum command_bit command,
                                     struct ht_error *err)
{
    const char *names[ROWS + 1] = { NULL };
    size_t count = 0;
    for (size_t i = 0; i < ROWS; i++)
        if (rows[i].commands & command)
            names[count++] = rows[i].name;
    const char *bare = given + strspn(given, "-");
    const char *near = ht_nearest_name(bare, names);
    if (near)
        return ht_fail(err, HT_BAD_USE,
                       "There is no option '%s'. Did you mean '--%s'?", given,
                       near);
    return ht_fail(err, HT_BAD_USE,
                   "There is no option '%s'. --help lists the options.",
                   given);
}

static enum ht_status bad_value(const struct row *row, const char *text,
                                struct ht_error *err)
{
    if (memchr(text, ',', strlen(text)))
        return ht_fail(err, HT_BAD_USE,
                       "--%s %s: write a decimal point, not a comma.",
                       row->name, text);
    if (row->kind == SPEED)
        return ht_fail(err, HT_BAD_USE,
                       "--%s %s: wanted a speed from 1 to %.0f km/h, written "
                       "as 95 (km/h), 95km/h or 60mph.",
                       row->name, text, row->high / HT_M_S_PER_KM_H);
    return ht_fail(err, HT_BAD_USE,
                   "--%s %s: wanted a number from %g to %g%s.", row->name,
                   text, row->low, row->high,
                   row->kind == ANGLE ? " degrees" : "");
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

static enum ht_status set_number(const struct row *row, const char *text,
                                 double *value, struct ht_error *err)
{
    size_t head = strlen(text);
    double factor = row->kind == SPEED ? speed_factor(text, &head) : 1;
    double read;
    enum ht_number_problem problem =
        row->kind == ANGLE ? ht_number_read_degrees(text, head, &read)
                           : ht_number_read(text, head, &read);
    if (problem != HT_NUMBER_FINE || read * factor < row->low ||
        read * factor > row->high)
        return bad_value(row, text, err);
    *value = row->kind == ANGLE ? read * HT_RAD_PER_DEG : read * factor;
    return HT_OK;
}

static enum ht_status set_word(const struct row *row, const char *text,
                               void *field, struct ht_error *err)
{
    const char *names[8] = { NULL };
    size_t count = 0;
    for (const struct word *w = row->words; w->name; w++) {
        names[count++] = w->name;
        if (strcmp(w->name, text) == 0) {
            /* every enum of the sheet is stored as an unsigned int */
            unsigned value = (unsigned)w->value;
            memcpy(field, &value, sizeof value);
            return HT_OK;
        }
    }
    const char *near = ht_nearest_name(text, names);
    return ht_fail(err, HT_BAD_USE,
                   "--%s does not know '%s'.%s%s%s It takes: %s.", row->name,
                   text, near ? " Did you mean '" : "", near ? near : "",
                   near ? "'?" : "", row->help);
}

static enum ht_status set_row(struct options *options, const struct row *row,
                              const char *text, struct ht_error *err)
{
    void *field = (char *)options + row->offset;
    switch (row->kind) {
    case FLAG:
        *(bool *)field = true;
        return HT_OK;
    case TEXT:
        *(const char **)field = text;
        return HT_OK;
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
    for (size_t i = 0; i < ROWS; i++) {
        if (!(rows[i].commands & command))
            continue;
        longs[n++] = (struct option){
            rows[i].name, rows[i].kind == FLAG ? no_argument
                                               : required_argument,
            NULL, 256 + (int)i
        };
        if (rows[i].letter) {
            letters[l++] = rows[i].letter;
            if (rows[i].kind != FLAG)
                letters[l++] = ':';
        }
    }
    longs[n] = (struct option){ 0 };
    letters[l] = '\0';
}

static const struct row *row_of(int found)
{
    if (found >= 256)
        return &rows[found - 256];
    for (size_t i = 0; i < ROWS; i++)
        if (rows[i].letter == found)
            return &rows[i];
    return NULL;
}

enum ht_status options_read(struct options *options, enum command_bit command,
                            int argc, char **argv, struct ht_error *err)
{
    struct option longs[ROWS + 1];
    char letters[2 * ROWS + 2];
    enum ht_status status = HT_OK;
    *options = (struct options){ .speed_m_s = NAN, .hz = NAN, .gear = NAN,
                                 .shaft_rpm = NAN, .gauge_rad = NAN,
                                 .step_rad = NAN, .set_up_rad = NAN };
    make_getopt(command, longs, letters);
    opterr = 0;
    optind = 0; /* also forgets where an earlier reading broke off */
    while (status == HT_OK) {
        int found = getopt_long(argc, argv, letters, longs, NULL);
        if (found == -1)
            break;
        if (found == ':')
            status = ht_fail(err, HT_BAD_USE, "%s wants a value after it.",
                             argv[optind - 1]);
        else if (found == '?')
            status = unknown_option(argv[optind - 1], command, err);
        else
            status = set_row(options, row_of(found), optarg, err);
    }
    options->words = argv + optind;
    options->word_count = (size_t)(argc - optind);
    return status;
}

static void describe_row(struct ht_text *text, const struct row *row)
{
    size_t start = text->length;
    if (row->letter)
        ht_text_addf(text, "  -%c, --%s", row->letter, row->name);
    else
        ht_text_addf(text, "      --%s", row->name);
    if (row->argument)
        ht_text_addf(text, " %s", row->argument);
    size_t column = text->length - start;
    ht_text_addf(text, "%*s", column < 26 ? (int)(26 - column) : 1, "");
    column = 26;
    for (const char *word = row->help; *word;) {
        size_t length = strcspn(word, " ");
        if (column + length > 79) {
            ht_text_addf(text, "\n%*s", 26, "");
            column = 26;
        }
        ht_text_add_bytes(text, word, length);
        column += length + 1;
        word += length + strspn(word + length, " ");
        if (*word)
            ht_text_add(text, " ");
    }
    ht_text_add(text, "\n");
}

void options_describe(struct ht_text *text, enum command_bit command)
{
    for (size_t i = 0; i < ROWS; i++)
        if (rows[i].commands & command)
            describe_row(text, &rows[i]);
}

void options_names(struct ht_text *text, enum command_bit command)
{
    const char *between = "";
    for (size_t i = 0; i < ROWS; i++) {
        if (!(rows[i].commands & command))
            continue;
        ht_text_addf(text, "%s--%s", between, rows[i].name);
        between = " ";
    }
}

bool options_degrees(const char *list, double *angle_rad, size_t room,
                     size_t *count)
{
    *count = 0;
    for (const char *at = list;;) {
        size_t length = strcspn(at, ",");
        double degrees;
        if (*count == room || ht_number_read_degrees(at, length, &degrees) !=
                                  HT_NUMBER_FINE)
            return false;
        angle_rad[(*count)++] = degrees * HT_RAD_PER_DEG;
        if (at[length] == '\0')
            return true;
        at += length + 1;
    }
}
