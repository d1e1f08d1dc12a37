/* Invented rankings. */
#include "workup_fixture_parts.h"

static struct ht_ranked_cause *add_cause(struct ht_ranking *r, const char *id,
                                         const char *title, double p)
{
    struct ht_ranked_cause *cause = &r->cause[r->causes++];
    cause->id = id;
    cause->title = title;
    cause->probability = p;
    return cause;
}

static void influence(struct ht_ranked_cause *c, bool up, const char *text,
                      double without)
{
    size_t *count = up ? &c->raised : &c->lowered;
    struct ht_influence *i = up ? &c->raised_by[*count]
                                : &c->lowered_by[*count];
    (*count)++;
    SAY(i->text, "%s", text);
    i->without = without;
    double p = c->probability;
    double odds = p / (1 - p) / (without / (1 - without));
    i->times = odds > 1 ? odds : 1 / odds;
}

static void add_next(struct ht_ranking *r)
{
    r->next_checks = 2;
    r->next[0] = (struct ht_next_check){
        .id = "centre-support-look", .minutes = 5, .gain_nats = 0.2,
        .question = "Is the rubber round the centre bearing torn or loose?",
        .outcomes = 2
    };
    SAY(r->next[0].outcome[0], "Sound: centre bearing support loose falls to "
                               "6 in 100");
    SAY(r->next[0].outcome[1], "Torn: it rises to 81 in 100");
    r->next[1] = (struct ht_next_check){
        .id = "joint-play", .minutes = 4, .gain_nats = 0.1,
        .question = "Is there play or roughness at any joint?"
    };
}

void van_causes(struct fixture *f)
{
    struct ht_ranking *r = &f->workup.ranking;
    f->workup.has_ranking = true;
    struct ht_ranked_cause *c = add_cause(r, "angle-mismatch",
                                          "Joint angles do not cancel", 0.86);
    influence(c, true, "2\303\227 shaft is there and is the largest order",
              0.38);
    influence(c, true, "Joints 2 and 3 differ by 2.35\302\260", 0.47);
    influence(c, true, "Began after the rear springs were changed", 0.79);
    c->repair = "Put the pinion back to the maker's angle: wedge or shim.";
    c->caution = "A wedge needs new U-bolts; check hoses and leads after it.";
    c = add_cause(r, "joint-angle-excess", "Joint bends too far", 0.61);
    influence(c, true, "Joint 3 is over its limit", 0.20);
    influence(c, false, "No shudder when pulling away", 0.74);
    c = add_cause(r, "centre-support", "Centre bearing support loose", 0.24);
    c = add_cause(r, "joint-worn", "Worn joint", 0.09);
    influence(c, false, "No play felt", 0.2);
    add_cause(r, "other-shaft", "Something else that turns with the shaft",
              0.06);
    c = add_cause(r, "shaft-unbalance", "Shaft out of balance", 0.031);
    influence(c, false, "1\303\227 shaft is too weak", 0.31);
    add_cause(r, "nothing-abnormal", "Nothing abnormal", 0.004);
    r->accused = "angle-mismatch";
    add_next(r);
    r->struck_out = 1;
    r->struck[0].id = "hub-reduction";
    r->struck[0].title = "A hub reduction gear is at fault";
    SAY(r->struck[0].why, "this vehicle has none");
    r->safety_count = 1;
    SAY(r->safety[0].id, "clips-unconfirmed");
    SAY(r->safety[0].text, "Nobody confirmed that the joint clips are refitted "
                           "and seated all round. Look before any drive.");
}

void open_causes(struct fixture *f)
{
    struct ht_ranking *r = &f->workup.ranking;
    f->workup.has_ranking = true;
    struct ht_ranked_cause *c = add_cause(r, "wheel-unbalance",
                                          "Wheel out of balance", 0.41);
    influence(c, true, "1\303\227 wheel is stronger than healthy", 0.12);
    c = add_cause(r, "tyre-uniformity", "Tyre not uniform", 0.37);
    influence(c, true, "1\303\227 wheel is stronger than healthy", 0.11);
    add_cause(r, "wheel-runout", "Wheel runs out", 0.28);
    r->alike = 1;
    SAY(r->alike_text[0], "Wheel out of balance, tyre not uniform and wheel "
                          "runs out look the same so far.");
    add_next(r);
}

void no_causes(struct fixture *f)
{
    struct ht_ranking *r = &f->workup.ranking;
    f->workup.has_ranking = true;
    add_cause(r, "nothing-abnormal", "Nothing abnormal", 0.93);
    add_cause(r, "wheel-unbalance", "Wheel out of balance", 0.02);
}
