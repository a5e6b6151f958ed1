#include "learn.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "learn_inside.h"

static const double LITTLE = 0.95, MUCH = 0.6, TWINS = 0.9, FAR = 3.0, ODD = 3.0;

/* The whole: thetas of all things, thing by thing. */
struct pool {
    struct st_learnt *out;
    int n;          /* thing * ST_NTHETA */
    double *lambda; /* [n*n] information */
    double *eta;    /* [n] */
};

/* ---- things ---- */

static const char *slug_of(const struct st_jar_piece *p)
{
    return p->what && p->what->slug ? p->what->slug : p->name;
}

static int thing_of(struct st_learnt *out, const struct st_jar *j, int piece)
{
    const struct st_jar_piece *p = &j->piece[piece];
    for (int i = 0; i < out->n_thing; i++)
        if (strcmp(out->thing[i].slug, slug_of(p)) == 0)
            return i;
    if (out->n_thing == ST_LEARN_THINGS)
        return -1;
    struct st_learnt_thing *t = &out->thing[out->n_thing];
    struct st_theta_prior prior;
    struct st_habit h;
    if (st_jar_habit(j, piece, ST_OF_ANY, &h) < 0)
        return -1;
    memset(t, 0, sizeof *t);
    t->slug = slug_of(p);
    t->name = p->name;
    st_theta_prior_of(&h, &p->retention, &prior);
    memcpy(t->prior_sd, prior.sd, sizeof t->prior_sd);
    return out->n_thing++;
}

/* ---- one batch ---- */

static void one_done(struct st_learn_one *o)
{
    free(o->time);
    free(o->used);
    free(o->scale);
    free(o->late);
    free(o->prior);
    free(o->latent0);
    free(o->latent);
}

static bool one_begin(struct st_learn_one *o, const struct st_learn_batch *b, struct st_learnt *out, int thing[])
{
    memset(o, 0, sizeof *o);
    o->batch = b;
    o->n_seen = b->n_seen;
    o->prior = calloc((size_t)b->jar->n_piece + 1, sizeof *o->prior);
    if (!o->prior)
        return false;
    for (int p = 0; p < b->jar->n_piece; p++) {
        thing[p] = thing_of(out, b->jar, p);
        for (int t = 0; thing[p] >= 0 && t < ST_NTHETA; t++)
            o->prior[p][t] = hypot(out->thing[thing[p]].prior_sd[t], ST_LEARN_BETWEEN);
    }
    return st_learn_prepare(o);
}

/* Natural figure of a latent: what the reading would show. */
static double shown(const struct st_learn_one *o, int i, double latent, const struct st_learn_eta *e)
{
    const struct st_observation *s = &o->batch->seen[i];
    if (s->what == ST_SEEN_TASTE)
        return (double)NAN;
    if (s->what == ST_SEEN_COLOUR)
        return s->value * exp(-e->eta * e->sd);
    return s->what == ST_SEEN_MARK ? s->value - e->eta * e->sd : latent;
}

static void tell_readings(const struct st_learn_one *o, const double x_free[], struct st_learnt_reading r[],
                          struct st_learnt *out)
{
    const double zero[ST_LEARN_FREE_MOST + 2] = { 0 };
    double before[ST_LEARN_FREE_MOST + 2] = { 0 }, after[ST_LEARN_FREE_MOST + 2] = { 0 };
    st_learn_free(o, zero, before);
    st_learn_free(o, x_free, after);
    for (int i = 0; i < o->n_seen; i++) {
        struct st_learn_eta e;
        r[i] = (struct st_learnt_reading){ .used = o->used[i] };
        if (!o->used[i])
            continue;
        st_learn_eta(o, i, o->latent0[i], before, &e);
        r[i].before = shown(o, i, o->latent0[i], &e);
        st_learn_eta(o, i, o->latent[i], after, &e);
        r[i].after = shown(o, i, o->latent[i], &e);
        r[i].sd = e.sd;
        r[i].off = o->batch->seen[i].what == ST_SEEN_TASTE ? 0.0 : e.eta;
        r[i].odd = fabs(r[i].off) > ODD;
        out->n_used++;
    }
}

/* Whether the readings of what was tasted or seen of a thing lie on both sides of "mostly out", two of them early. */
static bool has_early_and_late(const struct st_learn_one *o, int thing_piece)
{
    int early = 0, late = 0;
    for (int i = 0; i < o->n_seen; i++)
        if (o->used[i] && o->scale[i] >= 0 && o->batch->piece[i] == thing_piece) {
            late += o->late[i];
            early += !o->late[i];
        }
    return early + late == 0 || (early >= 2 && late >= 1);
}

/* Information of one batch about the ingredient: widened by what differs from batch to batch, P' = P (I + t2 P)^-1. */
static bool add_batch(struct pool *p, const struct st_learn_one *o, const int thing[])
{
    const int n = o->n_active;
    const double t2 = ST_LEARN_BETWEEN * ST_LEARN_BETWEEN;
    double M[ST_LS_MAX * ST_LS_MAX], L[ST_LS_MAX * ST_LS_MAX], column[ST_LS_MAX], wide[ST_LS_MAX * ST_LS_MAX],
        h[ST_LS_MAX];
    int pivot[ST_LS_MAX];

    for (int i = 0; i < n * n; i++)
        M[i] = t2 * o->P[i] + (i / n == i % n ? 1.0 : 0.0);
    if (st_cholesky(n, M, 0.0, L, pivot) < n)
        return false;
    for (int c = 0; c < n; c++) {
        for (int r = 0; r < n; r++)
            column[r] = o->P[r * n + c];
        st_cholesky_solve(n, L, pivot, column, column);
        for (int r = 0; r < n; r++)
            wide[r * n + c] = column[r];
    }
    st_cholesky_solve(n, L, pivot, o->h, h);
    for (int a = 0; a < n; a++) {
        const int row = thing[o->active[a].piece] * ST_NTHETA + (int)o->active[a].theta;
        p->eta[row] += h[a];
        for (int b = 0; b < n; b++)
            p->lambda[row * p->n + thing[o->active[b].piece] * ST_NTHETA + (int)o->active[b].theta] +=
                0.5 * (wide[a * n + b] + wide[b * n + a]);
    }
    return true;
}

/* ---- all together ---- */

static void grade(struct st_learnt_thing *t)
{
    for (int k = 0; k < ST_NTHETA; k++) {
        const double ratio = sqrt(t->cov[k * ST_NTHETA + k]) / t->prior_sd[k];
        t->grade[k] = ratio > LITTLE ? ST_LEARNT_NOTHING : ratio > MUCH ? ST_LEARNT_LITTLE : ST_LEARNT_MUCH;
        t->far[k] = fabs(t->mean[k]) > FAR * t->prior_sd[k];
    }
    for (int a = 0; a < ST_NTHETA; a++)
        for (int b = a + 1; b < ST_NTHETA; b++) {
            const double c = t->cov[a * ST_NTHETA + b];
            if (t->grade[a] == ST_LEARNT_NOTHING || t->grade[b] == ST_LEARNT_NOTHING ||
                fabs(c) < TWINS * sqrt(t->cov[a * ST_NTHETA + a] * t->cov[b * ST_NTHETA + b]))
                continue;
            t->twin[t->n_twin][0] = a;
            t->twin[t->n_twin++][1] = b;
            if (t->n_twin == ST_NTHETA)
                return;
        }
}

static enum st_status put_together(struct pool *p)
{
    double *column = calloc((size_t)p->n + 1, sizeof *column);
    if (!column)
        return ST_E_NOCONV;
    for (int i = 0; i < p->n; i++) {
        const double sd = p->out->thing[i / ST_NTHETA].prior_sd[i % ST_NTHETA];
        p->lambda[i * p->n + i] += 1.0 / (sd * sd);
    }
    if (!st_learn_factor(p->n, p->lambda)) {
        free(column);
        return ST_E_NOCONV;
    }
    st_learn_solve(p->n, p->lambda, p->eta);
    for (int i = 0; i < p->n; i++) {
        struct st_learnt_thing *t = &p->out->thing[i / ST_NTHETA];
        t->mean[i % ST_NTHETA] = p->eta[i];
        memset(column, 0, (size_t)p->n * sizeof *column);
        column[i] = 1.0;
        st_learn_solve(p->n, p->lambda, column);
        for (int k = 0; k < ST_NTHETA; k++)
            t->cov[(i % ST_NTHETA) * ST_NTHETA + k] = column[i / ST_NTHETA * ST_NTHETA + k];
    }
    for (int i = 0; i < p->out->n_thing; i++)
        grade(&p->out->thing[i]);
    free(column);
    return ST_OK;
}

/* Fit each batch and add what it says. */
static enum st_status learn_batches(struct pool *p, const struct st_learn_batch batch[], int n)
{
    enum st_status worst = ST_OK;
    for (int b = 0; b < n && worst >= 0; b++) {
        struct st_learn_one o;
        int thing[ST_JAR_PIECES] = { 0 };
        bool ok = one_begin(&o, &batch[b], p->out, thing);
        enum st_status s = ok ? st_learn_fit(&o) : o.status < 0 ? o.status : ST_E_NOCONV;
        p->out->reading[b] = calloc((size_t)batch[b].n_seen + 1, sizeof **p->out->reading);
        if (s >= 0 && p->out->reading[b]) {
            if (o.n_active == 0)
                memcpy(o.latent, o.latent0, (size_t)o.n_seen * sizeof *o.latent);
            tell_readings(&o, o.x + o.n_active, p->out->reading[b], p->out);
            for (int k = 0; k < batch[b].jar->n_piece; k++)
                if (thing[k] >= 0) {
                    p->out->thing[thing[k]].batches++;
                    p->out->early_wanted = p->out->early_wanted || !has_early_and_late(&o, k);
                }
            if (o.n_active && !add_batch(p, &o, thing))
                s = ST_E_NOCONV;
        }
        one_done(&o);
        worst = s < 0 ? s : worst;
    }
    return worst;
}

enum st_status st_learn(const struct st_learn_batch batch[], int n, struct st_learnt *out)
{
    memset(out, 0, sizeof *out);
    if (n < 1 || n > ST_LEARN_BATCHES)
        return ST_E_DOMAIN;
    out->n_batch = n;
    for (int b = 0; b < n; b++) /* so that the whole has its size before anything is added */
        for (int k = 0; k < batch[b].jar->n_piece; k++)
            (void)thing_of(out, batch[b].jar, k);
    struct pool p = { .out = out, .n = out->n_thing * ST_NTHETA };
    p.lambda = calloc((size_t)p.n * (size_t)p.n + 1, sizeof *p.lambda);
    p.eta = calloc((size_t)p.n + 1, sizeof *p.eta);
    enum st_status s = p.lambda && p.eta ? learn_batches(&p, batch, n) : ST_E_NOCONV;
    if (s >= 0)
        s = put_together(&p);
    free(p.lambda);
    free(p.eta);
    return s >= 0 && out->n_used == 0 ? ST_E_REFUSED : s;
}

void st_learnt_done(struct st_learnt *l)
{
    for (int b = 0; b < ST_LEARN_BATCHES; b++) {
        free(l->reading[b]);
        l->reading[b] = NULL;
    }
}

static bool says_something(const struct st_learnt_thing *t)
{
    for (int k = 0; k < ST_NTHETA; k++)
        if (t->grade[k] != ST_LEARNT_NOTHING)
            return true;
    return false;
}

int st_learnt_apply(const struct st_learnt *l, struct st_jar *jar)
{
    int n = 0;
    for (int k = 0; k < jar->n_piece; k++)
        for (int i = 0; i < l->n_thing; i++)
            if (strcmp(l->thing[i].slug, slug_of(&jar->piece[k])) == 0 && says_something(&l->thing[i])) {
                struct st_theta_known *t = &jar->piece[k].theta;
                t->known = true;
                memcpy(t->mean, l->thing[i].mean, sizeof t->mean);
                memcpy(t->cov, l->thing[i].cov, sizeof t->cov);
                for (int a = 0; a < ST_NTHETA; a++)
                    t->cov[a * ST_NTHETA + a] += ST_LEARN_BETWEEN * ST_LEARN_BETWEEN;
                n++;
            }
    return n;
}
