/* Reading the catalogue: its schema table. */
#include "causes/catalogue.h"
#include "causes/texts.h"

#include "common/embed.h"
#include "common/limits.h"
#include "common/memory.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

EMBED(ht_catalogue_file, "causes/catalogue.yaml");

static const struct ht_word strengths[] = {
    { "strong", CAT_STRONG, "odds 10 times the leak's" },
    { "moderate", CAT_MODERATE, "odds 3 times" },
    { "weak", CAT_WEAK, "odds 1.5 times" },
    { 0 }
};
/* fixed, unknown and none turn with nothing that is named. */
static const struct ht_word families[] = {
    { "wheel", HT_FAMILY_WHEEL, NULL },   { "shaft", HT_FAMILY_SHAFT, NULL },
    { "engine", HT_FAMILY_ENGINE, NULL }, { "fixed", HT_FAMILY_OTHER, NULL },
    { "unknown", HT_FAMILY_OTHER, NULL }, { "none", HT_FAMILY_OTHER, NULL },
    { 0 }
};

#define TEXT(type, key_, field, flags_, help_)                                 \
    {                                                                          \
        .key = key_, .kind = HT_IS_TEXT, .at = offsetof(type, field),          \
        .flags = flags_, .help = help_                                         \
    }
#define NUMBER(type, key_, field, low_, high_, flags_, help_)                  \
    {                                                                          \
        .key = key_, .kind = HT_IS_NUMBER, .at = offsetof(type, field),        \
        .low = low_, .high = high_, .flags = flags_, .help = help_             \
    }
#define NUMBERS(type, key_, field, low_, high_, flags_, help_)                 \
    {                                                                          \
        .key = key_, .kind = HT_IS_NUMBERS, .at = offsetof(type, field),       \
        .low = low_, .high = high_, .flags = flags_, .help = help_             \
    }
#define TEXTS(type, key_, field, help_)                                        \
    {                                                                          \
        .key = key_, .kind = HT_IS_TEXTS, .at = offsetof(type, field),         \
        .help = help_                                                          \
    }
#define MAPS(type, key_, field, count_, child_, help_)                         \
    {                                                                          \
        .key = key_, .kind = HT_IS_MAPS, .at = offsetof(type, field),          \
        .count_at = offsetof(type, count_), .child = child_, .help = help_     \
    }
#define SCHEMA(name_, help_, rows_, type)                                      \
    .name = name_, .help = help_, HT_ROWS_OF(rows_), .size = sizeof(type)
#define HT_ROWS_OF(rows_)                                                      \
    .rows = rows_, .row_count = sizeof rows_ / sizeof rows_[0]

static const struct ht_row source_rows[] = {
    TEXT(struct cat_source, "id", id, HT_REQUIRED, "short name"),
    TEXT(struct cat_source, "text", text, HT_REQUIRED, "the source in words"),
};
static const struct ht_schema source_schema = {
    SCHEMA("source", "Where a figure comes from.", source_rows,
           struct cat_source)
};

static const struct ht_row leak_rows[] = {
    TEXT(struct cat_leak, "finding", finding, HT_REQUIRED,
         "id of the finding"),
    NUMBERS(struct cat_leak, "shares", shares, 0, 1, HT_REQUIRED,
            "one for each answer, from nothing to most"),
    TEXT(struct cat_leak, "source", source, HT_REQUIRED,
         "id of the source"),
};
static const struct ht_schema leak_schema = {
    SCHEMA("leak", "What a finding shows when nothing bears on it.",
           leak_rows, struct cat_leak)
};

static const struct ht_row link_rows[] = {
    TEXT(struct cat_link, "finding", finding, HT_REQUIRED,
         "id of the finding"),
    NUMBERS(struct cat_link, "shares", shares, 0, 1, 0,
            "what the cause shows by itself, from nothing to most"),
    TEXT(struct cat_link, "answer", answer, 0,
         "the answer that it makes likelier"),
    { .key = "strength", .kind = HT_IS_WORD,
      .at = offsetof(struct cat_link, strength), .words = strengths,
      .help = "how much likelier" },
    TEXT(struct cat_link, "source", source, HT_REQUIRED,
         "id of the source"),
};
static const struct ht_schema link_schema = {
    SCHEMA("link", "What a cause shows.", link_rows, struct cat_link)
};

static const struct ht_row cause_rows[] = {
    TEXT(struct cat_cause, "id", id, HT_REQUIRED, "name for scripts"),
    TEXT(struct cat_cause, "title", title, HT_REQUIRED,
         "as one technician says it to another"),
    { .key = "family",
      .kind = HT_IS_WORD,
      .at = offsetof(struct cat_cause, family),
      .words = families,
      .help = "what it turns with" },
    NUMBERS(struct cat_cause, "weights", weights, 0, 1000, HT_REQUIRED,
            "how often, against the others: one number, or one each for "
            "car, van, light truck, heavy truck, bus"),
    TEXTS(struct cat_cause, "needs", needs,
          "what a vehicle must have to have the cause"),
    MAPS(struct cat_cause, "links", links, link_count, &link_schema,
         "at most 8"),
    NUMBER(struct cat_cause, "minutes", minutes, 1, 10000, 0,
           "of the usual repair"),
    TEXTS(struct cat_cause, "tools", tools, "for the repair"),
    TEXT(struct cat_cause, "repair", repair, 0, "the usual repair"),
    TEXT(struct cat_cause, "caution", caution, 0, "what can hurt"),
    { .key = "do_not_drive",
      .kind = HT_IS_BOOL,
      .at = offsetof(struct cat_cause, do_not_drive),
      .help = "yes: the caution forbids driving, and stands above the ranking "
              "when the cause is not unlikely" },
};
static const struct ht_schema cause_schema = {
    SCHEMA("cause", "What can be wrong and be repaired.", cause_rows,
           struct cat_cause)
};

static const struct ht_row nothing_rows[] = {
    NUMBER(struct cat_nothing, "complaint", complaint, 0.001, 0.999,
           HT_REQUIRED, "somebody complained"),
    NUMBER(struct cat_nothing, "fleet", fleet, 0.001, 0.999, HT_REQUIRED,
           "nobody complained"),
    NUMBER(struct cat_nothing, "course", course, 0.001, 0.999, HT_REQUIRED,
           "a teacher chose"),
};
static const struct ht_schema nothing_schema = {
    SCHEMA("nothing", "Probability that nothing is wrong, by setting.",
           nothing_rows, struct cat_nothing)
};

static const struct ht_row catalogue_rows[] = {
    NUMBER(struct ht_catalogue, "catalogue", version, 1, 1, HT_REQUIRED,
           "version of the format: 1"),
    NUMBER(struct ht_catalogue, "tempering", tempering, 0.05, 1, HT_REQUIRED,
           "exponent on all evidence"),
    { .key = "nothing", .kind = HT_IS_MAP,
      .at = offsetof(struct ht_catalogue, nothing), .child = &nothing_schema,
      .flags = HT_REQUIRED, .help = "by setting" },
    NUMBER(struct ht_catalogue, "faults_per_vehicle", faults_per_vehicle,
           0.001, 3, HT_REQUIRED, "of vehicles nobody complained about"),
    MAPS(struct ht_catalogue, "sources", sources, source_count,
         &source_schema, "named once"),
    MAPS(struct ht_catalogue, "leaks", leaks, leak_count, &leak_schema,
         "one for each finding"),
    MAPS(struct ht_catalogue, "causes", causes, cause_count, &cause_schema,
         "what can be wrong"),
};
static const struct ht_schema catalogue_schema = {
    SCHEMA("catalogue", "Causes, what they show, how often they occur.",
           catalogue_rows, struct ht_catalogue),
    .finish = ht_catalogue_finish
};

enum ht_status ht_catalogue_read_source(struct ht_catalogue **catalogue,
                                        const struct ht_source *source,
                                        struct ht_error *err)
{
    *catalogue = ht_allocate(1, sizeof **catalogue);
    if (!*catalogue)
        return ht_fail(err, CAUSES_READ_NO_MEMORY, source->name);
    void *memory = NULL;
    enum ht_status status = ht_document_read(
        *catalogue, &memory, &catalogue_schema, source, NULL, err);
    (*catalogue)->memory = memory;
    if (status == HT_OK) {
        ht_catalogue_list_alike(*catalogue);
        if (ht_text_ok(&(*catalogue)->alike))
            return HT_OK;
        status = ht_fail(err, CAUSES_READ_NO_MEMORY, source->name);
    }
    ht_catalogue_free(*catalogue);
    *catalogue = NULL;
    return status;
}

enum ht_status ht_catalogue_read(struct ht_catalogue **catalogue,
                                 const char *path, struct ht_error *err)
{
    struct ht_source source = { .name = path,
                                .most_bytes = HT_CATALOGUE_BYTES_MAX };
    if (!path)
        source = (struct ht_source){ CAUSES_BUILT_IN, ht_catalogue_file,
                                     EMBED_LENGTH(ht_catalogue_file),
                                     HT_CATALOGUE_BYTES_MAX };
    return ht_catalogue_read_source(catalogue, &source, err);
}

void ht_catalogue_free(struct ht_catalogue *catalogue)
{
    if (!catalogue)
        return;
    ht_text_free(&catalogue->alike);
    ht_document_free(&catalogue->memory);
    ht_release(catalogue);
}

size_t ht_catalogue_causes(const struct ht_catalogue *catalogue)
{
    return catalogue->cause_count;
}

const char *ht_catalogue_cause_id(const struct ht_catalogue *catalogue,
                                  size_t cause)
{
    return catalogue->causes[cause].id;
}

double ht_catalogue_tempering(const struct ht_catalogue *catalogue)
{
    return catalogue->tempering;
}

double ht_catalogue_nothing(const struct ht_catalogue *catalogue,
                            enum ht_setting setting)
{
    const struct cat_nothing *nothing = &catalogue->nothing;
    return setting == HT_SETTING_FLEET
               ? nothing->fleet
               : (setting == HT_SETTING_COURSE ? nothing->course
                                               : nothing->complaint);
}

const char *ht_catalogue_alike(const struct ht_catalogue *catalogue)
{
    return ht_text_get(&catalogue->alike);
}
