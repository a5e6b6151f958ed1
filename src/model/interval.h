#ifndef ST_MODEL_INTERVAL_H
#define ST_MODEL_INTERVAL_H

#include <math.h>

#include "core/mixture.h"
#include "kitchen.h"

/* Intervals, rounded outward; for kitchen_bound.c, kitchen_hold.c and kitchen_mixture.c alone. */

typedef struct st_interval_of iv;

static const iv EVERYTHING = { -HUGE_VAL, HUGE_VAL };

static inline iv wide(double low, double high)
{
    if (!(low <= high))
        return EVERYTHING; /* NaN among them */
    return (iv){ low - fabs(low) * 4e-16, high + fabs(high) * 4e-16 };
}

static inline iv add(iv a, iv b)
{
    return wide(a.low + b.low, a.high + b.high);
}

static inline iv sub(iv a, iv b)
{
    return wide(a.low - b.high, a.high - b.low);
}

/* 0 times anything is 0, without end too: a slope that is not there. */
static inline double times(double a, double b)
{
    return a == 0.0 || b == 0.0 ? 0.0 : a * b;
}

static inline double smaller(double a, double b)
{
    return a < b ? a : b;
}

static inline double larger(double a, double b)
{
    return a > b ? a : b;
}

static inline iv mul(iv a, iv b)
{
    if ((a.low == 0.0 && a.high == 0.0) || (b.low == 0.0 && b.high == 0.0))
        return (iv){ 0.0, 0.0 };
    if (b.low >= 0.0 && b.high < HUGE_VAL && a.low > -HUGE_VAL && a.high < HUGE_VAL) /* nearly always */
        return wide(a.low * (a.low >= 0.0 ? b.low : b.high), a.high * (a.high >= 0.0 ? b.high : b.low));
    const double p = times(a.low, b.low), q = times(a.low, b.high), r = times(a.high, b.low), s = times(a.high, b.high);
    return wide(smaller(smaller(p, q), smaller(r, s)), larger(larger(p, q), larger(r, s)));
}

static inline iv scaled(iv a, double x)
{
    return mul(a, (iv){ x, x });
}

static inline iv over(iv a, iv b)
{
    if (!(b.low > 0.0))
        return EVERYTHING;
    return mul(a, wide(1.0 / b.high, 1.0 / b.low));
}

static inline iv hull(iv a, iv b)
{
    return (iv){ smaller(a.low, b.low), larger(a.high, b.high) };
}

struct st_op;
/* kitchen_bound.c: one operation on value[], by number of column or register. */
iv st_interval_op(const iv value[], const struct st_op *op, const int *arg);

/* ---- kitchen_mixture.c: masses m[ST_NCOMP] in g, volumes in mL ---- */
int st_mix_row(const iv m[ST_NCOMP]);                               /* which limits of partial volumes hold; -1: none */
iv st_mix_partial(int row, int c);                                  /* dV/dm_c, mL/g */
iv st_mix_volume(const iv m[ST_NCOMP]);                             /* V */
iv st_mix_total(const double c_of[ST_NCOMP], const iv m[ST_NCOMP]); /* X = sum c_of m */
iv st_mix_ratio(const double c_of[ST_NCOMP], const iv m[ST_NCOMP]); /* X/V */
iv st_mix_density(const iv m[ST_NCOMP]);                            /* kg/m3 */

#endif
