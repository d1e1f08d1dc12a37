#include "reading.h"

#include "common/constants.h"

#include <math.h>

static double or_default(double value, double otherwise)
{
    return isnan(value) ? otherwise : value;
}

struct ht_gauge ht_gauge_filled(struct ht_gauge gauge)
{
    return (struct ht_gauge){
        or_default(gauge.accuracy_rad, HT_ACCURACY_DEG * HT_RAD_PER_DEG),
        or_default(gauge.step_rad, HT_STEP_DEG * HT_RAD_PER_DEG),
        or_default(gauge.set_up_rad, HT_SET_UP_DEG * HT_RAD_PER_DEG),
        or_default(gauge.zero_share, HT_ZERO_SHARE),
    };
}

double ht_surface_u_rad(enum ht_surface surface)
{
    static const double degrees[] = {
        [HT_SURFACE_UNKNOWN] = 0.5,
        [HT_SURFACE_CAP] = 0,
        [HT_SURFACE_MACHINED_FLANGE] = 0.05,
        [HT_SURFACE_YOKE] = 0.5,
        [HT_SURFACE_STRAP] = 0.5,
    };
    return degrees[surface] * HT_RAD_PER_DEG;
}

/* +/- a is taken as rectangular: a / sqrt(3). JCGM 100, 4.3.7. */
static double accuracy_variance(struct ht_gauge gauge)
{
    return gauge.accuracy_rad * gauge.accuracy_rad / 3;
}

double ht_zero_u_rad(struct ht_gauge gauge)
{
    return sqrt(gauge.zero_share * accuracy_variance(gauge));
}

/* What one look at the display brings: the rest of the accuracy, and the
 * step, d / sqrt(12) (JCGM 100, F.2.2.1). */
static double display_variance(struct ht_gauge gauge)
{
    return (1 - gauge.zero_share) * accuracy_variance(gauge) +
           gauge.step_rad * gauge.step_rad / 12;
}

/* What laying the gauge on once brings. */
static double placing_variance(double set_up_rad, enum ht_surface surface)
{
    double rough = ht_surface_u_rad(surface);
    return set_up_rad * set_up_rad + rough * rough;
}

static void mean_and_scatter(struct ht_reading *reading,
                             const struct ht_numbers *numbers)
{
    /* from the first on: equal readings scatter by nothing, not by what the
     * last digit of their mean is off */
    double first = numbers->value[0], sum = 0, squares = 0;
    for (size_t i = 0; i < numbers->count; i++)
        sum += numbers->value[i] - first;
    double mean = sum / (double)numbers->count;
    reading->value_rad = first + mean;
    for (size_t i = 0; i < numbers->count; i++) {
        double off = numbers->value[i] - first - mean;
        squares += off * off;
    }
    reading->repeats = numbers->count;
    if (numbers->count > 1)
        reading->scatter_rad = sqrt(squares / (double)(numbers->count - 1));
}

bool ht_slope_turned(const struct ht_sheet_slope *slope)
{
    return !isnan(slope->flip_a_rad) && !isnan(slope->flip_b_rad);
}

/* A gauge g off the shaft's line on a face that leans by r reads
 * asin(cos g sin s + sin g sin r cos s): off by g r - s g^2/2. The gauge laid
 * crosswise is off its line by as much, and shows r + g s. */
double ht_crosswise_set_up_rad(double crosswise_rad, double slope_rad,
                               struct ht_gauge gauge)
{
    const double off = HT_ALONG_DEG * HT_RAD_PER_DEG;
    const double burr = HT_BURR_DEG * HT_RAD_PER_DEG;
    double shown = accuracy_variance(gauge) +
                   gauge.step_rad * gauge.step_rad / 12 +
                   off * off * slope_rad * slope_rad;
    double lean = crosswise_rad * crosswise_rad + shown;
    double short_of = 0.75 * pow(off, 4) * slope_rad * slope_rad;
    return sqrt(off * off * lean + short_of + burr * burr);
}

double ht_slope_set_up_rad(const struct ht_sheet_slope *slope,
                           double slope_rad, struct ht_gauge gauge)
{
    double worst = 0;
    for (size_t i = 0; i < slope->crosswise_rad.count; i++)
        worst = fmax(worst, fabs(slope->crosswise_rad.value[i]));
    if (!isnan(slope->set_up_rad))
        return slope->set_up_rad;
    return slope->crosswise_rad.count > 0
               ? ht_crosswise_set_up_rad(worst, slope_rad, gauge)
               : gauge.set_up_rad;
}

static double look_variance(const struct ht_sheet_slope *slope,
                            double slope_rad, struct ht_gauge gauge,
                            enum ht_surface read_on)
{
    enum ht_surface surface =
        slope->read_on == HT_SURFACE_UNKNOWN ? read_on : slope->read_on;
    return placing_variance(ht_slope_set_up_rad(slope, slope_rad, gauge),
                            surface);
}

double ht_look_u_rad(const struct ht_sheet_slope *slope, double slope_rad,
                     struct ht_gauge gauge, enum ht_surface read_on)
{
    return sqrt(display_variance(gauge) +
                look_variance(slope, slope_rad, gauge, read_on));
}

/* Turned round: two looks at one placing. Opposite caps: two placings. */
struct ht_reading ht_reading_of_slope(const struct ht_sheet_slope *slope,
                                      struct ht_gauge gauge,
                                      enum ht_surface read_on)
{
    struct ht_reading reading = { .zero = 1, .repeats = 1 };
    double display = display_variance(gauge), placings = 1;
    if (ht_slope_turned(slope)) {
        reading.value_rad = (slope->flip_a_rad - slope->flip_b_rad) / 2;
        reading.zero = 0;
        display /= 2;
    } else if (slope->opposite_rad.count == 2) {
        const double *cap = slope->opposite_rad.value;
        reading.value_rad = (cap[0] + cap[1]) / 2;
        display /= 2;
        placings = 2;
    } else {
        mean_and_scatter(&reading, &slope->readings_rad);
    }
    if (slope->is_face) {
        reading.value_rad = HT_PI / 2 - reading.value_rad;
        reading.zero = -reading.zero;
    }
    reading.own_u_rad = sqrt(
        display +
        look_variance(slope, reading.value_rad, gauge, read_on) / placings);
    return reading;
}

/* Zeroed on one cap, read on the next: two placings and two looks, no zero
 * error left. */
struct ht_reading ht_reading_of_joint(double joint_rad, struct ht_gauge gauge,
                                      enum ht_surface read_on)
{
    double variance =
        display_variance(gauge) + placing_variance(gauge.set_up_rad, read_on);
    return (struct ht_reading){ .value_rad = joint_rad,
                                .own_u_rad = sqrt(2 * variance),
                                .repeats = 1 };
}

static double scatter_of_mean(const struct ht_reading *reading)
{
    return reading->scatter_rad / sqrt((double)reading->repeats);
}

double ht_reading_u_rad(const struct ht_reading *reading)
{
    return hypot(reading->own_u_rad, scatter_of_mean(reading));
}

double ht_reading_dof(const struct ht_reading *reading)
{
    double part = scatter_of_mean(reading);
    if (!(part > 0))
        return INFINITY;
    double whole = ht_reading_u_rad(reading);
    return pow(whole / part, 4) * (double)(reading->repeats - 1);
}
