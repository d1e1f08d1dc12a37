#include "workup_fixture.h"

#include "close.h"
#include "random.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const fixture_names[FIXTURE_CASES] = {
    "van", "angles-only", "recording-only", "refused",
    "hanging", "nothing", "empty", "truck",
};

enum { ACROSS = 180, UP = 52, RESULTS = 12 };

struct fixture {
    struct ht_workup workup;
    struct ht_sheet sheet;
    struct ht_sheet_driveline driveline;
    struct ht_sheet_angles angles;
    struct ht_sheet_slope slope[HT_MEMBERS_MAX];
    double reading[HT_MEMBERS_MAX], speed[2];
    const char *member[HT_MEMBERS_MAX];
    struct ht_sheet_tube tube[HT_MEMBERS_MAX];
    struct ht_sheet_drive drive;
    struct ht_order_result result[RESULTS];
    float map[ACROSS * UP];
    double track_speed[3], track_turns[3];
    unsigned char track_usable[3];
};

#define DEG(x) ((x) * HT_RAD_PER_DEG)
#define KMH(x) ((x) * HT_M_S_PER_KM_H)
#define SAY(field, ...) (void)snprintf((field), sizeof(field), __VA_ARGS__)

struct ht_workup *fixture_workup(struct fixture *fixture)
{
    return &fixture->workup;
}

struct ht_sheet *fixture_sheet(struct fixture *fixture)
{
    return &fixture->sheet;
}

void fixture_free(struct fixture *fixture)
{
    free(fixture);
}

static struct ht_estimate estimate(double value, double u)
{
    return (struct ht_estimate){ value, u, value - 1.96 * u, value + 1.96 * u };
}

/* ---- angles ------------------------------------------------------------ */

static void add_verdict(struct ht_angles *a, struct ht_limit_verdict verdict,
                        const char *what, const char *set)
{
    SAY(verdict.what, "%s", what);
    SAY(verdict.set, "%s", set);
    SAY(verdict.source, "%s: published service literature, 2004", set);
    double z = (verdict.value - verdict.limit) / verdict.u;
    double over = 0.5 * erfc(-z / sqrt(2));
    verdict.probability_over = verdict.is_minimum ? 1 - over : over;
    double p = verdict.probability_over;
    verdict.verdict = p >= 0.95   ? (verdict.is_minimum ? HT_VERDICT_UNDER
                                                        : HT_VERDICT_OVER)
                      : p <= 0.05 ? HT_VERDICT_WITHIN
                                  : HT_VERDICT_OPEN;
    if (verdict.verdict == HT_VERDICT_OPEN)
        SAY(verdict.way_out, "Repeat 4 times, or use a finer gauge.");
    if (a->verdicts < HT_VERDICTS_MAX)
        a->verdict[a->verdicts++] = verdict;
}

static void judge(struct ht_angles *a, const char *set, double most,
                  double least, double difference)
{
    char what[96];
    for (size_t j = 0; j < a->joints; j++) {
        struct ht_limit_verdict v = { .joint = j + 1, .unit = "rad",
                                      .value = a->joint[j].angle_rad.value,
                                      .u = a->joint[j].angle_rad.u,
                                      .limit = DEG(most) };
        SAY(what, "joint %zu", j + 1);
        add_verdict(a, v, what, set);
        v.limit = DEG(least);
        v.is_minimum = true;
        add_verdict(a, v, what, set);
    }
    double gap = fabs(a->joint[a->joints - 1].angle_rad.value -
                      a->joint[a->joints - 2].angle_rad.value);
    struct ht_limit_verdict v = { .unit = "rad", .value = gap,
                                  .u = DEG(0.12), .limit = DEG(difference) };
    SAY(what, "joints %zu and %zu differ", a->joints - 1, a->joints);
    add_verdict(a, v, what, set);
    if (isfinite(a->accelerations.axle.value)) {
        v = (struct ht_limit_verdict){ .unit = "rad/s2", .limit = 400,
                                       .value = a->accelerations.axle.value,
                                       .u = a->accelerations.axle.u };
        add_verdict(a, v, "shake passed to the axle", set);
    }
}

static void measure(struct fixture *f, const char *const *names,
                    const double *slopes_deg, size_t members)
{
    struct ht_angles *a = &f->workup.angles;
    f->workup.has_angles = true;
    a->joints = members - 1;
    a->verdict_allowed = true;
    for (size_t i = 0; i < members; i++) {
        f->member[i] = names[i];
        f->reading[i] = DEG(slopes_deg[i]);
        f->slope[i].readings_rad = (struct ht_numbers){ &f->reading[i], 1 };
        f->slope[i].flip_a_rad = f->slope[i].flip_b_rad = NAN;
        f->slope[i].set_up_rad = NAN;
    }
    for (size_t j = 0; j + 1 < members; j++) {
        SAY(a->joint[j].between, "%s / %s", names[j], names[j + 1]);
        a->joint[j].angle_rad =
            estimate(fabs(f->reading[j + 1] - f->reading[j]), DEG(0.085));
        a->joint[j].kind = HT_JOINT_CARDAN;
    }
    a->leftover_rad = estimate(DEG(3.7), DEG(0.1));
    a->accelerations = (struct ht_accelerations){
        estimate(640, 36), estimate(710, 40), estimate(655, 37), 376, KMH(130)
    };
    f->driveline.members = (struct ht_words){ f->member, members };
    f->driveline.tubes = f->tube;
    f->sheet.drivelines = &f->driveline;
    f->sheet.driveline_count = 1;
    f->angles.slopes = f->slope;
    f->angles.slope_count = members;
    f->angles.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    f->angles.gauge_accuracy_rad = DEG(0.1);
    f->angles.gauge_step_rad = DEG(0.05);
    f->angles.gauge_set_up_rad = DEG(0.15);
    f->sheet.angles = &f->angles;
    f->sheet.angles_count = 1;
}

static void van_angles(struct fixture *f)
{
    static const char *const names[] = { "gearbox", "front shaft",
                                         "rear shaft", "pinion" };
    static const double slopes[] = { 2.60, 3.05, 4.80, 0.70 };
    measure(f, names, slopes, 4);
    f->tube[0].joint_to_joint_m = 1.12;
    f->tube[1].joint_to_joint_m = 1.31;
    f->driveline.tube_count = 2;
    judge(&f->workup.angles, "light_truck", 3, 0.5, 1);
}

static void truck_angles(struct fixture *f)
{
    static const char *const names[] = {
        "gearbox output", "first intermediate shaft", "second shaft",
        "third shaft", "pinion of the first axle", "through shaft",
        "short shaft", "inter-axle shaft", "pinion of the second axle"
    };
    static const double slopes[] = { 4.0, 4.6, -3.0, 2.4, 12.0,
                                     1.9, 7.5, -2.6, 3.1 };
    measure(f, names, slopes, 9);
    judge(&f->workup.angles, "car", 3, 0.5, 1);
    judge(&f->workup.angles, "heavy_truck_a", 7, 0.5, 1.5);
    judge(&f->workup.angles, "industrial", 9, 1, 1);
}

static void healthy_angles(struct fixture *f)
{
    static const char *const names[] = { "gearbox", "shaft", "pinion" };
    static const double slopes[] = { -3.0, -1.0, -2.9 };
    measure(f, names, slopes, 3);
    f->workup.angles.leftover_rad = estimate(DEG(0.55), DEG(0.1));
    f->workup.angles.accelerations.axle = estimate(26, 12);
    judge(&f->workup.angles, "light_truck", 3, 0.5, 1);
}

/* ---- orders ------------------------------------------------------------ */

struct line {
    const char *name;
    size_t part;
    double multiple, wheel_order;
    double low, high, peak, peak_km_h; /* levels at 60 and 110, bump */
    enum ht_order_state state;
};

static double level_of(const struct line *line, double km_h)
{
    double x = (km_h - line->peak_km_h) / 7;
    return line->low + (line->high - line->low) * (km_h - 60) / 50 +
           line->peak / (1 + x * x);
}

static void add_bins(struct ht_order_result *r, const struct line *line)
{
    r->bins = 26;
    for (size_t i = 0; i < r->bins; i++) {
        struct ht_order_bin *bin = &r->bin[i];
        bin->from_m_s = KMH(60 + 2.0 * (double)i);
        bin->to_m_s = bin->from_m_s + KMH(2);
        bin->turns = 400;
        bin->state = line->state;
        double v = level_of(line, 61 + 2.0 * (double)i);
        bin->level = (struct ht_level){ v, 0.9 * v - 0.002, 1.1 * v + 0.002 };
        bin->least_seen = 0.008;
        if (line->state == HT_COULD_NOT_BE_SEEN)
            bin->level = (struct ht_level){ NAN, NAN, NAN };
        else if (v > r->level.value) {
            r->level = bin->level;
            r->at_m_s = (bin->from_m_s + bin->to_m_s) / 2;
        }
    }
    if (line->state == HT_SEEN) /* one bin was not driven long enough */
        r->bin[24].state = HT_COULD_NOT_BE_SEEN;
}

static void add_line(struct fixture *f, const struct line *line)
{
    struct ht_orders *o = &f->workup.orders;
    struct ht_order_result *r = &f->result[o->results++];
    r->order.part = line->part;
    r->order.multiple = line->multiple;
    SAY(r->order.name, "%s", line->name);
    r->wheel_order = line->wheel_order;
    r->channel = -1;
    r->state = line->state;
    r->exponent = line->state == HT_SEEN ? 1.9 : NAN;
    r->exponent_u = 0.3;
    r->pull_db = line->state == HT_SEEN ? 2.1 : NAN;
    r->pull_u_db = 1.2;
    r->least_seen = 0.009;
    if (line->state == HT_COULD_NOT_BE_SEEN) {
        SAY(r->reason, "It lies above 0.45 of the recording's rate.");
        r->level = (struct ht_level){ NAN, NAN, NAN };
        r->at_m_s = NAN;
    }
    add_bins(r, line);
}

static void fill_map(struct fixture *f, const struct line *lines, size_t count)
{
    struct ht_order_map *map = &f->workup.orders.map;
    struct random_source random = { 7 };
    *map = (struct ht_order_map){ ACROSS, UP, 0, 9, KMH(60), KMH(112), f->map };
    for (size_t y = 0; y < UP; y++)
        for (size_t x = 0; x < ACROSS; x++) {
            double order = ((double)x + 0.5) * 9 / ACROSS;
            double km_h = 60.5 + (double)y;
            double sum = pow(0.003 * exp(random_normal(&random) / 2), 2);
            for (size_t i = 0; i < count; i++) {
                double d = (order - lines[i].wheel_order) / 0.045;
                sum += pow(level_of(&lines[i], km_h), 2) * exp(-d * d);
            }
            double away = order * km_h / 3.6 / 2.17 - 88; /* fixed 88 Hz */
            sum += pow(0.007 * exp(-away * away / 18), 2);
            f->map[y * ACROSS + x] = (y > 47 && y < 50) ? NAN
                                                        : (float)sqrt(sum);
        }
}

static void add_parts(struct ht_rotation *r, double shaft, double engine)
{
    static const char *const names[] = { "wheel", "shaft", "engine" };
    static const enum ht_family families[] = {
        HT_FAMILY_WHEEL, HT_FAMILY_SHAFT, HT_FAMILY_ENGINE
    };
    double turns[] = { 1, shaft, engine };
    r->circumference_m = 2.17;
    r->circumference_low_m = 2.12;
    r->circumference_high_m = 2.2;
    r->shaft_turns = shaft;
    r->parts = isnan(shaft) ? 1 : 3;
    for (size_t i = 0; i < r->parts; i++) {
        SAY(r->part[i].name, "%s", names[i]);
        r->part[i].family = families[i];
        r->part[i].turns = turns[i];
    }
}

static void record(struct fixture *f, const struct line *lines, size_t count)
{
    struct ht_workup *w = &f->workup;
    w->has_recording = w->has_rotation = w->has_turns = w->has_orders = true;
    w->orders.result = f->result;
    for (size_t i = 0; i < count; i++)
        add_line(f, &lines[i]);
    fill_map(f, lines, count);
    SAY(w->orders.unit, "m/s2");
    w->orders.place = HT_PLACE_SEAT_RAIL;
    w->orders.calibrated = true;
    SAY(w->recording.format, "WAV, 24 bit");
    w->recording.rate_hz = 1200;
    w->recording.frames = 1200 * 60 * 18;
    w->turns.source = HT_SPEED_LOG;
    w->turns.state = HT_SPEED_ACCEPTED;
    w->turns.circumference_m = 2.168;
    w->turns.circumference_u_m = 0.004;
    w->turns.circumference_found = true;
    w->turns.lag_s = 0.41;
    w->turns.lag_u_s = 0.05;
    w->turns.scale = 1.021;
    w->turns.gear = 5;
    for (size_t i = 0; i < 3; i++) {
        f->track_speed[i] = KMH(60 + 25 * (double)i);
        f->track_turns[i] = 10 * (double)i;
        f->track_usable[i] = 1;
    }
    w->turns.rate_hz = 1;
    w->turns.points = 3;
    w->turns.turns = f->track_turns;
    w->turns.speed_m_s = f->track_speed;
    w->turns.usable = f->track_usable;
    f->drive.recording = "drive.wav";
    f->drive.speed.file = "speed.csv";
    f->drive.speed.steady_m_s = f->drive.gear = NAN;
    f->drive.speed.from_m_s = f->drive.speed.to_m_s = NAN;
    f->sheet.drives = &f->drive;
    f->sheet.drive_count = 1;
}

static void van_orders(struct fixture *f)
{
    static const struct line lines[] = {
        { "1\303\227 wheel", 0, 1, 1.0, 0.02, 0.041, 0, 90, HT_SEEN },
        { "2\303\227 wheel", 0, 2, 2.0, 0.008, 0.012, 0, 90, HT_SEEN },
        { "3\303\227 wheel", 0, 3, 2.98, 0.01, 0.01, 0, 90, HT_NOT_SEEN },
        { "1\303\227 engine", 2, 1, 2.91, 0.02, 0.01, 0, 90, HT_SEEN },
        { "2\303\227 engine", 2, 2, 5.81, 0.02, 0.01, 0.03, 72, HT_SEEN },
        { "1\303\227 shaft", 1, 1, 3.727, 0.01, 0.031, 0, 90, HT_SEEN },
        { "2\303\227 shaft", 1, 2, 7.454, 0.01, 0.06, 0.28, 92, HT_SEEN },
        { "4\303\227 shaft", 1, 4, 14.9, 0, 0, 0, 90, HT_COULD_NOT_BE_SEEN },
    };
    add_parts(&f->workup.rotation, 3.727, 2.907);
    record(f, lines, sizeof lines / sizeof *lines);
    struct ht_orders *o = &f->workup.orders;
    o->cannot_separate_count = 1;
    SAY(o->cannot_separate[0].a, "1\303\227 engine");
    SAY(o->cannot_separate[0].b, "3\303\227 wheel");
    SAY(o->cannot_separate[0].way_out, "Drive 2 minutes in gear 4.");
}

static void wheel_orders(struct fixture *f, double most)
{
    const struct line lines[] = {
        { "1\303\227 wheel", 0, 1, 1.0, 0.01, most, 0, 90, HT_SEEN },
        { "2\303\227 wheel", 0, 2, 2.0, 0.008, 0.012, 0, 90, HT_SEEN },
        { "3\303\227 wheel", 0, 3, 3.0, 0.006, 0.006, 0, 90, HT_NOT_SEEN },
    };
    add_parts(&f->workup.rotation, NAN, NAN);
    record(f, lines, 3);
}

/* ---- causes ------------------------------------------------------------ */

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

static void van_causes(struct fixture *f)
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
    SAY(r->struck[0].why, "this vehicle has none");
    r->safety_count = 1;
    SAY(r->safety[0].id, "clips-unconfirmed");
    SAY(r->safety[0].text, "Nobody confirmed that the joint clips are refitted "
                           "and seated all round. Look before any drive.");
}

static void open_causes(struct fixture *f)
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

static void no_causes(struct fixture *f)
{
    struct ht_ranking *r = &f->workup.ranking;
    f->workup.has_ranking = true;
    add_cause(r, "nothing-abnormal", "Nothing abnormal", 0.93);
    add_cause(r, "wheel-unbalance", "Wheel out of balance", 0.02);
}

/* ---- cases ------------------------------------------------------------- */

static void complain(struct fixture *f, const char *title)
{
    f->sheet.title = title;
    f->speed[0] = KMH(85);
    f->speed[1] = KMH(100);
    f->sheet.complaint.given = true;
    f->sheet.complaint.speed_m_s = (struct ht_numbers){ f->speed, 2 };
    f->sheet.identity.unit = "V-17";
    f->sheet.identity.date = "2026-05-14";
    f->sheet.limits.name = "light_truck";
}

static void miss(struct fixture *f, const char *text)
{
    SAY(f->workup.missing[f->workup.missing_count], "%s", text);
    f->workup.missing_count++;
}

static void assume(struct fixture *f, const char *text)
{
    SAY(f->workup.assumed[f->workup.assumed_count], "%s", text);
    f->workup.assumed_count++;
}

static void refuse(struct fixture *f)
{
    struct ht_workup *w = &f->workup;
    wheel_orders(f, 0.03);
    w->has_orders = false;
    w->orders = (struct ht_orders){ 0 };
    w->turns = (struct ht_turns){ .source = HT_SPEED_NONE,
                                  .state = HT_SPEED_REFUSED };
    SAY(w->turns.reason, "No speed log and no steady speed. Drive 2 minutes "
                         "at one steady speed and write it on the sheet.");
    f->drive.speed.file = NULL;
}

static void fill_case(struct fixture *f, enum fixture_case which)
{
    switch (which) {
    case FIXTURE_VAN:
        complain(f, "Delivery van hums between 85 and 100 km/h");
        van_angles(f);
        van_orders(f);
        van_causes(f);
        assume(f, "No joint kind is given: Cardan joints.");
        assume(f, "No driven end is given: driven from the front.");
        break;
    case FIXTURE_ANGLES_ONLY:
        complain(f, "Pickup, angles after a lift");
        van_angles(f);
        miss(f, "No recording: orders need a drive with a sensor on the seat "
                "rail.");
        break;
    case FIXTURE_RECORDING_ONLY:
        complain(f, "Estate car shakes at motorway speed");
        wheel_orders(f, 0.19);
        open_causes(f);
        miss(f, "No angles: read the caps to judge the joints.");
        miss(f, "No axle ratio: shaft orders were not looked for.");
        break;
    case FIXTURE_REFUSED:
        complain(f, "Van, drive without a speed");
        refuse(f);
        miss(f, "No angles: read the caps to judge the joints.");
        break;
    case FIXTURE_HANGING:
        complain(f, "Measured on a two-post lift");
        van_angles(f);
        f->angles.suspension = HT_SUSPENSION_HANGING;
        f->workup.angles.verdict_allowed = false;
        f->workup.angles.verdicts = 0;
        break;
    case FIXTURE_NOTHING:
        complain(f, "Yearly check");
        f->sheet.complaint.given = false;
        f->sheet.complaint.speed_m_s.count = 0;
        healthy_angles(f);
        wheel_orders(f, 0.02);
        no_causes(f);
        break;
    case FIXTURE_TRUCK:
        complain(f, "Six-wheel tipper shudders when it pulls away loaded");
        truck_angles(f);
        f->sheet.limits.name = NULL;
        break;
    default:
        f->sheet.title = "Nothing measured yet";
        miss(f, "No angles: read the caps to judge the joints.");
        miss(f, "No recording: orders need a drive with a sensor.");
        break;
    }
}

static void unsay(struct fixture *f)
{
    f->sheet.limits = (struct ht_sheet_limits){ NULL, NAN, NAN, NAN, NAN, NAN };
    f->sheet.identity.odometer_m = NAN;
    f->sheet.vehicle.top_speed_m_s = f->sheet.vehicle.mass_kg = NAN;
    f->workup.angles.accelerations.shaft_rad_s = NAN;
    for (size_t i = 0; i < HT_MEMBERS_MAX; i++)
        f->tube[i].joint_to_joint_m = NAN;
}

struct fixture *fixture_create(enum fixture_case which)
{
    struct fixture *fixture = calloc(1, sizeof *fixture);
    assert_non_null(fixture);
    fixture->workup.sheet = &fixture->sheet;
    fixture->sheet.version = 1;
    unsay(fixture);
    fill_case(fixture, which);
    return fixture;
}
