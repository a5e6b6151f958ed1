#include <math.h>

#include "core/density_mixture.h"
#include "core/refraction.h"
#include "core/strength.h"
#include "tape.h"
#include "vector.h"

/* ---- plain arithmetic: many operations of one code in one call, whole blocks with a count known beforehand ---- */

enum { FULL = ST_TAPE_BLOCK };

/* How one operation's column is worked out: EXPRESSION of a[i], b[i], c[i]. */
#define ST_EACH(n, EXPRESSION)                                                                                         \
    do {                                                                                                               \
        if ((n) == FULL)                                                                                               \
            for (size_t i = 0; i < FULL; i++)                                                                          \
                y[i] = EXPRESSION;                                                                                     \
        else                                                                                                           \
            for (size_t i = 0; i < (n); i++)                                                                           \
                y[i] = EXPRESSION;                                                                                     \
    } while (0)

#define ST_KERNEL_2(NAME, EXPRESSION)                                                                                  \
    ST_MODEL_CLONES static void NAME(const struct st_op *op, int count, const double *const reg[],                     \
                                     double *const out[], size_t n)                                                    \
    {                                                                                                                  \
        for (int k = 0; k < count; k++) {                                                                              \
            const double *a = reg[op[k].a], *b = reg[op[k].b];                                                         \
            double *restrict y = out[op[k].dst];                                                                       \
            ST_EACH(n, EXPRESSION);                                                                                    \
        }                                                                                                              \
    }

/* By arithmetic instead of a branch, so that the loop is vectorised: exact for b > 0. */
static inline double ratio_of(double a, double b)
{
    const double some = b > 0.0 ? 1.0 : 0.0;
    return some * a / (b + (1.0 - some));
}

ST_KERNEL_2(add, a[i] + b[i])
ST_KERNEL_2(sub, a[i] - b[i])
ST_KERNEL_2(mul, a[i] * b[i])
ST_KERNEL_2(ratio, ratio_of(a[i], b[i]))
ST_KERNEL_2(smaller, a[i] < b[i] ? a[i] : b[i])
ST_KERNEL_2(larger, a[i] > b[i] ? a[i] : b[i])

ST_MODEL_CLONES static void madd(const struct st_op *op, int count, const double *const reg[], double *const out[],
                                 size_t n)
{
    for (int k = 0; k < count; k++) {
        const double *a = reg[op[k].a], *b = reg[op[k].b], *c = reg[op[k].c];
        double *restrict y = out[op[k].dst];
        ST_EACH(n, a[i] * b[i] + c[i]);
    }
}

/* ---- properties of a liquid given by masses ---- */

typedef enum st_status property_n(size_t n, const double *const w[ST_NCOMP], double T, double y[]);

ST_MODEL_CLONES static void accumulate(size_t n, const double *restrict m, double *restrict sum)
{
    for (size_t i = 0; i < n; i++)
        sum[i] += m[i];
}

/* 1/total in sum[], and 1 kg of water where the total is 0 */
ST_MODEL_CLONES static void invert_total(size_t n, double *restrict sum, double *restrict nothing)
{
    for (size_t i = 0; i < n; i++) {
        nothing[i] = sum[i] > 0.0 ? 0.0 : 1.0;
        sum[i] = 1.0 / (sum[i] + nothing[i]);
    }
}

/* A block failed as a whole: find which of its draws, and put NaN there. */
static enum st_status one_by_one(size_t n, const double *const w[ST_NCOMP], property_n *f, double *y)
{
    enum st_status worst = ST_OK;
    for (size_t i = 0; i < n; i++) {
        const double *one[ST_NCOMP];
        for (int c = 0; c < ST_NCOMP; c++)
            one[c] = w[c] ? w[c] + i : NULL;
        y[i] = (double)NAN;
        worst = st_status_worse(worst, f(1, one, ST_T20, y + i));
    }
    return worst;
}

ST_MODEL_CLONES static void scale(size_t n, const double *m, const double *by, double *restrict y)
{
    ST_EACH(n, m[i] * by[i]);
}

static enum st_status property(const int arg[ST_NCOMP], const double *const reg[], size_t n, property_n *f, double *y)
{
    _Alignas(64) double room[ST_NCOMP][ST_TAPE_BLOCK], sum[ST_TAPE_BLOCK] = { 0 }, nothing[ST_TAPE_BLOCK];
    const double *w[ST_NCOMP] = { NULL };

    for (int c = 0; c < ST_NCOMP; c++)
        if (arg[c] != ST_ZERO)
            accumulate(n, reg[arg[c]], sum);
    invert_total(n, sum, nothing);
    for (int c = 0; c < ST_NCOMP; c++)
        if (arg[c] != ST_ZERO) {
            scale(n, reg[arg[c]], sum, room[c]);
            w[c] = room[c];
        }
    if (w[ST_WATER])
        accumulate(n, nothing, room[ST_WATER]);
    else
        w[ST_WATER] = nothing;
    const enum st_status s = f(n, w, ST_T20, y);
    return s < 0 ? one_by_one(n, w, f, y) : s;
}

/* The rule takes masses as they are; the fractions are asked only for what a single liquid's status is, and for what
 * holds nothing or is no liquid. */
static enum st_status density(const int arg[ST_NCOMP], const double *const reg[], size_t n, double *y)
{
    const double *m[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++)
        m[c] = arg[c] == ST_ZERO ? NULL : reg[arg[c]];
    const enum st_status s = st_density_masses_n(n, m, ST_T20, y);
    if (s >= 0 && n > 1)
        return s;

    double rho[ST_TAPE_BLOCK];
    const enum st_status by_fractions = property(arg, reg, n, st_density_mixture_n, rho);
    for (size_t i = 0; i < n; i++) {
        const double *one[ST_NCOMP];
        for (int c = 0; c < ST_NCOMP; c++)
            one[c] = m[c] ? m[c] + i : NULL;
        if (st_density_masses_n(1, one, ST_T20, y + i) < 0)
            y[i] = rho[i];
    }
    return by_fractions;
}

/* ---- functions of one number ---- */

typedef enum st_status curve_n(size_t n, const double x[], double y[]);

static enum st_status curve(size_t n, const double *x, curve_n *f, double *y)
{
    enum st_status worst = f(n, x, y);
    if (worst >= 0)
        return worst;
    worst = ST_OK;
    for (size_t i = 0; i < n; i++) {
        double one;
        const enum st_status s = f(1, x + i, &one);
        y[i] = s < 0 ? (double)NAN : one;
        worst = st_status_worse(worst, s);
    }
    return worst;
}

enum st_status st_ops_run(const struct st_op *op, int count, const int *arg, const double *const reg[],
                          double *const out[], size_t n)
{
    enum st_status worst = ST_OK;
    switch (op->code) {
    case ST_OP_ADD: add(op, count, reg, out, n); return ST_OK;
    case ST_OP_SUB: sub(op, count, reg, out, n); return ST_OK;
    case ST_OP_MUL: mul(op, count, reg, out, n); return ST_OK;
    case ST_OP_RATIO: ratio(op, count, reg, out, n); return ST_OK;
    case ST_OP_MIN: smaller(op, count, reg, out, n); return ST_OK;
    case ST_OP_MAX: larger(op, count, reg, out, n); return ST_OK;
    case ST_OP_MADD: madd(op, count, reg, out, n); return ST_OK;
    default: break;
    }
    for (int k = 0; k < count; k++) {
        double *y = out[op[k].dst];
        enum st_status s = ST_E_DOMAIN;
        if (op[k].code == ST_OP_DENSITY)
            s = density(arg + op[k].a, reg, n, y);
        else if (op[k].code == ST_OP_INDEX)
            s = property(arg + op[k].a, reg, n, st_n_mixture_n, y);
        else if (op[k].code == ST_OP_BRIX)
            s = curve(n, reg[op[k].a], st_brix_from_n_n, y);
        else if (op[k].code == ST_OP_SPIRIT)
            s = curve(n, reg[op[k].a], st_p_from_strength_n, y);
        worst = st_status_worse(worst, s);
    }
    return worst;
}

enum st_status st_op_run(const struct st_op *op, const int *arg, const double *const reg[], double *y, size_t n)
{
    struct st_op one = *op;
    one.dst = 0;
    return st_ops_run(&one, 1, arg, reg, &y, n);
}
