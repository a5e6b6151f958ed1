#include <math.h>

#include "agree_inside.h"
#include "core/gauge.h"
#include "core/strength.h"

/* Slips that people make with an instrument, each as the reading it would have given.  All of them common practice or the
 * arithmetic of units; no source. */

static const double NORMAL_975 = 1.959963984540054;
static const double COLDEST = 273.15, WARMEST = 312.0;  /* K: where a drink is read, and the rules of ethanol end */
static const double WARM_LEAST = 2.5, WARM_MOST = 18.0; /* K off; less is the thermometer's own error */
static const double SG_MARK = 0.010, BRIX_MARK = 1.0;   /* between two numbers on a common scale */
static const double METRIC_CUP = 250.0, US_CUP = 236.588;
static const double CITRIC = 64.04, TARTARIC = 75.04, SULPHURIC = 49.04; /* g/mol for one proton */

struct slip_case {
    const struct agree_drink *d;
    const double *x;
    const struct agree_reading *r;
    double foretold; /* what the reading should have been */
    double half;     /* half of 95 % of their difference */
    double m[ST_NCOMP];
};

/* Whether a slip that shows `would` explains what was read. */
static bool explains(const struct slip_case *c, double would)
{
    return fabs(c->r->y - would) <= c->half;
}

static double shows(const struct slip_case *c, enum st_shows what, double T)
{
    double y;
    return st_drink_reading(c->m, what, T, c->r->flask_ml, &y) < 0 ? (double)NAN : y;
}

/* ---- the slips: true and *value where one explains it ---- */

typedef bool slip_test(const struct slip_case *c, double *value);

static double off_at(const struct slip_case *c, double T)
{
    struct agree_reading r = *c->r;
    double y;
    r.T = T;
    return st_agree_shown(c->d, c->x, &r, &y) < 0 ? (double)NAN : y - c->r->y;
}

/* By halving: a drink is the lighter the warmer it is. */
static bool warm(const struct slip_case *c, double *value)
{
    double low = COLDEST, high = WARMEST;
    if (!(off_at(c, low) > 0.0) || !(off_at(c, high) < 0.0))
        return false;
    for (int i = 0; i < 50; i++) {
        const double middle = 0.5 * (low + high);
        if (off_at(c, middle) > 0.0)
            low = middle;
        else
            high = middle;
    }
    *value = low;
    return fabs(low - c->r->T) >= WARM_LEAST && fabs(low - c->r->T) <= WARM_MOST;
}

static bool one_mark(const struct slip_case *c, double *value)
{
    const double mark = c->r->what == ST_SEEN_BRIX ? BRIX_MARK : SG_MARK;
    *value = c->r->y > c->foretold ? mark : -mark;
    return explains(c, c->foretold + *value);
}

/* Sugar and water alone, as many grams as in the drink. */
static bool sugar_alone(const struct slip_case *c, double *value)
{
    struct slip_case dry = *c;
    dry.m[ST_WATER] += dry.m[ST_ETHANOL];
    dry.m[ST_ETHANOL] = 0.0;
    *value = shows(&dry, ST_SHOWS_BRIX, ST_T20);
    return explains(c, *value);
}

static bool not_compensated(const struct slip_case *c, double *value)
{
    *value = c->r->T;
    return explains(c, shows(c, ST_SHOWS_BRIX_PLAIN, c->r->T));
}

/* The strength of spirit and water as dense as this drink. */
static bool spirit_hydrometer(const struct slip_case *c, double *value)
{
    const double rho = shows(c, ST_SHOWS_DENSITY, ST_T20);
    double low = 0.0, high = 100.0, spirit;
    for (int i = 0; i < 50; i++) {
        const double middle = 0.5 * (low + high);
        if (st_spirit_density(middle, &spirit) < 0)
            return false;
        if (spirit > rho)
            low = middle;
        else
            high = middle;
    }
    *value = low;
    return explains(c, low);
}

static bool proof(const struct slip_case *c, double *value)
{
    *value = 2.0 * c->foretold;
    return fabs(c->r->y - *value) <= 2.0 * c->half;
}

static double grams(const struct slip_case *c)
{
    return shows(c, ST_SHOWS_MASS, ST_T20);
}

static bool by_mass(const struct slip_case *c, double *value)
{
    *value = 100.0 * c->m[ST_ETHANOL] / grams(c);
    return explains(c, *value);
}

static bool brix_as_sugar(const struct slip_case *c, double *value)
{
    *value = 0.01 * shows(c, ST_SHOWS_BRIX, ST_T20) * shows(c, ST_SHOWS_DENSITY, ST_T20);
    return explains(c, *value) || explains(c, 10.0 * shows(c, ST_SHOWS_BRIX, ST_T20));
}

static bool sg_as_sugar(const struct slip_case *c, double *value)
{
    double sg;
    return st_drink_reading(c->m, ST_SHOWS_SG, ST_T20, 0.0, &sg) >= 0 && st_extract_from_residue(sg, value) >= 0 &&
           explains(c, *value);
}

static bool per_kg(const struct slip_case *c, double *value)
{
    *value = 1000.0 * st_mixture_sugars(c->m) / grams(c);
    return explains(c, *value);
}

static bool as_tartaric(const struct slip_case *c, double *value)
{
    *value = c->foretold * TARTARIC / CITRIC;
    return explains(c, *value);
}

static bool as_sulphuric(const struct slip_case *c, double *value)
{
    *value = c->foretold * SULPHURIC / CITRIC;
    return explains(c, *value);
}

static bool other_cup(const struct slip_case *c, double *value)
{
    *value = c->r->y > c->foretold ? METRIC_CUP / US_CUP : US_CUP / METRIC_CUP;
    return explains(c, c->foretold * *value);
}

static bool lost(const struct slip_case *c, double *value)
{
    *value = c->foretold - c->r->y;
    return *value > 0.0;
}

/* A flask that holds up to a sixth more or less than was thought. */
static bool wrong_flask(const struct slip_case *c, double *value)
{
    *value = c->r->flask_ml * c->r->y / c->foretold;
    return fabs(*value / c->r->flask_ml - 1.0) <= 1.0 / 6.0;
}

static bool vessel_weighed(const struct slip_case *c, double *value)
{
    *value = c->r->y - c->foretold;
    return *value > 0.0;
}

/* Sugar as dense as that in so much less water. */
static bool not_made_up(const struct slip_case *c, double *value)
{
    *value = (c->foretold - 1.0) / (c->r->y - 1.0);
    return c->r->y > c->foretold && *value >= 0.5 && *value < 1.0;
}

static bool not_boiled_off(const struct slip_case *c, double *value)
{
    *value = shows(c, ST_SHOWS_SG, c->r->T);
    return c->r->y < c->foretold && c->r->y >= *value - c->half;
}

/* The likelier first. */
static const struct {
    enum st_seen what;
    enum st_agree_slip slip;
    slip_test *test;
} SLIPS[] = {
    { ST_SEEN_SG, ST_SLIP_WARM, warm },
    { ST_SEEN_SG, ST_SLIP_ONE_MARK, one_mark },
    { ST_SEEN_BRIX, ST_SLIP_SUGAR_ALONE, sugar_alone },
    { ST_SEEN_BRIX, ST_SLIP_NOT_COMPENSATED, not_compensated },
    { ST_SEEN_BRIX, ST_SLIP_ONE_MARK, one_mark },
    { ST_SEEN_STRENGTH, ST_SLIP_SPIRIT_HYDROMETER, spirit_hydrometer },
    { ST_SEEN_STRENGTH, ST_SLIP_PROOF, proof },
    { ST_SEEN_STRENGTH, ST_SLIP_BY_MASS, by_mass },
    { ST_SEEN_SUGAR, ST_SLIP_BRIX_AS_SUGAR, brix_as_sugar },
    { ST_SEEN_SUGAR, ST_SLIP_SG_AS_SUGAR, sg_as_sugar },
    { ST_SEEN_SUGAR, ST_SLIP_PER_KG, per_kg },
    { ST_SEEN_ACID, ST_SLIP_AS_TARTARIC, as_tartaric },
    { ST_SEEN_ACID, ST_SLIP_AS_SULPHURIC, as_sulphuric },
    { ST_SEEN_LIQUOR_ML, ST_SLIP_OTHER_CUP, other_cup },
    { ST_SEEN_LIQUOR_ML, ST_SLIP_LOST, lost },
    { ST_SEEN_LIQUOR_G, ST_SLIP_LOST, lost },
    { ST_SEEN_LIQUOR_G, ST_SLIP_VESSEL_WEIGHED, vessel_weighed },
    { ST_SEEN_FLASK_G, ST_SLIP_WRONG_FLASK, wrong_flask },
    { ST_SEEN_FLASK_G, ST_SLIP_VESSEL_WEIGHED, vessel_weighed },
    { ST_SEEN_SG_BOILED, ST_SLIP_NOT_MADE_UP, not_made_up },
    { ST_SEEN_SG_BOILED, ST_SLIP_NOT_BOILED_OFF, not_boiled_off },
};

enum st_agree_slip st_agree_slip_of(const struct agree_drink *d, const double x[], const struct agree_reading *r,
                                    double fitted_u, double *value)
{
    struct slip_case c = { .d = d, .x = x, .r = r, .half = NORMAL_975 * hypot(r->u, fitted_u) };
    *value = 0.0;
    if (st_agree_shown(d, x, r, &c.foretold) < 0)
        return ST_SLIP_NONE;
    st_agree_masses(d, x, c.m);
    for (size_t i = 0; i < sizeof SLIPS / sizeof *SLIPS; i++) {
        double found = 0.0;
        if (SLIPS[i].what == r->what && SLIPS[i].test(&c, &found)) {
            *value = found;
            return SLIPS[i].slip;
        }
    }
    return ST_SLIP_NONE;
}
