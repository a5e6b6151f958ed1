#include <math.h>
#include <string.h>

#include "core/steep_constants.h"
#include "core/strength.h"
#include "jar_inside.h"
#include "random.h"
#include "range.h"

/* One set of uncertain numbers.  Each has a name of its own to the generator, made of the ingredient and of what it is,
 * so that two jars of one seed share the numbers of what they share. */

struct drawer {
    const struct st_jar_work *w;
    int set; /* 0: the middle */
};

/* Standard normal; 0 at the middle and for given theta. */
static double z_of(const struct drawer *d, const char *a, const char *b, int i)
{
    const char number[] = { (char)('A' + i % 26), (char)('a' + i / 26), '\0' };
    double u;
    if (d->set == 0 || d->w->theta)
        return 0.0;
    const uint32_t id = st_name_hash(st_name_hash(st_name_hash(ST_NAME_START, a), b), number);
    st_uniform_n(d->w->o->seed, id, (uint64_t)d->set - 1, 1, &u);
    return st_normal_from_uniform(u);
}

/* A range as foresee draws it: split normal. */
static double split(struct st_range r, double z)
{
    return r.value + z / ST_Z975 * (z > 0.0 ? r.high - r.value : r.value - r.low);
}

static double range_of(const struct drawer *d, struct st_range r, const char *a, const char *b, int i)
{
    return split(r, z_of(d, a, b, i));
}

static double constant_of(const struct drawer *d, enum st_steep_constant c)
{
    const struct st_steep_constant_row *r = st_steep_constant_get(c);
    return range_of(d, (struct st_range){ .value = r->mid, .low = r->low, .high = r->high }, "steep", r->name, 0);
}

/* ---- amounts ---- */

static void goods_of(const struct drawer *d, const struct st_jar_goods *g, double factor, const char *name, int i,
                     double out[ST_NCOMP])
{
    const int n = d->w->n_set - 1;
    double times = factor;
    if (g->times > 1.0)
        times *= exp(log(g->times) * z_of(d, "amount", name, i));
    for (int c = 0; c < ST_NCOMP; c++) {
        const bool drawn = g->column[c] >= 0 && d->w->drawn && d->set > 0;
        out[c] =
            times * fmax(drawn ? d->w->drawn[(size_t)g->column[c] * (size_t)n + (size_t)d->set - 1] : g->g[c], 0.0);
    }
}

/* A label's tolerance, % vol ([eu_1169_2011] annex XII, as plan_known.c), rectangular. */
static const double LABEL_PCT_VOL = 0.3;

/* The same volume of a spirit of another strength. */
static enum st_status change_strength(const struct drawer *d, double pct_vol, double g[ST_NCOMP])
{
    const double sum = g[ST_WATER] + g[ST_ETHANOL], off = z_of(d, "label", "what if", 0);
    double q, rho, rho_now, p;
    if (!(sum > 0.0))
        return ST_OK;
    pct_vol += LABEL_PCT_VOL * erf(off / sqrt(2.0));
    pct_vol = fmin(fmax(pct_vol, 0.0), 100.0);
    if (st_strength_from_p(g[ST_ETHANOL] / sum, &q) < 0 || st_spirit_density(q, &rho_now) < 0 ||
        st_spirit_density(pct_vol, &rho) < 0 || st_p_from_strength(pct_vol, &p) < 0)
        return ST_E_DOMAIN;
    const double mass = sum / rho_now * rho;
    g[ST_ETHANOL] = mass * p;
    g[ST_WATER] = mass - g[ST_ETHANOL];
    return ST_OK;
}

static enum st_status draw_pours(const struct drawer *d, struct st_jar_set *out)
{
    const struct st_jar *j = d->w->j;
    enum st_status s = ST_OK;
    for (int i = 0; i < j->n_pour && s >= 0; i++) {
        goods_of(d, &j->pour[i].goods, j->pour[i].factor, j->pour[i].name, i, out->pour[i]);
        if (!isnan(j->pour[i].strength_pct_vol))
            s = st_jar_pour_is_spirit(&j->pour[i]) ? change_strength(d, j->pour[i].strength_pct_vol, out->pour[i])
                                                   : ST_E_DOMAIN;
    }
    for (int s2 = 0; s2 < j->n_stage; s2++)
        for (int k = 0; k < j->stage[s2].n_take; k++) {
            const struct st_jar_take *t = &j->stage[s2].take[k];
            const bool drawn = t->column >= 0 && d->w->drawn && d->set > 0;
            const size_t at = drawn ? (size_t)t->column * (size_t)(d->w->n_set - 1) + (size_t)d->set - 1 : 0;
            out->share[s2][k] = fmin(fmax(drawn ? d->w->drawn[at] : t->share, 0.0), 1.0);
        }
    return s;
}

/* ---- pieces ---- */

/* Lower triangle of cov = L L'; a pivot that rounding made negative counts as 0. */
static void cholesky(const double cov[ST_NTHETA * ST_NTHETA], double L[ST_NTHETA * ST_NTHETA])
{
    memset(L, 0, (size_t)ST_NTHETA * ST_NTHETA * sizeof *L);
    for (int r = 0; r < ST_NTHETA; r++)
        for (int c = 0; c <= r; c++) {
            double x = cov[r * ST_NTHETA + c];
            for (int k = 0; k < c; k++)
                x -= L[r * ST_NTHETA + k] * L[c * ST_NTHETA + k];
            const double pivot = L[c * ST_NTHETA + c];
            L[r * ST_NTHETA + c] = r == c ? sqrt(fmax(x, 0.0)) : pivot > 0.0 ? x / pivot : 0.0;
        }
}

static void draw_theta(const struct drawer *d, int p, const char *name, double theta[ST_NTHETA])
{
    const struct st_jar_piece *piece = &d->w->j->piece[p];
    double z[ST_NTHETA], L[ST_NTHETA * ST_NTHETA];
    for (int t = 0; t < ST_NTHETA; t++)
        z[t] = z_of(d, "theta", name, t);
    if (d->w->theta) {
        memcpy(theta, d->w->theta + ((size_t)d->set * (size_t)d->w->j->n_piece + (size_t)p) * ST_NTHETA,
               ST_NTHETA * sizeof *theta);
        return;
    }
    if (piece->theta.known)
        cholesky(piece->theta.cov, L);
    for (int r = 0; r < ST_NTHETA; r++) {
        theta[r] = piece->theta.known ? piece->theta.mean[r] : d->w->prior[p].sd[r] * z[r];
        for (int c = 0; piece->theta.known && c <= r; c++)
            theta[r] += L[r * ST_NTHETA + c] * z[c];
    }
}

/* A range of oil, which may be wide: split normal in its logarithm. */
static double wide_split(struct st_range r, double z)
{
    return r.value * exp(z / ST_Z975 * (z > 0.0 ? log(r.high / r.value) : log(r.value / r.low)));
}

/* How much of the prior's spread of a theta is left: 1 before anything was learnt of it. */
static double left_of(const struct drawer *d, int p, enum st_theta t)
{
    const struct st_theta_known *k = &d->w->j->piece[p].theta;
    const double prior = d->w->prior[p].sd[t];
    return k->known && prior > 0.0 ? fmin(sqrt(fmax(k->cov[t * ST_NTHETA + t], 0.0)) / prior, 1.0) : 1.0;
}

/* A content of one lot: what is known of it is in its range, and theta's own spread is not added to that; what was
 * learnt moves the middle and narrows the range as it narrowed theta. */
static double lot_of(const struct drawer *d, int p, struct st_range r, bool wide, double z,
                     const double theta[ST_NTHETA])
{
    const struct st_theta_known *k = &d->w->j->piece[p].theta;
    const bool sharp = !(r.low < r.high);
    if (d->w->theta || sharp)
        return fmax(r.value, 0.0) * exp(theta[ST_THETA_C0]);
    z *= left_of(d, p, ST_THETA_C0);
    return (wide ? wide_split(r, z) : fmax(split(r, z), 0.0)) * (k->known ? exp(k->mean[ST_THETA_C0]) : 1.0);
}

static void draw_contents(const struct drawer *d, int p, const char *name, struct st_jar_set *out)
{
    const double *theta = out->theta[p], z = z_of(d, "oil", name, 0); /* of one piece it is the same oil */
    for (int m = 0; m < d->w->j->piece[p].n_marker; m++) {
        const struct st_oil_content *c = &d->w->oil[p][m];
        const bool of_oil = c->from == ST_OIL_FROM_SHARE;
        const double own = of_oil ? z : z_of(d, "content", name, m);
        out->content[p][m] = c->mg_g.known ? lot_of(d, p, c->mg_g, of_oil, own, theta) : (double)NAN;
        out->oil[p][m] = c->from != ST_OIL_FROM_NOWHERE && c->mg_g.known ? out->content[p][m] : 0.0;
        if (c->oil_mg_g.known)
            out->oil[p][m] = fmax(out->oil[p][m], lot_of(d, p, c->oil_mg_g, true, z, theta));
    }
}

static void draw_pieces(const struct drawer *d, struct st_jar_set *out)
{
    const struct st_jar *j = d->w->j;
    for (int p = 0; p < j->n_piece; p++) {
        const struct st_jar_piece *piece = &j->piece[p];
        const char *name = piece->what && piece->what->slug ? piece->what->slug : piece->name;
        goods_of(d, &piece->goods, piece->factor, name, p, out->piece[p]);
        draw_theta(d, p, name, out->theta[p]);
        draw_contents(d, p, name, out);
        out->retention[p] = piece->retention.value * exp(out->theta[p][ST_THETA_R]);
        /* what was learnt of D was learnt with size and skin at their middle: it is of the pace, and narrows all three */
        const double pace = left_of(d, p, ST_THETA_D);
        out->z_size[p] = pace * z_of(d, "size", name, 0);
        out->z_skin[p] = pace * z_of(d, "skin", name, 0);
        out->z_wash[p] = z_of(d, "wash", name, 0);
        out->z_ea[p] = z_of(d, "activation", name, 0);
    }
}

/* ---- stages ---- */

static void draw_stages(const struct drawer *d, struct st_jar_set *out)
{
    for (int s = 0; s < d->w->j->n_stage; s++) {
        const struct st_jar_stage *g = &d->w->j->stage[s];
        const char *id = g->id ? g->id : "";
        out->warmth[s] = range_of(d, g->temperature_K, "warmth", "", 0);
        if (g->n_heat > 0) /* a path that was told is as told, within a degree */
            out->warmth[s] = 0.5 * z_of(d, "warmth", "", 0);
        out->press[s] = fmin(fmax(range_of(d, g->press_share, "press", id, 0), 0.0), 1.0);
        out->drained[s] =
            g->drained_solids_g.known ? fmax(range_of(d, g->drained_solids_g, "drained", id, 0), 0.0) : (double)NAN;
        out->still[s] =
            g->still ? sqrt(20.0) * exp(0.5 * log(5.0) / ST_Z975 * z_of(d, "still", id, 0)) : (double)INFINITY;
    }
}

/* Ethanol that leaves a lidded jar in a month: as plan_steep.c, order of magnitude, from memory. */
static const struct st_range EVAPORATES = { 0.0025, 0.001, 0.005, true, 'm', "from memory" };
static const double MONTH_S = 30.4375 * 86400.0;

enum st_status st_jar_draw(const struct st_jar_work *w, int set, struct st_jar_set *out)
{
    const struct drawer d = { w, set };
    memset(out, 0, sizeof *out);
    draw_pieces(&d, out);
    draw_stages(&d, out);
    out->partition_share = fmax(constant_of(&d, ST_PARTITION_SHARE), 0.0);
    out->hump_centre = fmin(fmax(constant_of(&d, ST_HUMP_CENTRE), 0.35), 0.65);
    out->solubility_error =
        exp(log(st_steep_constant_get(ST_SOLUBILITY_ERROR)->high) * z_of(&d, "steep", "solubility", 1));
    out->fades_half_s =
        st_steep_constant(ST_FADING_HALF_LIFE) * exp(log(2.0) * z_of(&d, "steep", "fading", 0)); /* x/: 2 */
    out->fades_ea = fmax(constant_of(&d, ST_EA_FADING), 0.0);
    out->evaporates = fmax(range_of(&d, EVAPORATES, "evaporates", "", 0), 0.0) / MONTH_S;
    return draw_pours(&d, out);
}
