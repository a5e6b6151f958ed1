#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "learn_inside.h"

/* All from memory, as learn.h says. */
static const double T_FREEDOM = 5.0;               /* of Student's t */
static const double CUT = 0.35, PROBIT_SD = 0.5;   /* of "too weak / right / too strong" */
static const double SCALE_SD = 2.0, LIKE_SD = 1.0; /* of free scales, ln */
/* 5 +- 2 at a concentration that is known as badly as that of "right", e^1, with 2 points to each e */
static const double B0 = 5.0, B0_SD = 2.83, B1 = 2.0, B1_SD = 1.0, LEAST_B1 = 0.1; /* of marks */
static const double MODEL_SD = 0.15; /* of ln c: pieces are not all of one size, and no jar is quite as reckoned */
static const double STEP = 0.03;     /* of differences, in standard deviations */
static const double APART = 0.7;     /* two lowest points, in standard deviations of the prior */
static const double MATTERS = 1e-3;  /* least information, of a prior's, worth a place */

/* ---- one reading ---- */

/* Student's t on a scale where it is a unit normal near 0. */
static void robust(struct st_learn_eta *e)
{
    const double n = T_FREEDOM, q = e->eta * e->eta;
    const double r = sqrt((n + 1.0) * log1p(q / n));
    e->residual = e->eta < 0.0 ? -r : r;
    e->dresidual = r > 1e-6 ? (n + 1.0) * fabs(e->eta) / (n + q) / r : sqrt((n + 1.0) / n);
    e->curvature = (n + 1.0) / (n + q);
}

static double phi(double z)
{
    return exp(-0.5 * z * z) / sqrt(2.0 * acos(-1.0));
}

static double cdf(double z)
{
    return 0.5 * erfc(-z / sqrt(2.0));
}

/* eta = ln(c/c_like); answer -1, 0, +1. */
static void probit(struct st_learn_eta *e, double answer)
{
    const double big = 40.0;
    const double u = answer < 0.0 ? (-CUT - e->eta) / PROBIT_SD : answer > 0.0 ? big : (CUT - e->eta) / PROBIT_SD;
    const double l = answer < 0.0 ? -big : answer > 0.0 ? (CUT - e->eta) / PROBIT_SD : (-CUT - e->eta) / PROBIT_SD;
    /* on whichever side the difference of the two is not one of two ones */
    const double p = fmax(u > 0.0 && l > 0.0 ? cdf(-l) - cdf(-u) : cdf(u) - cdf(l), 1e-12);
    const double g = (phi(u) - phi(l)) / p, nll = -log(p);
    e->residual = sqrt(2.0 * nll);
    e->dresidual = e->residual > 1e-9 ? g / PROBIT_SD / e->residual : 0.0;
    e->curvature = fmax(((fabs(u) < big ? u * phi(u) : 0.0) - (fabs(l) < big ? l * phi(l) : 0.0)) / p + g * g, 0.0) /
                   (PROBIT_SD * PROBIT_SD);
}

void st_learn_eta(const struct st_learn_one *o, int seen, double latent, const double free_[], struct st_learn_eta *out)
{
    const struct st_observation *s = &o->batch->seen[seen];
    static const struct st_learn_scale NONE = { 0 }; /* of what needs no scale */
    const struct st_learn_scale *k = o->scale[seen] >= 0 ? &o->scales[o->scale[seen]] : &NONE;
    const double sd = s->sd > 0.0 ? s->sd : st_seen_usual_sd(s->what, s->value);
    *out = (struct st_learn_eta){ .curvature = 1.0, .dresidual = 1.0, .sd = sd };
    switch (s->what) {
    case ST_SEEN_COLOUR:
        out->sd = hypot(sd / s->value, MODEL_SD);
        out->eta = (log(s->value) - latent - free_[k->at]) / out->sd;
        out->slope = out->dfree[0] = -1.0 / out->sd;
        robust(out);
        break;
    case ST_SEEN_MARK:
        out->eta = (s->value - free_[k->at] - free_[k->at + 1] * (latent - k->ln_c_end)) / sd;
        out->slope = -free_[k->at + 1] / sd;
        out->dfree[0] = -1.0 / sd;
        out->dfree[1] = -(latent - k->ln_c_end) / sd;
        out->residual = out->eta;
        break;
    case ST_SEEN_TASTE:
        out->eta = latent - free_[k->at];
        out->slope = 1.0;
        out->dfree[0] = -1.0;
        probit(out, s->value);
        break;
    default:
        out->eta = (s->value - latent) / sd;
        out->slope = -1.0 / sd;
        robust(out);
        break;
    }
}

/* ---- x and what it stands for ---- */

double st_learn_width(const struct st_learn_scale *s, int place)
{
    return s->what == ST_SEEN_MARK ? (place ? B1_SD : B0_SD) : s->what == ST_SEEN_COLOUR ? SCALE_SD : LIKE_SD;
}

double st_learn_least_slope(void)
{
    return (LEAST_B1 - B1) / B1_SD;
}

void st_learn_free(const struct st_learn_one *o, const double x_free[], double free_[])
{
    for (int k = 0; k < o->n_scale; k++) {
        const struct st_learn_scale *s = &o->scales[k];
        const double *own = x_free + s->at;
        if (s->what == ST_SEEN_MARK) {
            free_[s->at] = B0 + B0_SD * own[0];
            free_[s->at + 1] = B1 + B1_SD * own[1];
        } else
            free_[s->at] = (s->what == ST_SEEN_COLOUR ? s->mean : s->ln_c_end) + st_learn_width(s, 0) * own[0];
    }
}

/* The same of x; width[] their standard deviations. */
static void free_of(const struct st_learn_one *o, const double x[], double free_[], double width[])
{
    st_learn_free(o, x + o->n_active, free_);
    for (int k = 0; k < o->n_scale; k++)
        for (int m = 0; m < (o->scales[k].what == ST_SEEN_MARK ? 2 : 1); m++)
            width[o->scales[k].at + m] = st_learn_width(&o->scales[k], m);
}

double st_learn_prior(const struct st_learn_one *o, int k)
{
    return o->prior[o->active[k].piece][o->active[k].theta];
}

void st_learn_theta(const struct st_learn_one *o, const double x[], double theta[])
{
    memset(theta, 0, (size_t)o->batch->jar->n_piece * ST_NTHETA * sizeof *theta);
    for (int k = 0; k < o->n_active; k++)
        theta[o->active[k].piece * ST_NTHETA + (int)o->active[k].theta] = st_learn_prior(o, k) * x[k];
}

/* ---- search ---- */

/* Sets go side by side as cheaply as one: with x go as many moved thetas as have room beside it, so that slopes are
 * often there before they are asked for. */
enum { BESIDE = ST_BATH_LANES - 1 };

struct search {
    struct st_learn_one *o;
    double *latent, *slopes; /* [n_seen], [n_seen * n_active] by x */
    double at[ST_LS_MAX];    /* active part of the x they are of */
    int known;               /* so many active thetas have their slopes; 0: nothing is known */
};

/* Latents at x, and slopes of the next BESIDE active thetas, each moved by STEP. */
static enum st_status look_at(struct search *s, const double x[])
{
    struct st_learn_one *o = s->o;
    const size_t row = (size_t)o->batch->jar->n_piece * ST_NTHETA, seen = (size_t)o->n_seen;
    const int from = s->known, many = o->n_active - from < BESIDE ? o->n_active - from : BESIDE;
    double *theta = calloc((size_t)(many + 1) * row + 1, sizeof *theta);
    double *all = calloc((size_t)(many + 1) * seen + 1, sizeof *all);
    enum st_status status = theta && all ? ST_OK : ST_E_NOCONV;
    if (status >= 0) {
        double moved[ST_LS_MAX];
        for (int k = 0; k <= many; k++) {
            memcpy(moved, x, (size_t)o->n_active * sizeof *moved);
            if (k)
                moved[from + k - 1] += STEP;
            st_learn_theta(o, moved, theta + (size_t)k * row);
        }
        status = st_learn_latents(o, many + 1, theta, all);
    }
    for (size_t i = 0; status >= 0 && i < seen; i++) {
        if (from == 0)
            s->latent[i] = all[i];
        for (int k = 0; k < many; k++)
            s->slopes[i * (size_t)o->n_active + (size_t)(from + k)] = (all[(size_t)(k + 1) * seen + i] - all[i]) / STEP;
    }
    s->known = status >= 0 ? from + many : 0;
    free(theta);
    free(all);
    return status;
}

/* Latents at x, and all slopes where they are asked for. */
static enum st_status latents_and_slopes(struct search *s, const double x[], bool slopes)
{
    const size_t size = (size_t)s->o->n_active * sizeof *x;
    enum st_status status = ST_OK;
    if (memcmp(s->at, x, size) != 0)
        s->known = 0;
    memcpy(s->at, x, size);
    while (status >= 0 && (s->known == 0 || (slopes && s->known < s->o->n_active)))
        status = look_at(s, x);
    return status;
}

static enum st_status residuals(const double x[], double r[], void *arg)
{
    struct search *s = arg;
    struct st_learn_one *o = s->o;
    double free_[ST_LS_MAX] = { 0 }, width[ST_LS_MAX] = { 0 };
    const int n = o->n_active + o->n_free;
    const enum st_status status = latents_and_slopes(s, x, false);
    if (status < 0)
        return status;
    free_of(o, x, free_, width);
    for (int i = 0; i < o->n_seen; i++) {
        struct st_learn_eta e = { 0 };
        if (o->used[i])
            st_learn_eta(o, i, s->latent[i], free_, &e);
        r[i] = e.residual;
    }
    for (int k = 0; k < n; k++)
        r[o->n_seen + k] = x[k];
    return ST_OK;
}

static enum st_status jacobian(const double x[], double J[], void *arg)
{
    struct search *s = arg;
    struct st_learn_one *o = s->o;
    double free_[ST_LS_MAX] = { 0 }, width[ST_LS_MAX] = { 0 };
    const int n = o->n_active + o->n_free;
    const enum st_status status = latents_and_slopes(s, x, true);
    if (status < 0)
        return status;
    free_of(o, x, free_, width);
    memset(J, 0, (size_t)(o->n_seen + n) * (size_t)n * sizeof *J);
    for (int i = 0; i < o->n_seen; i++) {
        struct st_learn_eta e;
        double *row = J + (size_t)i * (size_t)n;
        if (!o->used[i])
            continue;
        st_learn_eta(o, i, s->latent[i], free_, &e);
        for (int k = 0; k < o->n_active; k++)
            row[k] = e.dresidual * e.slope * s->slopes[(size_t)i * (size_t)o->n_active + (size_t)k];
        if (o->scale[i] >= 0) {
            const int at = o->scales[o->scale[i]].at;
            for (int m = 0; m < (o->batch->seen[i].what == ST_SEEN_MARK ? 2 : 1); m++)
                row[o->n_active + at + m] = e.dresidual * e.dfree[m] * width[at + m];
        }
    }
    for (int k = 0; k < n; k++)
        J[(size_t)(o->n_seen + k) * (size_t)n + (size_t)k] = 1.0;
    return ST_OK;
}

/* ---- which thetas matter ---- */

static void keep_best(struct st_learn_one *o, int piece, int theta, double gain, double gains[])
{
    const int most = ST_LS_MAX - o->n_free;
    int at = o->n_active;
    while (at > 0 && gains[at - 1] < gain)
        at--;
    if (at >= most)
        return;
    if (o->n_active < most)
        o->n_active++;
    for (int k = o->n_active - 1; k > at; k--) {
        gains[k] = gains[k - 1];
        o->active[k] = o->active[k - 1];
    }
    gains[at] = gain;
    o->active[at].piece = piece;
    o->active[at].theta = (enum st_theta)theta;
}

static enum st_status choose(struct st_learn_one *o)
{
    const int pieces = o->batch->jar->n_piece, n = pieces * ST_NTHETA;
    double free_[ST_LS_MAX] = { 0 }, width[ST_LS_MAX] = { 0 }, x0[ST_LS_MAX] = { 0 }, gains[ST_LS_MAX] = { 0 };
    double *theta = calloc((size_t)n * (size_t)n + 1, sizeof *theta);
    double *latent = calloc((size_t)n * (size_t)o->n_seen + 1, sizeof *latent);
    enum st_status s = theta && latent ? ST_OK : ST_E_NOCONV;
    o->n_active = 0;
    free_of(o, x0, free_, width);
    if (s >= 0) {
        for (int k = 0; k < n; k++)
            theta[(size_t)k * (size_t)n + (size_t)k] = o->prior[k / ST_NTHETA][k % ST_NTHETA];
        s = st_learn_latents(o, n, theta, latent);
    }
    for (int k = 0; s >= 0 && k < n; k++) {
        double gain = 0.0;
        for (int i = 0; i < o->n_seen; i++) {
            struct st_learn_eta e;
            if (!o->used[i])
                continue;
            st_learn_eta(o, i, o->latent0[i], free_, &e);
            gain += pow(e.slope * (latent[(size_t)k * (size_t)o->n_seen + (size_t)i] - o->latent0[i]), 2.0);
        }
        if (gain > MATTERS)
            keep_best(o, k / ST_NTHETA, k % ST_NTHETA, gain, gains);
    }
    free(theta);
    free(latent);
    return s;
}

/* ---- information ---- */

/* D (n x n, positive definite) solved for m right sides, column by column, in place of B[n*m]. */
static void solve_columns(int n, const double D[], int m, double B[])
{
    double L[ST_LS_MAX * ST_LS_MAX], b[ST_LS_MAX];
    int pivot[ST_LS_MAX];
    (void)st_cholesky(n, D, 0.0, L, pivot);
    for (int c = 0; c < m; c++) {
        for (int r = 0; r < n; r++)
            b[r] = B[r * m + c];
        st_cholesky_solve(n, L, pivot, b, b);
        for (int r = 0; r < n; r++)
            B[r * m + c] = b[r];
    }
}

/* P: second derivatives by theta with the free scales integrated out. */
static void inform(struct st_learn_one *o, const struct search *s)
{
    const int n = o->n_active, f = o->n_free;
    double free_[ST_LS_MAX] = { 0 }, width[ST_LS_MAX] = { 0 };
    double B[ST_LS_MAX * ST_LS_MAX] = { 0 }, D[ST_LS_MAX * ST_LS_MAX] = { 0 }, X[ST_LS_MAX * ST_LS_MAX];
    free_of(o, o->x, free_, width);
    memset(o->P, 0, sizeof o->P);
    for (int k = 0; k < f; k++)
        D[k * f + k] = 1.0;
    for (int i = 0; i < o->n_seen; i++) {
        struct st_learn_eta e;
        double v[ST_LS_MAX], u[ST_LS_MAX] = { 0 };
        if (!o->used[i])
            continue;
        st_learn_eta(o, i, s->latent[i], free_, &e);
        for (int k = 0; k < n; k++)
            v[k] = e.slope * s->slopes[(size_t)i * (size_t)n + (size_t)k] / st_learn_prior(o, k);
        if (o->scale[i] >= 0) {
            const int at = o->scales[o->scale[i]].at;
            for (int m = 0; m < (o->batch->seen[i].what == ST_SEEN_MARK ? 2 : 1); m++)
                u[at + m] = e.dfree[m] * width[at + m];
        }
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++)
                o->P[a * n + b] += e.curvature * v[a] * v[b];
        for (int a = 0; a < f; a++) {
            for (int b = 0; b < n; b++)
                B[a * n + b] += e.curvature * u[a] * v[b];
            for (int b = 0; b < f; b++)
                D[a * f + b] += e.curvature * u[a] * u[b];
        }
    }
    memcpy(X, B, sizeof X);
    if (f)
        solve_columns(f, D, n, X);
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            for (int k = 0; k < f; k++)
                o->P[a * n + b] -= B[k * n + a] * X[k * n + b];
    for (int a = 0; a < n; a++) { /* at the lowest point the data pull as the prior holds */
        const double sd = st_learn_prior(o, a);
        o->h[a] = o->x[a] / sd;
        for (int b = 0; b < n; b++)
            o->h[a] += o->P[a * n + b] * o->x[b] * st_learn_prior(o, b);
    }
}

/* Whether the readings leave no speed in doubt by more than half of what was in doubt before. */
static bool is_settled(const struct st_learn_one *o, const struct st_ls_problem *p, const struct st_ls_result *found,
                       double work[])
{
    double C[ST_LS_MAX * ST_LS_MAX];
    if (st_ls_covariance(p, found, work, C) < 0)
        return false;
    for (int k = 0; k < o->n_active; k++)
        if (o->active[k].theta == ST_THETA_D && C[k * p->n + k] > 0.25)
            return false;
    return true;
}

/* Fast pieces and much washed off look alike at first, so there may be two lowest points: begin at the prior's middle,
 * and when that leaves the speed in doubt with everything faster, and with everything slower; keep the lowest, and
 * remember the others. */
static double distance(int n, const double a[], const double b[])
{
    double q = 0.0;
    for (int i = 0; i < n; i++)
        q += (a[i] - b[i]) * (a[i] - b[i]);
    return sqrt(q);
}

/* Of the points found, those that are not the lowest one once more. */
static void keep_others(struct st_learn_one *o)
{
    int kept = 0;
    for (int i = 0; i < o->n_other; i++) {
        bool same = distance(o->n_active, o->other[i], o->x) < APART;
        for (int k = 0; k < kept && !same; k++)
            same = distance(o->n_active, o->other[i], o->other[k]) < APART;
        if (!same)
            memmove(o->other[kept++], o->other[i], sizeof o->other[i]);
    }
    o->n_other = kept;
}

static enum st_status search_from(struct st_learn_one *o, const struct st_ls_problem *p, double work[])
{
    static const double START[ST_LEARN_STARTS] = { 0.0, 1.5, -1.5 };
    enum st_status best = ST_E_DOMAIN;
    double lowest = (double)INFINITY;
    bool settled = false;
    for (size_t i = 0; !settled && i < sizeof START / sizeof *START; i++) {
        double x[ST_LS_MAX] = { 0 };
        struct st_ls_result found;
        for (int k = 0; k < o->n_active; k++)
            if (o->active[k].theta == ST_THETA_D)
                x[k] = START[i];
        const enum st_status s = st_least_squares(p, x, work, &found);
        if (s >= 0)
            memcpy(o->other[o->n_other++], x, sizeof x);
        if ((s >= 0 || s == ST_E_NOCONV) && found.f < lowest) {
            lowest = found.f;
            best = s;
            memcpy(o->x, x, sizeof x);
        }
        settled = s >= 0 && i == 0 && is_settled(o, p, &found, work);
    }
    keep_others(o);
    return best;
}

enum st_status st_learn_fit(struct st_learn_one *o)
{
    enum st_status s = choose(o);
    const int n = o->n_active + o->n_free, m = o->n_seen + n;
    if (s < 0 || o->n_active == 0)
        return s;
    double lower[ST_LS_MAX], upper[ST_LS_MAX];
    struct search search = { .o = o,
                             .latent = calloc((size_t)o->n_seen, sizeof(double)),
                             .slopes = calloc((size_t)o->n_seen * (size_t)o->n_active, sizeof(double)) };
    double *work = calloc(st_ls_work(n, m), sizeof *work);
    s = search.latent && search.slopes && work ? ST_OK : ST_E_NOCONV;
    if (s >= 0) {
        for (int k = 0; k < n; k++) {
            lower[k] = -6.0;
            upper[k] = 6.0;
        }
        for (int k = 0; k < o->n_scale; k++)
            if (o->scales[k].what == ST_SEEN_MARK) /* more taste earns no lower mark */
                lower[o->n_active + o->scales[k].at + 1] = st_learn_least_slope();
        struct st_ls_problem p = { .n = n,
                                   .m = m,
                                   .lower = lower,
                                   .upper = upper,
                                   .residuals = residuals,
                                   .jacobian = jacobian,
                                   .arg = &search,
                                   .limits = st_ls_defaults() };
        p.limits.x = 1e-3;
        p.limits.f = 1e-3;
        p.limits.gradient = 1e-4;
        p.limits.iterations = 40;
        s = search_from(o, &p, work);
    }
    if (s >= 0 || s == ST_E_NOCONV) {
        const enum st_status t = search.latent && search.slopes ? latents_and_slopes(&search, o->x, true) : s;
        if (t >= 0 && search.latent) {
            memcpy(o->latent, search.latent, (size_t)o->n_seen * sizeof *o->latent);
            inform(o, &search);
            (void)st_learn_sample(o);
        } else
            s = t;
    }
    free(search.latent);
    free(search.slopes);
    free(work);
    return s;
}
