/* The complex sum with its covariance. */
#include "interval.h"
#include "steps.h"

#include <math.h>

/* Welch and Satterthwaite, JCGM 100 G.4, along the estimate and over the whole
 * plane. */
void ht_freedom_add(struct ht_freedom *freedom, const double part[2],
                    const double estimate[2], double dof)
{
    double size = hypot(estimate[0], estimate[1]);
    double all = part[0] * part[0] + part[1] * part[1];
    double along = size > 0 ? pow((part[0] * estimate[0] +
                                   part[1] * estimate[1]) / size, 2)
                            : all;
    freedom->whole[0] += along;
    freedom->whole[1] += all;
    freedom->weak[0] += along * along / dof;
    freedom->weak[1] += all * all / dof;
}

double ht_freedom_of(const struct ht_freedom *freedom)
{
    double least = INFINITY;
    for (int i = 0; i < 2; i++)
        if (freedom->weak[i] > 0)
            least = fmin(least, freedom->whole[i] * freedom->whole[i] /
                                    freedom->weak[i]);
    return least;
}

/* The sum with one source moved, or two (b NULL: one). */
static struct ht_phasor sum_with(const struct ht_model *model,
                                 const struct ht_sources *a, double times,
                                 const struct ht_sources *b)
{
    struct ht_chain chain =
        ht_steps_chain(model, (const struct ht_sources *const[]){ a, b },
                       (double[]){ times, 1 }, b ? 2 : 1);
    return ht_chain_second(&chain);
}

static void add_part(struct ht_plane *plane, double re, double im)
{
    plane->re_re += re * re;
    plane->re_im += re * im;
    plane->im_im += im * im;
}

/* u^2 = sum c_k^2 + sum over pairs 1/2 c_kl^2, derivatives times the standard
 * uncertainties. c_kll is nought: the sum is of second degree. */
static void add_crossed(struct ht_plane *plane, const struct ht_model *model,
                        const struct ht_steps *steps,
                        const struct ht_phasor *moved, struct ht_phasor still)
{
    for (size_t k = 0; k < steps->count; k++)
        for (size_t l = 0; l < k; l++) {
            struct ht_phasor both =
                sum_with(model, &steps->step[k], 1, &steps->step[l]);
            add_part(plane, both.re - moved[k].re - moved[l].re + still.re,
                     both.im - moved[k].im - moved[l].im + still.im);
        }
}

struct ht_plane ht_sum_plane(const struct ht_model *model)
{
    struct ht_steps steps;
    struct ht_phasor moved[HT_STEPS_MAX];
    struct ht_phasor still = ht_chain_second(&model->chain);
    struct ht_plane plane = { still.re, still.im, 0, 0, 0, INFINITY };
    struct ht_freedom freedom = { 0 };
    ht_steps_fill(&steps, model);
    for (size_t k = 0; k < steps.count; k++) {
        struct ht_phasor back = sum_with(model, &steps.step[k], -1, NULL);
        moved[k] = sum_with(model, &steps.step[k], 1, NULL);
        double re = (moved[k].re - back.re) / 2;
        double im = (moved[k].im - back.im) / 2;
        double bent_re = (moved[k].re + back.re) / 2 - still.re;
        double bent_im = (moved[k].im + back.im) / 2 - still.im;
        add_part(&plane, re, im);
        add_part(&plane, sqrt(2) * bent_re, sqrt(2) * bent_im);
        plane.re -= bent_re;
        plane.im -= bent_im;
        ht_freedom_add(&freedom, (double[]){ re, im },
                       (double[]){ still.re, still.im }, steps.dof[k]);
    }
    plane.dof = ht_freedom_of(&freedom);
    add_crossed(&plane, model, &steps, moved, still);
    return plane;
}
