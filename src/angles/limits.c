/* The limit sets, built in and as an edited copy. */
#include "limits.h"

#include "texts.h"

#include "common/embed.h"

#include <stdio.h>
#include <string.h>

EMBED(ht_angles_limits_yaml, "angles/limits.yaml");

struct limits_file {
    double version;
    struct ht_limits limits;
};

#define CHARS(key_, field, flags_, help_)                                      \
    {                                                                          \
        .key = key_, .kind = HT_IS_CHARS,                                      \
        .at = offsetof(struct ht_limit_set, field),                            \
        .most = sizeof((struct ht_limit_set *)0)->field, .flags = flags_,      \
        .help = help_                                                          \
    }
#define ANGLE(key_, field, high_, help_)                                       \
    {                                                                          \
        .key = key_, .kind = HT_IS_NUMBER, .quantity = HT_QUANTITY_ANGLE,      \
        .at = offsetof(struct ht_limit_set, field), .high = high_,             \
        .help = help_                                                          \
    }
#define SHAKE(key_, field, help_)                                              \
    {                                                                          \
        .key = key_, .kind = HT_IS_NUMBER,                                     \
        .at = offsetof(struct ht_limit_set, field), .low = 1, .high = 1e5,     \
        .help = help_                                                          \
    }

static const struct ht_row set_rows[] = {
    CHARS("id", id, HT_REQUIRED, "name to ask for the set by"),
    CHARS("title", title, HT_REQUIRED, "one line for people"),
    CHARS("source", source, HT_REQUIRED, "where the angles come from"),
    ANGLE("joint_max_deg", joint_max_rad, 45,
          "working angle of a Cardan joint, at most"),
    ANGLE("joint_min_deg", joint_min_rad, 45,
          "at least, so that the needles move"),
    ANGLE("difference_max_deg", difference_max_rad, 45,
          "two joints that ought to cancel, at most this apart"),
    ANGLE("odd_max_deg", odd_max_rad, 45,
          "the odd joint of a chain of three or more, at most"),
    ANGLE("alone_max_deg", alone_max_rad, 45,
          "a single Cardan joint, which no other cancels, at most"),
    ANGLE("double_joint_max_deg", double_joint_max_rad, 45,
          "working angle of a double Cardan joint, at most"),
    ANGLE("leftover_max_deg", leftover_max_rad, 45,
          "leftover angle of the whole line, at most"),
    SHAKE("axle_rad_s2", axle_rad_s2, "shake passed to the axle, at most"),
    SHAKE("shaft_rad_s2", shaft_rad_s2,
          "the shaft's own shake, from either end, at most"),
    CHARS("acceleration_source", acceleration_source, 0,
          "where the two shakes come from"),
};

static const struct ht_schema set_schema = {
    .name = "set",
    .rows = set_rows,
    .row_count = sizeof set_rows / sizeof set_rows[0],
    .size = sizeof(struct ht_limit_set)
};

static const struct ht_row file_rows[] = {
    { .key = "halfturn_limits",
      .kind = HT_IS_NUMBER,
      .flags = HT_REQUIRED,
      .at = offsetof(struct limits_file, version),
      .low = 1,
      .high = 1,
      .help = "version of this form: 1" },
    { .key = "sets",
      .kind = HT_IS_MAP_ARRAY,
      .child = &set_schema,
      .flags = HT_REQUIRED,
      .at = offsetof(struct limits_file, limits.set),
      .count_at = offsetof(struct limits_file, limits.sets),
      .least = 1,
      .most = sizeof((struct ht_limits *)0)->set /
              sizeof((struct ht_limits *)0)->set[0],
      .help = "the sets, in the order they are shown" },
};

static const struct ht_schema file_schema = {
    .name = "limits",
    .rows = file_rows,
    .row_count = sizeof file_rows / sizeof file_rows[0],
    .size = sizeof(struct limits_file)
};

static enum ht_status same_id_twice(const struct ht_limits *limits,
                                    const char *name, struct ht_error *err)
{
    for (size_t i = 0; i < limits->sets; i++)
        for (size_t k = 0; k < i; k++)
            if (strcmp(limits->set[i].id, limits->set[k].id) == 0)
                return ht_fail(err, ANGLES_SET_TWICE, name, limits->set[i].id);
    return HT_OK;
}

enum ht_status ht_limits_read_source(struct ht_limits *limits,
                                     const struct ht_source *source,
                                     struct ht_error *err)
{
    struct limits_file file;
    void *memory = NULL;
    *limits = (struct ht_limits){ 0 };
    enum ht_status status =
        ht_document_read(&file, &memory, &file_schema, source, NULL, err);
    if (status == HT_OK)
        status = same_id_twice(&file.limits, source->name, err);
    if (status == HT_OK)
        *limits = file.limits;
    ht_document_free(&memory);
    return status;
}

enum ht_status ht_limits_read(struct ht_limits *limits, const char *path,
                              struct ht_error *err)
{
    struct ht_source source = { .name = path };
    if (!path) {
        source.name = ANGLES_BUILT_IN;
        source.bytes = ht_angles_limits_yaml;
        source.length = EMBED_LENGTH(ht_angles_limits_yaml);
    }
    return ht_limits_read_source(limits, &source, err);
}

enum ht_status ht_limits_find(const struct ht_limit_set **found,
                              const struct ht_limits *limits, const char *id,
                              struct ht_error *err)
{
    enum { SETS = sizeof limits->set / sizeof limits->set[0] };
    const char *names[SETS + 1] = { NULL };
    char list[300] = "";
    *found = NULL;
    for (size_t i = 0; i < limits->sets; i++) {
        size_t used = strlen(list);
        names[i] = limits->set[i].id;
        (void)snprintf(list + used, sizeof list - used, "%s%s",
                       i ? ", " : "", limits->set[i].id);
        if (strcmp(limits->set[i].id, id) == 0)
            *found = &limits->set[i];
    }
    if (*found)
        return HT_OK;
    const char *near = ht_nearest_name(id, names);
    return near ? ht_fail(err, ANGLES_NO_SET_NEAR, id, near, list)
                : ht_fail(err, ANGLES_NO_SET, id, list);
}
