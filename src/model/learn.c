#include "learn.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "learn_inside.h"

static const double LITTLE = 0.95, MUCH = 0.6, TWINS = 0.9, FAR = 3.0, ODD = 3.0;
static const double BETWEEN = 0.3, BETWEEN_SHARE = 0.6; /* learn.h */

/* The whole: thetas of all things, thing by thing. */
struct pool {
    struct st_learnt *out;
    int n;          /* thing * ST_NTHETA */
    double *lambda; /* [n*n] information */
    double *plain;  /* [n*n] the same with what differs from batch to batch left out */
    double *eta;    /* [n] */
};

/* ---- things ---- */

static const char *slug_of(const struct st_jar_piece *p)
{
    return p->what && p->what->slug ? p->what->slug : p->name;
}

double st_learn_between(double sd)
{
    return fmin(BETWEEN, BETWEEN_SHARE * sd);
}

double st_learn_own(double sd)
{
    const double b = st_learn_between(sd);
    return sqrt(fmax(sd * sd - b * b, 0.0));
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
    for (int k = 0; k < ST_NTHETA; k++) {
        t->prior_sd[k] = st_learn_own(prior.sd[k]);
        t->between[k] = st_learn_between(prior.sd[k]);
    }
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
            o->prior[p][t] = hypot(out->thing[thing[p]].prior_sd[t], out->thing[thing[p]].between[t]);
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

/* The readings of what was tasted or seen of a thing should lie on both sides of "mostly out", two of them early. */
static void look_for_points(const struct st_learn_one *o, int thing_piece, struct st_learnt *out)
{
    int early = 0, late = 0;
    for (int i = 0; i < o->n_seen; i++)
        if (o->used[i] && o->scale[i] >= 0 && o->batch->piece[i] == thing_piece) {
            late += o->late[i];
            early += !o->late[i];
        }
    if (out->early_wanted || early + late == 0 || (early >= 2 && late >= 1))
        return;
    out->early_wanted = true;
    out->wanted_of = o->batch->jar->piece[thing_piece].name;
    out->wanted_early = early;
    out->wanted_late = late;
}

/* Which deviations from batch to batch there are: one for each theta of a thing, whatever pieces of it lie in the jar.
 * U[n][m]: standard deviation of deviation g in active theta a. */
static int deviations(const struct pool *p, const struct st_learn_one *o, const int thing[], double U[])
{
    int m = 0, group[ST_LS_MAX], row[ST_LS_MAX];
    const int n = o->n_active;
    for (int a = 0; a < n; a++) {
        row[a] = thing[o->active[a].piece] * ST_NTHETA + (int)o->active[a].theta;
        group[a] = -1;
        for (int b = 0; b < a && group[a] < 0; b++)
            if (row[b] == row[a])
                group[a] = group[b];
        if (group[a] < 0)
            group[a] = m++;
    }
    memset(U, 0, (size_t)(n * m) * sizeof *U);
    for (int a = 0; a < n; a++)
        U[a * m + group[a]] = p->out->thing[row[a] / ST_NTHETA].between[row[a] % ST_NTHETA];
    return m;
}

/* Information of one batch about the ingredient, P and h, less what differs from batch to batch, B = U U':
 * P' = P - P U (I + U' P U)^-1 U' P, h' = h - P U (I + U' P U)^-1 U' h. */
static bool add_batch(struct pool *p, const struct st_learn_one *o, const int thing[])
{
    const int n = o->n_active;
    double U[ST_LS_MAX * ST_LS_MAX], PU[ST_LS_MAX * ST_LS_MAX] = { 0 }, M[ST_LS_MAX * ST_LS_MAX] = { 0 };
    double W[ST_LS_MAX * (ST_LS_MAX + 1)] = { 0 }, column[ST_LS_MAX];
    const int m = deviations(p, o, thing, U);

    for (int a = 0; a < n; a++)
        for (int g = 0; g < m; g++)
            for (int b = 0; b < n; b++)
                PU[a * m + g] += o->P[a * n + b] * U[b * m + g];
    for (int g = 0; g < m; g++)
        for (int k = 0; k < m; k++) {
            M[g * m + k] = g == k ? 1.0 : 0.0;
            for (int a = 0; a < n; a++)
                M[g * m + k] += U[a * m + g] * PU[a * m + k];
        }
    if (!st_learn_factor(m, M))
        return false;
    for (int c = 0; c <= n; c++) { /* the solution for U' P, and last for U' h */
        for (int g = 0; g < m; g++) {
            column[g] = c < n ? PU[c * m + g] : 0.0;
            for (int a = 0; a < n && c == n; a++)
                column[g] += U[a * m + g] * o->h[a];
        }
        st_learn_solve(m, M, column);
        for (int g = 0; g < m; g++)
            W[g * (n + 1) + c] = column[g];
    }
    for (int a = 0; a < n; a++) {
        const int row = thing[o->active[a].piece] * ST_NTHETA + (int)o->active[a].theta;
        p->eta[row] += o->h[a];
        for (int g = 0; g < m; g++)
            p->eta[row] -= PU[a * m + g] * W[g * (n + 1) + n];
        for (int b = 0; b < n; b++) {
            const int at = row * p->n + thing[o->active[b].piece] * ST_NTHETA + (int)o->active[b].theta;
            double x = o->P[a * n + b];
            p->plain[at] += x;
            for (int g = 0; g < m; g++)
                x -= PU[a * m + g] * W[g * (n + 1) + b];
            p->lambda[at] += x;
        }
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
}

/* cov: as if all makings had been one, so that what differs from making to making does not hide what the readings leave
 * open. */
static void find_twins(struct st_learnt_thing *t, const double cov[])
{
    for (int a = 0; a < ST_NTHETA; a++)
        for (int b = a + 1; b < ST_NTHETA && t->n_twin < ST_NTHETA; b++) {
            if (t->grade[a] == ST_LEARNT_NOTHING || t->grade[b] == ST_LEARNT_NOTHING ||
                fabs(cov[a * ST_NTHETA + b]) < TWINS * sqrt(cov[(size_t)a * (ST_NTHETA + 1)] * cov[(size_t)b * (ST_NTHETA + 1)]))
                continue;
            t->twin[t->n_twin][0] = a;
            t->twin[t->n_twin++][1] = b;
        }
}

/* The block of one thing out of the inverse; L is the factor of all. */
static void block_of(const struct pool *p, const double L[], int thing, double column[], double cov[])
{
    for (int t = 0; t < ST_NTHETA; t++) {
        memset(column, 0, (size_t)p->n * sizeof *column);
        column[thing * ST_NTHETA + t] = 1.0;
        st_learn_solve(p->n, L, column);
        for (int k = 0; k < ST_NTHETA; k++)
            cov[t * ST_NTHETA + k] = column[thing * ST_NTHETA + k];
    }
}

static enum st_status put_together(struct pool *p)
{
    double *column = calloc((size_t)p->n + 1, sizeof *column), plain[ST_NTHETA * ST_NTHETA];
    for (int i = 0; i < p->n; i++) {
        const struct st_learnt_thing *t = &p->out->thing[i / ST_NTHETA];
        const double sd = t->prior_sd[i % ST_NTHETA], between = t->between[i % ST_NTHETA];
        p->lambda[i * p->n + i] += 1.0 / (sd * sd);
        p->plain[i * p->n + i] += 1.0 / (sd * sd + between * between);
    }
    if (!column || !st_learn_factor(p->n, p->lambda) || !st_learn_factor(p->n, p->plain)) {
        free(column);
        return ST_E_NOCONV;
    }
    st_learn_solve(p->n, p->lambda, p->eta);
    for (int i = 0; i < p->out->n_thing; i++) {
        struct st_learnt_thing *t = &p->out->thing[i];
        memcpy(t->mean, p->eta + (size_t)i * ST_NTHETA, sizeof t->mean);
        block_of(p, p->lambda, i, column, t->cov);
        block_of(p, p->plain, i, column, plain);
        grade(t);
        find_twins(t, plain);
    }
    free(column);
    return ST_OK;
}

/* Not in a line before of the same making. */
static bool is_first_of(const int thing[], int piece)
{
    for (int k = 0; k < piece; k++)
        if (thing[k] == thing[piece])
            return false;
    return true;
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
            if (o.n_active)
                p->out->effective = b == 0 ? o.effective : fmin(p->out->effective, o.effective);
            for (int k = 0; k < batch[b].jar->n_piece; k++)
                if (thing[k] >= 0) {
                    if (is_first_of(thing, k))
                        p->out->thing[thing[k]].batches++;
                    look_for_points(&o, k, p->out);
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
    p.plain = calloc((size_t)p.n * (size_t)p.n + 1, sizeof *p.plain);
    p.eta = calloc((size_t)p.n + 1, sizeof *p.eta);
    enum st_status s = p.lambda && p.plain && p.eta ? learn_batches(&p, batch, n) : ST_E_NOCONV;
    if (s >= 0)
        s = put_together(&p);
    free(p.lambda);
    free(p.plain);
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
                    t->cov[a * ST_NTHETA + a] += l->thing[i].between[a] * l->thing[i].between[a];
                n++;
            }
    return n;
}
