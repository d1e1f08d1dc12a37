/* One stage: its key, its value, kept or made. */
#include "stages.h"

#include "texts.h"
#include "value.h"

const char *ht_stage_name(enum ht_stage stage)
{
    static const char *const names[HT_STAGES] = {
        [HT_STAGE_PARTS] = "parts",
        [HT_STAGE_LIMITS] = "limits",
        [HT_STAGE_ANGLES] = "angles",
        [HT_STAGE_EFFECTS] = "effects",
        [HT_STAGE_SHIMS] = "shims",
        [HT_STAGE_RECORDING] = "recording",
        [HT_STAGE_PLACE] = "place",
        [HT_STAGE_SPEED_LOG] = "speed_log",
        [HT_STAGE_SPEED] = "speed",
        [HT_STAGE_GEAR] = "gear",
        [HT_STAGE_ORDERS] = "orders",
        [HT_STAGE_FINDINGS] = "findings",
        [HT_STAGE_CATALOGUE] = "catalogue",
        [HT_STAGE_RANKING] = "ranking",
    };
    return names[stage];
}

/* Keys of the stages that are used; one that did not run is absent. False:
 * one of them has no key, and so nothing made from it. */
static bool hash_uses(struct ht_digest *digest,
                      const struct ht_stage_record *record, unsigned uses)
{
    for (unsigned s = 0; s < HT_STAGES; s++) {
        if (!(uses >> s & 1))
            continue;
        if (record[s].origin != HT_NOT_RUN && !record[s].has_key)
            return false;
        ht_digest_key(digest,
                      record[s].origin == HT_NOT_RUN ? NULL : &record[s].key);
    }
    return true;
}

struct keyed {
    const struct ht_stage_record *record;
    const struct stage_kind *kind;
    const void *request;
};

static bool hash_all(struct ht_digest *digest, const void *context)
{
    const struct keyed *keyed = context;
    return keyed->kind->hash(digest, keyed->request) &&
           hash_uses(digest, keyed->record, keyed->kind->uses);
}

static bool find_key(struct ht_key *key, const struct stage *stage,
                     const struct stage_kind *kind, const void *request)
{
    struct keyed keyed = { stage->workup->stage, kind, request };
    if (!stage->options->keeper && !stage->options->keys)
        return false;
    return ht_digest_make(key, HALFTURN_VERSION, ht_stage_name(kind->stage),
                          hash_all, &keyed);
}

static struct ht_value *leaned_on(const struct stage *stage,
                                  const struct stage_kind *kind)
{
    for (unsigned s = 0; s < HT_STAGES; s++)
        if (kind->leans >> s & 1)
            return stage->workup->held[s];
    return NULL;
}

static enum ht_status make_value(struct ht_value **made,
                                 const struct stage *stage,
                                 const struct stage_kind *kind,
                                 const void *request)
{
    struct ht_value *value = ht_value_create(kind->size);
    if (!value) {
        (void)ht_fail(stage->err, WORKUP_NO_MEMORY,
                      ht_stage_name(kind->stage));
        return HT_NO_MEMORY;
    }
    enum ht_status status = kind->make(value->result, request, stage->err);
    if (status != HT_OK) {
        ht_value_drop(value);
        return status;
    }
    value->clear = kind->clear;
    if (kind->bytes_behind)
        value->bytes += kind->bytes_behind(value->result);
    value->leans_on = leaned_on(stage, kind);
    if (value->leans_on)
        ht_value_hold(value->leans_on);
    *made = value;
    return HT_OK;
}

enum ht_status ht_stage_get(const struct stage *stage,
                            const struct stage_kind *kind, const void *request,
                            const void **result)
{
    struct ht_keeper *keeper = stage->options->keeper;
    struct ht_stage_record record = { .origin = HT_KEPT };
    struct ht_value *value = NULL;
    record.has_key = find_key(&record.key, stage, kind, request);
    if (keeper && record.has_key)
        value = ht_keeper_find(keeper, &record.key);
    if (!value) {
        enum ht_status status = make_value(&value, stage, kind, request);
        if (status != HT_OK)
            return status;
        record.origin = HT_MADE;
        value->key = record.key;
        if (keeper && record.has_key)
            ht_keeper_add(keeper, value);
    }
    stage->workup->stage[kind->stage] = record;
    stage->workup->held[kind->stage] = value;
    *result = value->result;
    return HT_OK;
}
