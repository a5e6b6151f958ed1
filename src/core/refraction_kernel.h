#ifndef ST_CORE_REFRACTION_KERNEL_H
#define ST_CORE_REFRACTION_KERNEL_H

#include "mixture_kernel.h"

/* For files of core only: the formulas of refraction, nothing checked.  k in m3/kg, so that n = 1 + rho sum w k. */

#define ST_W_LOWEST (-0.05) /* the scale: mass fraction of sucrose */
#define ST_W_HIGHEST 0.85

/* from memory: polyol between glycerol (0.371e-3) and sorbitol (0.345e-3); protein from dn/dc = 0.185 mL/g;
 * extract as sucrose */
#define ST_K_POLYOL 0.360e-3
#define ST_K_PROTEIN 0.431e-3
#define ST_K_EXTRACT 0.349e-3

struct st_refract {
    struct st_mix mix;
    struct st_sw sw_20;
    double k_w, k_w20; /* water at T and at 20 C */
};

/* refraction.c */
enum st_status st_refract_at(double T, struct st_refract *r);
void st_index_block(const struct st_refract *r, size_t n, const struct st_columns *col, double idx[]);

/* the sugar scale at 20 C, own fit to [icumsa1974] (property notes, part c) */
static inline double st_scale_n(double w)
{
    double s = 0.01442682 + w * -0.01008686;
    s = 0.01122378 + w * s;
    s = 0.0549804 + w * s;
    s = 0.14273069 + w * s;
    return ST_N_WATER_20 + w * s;
}

static inline double st_scale_slope(double w)
{
    double s = 4.0 * 0.01442682 + w * (5.0 * -0.01008686);
    s = 3.0 * 0.01122378 + w * s;
    s = 2.0 * 0.0549804 + w * s;
    return 0.14273069 + w * s;
}

/* ethanol; p = ethanol/(ethanol + water), fit to [crc102] (property notes, part d) */
static inline double st_ethanol_k(double p)
{
    return 1e-3 * (0.453629 + p * (0.025232 + p * (-0.065288 + p * (0.080184 + p * -0.035186))));
}

/* citric acid; w of the whole liquid, fit to half of the [crc102] rows */
static inline double st_citric_k(double w)
{
    return 1e-3 * (0.323916 - 0.008320 * w);
}

/* w k of sucrose, w of the whole liquid: what the scale leaves when the water's part is taken off, so that
 * sucrose solutions meet the scale exactly */
static inline double st_sucrose_refraction(const struct st_refract *r, double w)
{
    const double rho = r->sw_20.rho_w + st_sw_increment(&r->sw_20, w);
    return (st_scale_n(w) - 1.0) / rho - (1.0 - w) * r->k_w20;
}

/* sugars w, of which shares g glucose and f fructose; their factors fitted to half of the [crc102] rows */
static inline double st_sugar_refraction(const struct st_refract *r, double w, double g, double f)
{
    const double glucose = -0.00319 + 0.00564 * w, fructose = 0.00892;
    return st_sucrose_refraction(r, w) * (1.0 - g * glucose - f * fructose);
}

/* index of sucrose in water; w from ST_W_LOWEST */
static inline double st_sucrose_n(const struct st_refract *r, double w)
{
    const double rho = r->mix.sw.rho_w + st_sw_increment(&r->mix.sw, w);
    return 1.0 + rho * ((1.0 - w) * r->k_w + st_sucrose_refraction(r, w));
}

#endif
