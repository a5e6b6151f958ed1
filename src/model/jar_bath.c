#include <math.h>
#include <string.h>

#include "core/arrhenius.h"
#include "core/solvent_power.h"
#include "core/strength.h"
#include "jar_inside.h"

/* One substance through all stages, up to ST_BATH_LANES of them side by side.  Volumes are grams of liquor. */

struct pass {
    struct st_jar_work *w;
    struct st_jar_job *job;
    int n;
    struct st_bath b;
    double left[ST_BATH_LANES]; /* what went out of the account: left over, lost, gone */
    double in[ST_BATH_LANES];
};

static int lane_of(const struct pass *p, int l)
{
    return l < p->n ? l : 0; /* spare lanes do as the first, so that no time step is lost to them */
}

static const struct st_jar_job *job_of(const struct pass *p, int l)
{
    return &p->job[lane_of(p, l)];
}

static const struct st_habit *habit_of(const struct pass *p, int piece, int l)
{
    return &p->w->habit[piece][job_of(p, l)->of];
}

/* ---- coefficients ---- */

static double logistic(double x)
{
    return 1.0 / (1.0 + exp(-x));
}

/* Distance in ln D, in the width that this substance's row has. */
static double theta_of(const struct pass *p, int piece, int l, enum st_theta t)
{
    const struct st_habit *h = habit_of(p, piece, l), *any = &p->w->habit[piece][ST_OF_ANY];
    const double x = job_of(p, l)->set->theta[piece][t];
    const double own = t == ST_THETA_D ? log(h->d.times) : t == ST_THETA_K ? log(h->k.times) : h->w_sd;
    const double usual = t == ST_THETA_D ? log(any->d.times) : t == ST_THETA_K ? log(any->k.times) : any->w_sd;
    return usual > 0.0 ? x * own / usual : x;
}

double st_jar_temperature(const struct st_jar_stage *g, double warmth, double t_s, bool after)
{
    if (g->n_heat == 0)
        return warmth;
    int i = 0;
    while (i < g->n_heat && (after ? g->heat[i].t_s <= t_s : g->heat[i].t_s < t_s))
        i++;
    if (i == 0 || i == g->n_heat)
        return g->heat[i == 0 ? 0 : i - 1].T_K + warmth;
    const struct st_jar_heat *a = &g->heat[i - 1], *b = &g->heat[i];
    return a->T_K + (b->T_K - a->T_K) * (t_s - a->t_s) / (b->t_s - a->t_s) + warmth;
}

/* Exact where warmth changes evenly and little, and right to second order. */
double st_jar_warmth_factor(const struct st_jar_stage *g, double warmth, double Ea, double t0, double t1)
{
    const double T0 = st_jar_temperature(g, warmth, t0, true), T1 = st_jar_temperature(g, warmth, t1, false);
    double a = 1.0, b = 1.0, m = 1.0;
    (void)st_arrhenius_factor(Ea, T0, ST_T20, &a);
    (void)st_arrhenius_factor(Ea, T1, ST_T20, &b);
    (void)st_arrhenius_factor(Ea, 0.5 * (T0 + T1), ST_T20, &m);
    return (a + 4.0 * m + b) / 6.0;
}

/* D/a^2 over the time that ends at grid point i. */
static double rate_of(const struct pass *p, int piece, int l, int i)
{
    const struct st_jar_job *job = job_of(p, l);
    const struct st_habit *h = habit_of(p, piece, l);
    const struct st_jar_time *t = &p->w->time[i];
    const struct st_jar_stage *g = &p->w->j->stage[t->stage];
    const double warmth = job->set->warmth[t->stage];
    const double a = h->a_m.value * exp(log(h->a_m.times) * job->set->z_size[piece]);
    const double Ea = 1e3 * fmax(h->ea_kj + h->ea_sd * job->set->z_ea[piece], 0.0);
    double D = h->d.value * exp(theta_of(p, piece, l, ST_THETA_D));
    if (!job->bulk)
        D *= st_compound_d_water(job->what) / (job->what ? h->d_ref : st_compound_d_water(NULL));
    D *= st_jar_warmth_factor(g, warmth, Ea, p->w->time[i - 1].t_s, t->t_s);
    D *= p->w->thick[(int)lround(1000.0 * fmin(fmax(job->mixed[t->stage], 0.0), 1.0))] /
         p->w->thick[(int)lround(10.0 * h->at_pct_vol)];
    return D / (a * a);
}

static double partition_of(const struct pass *p, int piece, int l, double f)
{
    const struct st_jar_job *job = job_of(p, l);
    if (job->bulk)
        return 1.0;
    double K = habit_of(p, piece, l)->k.value * exp(theta_of(p, piece, l, ST_THETA_K));
    if (job->what && job->what->action == ST_ACTION_OIL)
        (void)st_partition_in_spirit(K, job->set->partition_share * job->what->sigma, 0.40, fmin(fmax(f, 0.0), 1.0),
                                     &K);
    return K;
}

static double skin_of(const struct pass *p, int piece, int l, int stage)
{
    const struct st_habit *h = habit_of(p, piece, l);
    const struct st_jar_set *set = job_of(p, l)->set;
    const double skin =
        isinf(h->biot.value) ? h->biot.value : h->biot.value * exp(log(h->biot.times) * set->z_skin[piece]);
    return 1.0 / (1.0 / skin + 1.0 / set->still[stage]); /* in series */
}

/* Only warmth changes within a stage. */
static void set_coefficients(struct pass *p, int i)
{
    const int stage = p->w->time[i].stage;
    const bool anew = i == p->w->first[stage] + 1;
    for (int piece = 0; piece < p->b.n_piece && (anew || p->w->j->stage[stage].n_heat > 0); piece++) {
        struct st_bath_piece *bp = &p->b.piece[piece];
        for (int l = 0; l < ST_BATH_LANES && bp->in; l++) {
            bp->rate[l] = rate_of(p, piece, l, i);
            bp->partition[l] = partition_of(p, piece, l, job_of(p, l)->mixed[stage]);
            bp->biot[l] = skin_of(p, piece, l, stage);
        }
    }
    for (int l = 0; l < ST_BATH_LANES; l++)
        p->b.cap[l] = job_of(p, l)->cap ? job_of(p, l)->cap[i] : (double)INFINITY;
}

/* ---- stages ---- */

static void begin_pieces(struct pass *p)
{
    for (int piece = 0; piece < p->b.n_piece; piece++)
        for (int l = 0; l < ST_BATH_LANES; l++) {
            const struct st_habit *h = habit_of(p, piece, l);
            const struct st_jar_set *set = job_of(p, l)->set;
            struct st_bath_piece *bp = &p->b.piece[piece];
            bp->volume[l] = job_of(p, l)->ledger->volume[piece];
            bp->washed[l] = logistic(log(h->w / (1.0 - h->w)) + theta_of(p, piece, l, ST_THETA_W));
            bp->wash_rate[l] = h->wash.value * exp(log(h->wash.times) * set->z_wash[piece]);
        }
}

static bool lay_before(const struct st_jar *j, int piece, int stage)
{
    for (int s = 0; s < stage; s++)
        if (j->piece[piece].lies[s] > 0.0)
            return true;
    return false;
}

/* A piece that goes in for the first time, or of which only a part goes on: even in all of it. */
static enum st_status fill(struct pass *p, int piece, int s)
{
    const double lies = p->w->j->piece[piece].lies[s];
    const bool before = lay_before(p->w->j, piece, s);
    st_lanes c0, had;
    if (before && lies >= 1.0)
        return ST_OK;
    st_bath_in_piece(&p->b, piece, had);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        const struct st_jar_job *job = job_of(p, l);
        struct st_bath_piece *bp = &p->b.piece[piece];
        double n = before ? lies * had[l] : lies * job->loaded[piece];
        if (before && l < p->n)
            p->left[l] += (1.0 - lies) * had[l];
        else if (l < p->n) {
            p->in[l] += job->loaded[piece];
            p->left[l] += (1.0 - lies) * job->loaded[piece];
        }
        bp->volume[l] *= lies;
        if (!before) { /* what it draws in */
            const double soaked = p->b.liquid[l] * job->ledger->soaks[piece][s] / job->ledger->in[s];
            n += soaked;
            had[l] = soaked;
        } else
            had[l] = 0.0;
        c0[l] = n / bp->volume[l];
    }
    const enum st_status status = st_bath_fill(&p->b, piece, c0);
    for (int l = 0; l < ST_BATH_LANES && status >= 0; l++)
        p->w->scratch[piece][l] = had[l];
    return status;
}

/* What all new pieces draw in comes off the liquid that there was before any did. */
static enum st_status fill_all(struct pass *p, int s)
{
    enum st_status status = ST_OK;
    const struct st_jar *j = p->w->j;
    memset(p->w->scratch, 0, sizeof p->w->scratch);
    for (int piece = 0; piece < j->n_piece && status >= 0; piece++)
        if (j->piece[piece].lies[s] > 0.0)
            status = fill(p, piece, s);
    for (int piece = 0; piece < j->n_piece; piece++)
        for (int l = 0; l < ST_BATH_LANES; l++)
            p->b.liquid[l] = fmax(p->b.liquid[l] - p->w->scratch[piece][l], 0.0);
    return status;
}

/* The liquid of a stage: what is poured and taken. */
static void pour(struct pass *p, int s)
{
    const struct st_jar_stage *g = &p->w->j->stage[s];
    for (int l = 0; l < ST_BATH_LANES; l++) {
        struct st_jar_job *job = &p->job[lane_of(p, l)];
        double n = job->poured[s];
        if (l < p->n)
            p->in[l] += n;
        for (int k = 0; k < g->n_take; k++) {
            const double share = job->set->share[s][k];
            n += share * job->out[g->take[k].from];
            if (l < p->n)
                job->left_of[g->take[k].from] -= share * job->out[g->take[k].from];
        }
        p->b.liquid[l] = n;
        p->b.volume[l] = fmax(job->ledger->liquid[s], 1e-9);
        p->b.cap[l] = (double)INFINITY;
    }
}

static void note(struct pass *p, int i)
{
    st_lanes in;
    int held = -1; /* which piece `in` is of: lanes mostly watch the same */
    for (int l = 0; l < p->n; l++) {
        struct st_jar_job *job = &p->job[l];
        job->liquid[i] = p->b.liquid[l] * exp(-job->evaporates * p->w->time[i].t_s);
        if (!job->inside || job->watched < 0)
            continue;
        if (held != job->watched)
            st_bath_in_piece(&p->b, job->watched, in);
        held = job->watched;
        job->inside[i] = in[l];
    }
}

/* Where it would end if the stage lasted: everything at equilibrium, the liquid holding no more than it can. */
static void find_end(struct pass *p, int s)
{
    st_lanes total, room, in;
    memcpy(total, p->b.liquid, sizeof total);
    memcpy(room, p->b.volume, sizeof room);
    for (int piece = 0; piece < p->b.n_piece; piece++) {
        if (!p->b.piece[piece].in)
            continue;
        st_bath_in_piece(&p->b, piece, in);
        for (int l = 0; l < p->n; l++) {
            total[l] += in[l];
            room[l] += partition_of(p, piece, l, job_of(p, l)->mixed[s]) * p->b.piece[piece].volume[l];
        }
    }
    for (int l = 0; l < p->n; l++) {
        struct st_jar_job *job = &p->job[l];
        const int w = job->watched;
        if (w < 0 || !p->b.piece[w].in)
            continue;
        const double own = partition_of(p, w, l, job->mixed[s]) * p->b.piece[w].volume[l];
        const double c = total[l] / room[l], cap = job->cap ? job->cap[p->w->first[s + 1] - 1] : (double)INFINITY;
        job->equal_free = own * c;
        job->equal = c <= cap ? own * c : total[l] - cap * (room[l] - own);
    }
}

static enum st_status drain(struct pass *p, int piece, int s)
{
    st_lanes share;
    for (int l = 0; l < ST_BATH_LANES; l++) {
        const struct st_jar_ledger *g = job_of(p, l)->ledger;
        const double holds = p->b.piece[piece].volume[l], K = p->b.piece[piece].partition[l];
        const double off = holds > 0.0 ? fmin(fmax(1.0 - g->keeps[piece][s] / holds, 0.0), 1.0) : 0.0;
        share[l] = fmin(off / fmax(K, 1.0), 1.0); /* what clings to the solid does not drip off */
    }
    return st_bath_press(&p->b, piece, share);
}

/* What evaporates in a stage is taken off at its end, off the pieces too: they have made it good to the liquid. */
static enum st_status dry_off(struct pass *p, int s)
{
    enum st_status status = ST_OK;
    st_lanes share, before;
    bool any = false;
    for (int l = 0; l < ST_BATH_LANES; l++) {
        share[l] = 1.0 - exp(-job_of(p, l)->evaporates * p->w->length[s]);
        any = any || share[l] > 0.0;
    }
    for (int l = 0; l < ST_BATH_LANES; l++) {
        if (l < p->n)
            p->left[l] += share[l] * p->b.liquid[l];
        p->b.liquid[l] *= 1.0 - share[l];
    }
    for (int piece = 0; piece < p->w->j->n_piece && any && status >= 0; piece++) {
        if (!p->b.piece[piece].in)
            continue;
        memcpy(before, p->b.liquid, sizeof before);
        status = st_bath_press(&p->b, piece, share);
        for (int l = 0; l < ST_BATH_LANES && status >= 0; l++) {
            if (l < p->n)
                p->left[l] += p->b.liquid[l] - before[l];
            p->b.liquid[l] = before[l];
        }
    }
    return status;
}

static enum st_status end_stage(struct pass *p, int s)
{
    const struct st_jar *j = p->w->j;
    enum st_status status = dry_off(p, s);
    for (int piece = 0; piece < j->n_piece && status >= 0; piece++) {
        if (!p->b.piece[piece].in)
            continue;
        if (st_jar_is_strained(j, piece, s)) {
            status = drain(p, piece, s);
            p->b.piece[piece].in = false;
        }
    }
    for (int l = 0; l < p->n; l++) {
        struct st_jar_job *job = &p->job[l];
        job->out[s] = p->b.liquid[l] * j->stage[s].keeps;
        p->left[l] += p->b.liquid[l] - job->out[s];
        job->left_of[s] = job->out[s];
    }
    return status;
}

static enum st_status run_stage(struct pass *p, int s)
{
    const struct st_jar_work *w = p->w;
    const bool steeps = w->j->stage[s].steeps;
    pour(p, s);
    enum st_status status = steeps ? fill_all(p, s) : ST_OK;
    for (int piece = 0; piece < p->b.n_piece; piece++)
        p->b.piece[piece].in = steeps && w->j->piece[piece].lies[s] > 0.0;
    if (status >= 0 && w->first[s] < w->n_grid)
        note(p, w->first[s]);
    find_end(p, s);
    for (int i = w->first[s] + 1; i < w->first[s + 1] && status >= 0; i++) {
        if (steeps) {
            set_coefficients(p, i);
            status = st_bath_run(&p->b, w->time[i].dt_s, w->tolerance);
        }
        note(p, i);
    }
    return status < 0 ? status : end_stage(p, s);
}

/* All that came in is in a piece, in liquor that nobody took, or went out of the account. */
static void close_account(struct pass *p)
{
    for (int l = 0; l < p->n; l++) {
        struct st_jar_job *job = &p->job[l];
        double out = p->left[l];
        for (int s = 0; s < p->w->j->n_stage; s++)
            out += job->left_of[s];
        for (int piece = 0; piece < p->b.n_piece; piece++) {
            st_lanes in;
            st_bath_in_piece(&p->b, piece, in);
            out += in[l];
        }
        job->closure = p->in[l] > 0.0 ? fabs(p->in[l] - out) / p->in[l] : 0.0;
    }
}

enum st_status st_jar_bath(struct st_jar_work *w, struct st_jar_job job[], int n)
{
    struct pass p = { .w = w, .job = job, .n = n };
    enum st_body body[ST_JAR_PIECES];
    const int n_piece = w->j->n_piece > 0 ? w->j->n_piece : 1;
    for (int i = 0; i < n_piece; i++)
        body[i] = w->j->n_piece > 0 ? w->habit[i][job[0].of].body : ST_BODY_SPHERE;
    enum st_status status = st_bath_begin(&p.b, n_piece, body, w->shells, w->room);
    if (status < 0)
        return status;
    for (int l = 0; l < n; l++)
        memset(job[l].left_of, 0, sizeof job[l].left_of);
    if (w->j->n_piece > 0)
        begin_pieces(&p);
    for (int s = 0; s < w->j->n_stage && status >= 0; s++)
        status = run_stage(&p, s);
    if (status >= 0)
        close_account(&p);
    return status < 0 ? status : ST_OK;
}
