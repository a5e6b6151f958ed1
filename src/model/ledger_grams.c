#include <math.h>

#include "core/density_mixture.h"
#include "ledger_inside.h"

/* How much of an ingredient a line is, at least and at most. */

static const struct st_range NOT_KNOWN = { .known = false, .source = "" };

/* ---- as measured ---- */

static struct st_tolerance tolerance_of(const struct st_recipe *r, const struct st_amount *a, double fills)
{
    const struct st_tools *own = &r->tools;
    struct st_tolerance t = st_tolerance_default(a->tool, a->value / fills * (1.0 - 1e-9)); /* as plan_lines.c */
    if (own->given[a->tool])
        return own->of[a->tool];
    if (a->tool == ST_TOOL_SCALE && own->scale_digit_g > 0.0)
        t.step = 0.5 * own->scale_digit_g;
    return t;
}

struct st_range st_ledger_measured(const struct st_recipe *r, const struct st_amount *a)
{
    if (!(a->value >= 0.0 && a->value < 1e9))
        return NOT_KNOWN;
    double value = a->value, low = fmin(a->low, value), high = fmax(a->high, value);
    if (!(a->low < a->high)) {
        low = high = value;
        if (a->heaped) /* as plan_lines.c */
            low = 1.3 * a->value, value = 1.45 * a->value, high = 1.6 * a->value;
        else if (a->scant)
            low = 0.85 * a->value, value = 0.9 * a->value, high = 0.95 * a->value;
    }
    const double fills = a->fills > 0.0 ? a->fills : 1.0;
    const struct st_tolerance t = tolerance_of(r, a, fills);
    const double share = fabs(t.scale) + fabs(t.fill);
    const double step = fabs(t.step) * (a->tool == ST_TOOL_SCALE ? 2.0 : 1.0); /* zero and load */
    if (!(high > 0.0))                                                         /* nothing was measured */
        return (struct st_range){ 0.0, 0.0, 0.0, true, 'u', "" };
    return (struct st_range){
        value, fmax(low * (1.0 - fmin(share, 1.0)) - step, 0.0), high * (1.0 + share) + step, true, 'u', ""
    };
}

static struct st_range times(struct st_range a, struct st_range b)
{
    if (!a.known || !b.known)
        return NOT_KNOWN;
    return (struct st_range){
        a.value * b.value, a.low * fmin(b.low, b.value), a.high * fmax(b.high, b.value), true, b.mark, b.source
    };
}

/* ---- open amounts: as foresee assumed them ---- */

static struct st_range assumed(const struct st_foretold *f, int step, int line)
{
    for (int i = 0; f && i < f->n_note; i++) {
        const struct st_note *n = &f->note[i];
        if (n->code == ST_NOTE_OPEN && n->step == step && n->line == line)
            return (struct st_range){ n->is, fmin(n->low, n->is), fmax(n->limit, n->is), true, 'm', "" };
    }
    return NOT_KNOWN;
}

static bool is_open(const struct st_amount *a)
{
    return a->open != ST_CLOSED || a->dim == ST_DIM_OPEN;
}

/* ---- to grams ---- */

bool st_ledger_composition(const struct st_ingredient *in, struct st_range part[ST_NCOMP], double *swap)
{
    const char *why;
    if (st_ingredient_parts(in, part, &why) < 0)
        return false;
    *swap = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        *swap += fmax(fmax(part[c].high - part[c].value, part[c].value - part[c].low), 0.0);
    return true;
}

/* A liquid whose density nobody gives: that of what is in it, as foresee has it. */
static struct st_range of_composition(const struct st_ingredient *in)
{
    struct st_range part[ST_NCOMP];
    double w[ST_NCOMP], swap, rho;
    if (!st_ledger_composition(in, part, &swap))
        return NOT_KNOWN;
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = part[c].value;
    if (st_density_mixture(w, 293.15, &rho) < 0)
        return NOT_KNOWN;
    const double g = rho * 1e-3, off = fmin(ST_SWAP_ML_G * swap * g, 1.0);
    return (struct st_range){ g, g * (1.0 - off), g * (1.0 + off), true, 'c', "" };
}

static struct st_range per_unit(const struct st_line *l)
{
    const struct st_amount *a = &l->amount;
    switch (a->dim) {
    case ST_DIM_MASS: return (struct st_range){ 1.0, 1.0, 1.0, true, 'u', "" };
    case ST_DIM_PIECE: return l->what->piece;
    case ST_DIM_VOLUME: {
        struct st_ingredient in = *l->what;
        if (l->strength.known)
            in.strength = l->strength;
        const struct st_range r = st_ingredient_g_per_ml(&in, a->value / (a->fills > 0.0 ? a->fills : 1.0));
        return r.known || st_kind_is_solid(in.kind) ? r : of_composition(&in);
    }
    default: return NOT_KNOWN;
    }
}

/* Share left of what was weighed as bought; where nobody said, from that share to all of it. */
static struct st_range trimmed(const struct st_line *l)
{
    const struct st_range whole = { 1.0, 1.0, 1.0, true, 'u', "" };
    if (l->amount.dim != ST_DIM_MASS)
        return whole;
    if (l->trimmed_share.known)
        return l->trimmed_share;
    struct st_range e = l->what->edible;
    if (l->gross)
        return e;
    if (l->weighing_unsaid && e.known && st_ingredient_has_stones(l->what))
        return (struct st_range){ 0.5 * (e.low + 1.0), e.low, 1.0, true, e.mark, e.source };
    return whole;
}

struct st_range st_ledger_grams(const struct st_recipe *r, const struct st_foretold *f, int step, int line)
{
    const struct st_line *l = &r->step[step].line[line];
    if (!l->what || l->amount.make_up_to)
        return NOT_KNOWN;
    if (is_open(&l->amount))
        return assumed(f, step, line);
    return times(times(st_ledger_measured(r, &l->amount), per_unit(l)), trimmed(l));
}

/* Fruit that was counted has its stones, pips and peel, stone fruit in a cup its stones, whatever the figure leaves out. */
static bool leaves_out(const struct st_line *l)
{
    const enum st_kind k = l->what->kind;
    if (l->amount.dim == ST_DIM_PIECE)
        return k == ST_KIND_FRESH_FRUIT || k == ST_KIND_FROZEN_FRUIT || k == ST_KIND_GREEN_FRUIT;
    return l->amount.dim == ST_DIM_VOLUME && st_ingredient_has_stones(l->what);
}

static struct st_range with_stones(const struct st_line *l, struct st_range g)
{
    const struct st_range e = l->what->edible;
    if (!g.known || !e.known || !(e.low > 0.0) || !leaves_out(l))
        return g;
    g.value /= e.value;
    g.high /= e.low;
    return g;
}

struct st_range st_ledger_carried(const struct st_recipe *r, const struct st_foretold *f, int step, int line)
{
    const struct st_line *l = &r->step[step].line[line];
    if (!l->what)
        return NOT_KNOWN;
    if (is_open(&l->amount) && !l->amount.make_up_to)
        return with_stones(l, assumed(f, step, line));
    return with_stones(l, times(st_ledger_measured(r, &l->amount), per_unit(l)));
}
