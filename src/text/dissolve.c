#include "dissolve.h"

#include "core/solubility.h"

static const double T20_K = 293.15;

/* 1 when all of the sugar dissolves in this much more water, 0 when not; negative when nobody knows. */
static int dissolves(double sugar, double water, double ethanol, enum st_status *s)
{
    const double all = sugar + water + ethanol;
    double w[ST_NCOMP] = { 0.0 }, most = 0.0;

    w[ST_WATER] = water/all;
    w[ST_ETHANOL] = ethanol/all;
    w[ST_SUCROSE] = 1.0 - w[ST_WATER] - w[ST_ETHANOL];
    *s = st_sucrose_solubility(w, T20_K, &most);
    return *s < 0 ? -1 : sugar/all <= most;
}

enum st_status st_water_to_dissolve(const double g[ST_NCOMP], double *more)
{
    const double sugar = g[ST_SUCROSE] > 0.0 ? g[ST_SUCROSE] : st_mixture_sugars(g), step = 0.1;
    enum st_status s = ST_OK;
    double less = 0.0, enough = sugar;

    if (!(sugar > 0.0) || (g[ST_WATER] > 0.0 && dissolves(sugar, g[ST_WATER], g[ST_ETHANOL], &s) > 0)) {
        *more = 0.0;
        return s;
    }
    int got = dissolves(sugar, g[ST_WATER] + enough, g[ST_ETHANOL], &s);
    for (int i = 0; i < 10 && got == 0; i++) { /* strong spirit wants more */
        enough *= 2.0;
        got = dissolves(sugar, g[ST_WATER] + enough, g[ST_ETHANOL], &s);
    }
    if (got <= 0)
        return got < 0 ? s : ST_E_NOCONV;
    while (enough - less > step) {
        const double middle = 0.5*(less + enough);
        if (dissolves(sugar, g[ST_WATER] + middle, g[ST_ETHANOL], &s) > 0)
            enough = middle;
        else
            less = middle;
    }
    *more = enough;
    return s;
}

bool st_is_dry_sugar(const double g[ST_NCOMP])
{
    double all = 0.0;

    for (int i = 0; i < ST_NCOMP; i++)
        all += g[i];
    return st_mixture_sugars(g) > 0.5*all && g[ST_WATER] + g[ST_ETHANOL] < 0.1*all;
}
