#include <math.h>

#include "core/density_mixture.h"
#include "core/refraction.h"
#include "core/strength.h"
#include "tape.h"
#include "vector.h"

/* ---- plain arithmetic ---- */

ST_MODEL_CLONES static void add(size_t n, const double *a, const double *b, double *restrict y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = a[i] + b[i];
}

ST_MODEL_CLONES static void sub(size_t n, const double *a, const double *b, double *restrict y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = a[i] - b[i];
}

ST_MODEL_CLONES static void mul(size_t n, const double *a, const double *b, double *restrict y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = a[i]*b[i];
}

/* By arithmetic instead of a branch, so that the loop is vectorised: exact for b > 0. */
ST_MODEL_CLONES static void ratio(size_t n, const double *a, const double *b, double *restrict y)
{
    for (size_t i = 0; i < n; i++) {
        const double some = b[i] > 0.0 ? 1.0 : 0.0;
        y[i] = some*a[i]/(b[i] + (1.0 - some));
    }
}

ST_MODEL_CLONES static void smaller(size_t n, const double *a, const double *b, double *restrict y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = a[i] < b[i] ? a[i] : b[i];
}

ST_MODEL_CLONES static void larger(size_t n, const double *a, const double *b, double *restrict y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = a[i] > b[i] ? a[i] : b[i];
}

ST_MODEL_CLONES static void madd(size_t n, const double *a, const double *b, const double *c, double *restrict y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = a[i]*b[i] + c[i];
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
        sum[i] = 1.0/(sum[i] + nothing[i]);
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

static enum st_status property(const int arg[ST_NCOMP], const double *const reg[], size_t n, property_n *f, double *y)
{
    double room[ST_NCOMP][ST_TAPE_BLOCK], sum[ST_TAPE_BLOCK] = { 0 }, nothing[ST_TAPE_BLOCK];
    const double *w[ST_NCOMP] = { NULL };

    for (int c = 0; c < ST_NCOMP; c++)
        if (arg[c] != ST_ZERO)
            accumulate(n, reg[arg[c]], sum);
    invert_total(n, sum, nothing);
    for (int c = 0; c < ST_NCOMP; c++)
        if (arg[c] != ST_ZERO) {
            mul(n, reg[arg[c]], sum, room[c]);
            w[c] = room[c];
        }
    if (w[ST_WATER])
        accumulate(n, nothing, room[ST_WATER]);
    else
        w[ST_WATER] = nothing;
    const enum st_status s = f(n, w, ST_T20, y);
    return s < 0 ? one_by_one(n, w, f, y) : s;
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

enum st_status st_op_run(const struct st_op *op, const int *arg, const double *const reg[], double *y, size_t n)
{
    switch (op->code) {
    case ST_OP_ADD: add(n, reg[op->a], reg[op->b], y); return ST_OK;
    case ST_OP_SUB: sub(n, reg[op->a], reg[op->b], y); return ST_OK;
    case ST_OP_MUL: mul(n, reg[op->a], reg[op->b], y); return ST_OK;
    case ST_OP_RATIO: ratio(n, reg[op->a], reg[op->b], y); return ST_OK;
    case ST_OP_MIN: smaller(n, reg[op->a], reg[op->b], y); return ST_OK;
    case ST_OP_MAX: larger(n, reg[op->a], reg[op->b], y); return ST_OK;
    case ST_OP_MADD: madd(n, reg[op->a], reg[op->b], reg[op->c], y); return ST_OK;
    case ST_OP_DENSITY: return property(arg + op->a, reg, n, st_density_mixture_n, y);
    case ST_OP_INDEX: return property(arg + op->a, reg, n, st_n_mixture_n, y);
    case ST_OP_BRIX: return curve(n, reg[op->a], st_brix_from_n_n, y);
    case ST_OP_SPIRIT: return curve(n, reg[op->a], st_p_from_strength_n, y);
    case ST_NOP: break;
    }
    return ST_E_DOMAIN;
}
