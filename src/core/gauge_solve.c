#include "gauge_solve.h"

#include <math.h>

#include "strength.h"

static double density_of(const struct st_mix *mix, const double w[ST_NCOMP])
{
    struct st_columns col;
    double rho;
    for (int c = 0; c < ST_NCOMP; c++) col.c[c] = &w[c];
    st_mix_rho_block(mix, 1, &col, &rho);
    return rho;
}

static double index_of(const struct st_refract *r, const double w[ST_NCOMP])
{
    struct st_columns col;
    double n;
    for (int c = 0; c < ST_NCOMP; c++) col.c[c] = &w[c];
    st_index_block(r, 1, &col, &n);
    return n;
}

void st_gauge_prepare(struct problem *p, double acid_g_l, double invert_share)
{
    (void)st_mix_at(ST_T20, &p->mix_20);
    p->rho_ethanol = st_ew_rho(&p->mix_20.ew, 1.0);
    p->acid_g_l = acid_g_l;
    p->invert_share = invert_share;
}

static void compose(const struct problem *p, const double x[2], double acid, double w[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++) w[c] = 0.0;
    w[ST_ETHANOL] = x[0];
    w[ST_SUCROSE] = (1.0 - p->invert_share) * x[1];
    w[ST_GLUCOSE] = 0.5 * p->invert_share * x[1];
    w[ST_FRUCTOSE] = 0.5 * p->invert_share * x[1];
    w[ST_ACID] = acid;
    w[ST_WATER] = 1.0 - x[0] - x[1] - acid;
}

/* Acid is known in g/L, so its fraction hangs on the density: repeated until it stands (each time the change
 * shrinks by more than ten). */
void st_gauge_liquid(const struct problem *p, const double x[2], double w[ST_NCOMP], double *rho_20)
{
    double acid = 0.001 * p->acid_g_l;
    compose(p, x, p->acid_g_l > 0.0 ? acid : 0.0, w);
    *rho_20 = density_of(&p->mix_20, w);
    for (int i = 0; i < 40 && p->acid_g_l > 0.0; i++) {
        const double next = p->acid_g_l / *rho_20;
        const bool stands = fabs(next - acid) <= 1e-16;
        acid = next;
        compose(p, x, acid, w);
        *rho_20 = density_of(&p->mix_20, w);
        if (stands) break;
    }
}

double st_gauge_residual(const struct problem *p, const struct reading *r, const double w[ST_NCOMP], bool warmer)
{
    const struct st_refract *at = warmer ? &r->warmer : &r->at;
    const double target = warmer ? r->target_warmer : r->target;
    double model = 0.0;
    switch (r->kind) {
    case READ_DENSITY: model = density_of(&at->mix, w); break;
    case READ_INDEX: model = index_of(at, w); break;
    case READ_STRENGTH: model = 100.0 * w[ST_ETHANOL] * density_of(&p->mix_20, w) / p->rho_ethanol; break;
    case READ_SUGAR: model = st_mixture_sugars(w) * density_of(&p->mix_20, w); break;
    }
    return (model - target) / r->scale;
}

static void residuals(const struct problem *p, const double x[2], double f[2])
{
    double w[ST_NCOMP], rho;
    st_gauge_liquid(p, x, w, &rho);
    f[0] = st_gauge_residual(p, &p->a, w, false);
    f[1] = st_gauge_residual(p, &p->b, w, false);
}

static void outputs(const struct problem *p, const double x[2], double f[2])
{
    double w[ST_NCOMP], rho;
    st_gauge_liquid(p, x, w, &rho);
    f[0] = 100.0 * x[0] * rho / p->rho_ethanol;
    f[1] = x[1] * rho;
}

typedef void function_2(const struct problem *p, const double x[2], double f[2]);

static void differences(function_2 *g, const struct problem *p, const double x[2], double J[4])
{
    static const double h = 1e-5;
    for (int j = 0; j < 2; j++) {
        double up[2] = { x[0], x[1] }, down[2] = { x[0], x[1] }, f_up[2], f_down[2];
        up[j] += h;
        down[j] -= h;
        g(p, up, f_up);
        g(p, down, f_down);
        J[j] = (f_up[0] - f_down[0]) / (2.0 * h);
        J[2 + j] = (f_up[1] - f_down[1]) / (2.0 * h);
    }
}

void st_gauge_jacobian(const struct problem *p, const double x[2], double J[4])
{
    differences(residuals, p, x, J);
}

void st_gauge_output_jacobian(const struct problem *p, const double x[2], double J[4])
{
    differences(outputs, p, x, J);
}

/* Inside the box where the formulas can be carried: a little below 0, and with water left. */
static bool inside(const struct problem *p, const double x[2])
{
    return x[0] >= -0.15 && x[1] >= -0.30 && x[1] <= 0.90
           && 1.0 - x[0] - x[1] - 0.001 * p->acid_g_l >= -1e-3 && x[0] <= 1.0;
}

/* One damped Newton step from x, f: halved until it stays in the box and the residual falls.  False when no
 * step helps. */
static bool step(const struct problem *p, double x[2], double f[2])
{
    double J[4];
    st_gauge_jacobian(p, x, J);
    const double det = J[0] * J[3] - J[1] * J[2];
    if (!(fabs(det) > 0.0)) return false;
    const double d0 = (J[3] * f[0] - J[1] * f[1]) / det, d1 = (J[0] * f[1] - J[2] * f[0]) / det;
    const double before = hypot(f[0], f[1]);
    double part = 2.0;
    for (int halving = 0; halving < 20; halving++) {
        part *= 0.5;
        const double y[2] = { x[0] - part * d0, x[1] - part * d1 };
        double g[2];
        if (!inside(p, y)) continue;
        residuals(p, y, g);
        if (!(hypot(g[0], g[1]) < before)) continue;
        x[0] = y[0];
        x[1] = y[1];
        f[0] = g[0];
        f[1] = g[1];
        return true;
    }
    return false;
}

/* Newton until the residual stands at the rounding of the formulas. */
static bool newton(const struct problem *p, double x[2], int *iterations)
{
    double f[2];
    residuals(p, x, f);
    for (int i = 0; i < 60 && hypot(f[0], f[1]) > 1e-12; i++) {
        ++*iterations;
        if (!step(p, x, f)) break;
    }
    return hypot(f[0], f[1]) < 1e-8;
}

int st_gauge_solve(const struct problem *p, double x[ST_GAUGE_STARTS][2], int *iterations)
{
    static const double start[ST_GAUGE_STARTS][2] = {
        { 0.20, 0.20 }, { 0.05, 0.05 }, { 0.40, 0.30 }, { 0.70, 0.02 },
    };
    int found = 0;
    for (int i = 0; i < ST_GAUGE_STARTS; i++) {
        double y[2] = { start[i][0], start[i][1] };
        if (!newton(p, y, iterations)) continue;
        bool known = false;
        for (int j = 0; j < found; j++)
            known = known || (fabs(x[j][0] - y[0]) < 1e-6 && fabs(x[j][1] - y[1]) < 1e-6);
        if (known) continue;
        x[found][0] = y[0];
        x[found][1] = y[1];
        found++;
    }
    return found;
}
