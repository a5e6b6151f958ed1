#include "activity.h"

#include <math.h>
#include <stddef.h>

#include "basis.h"

/* g/mol */
static const double M_ETHANOL = 46.06844, M_WATER = 18.01528;

/* [vanlaar_ew], natural logarithms */
static const double A12 = 1.6798, A21 = 0.9227;

enum st_status st_activity_ethanol_water(double p, double *x_E, double *g_E, double *g_W)
{
    if (!(p >= 0.0 && p <= 1.0))
        return ST_E_DOMAIN;

    const double n_E = p / M_ETHANOL, n_W = (1.0 - p) / M_WATER;
    const double x = n_E / (n_E + n_W);
    /* A12 x/(A21 (1 - x)) without dividing by nothing at the pure ends */
    const double d = A12 * x + A21 * (1.0 - x);
    const double u = A21 * (1.0 - x) / d, v = A12 * x / d;
    *x_E = x;
    *g_E = exp(A12 * u * u);
    *g_W = exp(A21 * v * v);
    return ST_OK;
}

/* A solute: molar mass, g/mol, and square root of Norrish's K. */
struct solute {
    enum st_component c;
    double M;
    double root_K;
};

/* [norrish1966]: K 6.47 and 2.25; acid as citric, polyol as glycerol, both ideal */
static const struct solute SOLUTES[] = {
    { ST_SUCROSE, 342.2965, 2.5436194683953809 }, { ST_GLUCOSE, 180.156, 1.5 }, { ST_FRUCTOSE, 180.156, 1.5 },
    { ST_LACTOSE, 342.2965, 2.5436194683953809 }, { ST_ACID, 192.124, 0.0 },    { ST_POLYOL, 92.094, 0.0 },
};

enum st_status st_activity_sugar(const double w[ST_NCOMP], double *ln_a)
{
    struct st_basis b;
    const enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    if (!(w[ST_WATER] > 0.0) || b.dissolved > 0.85)
        return ST_E_REFUSED;

    const double n_W = w[ST_WATER] / M_WATER;
    double n_S = 0.0, root = 0.0;
    for (size_t i = 0; i < sizeof SOLUTES / sizeof SOLUTES[0]; i++) {
        const double n = w[SOLUTES[i].c] / SOLUTES[i].M;
        n_S += n;
        root += SOLUTES[i].root_K * n;
    }
    root /= n_W + n_S;
    *ln_a = -log1p(n_S / n_W) - root * root;

    return (b.others > ST_TRACE || !b.only_sucrose || b.s > 0.67) ? ST_ESTIMATED : ST_OK;
}

enum st_status st_water_activity(const double w[ST_NCOMP], double T, double *aw)
{
    struct st_basis b;
    enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    if (!(T > 0.0))
        return ST_E_DOMAIN;
    if (!(T >= 253.15 && T <= 373.15))
        return ST_E_REFUSED;

    double x_E = 0.0, g_E = 0.0, g_W = 0.0, ln_a = 0.0;
    if (w[ST_WATER] > 0.0)
        s = st_activity_sugar(w, &ln_a);
    else if (b.dissolved > 0.0)
        s = ST_E_REFUSED;
    if (s < 0)
        return s;
    s = st_status_worse(s, st_basis_kind(&b));
    s = st_status_worse(s, st_activity_ethanol_water(b.p, &x_E, &g_E, &g_W));
    *aw = (1.0 - x_E) * g_W * exp(ln_a);

    return st_status_worse(s, (T < 288.15 || T > 308.15) ? ST_EXTRAPOLATED : ST_OK);
}
