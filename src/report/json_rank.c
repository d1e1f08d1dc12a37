#include "json_view.h"

#include "words.h"

/* A list of texts of a fixed size each. */
static struct json_influence *fill_influences(const struct ht_influence *list,
                                              size_t count,
                                              struct ht_arena *arena)
{
    size_t kinds;
    const struct ht_finding_kind *kind = ht_finding_kinds(&kinds);
    struct json_influence *view =
        ht_arena_get(arena, count + 1, sizeof *view);
    for (size_t i = 0; view && i < count; i++)
        view[i] = (struct json_influence){
            list[i].finding < kinds ? kind[list[i].finding].id : NULL,
            json_text_of(arena, list[i].text), list[i].times, list[i].without
        };
    return view;
}

static bool fill_cause(struct json_cause *view,
                       const struct ht_ranked_cause *cause,
                       struct ht_arena *arena)
{
    *view = (struct json_cause){
        .id = cause->id,
        .title = json_text_of(arena, cause->title),
        .word = likelihood_word(cause->probability),
        .repair = json_text_of(arena, cause->repair),
        .caution = json_text_of(arena, cause->caution),
        .probability = cause->probability,
        .raised = fill_influences(cause->raised_by, cause->raised, arena),
        .lowered = fill_influences(cause->lowered_by, cause->lowered, arena),
        .raised_count = cause->raised,
        .lowered_count = cause->lowered,
    };
    return view->raised && view->lowered;
}

static bool fill_next(struct json_next *view, const struct ht_next_check *next,
                      struct ht_arena *arena)
{
    *view = (struct json_next){
        .id = next->id,
        .question = json_text_of(arena, next->question),
        .how = json_text_of(arena, next->how),
        .minutes = next->minutes,
        .gain = next->gain_nats,
    };
    return JSON_TEXTS(&view->outcomes, next->outcome, next->outcomes, arena);
}

static struct json_why *fill_safety(size_t *count,
                                    const struct ht_workup *workup,
                                    struct ht_arena *arena)
{
    bool ranked = workup->ranking.safety_count > 0;
    const struct ht_safety *from =
        ranked ? workup->ranking.safety : workup->findings.safety;
    *count = ranked ? workup->ranking.safety_count
                    : workup->findings.safety_count;
    struct json_why *view = ht_arena_get(arena, *count + 1, sizeof *view);
    for (size_t i = 0; view && i < *count; i++)
        view[i] = (struct json_why){ json_text_of(arena, from[i].id),
                                     json_text_of(arena, from[i].text) };
    return view;
}

static struct json_why *fill_struck(const struct ht_ranking *ranking,
                                    struct ht_arena *arena)
{
    struct json_why *view =
        ht_arena_get(arena, ranking->struck_out + 1, sizeof *view);
    for (size_t i = 0; view && i < ranking->struck_out; i++)
        view[i] = (struct json_why){
            json_text_of(arena, ranking->struck[i].id),
            json_text_of(arena, ranking->struck[i].why)
        };
    return view;
}

bool json_rank_from(struct json_rank *view, const struct ht_workup *workup,
                    struct ht_arena *arena)
{
    const struct ht_ranking *ranking = &workup->ranking;
    *view = (struct json_rank){
        .struck = fill_struck(ranking, arena),
        .struck_count = ranking->struck_out,
        .accused = json_text_of(arena, ranking->accused),
        .cause_count = ranking->causes,
        .causes = ht_arena_get(arena, ranking->causes + 1,
                               sizeof *view->causes),
        .prior_mass_cut = ranking->prior_mass_cut,
        .next_count = ranking->next_checks,
        .next = ht_arena_get(arena, ranking->next_checks + 1,
                             sizeof *view->next),
    };
    view->safety = fill_safety(&view->safety_count, workup, arena);
    bool fine = view->struck && view->causes && view->next && view->safety &&
                JSON_TEXTS(&view->unexplained, ranking->unexplained_text,
                           ranking->unexplained, arena) &&
                JSON_TEXTS(&view->alike, ranking->alike_text, ranking->alike,
                           arena);
    for (size_t i = 0; fine && i < ranking->causes; i++)
        fine = fill_cause(&view->causes[i], &ranking->cause[i], arena);
    for (size_t i = 0; fine && i < ranking->next_checks; i++)
        fine = fill_next(&view->next[i], &ranking->next[i], arena);
    return fine;
}

static void fill_stages(struct json_stages *view,
                        const struct ht_workup *workup,
                        struct ht_arena *arena)
{
    for (size_t s = 0; s < HT_STAGES; s++) {
        char hex[HT_KEY_HEX] = "";
        if (workup->stage[s].has_key)
            ht_key_write(hex, &workup->stage[s].key);
        view->key[s] = json_text_of(arena, hex);
    }
}

/* The notes of all that was made of the drive, one list. */
static bool fill_notes(struct json_texts *view, const struct ht_workup *workup,
                       struct ht_arena *arena)
{
    const struct ht_recording *recording = &workup->recording;
    const struct ht_turns *turns = &workup->turns;
    const struct ht_orders *orders = &workup->orders;
    size_t from_recording = workup->has_recording ? recording->notes : 0;
    size_t from_turns = workup->has_turns ? turns->notes : 0;
    size_t from_orders = workup->has_orders ? orders->notes : 0;
    size_t all = from_recording + from_turns + from_orders;
    view->count = 0;
    view->text = ht_arena_get(arena, all + 1, sizeof *view->text);
    if (!view->text)
        return false;
    for (size_t i = 0; i < from_recording; i++)
        view->text[view->count++] = json_text_of(arena, recording->note[i]);
    for (size_t i = 0; i < from_turns; i++)
        view->text[view->count++] = json_text_of(arena, turns->note[i]);
    for (size_t i = 0; i < from_orders; i++)
        view->text[view->count++] = json_text_of(arena, orders->note[i]);
    return true;
}

bool json_rest_from(struct json_rest *view, const struct ht_workup *workup,
                    struct ht_arena *arena)
{
    view->title = json_text_of(arena, workup->sheet->title);
    fill_stages(&view->stages, workup, arena);
    return JSON_TEXTS(&view->missing, workup->missing, workup->missing_count,
                      arena) &&
           JSON_TEXTS(&view->assumed, workup->assumed, workup->assumed_count,
                      arena) &&
           fill_notes(&view->notes, workup, arena);
}
