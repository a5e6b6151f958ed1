#include "heat_capacity.h"

#include "basis.h"
#include "freezing.h"

/* [melinder2010]: sum C[i][j] tau^i y^j, J/(kg K) */
static double melinder(double p, double T)
{
    static const double C[4][6] = {
        { 4204.0, -2102.0, -3714.0, 17430.0, -6292.0, -82900.0 },
        { 2.319, 49.27, -23.35, -296.9, 535.3, 0.0 },
        { -0.03042, -0.3072, -0.196, 1.901, 0.0, 0.0 },
        { 6.86e-4, -5.69e-3, 7.461e-3, 0.0, 0.0, 0.0 },
    };
    const double tau = T - 281.3078, y = p - 0.292361;
    double cp = 0.0;
    for (int i = 3; i >= 0; i--) {
        double row = 0.0;
        for (int j = 5; j >= 0; j--)
            row = row * y + C[i][j];
        cp = cp * tau + row;
    }
    return cp;
}

enum st_status st_heat_capacity_ethanol(double p, double T, double *cp)
{
    static const double cp_pure = 2438.0; /* ethanol at 25 C, from memory */

    if (!(p >= 0.0 && p <= 1.0) || !(T > 0.0))
        return ST_E_DOMAIN;
    if (T < 228.15 || T > 343.15)
        return ST_E_REFUSED;

    const double T_fit = T > 313.15 ? 313.15 : T; /* the cubic in tau runs away above its range */
    if (p > 0.60) {
        const double edge = melinder(0.60, T_fit);
        *cp = edge + (cp_pure - edge) * (p - 0.60) / 0.40;
        return ST_ESTIMATED;
    }
    *cp = melinder(p, T_fit);

    double T_ice = 0.0;
    const enum st_status s = st_freezing_ethanol(p, &T_ice);
    return (s < 0 || T < T_ice || T > 313.15) ? ST_EXTRAPOLATED : ST_OK;
}

/* Heat capacity of the solvent, brought to the sugar line's 4184 where there is no ethanol. */
static enum st_status solvent(double p, double T, double *cp)
{
    double c = 0.0, c_water = 0.0;
    const enum st_status s = st_heat_capacity_ethanol(p, T, &c);
    if (s < 0)
        return s;
    if (p < 0.05) {
        const enum st_status t = st_heat_capacity_ethanol(0.0, T, &c_water);
        if (t < 0)
            return t;
        c += (4184.0 - c_water) * (1.0 - p / 0.05);
    }
    *cp = c;
    return s;
}

enum st_status st_heat_capacity(const double w[ST_NCOMP], double T_K, double *cp)
{
    struct st_basis b;
    double c = 0.0;
    enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    s = solvent(b.p, T_K, &c);
    if (s < 0)
        return s;

    const double share = w[ST_WATER] + w[ST_ETHANOL];
    *cp = share * c + (1.0 - share) * (1673.0 + 7.5 * (T_K - 273.15)); /* [sugar_cp] */

    if (st_basis_kind(&b) != ST_OK)
        return ST_ESTIMATED;
    if (b.sugar) /* sugar and water: its own line, not the polynomial's limits */
        return T_K < 273.15 ? ST_EXTRAPOLATED : ST_OK;
    return s;
}
