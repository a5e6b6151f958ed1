#include "least_squares.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

struct st_ls_limits st_ls_defaults(void)
{
    return (struct st_ls_limits){
        .x = 1e-10, .f = 1e-15, .gradient = 1e-10, .residual = 1e-12, .damping = 1e-3, .iterations = 200
    };
}

double st_soft_range(double x, double low, double high, double tolerance)
{
    if (x < low)
        return (x - low) / tolerance;
    return x > high ? (x - high) / tolerance : 0.0;
}

/* The workspace, laid out. */
struct search {
    const struct st_ls_problem *p;
    int n, m, evaluations;
    double *r, *trial_r, *J;   /* [m], [m], [m*n] */
    double *H, *damped, *room; /* [n*n], [n*n], [2*n*n] */
    double *g, *D, *trial;     /* [n] each; g = J'r */
    double *low, *high, *z;    /* [n] each: the box of a step, and the step, in scaled variables */
    double f;                  /* r'r */
};

size_t st_ls_work(int n, int m)
{
    const size_t a = (size_t)n, b = (size_t)m;
    return 2 * b + a * b + 4 * a * a + 6 * a;
}

static void lay_out(struct search *s, const struct st_ls_problem *p, double *work)
{
    const size_t n = (size_t)p->n, m = (size_t)p->m;
    double **const part[] = { &s->r, &s->trial_r, &s->J,     &s->H,   &s->damped, &s->room,
                              &s->g, &s->D,       &s->trial, &s->low, &s->high,   &s->z };
    const size_t size[] = { m, m, m * n, n * n, n * n, 2 * n * n, n, n, n, n, n, n };
    *s = (struct search){ .p = p, .n = p->n, .m = p->m };
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        *part[i] = work;
        work += size[i];
    }
}

static double lower(const struct st_ls_problem *p, int i)
{
    return p->lower ? p->lower[i] : -(double)INFINITY;
}

static double upper(const struct st_ls_problem *p, int i)
{
    return p->upper ? p->upper[i] : (double)INFINITY;
}

static void copy(double *to, const double *from, int n)
{
    for (int i = 0; i < n; i++)
        to[i] = from[i];
}

static bool all_finite(const double *x, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i]))
            return false;
    return true;
}

/* Residuals and their sum of squares; false where there are none. */
static bool residuals(struct search *s, const double x[], double r[], double *f)
{
    s->evaluations++;
    if (s->p->residuals(x, r, s->p->arg) < 0 || !all_finite(r, (size_t)s->m))
        return false;
    double sum = 0.0;
    for (int i = 0; i < s->m; i++)
        sum += r[i] * r[i];
    *f = sum;
    return isfinite(sum);
}

/* ---- the Jacobian by differences ---- */

/* A step from x_j towards the roomier side, at most half the room; 0 where the variable is held. */
static double difference_step(const struct search *s, const double x[], int j)
{
    const struct st_ls_problem *p = s->p;
    const double size = fmax(fabs(x[j]), p->scale ? fabs(p->scale[j]) : 1.0);
    const double share = p->limits.step > 0.0 ? p->limits.step : p->limits.central ? 6e-6 : 1.5e-8;
    const double h = size * share, up = upper(p, j) - x[j], down = x[j] - lower(p, j);
    if (up >= h)
        return h;
    return down >= h ? -h : down > up ? -0.5 * down : 0.5 * up;
}

/* Residuals with x_j changed by h, into trial_r. */
static bool beside(struct search *s, const double x[], int j, double h, double *moved)
{
    double f;
    copy(s->trial, x, s->n);
    s->trial[j] = fmin(fmax(x[j] + h, lower(s->p, j)), upper(s->p, j));
    *moved = s->trial[j] - x[j];
    return *moved != 0.0 && residuals(s, s->trial, s->trial_r, &f);
}

static bool difference_column(struct search *s, const double x[], int j)
{
    const size_t n = (size_t)s->n;
    double h = difference_step(s, x, j), moved = 0.0;

    if (h == 0.0) {
        for (int i = 0; i < s->m; i++)
            s->J[(size_t)i * n + (size_t)j] = 0.0;
        return true;
    }
    if (!beside(s, x, j, h, &moved) && !beside(s, x, j, h = -h, &moved))
        return false;
    for (int i = 0; i < s->m; i++)
        s->J[(size_t)i * n + (size_t)j] = (s->trial_r[i] - s->r[i]) / moved;
    if (!s->p->limits.central)
        return true;
    const double first = moved; /* the parabola through three points, at x: wants equal steps */
    if (!beside(s, x, j, -h, &moved) || fabs(moved + first) > 1e-9 * fabs(first))
        return true;
    for (int i = 0; i < s->m; i++) {
        double *d = &s->J[(size_t)i * n + (size_t)j];
        *d = 0.5 * (*d + (s->trial_r[i] - s->r[i]) / moved);
    }
    return true;
}

static bool jacobian(struct search *s, const double x[])
{
    if (s->p->jacobian)
        return s->p->jacobian(x, s->J, s->p->arg) >= 0 && all_finite(s->J, (size_t)s->n * (size_t)s->m);
    for (int j = 0; j < s->n; j++)
        if (!difference_column(s, x, j))
            return false;
    return all_finite(s->J, (size_t)s->n * (size_t)s->m);
}

/* J'J, J'r and the scales. */
static void normal_equations(struct search *s)
{
    const size_t n = (size_t)s->n, m = (size_t)s->m;
    for (size_t a = 0; a < n; a++) {
        s->g[a] = 0.0;
        for (size_t i = 0; i < m; i++)
            s->g[a] += s->J[i * n + a] * s->r[i];
        for (size_t b = 0; b <= a; b++) {
            double sum = 0.0;
            for (size_t i = 0; i < m; i++)
                sum += s->J[i * n + a] * s->J[i * n + b];
            s->H[a * n + b] = s->H[b * n + a] = sum;
        }
        s->D[a] = fmax(s->D[a], sqrt(s->H[a * n + a]));
    }
}

static double scale_of(const struct search *s, int i)
{
    return s->D[i] > 0.0 ? s->D[i] : 1.0;
}

/* ---- one step ---- */

/* Which variables a bound holds at x: there, and f would fall outside. */
static enum st_side held(const struct search *s, const double x[], int i)
{
    if (x[i] <= lower(s->p, i) && (s->g[i] >= 0.0 || lower(s->p, i) == upper(s->p, i)))
        return ST_SIDE_LOWER;
    return x[i] >= upper(s->p, i) && s->g[i] <= 0.0 ? ST_SIDE_UPPER : ST_SIDE_FREE;
}

static bool flat(const struct search *s, const double x[])
{
    const double r = sqrt(s->f), small = s->p->limits.residual;
    bool zero = true;
    for (int i = 0; i < s->m; i++)
        zero = zero && fabs(s->r[i]) <= small;
    if (zero)
        return true;
    for (int i = 0; i < s->n; i++) {
        const double norm = sqrt(s->H[(size_t)i * (size_t)s->n + (size_t)i]);
        if (held(s, x, i) == ST_SIDE_FREE && fabs(s->g[i]) > s->p->limits.gradient * norm * r)
            return false;
    }
    return true;
}

/* The damped step in the box; *fall: by how much f would fall if r were linear. */
static bool find_step(struct search *s, const double x[], double mu, double *fall)
{
    const size_t n = (size_t)s->n;
    enum st_side side[ST_LS_MAX];
    double scaled_g[ST_LS_MAX];

    for (size_t a = 0; a < n; a++) {
        const double d = scale_of(s, (int)a);
        scaled_g[a] = s->g[a] / d;
        s->low[a] = fmin((lower(s->p, (int)a) - x[a]) * d, 0.0);
        s->high[a] = fmax((upper(s->p, (int)a) - x[a]) * d, 0.0);
        for (size_t b = 0; b < n; b++)
            s->damped[a * n + b] = s->H[a * n + b] / (d * scale_of(s, (int)b)) + (a == b ? mu : 0.0);
    }
    if (st_box_quadratic(s->n, s->damped, scaled_g, s->low, s->high, s->z, side, s->room) < 0)
        return false;
    *fall = 0.0;
    for (size_t a = 0; a < n; a++) {
        double hz = 0.0;
        for (size_t b = 0; b < n; b++)
            hz += (s->damped[a * n + b] - (a == b ? mu : 0.0)) * s->z[b];
        *fall -= s->z[a] * (2.0 * scaled_g[a] + hz);
        s->trial[a] = fmin(fmax(x[a] + s->z[a] / scale_of(s, (int)a), lower(s->p, (int)a)), upper(s->p, (int)a));
        if (side[a] != ST_SIDE_FREE) /* on the bound to the last bit */
            s->trial[a] = side[a] == ST_SIDE_LOWER ? lower(s->p, (int)a) : upper(s->p, (int)a);
    }
    return true;
}

static bool too_short(const struct search *s, const double x[])
{
    const double tol = s->p->limits.x;
    for (int i = 0; i < s->n; i++)
        if (fabs(s->trial[i] - x[i]) > tol * (fabs(x[i]) + tol))
            return false;
    return true;
}

/* ---- the search ---- */

static void tell(struct search *s, const double x[], int iterations, struct st_ls_result *out)
{
    int pivot[ST_LS_MAX], k = 0;
    *out = (struct st_ls_result){ .f = s->f, .iterations = iterations, .evaluations = s->evaluations };
    for (int i = 0; i < s->n; i++) {
        out->side[i] = held(s, x, i);
        out->multiplier[i] = out->side[i] == ST_SIDE_FREE ? 0.0 : 2.0 * s->g[i];
        k += out->side[i] == ST_SIDE_FREE;
    }
    size_t a = 0;
    for (int i = 0; i < s->n; i++)
        for (int j = 0; j < s->n && out->side[i] == ST_SIDE_FREE; j++)
            if (out->side[j] == ST_SIDE_FREE) {
                const double d = scale_of(s, i) * scale_of(s, j);
                s->damped[a++] = s->H[(size_t)i * (size_t)s->n + (size_t)j] / d;
            }
    out->rank = k ? st_cholesky(k, s->damped, 1e-13, s->room, pivot) : 0;
}

/* From x with r, f and J there: true when a stopping rule is met before the iterations end. */
static bool descend(struct search *s, double x[], int *iterations)
{
    const struct st_ls_limits *l = &s->p->limits;
    double mu = fmax(l->damping, 1e-13), raise = 2.0;

    for (*iterations = 0; *iterations < l->iterations; ++*iterations) {
        double fall = 0.0, f = 0.0;
        if (flat(s, x))
            return true;
        if (!find_step(s, x, mu, &fall) || !(fall > 0.0))
            return true;
        if (too_short(s, x))
            return true;
        const bool known = residuals(s, s->trial, s->trial_r, &f);
        const double gain = known ? (s->f - f) / fall : -1.0;
        if (!(gain > 0.0)) {
            if (known && fall <= l->f * s->f)
                return true;
            mu *= raise;
            raise *= 2.0;
            if (mu > 1e30)
                return true;
            continue;
        }
        const bool small = fall <= l->f * s->f && s->f - f <= l->f * s->f;
        copy(x, s->trial, s->n);
        copy(s->r, s->trial_r, s->m);
        s->f = f;
        if (!jacobian(s, x))
            return false;
        normal_equations(s);
        if (small)
            return true;
        const double t = 2.0 * gain - 1.0;
        mu = fmax(mu * fmax(1.0 / 3.0, 1.0 - t * t * t), 1e-13);
        raise = 2.0;
    }
    return false;
}

enum st_status st_least_squares(const struct st_ls_problem *p, double x[], double work[], struct st_ls_result *out)
{
    struct search s;
    int iterations = 0;
    double start[ST_LS_MAX];

    if (p->n < 1 || p->n > ST_LS_MAX || p->m < 1)
        return ST_E_DOMAIN;
    lay_out(&s, p, work);
    for (int i = 0; i < p->n; i++) {
        if (!(lower(p, i) <= upper(p, i)) || !isfinite(x[i]))
            return ST_E_DOMAIN;
        start[i] = fmin(fmax(x[i], lower(p, i)), upper(p, i));
        s.D[i] = 0.0;
    }
    if (!residuals(&s, start, s.r, &s.f) || !jacobian(&s, start))
        return ST_E_DOMAIN;
    copy(x, start, p->n);
    normal_equations(&s);
    const bool done = descend(&s, x, &iterations);
    tell(&s, x, iterations, out);
    return done ? ST_OK : ST_E_NOCONV;
}

enum st_status st_ls_covariance(const struct st_ls_problem *p, const struct st_ls_result *out, double work[],
                                double C[])
{
    struct search s;
    int which[ST_LS_MAX], pivot[ST_LS_MAX], k = 0;
    double column[ST_LS_MAX];

    lay_out(&s, p, work);
    for (int i = 0; i < p->n; i++)
        if (out->side[i] == ST_SIDE_FREE)
            which[k++] = i;
    for (int a = 0; a < k; a++)
        for (int b = 0; b < k; b++)
            s.damped[a * k + b] = s.H[which[a] * p->n + which[b]] / (scale_of(&s, which[a]) * scale_of(&s, which[b]));
    if (k && st_cholesky(k, s.damped, 1e-13, s.room, pivot) < k)
        return ST_E_REFUSED;
    for (int i = 0; i < p->n * p->n; i++)
        C[i] = 0.0;
    for (int a = 0; a < k; a++) {
        for (int b = 0; b < k; b++)
            column[b] = a == b;
        st_cholesky_solve(k, s.room, pivot, column, column);
        for (int b = 0; b < k; b++)
            C[which[b] * p->n + which[a]] = column[b] / (scale_of(&s, which[a]) * scale_of(&s, which[b]));
    }
    return ST_OK;
}
