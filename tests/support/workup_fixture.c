#include "workup_fixture_parts.h"

#include "close.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const fixture_names[FIXTURE_CASES] = {
    "van", "angles-only", "recording-only", "refused",
    "hanging", "nothing", "empty", "truck",
};

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
    verdict.low = verdict.value - 1.96 * verdict.u;
    verdict.high = verdict.value + 1.96 * verdict.u;
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
    struct ht_sheet blank;
    ht_sheet_clear(&blank);
    f->sheet.limits = blank.limits;
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
