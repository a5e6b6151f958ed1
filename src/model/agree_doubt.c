#include <assert.h>
#include <math.h>

#include "agree_search.h"
#include "core/chi_square.h"

static const double RIVAL = 4.0;       /* in chi-square: two standard deviations */
static const double FAR_APART = 0.001; /* a chance: less of it, and no figure is told by all together */
static const double OUTLIER = 0.01;    /* a chance: from there on it is kept; [iso5725_2] 7.3.2 */

/* ---- whom to doubt ---- */

struct trial {
    bool cures;
    double chi2, p;
};

static struct trial without(struct agree_search *s, int i, struct st_reconciled *fit_)
{
    struct trial t = { .chi2 = (double)INFINITY };
    if (st_agree_fit(s, s->drink.P, i, fit_, NULL) < 0)
        return t;
    return (struct trial){ .cures = fit_->agree, .chi2 = fit_->chi2, .p = fit_->p };
}

/* The reading whose absence leaves the least, and the next that would do. */
static struct trial best_without(struct agree_search *s, int *best, int *rival)
{
    struct trial t[ST_AGREE_MOST];
    struct st_reconciled room;
    assert(s->drink.n > 0); /* nothing read, nothing doubted */
    *best = 0;
    *rival = -1;
    t[0] = without(s, 0, &room);
    for (int i = 1; i < s->drink.n; i++) {
        t[i] = without(s, i, &room);
        if (t[i].chi2 < t[*best].chi2)
            *best = i;
    }
    for (int i = 0; i < s->drink.n; i++)
        if (i != *best && t[i].cures && t[i].chi2 - t[*best].chi2 <= RIVAL &&
            (*rival < 0 || t[i].chi2 < t[*rival].chi2))
            *rival = i;
    return t[*best];
}

static void set_aside(struct agree_search *s, int i, struct st_agreement *out)
{
    struct st_reconciled rest;
    const struct trial t = without(s, i, &rest);
    if (isinf(t.chi2))
        return;
    st_agree_tell_figures(s, &rest, out->before, out->without);
    out->p_without = t.p;
    out->suspect = s->at[i];
    out->reading[out->suspect].others = st_agree_may_show(rest.fitted[i], rest.fitted_u[i]);
    out->slip = st_agree_slip_of(&s->drink, rest.x, &s->drink.reading[i], rest.fitted_u[i], &out->slip_value);
}

void st_agree_doubt(struct agree_search *s, const struct st_reconciled *all, struct st_agreement *out)
{
    int best, rival;
    const struct trial t = best_without(s, &best, &rival);
    if (s->drink.n == 1) {
        out->doubt = ST_DOUBT_EITHER;
        set_aside(s, 0, out);
    } else if (t.cures && all->suspect >= 0) {
        out->doubt = ST_DOUBT_READING;
        set_aside(s, best, out);
        out->rival = rival < 0 ? -1 : s->at[rival];
    } else if (out->p_alone >= ST_RECONCILE_WHOLE && !out->no_liquid) {
        out->doubt = ST_DOUBT_RECIPE;
        out->p_without = out->p_alone;
        for (int f = 0; f < ST_AGREE_NFIG; f++)
            out->without[f] = out->measured[f];
    } else {
        out->doubt = ST_DOUBT_UNCLEAR;
    }
}

/* ---- what is made of it ---- */

bool st_agree_together(const struct st_agreement *a)
{
    return a->doubt != ST_DOUBT_UNCLEAR && !(a->p < FAR_APART);
}

bool st_agree_alone(const struct st_agreement *a)
{
    return a->doubt != ST_DOUBT_UNCLEAR || isnan(a->p_alone);
}

bool st_agree_straggles(const struct st_agreement *a)
{
    double furthest = 0.0;
    int judged = 0;
    for (int i = 0; i < a->n; i++)
        if (a->reading[i].use == ST_AGREE_USED && isfinite(a->reading[i].standard)) {
            furthest = fmax(furthest, fabs(a->reading[i].standard));
            judged++;
        }
    /* as reconcile.h shares it out among all that can be judged */
    return !a->agree && a->p >= OUTLIER && judged * st_normal_beyond(furthest) >= OUTLIER;
}

bool st_agree_holds(const struct st_agreement *a)
{
    return a->agree || st_agree_straggles(a);
}

bool st_agree_goes_on(const struct st_agreement *a, int i)
{
    if (a->reading[i].use != ST_AGREE_USED)
        return false;
    return st_agree_holds(a) || (a->doubt == ST_DOUBT_READING && a->rival < 0 && i != a->suspect);
}
