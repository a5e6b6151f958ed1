#include <math.h>
#include <string.h>

#include "core/linear_program.h"
#include "correct_inside.h"

/* The least of a linear cost that reaches a certainty, by cutting planes. */

enum { MOST_TURNS = 80, DRAW = ST_CORRECT_THINGS };

/* The variables in use, each a column. */
struct cutting {
    const struct st_correct_search *s;
    int n, of[ST_CORRECT_VARIABLES], m;
    double cost[ST_CORRECT_VARIABLES], most[ST_CORRECT_VARIABLES];
    double A[ST_LP_ROWS * ST_CORRECT_VARIABLES], b[ST_LP_ROWS], work[ST_LP_WORK];
};

/* What can be asked of a point: how far each end is met (the lower ones of the wishes, the upper, and the same of where
 * the middle has to lie), and all together, times the volume, which makes them nearly linear in the amounts. */
enum { WISHES = 2 * ST_CORRECT_NFIG, ENDS = 2 * WISHES };

/* So near an end of where the middle has to lie counts as met: nobody can tell the two apart. */
static const double NEAR_ENOUGH = 1e-4;

struct level {
    struct st_correct_linear l;
    double v;        /* volume over what it was */
    double of[ENDS]; /* HUGE_VAL: not asked */
    double z;        /* the deviate */
};

static enum st_status figures_at(const struct st_correct_search *s, const double x[], struct st_correct_linear *l)
{
    struct st_correct_point p;
    if (s->middle) {
        double m[ST_NCOMP];
        st_correct_masses(s->base, x, x[DRAW], m);
        s->base->evaluations++;
        return st_correct_figures(1, 1, m, l->y);
    }
    st_correct_weighed(s->base, x, x[DRAW], &p);
    for (int i = 0; i < s->base->ask->n_thing; i++)
        if (!(s->most[i] > 0.0))
            p.with[i].own = 0.0;
    return st_correct_linearise(s->base, &p, l);
}

static void ends_of(const struct st_correct_search *s, struct level *at)
{
    const struct st_correct_wish *w = s->base->ask->wish;
    at->v = at->l.y[ST_CORRECT_VOLUME] / s->base->ask->batch.ml;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        const bool asked = w[f].asked && !s->middle;
        const double by = f == ST_CORRECT_VOLUME ? 1.0 : at->v, room = asked ? s->z * st_correct_sd(&at->l, f) : 0.0;
        const bool low = asked && w[f].low > -HUGE_VAL, high = asked && w[f].high < HUGE_VAL;
        at->of[f] = low ? by * (at->l.y[f] - w[f].low - room) : HUGE_VAL;
        at->of[ST_CORRECT_NFIG + f] = high ? by * (w[f].high - at->l.y[f] - room) : HUGE_VAL;
        at->of[WISHES + f] = s->low[f] > -HUGE_VAL ? by * (at->l.y[f] - s->low[f]) : HUGE_VAL;
        at->of[WISHES + ST_CORRECT_NFIG + f] = s->high[f] < HUGE_VAL ? by * (s->high[f] - at->l.y[f]) : HUGE_VAL;
    }
}

static enum st_status level_at(const struct st_correct_search *s, const double x[], struct level *at)
{
    const enum st_status status = figures_at(s, x, &at->l);
    if (status < 0)
        return status;
    ends_of(s, at);
    at->z = s->middle ? s->z : st_correct_deviate(s->base->ask, &at->l);
    return status;
}

static bool is_where_it_has_to(const struct level *at)
{
    bool there = true;
    for (int e = WISHES; e < ENDS; e++)
        there = there && at->of[e] >= -NEAR_ENOUGH;
    return there;
}

static bool is_there(const struct st_correct_search *s, const struct level *at)
{
    return at->z >= s->z - 1e-3 && is_where_it_has_to(at);
}

/* How the deviate changes on the way from one point to another, per step: so near the first that nothing moves by more
 * than a twentieth of its doubt. */
static double deviate_slope(const struct st_correct_ask *ask, const struct level *at, const struct level *to,
                            double step)
{
    double part = 1.0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (ask->wish[f].asked) {
            const double way = fabs(to->l.y[f] - at->l.y[f]) / st_correct_sd(&at->l, f);
            part = way * part > 0.05 ? 0.05 / way : part;
        }
    struct st_correct_linear l = at->l;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        l.y[f] += part * (to->l.y[f] - l.y[f]);
        l.sd[f] += part * (to->l.sd[f] - l.sd[f]);
        for (int j = 0; j < ST_CORRECT_INPUTS; j++)
            l.by[j][f] += part * (to->l.by[j][f] - l.by[j][f]);
    }
    return (st_correct_deviate(ask, &l) - at->z) / (part * step);
}

static void set_up(const struct st_correct_search *s, struct cutting *k)
{
    const struct st_correct_ask *ask = s->base->ask;
    k->s = s;
    k->n = k->m = 0;
    for (int i = 0; i < ST_CORRECT_VARIABLES; i++)
        if (s->most[i] > 0.0) {
            k->of[k->n] = i;
            k->cost[k->n] = s->cost[i];
            k->most[k->n] = s->most[i];
            k->n++;
        }
    if (ask->jar_ml > 0.0) { /* what stands in it while it is poured: -sum ml x + draw >= batch - jar */
        for (int j = 0; j < k->n; j++)
            k->A[j] = k->of[j] == DRAW ? 1.0 : -s->base->ml_of[k->of[j]];
        k->b[0] = ask->batch.ml - ask->jar_ml;
        k->m = 1;
    }
    if (s->moved_most_g < HUGE_VAL) {
        for (int j = 0; j < k->n; j++)
            k->A[k->m * k->n + j] = k->of[j] == DRAW ? -s->base->batch_g_ml : -s->base->g_of[k->of[j]];
        k->b[k->m++] = -s->moved_most_g;
    }
}

/* slope[n] of something that is value at x, which shall not be below 0. */
static void add_plane(struct cutting *k, const double x[], double value, const double slope[])
{
    if (k->m == ST_LP_ROWS)
        return;
    double *row = k->A + (size_t)k->m * (size_t)k->n, b = -value;
    for (int j = 0; j < k->n; j++) {
        row[j] = slope[j];
        b += slope[j] * x[k->of[j]];
    }
    k->b[k->m++] = b;
}

/* Planes through the point for what is missed there; false when there is none to add. */
static bool cut(struct cutting *k, const double x[], const struct level *at)
{
    const struct st_correct_search *s = k->s;
    struct level moved[ST_CORRECT_VARIABLES];
    const double h = 1e-4 * s->base->ask->batch.ml;
    double step[ST_CORRECT_VARIABLES], slope[ST_CORRECT_VARIABLES];
    const int before = k->m;
    for (int j = 0; j < k->n; j++) {
        double y[ST_CORRECT_VARIABLES];
        memcpy(y, x, sizeof y);
        step[j] = y[k->of[j]] + h > k->most[j] && y[k->of[j]] >= h ? -h : h;
        y[k->of[j]] += step[j];
        if (figures_at(s, y, &moved[j].l) < 0)
            return false;
        ends_of(s, &moved[j]);
    }
    for (int e = 0; e < ENDS; e++) {
        for (int j = 0; j < k->n; j++)
            slope[j] = (moved[j].of[e] - at->of[e]) / step[j];
        if (at->of[e] < 0.0)
            add_plane(k, x, at->of[e], slope);
    }
    /* where the middle is not yet where it has to be, the slope of the certainty says nothing of what it is there */
    if (at->z > ST_CORRECT_FAR && at->z < s->z && is_where_it_has_to(at)) {
        for (int j = 0; j < k->n; j++)
            slope[j] = (moved[j].v - at->v) / step[j] * (at->z - s->z) +
                       at->v * deviate_slope(s->base->ask, at, &moved[j], step[j]);
        add_plane(k, x, at->v * (at->z - s->z), slope);
    }
    return k->m > before && k->m < ST_LP_ROWS;
}

enum st_status st_correct_cheapest(const struct st_correct_search *s, double x[ST_CORRECT_VARIABLES])
{
    struct cutting k;
    struct level at;
    double y[ST_CORRECT_VARIABLES] = { 0.0 };
    set_up(s, &k);
    if (k.n == 0 && (level_at(s, y, &at) < 0 || !is_there(s, &at)))
        return ST_E_REFUSED;
    for (int turn = 0; turn < MOST_TURNS; turn++) {
        double found[ST_CORRECT_VARIABLES];
        const enum st_status p = k.n > 0 ? st_linear_program(k.n, k.m, k.cost, k.A, k.b, k.most, k.work, found) : ST_OK;
        if (p < 0)
            return ST_E_REFUSED;
        memset(y, 0, sizeof y);
        for (int j = 0; j < k.n; j++)
            y[k.of[j]] = found[j];
        const enum st_status status = level_at(s, y, &at);
        if (status < 0)
            return status;
        if (is_there(s, &at)) {
            memcpy(x, y, sizeof y);
            return status;
        }
        if (!cut(&k, y, &at))
            return ST_E_REFUSED;
    }
    return ST_E_REFUSED;
}

double st_correct_reach(const struct st_correct_search *s)
{
    struct st_correct_search t = *s;
    double x[ST_CORRECT_VARIABLES], step = 0.25, low, high = s->z;
    if (st_correct_cheapest(&t, x) >= 0)
        return s->z;
    low = high - step;
    for (int turn = 0; turn < 32; turn++) {
        t.z = low;
        if (st_correct_cheapest(&t, x) >= 0)
            break;
        high = low;
        step *= 2.0;
        low = high - step;
    }
    while (high - low > fmax(0.01, 0.01 * fabs(high))) {
        t.z = 0.5 * (low + high);
        if (st_correct_cheapest(&t, x) >= 0)
            low = t.z;
        else
            high = t.z;
    }
    return low;
}

/* ---- ways ---- */

static bool may_be_used(const struct st_correct_thing *t, enum st_correct_by by)
{
    switch (by) {
    case ST_BY_NO_WATER: return t->kind != ST_ADD_WATER;
    case ST_BY_BLEND: return t->kind == ST_ADD_BATCH || t->kind == ST_ADD_POUR;
    case ST_BY_COST: return t->kind == ST_ADD_WATER || !isnan(t->cost);
    case ST_BY_LEAST:
    case ST_BY_HELD:
    case ST_BY_SPIRIT:
    case ST_BY_NO_DRAW:
    case ST_CORRECT_NBY: break;
    }
    return true;
}

static bool applies(const struct st_correct_ask *ask, enum st_correct_by by)
{
    bool water = false, spirit = false, price = false, blend = false;
    for (int i = 0; i < ask->n_thing; i++) {
        const enum st_correct_kind k = ask->thing[i].kind;
        water = water || k == ST_ADD_WATER;
        spirit = spirit || k == ST_ADD_SPIRIT;
        blend = blend || k == ST_ADD_BATCH || k == ST_ADD_POUR;
        price = price || (k != ST_ADD_WATER && !isnan(ask->thing[i].cost));
    }
    return by == ST_BY_LEAST || (by == ST_BY_HELD && ask->hold) || (by == ST_BY_SPIRIT && spirit) ||
           (by == ST_BY_COST && price) || (by == ST_BY_NO_WATER && water) ||
           (by == ST_BY_NO_DRAW && ask->draw_most_ml > 0.0) || (by == ST_BY_BLEND && blend);
}

bool st_correct_way(struct st_correct_base *b, enum st_correct_by by, struct st_correct_search *s)
{
    const struct st_correct_ask *ask = b->ask;
    double dearest = 0.0;
    memset(s, 0, sizeof *s);
    s->base = b;
    s->moved_most_g = HUGE_VAL;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        s->low[f] = -HUGE_VAL;
        s->high[f] = HUGE_VAL;
    }
    for (int i = 0; i < ask->n_thing; i++)
        if (ask->thing[i].cost > 0.0)
            dearest = fmax(dearest, ask->thing[i].cost / b->g_of[i]);
    for (int i = 0; i < ask->n_thing; i++) {
        const struct st_correct_thing *t = &ask->thing[i];
        s->most[i] = may_be_used(t, by) ? t->have : 0.0;
        s->cost[i] = b->g_of[i];
        if (by == ST_BY_SPIRIT) /* a gram of anything else counts a hundredth of one of its ethanol */
            s->cost[i] = 0.01 * b->g_of[i] + (t->kind == ST_ADD_SPIRIT ? t->g[ST_ETHANOL] : 0.0);
        else if (by == ST_BY_COST)
            s->cost[i] = (isnan(t->cost) ? 0.0 : t->cost) + 1e-4 * fmax(dearest, 1e-9) * b->g_of[i];
    }
    s->most[DRAW] = by == ST_BY_NO_DRAW ? 0.0 : fmin(ask->draw_most_ml, 0.9 * ask->batch.ml);
    /* by no other way is anything drawn off for its own sake: a gram of it is as dear as the dearest */
    s->cost[DRAW] = b->batch_g_ml * (by == ST_BY_COST ? fmax(dearest, 1e-9) : 1.0);
    return applies(ask, by);
}
