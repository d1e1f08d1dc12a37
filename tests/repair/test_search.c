/* The search against every combination, tried one by one. */
#include "shims_case.h"

#include "repair/search.h"

/* Wedges and plates of the shelf with their signs; plates alone or two of
 * different thickness. */
static const double wedge[] = { 0, 1, -1, 1.5, -1.5, 2, -2, 2.5, -2.5 };
static const double plate[] = { 0,  3, -3, 6,  -6,  10, -10,
                                9, -9, 13, -13, 16, -16 };
enum { WEDGES = sizeof wedge / sizeof wedge[0],
       PLATES = sizeof plate / sizeof plate[0] };

/* The case, its rules, and its joint centres without help of the room. */
struct line {
    struct fixture fixture;
    struct ht_driveline driveline;
    struct ht_rules rules;
    struct ht_joint_centres centres;
};

static void open_line(struct line *line)
{
    struct ht_error err;
    struct ht_angles_options options = { .limits = &limits,
                                         .limit_set = "light_truck",
                                         .shaft_rad_s = 250,
                                         .speed_m_s = NAN };
    struct ht_joint_centres *c = &line->centres;
    plan_of(&line->fixture, READY ANGLES CHECKS SHELF);
    assert_int_equal(ht_driveline_from_sheet(&line->driveline,
                                             &line->fixture.sheet, 0, 0, &err),
                     HT_OK);
    assert_int_equal(
        ht_rules_list(&line->rules, &line->driveline, &options, &err), HT_OK);
    *c = (struct ht_joint_centres){ .axle_in_front = false };
    assert_int_equal(ht_chain_read(&c->line, &line->driveline, &err), HT_OK);
    for (size_t i = 0; i < HT_LENGTHS; i++)
        c->length_m[i] = NAN;
    c->length_m[1] = 1.12;
    c->length_m[2] = 1.31;
    c->length_m[HT_LENGTH_JOINT_TO_AXLE] = 0.25;
    c->length_m[HT_LENGTH_SUPPORT_TO_JOINT] = 0.08;
}

static void move(struct ht_chain *moved, const struct ht_joint_centres *centres,
                 size_t a, size_t b)
{
    struct ht_shim_work work[] = {
        { .place = HT_SHIM_AXLE, .turn_rad = wedge[a] * DEG },
        { .place = HT_SHIM_SUPPORT, .member = 1, .lift_m = plate[b] / 1000 },
    };
    ht_centres_move(moved, centres, work, 2);
}

static double log_share_below(double z)
{
    return z < -30 ? -z * z / 2 - log(-z * sqrt(2 * 3.14159265358979323846))
                   : log(erfc(-z / sqrt(2)) / 2);
}

/* By the exact chain, where the search takes the closed form. */
static double merit_of(const struct search_aim *aim,
                       const struct ht_chain *line)
{
    double value[HT_RULES_MAX], merit = 0;
    ht_rules_values(aim->rules, line, value);
    for (size_t r = 0; r < aim->rules->rules; r++) {
        const struct ht_rule *rule = &aim->rules->rule[r];
        double z = (rule->held_to - value[r]) / aim->u[r];
        merit += log_share_below(rule->is_minimum ? -z : z);
    }
    return merit;
}

struct pick {
    size_t a, b;
};
static struct pick best_pick(const struct line *line,
                             const struct search_aim *aim)
{
    struct pick best = { 0, 0 };
    double most = -INFINITY;
    for (size_t a = 1; a < WEDGES; a++)
        for (size_t b = 1; b < PLATES; b++) {
            struct ht_chain moved;
            move(&moved, &line->centres, a, b);
            double merit = merit_of(aim, &moved);
            assert_close(ht_search_merit(aim, &moved), merit,
                         0.02 + 0.001 * fabs(merit));
            best = merit > most ? (struct pick){ a, b } : best;
            most = fmax(most, merit);
        }
    return best;
}

static void the_search_finds_what_trying_everything_finds(void **state)
{
    (void)state;
    static struct search_best found[MASKS];
    struct line line;
    struct shelf shelf;
    struct ht_error err;
    open_line(&line);
    assert_int_equal(line.fixture.shims.combinations, WEDGES * PLATES);
    struct search_aim aim = { .rules = &line.rules };
    for (size_t r = 0; r < line.rules.rules; r++)
        aim.u[r] = line.rules.rule[r].about >= HT_RULE_LEFTOVER ? 2e-4
                                                                : 0.15 * DEG;
    struct pick best = best_pick(&line, &aim);
    assert_int_equal(ht_shelf_create(&shelf, &line.fixture.shims,
                                     &line.fixture.input, &line.centres, &err),
                     HT_OK);
    assert_int_equal(ht_search(found,
                               &(struct search_request){
                                   .shelf = &shelf,
                                   .centres = &line.centres,
                                   .aim = &aim },
                               &err),
                     HT_OK);
    struct ht_shim_work work[HT_SHIM_PLACES_MAX];
    unsigned mask;
    assert_int_equal(
        ht_shelf_works(&shelf, found[3].found[0].combination, work, &mask), 2);
    assert_int_equal(mask, 3);
    assert_close(work[0].turn_rad / DEG, wedge[best.a], 1e-12);
    assert_close(work[1].lift_m * 1000, plate[best.b], 1e-12);
    ht_shelf_free(&shelf);
    done_with(&line.fixture);
}

/* ---- what is passed over ------------------------------------------------- */

/* Every combination's merit, one by one; the best of each set of places. */
static void try_everything(struct search_best best[MASKS],
                           const struct search_request *request)
{
    memset(best, 0, MASKS * sizeof *best);
    for (size_t i = 0; i < request->shelf->combinations; i++) {
        struct ht_shim_work work[HT_SHIM_PLACES_MAX];
        struct ht_chain line;
        unsigned mask;
        size_t works = ht_shelf_works(request->shelf, i, work, &mask);
        ht_centres_move(&line, request->centres, work, works);
        double merit = request->readings
                           ? ht_search_likeness(request->readings, &line)
                           : ht_search_merit(request->aim, &line);
        size_t at = best[mask].count;
        while (at > 0 && best[mask].found[at - 1].merit < merit)
            at--;
        if (at == BEST_KEPT)
            continue;
        if (best[mask].count < BEST_KEPT)
            best[mask].count++;
        for (size_t k = best[mask].count - 1; k > at; k--)
            best[mask].found[k] = best[mask].found[k - 1];
        best[mask].found[at] = (struct search_found){ i, merit };
    }
}

/* A case by its limits, driven from either end. */
static void open_case(struct line *line, const char *held_to, bool from_rear)
{
    struct ht_error err;
    struct ht_limit_set own;
    char yaml[3000];
    snprintf(yaml, sizeof yaml,
             "halfturn: 1\nlimits: %s\nvehicle: {axle: {kind: rigid, "
             "steered: no}}\ndriveline: {%sspline_teeth: 31, members: "
             "[gearbox, front shaft, rear shaft, pinion]}\n" ANGLES CHECKS
             "shims: [{at: axle, kind: wedge, steps_deg: [1, 1.5, 2, "
             "2.5]}, {at: centre_support, kind: plate, steps_mm: [3, 6, "
             "10, 11]}, {at: gearbox_mount, kind: plate, steps_mm: [3, "
             "6, 7]}]\n",
             held_to, from_rear ? "driven_from: rear, " : "");
    plan_of(&line->fixture, yaml);
    const struct ht_sheet_limits *given = &line->fixture.sheet.limits;
    own = (struct ht_limit_set){
        .joint_max_rad = given->joint_max_rad,
        .joint_min_rad = NAN,
        .difference_max_rad = given->difference_max_rad,
        .axle_rad_s2 = given->axle_rad_s2,
        .shaft_rad_s2 = given->shaft_rad_s2,
        .leftover_max_rad = given->leftover_max_rad,
        .odd_max_rad = NAN,
        .alone_max_rad = NAN,
        .double_joint_max_rad = NAN,
    };
    struct ht_angles_options options = { .limits = &limits,
                                         .limit_set = given->name,
                                         .own = &own,
                                         .shaft_rad_s = 250,
                                         .speed_m_s = NAN };
    assert_int_equal(ht_driveline_from_sheet(&line->driveline,
                                             &line->fixture.sheet, 0, 0, &err),
                     HT_OK);
    assert_int_equal(
        ht_rules_list(&line->rules, &line->driveline, &options, &err), HT_OK);
    line->centres = (struct ht_joint_centres){ .axle_in_front = from_rear };
    assert_int_equal(
        ht_chain_read(&line->centres.line, &line->driveline, &err), HT_OK);
    for (size_t k = 0; k < HT_LENGTHS; k++)
        line->centres.length_m[k] = NAN;
}

static void search_and_try(const struct search_request *request)
{
    static struct search_best found[MASKS], wanted[MASKS];
    struct ht_error err;
    assert_true(request->shelf->combinations > 500);
    try_everything(wanted, request);
    assert_int_equal(ht_search(found, request, &err), HT_OK);
    for (size_t m = 0; m < MASKS; m++) {
        assert_int_equal(found[m].count, wanted[m].count);
        for (size_t k = 0; k < found[m].count; k++) {
            assert_close(found[m].found[k].merit, wanted[m].found[k].merit, 0);
            assert_int_equal(found[m].found[k].combination,
                             wanted[m].found[k].combination);
        }
    }
}

/* Limits that rule out much, little, and nothing. */
static void nothing_that_belongs_to_the_best_is_passed_over(void **state)
{
    (void)state;
    static const char *const held_to[] = {
        "light_truck", "{joint_max_deg: 1.2, difference_max_deg: 0.3}",
        "{leftover_max_deg: 0.5}", "{joint_max_deg: 40}",
        "{axle_rad_s2: 100, shaft_rad_s2: 500}",
    };
    for (size_t i = 0; i < 10; i++) {
        struct line line;
        struct shelf shelf;
        struct ht_error err;
        open_case(&line, held_to[i / 2], i % 2);
        struct search_aim aim = { .rules = &line.rules };
        assert_true(line.rules.rules > 0);
        for (size_t r = 0; r < line.rules.rules; r++)
            aim.u[r] = line.rules.rule[r].about >= HT_RULE_LEFTOVER
                           ? 2e-4
                           : 0.15 * DEG;
        assert_int_equal(ht_shelf_create(&shelf, &line.fixture.shims,
                                         &line.fixture.input, &line.centres,
                                         &err),
                         HT_OK);
        search_and_try(&(struct search_request){
            .shelf = &shelf, .centres = &line.centres, .aim = &aim });
        ht_shelf_free(&shelf);
        done_with(&line.fixture);
    }
}

/* ---- it can be stopped ------------------------------------------------- */

struct asked {
    size_t times, most;
    double last;
};
static bool go_on(void *context, double share)
{
    struct asked *asked = context;
    assert_true(share >= asked->last && share < 1);
    asked->last = share;
    return asked->times++ < asked->most;
}

static void a_search_tells_how_far_it_is_and_can_be_stopped(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_error err;
    struct asked asked = { 0, 1000, 0 };
    plan_of(&f, READY ANGLES CHECKS SHELF);
    f.input.progress = go_on;
    f.input.context = &asked;
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
    assert_true(asked.times > 10 && asked.last > 0.9);
    for (size_t most = 0; most < 4; most++) {
        asked = (struct asked){ 0, most, 0 };
        assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_STOPPED);
        assert_int_equal(asked.times, most + 1);
        assert_int_equal(f.shims.members, 0);
        assert_non_null(strstr(err.text, "was stopped"));
    }
    done_with(&f);
}

/* ---- as good as the best ----------------------------------------------- */

enum { DRAWS = 1000 };

/* How often every limit is kept by drawn lines, each moved here. */
static double share_kept(const struct line *line, const struct ht_chain *drawn,
                         size_t a, size_t b)
{
    size_t kept = 0;
    for (size_t i = 0; i < DRAWS; i++) {
        struct ht_joint_centres c = line->centres;
        struct ht_chain moved;
        double value[HT_RULES_MAX];
        bool all = true;
        c.line = drawn[i];
        move(&moved, &c, a, b);
        ht_rules_values(&line->rules, &moved, value);
        for (size_t r = 0; r < line->rules.rules; r++)
            all = all && (line->rules.rule[r].is_minimum
                              ? value[r] >= line->rules.rule[r].held_to
                              : value[r] <= line->rules.rule[r].held_to);
        kept += all;
    }
    return (double)kept / DRAWS;
}

/* 0.03: shims as they are made, and 2048 draws against 1000 (three standard
 * deviations of the latter at 0.9 are 0.028). */
static void the_likeliest_plan_is_as_good_as_the_best_there_is(void **state)
{
    (void)state;
    static struct ht_chain drawn[DRAWS];
    struct line line;
    struct ht_error err;
    double best = 0, most = 0;
    open_line(&line);
    assert_int_equal(ht_chain_draw(drawn, DRAWS, &line.driveline, &err), HT_OK);
    for (size_t a = 0; a < WEDGES; a++)
        for (size_t b = 0; b < PLATES; b++)
            best = fmax(best, share_kept(&line, drawn, a, b));
    for (size_t p = 0; p < line.fixture.shims.plans; p++)
        most = fmax(most, line.fixture.shims.plan[p].probability);
    assert_true(best > 0.5); /* nothing would be shown otherwise */
    assert_close(most, best, 0.03);
    done_with(&line.fixture);
}

static void a_shelf_of_too_many_sizes_is_refused(void **state)
{
    (void)state;
    struct fixture f = { 0 };
    struct ht_error err = { 0 };
    char yaml[6000];
    int used = snprintf(
        yaml, sizeof yaml,
        "halfturn: 1\nlimits: car\n"
        "vehicle: {axle: {kind: rigid, steered: no}}\n"
        "driveline: {members: [a, b, c, d, e, f]}\n"
        "angles: {suspension: wheels_on_ground, slopes_deg: "
        "[1, 2, 3, 4, 5, 6]}\n" CHECKS "shims:\n");
    for (int half = 0; half < 2; half++) {
        used += snprintf(yaml + used, sizeof yaml - (size_t)used,
                         half ? "  - {at: axle, kind: wedge, steps_deg: ["
                              : "  - {at: centre_support, kind: plate, "
                                "steps_mm: [");
        for (int k = 1; k <= 30; k++)
            used += snprintf(yaml + used, sizeof yaml - (size_t)used, "%s%g",
                             k > 1 ? ", " : "", 0.2 * k);
        used += snprintf(yaml + used, sizeof yaml - (size_t)used, "]}\n");
    }
    assert_int_equal(ht_sheet_read_text(&f.sheet, "case.yaml", yaml,
                                        strlen(yaml), NULL, &err),
                     HT_OK);
    f.input = (struct ht_shims_input){ .sheet = &f.sheet, .limits = &limits,
                                       .shaft_rad_s = NAN };
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_TOO_BIG);
    assert_non_null(strstr(err.text, "leave out sizes"));
    done_with(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_search_finds_what_trying_everything_finds),
        cmocka_unit_test(nothing_that_belongs_to_the_best_is_passed_over),
        cmocka_unit_test(a_search_tells_how_far_it_is_and_can_be_stopped),
        cmocka_unit_test(the_likeliest_plan_is_as_good_as_the_best_there_is),
        cmocka_unit_test(a_shelf_of_too_many_sizes_is_refused),
    };
    return cmocka_run_group_tests(tests, read_the_limits, NULL);
}
