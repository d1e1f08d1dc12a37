#include "statistics.h"

#include <math.h>

static const double SMALLEST = 1e-300;

double ht_normal_cdf(double z)
{
    return 0.5 * erfc(-z / sqrt(2));
}

/* Bisection on a monotone function: slow and certain. */
struct target {
    double (*value)(double x, const struct target *target);
    double wanted, d1, d2;
};

static double bisect(const struct target *target, double low, double high)
{
    double at_low = target->value(low, target) - target->wanted;
    for (int i = 0; i < 200; i++) {
        double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high)
            break;
        double at_middle = target->value(middle, target) - target->wanted;
        if ((at_middle < 0) == (at_low < 0))
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
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
    return bisect(&target, -40, 0);
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

double ht_incomplete_beta(double a, double b, double x)
{
    if (x <= 0)
        return 0;
    if (x >= 1)
        return 1;
    double front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) +
                       b * log1p(-x));
    if (x < (a + 1) / (a + b + 2)) /* where the fraction converges fast */
        return front * beta_fraction(a, b, x) / a;
    return 1 - front * beta_fraction(b, a, 1 - x) / b;
}

double ht_student_cdf(double t, double dof)
{
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
    return bisect(&target, low, 0);
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
    return bisect(&target, 0, high);
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
