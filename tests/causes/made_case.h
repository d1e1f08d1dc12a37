/* made_case.h - cases for the tests of the ranking: a sheet as text, orders
 * and angles filled in by hand. */
#ifndef HALFTURN_TESTS_MADE_CASE_H
#define HALFTURN_TESTS_MADE_CASE_H

#include "close.h"

#include "halfturn/causes.h"
#include "halfturn/document.h"
#include "halfturn/sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct made_line {
    const char *part;
    double multiple, level_m_s2; /* 0: not seen */
    double exponent, pull_db;    /* NAN: unknown */
};

struct made_case {
    struct ht_sheet sheet;
    struct ht_rotation rotation;
    struct ht_orders orders;
    struct ht_order_result result[16];
    struct ht_angles angles;
    struct ht_findings findings;
    struct ht_ranking ranking;
    bool has_orders, has_angles, has_rotation;
};

/* ---- a van, its complaint, two drives of it ----------------------------- */

#define MADE_VAN                                                               \
    "vehicle: {class: van, tyre: 235/65R16, drive: rear, gearbox: automatic,"  \
    " axle_teeth: [41, 11], engine: {cylinders: 4, strokes: 4},"               \
    " top_speed_km_h: 120, mass_kg: 2400}\n"                                   \
    "driveline: {members: [gearbox, front shaft, rear shaft, pinion]}\n"
#define MADE_COMPLAINT                                                         \
    "complaint: {speed_km_h: [85, 100], felt: [seat, floor],"                  \
    " neutral_coast: stays, gear_change: same}\n"

static const struct made_line made_strong_2x_shaft[] = {
    { "wheel", 1, 0.03, NAN, NAN },  { "wheel", 2, 0, NAN, NAN },
    { "wheel", 3, 0, NAN, NAN },     { "shaft", 1, 0.012, NAN, NAN },
    { "shaft", 2, 0.3, 2.0, 0.5 },   { "engine", 2, 0.02, NAN, NAN },
};
static const struct made_line made_healthy[] = {
    { "wheel", 1, 0.03, NAN, NAN },  { "wheel", 2, 0.01, NAN, NAN },
    { "wheel", 3, 0, NAN, NAN },     { "shaft", 1, 0.012, NAN, NAN },
    { "shaft", 2, 0.01, 2.0, 0.5 },  { "engine", 2, 0.035, NAN, NAN },
};

static inline void made_sheet(struct made_case *made, const char *body)
{
    char text[4000];
    struct ht_error err = { 0 };
    memset(made, 0, sizeof *made);
    snprintf(text, sizeof text, "halfturn: 1\n%s", body);
    if (ht_sheet_read_text(&made->sheet, "made", text, strlen(text), NULL,
                           &err) != HT_OK)
        fail_msg("%s", err.text);
}

/* Seat rail, m/s²; a line's limits are 5 in 100 either way. */
static inline void made_lines(struct made_case *made,
                              const struct made_line *lines, size_t count)
{
    made->has_orders = true;
    made->orders = (struct ht_orders){ .results = count,
                                       .result = made->result,
                                       .place = HT_PLACE_SEAT_RAIL,
                                       .calibrated = true };
    snprintf(made->orders.unit, sizeof made->orders.unit, "m/s2");
    for (size_t i = 0; i < count; i++) {
        struct ht_order_result *to = &made->result[i];
        double level = lines[i].level_m_s2;
        *to = (struct ht_order_result){
            .channel = -1, .state = level > 0 ? HT_SEEN : HT_NOT_SEEN,
            .at_m_s = 25, .level = { level, 0.95 * level, 1.05 * level },
            .exponent = lines[i].exponent, .exponent_u = 0.3,
            .pull_db = lines[i].pull_db, .pull_u_db = 1
        };
        to->order.multiple = lines[i].multiple;
        snprintf(to->order.name, sizeof to->order.name, "%g\xc3\x97 %s",
                 lines[i].multiple, lines[i].part);
    }
}

static inline struct ht_catalogue *made_catalogue(void)
{
    static struct ht_catalogue *catalogue;
    struct ht_error err = { 0 };
    if (!catalogue && ht_catalogue_read(&catalogue, NULL, &err) != HT_OK)
        fail_msg("line %zu: %s", err.line, err.text);
    return catalogue;
}

static inline void made_rank(struct made_case *made)
{
    struct ht_error err = { 0 };
    struct ht_findings_input input = {
        .sheet = &made->sheet,
        .angles = made->has_angles ? &made->angles : NULL,
        .rotation = made->has_rotation ? &made->rotation : NULL,
        .orders = made->has_orders ? &made->orders : NULL,
    };
    ht_findings_collect(&made->findings, &input);
    struct ht_ranking_request request = { made_catalogue(), &made->findings,
                                          &made->sheet };
    if (ht_ranking_find(&made->ranking, &request, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static inline double made_probability(const struct made_case *made,
                                      const char *id)
{
    for (size_t i = 0; i < made->ranking.causes; i++)
        if (strcmp(made->ranking.cause[i].id, id) == 0)
            return made->ranking.cause[i].probability;
    return 0;
}

static inline void made_print(const struct made_case *made)
{
    const struct ht_ranking *r = &made->ranking;
    printf("-- %s; P(nothing) %.2f, cut %.2g, accused %s\n", r->setting,
           r->nothing_before, r->prior_mass_cut,
           r->accused ? r->accused : "none");
    for (size_t i = 0; i < r->safety_count; i++)
        printf("  SAFETY %s: %s\n", r->safety[i].id, r->safety[i].text);
    for (size_t i = 0; i < r->causes && i < 5; i++) {
        const struct ht_ranked_cause *c = &r->cause[i];
        printf("  %5.3f %s\n", c->probability, c->title);
        for (size_t k = 0; k < c->raised; k++)
            printf("        + %s, %.1f times (%.2f without)\n",
                   c->raised_by[k].text, c->raised_by[k].times,
                   c->raised_by[k].without);
        for (size_t k = 0; k < c->lowered; k++)
            printf("        - %s, %.1f times (%.2f without)\n",
                   c->lowered_by[k].text, c->lowered_by[k].times,
                   c->lowered_by[k].without);
    }
    for (size_t i = 0; i < r->unexplained; i++)
        printf("  unexplained: %s\n", r->unexplained_text[i]);
    for (size_t i = 0; i < r->alike; i++)
        printf("  alike: %s\n", r->alike_text[i]);
    for (size_t i = 0; i < r->next_checks; i++) {
        printf("  next: %s (%.0f min, %.3f) %s\n", r->next[i].question,
               r->next[i].minutes, r->next[i].gain_nats, r->next[i].how);
        for (size_t k = 0; k < r->next[i].outcomes; k++)
            printf("        %s\n", r->next[i].outcome[k]);
    }
}

static inline void made_free(struct made_case *made)
{
    ht_sheet_free(&made->sheet);
}

#endif
