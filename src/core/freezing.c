#include "freezing.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "basis.h"

static const double T0 = 273.15; /* ice point, K */
static const double R = 8.314462618;

static double melinder(double p)
{
    /* [melinder2010]: K, in y = p - 0.292361 */
    static const double A[6] = { 253.74, -95.40, -26.48, 385.1, -28.58, -1670.0 };
    const double y = p - 0.292361;
    return A[0] + y * (A[1] + y * (A[2] + y * (A[3] + y * (A[4] + y * A[5]))));
}

/* [crc102] 60, 64 and 68 % mass, degC: the parabola through them, p in kg/kg */
static double crc_strong(double p)
{
    static const double t60 = -44.93, t64 = -47.52, t68 = -49.52;
    const double u = (p - 0.60) / 0.04;
    return T0 + t60 + u * ((t64 - t60) + (u - 1.0) * (t68 - 2.0 * t64 + t60) / 2.0);
}

enum st_status st_freezing_ethanol(double p, double *T)
{
    if (!(p >= 0.0 && p <= 1.0))
        return ST_E_DOMAIN;
    if (p > 0.68)
        return ST_E_REFUSED;

    if (p > 0.60) {
        /* the two differ by 0.02 K at 60 %; let that fade out at 68 % */
        const double step = melinder(0.60) - crc_strong(0.60);
        *T = crc_strong(p) + step * (0.68 - p) / 0.08;
    } else {
        const double residue = T0 - melinder(0.0);
        *T = melinder(p) + (p < 0.05 ? residue * (1.0 - p / 0.05) : 0.0);
    }
    return ST_OK;
}

/* Logarithm of the activity of ice at T, referred to undercooled pure water. */
static double ln_ice(double T)
{
    return -(6008.8 / R) * (1.0 / T - 1.0 / T0) + (38.1 / R) * (T0 / T - 1.0 - log(T0 / T));
}

/* A solute: molar mass, g/mol; ln a = -c m - b m^2 in its binary with water. */
struct solute {
    enum st_component c;
    double M;
    double linear;
    double root_b;
};

/* Fits of ours to [crc102], to the rows named in docs/sources.md: sucrose 0.01771687 and 0.00227361 (0.015 K),
 * glucose 0.018015 (ideal) and 0.00067162 (0.017 K) */
static const struct solute SOLUTES[] = {
    { ST_SUCROSE, 342.2965, 0.01771687, 0.047682386 },
    { ST_GLUCOSE, 180.156, 0.018015, 0.025915553 },
    { ST_FRUCTOSE, 180.156, 0.018015, 0.025915553 },
    { ST_LACTOSE, 342.2965, 0.01771687, 0.047682386 },
    { ST_ACID, 192.124, 0.018015, 0.0 },
    { ST_POLYOL, 92.094, 0.018015, 0.0 },
};

static double ln_solutes(const double w[ST_NCOMP])
{
    double sum = 0.0, root = 0.0;
    for (size_t i = 0; i < sizeof SOLUTES / sizeof SOLUTES[0]; i++) {
        const double m = 1000.0 * w[SOLUTES[i].c] / (SOLUTES[i].M * w[ST_WATER]);
        sum += SOLUTES[i].linear * m;
        root += SOLUTES[i].root_b * m;
    }
    return -sum - root * root;
}

/* The T at which ice has this activity; the caller made sure that it lies in 173.15..273.15 K. */
static double ice_temperature(double ln_a)
{
    double low = 173.15, high = T0;
    for (int i = 0; i < 64 && high - low > 1e-9; i++) {
        const double mid = 0.5 * (low + high);
        if (ln_ice(mid) < ln_a)
            low = mid;
        else
            high = mid;
    }
    return 0.5 * (low + high);
}

static enum st_status freezing_status(const double w[ST_NCOMP], const struct st_basis *b)
{
    const bool glucose_alone = b->sugars - w[ST_GLUCOSE] <= ST_TRACE;

    if (!b->sugar && b->others <= ST_TRACE)
        return ST_OK;
    if (b->ethanol || b->others > ST_TRACE || !(b->only_sucrose || glucose_alone))
        return ST_ESTIMATED;
    return b->s > (b->only_sucrose ? 0.42 : 0.30) ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_freezing_point(const double w[ST_NCOMP], double *T_K)
{
    struct st_basis b;
    double T_E = 0.0;
    enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    s = st_freezing_ethanol(b.p, &T_E);
    if (s < 0)
        return s;
    if (b.dissolved > 0.70)
        return ST_E_REFUSED;

    double T = T_E;
    if (b.dissolved > 0.0) {
        const double ln_a = ln_ice(T_E) + ln_solutes(w);
        if (ln_a < ln_ice(193.15))
            return ST_E_REFUSED;
        T = ice_temperature(ln_a);
    }
    *T_K = T;
    return freezing_status(w, &b);
}
