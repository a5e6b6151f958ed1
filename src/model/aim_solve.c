#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "aim.h"
#include "core/least_squares.h"
#include "text.h"

enum {
    AIMS = ST_AIM_WISHES + ST_AIM_LIMITS, /* what wishes and limits aim at: variables too */
    MOST_X = ST_MAX_DIALS + AIMS,         /* variables */
    MOST_R = MOST_X + ST_AIM_STAYS,       /* residuals */
    POINTS = 2 * ST_MAX_DIALS + 1,        /* of one Jacobian */
    ROUNDS = 5                            /* of moving limits */
};

static const double PULL = 1e-3, LIMIT_WEIGHT = 1e-4, NEAR = 1e-6;

/* One search. */
struct search {
    const struct st_aim *a;
    struct st_plan *plan;
    struct st_plan_room *room;
    struct st_jars *jars;
    struct st_stays stays;
    double written[ST_MAX_DIALS], pull;
    double dissolves[ST_AIM_LIMITS]; /* st_jars_room as written */
    bool minds[ST_AIM_LIMITS];       /* st_aim_solve, Note 3 */
    double shift[ST_AIM_LIMITS];     /* by how much each limit is moved in, so that it is met */
    double low[MOST_X], high[MOST_X], scale[MOST_X];
    int evaluations, iterations;
    double *work;
};

static int n_aims(const struct st_aim *a)
{
    return a->n_wish + a->n_limit;
}

/* ---- figures and limits ---- */

/* fill[n_limit]: what each limit holds. */
static enum st_status find_fills(const struct search *s, const double value[], double fill[])
{
    const struct st_aim *a = s->a;
    if (a->n_limit == 0)
        return ST_OK;
    if (st_jars_at(s->jars, value, fill) < 0)
        return ST_E_REFUSED;
    for (int i = 0; i < a->n_limit; i++) {
        const struct st_aim_limit *l = &a->limit[i];
        if (l->of != ST_LIMIT_HAVE)
            continue;
        fill[i] = 0.0;
        for (int k = 0; k < a->n_dial; k++)
            if (l->which & (1u << k))
                fill[i] += l->weight[k] * value[k];
    }
    return ST_OK;
}

/* What the solver holds a limit by: below most where what it holds is, but nearly linear.  One that it does not mind is
 * no residual. */
static double held(const struct search *s, int i, double fill)
{
    const double most = s->a->limit[i].most;
    if (!s->minds[i])
        return 0.0;
    const enum st_limit_of of = s->a->limit[i].of;
    return of == ST_LIMIT_SUGAR || of == ST_LIMIT_CARRY ? most + (fill - most) * st_jars_room(s->jars, i) / s->dissolves[i]
                                               : fill;
}

static double limit_tolerance(const struct st_aim_limit *l)
{
    return LIMIT_WEIGHT * fmax(fabs(l->most), 1e-3);
}

static double stay_weight(const struct search *s, int i)
{
    return s->pull / s->stays.of[i].step;
}

static enum st_status residuals(const double x[], double r[], void *arg)
{
    struct search *s = arg;
    const struct st_aim *a = s->a;
    double y[ST_NFIG], fill[ST_AIM_LIMITS];

    s->evaluations++;
    if (st_plan_at_n(s->plan, s->room, 1, x, y) < 0 || find_fills(s, x, fill) < 0)
        return ST_E_REFUSED;
    const double *aim = x + a->n_dial;
    for (int i = 0; i < a->n_wish; i++)
        r[i] = y[a->wish[i].of] / a->wish[i].tolerance - aim[i];
    for (int i = 0; i < a->n_limit; i++)
        r[a->n_wish + i] = held(s, i, fill[i]) / limit_tolerance(&a->limit[i]) - aim[a->n_wish + i];
    for (int k = 0; k < a->n_dial; k++)
        r[n_aims(a) + k] = s->pull * (x[k] / s->written[k] - 1.0);
    for (int i = 0; i < s->stays.n; i++)
        r[n_aims(a) + a->n_dial + i] = stay_weight(s, i) * (y[s->stays.of[i].of] - s->stays.of[i].at);
    return ST_OK;
}

/* ---- the Jacobian: all points in one run of the plan ---- */

static double step_at(const struct search *s, const double x[], int k)
{
    return 1e-5 * fmax(fabs(x[k]), 0.1 * s->written[k]);
}

/* Slope of what changes from down to up past at; one-sided where one is not known.  NAN: neither. */
static double slope(double down, double at, double up, double h)
{
    if (isnan(up))
        return (at - down) / h;
    return isnan(down) ? (up - at) / h : (up - down) / (2.0 * h);
}

static void find_held(const struct search *s, const double value[], double at[])
{
    double fill[ST_AIM_LIMITS];
    if (find_fills(s, value, fill) < 0)
        return;
    for (int i = 0; i < s->a->n_limit; i++)
        at[i] = held(s, i, fill[i]);
}

/* slopes[n_limit] along dial k. */
static void limit_slopes(const struct search *s, const double x[], int k, double h, double slopes[])
{
    double moved[ST_MAX_DIALS], down[ST_AIM_LIMITS], at[ST_AIM_LIMITS], up[ST_AIM_LIMITS];
    for (int i = 0; i < s->a->n_limit; i++)
        down[i] = at[i] = up[i] = (double)NAN;
    memcpy(moved, x, (size_t)s->a->n_dial * sizeof *moved);
    find_held(s, moved, at);
    moved[k] = x[k] + h;
    find_held(s, moved, up);
    moved[k] = fmax(x[k] - h, 0.0);
    if (s->a->n_limit > 0 && isnan(up[0]))
        find_held(s, moved, down);
    for (int i = 0; i < s->a->n_limit; i++)
        slopes[i] = slope(down[i], at[i], up[i], h);
}

static enum st_status jacobian(const double x[], double J[], void *arg)
{
    struct search *s = arg;
    const struct st_aim *a = s->a;
    const size_t d = (size_t)a->n_dial, aims = (size_t)n_aims(a), n = d + aims, points = 2 * d + 1;
    double factor[ST_MAX_DIALS * POINTS] = { 0 }, y[ST_NFIG * POINTS];

    s->evaluations += (int)points;
    for (size_t k = 0; k < d; k++) {
        for (size_t i = 0; i < points; i++)
            factor[k * points + i] = x[k];
        factor[k * points + 2 * k + 1] += step_at(s, x, (int)k);
        factor[k * points + 2 * k + 2] -= step_at(s, x, (int)k);
    }
    (void)st_plan_at_n(s->plan, s->room, points, factor, y); /* points that cannot be are NAN */
    memset(J, 0, (n + (size_t)s->stays.n) * n * sizeof *J);
    for (size_t k = 0; k < d; k++) {
        const double h = step_at(s, x, (int)k);
        for (size_t i = 0; i < (size_t)a->n_wish; i++) {
            const double *f = y + (size_t)a->wish[i].of * points;
            J[i * n + k] = slope(f[2 * k + 2], f[0], f[2 * k + 1], h) / a->wish[i].tolerance;
        }
        double slopes[ST_AIM_LIMITS] = { 0 };
        limit_slopes(s, x, (int)k, h, slopes);
        for (size_t i = 0; i < (size_t)a->n_limit; i++)
            J[((size_t)a->n_wish + i) * n + k] = slopes[i] / limit_tolerance(&a->limit[i]);
        J[(aims + k) * n + k] = s->pull / s->written[k];
        for (size_t i = 0; i < (size_t)s->stays.n; i++) {
            const double *f = y + (size_t)s->stays.of[i].of * points;
            J[(n + i) * n + k] = slope(f[2 * k + 2], f[0], f[2 * k + 1], h) * stay_weight(s, (int)i);
        }
    }
    for (size_t i = 0; i < aims; i++)
        J[i * n + d + i] = -1.0;
    return ST_OK;
}

/* ---- one descent ---- */

/* How far inside a range is aimed, so that rounding to what can be measured does not leave it. */
static double margin(const struct st_wish *w)
{
    return fmin(0.1 * (w->high - w->low), 0.2 * w->tolerance);
}

static void set_bounds(struct search *s)
{
    const struct st_aim *a = s->a;
    for (int k = 0; k < a->n_dial; k++) {
        s->low[k] = a->dial[k].low;
        s->high[k] = a->dial[k].high;
        s->scale[k] = s->written[k];
    }
    for (int i = 0; i < n_aims(a); i++) {
        const int j = a->n_dial + i, l = i - a->n_wish;
        s->scale[j] = 1.0;
        if (l < 0) {
            const double in = margin(&a->wish[i]);
            s->low[j] = (a->wish[i].low + in) / a->wish[i].tolerance;
            s->high[j] = (a->wish[i].high - in) / a->wish[i].tolerance;
        } else {
            s->low[j] = -(double)INFINITY;
            s->high[j] =
                s->minds[l] ? (a->limit[l].most - s->shift[l]) / limit_tolerance(&a->limit[l]) : (double)INFINITY;
        }
    }
}

/* Aims begin at what is there, or at the nearest they may be. */
static bool start_aims(struct search *s, double x[])
{
    double r[MOST_R] = { 0.0 };
    const struct st_aim *a = s->a;
    for (int i = 0; i < n_aims(a); i++)
        x[a->n_dial + i] = 0.0;
    if (residuals(x, r, s) < 0)
        return false;
    for (int i = 0; i < n_aims(a); i++)
        x[a->n_dial + i] = fmin(fmax(r[i], s->low[a->n_dial + i]), s->high[a->n_dial + i]);
    return true;
}

static enum st_status descend(struct search *s, double x[], struct st_ls_result *out)
{
    const struct st_aim *a = s->a;
    struct st_ls_problem p = { .n = a->n_dial + n_aims(a),
                               .m = n_aims(a) + a->n_dial + s->stays.n,
                               .lower = s->low,
                               .upper = s->high,
                               .scale = s->scale,
                               .residuals = residuals,
                               .jacobian = jacobian,
                               .arg = s,
                               .limits = st_ls_defaults() };
    enum st_status st = ST_OK;
    p.limits.x = 1e-8;
    p.limits.f = 1e-9;        /* an amount to a millionth is more than a scale shows */
    p.limits.damping = 1e-12; /* nearly linear; more would hide the pull for many steps */
    memset(s->shift, 0, sizeof s->shift);
    for (int round = 0; round < ROUNDS; round++) {
        double over = 0.0, fill[ST_AIM_LIMITS] = { 0.0 };
        set_bounds(s);
        if (!start_aims(s, x))
            return ST_E_REFUSED;
        st = st_least_squares(&p, x, s->work, out);
        if (st == ST_E_DOMAIN)
            return ST_E_REFUSED;
        s->iterations += out->iterations;
        if (find_fills(s, x, fill) < 0)
            return ST_E_REFUSED;
        for (int i = 0; i < a->n_limit; i++) {
            const double past = s->minds[i] ? held(s, i, fill[i]) - a->limit[i].most : 0.0;
            over = fmax(over, past / fmax(fabs(a->limit[i].most), 1e-3));
            s->shift[i] = fmax(s->shift[i] + past, 0.0);
        }
        if (over <= 0.1 * NEAR)
            break;
    }
    return st;
}

/* ---- what came of it ---- */

static void find_misses(const struct search *s, struct st_aim_found *f)
{
    const struct st_aim *a = s->a;
    f->score = 0.0;
    f->met = true;
    for (int i = 0; i < a->n_wish; i++) {
        const struct st_wish *w = &a->wish[i];
        /* a single figure is searched for as it stands; whether it is met, its tolerance tells */
        const double off = st_soft_range(f->y[w->of], w->low, w->high, w->tolerance);
        f->score += off * off;
        f->miss[i] = st_wish_miss(w, f->y[w->of]);
        f->met = f->met && f->miss[i] == 0.0;
    }
    (void)find_fills(s, f->value, f->fill);
    for (int i = 0; i < a->n_limit; i++)
        f->met = f->met && f->fill[i] <= a->limit[i].most + NEAR * fabs(a->limit[i].most);
}

static void add_stop(struct st_aim_found *f, struct st_aim_stop stop)
{
    int at = f->n_stop;
    stop.gain = fmin(stop.gain, f->score);
    if (!(stop.gain > 1e-3 * f->score))
        return;
    while (at > 0 && f->stop[at - 1].gain < stop.gain) {
        f->stop[at] = f->stop[at - 1];
        at--;
    }
    f->stop[at] = stop;
    f->n_stop++;
}

static void find_stops(const struct search *s, const struct st_ls_result *r, const double x[], struct st_aim_found *f)
{
    const struct st_aim *a = s->a;
    f->n_stop = 0;
    for (int k = 0; k < a->n_dial && !f->met; k++) {
        const bool upper = r->side[k] == ST_SIDE_UPPER, amount = a->dial[k].dial.of == ST_DIAL_AMOUNT;
        if (r->side[k] == ST_SIDE_FREE)
            continue;
        add_stop(f, (struct st_aim_stop){ .dial = k,
                                          .limit = -1,
                                          .upper = a->dial[k].low == a->dial[k].high ? r->multiplier[k] < 0.0 : upper,
                                          .by = upper ? a->dial[k].high_by : a->dial[k].low_by,
                                          .at = x[k],
                                          .gain = fabs(r->multiplier[k]) * (amount ? 0.1 * fmax(x[k], 0.1) : 1.0) });
    }
    for (int i = 0; i < a->n_limit && !f->met; i++) {
        const int j = a->n_dial + a->n_wish + i; /* the limit holds its aim down: df/d most = df/d aim / tolerance */
        if (r->side[j] == ST_SIDE_UPPER)
            add_stop(f, (struct st_aim_stop){ .dial = -1,
                                              .limit = i,
                                              .upper = true,
                                              .by = ST_BOUND_HAVE,
                                              .at = a->limit[i].most,
                                              .gain = fabs(r->multiplier[j]) / limit_tolerance(&a->limit[i]) * 0.1 *
                                                      fabs(a->limit[i].most) });
    }
}

/* From x; better answers replace *out. */
static enum st_status from_start(struct search *s, const double start[], struct st_aim_found *out, bool *any)
{
    double x[MOST_X] = { 0.0 };
    struct st_ls_result r;
    struct st_aim_found f = { .n_stop = 0 };

    for (int k = 0; k < s->a->n_dial; k++)
        x[k] = fmin(fmax(start[k], s->a->dial[k].low), s->a->dial[k].high);
    set_bounds(s);
    const enum st_status st = descend(s, x, &r);
    if (st == ST_E_REFUSED)
        return st;
    memcpy(f.value, x, (size_t)s->a->n_dial * sizeof *x);
    const enum st_status at = st_plan_at_n(s->plan, s->room, 1, f.value, f.y);
    if (at < 0)
        return at;
    find_misses(s, &f);
    find_stops(s, &r, x, &f);
    if (!*any || (f.met && !out->met) || (f.met == out->met && f.score < out->score - 1e-9 * (1.0 + out->score)))
        *out = f;
    *any = true;
    return st < 0 ? st : at;
}

/* The pull must not show: what it costs a wish that could be met, in tolerances. */
static bool pull_shows(const struct search *s, const struct st_aim_found *f)
{
    for (int i = 0; i < s->a->n_wish; i++) {
        const struct st_wish *w = &s->a->wish[i];
        const double off = fabs(st_soft_range(f->y[w->of], w->low, w->high, w->tolerance));
        if (f->met && off > 1e-3)
            return true;
    }
    return false;
}

static enum st_status from_all_starts(struct search *s, struct st_aim_found *out)
{
    const struct st_aim *a = s->a;
    double start[3][ST_MAX_DIALS] = { { 0.0 } }, y[ST_NFIG];
    bool any = false;
    double by = 1.5;

    if (st_plan_at_n(s->plan, s->room, 1, s->written, y) >= 0)
        for (int i = 0; i < a->n_wish; i++)
            if (a->wish[i].of == ST_FIG_VOLUME && y[ST_FIG_VOLUME] > 0.0)
                by = (isfinite(a->wish[i].low) ? a->wish[i].low : a->wish[i].high) / y[ST_FIG_VOLUME];
    for (int k = 0; k < a->n_dial; k++) {
        const bool amount = a->dial[k].dial.of == ST_DIAL_AMOUNT;
        start[0][k] = s->written[k];
        start[1][k] = amount ? by : s->written[k];
        start[2][k] = amount ? 0.5 : s->written[k];
    }
    enum st_status st = ST_E_REFUSED;
    for (int i = 0; i < 3; i++) {
        const enum st_status now = from_start(s, start[i], out, &any);
        st = i == 0 || st < 0 ? now : st;
        if (any && out->met)
            break;
    }
    return any && st == ST_E_REFUSED ? ST_OK : st;
}

/* ---- the whole ---- */

static enum st_status refuse(struct st_problem *p, const char *what, const char *name, const char *why,
                             const char *try_)
{
    memset(p, 0, sizeof *p);
    st_say(p->what, sizeof p->what, what, name, NULL);
    st_say(p->why, sizeof p->why, why, NULL, NULL);
    st_say(p->try_, sizeof p->try_, try_, NULL, NULL);
    return ST_E_REFUSED;
}

static enum st_status check(struct search *s, struct st_problem *problem)
{
    double y[ST_NFIG];
    const enum st_status st = st_plan_at_n(s->plan, s->room, 1, s->written, y);
    for (int i = 0; st >= 0 && i < s->a->n_wish; i++)
        if (isnan(y[s->a->wish[i].of]))
            return refuse(problem, "this recipe does not tell its ", st_figure_info(s->a->wish[i].of)->name,
                          s->a->wish[i].of == ST_FIG_COST ? "not everything in it has a price"
                                                          : "nothing in it gives any",
                          s->a->wish[i].of == ST_FIG_COST ? "write the price of every line" : "leave that wish out");
    if (st >= 0)
        st_aim_stays(s->a, y, &s->stays);
    return ST_OK;
}

/* Limits that the answer goes past, though it did not mind them: from now on it does. */
static bool minds_more(struct search *s, const struct st_aim_found *f)
{
    bool more = false;
    for (int i = 0; i < s->a->n_limit; i++)
        if (!s->minds[i] && f->fill[i] > s->a->limit[i].most * (1.0 + NEAR))
            more = s->minds[i] = true;
    return more;
}

static void mind_jars(struct search *s)
{
    double fill[ST_AIM_LIMITS] = { 0.0 };
    (void)st_jars_at(s->jars, s->written, fill);
    for (int i = 0; i < s->a->n_limit; i++) {
        s->dissolves[i] = st_jars_room(s->jars, i);
        s->minds[i] = s->a->limit[i].of == ST_LIMIT_JAR || s->a->limit[i].of == ST_LIMIT_HAVE;
    }
}

static enum st_status search(struct search *s, struct st_aim_found *out, struct st_problem *problem)
{
    enum st_status st = check(s, problem);
    mind_jars(s);
    for (int i = 0; st >= 0 && i < 3; i++) {
        do
            st = from_all_starts(s, out);
        while (st != ST_E_REFUSED && minds_more(s, out));
        if (st < 0 || !pull_shows(s, out))
            break;
        s->pull *= 0.1;
    }
    if (st == ST_E_REFUSED && problem->what[0] == '\0' && !st_plan_dial_problem(s->plan, s->written, problem))
        (void)refuse(problem, "no amounts were found that can be made", NULL, "every start was refused",
                     "free more amounts, or wish for less");
    out->stays = s->stays;
    out->evaluations = s->evaluations;
    out->iterations = s->iterations;
    return st;
}

enum st_status st_aim_solve(const struct st_aim *a, struct st_aim_found *out, struct st_problem *problem)
{
    struct search s = { .a = a, .pull = a->pull > 0.0 ? a->pull : PULL };
    struct st_dial dial[ST_MAX_DIALS];

    memset(out, 0, sizeof *out);
    memset(problem, 0, sizeof *problem);
    if (a->n_dial == 0 || a->n_wish == 0)
        return refuse(problem, a->n_dial ? "nothing is wished for" : "no amount may change", NULL,
                      "an aim has at least one wish and one free amount", "name both");
    if (a->n_dial + n_aims(a) > (int)ST_LS_MAX)
        return refuse(problem, "that is too much at once", NULL, "so many amounts, wishes and limits find no room",
                      "free fewer amounts, or wish for less");
    for (int k = 0; k < a->n_dial; k++)
        dial[k] = a->dial[k].dial;
    s.plan = st_plan_create_dials(a->recipe, dial, a->n_dial, problem);
    if (!s.plan)
        return ST_E_REFUSED;
    s.jars = st_jars_create(s.plan, a->limit, a->n_limit);
    s.room = st_plan_room_create(s.plan);
    s.work = malloc(st_ls_work(MOST_X, MOST_R) * sizeof *s.work);
    for (int k = 0; k < a->n_dial; k++)
        s.written[k] = st_plan_dial_written(s.plan, k);
    const enum st_status st = s.room && s.jars && s.work
                                  ? search(&s, out, problem)
                                  : refuse(problem, "cannot aim", NULL, "memory ran out", "close other programs");
    free(s.work);
    st_jars_free(s.jars);
    st_plan_room_free(s.room);
    st_plan_free(s.plan);
    return st;
}
