#include "scale.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

double scale_px(const struct scale *scale, double value)
{
    return scale->start + (value - scale->from) / (scale->to - scale->from) *
                              (scale->end - scale->start);
}

double scale_held_px(const struct scale *scale, double value)
{
    double px = scale_px(scale, value);
    return fmin(fmax(px, fmin(scale->start, scale->end)),
                fmax(scale->start, scale->end));
}

double tick_step(double span, int most)
{
    static const double nice[] = { 1, 2, 5, 10 };
    double power = pow(10, floor(log10(span / most)));
    for (size_t i = 0; i < 4; i++)
        if (span / (nice[i] * power) <= most + 1e-9)
            return nice[i] * power;
    return 10 * power;
}

double tick_first(double value, double step)
{
    return ceil(value / step - 1e-9) * step;
}

int tick_decimals(double step)
{
    double power = -floor(log10(step) + 1e-9);
    return power > 0 ? (int)fmin(power, 9) : 0;
}

/* In thousandths of the size, rounded up, from the metrics of DejaVu Sans. */
static double character_em(unsigned char c)
{
    if (strchr("ijl|'", c))
        return 0.29;
    if (strchr(" .,:;()ft/-r", c))
        return 0.40;
    if (strchr("mMW%@", c))
        return 0.98;
    return c >= 'A' && c <= 'Z' ? 0.72 : 0.64;
}

double text_width_px(const char *text, double size_px)
{
    double em = 0;
    for (const unsigned char *p = (const unsigned char *)text; *p; p++) {
        if (*p < 0x20 || (*p & 0xC0) == 0x80)
            continue;
        bool blank = p[0] == 0xC2 && p[1] == 0xA0; /* no-break */
        em += blank        ? 0.32
              : *p < 0x80 ? character_em(*p)
              : *p < 0xE0 ? 0.84
                          : 1.0;
    }
    return em * size_px;
}

void spread_labels(double *middle, size_t count, double gap, double low,
                   double high)
{
    for (size_t i = 0; i < count; i++) {
        double least = i ? middle[i - 1] + gap : low;
        middle[i] = fmax(middle[i], least);
    }
    for (size_t i = count; i-- > 0;) {
        double most = i + 1 < count ? middle[i + 1] - gap : high;
        middle[i] = fmin(middle[i], most);
    }
}
