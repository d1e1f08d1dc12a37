#include "json_view.h"

#include <stdio.h>
#include <string.h>

bool json_speed_from(struct json_speed *view, const struct ht_workup *workup,
                     struct ht_arena *arena)
{
    static const char *const sources[] = {
        [HT_SPEED_NONE] = "none",     [HT_SPEED_PULSES] = "pulses",
        [HT_SPEED_LOG] = "log",       [HT_SPEED_STEADY] = "steady",
        [HT_SPEED_HINT] = "hint",     [HT_SPEED_RECORDING] = "recording",
    };
    static const char *const states[] = {
        [HT_SPEED_REFUSED] = "refused",
        [HT_SPEED_AMBIGUOUS] = "ambiguous",
        [HT_SPEED_ACCEPTED] = "accepted",
    };
    const struct ht_turns *turns = &workup->turns;
    *view = (struct json_speed){
        .source = sources[turns->source], .state = states[turns->state],
        .reason = json_text_of(arena, turns->reason),
        .circumference_m = turns->circumference_m,
        .circumference_u_m = turns->circumference_u_m,
        .circumference_found = turns->circumference_found,
        .lag_s = turns->lag_s, .lag_u_s = turns->lag_u_s,
        .scale = turns->scale, .gear = turns->gear,
        .rival_count = turns->rivals,
        .rivals = ht_arena_get(arena, turns->rivals + 1,
                               sizeof *view->rivals),
    };
    for (size_t i = 0; view->rivals && i < turns->rivals; i++)
        view->rivals[i] = (struct json_rival){
            json_text_of(arena, turns->rival[i].reading),
            turns->rival[i].margin
        };
    return view->rivals != NULL;
}

static const char *state_name(enum ht_order_state state)
{
    static const char *const names[] = {
        [HT_COULD_NOT_BE_SEEN] = "could_not_be_seen",
        [HT_NOT_SEEN] = "not_seen",
        [HT_SEEN] = "seen",
    };
    return names[state];
}

static const char *channel_name(struct ht_arena *arena, int channel)
{
    char name[16];
    if (channel < 0)
        return "all";
    (void)snprintf(name, sizeof name, "%d", channel + 1);
    return json_text_of(arena, name);
}

static bool fill_bins(struct json_order *view, const struct ht_order_result *r,
                      struct ht_arena *arena)
{
    view->bin_count = r->bins;
    view->bins = ht_arena_get(arena, r->bins + 1, sizeof *view->bins);
    for (size_t i = 0; view->bins && i < r->bins; i++) {
        const struct ht_order_bin *bin = &r->bin[i];
        view->bins[i] = (struct json_bin){
            bin->from_m_s, bin->to_m_s, bin->level.value, bin->level.low,
            bin->level.high, bin->least_seen, state_name(bin->state)
        };
    }
    return view->bins != NULL;
}

static bool fill_order(struct json_order *view, const struct ht_workup *workup,
                       const struct ht_order_result *r, struct ht_arena *arena)
{
    const struct ht_rotation *rotation = &workup->rotation;
    bool named = workup->has_rotation && r->order.part < rotation->parts;
    *view = (struct json_order){
        .part = named ? json_text_of(arena, rotation->part[r->order.part].name)
                      : NULL,
        .channel = channel_name(arena, r->channel),
        .state = state_name(r->state),
        .reason = json_text_of(arena, r->reason),
        .unit = json_text_of(arena, workup->orders.unit),
        .multiple = r->order.multiple, .wheel_order = r->wheel_order,
        .at_m_s = r->at_m_s, .level = r->level.value, .low = r->level.low,
        .high = r->level.high, .least_seen = r->least_seen,
        .exponent = r->exponent, .exponent_u = r->exponent_u,
        .pull_db = r->pull_db, .pull_u_db = r->pull_u_db,
    };
    return fill_bins(view, r, arena);
}

bool json_orders_from(struct json_orders *view, const struct ht_workup *workup,
                      struct ht_arena *arena)
{
    const struct ht_orders *orders = &workup->orders;
    *view = (struct json_orders){
        .order_count = orders->results,
        .orders = ht_arena_get(arena, orders->results + 1,
                               sizeof *view->orders),
        .pair_count = orders->cannot_separate_count,
        .pairs = ht_arena_get(arena, orders->cannot_separate_count + 1,
                              sizeof *view->pairs),
    };
    bool fine = view->orders && view->pairs;
    for (size_t i = 0; fine && i < orders->results; i++)
        fine = fill_order(&view->orders[i], workup, &orders->result[i], arena);
    for (size_t i = 0; fine && i < view->pair_count; i++) {
        const struct ht_cannot_separate *pair = &orders->cannot_separate[i];
        view->pairs[i] = (struct json_pair){
            json_text_of(arena, pair->a), json_text_of(arena, pair->b),
            json_text_of(arena, pair->way_out), pair->never
        };
    }
    return fine;
}
