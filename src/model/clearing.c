#include "clearing.h"

#include <math.h>
#include <string.h>

#include "clearing_inside.h"
#include "core/ageing.h"
#include "core/freezing.h"

static const double FRIDGE_K = 278.15, FREEZER_K = 255.15, ROOM_K = 293.15;

/* ---- what of a step ends in the bottle ---- */

double st_clearing_kept(const struct st_balance *b)
{
    const int c = b->mass_g[ST_ETHANOL] + b->spent_g[ST_ETHANOL] > 0.0 ? ST_ETHANOL : ST_WATER;
    const double all = b->mass_g[c] + b->spent_g[c] + b->lost_g[c];
    return all > 0.0 ? b->mass_g[c] / all : 0.0;
}

static double mass_of(const double g[ST_NCOMP])
{
    double sum = 0.0;
    for (int i = 0; i < ST_NCOMP; i++)
        sum += g[i];
    return sum;
}

/* Share of what step b gave that a line takes; left: what others before it left there. */
static double taken(const struct st_line *l, const struct st_balance *b, double left)
{
    const struct st_amount *a = &l->amount;
    const double whole = a->dim == ST_DIM_VOLUME ? b->volume_ml : mass_of(l->part == ST_SPENT ? b->spent_g : b->mass_g);
    if (a->dim == ST_DIM_OPEN || a->open == ST_OPEN_SOME)
        return left;
    return fmin(a->dim == ST_DIM_PIECE ? a->value : whole > 0.0 ? a->value / whole : left, left);
}

void st_clearing_reach(const struct st_recipe *r, const struct st_foretold *f, double reach[])
{
    double to_last[2][ST_CLEARING_STEPS] = { { 0.0 } }; /* liquor, and what was strained off */
    if (r->n_step < 1 || r->n_step > ST_CLEARING_STEPS)
        return;
    to_last[ST_LIQUOR][r->n_step - 1] = 1.0;
    for (int s = r->n_step - 2; s >= 0; s--) {
        double left[2] = { 1.0, 1.0 };
        for (int t = s + 1; t < r->n_step; t++)
            for (int i = 0; i < r->step[t].n_line; i++) {
                const struct st_line *l = &r->step[t].line[i];
                if (l->what || l->from_step != s)
                    continue;
                const double share = taken(l, &f->balance[s], left[l->part]);
                left[l->part] -= share;
                to_last[l->part][s] += share * st_clearing_kept(&f->balance[t]) * to_last[ST_LIQUOR][t];
            }
    }
    for (int s = 0; s < r->n_step; s++) {
        const double kept = st_clearing_kept(&f->balance[s]), spent = (1.0 - kept) * to_last[ST_SPENT][s];
        reach[s] = fmin(to_last[ST_LIQUOR][s] + (kept > 0.0 ? spent / kept : 0.0), 1.0 / fmax(kept, 1e-3));
    }
}

/* ---- what is in it ---- */

static bool is_fruit(enum st_kind k)
{
    return k == ST_KIND_FRESH_FRUIT || k == ST_KIND_FROZEN_FRUIT || k == ST_KIND_TINNED_FRUIT ||
           k == ST_KIND_DRIED_FRUIT || k == ST_KIND_GREEN_FRUIT || k == ST_KIND_JUICE;
}

bool st_clearing_is_flesh(const struct st_ingredient *in)
{
    return is_fruit(in->kind) && !(in->botanical && strncmp(in->botanical, "Citrus", 6) == 0);
}

/* Any part of a plant but peel brings tannin or protein (from memory). */
static bool has_tannin(enum st_kind k)
{
    return (k <= ST_KIND_POWDER && k != ST_KIND_PEEL_FRESH && k != ST_KIND_PEEL_DRY) || k == ST_KIND_WINE ||
           k == ST_KIND_JUICE || k == ST_KIND_BREW;
}

static void look_at(const struct st_line *l, bool finings, struct st_clearing *out)
{
    const struct st_ingredient *in = l->what;
    if (is_fruit(in->kind) && in->kind != ST_KIND_JUICE) {
        const struct st_range g = st_clearing_grams(l);
        out->fruit_g.known = (out->fruit_g.known || !(out->fruit_g.value > 0.0)) && g.known;
        out->fruit_g.value += g.known ? g.value : 1e-9;
        out->fruit_g.low += g.known ? g.low : 0.0;
        out->fruit_g.high += g.known ? g.high : 0.0;
    }
    out->milky = out->milky || (!finings && st_ingredient_perishable(in));
    out->fruit = out->fruit || is_fruit(in->kind);
    if (is_fruit(in->kind))
        out->haze |= ST_CLOUD_PULP | ST_CLOUD_PECTIN;
    if (has_tannin(in->kind) && !finings)
        out->haze |= ST_CLOUD_TANNIN | ST_CLOUD_PROTEIN;
    for (int i = 0; i < in->n_marker; i++)
        out->red = out->red || strncmp(in->marker[i].marker, "cyanidin", 8) == 0;
}

/* The peel of lemons, or whole ones: a row of their flesh names the whole fruit it is of. */
static bool is_lemon(const struct st_ingredient *in)
{
    const bool peel = in->kind == ST_KIND_PEEL_FRESH || in->kind == ST_KIND_PEEL_DRY ||
                      (in->kind == ST_KIND_FRESH_FRUIT && !(in->whole && *in->whole));
    return peel && in->botanical && strncmp(in->botanical, "Citrus limon", 12) == 0;
}

static void look_at_oils(struct st_clearing *out)
{
    for (int i = 0; i < out->n_oil; i++) {
        const struct st_oil_source *o = &out->oil[i];
        out->crystals = out->crystals || (o->as && strcmp(o->as->name, "trans_anethole") == 0);
        out->lemon = out->lemon || is_lemon(o->what);
    }
}

/* Its oil, where it may cloud (with water alone does not count: nobody has to pour it) or is not known; of flesh alone
 * that is not supposed. */
static void look_at_haze(struct st_clearing *out)
{
    for (int i = 0; i < ST_NPLACES; i++)
        if (i != ST_WITH_WATER && (out->at[i].is == ST_CLOUDS || out->at[i].is == ST_MAY_CLOUD))
            out->haze |= ST_CLOUD_OIL;
    for (int i = 0; i < out->n_oil; i++)
        if (out->oil[i].known != ST_OIL_KNOWN && !st_clearing_is_flesh(out->oil[i].what))
            out->haze |= ST_CLOUD_OIL;
    if (out->milky)
        out->haze = ST_CLOUD_CREAM;
}

/* ---- colour ---- */

static void colours(const struct st_recipe *r, const struct st_foretold *f, struct st_clearing *out)
{
    double reach[ST_CLEARING_STEPS];
    if (r->n_step > ST_CLEARING_STEPS || !out->volume_ml.known)
        return;
    st_clearing_reach(r, f, reach);
    for (int s = 0; s < r->n_step - 1 && out->n_colour < ST_MAX_COLOURS; s++) {
        const double ml = f->balance[s].volume_ml * reach[s];
        if (r->step[s].kind != ST_DO_STEEP || f->balance[s].status < 0 || !(ml > 0.0))
            continue;
        const struct st_interval *v = &out->volume_ml;
        struct st_interval share = { .status = ST_ESTIMATED, .known = true };
        if (st_absorbance(1.0, fmin(ml / v->value, 1.0), 1.0, &share.value) >= 0 &&
            st_absorbance(1.0, fmin(ml / v->high, 1.0), 1.0, &share.low) >= 0 &&
            st_absorbance(1.0, fmin(ml / v->low, 1.0), 1.0, &share.high) >= 0)
            out->colour[out->n_colour++] = (struct st_colour_left){ s, share };
    }
}

/* ---- verdicts ---- */

static enum st_status judge_all(struct st_clearing *out, const struct st_interval *strength)
{
    static const struct {
        double T_K, diluted;
    } AT[ST_NPLACES] = { [ST_IN_BOTTLE] = { ROOM_K, 1.0 },
                         [ST_IN_FRIDGE] = { FRIDGE_K, 1.0 },
                         [ST_IN_FREEZER] = { FREEZER_K, 1.0 },
                         [ST_WITH_WATER] = { ROOM_K, 0.5 } };
    enum st_status worst = ST_OK;
    for (int i = 0; i < ST_NPLACES; i++) {
        const enum st_status s = st_clear_judge(out->part, out->n_part, strength, out->sugar, AT[i].T_K, AT[i].diluted,
                                                out->oil_known, &out->at[i]);
        if (s < 0)
            out->at[i] =
                (struct st_clear_verdict){ .is = ST_CLEARNESS_UNKNOWN, .T_K = AT[i].T_K, .diluted = AT[i].diluted };
        worst = st_status_worse(worst, s);
        if (out->milky)
            out->at[i].is = ST_CLOUDS;
    }
    if (out->oil_known && out->n_part > 0 && out->at[ST_IN_BOTTLE].is != ST_STAYS_CLEAR)
        (void)st_clear_strength(out->part, out->n_part, out->sugar, ROOM_K, &out->clear_from);
    return worst;
}

enum st_status st_clearing_of(const struct st_recipe *r, const struct st_foretold *f,
                              const struct st_compounds *compounds, struct st_clearing *out)
{
    const struct st_interval *q = &f->fig[ST_FIG_STRENGTH], *sugar = &f->fig[ST_FIG_SUGAR],
                             *acid = &f->fig[ST_FIG_ACID];
    *out = (struct st_clearing){ .plain_eta = (double)NAN, .acid_g_l = (double)NAN, .freezes_K = (double)NAN };
    if (!q->known || !sugar->known || !f->fig[ST_FIG_VOLUME].known || r->n_step < 1)
        return ST_E_REFUSED;
    out->strength = q->value;
    out->sugar = sugar->value;
    out->volume_ml = f->fig[ST_FIG_VOLUME];
    if (acid->known)
        out->acid_g_l = acid->value;
    out->sucrose = f->final_g[ST_SUCROSE] > 0.01 * out->volume_ml.value;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what)
                look_at(&r->step[s].line[i], r->step[s].kind == ST_DO_FINE, out);
    double w[ST_NCOMP], T;
    if (st_mixture_from_masses(f->final_g, w) >= 0 && st_freezing_point(w, &T) >= 0)
        out->freezes_K = T;
    st_clearing_oils(r, f, compounds, out);
    look_at_oils(out);
    colours(r, f, out);
    const enum st_status judged = judge_all(out, q);
    look_at_haze(out);
    (void)st_clearing_jars(r, f, out); /* of a cream nothing is known; the rest is */
    out->crystals = out->crystals && out->at[ST_IN_FRIDGE].is != ST_STAYS_CLEAR;
    out->lemon = out->lemon && q->value >= 25.0 && q->value <= 35.0 && out->at[ST_IN_BOTTLE].is != ST_STAYS_CLEAR;
    return judged < 0 ? ST_ESTIMATED : judged;
}
