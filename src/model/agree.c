#include "agree.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "agree_search.h"
#include "core/strength.h"

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

enum st_status st_agree_fit(struct agree_search *s, const double P[], int aside, struct st_reconciled *out, double C[])
{
    struct agree_drink *d = &s->drink;
    double y[AGREE_M_MOST], u[AGREE_M_MOST];
    bool left[AGREE_M_MOST];
    const int m = d->n + ST_AGREE_NFIG;
    for (int i = 0; i < m; i++) {
        y[i] = d->reading[i].y;
        u[i] = d->reading[i].u;
        left[i] = i >= d->n || aside == AGREE_WITH_NONE || i == aside;
    }
    const struct st_reconcile p = {
        .n = AGREE_N, .m = m, .x0 = d->x0, .P = P, .y = y, .u = u, .aside = left, .f = all_shown, .arg = d
    };
    if (st_reconcile_work(AGREE_N, m) > sizeof s->room.work / sizeof *s->room.work)
        return ST_E_DOMAIN;
    return st_reconcile_readings(&p, s->room.work, out, C);
}

/* ---- figures ---- */

/* Note 5: shape of the draws where little was learnt, normal where much was.  r: standard deviation after over before. */
static double half_after(double half, double sd_before, double r)
{
    return fmin(r * (sd_before * AGREE_NORMAL_975 * (1.0 - r * r) + half * r * r), half);
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
        return AGREE_NOT_KNOWN;
    out.value = fmax(middle, 0.0);
    out.low = fmax(middle - half_after(b->value - b->low, sd_before, r), 0.0);
    out.high = high;
    return out;
}

void st_agree_tell_figures(const struct agree_search *s, const struct st_reconciled *fit_,
                           const struct st_interval before[], struct st_interval out[])
{
    const int n = s->drink.n;
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        out[f] = moved(&before[f], s->fig_before[f], s->sd_before[f], fit_->fitted[n + f], fit_->fitted_u[n + f]);
}

static void tell_readings(const struct agree_search *s, const struct st_reconciled *before,
                          const struct st_reconciled *after, struct st_agreement *out)
{
    for (int i = 0; i < s->drink.n; i++) {
        struct st_agree_reading *a = &out->reading[s->at[i]];
        a->before = st_agree_may_show(before->fitted[i], before->fitted_u[i]);
        a->after = st_agree_may_show(after->fitted[i], after->fitted_u[i]);
        a->standard = after->standard[i];
        a->redundancy = after->redundancy[i];
    }
}

/* ---- the whole ---- */

static void begin(const struct st_foretold *told, int n, struct st_agreement *out)
{
    *out = (struct st_agreement){ .n = n, .agree = true, .p = 1.0, .suspect = -1, .rival = -1 };
    out->p_without = out->p_alone = (double)NAN;
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        out->before[f] = told->fig[st_agree_figure_of((enum st_agree_figure)f)];
        out->carried[f] = out->measured[f] = out->without[f] = AGREE_NOT_KNOWN;
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
static enum st_status held_against(struct agree_search *s, const double x[], const double P[], int n_carried,
                                   struct st_reconciled *before, struct st_agreement *out)
{
    struct st_reconciled carried;
    enum st_status status = st_agree_fit(s, s->drink.P, AGREE_WITH_NONE, before, NULL);
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
    status = st_agree_fit(s, s->drink.P, AGREE_WITH_NONE, &carried, NULL);
    if (status >= 0)
        st_agree_tell_figures(s, &carried, out->before, out->carried);
    return status;
}

/* What goes on from here (agree_on.h Note 3). */
static void go_on(struct agree_search *s, const struct st_reconciled *all, const double C[],
                  const struct st_agreement *out, struct after *to)
{
    struct st_reconciled rest;
    int aside = AGREE_WITH_ALL;
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
    if (st_agree_fit(s, s->drink.P, aside, &rest, to->C) >= 0)
        memcpy(to->x, rest.x, sizeof to->x);
    else
        *to = (struct after){ .used = 0 };
}

static enum st_status judge(struct agree_search *s, const double x[], const double P[], int n_carried,
                            struct st_agreement *out, struct after *to)
{
    double C[AGREE_N * AGREE_N];
    struct st_reconciled before, after;
    enum st_status status = held_against(s, x, P, n_carried, &before, out);
    if (status >= 0)
        status = st_agree_fit(s, s->drink.P, AGREE_WITH_ALL, &after, C);
    if (status < 0)
        return status;
    out->correlation = correlation(&s->drink, after.x, C);
    tell_readings(s, &before, &after, out);
    st_agree_tell_figures(s, &after, out->before, out->after);
    st_agree_tell_alone(s, out);
    out->chi2 = after.chi2;
    out->df = after.df;
    out->p = after.p;
    out->agree = after.agree;
    if (!after.agree)
        st_agree_doubt(s, &after, out);
    go_on(s, &after, C, out, to);
    return ST_OK;
}

/* One drink after the other; d[n]: by the recipe alone, o[n]: begun. */
static enum st_status one_by_one(const struct st_agree_part part[], int n_part, const struct agree_drink d[],
                                 struct agree_joint *joint, struct st_agreement o[])
{
    int of[ST_NSEEN] = { 0 }, carried = 0;
    enum st_status status = ST_OK;
    for (int k = 0; k < n_part && status >= 0; k++) {
        struct agree_search s = { .drink = d[k], .of = of };
        struct after to = { .used = 0 };
        status = st_agree_take_in(&s, part[k].seen, part[k].n, part[k].drained, &o[k]);
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
