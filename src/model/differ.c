#include "differ.h"

#include <math.h>
#include <stdlib.h>

#include "plan_inside.h"
#include "quantile.h"

/* Another run of numbers for what is drawn by itself: any odd pattern of bits does. */
static const uint64_t BY_ITSELF = 0x9E3779B97F4A7C15u;

static const struct st_column *column(const struct st_plan *p, int i)
{
    return &p->tape.column[p->program.input[i]];
}

static bool same_figures(const struct st_column *x, const struct st_column *y)
{
    const double near = 1e-9 * fmax(fabs(x->value), fabs(x->high - x->low));
    return x->shape == y->shape && fabs(x->value - y->value) <= near && fabs(x->low - y->low) <= near &&
           fabs(x->high - y->high) <= near;
}

/* One unknown, which both plans have. */
static bool is_shared(const struct st_plan *a, const struct st_column *of_b)
{
    for (int i = 0; of_b->doubt != ST_DOUBT_MAKING && i < a->program.n_in; i++) {
        const struct st_column *x = column(a, i);
        if (x->id == of_b->id && x->doubt == of_b->doubt && (x->doubt == ST_DOUBT_LASTING || same_figures(x, of_b)))
            return true;
    }
    return false;
}

static void draw_second(const struct st_plan *a, const struct st_plan *b, uint64_t seed, size_t n, double *X)
{
    for (int i = 0; i < b->program.n_in; i++) {
        const struct st_column *c = column(b, i);
        st_column_draw(c, is_shared(a, c) ? seed : seed ^ BY_ITSELF, 0, n, X + (size_t)i * n);
    }
}

/* What two columns of draws differ by; x is spoilt. */
static struct st_interval difference(const struct st_plan *a, const struct st_plan *b, int f, size_t n, double *x,
                                     const double *y, double *room)
{
    struct st_interval d = { (double)NAN, (double)NAN, (double)NAN, ST_OK, false };
    if (a->figure[f] < 0 || b->figure[f] < 0)
        return d;
    for (size_t i = 0; i < n; i++) {
        x[i] = y[i] - x[i];
        if (!isfinite(x[i]))
            return d;
    }
    d.value = b->tape.nominal[b->figure[f]] - a->tape.nominal[a->figure[f]];
    st_quantile_pair(n, x, 0.025, 0.975, room, &d.low, &d.high);
    d.low = fmin(d.low, d.value);
    d.high = fmax(d.high, d.value);
    d.status = st_status_worse(a->figure_status[f], b->figure_status[f]);
    d.known = true;
    return d;
}

enum st_status st_plan_differ(const struct st_plan *a, const struct st_plan *b, uint64_t seed, size_t n,
                              struct st_interval d[ST_NFIG])
{
    const size_t inputs = (size_t)a->program.n_in + (size_t)b->program.n_in;
    double *X = malloc((inputs + 1) * n * sizeof *X), *y = malloc((2 * ST_NFIG + 1) * n * sizeof *y);
    enum st_status s = ST_E_NOCONV;

    if (X && y) {
        double *second = X + (size_t)a->program.n_in * n, *of_b = y + ST_NFIG * n;
        st_plan_inputs(a, seed, 0, n, X);
        draw_second(a, b, seed, n, second);
        s = st_plan_evaluate(a, n, X, y);
        if (s >= 0)
            s = st_plan_evaluate(b, n, second, of_b);
        for (int f = 0; s >= 0 && f < ST_NFIG; f++)
            d[f] = difference(a, b, f, n, y + (size_t)f * n, of_b + (size_t)f * n, of_b + ST_NFIG * n);
    }
    free(X);
    free(y);
    return s < 0 ? s : ST_OK;
}
