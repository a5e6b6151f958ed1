#include <math.h>

#include "core/louche.h"
#include "core/solvent_power.h"
#include "core/steep_constants.h"
#include "jar_block.h"

static int first_stage(const struct st_jar *j, int p)
{
    int s = 0;
    while (s + 1 < j->n_stage && !(j->piece[p].lies[s] > 0.0))
        s++;
    return s;
}

/* Share of the most that strength lets come, when all is mixed. */
static double best_share(const struct st_jar_block *b, int k, const struct st_jar_followed *f)
{
    double E = 1.0;
    const bool hump = f->what ? f->what->action == ST_ACTION_HUMP : f->late;
    if (hump)
        (void)st_hump(b->mixed[k][first_stage(b->w->j, f->piece)], b->set[k].hump_centre, &E);
    return E;
}

/* mg that can come: all of it, or what strength lets come; 0 where that is not known. */
static double can_come(const struct st_jar_block *b, int k, const struct st_jar_followed *f)
{
    const struct st_jar_set *set = &b->set[k];
    if (f->juice)
        return 1e3 * st_mixture_sugars(set->piece[f->piece]);
    if (!f->known)
        return 0.0;
    return best_share(b, k, f) * set->content[f->piece][f->marker] * st_jar_mass_of(set->piece[f->piece]);
}

/* mg of oil behind this substance in all pieces that hold it. */
static double brought(const struct st_jar_block *b, int k, const struct st_jar_followed *f)
{
    double sum = 0.0;
    for (int i = 0; i < b->w->n_followed; i++) {
        const struct st_jar_followed *of = &b->w->followed[i];
        if (of->what == f->what && of->marker >= 0)
            sum += b->set[k].oil[of->piece][of->marker] * st_jar_mass_of(b->set[k].piece[of->piece]);
    }
    return sum;
}

static bool is_limited(const struct st_jar_followed *f)
{
    return f->what && f->what->action == ST_ACTION_OIL && isfinite(f->what->water_mg_l);
}

/* Most that a gram of the liquid holds, in shares of what is brought: at the strength when all is mixed, as K. */
static void find_cap(const struct st_jar_block *b, int k, const struct st_jar_followed *f, double cap[])
{
    const struct st_jar_work *w = b->w;
    const struct st_jar_set *set = &b->set[k];
    const double mg = brought(b, k, f);
    const double heat = st_steep_constant(ST_OIL_HEAT);
    for (int i = 0; i < w->n_grid; i++) {
        const double T = st_jar_temperature_of(b, k, i);
        double S, cold;
        cap[i] = (double)INFINITY;
        const double f_stage = fmin(fmax(b->mixed[k][w->time[i].stage], 0.0), 1.0);
        if (!(mg > 0.0) || st_solubility_in_spirit(1e-3 * f->what->water_mg_l, f->what->sigma, f_stage, &S) < 0)
            continue;
        if (st_solubility_chilled(S, heat, T, &cold) >= 0)
            S = cold;
        double g_liquid = 0.0;
        for (int c = 0; c < ST_NCOMP; c++)
            g_liquid += st_jar_series_of(b->bulk, w, c * ST_JAR_SIDE + k)[i];
        const double ml_g = g_liquid > 0.0 ? st_jar_series_of(b->volume, w, k)[i] / g_liquid : 1.0;
        cap[i] = S * set->solubility_error * ml_g / mg; /* g/L is mg/mL */
    }
}

static void load_curve(struct st_jar_block *b, int f, int k, struct st_jar_job *job)
{
    struct st_jar_work *w = b->w;
    const struct st_jar_followed *what = &w->followed[f];
    const int row = f * ST_JAR_SIDE + k;
    *job = (struct st_jar_job){ .set = &b->set[k],
                                .ledger = &b->ledger[k],
                                .of = what->of,
                                .what = what->what,
                                .bulk = what->juice,
                                .watched = what->piece,
                                .mixed = b->mixed[k],
                                .liquid = st_jar_series_of(b->store, w, 2 * row),
                                .inside = st_jar_series_of(b->store, w, 2 * row + 1) };
    job->loaded[what->piece] = 1.0;
    if (is_limited(what)) {
        find_cap(b, k, what, st_jar_series_of(b->cap, w, row));
        job->cap = st_jar_series_of(b->cap, w, row);
    }
}

static const double LEAST_FULL = 1e-6;

/* While it lies; afterwards what it had given stays given.  Shares are of what would come into a liquid that can hold
 * any amount: of what does not dissolve little comes, however long it lies. */
static void tell_curve(struct st_jar_block *b, int f, int k, const struct st_jar_job *job)
{
    const struct st_jar_work *w = b->w;
    const struct st_jar_followed *what = &w->followed[f];
    const double mg = can_come(b, k, what);
    const double *volume = st_jar_series_of(b->volume, w, k);
    const size_t row = (size_t)f * (size_t)w->n_set + (size_t)(b->first + k);
    double given = 0.0, end = 1.0 - job->equal_free, left[ST_JAR_GRID];
    if (what->fades)
        b->raw->fade[row] = st_jar_fade(w, &b->set[k], what->piece, left);
    for (int pass = 0; pass < 2; pass++) {
        given = 0.0;
        for (int i = 0; i < w->n_grid; i++) {
            if (w->j->stage[w->time[i].stage].steeps && w->j->piece[what->piece].lies[w->time[i].stage] > 0.0)
                given = fmin(fmax(1.0 - job->inside[i], 0.0), 1.0);
            end = pass == 0 ? fmax(end, given) : end;
            if (pass == 0 || w->time[i].told < 0)
                continue;
            const size_t at =
                ((size_t)f * (size_t)w->n_told + (size_t)w->time[i].told) * (size_t)w->n_set + (size_t)(b->first + k);
            const double stays = what->fades ? left[i] : 1.0;
            const double here = volume[i] > 0.0 ? stays * job->liquid[i] / volume[i] : 0.0;
            b->raw->share[at] = end > 0.0 ? given / end : 0.0;
            b->raw->here[at] = here;
            b->raw->mg[at] = 1e3 * mg * here;
            if (b->raw->left)
                b->raw->left[at] = stays;
        }
    }
    b->raw->weight[row] = what->known ? mg : 1.0;
    b->raw->comes[row] = end * best_share(b, k, what);
    if (b->first + k == 0 && job->equal_free < job->equal - LEAST_FULL) /* the liquid is full before it is at rest */
        b->raw->full[f] = (1.0 - job->equal_free) / fmax(1.0 - job->equal, LEAST_FULL);
}

enum st_status st_jar_run_curves(struct st_jar_block *b)
{
    struct st_jar_work *w = b->w;
    b->n_job = 0;
    for (int f = 0; f < w->n_followed; f++)
        for (int k = 0; k < b->n; k++)
            load_curve(b, f, k, &b->job[b->n_job++]);
    const enum st_status s = st_jar_run_jobs(b);
    for (int f = 0, i = 0; f < w->n_followed && s >= 0; f++)
        for (int k = 0; k < b->n; k++)
            tell_curve(b, f, k, &b->job[i++]);
    return s;
}
