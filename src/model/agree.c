#include "agree.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "agree_inside.h"
#include "core/chi_square.h"
#include "core/strength.h"

static const double NORMAL_975 = 1.959963984540054;
static const double THERMOMETER = 0.5, UNSAID = 2.0; /* K; common practice, no source */
static const double RIVAL = 4.0;                     /* in chi-square: two standard deviations */
static const double FAR_APART = 0.001;               /* a chance: less of it, and no figure is told by all together */
static const double OUTLIER = 0.01;                  /* a chance: from there on it is kept; [iso5725_2] 7.3.2 */
static const double WARM_MATTERS = 0.25; /* of a reading's own: from here on the missing temperature is told */
static const double DETERMINED = 0.05;   /* of the standard deviation that knowing nothing has */

static const struct st_interval NOT_KNOWN = { .value = (double)NAN, .low = (double)NAN, .high = (double)NAN };

enum { M_MOST = ST_AGREE_MOST + ST_AGREE_NFIG };

/* Room for one search; static sizes, since both are small. */
struct room {
    double work[4 * AGREE_N * AGREE_N + M_MOST * AGREE_N + 2 * (AGREE_N + M_MOST) + (AGREE_N + M_MOST) * AGREE_N +
                4 * AGREE_N * AGREE_N + 6 * AGREE_N];
};

/* What is gone through. */
struct search {
    struct agree_drink drink;
    const int *of;                    /* [ST_NSEEN] readings of each kind that come along */
    int at[ST_AGREE_MOST];            /* which of the caller's readings the i-th used is */
    double sd_before[ST_AGREE_NFIG];  /* of each figure, as the recipe has it */
    double fig_before[ST_AGREE_NFIG]; /* at the means */
    struct room room;
};

enum st_figure st_agree_figure_of(enum st_agree_figure f)
{
    static const enum st_figure OF[ST_AGREE_NFIG] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_VOLUME, ST_FIG_ACID };
    return (unsigned)f < ST_AGREE_NFIG ? OF[f] : ST_NFIG;
}

/* ---- one search ---- */

static enum st_status all_shown(const double x[], double y[], void *arg)
{
    const struct agree_drink *d = arg;
    enum st_status s = ST_OK;
    for (int i = 0; i < d->n + ST_AGREE_NFIG && s >= 0; i++)
        s = st_status_worse(s, st_agree_shown(d, x, &d->reading[i], &y[i]));
    return s;
}

/* With aside: one reading, -1 none, or ALL of them. */
enum { NONE = -1, ALL = -2 };

static enum st_status fit(struct search *s, const double P[], int aside, struct st_reconciled *out, double C[])
{
    struct agree_drink *d = &s->drink;
    double y[M_MOST], u[M_MOST];
    bool left[M_MOST];
    const int m = d->n + ST_AGREE_NFIG;
    for (int i = 0; i < m; i++) {
        y[i] = d->reading[i].y;
        u[i] = d->reading[i].u;
        left[i] = i >= d->n || aside == ALL || i == aside;
    }
    const struct st_reconcile p = {
        .n = AGREE_N, .m = m, .x0 = d->x0, .P = P, .y = y, .u = u, .aside = left, .f = all_shown, .arg = d
    };
    if (st_reconcile_work(AGREE_N, m) > sizeof s->room.work / sizeof *s->room.work)
        return ST_E_DOMAIN;
    return st_reconcile_readings(&p, s->room.work, out, C);
}

/* ---- readings taken in ---- */

static enum st_agree_use use_of(const struct agree_drink *d, const struct st_observation *o, struct agree_reading *r)
{
    static const bool SAYS[ST_NSEEN] = {
        [ST_SEEN_DRAINED_G] = true, [ST_SEEN_LIQUOR_ML] = true, [ST_SEEN_LIQUOR_G] = true, [ST_SEEN_SG] = true,
        [ST_SEEN_BRIX] = true,      [ST_SEEN_STRENGTH] = true,  [ST_SEEN_SUGAR] = true,    [ST_SEEN_ACID] = true,
        [ST_SEEN_FLASK_G] = true,   [ST_SEEN_SG_BOILED] = true
    };
    double y;
    if (!SAYS[o->what])
        return ST_AGREE_OTHER_KIND;
    if (o->of && *o->of)
        return ST_AGREE_OF_ONE;
    if (o->what == ST_SEEN_DRAINED_G && d->n_drained > 1 && r->steep < 0)
        return ST_AGREE_WHICH_STEEP;
    return st_agree_shown(d, d->x0, r, &y) < 0 ? ST_AGREE_NOT_FORETOLD : ST_AGREE_USED;
}

/* What an error of the thermometer does to the reading. */
static double by_warmth(const struct agree_drink *d, const struct agree_reading *r, double u_T)
{
    struct agree_reading warm = *r, cold = *r;
    double up, down;
    if (!st_agree_is_warm(r->what))
        return 0.0;
    warm.T += 0.5;
    cold.T -= 0.5;
    if (st_agree_shown(d, d->x0, &warm, &up) < 0 || st_agree_shown(d, d->x0, &cold, &down) < 0)
        return 0.0;
    return (up - down) * u_T;
}

static int how_many(const struct agree_drink *d, const struct agree_reading *of)
{
    int n = 0;
    for (int i = 0; i < d->n; i++)
        n += d->reading[i].what == of->what && d->reading[i].steep == of->steep;
    return n;
}

/* What each counts with, once all are known. */
static void weigh_in(struct search *s, const struct st_observation seen[], struct st_agreement *out)
{
    struct agree_drink *d = &s->drink;
    for (int i = 0; i < d->n; i++) {
        struct agree_reading *r = &d->reading[i];
        const struct st_observation *o = &seen[s->at[i]];
        struct st_agree_reading *a = &out->reading[s->at[i]];
        const bool told = isfinite(o->temperature_K);
        const double own = o->sd > 0.0 ? o->sd : st_seen_usual_sd(o->what, o->value);
        const double warm = by_warmth(d, r, told ? THERMOMETER : UNSAID);
        a->u = r->u = hypot(own * st_agree_as_one_of(s->of[r->what], how_many(d, r)), warm);
        a->warm_unsaid = !told && st_agree_is_warm(o->what) && fabs(warm) >= WARM_MATTERS * own;
        out->warm_unsaid = out->warm_unsaid || a->warm_unsaid;
    }
}

/* The steep whose drained solids were weighed; -1: nobody said, and there are several. */
static int steep_of(const struct st_observation *o, const struct st_agree_drained *drained)
{
    if (o->what != ST_SEEN_DRAINED_G || !drained)
        return -1;
    for (int k = 0; k < drained->n; k++)
        if (o->jar && strcmp(o->jar, drained->jar[k]) == 0)
            return k;
    return drained->n == 1 ? 0 : -1;
}

static enum st_status take_in(struct search *s, const struct st_observation seen[], int n,
                              const struct st_agree_drained *drained, struct st_agreement *out)
{
    struct agree_drink *d = &s->drink;
    for (int i = 0; i < n; i++) {
        const struct st_observation *o = &seen[i];
        const bool told = isfinite(o->temperature_K);
        if (!st_seen_info(o->what) || !isfinite(o->value) || isnan(o->sd))
            return ST_E_DOMAIN;
        struct agree_reading r = { .what = o->what,
                                   .T = told ? o->temperature_K : ST_T20,
                                   .flask_ml = o->flask_ml,
                                   .y = o->value,
                                   .steep = steep_of(o, drained) };
        struct st_agree_reading *a = &out->reading[i];
        *a = (struct st_agree_reading){ .standard = (double)NAN, .what = o->what, .steep = r.steep };
        a->use = use_of(d, o, &r);
        if (a->use != ST_AGREE_USED)
            continue;
        out->refractometer = out->refractometer || o->what == ST_SEEN_BRIX;
        s->at[d->n] = i;
        d->reading[d->n++] = r;
    }
    weigh_in(s, seen, out);
    static const enum st_seen FIGURE[ST_AGREE_NFIG] = { ST_SEEN_STRENGTH, ST_SEEN_SUGAR, ST_SEEN_LIQUOR_ML,
                                                        ST_SEEN_ACID };
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        d->reading[d->n + f] = (struct agree_reading){ .what = FIGURE[f], .T = ST_T20, .u = 1.0 };
    return ST_OK;
}

/* ---- figures ---- */

/* Note 5: shape of the draws where little was learnt, normal where much was.  r: standard deviation after over before. */
static double half_after(double half, double sd_before, double r)
{
    return fmin(r * (sd_before * NORMAL_975 * (1.0 - r * r) + half * r * r), half);
}

static struct st_interval moved(const struct st_interval *b, double fit_before, double sd_before, double fit_after,
                                double sd_after)
{
    struct st_interval out = *b;
    if (!b->known || !(sd_before > 0.0))
        return out;
    const double r = fmin(sd_after / sd_before, 1.0), middle = fit_after + (b->value - fit_before) * r * r;
    const double high = middle + half_after(b->high - b->value, sd_before, r);
    if (high < 0.0) /* what fits best is less than nothing: it supports no interval */
        return NOT_KNOWN;
    out.value = fmax(middle, 0.0);
    out.low = fmax(middle - half_after(b->value - b->low, sd_before, r), 0.0);
    out.high = high;
    return out;
}

static void tell_figures(const struct search *s, const struct st_reconciled *fit_, const struct st_interval before[],
                         struct st_interval out[])
{
    const int n = s->drink.n;
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        out[f] = moved(&before[f], s->fig_before[f], s->sd_before[f], fit_->fitted[n + f], fit_->fitted_u[n + f]);
}

/* Of a reading: none of them can show less than nothing. */
static struct st_interval shown(double value, double u)
{
    return (struct st_interval){ .value = fmax(value, 0.0),
                                 .low = fmax(value - NORMAL_975 * u, 0.0),
                                 .high = fmax(value + NORMAL_975 * u, 0.0),
                                 .known = true };
}

static struct st_interval plain(double value, double u)
{
    return (struct st_interval){
        .value = value, .low = value - NORMAL_975 * u, .high = value + NORMAL_975 * u, .known = true
    };
}

static void tell_readings(const struct search *s, const struct st_reconciled *before, const struct st_reconciled *after,
                          struct st_agreement *out)
{
    for (int i = 0; i < s->drink.n; i++) {
        struct st_agree_reading *a = &out->reading[s->at[i]];
        a->before = shown(before->fitted[i], before->fitted_u[i]);
        a->after = shown(after->fitted[i], after->fitted_u[i]);
        a->standard = after->standard[i];
        a->redundancy = after->redundancy[i];
    }
}

/* ---- the readings alone ---- */

/* Which of the unknowns the readings are to find by themselves: ethanol and sugar; the whole, where it was weighed or
 * measured (else what acid weighs would be a share of nobody knows what). */
struct open {
    bool whole, acid, drained[ST_AGREE_STEEPS];
    double grams, variance; /* of the whole, by the recipe */
};

static struct open what_is_open(const struct agree_drink *d)
{
    struct open o = { .whole = false };
    for (int i = 0; i < d->n; i++) {
        const enum st_seen what = d->reading[i].what;
        o.whole = o.whole || what == ST_SEEN_LIQUOR_ML || what == ST_SEEN_LIQUOR_G;
        o.acid = o.acid || what == ST_SEEN_ACID;
        if (what == ST_SEEN_DRAINED_G)
            o.drained[d->reading[i].steep] = true;
    }
    for (int a = AGREE_ETHANOL; a <= AGREE_WATER; a++) {
        o.grams += d->x0[a];
        for (int b = AGREE_ETHANOL; b <= AGREE_WATER; b++)
            o.variance += d->P[a * AGREE_N + b];
    }
    return o;
}

/* Forget unknown a: by itself, with this variance. */
static void forget(double P[AGREE_N * AGREE_N], int a, double variance)
{
    for (int b = 0; b < AGREE_N; b++)
        P[a * AGREE_N + b] = P[b * AGREE_N + a] = a == b ? variance : 0.0;
}

/* What it is to know nothing of strength and sugar: each mass as uncertain as the whole is heavy, the water what they
 * leave of it. */
static void know_nothing(const struct agree_drink *d, const struct open *o, double P[AGREE_N * AGREE_N])
{
    const double flat = o->grams * o->grams;
    for (int a = 0; a < AGREE_N * AGREE_N; a++)
        P[a] = d->P[a];
    forget(P, AGREE_ETHANOL, flat);
    forget(P, AGREE_SUGAR, flat);
    forget(P, AGREE_WATER, 2.0 * flat + (o->whole ? flat : o->variance));
    if (o->acid)
        forget(P, AGREE_ACID, flat);
    for (int k = 0; k < ST_AGREE_STEEPS; k++)
        if (o->drained[k])
            forget(P, AGREE_DRAINED + k, flat);
    P[AGREE_ETHANOL * AGREE_N + AGREE_WATER] = P[AGREE_WATER * AGREE_N + AGREE_ETHANOL] = -flat;
    P[AGREE_SUGAR * AGREE_N + AGREE_WATER] = P[AGREE_WATER * AGREE_N + AGREE_SUGAR] = -flat;
}

/* The variance of unknown a. */
static double variance(const double C[AGREE_N * AGREE_N], int a)
{
    return C[(size_t)a * (AGREE_N + 1)];
}

/* How many unknowns the readings found by themselves; C: covariance after. */
static int found(const struct open *o, const double C[AGREE_N * AGREE_N])
{
    static const int SUM[3] = { AGREE_ETHANOL, AGREE_SUGAR, AGREE_WATER };
    const double flat = o->grams * o->grams;
    double whole = 0.0, n = 2.0;
    n -= (variance(C, AGREE_ETHANOL) + variance(C, AGREE_SUGAR)) / flat;
    for (int a = 0; a < 3; a++)
        for (int b = 0; b < 3; b++)
            whole += C[SUM[a] * AGREE_N + SUM[b]];
    n += o->whole ? 1.0 - whole / flat : 0.0;
    n += o->acid ? 1.0 - variance(C, AGREE_ACID) / flat : 0.0;
    for (int k = 0; k < ST_AGREE_STEEPS; k++)
        n += o->drained[k] ? 1.0 - variance(C, AGREE_DRAINED + k) / flat : 0.0;
    return (int)floor(n + 0.5);
}

/* Strength and sugar found by the readings alone, which no liquid has. */
static bool is_no_liquid(const struct st_reconciled *nothing, const struct st_reconciled *alone, int n)
{
    const int q = n + ST_AGREE_STRENGTH, g = n + ST_AGREE_SUGAR;
    const double *x = alone->fitted, *u = alone->fitted_u;
    return (u[q] < DETERMINED * nothing->fitted_u[q] && x[q] - NORMAL_975 * u[q] > 100.0) ||
           (u[g] < DETERMINED * nothing->fitted_u[g] && x[g] + NORMAL_975 * u[g] < 0.0);
}

/* measured, p_alone, no_liquid. */
static void tell_alone(struct search *s, struct st_agreement *out)
{
    double P[AGREE_N * AGREE_N], C[AGREE_N * AGREE_N], p;
    struct st_reconciled nothing, alone;
    const struct open o = what_is_open(&s->drink);
    const int n = s->drink.n;
    know_nothing(&s->drink, &o, P);
    if (n == 0 || fit(s, P, ALL, &nothing, NULL) < 0 || fit(s, P, NONE, &alone, C) < 0)
        return;
    out->no_liquid = is_no_liquid(&nothing, &alone, n);
    for (int f = 0; f < ST_AGREE_NFIG && !out->no_liquid; f++) {
        const bool kept = (f == ST_AGREE_ACID && !o.acid) || (f == ST_AGREE_VOLUME && !o.whole);
        const double u = alone.fitted_u[n + f];
        if (kept || !(u < DETERMINED * nothing.fitted_u[n + f]) || alone.fitted[n + f] + NORMAL_975 * u < 0.0)
            continue;
        out->measured[f] = plain(fmax(alone.fitted[n + f], 0.0), u);
        out->measured[f].low = fmax(out->measured[f].low, 0.0);
        out->measured[f].status = out->before[f].status;
    }
    const int df = n - found(&o, C);
    if (df >= 1 && st_chi_square_above(alone.chi2, df, &p) >= 0)
        out->p_alone = p;
}

/* ---- whom to doubt ---- */

struct trial {
    bool cures;
    double chi2, p;
};

static struct trial without(struct search *s, int i, struct st_reconciled *fit_)
{
    struct trial t = { .chi2 = (double)INFINITY };
    if (fit(s, s->drink.P, i, fit_, NULL) < 0)
        return t;
    return (struct trial){ .cures = fit_->agree, .chi2 = fit_->chi2, .p = fit_->p };
}

/* The reading whose absence leaves the least, and the next that would do. */
static struct trial best_without(struct search *s, int *best, int *rival)
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

static void set_aside(struct search *s, int i, struct st_agreement *out)
{
    struct st_reconciled rest;
    const struct trial t = without(s, i, &rest);
    if (isinf(t.chi2))
        return;
    tell_figures(s, &rest, out->before, out->without);
    out->p_without = t.p;
    out->suspect = s->at[i];
    out->reading[out->suspect].others = shown(rest.fitted[i], rest.fitted_u[i]);
    out->slip = st_agree_slip_of(&s->drink, rest.x, &s->drink.reading[i], rest.fitted_u[i], &out->slip_value);
}

static void doubt(struct search *s, const struct st_reconciled *all, struct st_agreement *out)
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

/* ---- the whole ---- */

static void begin(const struct st_foretold *told, int n, struct st_agreement *out)
{
    *out = (struct st_agreement){ .n = n, .agree = true, .p = 1.0, .suspect = -1, .rival = -1 };
    out->p_without = out->p_alone = (double)NAN;
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        out->before[f] = told->fig[st_agree_figure_of((enum st_agree_figure)f)];
        out->carried[f] = out->measured[f] = out->without[f] = NOT_KNOWN;
    }
}

/* By how much each unknown moves figure f, at x; false where nothing foretells it. */
static bool slopes(const struct agree_drink *d, const double x[], int f, double g[AGREE_N])
{
    const struct agree_reading *r = &d->reading[d->n + f];
    for (int a = 0; a < AGREE_N; a++) {
        double at[AGREE_N], up, down;
        const double h = 1e-5 * fmax(fabs(x[a]), 0.1);
        memcpy(at, x, sizeof at);
        at[a] = x[a] + h;
        if (st_agree_shown(d, at, r, &up) < 0)
            return false;
        at[a] = x[a] - h;
        if (st_agree_shown(d, at, r, &down) < 0)
            return false;
        g[a] = (up - down) / (2.0 * h);
    }
    return true;
}

/* Correlation of strength and sugar at x with covariance C; 0 where one of them is exact. */
static double correlation(const struct agree_drink *d, const double x[], const double C[AGREE_N * AGREE_N])
{
    double q[AGREE_N], s[AGREE_N], qs = 0.0, qq = 0.0, ss = 0.0;
    if (!slopes(d, x, ST_AGREE_STRENGTH, q) || !slopes(d, x, ST_AGREE_SUGAR, s))
        return 0.0;
    for (int a = 0; a < AGREE_N; a++)
        for (int b = 0; b < AGREE_N; b++) {
            const double c = C[a * AGREE_N + b];
            qs += q[a] * c * s[b];
            qq += q[a] * c * q[b];
            ss += s[a] * c * s[b];
        }
    return qq > 0.0 && ss > 0.0 ? fmin(fmax(qs / sqrt(qq * ss), -1.0), 1.0) : 0.0;
}

/* What comes of a drink's readings, for those that came of it. */
struct after {
    double x[AGREE_N], C[AGREE_N * AGREE_N];
    int used, of[ST_NSEEN]; /* 0: nothing goes on */
};

/* By the recipe alone, then with what comes along, which is what the readings are held against. */
static enum st_status held_against(struct search *s, const double x[], const double P[], int n_carried,
                                   struct st_reconciled *before, struct st_agreement *out)
{
    struct st_reconciled carried;
    enum st_status status = fit(s, s->drink.P, ALL, before, NULL);
    if (status < 0)
        return status;
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        s->fig_before[f] = before->fitted[s->drink.n + f];
        s->sd_before[f] = before->fitted_u[s->drink.n + f];
    }
    out->n_carried = n_carried;
    if (n_carried == 0)
        return status;
    memcpy(s->drink.x0, x, sizeof s->drink.x0);
    memcpy(s->drink.P, P, sizeof s->drink.P);
    status = fit(s, s->drink.P, ALL, &carried, NULL);
    if (status >= 0)
        tell_figures(s, &carried, out->before, out->carried);
    return status;
}

/* What goes on from here (agree_on.h Note 3). */
static void go_on(struct search *s, const struct st_reconciled *all, const double C[], const struct st_agreement *out,
                  struct after *to)
{
    struct st_reconciled rest;
    int aside = NONE;
    for (int i = 0; i < s->drink.n; i++) {
        const bool goes = st_agree_goes_on(out, s->at[i]);
        to->used += goes;
        to->of[s->drink.reading[i].what] += goes;
        aside = s->at[i] == out->suspect ? i : aside;
    }
    memcpy(to->x, all->x, sizeof to->x);
    memcpy(to->C, C, sizeof to->C);
    if (to->used == 0 || to->used == s->drink.n)
        return;
    if (fit(s, s->drink.P, aside, &rest, to->C) >= 0)
        memcpy(to->x, rest.x, sizeof to->x);
    else
        *to = (struct after){ .used = 0 };
}

static enum st_status judge(struct search *s, const double x[], const double P[], int n_carried,
                            struct st_agreement *out, struct after *to)
{
    double C[AGREE_N * AGREE_N];
    struct st_reconciled before, after;
    enum st_status status = held_against(s, x, P, n_carried, &before, out);
    if (status >= 0)
        status = fit(s, s->drink.P, NONE, &after, C);
    if (status < 0)
        return status;
    out->correlation = correlation(&s->drink, after.x, C);
    tell_readings(s, &before, &after, out);
    tell_figures(s, &after, out->before, out->after);
    tell_alone(s, out);
    out->chi2 = after.chi2;
    out->df = after.df;
    out->p = after.p;
    out->agree = after.agree;
    if (!after.agree)
        doubt(s, &after, out);
    go_on(s, &after, C, out, to);
    return ST_OK;
}

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

/* One drink after the other; d[n]: by the recipe alone, o[n]: begun. */
static enum st_status one_by_one(const struct st_agree_part part[], int n_part, const struct agree_drink d[],
                                 struct agree_joint *joint, struct st_agreement o[])
{
    int of[ST_NSEEN] = { 0 }, carried = 0;
    enum st_status status = ST_OK;
    for (int k = 0; k < n_part && status >= 0; k++) {
        struct search s = { .drink = d[k], .of = of };
        struct after to = { .used = 0 };
        status = take_in(&s, part[k].seen, part[k].n, part[k].drained, &o[k]);
        if (status >= 0)
            status = judge(&s, joint->x + (size_t)k * AGREE_N, st_agree_joint_block(joint, k, k), carried, &o[k], &to);
        if (status < 0 || to.used == 0)
            continue;
        if (k + 1 < n_part)
            status = st_agree_joint_learn(joint, k, to.x, to.C);
        carried += to.used;
        for (int i = 0; i < ST_NSEEN; i++)
            of[i] += to.of[i];
    }
    return status;
}

static enum st_status all_drinks(const struct st_agree_part part[], int n_part, struct agree_drink d[],
                                 struct st_agreement o[])
{
    struct agree_joint joint = { .n = 0 };
    enum st_status status = ST_OK;
    for (int k = 0; k < n_part && status >= 0; k++) {
        if (part[k].n < 0 || part[k].n > ST_AGREE_MOST || part[k].told->draws != part[0].told->draws)
            return ST_E_DOMAIN;
        status = st_agree_before(&d[k], part[k].told, part[k].drained);
        begin(part[k].told, part[k].n, &o[k]);
    }
    if (status >= 0)
        status = st_agree_joint_begin(&joint, n_part) ? ST_OK : ST_E_NOCONV;
    if (status >= 0)
        st_agree_joint_draws(&joint, part, d);
    if (status >= 0)
        status = one_by_one(part, n_part, d, &joint, o);
    st_agree_joint_done(&joint);
    return status;
}

enum st_status st_agree_on(const struct st_agree_part part[], int n_part, struct st_agreement out[])
{
    if (n_part < 1 || n_part > ST_AGREE_PARTS)
        return ST_E_DOMAIN;
    struct agree_drink *d = calloc((size_t)n_part, sizeof *d);
    struct st_agreement *o = calloc((size_t)n_part, sizeof *o);
    enum st_status status = d && o ? all_drinks(part, n_part, d, o) : ST_E_NOCONV;
    if (status >= 0)
        memcpy(out, o, (size_t)n_part * sizeof *out);
    for (int f = 0; f < ST_AGREE_NFIG && status >= 0; f++)
        if (o[n_part - 1].before[f].known)
            status = st_status_worse(status, o[n_part - 1].before[f].status);
    free(d);
    free(o);
    return status;
}

enum st_status st_agree(const struct st_foretold *told, const struct st_observation seen[], int n,
                        const struct st_agree_drained *drained, struct st_agreement *out)
{
    return st_agree_on(&(struct st_agree_part){ .told = told, .drained = drained, .seen = seen, .n = n }, 1, out);
}
