#include <math.h>

#include "learn_inside.h"

/* Free scales, such as how a maker counts colour, integrated out: at their own lowest point for the given latents, by
 * the curvature there (Laplace; exact where readings are normal).  A reading knows one scale only, so each scale is one
 * place, or of marks two. */

enum { STEPS = 12, MOST = 2 };
static const double FAR = 3.0, RESTS = 1e-6;

struct bowl {
    double f, g[MOST], H[MOST][MOST];
};

/* Half the sum of squares of one scale's readings and its own prior, with slope and curvature in its places x[n]. */
static void look(const struct st_learn_one *o, int which, const double latent[], const double x_free[], int n,
                 struct bowl *b)
{
    double free_[ST_LS_MAX] = { 0 };
    const int at = o->scales[which].at;
    st_learn_free(o, x_free, free_);
    *b = (struct bowl){ .f = 0.0 };
    for (int a = 0; a < n; a++) {
        b->f += 0.5 * x_free[at + a] * x_free[at + a];
        b->g[a] = x_free[at + a];
        b->H[a][a] = 1.0;
    }
    for (int i = 0; i < o->n_seen; i++) {
        struct st_learn_eta e;
        if (!o->used[i] || o->scale[i] != which)
            continue;
        st_learn_eta(o, i, latent[i], free_, &e);
        b->f += 0.5 * e.residual * e.residual;
        for (int a = 0; a < n; a++) {
            const double u = e.dfree[a] * st_learn_width(&o->scales[which], a);
            b->g[a] += e.residual * e.dresidual * u;
            for (int c = 0; c < n; c++)
                b->H[a][c] += e.curvature * u * e.dfree[c] * st_learn_width(&o->scales[which], c);
        }
    }
}

static double determinant(const struct bowl *b, int n)
{
    return n == 1 ? b->H[0][0] : b->H[0][0] * b->H[1][1] - b->H[0][1] * b->H[1][0];
}

/* Newton's step, no longer than FAR in any place. */
static double step(const struct bowl *b, int n, double x[])
{
    double d[MOST] = { b->g[0] / b->H[0][0], 0.0 }, most = 0.0;
    if (n == 2) {
        const double det = determinant(b, n);
        d[0] = (b->H[1][1] * b->g[0] - b->H[0][1] * b->g[1]) / det;
        d[1] = (b->H[0][0] * b->g[1] - b->H[1][0] * b->g[0]) / det;
    }
    for (int a = 0; a < n; a++)
        most = fmax(most, fabs(d[a]));
    const double by = most > FAR ? FAR / most : 1.0;
    for (int a = 0; a < n; a++)
        x[a] -= by * d[a];
    return most * by;
}

double st_learn_marginal(const struct st_learn_one *o, const double latent[])
{
    double x[ST_LS_MAX] = { 0 }, f = 0.0, free_[ST_LS_MAX] = { 0 };
    for (int k = 0; k < o->n_scale; k++) {
        const int n = o->scales[k].what == ST_SEEN_MARK ? 2 : 1;
        struct bowl b;
        for (int i = 0; i < STEPS; i++) {
            look(o, k, latent, x, n, &b);
            if (step(&b, n, x + o->scales[k].at) < RESTS)
                break;
            if (n == 2)
                x[o->scales[k].at + 1] = fmax(x[o->scales[k].at + 1], st_learn_least_slope());
        }
        look(o, k, latent, x, n, &b);
        f += b.f + 0.5 * log(determinant(&b, n));
    }
    st_learn_free(o, x, free_);
    for (int i = 0; i < o->n_seen; i++) {
        struct st_learn_eta e;
        if (!o->used[i] || o->scale[i] >= 0)
            continue;
        st_learn_eta(o, i, latent[i], free_, &e);
        f += 0.5 * e.residual * e.residual;
    }
    return isfinite(f) ? f : (double)INFINITY;
}
