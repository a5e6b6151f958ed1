#include <math.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "interval.h"

/* The mixing rule over boxes of masses (kitchen.h, "enclosures", 2 and 3). */

/* Partial volumes dV/dm_i of the mixing rule at 20 C, mL/g: extremes found by scanning mixtures at random, widened by
 * 0.005. [0]: water at least 15 % of the whole; [1]: any mixture with at most 30 % acid. */
static const double PARTIAL[2][ST_NCOMP][2] = {
    { [ST_WATER] = { 0.886, 1.010 },
      [ST_ETHANOL] = { 1.136, 1.264 },
      [ST_SUCROSE] = { 0.610, 0.648 },
      [ST_GLUCOSE] = { 0.617, 0.654 },
      [ST_FRUCTOSE] = { 0.605, 0.648 },
      [ST_LACTOSE] = { 0.610, 0.648 },
      [ST_ACID] = { 0.589, 0.621 },
      [ST_POLYOL] = { 0.705, 0.715 },
      [ST_PROTEIN] = { 0.752, 0.763 },
      [ST_EXTRACT] = { 0.622, 0.633 },
      [ST_FAT] = { 1.085, 1.096 },
      [ST_SOLIDS] = { 0.761, 0.772 } },
    { [ST_WATER] = { 0.650, 1.010 },
      [ST_ETHANOL] = { 1.136, 1.273 },
      [ST_SUCROSE] = { 0.610, 0.650 },
      [ST_GLUCOSE] = { 0.617, 0.656 },
      [ST_FRUCTOSE] = { 0.605, 0.650 },
      [ST_LACTOSE] = { 0.610, 0.650 },
      [ST_ACID] = { 0.580, 0.630 },
      [ST_POLYOL] = { 0.705, 0.715 },
      [ST_PROTEIN] = { 0.752, 0.763 },
      [ST_EXTRACT] = { 0.622, 0.633 },
      [ST_FAT] = { 1.085, 1.096 },
      [ST_SOLIDS] = { 0.761, 0.772 } },
};

static double volume_at(const double m[ST_NCOMP])
{
    const double *one[ST_NCOMP];
    double rho = 0.0, mass = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        one[c] = &m[c];
        mass += m[c];
    }
    if (!(mass > 0.0))
        return 0.0;
    return st_density_masses_n(1, one, ST_T20, &rho) < 0 ? (double)NAN : 1000.0 * mass / rho;
}

/* Which row of PARTIAL holds; -1: none. */
int st_mix_row(const iv m[ST_NCOMP])
{
    double rest = 0.0, beside = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (!(m[c].low >= -1e-9) || !(m[c].high < 1e12))
            return -1;
        rest += c != ST_WATER ? m[c].high : 0.0;
        beside += c != ST_ACID ? fmax(m[c].low, 0.0) : 0.0;
    }
    if (m[ST_ACID].high > 0.42 * beside) /* 0.42/1.42 is below 30 % */
        return -1;
    return m[ST_WATER].low >= 0.177 * rest ? 0 : 1; /* 0.177/1.177 = 15 % */
}

iv st_mix_partial(int row, int c)
{
    return (iv){ PARTIAL[row][c][0], PARTIAL[row][c][1] };
}

/* V over the box, mL. */
iv st_mix_volume(const iv m[ST_NCOMP])
{
    double low[ST_NCOMP], high[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) {
        low[c] = fmax(m[c].low, 0.0);
        high[c] = fmax(m[c].high, 0.0);
    }
    const iv v = { volume_at(low), volume_at(high) };
    if (!(v.low <= v.high))
        return EVERYTHING;
    return (iv){ v.low * (1.0 - 1e-12), v.high * (1.0 + 1e-12) };
}

iv st_mix_total(const double c_of[ST_NCOMP], const iv m[ST_NCOMP])
{
    iv x = { 0.0, 0.0 };
    for (int c = 0; c < ST_NCOMP; c++)
        if (c_of[c] > 0.0)
            x = add(x, scaled(m[c], c_of[c]));
    return x;
}

/* One end of X/V: low when end < 0. */
static double ratio_end(const double c_of[ST_NCOMP], const iv m[ST_NCOMP], iv V, iv X, int row, int end)
{
    double in_x[ST_NCOMP], in_v[ST_NCOMP], x = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        const iv d = sub(scaled(V, c_of[c]), mul(X, st_mix_partial(row, c))); /* sign of the derivative to m_c */
        const double low = fmax(m[c].low, 0.0), high = fmax(m[c].high, 0.0);
        const double with = end < 0 ? low : high, against = end < 0 ? high : low;
        in_x[c] = d.high <= 0.0 ? against : with;
        in_v[c] = d.low >= 0.0 ? with : against;
        x += c_of[c] * in_x[c];
    }
    const double v = volume_at(in_v);
    if (!(v > 0.0))
        return end < 0 ? 0.0 : HUGE_VAL;
    return x / v * (end < 0 ? 1.0 - 1e-12 : 1.0 + 1e-12);
}

/* X/V over the box, X = sum c_of m. */
iv st_mix_ratio(const double c_of[ST_NCOMP], const iv m[ST_NCOMP])
{
    const int row = st_mix_row(m);
    const iv V = st_mix_volume(m);
    if (row < 0 || !(V.low > 0.0))
        return EVERYTHING;
    const iv X = st_mix_total(c_of, m);
    return (iv){ ratio_end(c_of, m, V, X, row, -1), ratio_end(c_of, m, V, X, row, 1) };
}

static const double EVERY[ST_NCOMP] = { 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1 };

iv st_mix_density(const iv m[ST_NCOMP])
{
    bool nothing = true;
    for (int c = 0; c < ST_NCOMP; c++)
        nothing = nothing && m[c].high <= 0.0;
    if (nothing)
        return (iv){ 998.0, 998.4 };
    const iv r = st_mix_ratio(EVERY, m);
    return r.high < HUGE_VAL ? scaled(r, 1000.0) : EVERYTHING;
}
