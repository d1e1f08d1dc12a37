#include "growth.h"

#include <math.h>

static const double least_range = 1.4;
/* Bins scatter by this much besides noise, at least: 5 % of the level. */
static const double least_scatter = 0.05;

struct ht_line {
    double slope, slope_u, scatter; /* scatter: chi-square over its dof */
};

static struct ht_line fit(const struct ht_growth_point *p, size_t n,
                          double scatter)
{
    double sw = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
    for (size_t i = 0; i < n; i++) {
        double u = p[i].relative_u;
        double w = 1 / (u * u + scatter * scatter);
        sw += w;
        sx += w * log(p[i].speed_m_s);
        sy += w * log(p[i].level);
    }
    double mx = sx / sw, my = sy / sw;
    for (size_t i = 0; i < n; i++) {
        double u = p[i].relative_u;
        double w = 1 / (u * u + scatter * scatter);
        double x = log(p[i].speed_m_s) - mx;
        sxx += w * x * x;
        sxy += w * x * (log(p[i].level) - my);
    }
    struct ht_line line = { sxy / sxx, 1 / sqrt(sxx), 0 };
    for (size_t i = 0; i < n; i++) {
        double u = p[i].relative_u;
        double rest = log(p[i].level) - my -
                      line.slope * (log(p[i].speed_m_s) - mx);
        line.scatter += rest * rest / (u * u + scatter * scatter);
    }
    line.scatter /= (double)(n - 2);
    return line;
}

struct ht_growth ht_growth_fit(const struct ht_growth_point *point, size_t n)
{
    struct ht_growth unknown = { NAN, NAN };
    double low = INFINITY, high = 0;
    for (size_t i = 0; i < n; i++) {
        low = fmin(low, point[i].speed_m_s);
        high = fmax(high, point[i].speed_m_s);
    }
    if (n < 4 || high < least_range * low)
        return unknown;
    /* The scatter that makes the residuals what they should be (Paule and
     * Mandel, J. Res. NBS 87 (1982) 377). */
    double scatter = least_scatter;
    for (int i = 0; i < 40 && fit(point, n, scatter).scatter > 1; i++)
        scatter *= 1.15;
    struct ht_line line = fit(point, n, scatter);
    return (struct ht_growth){ line.slope, line.slope_u };
}
