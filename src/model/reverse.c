#include "reverse.h"

#include <math.h>
#include <string.h>

#include "core/strength.h"
#include "core/water.h"
#include "text.h"

/* ---- spirit and water ---- */

struct two {
    double p_from, p_to, rho_from, rho_to, rho_water; /* kg/kg, kg/m3 at 20 C */
};

static enum st_status two_strengths(double from, double to, struct two *t)
{
    if (!(to > 0.0 && to <= from && from <= 100.0))
        return ST_E_DOMAIN;
    if (st_p_from_strength(from, &t->p_from) < 0 || st_p_from_strength(to, &t->p_to) < 0 ||
        st_spirit_density(from, &t->rho_from) < 0 || st_spirit_density(to, &t->rho_to) < 0 ||
        st_density_water(ST_T20, &t->rho_water) < 0)
        return ST_E_DOMAIN;
    return ST_OK;
}

static void fill(const struct two *t, double spirit_g, struct st_dilution *out)
{
    out->spirit_g = spirit_g;
    out->spirit_ml = 1000.0 * spirit_g / t->rho_from;
    out->made_g = spirit_g * t->p_from / t->p_to;
    out->made_ml = 1000.0 * out->made_g / t->rho_to;
    out->water_g = out->made_g - spirit_g;
    out->water_ml = 1000.0 * out->water_g / t->rho_water;
    out->shrinks_ml = out->spirit_ml + out->water_ml - out->made_ml;
}

enum st_status st_dilute_all(double from, double to, double have_ml, struct st_dilution *out)
{
    struct two t;
    if (!(have_ml > 0.0 && have_ml < 1e9) || two_strengths(from, to, &t) < 0)
        return ST_E_DOMAIN;
    fill(&t, have_ml * t.rho_from * 1e-3, out);
    return ST_OK;
}

enum st_status st_dilute_make(double from, double to, double make_ml, struct st_dilution *out)
{
    struct two t;
    if (!(make_ml > 0.0 && make_ml < 1e9) || two_strengths(from, to, &t) < 0)
        return ST_E_DOMAIN;
    fill(&t, make_ml * t.rho_to * 1e-3 * t.p_to / t.p_from, out);
    return ST_OK;
}

/* ---- bottles of spirit ---- */

enum st_status st_whole_bottles(double spirit_ml, double bottle_ml, double times, double *bottles, double *factor)
{
    if (!(spirit_ml > 0.0 && bottle_ml > 0.0 && times > 0.0) || !isfinite(spirit_ml * times / bottle_ml))
        return ST_E_DOMAIN;
    *bottles = fmax(round(spirit_ml * times / bottle_ml), 1.0);
    *factor = *bottles * bottle_ml / spirit_ml;
    return ST_OK;
}

enum st_status st_spirit_in(const struct st_recipe *r, double *ml)
{
    double sum = 0.0;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (!l->what || l->what->kind != ST_KIND_SPIRIT)
                continue;
            if (l->amount.dim != ST_DIM_VOLUME || l->amount.open != ST_CLOSED || l->amount.make_up_to)
                return ST_E_REFUSED;
            sum += l->amount.value;
        }
    if (!(sum > 0.0))
        return ST_E_REFUSED;
    *ml = sum;
    return ST_OK;
}

/* ---- the same bottle ---- */

static enum st_status refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    memset(p, 0, sizeof *p);
    st_say(p->what, sizeof p->what, what, NULL, NULL);
    st_say(p->why, sizeof p->why, why, NULL, NULL);
    st_say(p->try_, sizeof p->try_, try_, NULL, NULL);
    return ST_E_REFUSED;
}

enum st_status st_aim_same_bottle(struct st_aim *a, int step, int line, double strength, struct st_problem *problem)
{
    static const struct {
        enum st_figure of;
        double tolerance, least;
    } SAME[] = { { ST_FIG_STRENGTH, 0.5, 0.0 }, { ST_FIG_SUGAR, 5.0, 0.0 }, { ST_FIG_VOLUME, 20.0, 0.0 } };
    struct st_foretold out;

    if (!st_aim_free_strength(a, step, line, strength, strength, ST_BOUND_ASKED))
        return refuse(problem, "cannot change the strength there", "it is no line of spirit",
                      "name the line of a spirit");
    struct st_plan *p = st_plan_create(a->recipe, problem);
    if (!p)
        return ST_E_REFUSED;
    const struct st_options o = { .draws = 0 };
    const enum st_status s = st_plan_run(p, &o, &out);
    for (size_t i = 0; s >= 0 && i < sizeof SAME / sizeof *SAME; i++)
        if (out.fig[SAME[i].of].known)
            (void)st_aim_wish(a, SAME[i].of, out.fig[SAME[i].of].value, out.fig[SAME[i].of].value,
                              SAME[i].of == ST_FIG_VOLUME ? fmax(0.02 * out.fig[SAME[i].of].value, 1.0)
                                                          : SAME[i].tolerance);
    st_foretold_done(&out);
    st_plan_free(p);
    return s;
}

/* ---- over the fruit ---- */

static enum st_status steep_at(const struct st_plan *p, int step, double pct_vol, double *strength)
{
    struct st_foretold out;
    const struct st_options o = { .draws = 0 };
    const enum st_status s = st_plan_run_at(p, &o, &pct_vol, &out);
    if (s >= 0)
        *strength = out.balance[step].strength_in_steep;
    st_foretold_done(&out);
    return s;
}

/* Illinois between a and b, where the steep is fa below and fb above what is wished. */
static enum st_status between(const struct st_plan *p, int step, double wish, double a, double fa, double b, double fb,
                              double *pct_vol)
{
    enum st_status s = ST_OK;
    for (int i = 0; i < 60; i++) {
        const double x = (a * fb - b * fa) / (fb - fa);
        double f;
        s = steep_at(p, step, x, &f);
        if (s < 0)
            return s;
        f -= wish;
        if (fabs(f) < 1e-9 || fabs(b - a) < 1e-9) {
            *pct_vol = x;
            return s;
        }
        if ((f > 0.0) == (fb > 0.0))
            fa *= 0.5;
        else {
            a = b;
            fa = fb;
        }
        b = x;
        fb = f;
    }
    return ST_E_NOCONV;
}

enum st_status st_spirit_for(const struct st_recipe *r, int step, int line, double strength, double *pct_vol,
                             struct st_problem *problem)
{
    const struct st_dial dial = { step, line, ST_DIAL_STRENGTH };
    static const double WEAKEST = 1.0, STRONGEST = 96.0;
    double low, high;

    struct st_plan *p = st_plan_create_dials(r, &dial, 1, problem);
    if (!p)
        return ST_E_REFUSED;
    enum st_status s = ST_E_REFUSED;
    if (r->step[step].kind != ST_DO_STEEP)
        s = refuse(problem, "nothing is steeped there", "that step is no steep", "name a step with fruit and spirit");
    else if (steep_at(p, step, WEAKEST, &low) < 0 || steep_at(p, step, STRONGEST, &high) < 0)
        s = refuse(problem, "cannot foresee this jar", "the recipe cannot be done at 1 or at 96 % vol",
                   "look at its amounts");
    else if (!(low <= strength && high >= strength))
        s = refuse(problem, "no spirit leaves that strength over this fruit",
                   low > strength ? "even the weakest leaves more" : "even 96 % vol leaves less",
                   low > strength ? "wish for more" : "take more spirit, or less fruit");
    else
        s = between(p, step, strength, WEAKEST, low - strength, STRONGEST, high - strength, pct_vol);
    st_plan_free(p);
    return s;
}

/* ---- a jar ---- */

enum st_status st_fits_jar(const struct st_recipe *r, double ml, double *factor, int *step, struct st_problem *problem)
{
    double most = 0.0;
    enum st_status s = ST_OK;
    struct st_plan *p = st_plan_create(r, problem);
    if (!p)
        return ST_E_REFUSED;
    for (int i = 0; i < r->n_step && s >= 0; i++) {
        double fill_ml = 0.0;
        if (!(r->step[i].vessel_ml > 0.0) && r->step[i].kind != ST_DO_STEEP)
            continue;
        struct st_jars *j = st_jars_create(p, &(struct st_aim_limit){ .of = ST_LIMIT_JAR, .step = i }, 1);
        s = j ? st_jars_at(j, NULL, &fill_ml) : ST_E_NOCONV;
        st_jars_free(j);
        if (s >= 0 && fill_ml > most) {
            most = fill_ml;
            *step = i;
        }
    }
    st_plan_free(p);
    if (s >= 0 && !(most > 0.0 && ml > 0.0))
        return refuse(problem, "no jar is filled", "the recipe steeps nothing", "name a recipe with a steep");
    if (s >= 0)
        *factor = ml / most;
    return s;
}
