#include <math.h>
#include <string.h>

#include "correct_inside.h"
#include "random.h"

/* How sure it is that all wishes are met, linearised. */

/* ---- figures and what each input does ---- */

/* One column of masses: how they move with one standard deviation of an input. */
struct columns {
    double m[ST_NCOMP][1 + ST_CORRECT_INPUTS];
    int n;
};

static void add_column(struct columns *k, double by, const double g[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        k->m[c][k->n] = fmax(k->m[c][0] + by * g[c], 0.0);
    k->n++;
}

static void add_tools(struct columns *k, const struct st_correct_base *b, const struct st_correct_point *p)
{
    for (int t = 0; t < ST_NTOOL; t++) {
        double g[ST_NCOMP] = { 0.0 };
        for (int c = 0; c < ST_NCOMP; c++) {
            for (int i = 0; i < b->ask->n_thing; i++)
                if (p->with[i].tool == (enum st_tool)t)
                    g[c] += p->x[i] * p->with[i].scale * b->ask->thing[i].g[c];
            if (p->draw_with.tool == (enum st_tool)t)
                g[c] -= p->draw_ml * p->draw_with.scale * b->c[c];
        }
        add_column(k, 1.0, g);
    }
}

enum st_status st_correct_linearise(struct st_correct_base *b, const struct st_correct_point *p,
                                    struct st_correct_linear *l)
{
    enum { STRIDE = 1 + ST_CORRECT_INPUTS };
    struct columns k;
    double base[ST_NCOMP], y[ST_CORRECT_NFIG * STRIDE];
    const double left = b->ask->batch.ml - p->draw_ml;
    memset(&k, 0, sizeof k);
    st_correct_masses(b, p->x, p->draw_ml, base);
    for (int c = 0; c < ST_NCOMP; c++)
        k.m[c][0] = base[c];
    k.n = 1;
    add_column(&k, b->ask->batch.ml_u, b->c);
    for (int j = 0; j < ST_CORRECT_DEVIATIONS; j++)
        add_column(&k, left, b->wrong[j]);
    add_column(&k, -p->draw_with.own, b->c);
    for (int i = 0; i < ST_CORRECT_THINGS; i++) {
        static const double NONE[ST_NCOMP] = { 0.0 };
        const bool is = i < b->ask->n_thing;
        add_column(&k, is ? p->with[i].own : 0.0, is ? b->ask->thing[i].g : NONE);
        for (int j = 0; j < ST_CORRECT_DEVIATIONS; j++)
            add_column(&k, is ? p->x[i] : 0.0, is ? b->ask->thing[i].wrong[j] : NONE);
    }
    add_tools(&k, b, p);
    b->evaluations++;
    const enum st_status s = st_correct_figures((size_t)k.n, STRIDE, &k.m[0][0], y);
    if (s < 0)
        return s;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        double sum = 0.0;
        const double *row = y + (size_t)f * STRIDE;
        l->y[f] = row[0];
        for (int j = 0; j < ST_CORRECT_INPUTS; j++) {
            l->by[j][f] = row[1 + j] - l->y[f];
            sum += l->by[j][f] * l->by[j][f];
        }
        l->sd[f] = sqrt(sum);
    }
    return s;
}

/* ---- a normal law in a box ---- */

double st_normal_probability(double z)
{
    return 0.5 * erfc(-z / sqrt(2.0));
}

/* Fixed points in n - 1 directions, evenly spread: multiples of roots that have no common measure. */
static double spread(int point, int direction)
{
    static const double ROOT[3] = { 0.7548776662466927, 0.5698402909980532, 0.4301597090019468 };
    const double x = ROOT[direction] * (point + 0.5);
    return x - floor(x);
}

/* One direction alone by the middles of equal parts, which is better than spread points there. */
static double one_point(int n, double L[4][4], const double low[], const double high[], int point, int points)
{
    double y[4], product = 1.0;
    for (int i = 0; i < n; i++) {
        double at = 0.0;
        for (int j = 0; j < i; j++)
            at += L[i][j] * y[j];
        const double d = st_normal_probability((low[i] - at) / L[i][i]),
                     e = st_normal_probability((high[i] - at) / L[i][i]);
        product *= fmax(e - d, 0.0);
        if (i + 1 < n && product > 0.0) {
            const double u = n == 2 ? (point + 0.5) / points : fabs(2.0 * spread(point, i) - 1.0);
            y[i] = st_normal_from_uniform(fmin(fmax(d + u * (e - d), 1e-16), 1.0 - 1e-16));
        }
        if (!(product > 0.0))
            return 0.0;
    }
    return product;
}

double st_normal_box(int n, const double mean[], const double S[], const double low[], const double high[])
{
    double L[4][4] = { { 0.0 } }, a[4], b[4], sum = 0.0;
    for (int i = 0; i < n; i++) {
        a[i] = low[i] - mean[i];
        b[i] = high[i] - mean[i];
        for (int j = 0; j <= i; j++) {
            double x = S[n * i + j];
            for (int k = 0; k < j; k++)
                x -= L[i][k] * L[j][k];
            if (i == j)
                L[i][i] = sqrt(fmax(x, 1e-12 * S[n * i + i]));
            else
                L[i][j] = x / L[j][j];
        }
    }
    const int points = n == 1 ? 1 : n == 2 ? 32 : 96;
    for (int p = 0; p < points; p++)
        sum += one_point(n, L, a, b, p, points);
    return sum / points;
}

/* ---- all wishes ---- */

/* Under these nobody can tell two drinks apart: only so that there is always a doubt. */
static const double LEAST_SD[ST_CORRECT_NFIG] = { 1e-4, 1e-3, 1e-4, 1e-3 };

double st_correct_sd(const struct st_correct_linear *l, int f)
{
    return fmax(l->sd[f], LEAST_SD[f]);
}

static double worst_end(const struct st_correct_ask *ask, const struct st_correct_linear *l)
{
    double worst = 8.0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        const double sd = st_correct_sd(l, f);
        if (ask->wish[f].asked)
            worst = fmin(worst, fmin(l->y[f] - ask->wish[f].low, ask->wish[f].high - l->y[f]) / sd);
    }
    return worst;
}

double st_correct_deviate(const struct st_correct_ask *ask, const struct st_correct_linear *l)
{
    double mean[4], low[4], high[4], S[16];
    int of[4] = { 0 }, n = 0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (ask->wish[f].asked)
            of[n++] = f;
    for (int i = 0; i < n; i++) {
        mean[i] = l->y[of[i]];
        low[i] = ask->wish[of[i]].low;
        high[i] = ask->wish[of[i]].high;
        for (int j = 0; j < n; j++) {
            double sum = i == j ? LEAST_SD[of[i]] * LEAST_SD[of[i]] : 0.0;
            for (int k = 0; k < ST_CORRECT_INPUTS; k++)
                sum += l->by[k][of[i]] * l->by[k][of[j]];
            S[n * i + j] = sum;
        }
    }
    const double p = st_normal_box(n, mean, S, low, high);
    if (p < ST_CORRECT_FAR_P)
        return fmin(worst_end(ask, l), ST_CORRECT_FAR);
    return fmin(st_normal_from_uniform(fmin(p, 1.0 - 1e-16)), 8.0);
}
