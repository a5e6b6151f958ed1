#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "jar_block.h"

/* ---- all mixed: what a stage comes to when it lasts ---- */

static double loaded_of(const double piece[ST_NCOMP], int c)
{
    return c == ST_SOLIDS || c == ST_FAT ? 0.0 : piece[c];
}

static double poured_of(const struct st_jar_work *w, const struct st_jar_set *set, int s, int c)
{
    double sum = 0.0;
    for (int i = 0; i < w->j->n_pour && c != ST_SOLIDS; i++)
        if (w->j->pour[i].stage == s)
            sum += set->pour[i][c];
    return sum;
}

static double fraction_of(const double g[ST_NCOMP])
{
    double w[ST_NCOMP], q;
    if (st_mixture_from_masses(g, w) < 0 || st_strength_mixture(w, &q) < 0)
        return 0.0;
    return fmin(q * 1e-2, 1.0);
}

static void mix_all(struct st_jar_block *b, int k)
{
    const struct st_jar *j = b->w->j;
    const struct st_jar_ledger *l = &b->ledger[k];
    double out[ST_JAR_STAGES][ST_NCOMP] = { { 0.0 } }, has[ST_JAR_PIECES][ST_NCOMP] = { { 0.0 } };
    bool went[ST_JAR_PIECES] = { false };
    for (int s = 0; s < j->n_stage; s++) {
        double pool[ST_NCOMP];
        for (int c = 0; c < ST_NCOMP; c++) {
            pool[c] = poured_of(b->w, &b->set[k], s, c);
            for (int t = 0; t < j->stage[s].n_take; t++)
                pool[c] += b->set[k].share[s][t] * out[j->stage[s].take[t].from][c];
            for (int p = 0; p < j->n_piece; p++)
                if (j->piece[p].lies[s] > 0.0)
                    pool[c] += j->piece[p].lies[s] * (went[p] ? has[p][c] : loaded_of(b->set[k].piece[p], c));
        }
        const double mass = st_jar_mass_of(pool);
        b->mixed[k][s] = fraction_of(pool);
        for (int c = 0; c < ST_NCOMP && mass > 0.0; c++) {
            out[s][c] = pool[c] / mass * l->out[s];
            for (int p = 0; p < j->n_piece; p++)
                if (j->piece[p].lies[s] > 0.0)
                    has[p][c] = pool[c] / mass * l->keeps[p][s];
        }
        for (int p = 0; p < j->n_piece; p++)
            went[p] = went[p] || j->piece[p].lies[s] > 0.0;
    }
}

/* ---- running jobs ---- */

static bool same_bodies(const struct st_jar_work *w, enum st_of a, enum st_of b)
{
    for (int p = 0; p < w->j->n_piece; p++)
        if (w->habit[p][a].body != w->habit[p][b].body)
            return false;
    return true;
}

enum st_status st_jar_run_jobs(struct st_jar_block *b)
{
    enum st_status s = ST_OK;
    for (int i = 0, n; i < b->n_job && s >= 0; i += n) {
        for (n = 1; n < ST_JAR_SIDE && i + n < b->n_job && same_bodies(b->w, b->job[i].of, b->job[i + n].of); n++)
            ;
        s = st_jar_bath(b->w, &b->job[i], n);
        for (int k = 0; k < n && s >= 0; k++)
            b->w->closure = fmax(b->w->closure, b->job[i + k].closure);
    }
    return s;
}

/* ---- the liquid ---- */

static void load_liquid(struct st_jar_block *b, int c, int k, struct st_jar_job *job)
{
    const struct st_jar_work *w = b->w;
    *job = (struct st_jar_job){ .set = &b->set[k],
                                .ledger = &b->ledger[k],
                                .of = ST_OF_LIQUID,
                                .bulk = true,
                                .watched = -1,
                                .evaporates = c == ST_ETHANOL ? b->set[k].evaporates : 0.0,
                                .mixed = b->mixed[k],
                                .liquid = st_jar_series_of(b->bulk, w, c * ST_JAR_SIDE + k) };
    for (int p = 0; p < w->j->n_piece; p++)
        job->loaded[p] = loaded_of(b->set[k].piece[p], c);
    for (int s = 0; s < w->j->n_stage; s++)
        job->poured[s] = poured_of(w, &b->set[k], s, c);
}

static bool is_there(const struct st_jar_job *job, const struct st_jar_work *w)
{
    double sum = 0.0;
    for (int p = 0; p < w->j->n_piece; p++)
        sum += job->loaded[p];
    for (int s = 0; s < w->j->n_stage; s++)
        sum += job->poured[s];
    return sum > 0.0;
}

/* g of the sucrose that lies at the bottom, in a liquid so warm; compared as the plan does (plan_build.c), without what
 * is neither sugar, water nor ethanol.  0 where nobody knows. */
static double undissolved(const double g[ST_NCOMP], double T)
{
    double w[ST_NCOMP], most;
    if (!(g[ST_SUCROSE] > 0.0) || st_mixture_from_masses(g, w) < 0 || st_sucrose_solubility(w, T, &most) < 0 ||
        !(most < 1.0))
        return 0.0;
    return fmax(g[ST_SUCROSE] - most / (1.0 - most) * (g[ST_WATER] + g[ST_ETHANOL]), 0.0);
}

double st_jar_temperature_of(const struct st_jar_block *b, int k, int i)
{
    const struct st_jar_time *t = &b->w->time[i];
    return st_jar_temperature(&b->w->j->stage[t->stage], b->set[k].warmth[t->stage], t->t_s, false);
}

/* Strength, volume and what is told, of set k. */
static enum st_status tell_liquid(struct st_jar_block *b, int k)
{
    const struct st_jar_work *w = b->w;
    const size_t n = (size_t)w->n_grid;
    const double *m[ST_NCOMP];
    double *f = st_jar_series_of(b->strength, w, k), *v = st_jar_series_of(b->volume, w, k);
    for (int c = 0; c < ST_NCOMP; c++)
        m[c] = st_jar_series_of(b->bulk, w, c * ST_JAR_SIDE + k);
    const enum st_status status = st_density_masses_n(n, m, ST_T20, v);
    if (status < 0)
        return status;
    for (int i = 0; i < w->n_grid; i++) {
        double g[ST_NCOMP], mass = 0.0, sugar = 0.0;
        for (int c = 0; c < ST_NCOMP; c++)
            mass += g[c] = m[c][i];
        for (int c = ST_SUCROSE; c <= ST_LACTOSE; c++)
            sugar += m[c][i];
        v[i] = 1e3 * mass / v[i];
        f[i] = v[i] > 0.0 ? m[ST_ETHANOL][i] / (0.789239 * v[i]) : 0.0;
        if (w->time[i].told < 0)
            continue;
        const size_t at = (size_t)w->time[i].told * (size_t)w->n_set + (size_t)(b->first + k);
        b->raw->strength[at] = 100.0 * f[i];
        b->raw->volume[at] = v[i];
        b->raw->undissolved[at] = undissolved(g, st_jar_temperature_of(b, k, i));
        b->raw->sugar[at] = v[i] > 0.0 ? 1e3 * sugar / v[i] : 0.0;
        b->raw->acid[at] = v[i] > 0.0 ? 1e3 * m[ST_ACID][i] / v[i] : 0.0;
    }
    return status;
}

static void tell_ends(struct st_jar_block *b, double out[ST_JAR_SIDE][ST_JAR_STAGES][ST_NCOMP])
{
    const struct st_jar_work *w = b->w;
    const size_t n_stage = (size_t)w->j->n_stage, n = (size_t)w->n_set;
    for (int k = 0; k < b->n; k++)
        for (int s = 0; s < w->j->n_stage; s++) {
            double m[ST_NCOMP], rho, mass = st_jar_mass_of(out[k][s]),
                                     *end = b->raw->end + (size_t)s * n + (size_t)(b->first + k);
            if (st_mixture_from_masses(out[k][s], m) < 0 || st_density_mixture(m, ST_T20, &rho) < 0)
                rho = 0.0;
            const double v = rho > 0.0 ? 1e3 * mass / rho : 0.0;
            const double figure[5] = { mass, v, v > 0.0 ? 100.0 * out[k][s][ST_ETHANOL] / (0.789239 * v) : 0.0,
                                       v > 0.0 ? 1e3 * st_mixture_sugars(out[k][s]) / v : 0.0, b->ledger[k].solids[s] };
            for (size_t i = 0; i < 5; i++)
                end[i * n_stage * n] = figure[i];
        }
}

/* What does not evaporate moves alike, whatever it is: its course is that of a unit of each piece and of each stage's pour,
 * times what is in them.  Where those are fewer than the components, they are run instead. */
struct unit {
    int piece, stage; /* one of them -1 */
};

static double amount_in(const struct st_jar_block *b, const struct unit *u, int c, int k)
{
    return u->piece >= 0 ? loaded_of(b->set[k].piece[u->piece], c) : poured_of(b->w, &b->set[k], u->stage, c);
}

static bool brings(const struct st_jar_block *b, const struct unit *u, int c)
{
    bool any = false;
    for (int k = 0; k < b->n; k++)
        any = any || amount_in(b, u, c, k) > 0.0;
    return any;
}

static int list_units(const struct st_jar_block *b, struct unit unit[])
{
    const struct st_jar *j = b->w->j;
    int n = 0, there = 0;
    for (int i = 0; i < j->n_piece + j->n_stage; i++) {
        const struct unit u = { i < j->n_piece ? i : -1, i < j->n_piece ? -1 : i - j->n_piece };
        bool any = false;
        for (int c = 0; c < ST_NCOMP; c++)
            any = any || (c != ST_ETHANOL && brings(b, &u, c));
        if (any)
            unit[n++] = u;
    }
    for (int c = 0; c < ST_NCOMP; c++) {
        bool any = false;
        for (int i = 0; i < n && c != ST_ETHANOL; i++)
            any = any || brings(b, &unit[i], c);
        there += any;
    }
    return n < there ? n : 0;
}

static void load_unit(struct st_jar_block *b, const struct unit *u, int row, int k, struct st_jar_job *job)
{
    load_liquid(b, ST_WATER, k, job);
    memset(job->loaded, 0, sizeof job->loaded);
    memset(job->poured, 0, sizeof job->poured);
    if (u->piece >= 0)
        job->loaded[u->piece] = 1.0;
    else
        job->poured[u->stage] = 1.0;
    job->liquid = st_jar_series_of(b->unit, b->w, row * ST_JAR_SIDE + k);
}

static void add_units(struct st_jar_block *b, const struct unit unit[], int n,
                      double out[ST_JAR_SIDE][ST_JAR_STAGES][ST_NCOMP])
{
    const struct st_jar_work *w = b->w;
    for (int c = 0; c < ST_NCOMP; c++)
        for (int u = 0; u < n && c != ST_ETHANOL; u++)
            for (int k = 0; k < b->n; k++) {
                const double x = amount_in(b, &unit[u], c, k);
                const double *from = st_jar_series_of(b->unit, w, u * ST_JAR_SIDE + k);
                double *to = st_jar_series_of(b->bulk, w, c * ST_JAR_SIDE + k);
                for (int i = 0; i < w->n_grid && x > 0.0; i++)
                    to[i] += x * from[i];
                for (int s = 0; s < w->j->n_stage; s++)
                    out[k][s][c] += x * b->job[u * b->n + k].out[s];
            }
}

static enum st_status run_liquid(struct st_jar_block *b)
{
    struct st_jar_work *w = b->w;
    static const double NOTHING[ST_JAR_SIDE][ST_JAR_STAGES][ST_NCOMP];
    double out[ST_JAR_SIDE][ST_JAR_STAGES][ST_NCOMP];
    int of_job[ST_JAR_SIDE * ST_NCOMP][2];
    struct unit unit[ST_JAR_PIECES + ST_JAR_STAGES];
    const int units = list_units(b, unit);
    memcpy(out, NOTHING, sizeof out);
    memset(b->bulk, 0, (size_t)(ST_NCOMP * ST_JAR_SIDE) * (size_t)w->n_grid * sizeof *b->bulk);
    b->n_job = 0;
    for (int u = 0; u < units; u++)
        for (int k = 0; k < b->n; k++)
            load_unit(b, &unit[u], u, k, &b->job[b->n_job++]);
    const int first = b->n_job;
    for (int c = 0; c < ST_NCOMP; c++)
        for (int k = 0; k < b->n && (units == 0 || c == ST_ETHANOL); k++) {
            load_liquid(b, c, k, &b->job[b->n_job]);
            of_job[b->n_job][0] = c;
            of_job[b->n_job][1] = k;
            b->n_job += is_there(&b->job[b->n_job], w);
        }
    enum st_status s = st_jar_run_jobs(b);
    for (int i = first; i < b->n_job && s >= 0; i++)
        for (int stage = 0; stage < w->j->n_stage; stage++)
            out[of_job[i][1]][stage][of_job[i][0]] = b->job[i].out[stage];
    if (s >= 0)
        add_units(b, unit, units, out);
    for (int k = 0; k < b->n && s >= 0; k++)
        s = tell_liquid(b, k);
    if (s >= 0)
        tell_ends(b, out);
    return s;
}

/* ---- all of it ---- */

static enum st_status run_block(struct st_jar_block *b)
{
    enum st_status s = ST_OK;
    for (int k = 0; k < b->n && s >= 0; k++) {
        s = st_jar_draw(b->w, b->first + k, &b->set[k]);
        if (s >= 0)
            s = st_jar_ledger(b->w->j, &b->set[k], &b->ledger[k]);
        if (s >= 0)
            mix_all(b, k);
    }
    if (s >= 0)
        s = run_liquid(b);
    return s < 0 ? s : st_jar_run_curves(b);
}

static enum st_status run_sets(struct st_jar_work *w, struct st_jar_raw *raw)
{
    struct st_jar_block *b = calloc(1, sizeof *b);
    enum st_status s = ST_E_NOCONV;
    if (!b)
        return s;
    const size_t n = (size_t)w->n_grid, curves = (size_t)w->n_followed * ST_JAR_SIDE;
    b->w = w;
    b->raw = raw;
    b->store = st_jar_doubles(2 * curves * n);
    b->cap = st_jar_doubles(curves * n);
    b->bulk = st_jar_doubles((size_t)ST_NCOMP * ST_JAR_SIDE * n);
    b->unit = st_jar_doubles((size_t)ST_NCOMP * ST_JAR_SIDE * n);
    b->strength = st_jar_doubles(ST_JAR_SIDE * n);
    b->volume = st_jar_doubles(ST_JAR_SIDE * n);
    b->job =
        calloc((size_t)ST_JAR_SIDE * (size_t)(w->n_followed > ST_NCOMP ? w->n_followed : ST_NCOMP), sizeof *b->job);
    if (b->job && b->unit && b->store && b->cap && b->bulk && b->strength && b->volume)
        s = ST_OK;
    for (int first = 0; first < w->n_set && s >= 0; first += ST_JAR_SIDE) {
        b->first = first;
        b->n = w->n_set - first < ST_JAR_SIDE ? w->n_set - first : ST_JAR_SIDE;
        s = run_block(b);
    }
    free(b->store);
    free(b->cap);
    free(b->bulk);
    free(b->unit);
    free(b->strength);
    free(b->volume);
    free(b->job);
    free(b);
    return s;
}

static enum st_status run(const struct st_jar *j, const struct st_jar_options *o, int n_set, const double *theta,
                          struct st_jar_told *out)
{
    struct st_jar_raw raw = { 0 };
    struct st_jar_work *w = calloc(1, sizeof *w);
    memset(out, 0, sizeof *out);
    if (!w)
        return ST_E_NOCONV;
    w->j = j;
    w->o = o;
    w->n_set = n_set;
    w->theta = theta;
    w->shells = o->shells > 0 ? o->shells : ST_BATH_SHELLS_USUAL;
    w->tolerance = o->tolerance > 0.0 ? o->tolerance : 1e-5;
    w->room = st_jar_doubles(st_bath_work(j->n_piece > 0 ? j->n_piece : 1, w->shells));
    enum st_status s = w->room ? st_jar_grid(w) : ST_E_NOCONV;
    if (s >= 0)
        s = st_jar_begin_habits(w);
    if (s >= 0) {
        st_jar_follow(w);
        st_jar_begin_thickness(w);
        s = st_jar_begin_source(w);
    }
    if (s >= 0)
        s = st_jar_raw_lay(w, &raw) ? run_sets(w, &raw) : ST_E_NOCONV;
    if (s >= 0)
        s = st_jar_tell(w, &raw, out);
    s = s < 0 ? s : st_status_worse(s, w->status);
    st_jar_raw_drop(&raw);
    free(w->drawn);
    free(w->room);
    free(w);
    return s;
}

static bool is_sound(const struct st_jar *j, const struct st_jar_options *o)
{
    bool ok = j->habits && j->compounds && j->n_stage > 0 && j->n_stage <= ST_JAR_STAGES && j->n_piece >= 0 &&
              j->n_piece <= ST_JAR_PIECES && j->n_pour >= 0 && j->n_pour <= ST_JAR_POURS && o->n_time >= 0 &&
              o->n_time <= ST_JAR_TIMES && o->shells >= 0 && o->shells <= ST_BATH_SHELLS && o->until_s < 1e10;
    for (int s = 0; s < j->n_stage && ok; s++) {
        ok = j->stage[s].time_s >= 0.0 && j->stage[s].time_s < 1e10 && j->stage[s].keeps >= 0.0 &&
             j->stage[s].keeps <= 1.0 && j->stage[s].n_take <= ST_JAR_TAKES;
        for (int k = 0; k < j->stage[s].n_take && ok; k++)
            ok = j->stage[s].take[k].from >= 0 && j->stage[s].take[k].from < s;
    }
    for (int p = 0; p < j->n_piece && ok; p++) {
        const struct st_jar_piece *piece = &j->piece[p];
        ok = piece->factor >= 0.0 && piece->factor < 1e6 && piece->retention.known && piece->retention.value >= 0.0;
        for (int s = 0; s < j->n_stage && ok; s++)
            ok = piece->lies[s] >= 0.0 && piece->lies[s] <= 1.0;
    }
    for (int i = 0; i < j->n_pour && ok; i++)
        ok = j->pour[i].factor >= 0.0 && j->pour[i].factor < 1e6 && j->pour[i].stage >= 0 &&
             j->pour[i].stage < j->n_stage;
    return ok;
}

enum st_status st_jar_run(const struct st_jar *j, const struct st_jar_options *o, struct st_jar_told *out)
{
    memset(out, 0, sizeof *out);
    if (!is_sound(j, o) || o->draws < 0 || o->draws > ST_JAR_DRAWS)
        return ST_E_DOMAIN;
    return run(j, o, o->draws + 1, NULL, out);
}

enum st_status st_jar_run_thetas(const struct st_jar *j, const struct st_jar_options *o, int n, const double theta[],
                                 struct st_jar_told *out)
{
    memset(out, 0, sizeof *out);
    if (!is_sound(j, o) || n < 1 || n > ST_JAR_DRAWS)
        return ST_E_DOMAIN;
    return run(j, o, n, theta, out);
}
