/* Invented orders and their map. */
#include "workup_fixture_parts.h"

#include "random.h"

#include <math.h>

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
    *map = (struct ht_order_map){
        ACROSS, UP, 0, 9, KMH(60), KMH(112), f->map, NULL
    };
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

void van_orders(struct fixture *f)
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

void wheel_orders(struct fixture *f, double most)
{
    const struct line lines[] = {
        { "1\303\227 wheel", 0, 1, 1.0, 0.01, most, 0, 90, HT_SEEN },
        { "2\303\227 wheel", 0, 2, 2.0, 0.008, 0.012, 0, 90, HT_SEEN },
        { "3\303\227 wheel", 0, 3, 3.0, 0.006, 0.006, 0, 90, HT_NOT_SEEN },
    };
    add_parts(&f->workup.rotation, NAN, NAN);
    record(f, lines, 3);
}
