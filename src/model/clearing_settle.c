#include <math.h>

#include "clearing.h"
#include "clearing_inside.h"
#include "core/density_mixture.h"
#include "core/settling.h"
#include "core/strength.h"
#include "core/viscosity.h"

static const double JAR_M = 0.10;
/* Soaked flesh is a sixth dry matter of 1500 kg/m3: 80 kg/m3 heavier than water.  Oil droplets: from memory. */
static const double DRY_SHARE = 1.0 / 6.0, DRY_KG_M3 = 1500.0, OIL_KG_M3 = 870.0;
/* How far the times may be wrong (95 %, from memory): the viscosity of a sweetened spirit by a third (viscosity.h), the
 * excess weight of a grain by half. */
static const double VISCOSITY_BY = 1.0 / 3.0, EXCESS_BY = 0.5;
/* Less sugar than this, g/L, counts as the same liquid. */
static const double AS_SWEET = 20.0;

const struct st_grain st_grain[ST_GRAINS] = {
    { 50e-6, "flesh you can see, 50 \xc2\xb5m", false },        { 5e-6, "clouding pulp, 5 \xc2\xb5m", false },
    { 1e-6, "haze of protein or tannin, 1 \xc2\xb5m", false },  { 0.2e-6, "the finest of it, 0.2 \xc2\xb5m", false },
    { 1e-6, "droplets of oil, 1 \xc2\xb5m (they rise)", true },
};

static double excess_of(const struct st_grain *g, double rho)
{
    return g->oil ? OIL_KG_M3 - rho : DRY_SHARE * (DRY_KG_M3 - rho);
}

static bool days(const struct st_grain *g, double rho, double eta, double height, struct st_interval *day)
{
    double v, t;
    if (st_settling_speed(g->d_m, excess_of(g, rho), eta, 0.0, &v) < 0 || st_settling_time(height, v, &t) < 0)
        return false;
    const double d = t / 86400.0, by = 1.0 + hypot(VISCOSITY_BY, EXCESS_BY);
    *day = (struct st_interval){ d, d / by, d * by, ST_ESTIMATED, d < ST_SETTLES_NEVER_DAY };
    return true;
}

enum st_status st_settle_in(const double w[ST_NCOMP], double height, struct st_settling_jar *jar)
{
    struct st_settling_jar j = { .known = true, .step = jar->step };
    double rho, eta;
    if (!(height > 0.0 && height <= 10.0))
        return ST_E_DOMAIN;
    const enum st_status dense = st_density_mixture(w, ST_T20, &rho), thick = st_viscosity(w, ST_T20, &eta);
    j.status = st_status_worse(dense, thick);
    if (j.status < 0 || st_strength_mixture(w, &j.strength) < 0)
        return j.status < 0 ? j.status : ST_E_REFUSED;
    j.density = rho;
    j.eta = eta;
    j.sugar = st_mixture_sugars(w) * rho;
    for (int i = 0; i < ST_GRAINS; i++)
        if (!days(&st_grain[i], rho, eta, height, &j.day[i]))
            j.day[i] = (struct st_interval){ .known = false };
    *jar = j;
    return j.status;
}

/* The liquid alone: what lies in it does not count. */
static bool liquid_of(const double g[ST_NCOMP], double w[ST_NCOMP])
{
    double m[ST_NCOMP];
    for (int i = 0; i < ST_NCOMP; i++)
        m[i] = i == ST_SOLIDS ? 0.0 : g[i];
    return st_mixture_from_masses(m, w) >= 0;
}

/* ---- when the sugar comes ---- */

/* Step t holds what came out of step s. */
static bool comes_from(const struct st_recipe *r, int t, int s)
{
    bool holds[ST_CLEARING_STEPS] = { false };
    holds[s] = true;
    for (int k = s + 1; k <= t; k++)
        for (int i = 0; i < r->step[k].n_line; i++)
            holds[k] = holds[k] || (!r->step[k].line[i].what && r->step[k].line[i].from_step >= 0 &&
                                    holds[r->step[k].line[i].from_step]);
    return holds[t];
}

/* Sugar, syrup or what was boiled to one is poured in this step. */
static bool gets_sugar(const struct st_recipe *r, const struct st_step *step)
{
    for (int i = 0; i < step->n_line; i++) {
        const struct st_line *l = &step->line[i];
        const enum st_kind k = l->what ? l->what->kind : ST_KIND_OTHER;
        if (k == ST_KIND_SUGAR || k == ST_KIND_SYRUP ||
            (!l->what && l->from_step >= 0 && r->step[l->from_step].kind == ST_DO_SYRUP))
            return true;
    }
    return false;
}

/* The steep that gives most of the drink: what has to settle comes from there; -1 none. */
static int largest_steep(const struct st_recipe *r, const struct st_foretold *f, const double reach[])
{
    int best = -1;
    for (int s = 0; s < r->n_step; s++)
        if (r->step[s].kind == ST_DO_STEEP && f->balance[s].status >= 0 &&
            (best < 0 || f->balance[s].volume_ml * reach[s] > f->balance[best].volume_ml * reach[best]))
            best = s;
    return best;
}

/* The largest liquor that has not had its sugar yet and holds what was steeped in `jar` (-1: any). */
static int before_sugar(const struct st_recipe *r, const struct st_foretold *f, const double reach[], double sugar,
                        int jar)
{
    int best = -1;
    double most = 0.0;
    for (int s = 0; s < r->n_step - 1; s++) {
        const struct st_balance *b = &f->balance[s];
        if (r->step[s].kind == ST_DO_SYRUP || b->status < 0 || !(b->strength > 1.0) || !(b->sugar < sugar - AS_SWEET))
            continue;
        if (jar >= 0 && (s < jar || !comes_from(r, s, jar)))
            continue;
        if (b->volume_ml * reach[s] >= most * 0.999) { /* the last of the same size: it has been strained */
            most = fmax(most, b->volume_ml * reach[s]);
            best = s;
        }
    }
    return best;
}

static enum st_sugar_when sugar_when(const struct st_recipe *r, int jar, int before)
{
    bool early = jar >= 0 && gets_sugar(r, &r->step[jar]), later = false;
    for (int s = 0; s < jar; s++)
        early = early || (gets_sugar(r, &r->step[s]) && r->step[s].kind != ST_DO_SYRUP && comes_from(r, jar, s));
    for (int s = before >= 0 ? before + 1 : r->n_step; s < r->n_step; s++)
        later = later || (gets_sugar(r, &r->step[s]) && comes_from(r, s, before));
    return early && later ? ST_SUGAR_PART_LATER : later ? ST_SUGAR_LATER : early ? ST_SUGAR_AT_ONCE : ST_SUGAR_NONE;
}

static double plain_eta(const double w[ST_NCOMP])
{
    double m[ST_NCOMP], plain[ST_NCOMP], eta;
    for (int i = 0; i < ST_NCOMP; i++)
        m[i] = w[i];
    m[ST_SUCROSE] = m[ST_GLUCOSE] = m[ST_FRUCTOSE] = 0.0;
    return st_mixture_from_masses(m, plain) >= 0 && st_viscosity(plain, ST_T20, &eta) >= 0 ? eta : (double)NAN;
}

enum st_status st_clearing_jars(const struct st_recipe *r, const struct st_foretold *f, struct st_clearing *out)
{
    double w[ST_NCOMP], reach[ST_CLEARING_STEPS];
    out->jar[ST_AFTER_SUGAR].step = r->n_step - 1;
    enum st_status s = liquid_of(f->final_g, w) ? st_settle_in(w, JAR_M, &out->jar[ST_AFTER_SUGAR]) : ST_E_DOMAIN;
    if (s < 0 || r->n_step > ST_CLEARING_STEPS)
        return s;
    out->plain_eta = plain_eta(w);
    st_clearing_reach(r, f, reach);
    const int jar = largest_steep(r, f, reach), before = before_sugar(r, f, reach, out->jar[ST_AFTER_SUGAR].sugar, jar);
    out->sugar_when = sugar_when(r, jar, before);
    if (before >= 0 && liquid_of(f->balance[before].mass_g, w)) {
        out->jar[ST_BEFORE_SUGAR].step = before;
        (void)st_settle_in(w, JAR_M, &out->jar[ST_BEFORE_SUGAR]);
    }
    return s;
}
