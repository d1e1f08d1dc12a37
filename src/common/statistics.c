/* lgamma_r: lgamma leaves the sign in a variable that all threads share. */
#define _DEFAULT_SOURCE /* NOLINT(bugprone-reserved-identifier) */
#include "statistics.h"

#include <float.h>
#include <math.h>

static const double SMALLEST = 1e-300;

double ht_normal_cdf(double z)
{
    return 0.5 * erfc(-z / sqrt(2));
}

/* Where a monotone function has a value: inverse quadratic interpolation
 * where the three last points allow it, else halving, so that it ends
 * (Chandrupatla, Adv. Eng. Softw. 28 (1997) 145). */
struct target {
    double (*value)(double x, const struct target *target);
    double wanted, d1, d2;
};

static double miss(const struct target *target, double x)
{
    return target->value(x, target) - target->wanted;
}

static double interpolated(double a, double b, double c, double at_a,
                           double at_b, double at_c)
{
    double across = (a - b) / (c - b), up = (at_a - at_b) / (at_c - at_b);
    if (!(up * up < across && (1 - up) * (1 - up) < 1 - across))
        return 0.5;
    return at_a / (at_b - at_a) * at_c / (at_b - at_c) +
           (c - a) / (b - a) * at_a / (at_c - at_a) * at_b / (at_c - at_b);
}

static double find_root(const struct target *target, double low, double high)
{
    double b = low, a = high, share = 0.5;
    double at_b = miss(target, b), at_a = miss(target, a);
    for (int i = 0; i < 200; i++) {
        double x = a + share * (b - a), at_x = miss(target, x);
        double c = a, at_c = at_a;
        if ((at_x < 0) != (at_a < 0)) {
            c = b;
            b = a;
            at_c = at_b;
            at_b = at_a;
        }
        a = x;
        at_a = at_x;
        double best = fabs(at_a) < fabs(at_b) ? a : b;
        double least = (2 * DBL_EPSILON * fabs(best) + DBL_MIN) / fabs(b - c);
        if (!(least <= 0.5) || at_a == 0)
            return at_a == 0 ? a : best;
        share = interpolated(a, b, c, at_a, at_b, at_c);
        share = fmin(fmax(share, least), 1 - least);
    }
    return a;
}

static double normal_value(double x, const struct target *target)
{
    (void)target;
    return ht_normal_cdf(x);
}

double ht_normal_quantile(double p)
{
    if (p > 0.5) /* the lower tail keeps its digits */
        return -ht_normal_quantile(1 - p);
    struct target target = { normal_value, p, 0, 0 };
    return find_root(&target, -40, 0);
}

static double beta_fraction(double a, double b, double x)
{
    double c = 1, d = 1 - (a + b) * x / (a + 1);
    d = 1 / (fabs(d) < SMALLEST ? SMALLEST : d);
    double h = d;
    for (int m = 1; m < 10000; m++) {
        double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x /
                     ((a + 2 * m) * (a + 2 * m + 1));
        double step = 1;
        for (int half = 0; half < 2; half++) {
            double term = half ? odd : even;
            d = 1 + term * d;
            c = 1 + term / c;
            d = 1 / (fabs(d) < SMALLEST ? SMALLEST : d);
            c = fabs(c) < SMALLEST ? SMALLEST : c;
            step = d * c;
            h *= step;
        }
        if (fabs(step - 1) < 1e-16)
            break;
    }
    return h;
}

static double log_gamma(double x)
{
    int sign;
    return lgamma_r(x, &sign);
}

double ht_incomplete_beta(double a, double b, double x)
{
    if (x <= 0)
        return 0;
    if (x >= 1)
        return 1;
    double front = exp(log_gamma(a + b) - log_gamma(a) - log_gamma(b) +
                       a * log(x) + b * log1p(-x));
    if (x < (a + 1) / (a + b + 2)) /* where the fraction converges fast */
        return front * beta_fraction(a, b, x) / a;
    return 1 - front * beta_fraction(b, a, 1 - x) / b;
}

/* Beyond so many degrees of freedom the logarithms of gamma functions cancel,
 * and the normal law with one correction (Abramowitz and Stegun 26.7.8) is off
 * by 1 / dof^2 only. */
static const double many_dof = 1e5;

double ht_student_cdf(double t, double dof)
{
    if (dof > many_dof)
        return ht_normal_cdf(t * (1 - 1 / (4 * dof)) /
                             sqrt(1 + t * t / (2 * dof)));
    double tail =
        0.5 * ht_incomplete_beta(dof / 2, 0.5, dof / (dof + t * t));
    return t > 0 ? 1 - tail : tail;
}

static double student_value(double x, const struct target *target)
{
    return ht_student_cdf(x, target->d1);
}

double ht_student_quantile(double p, double dof)
{
    if (p > 0.5)
        return -ht_student_quantile(1 - p, dof);
    struct target target = { student_value, p, dof, 0 };
    double low = -1;
    while (ht_student_cdf(low, dof) > p && low > -1e150)
        low *= 2;
    return find_root(&target, low, 0);
}

double ht_fisher_tail(double f, double d1, double d2)
{
    if (!(f > 0))
        return 1;
    return ht_incomplete_beta(d2 / 2, d1 / 2, d2 / (d2 + d1 * f));
}

static double fisher_value(double x, const struct target *target)
{
    return ht_fisher_tail(x, target->d1, target->d2);
}

double ht_fisher_threshold(double tail, double d1, double d2)
{
    struct target target = { fisher_value, tail, d1, d2 };
    double high = 1;
    while (ht_fisher_tail(high, d1, d2) > tail && high < 1e150)
        high *= 2;
    return find_root(&target, 0, high);
}

/* Hoare's selection: the parts in which the middle does not lie are left
 * unsorted, so the cost grows with n alone. */
double ht_median(double *x, size_t n)
{
    if (n == 0)
        return NAN;
    size_t low = 0, high = n - 1, k = n / 2;
    while (low < high) {
        double pivot = x[(low + high) / 2];
        size_t i = low, j = high;
        while (i <= j) {
            while (x[i] < pivot)
                i++;
            while (x[j] > pivot)
                j--;
            if (i <= j) {
                double t = x[i];
                x[i++] = x[j];
                x[j] = t;
                if (j == 0)
                    break;
                j--;
            }
        }
        if (k <= j && j < high)
            high = j;
        else if (k >= i)
            low = i;
        else
            break;
    }
    return x[k];
}
