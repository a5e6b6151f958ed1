#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "line_goods.h"
#include "reach_inside.h"

/* Which lots a line may be taken from, and how much of each stands for one unit of the line. */

static const struct st_range NOT_KNOWN = { .known = false, .source = "" };
static const struct st_range ONE = { 1.0, 1.0, 1.0, true, 'c', "" };

static struct st_range over(struct st_range a, struct st_range b)
{
    if (!a.known || !b.known || !(b.low > 0.0))
        return NOT_KNOWN;
    return (struct st_range){ a.value / b.value, a.low / b.high, a.high / b.low, true, 'c', "" };
}

/* ---- is it the same thing ---- */

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool same_name(const char *name, const char *word, size_t n)
{
    while (n > 0 && *word == ' ') {
        word++;
        n--;
    }
    while (n > 0 && word[n - 1] == ' ')
        n--;
    for (size_t i = 0; i < n; i++)
        if (lower(name[i]) != lower(word[i]))
            return false;
    return n > 0 && name[n] == '\0';
}

/* One of its names, '|' between. */
static bool goes_by(const struct st_ingredient *what, const char *name)
{
    if (same_name(name, what->name, strlen(what->name)) || same_name(name, what->slug, strlen(what->slug)))
        return true;
    for (const char *p = what->names; *p;) {
        const size_t n = strcspn(p, "|");
        if (same_name(name, p, n))
            return true;
        p += n + (p[n] == '|');
    }
    return false;
}

static bool is_itself(const struct st_ingredient *what, const struct st_holding *h)
{
    if (h->whole && *h->whole && strcmp(what->slug, h->whole) == 0)
        return true;
    if (h->slug && *h->slug)
        return strcmp(what->slug, h->slug) == 0;
    return h->name && *h->name && goes_by(what, h->name);
}

static bool is_plain(const char *slug, enum st_kind kind)
{
    const struct st_ingredient in = { .slug = slug ? slug : "", .kind = kind };
    const struct st_line line = { .what = &in };
    return kind == ST_KIND_SPIRIT && st_line_goods(&line) == ST_GOODS_SPIRIT;
}

/* ---- grams of one unit ---- */

static struct st_range of_mixture(const struct st_ingredient *in)
{
    struct st_range part[ST_NCOMP];
    double w[ST_NCOMP], rho;
    const char *why;
    if (st_kind_is_solid(in->kind) || st_ingredient_parts(in, part, &why) < 0)
        return NOT_KNOWN;
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = part[c].value;
    if (st_density_mixture(w, ST_T20, &rho) < 0)
        return NOT_KNOWN;
    return (struct st_range){ rho * 1e-3, rho * 1e-3, rho * 1e-3, true, 'c', "" };
}

static struct st_range of_volume(const struct st_ingredient *what, struct st_range strength, double size_ml)
{
    struct st_ingredient in = *what;
    if (strength.known)
        in.strength = strength;
    const struct st_range r = st_ingredient_g_per_ml(&in, size_ml);
    return r.known ? r : of_mixture(&in);
}

/* Share left of a weight. */
static struct st_range net_share(const struct st_ingredient *what, enum st_weighed w, struct st_range own)
{
    if (own.known)
        return own;
    if (w == ST_WEIGHED_GROSS)
        return what->edible.known || what->kind <= ST_KIND_GREEN_FRUIT ? what->edible : ONE;
    if (w == ST_WEIGHED_UNSAID && what->edible.known && st_ingredient_has_stones(what)) {
        const struct st_range e = what->edible;
        return (struct st_range){ 0.5 * (e.low + 1.0), e.low, 1.0, true, e.mark, e.source };
    }
    return ONE;
}

static enum st_weighed weighed(const struct st_line *l)
{
    if (l->gross || l->trimmed_share.known)
        return ST_WEIGHED_GROSS;
    return l->weighing_unsaid ? ST_WEIGHED_UNSAID : ST_WEIGHED_TRIMMED;
}

struct st_range st_reach_unit_of_line(const struct st_line *l, bool net)
{
    const struct st_amount *a = &l->amount;
    if (net)
        return ONE;
    switch (a->dim) {
    case ST_DIM_MASS: return net_share(l->what, weighed(l), l->trimmed_share);
    case ST_DIM_VOLUME: return of_volume(l->what, l->strength, a->value / (a->fills > 0.0 ? a->fills : 1.0));
    case ST_DIM_PIECE: return l->what->piece;
    default: return NOT_KNOWN;
    }
}

struct st_range st_reach_unit_of_lot(const struct st_holding *h, const struct st_ingredient *what)
{
    const double cup_ml = 236.588; /* how a stock of something dry lies in its jar: as in the largest measure */
    switch (h->dim) {
    case ST_DIM_MASS: return net_share(what, h->weighed, h->trimmed_share);
    case ST_DIM_VOLUME: return of_volume(what, h->strength, cup_ml);
    case ST_DIM_PIECE: return what->piece;
    default: return NOT_KNOWN;
    }
}

/* Measured alike: no figure of the sheet is needed. */
static bool alike(const struct st_line *l, const struct st_reach_line *x, const struct st_holding *h)
{
    if (x->dim != h->dim)
        return false;
    return h->dim != ST_DIM_MASS || (x->net ? h->weighed == ST_WEIGHED_TRIMMED : weighed(l) == h->weighed);
}

/* ---- strength ---- */

static struct st_range strength_of(struct st_range own, const struct st_ingredient *what)
{
    return own.known || !what ? own : what->strength;
}

static double density(double strength)
{
    double rho;
    return st_spirit_density(strength, &rho) < 0 ? (double)NAN : rho * 1e-3;
}

/* The same ethanol from a spirit of another strength; water makes up the weight of what the recipe means. */
static bool other_spirit(const struct st_reach_line *x, const struct st_holding *h, double q, struct st_range lot,
                         struct st_fit *fit)
{
    const double rho = density(q), rho_lot = density(lot.value), rho_water = density(0.0);
    const double ml = x->dim == ST_DIM_VOLUME ? 1.0 : 1.0 / rho; /* of one unit of the line */
    if (!(lot.low > 0.0) || isnan(rho) || isnan(rho_lot) || (h->dim != ST_DIM_VOLUME && h->dim != ST_DIM_MASS) ||
        (x->dim != ST_DIM_VOLUME && x->dim != ST_DIM_MASS))
        return false;
    const double to_lot = h->dim == ST_DIM_VOLUME ? 1.0 : rho_lot;
    fit->per = (struct st_range){
        ml * q / lot.value * to_lot, ml * q / lot.high * to_lot, ml * q / lot.low * to_lot, true, 'c', ""
    };
    fit->water_ml = (ml * rho - ml * q / lot.value * rho_lot) / rho_water;
    return true;
}

/* Yolks of eggs, juice of lemons: pieces of the lot for one unit of the line.  False: no part of it. */
static bool cut_of(const struct st_line *l, const struct st_reach_line *x, const struct st_holding *h,
                   struct st_fit *fit)
{
    if (!h->parts || !st_in_list(h->parts, ' ', l->what->slug))
        return false;
    fit->rank = 1;
    fit->part = true;
    fit->strength = (double)NAN;
    fit->crossed = x->dim != ST_DIM_PIECE || h->dim != ST_DIM_PIECE;
    fit->per = x->dim == ST_DIM_PIECE ? ONE : over(st_reach_unit_of_line(l, x->net), l->what->piece);
    if (h->dim != ST_DIM_PIECE) {
        const struct st_range g = h->dim == ST_DIM_MASS ? h->piece_g : NOT_KNOWN;
        fit->per.known = fit->per.known && g.known;
        fit->per.value *= g.value;
        fit->per.low *= g.low;
        fit->per.high *= g.high;
    }
    return true;
}

/* False: this lot is no such thing.  fit->per not known: it cannot be compared. */
static bool fits(const struct st_line *l, const struct st_reach_line *x, const struct st_holding *h, struct st_fit *fit)
{
    const bool itself = is_itself(l->what, h);
    if (!itself && cut_of(l, x, h, fit))
        return true;
    if (!itself && !(is_plain(l->what->slug, l->what->kind) && is_plain(h->slug, h->kind)))
        return false;
    const struct st_range q = strength_of(l->strength, l->what),
                          lot = strength_of(h->strength, itself ? l->what : NULL);
    const bool both = q.known && lot.known;
    fit->rank = itself ? 0 : 1;
    fit->strength = both ? lot.value : (double)NAN;
    fit->other_strength = both && fabs(q.value - lot.value) > ST_REACH_SAME_STRENGTH + 1e-9;
    fit->unwritten = q.known && !lot.known && (l->what->kind == ST_KIND_SPIRIT || l->what->kind == ST_KIND_WINE);
    if (!itself && !both)
        return false; /* another spirit of nobody knows what strength */
    if (fit->other_strength) {
        fit->rank = lot.value > q.value ? 2 : 3;
        fit->water_ml = (double)NAN;
        if (l->what->kind == ST_KIND_SPIRIT && other_spirit(x, h, q.value, lot, fit))
            return true;
    }
    fit->crossed = !alike(l, x, h);
    fit->per = fit->crossed ? over(st_reach_unit_of_line(l, x->net), st_reach_unit_of_lot(h, l->what)) : ONE;
    return true;
}

/* ---- in which order ---- */

/* Cubes of sugar beside a bag of it, for a line in grams. */
static bool is_counted(const struct st_fit *x)
{
    return x->crossed && !x->part && x->of->dim == ST_DIM_PIECE;
}

static int by_turn(const void *p, const void *q)
{
    const struct st_fit *x = p, *y = q;
    const struct st_holding *a = x->of, *b = y->of;
    const bool worse_x = x->rank > 1, worse_y = y->rank > 1;
    if (worse_x != worse_y || (worse_x && x->rank != y->rank))
        return x->rank - y->rank;
    if (a->has_use_by != b->has_use_by)
        return a->has_use_by ? -1 : 1;
    if (a->has_use_by && a->use_by != b->use_by)
        return a->use_by < b->use_by ? -1 : 1;
    if (a->opened != b->opened)
        return a->opened ? -1 : 1;
    if (is_counted(x) != is_counted(y))
        return is_counted(x) ? 1 : -1;
    if (x->rank != y->rank)
        return x->rank - y->rank;
    if (a->left < b->left || a->left > b->left)
        return a->left < b->left ? -1 : 1;
    return a->id < b->id ? -1 : a->id > b->id;
}

int st_reach_fits(const struct st_line *l, struct st_reach_line *x, const struct st_holding held[], int n, long today,
                  struct st_fit fit[])
{
    const struct st_range q = strength_of(l->strength, l->what);
    int k = 0;
    x->strength = q.known ? q.value : (double)NAN;
    for (int i = 0; i < n; i++) {
        const struct st_holding *h = &held[i];
        struct st_fit f = { .holding = i, .of = h };
        if (!(h->left > 0.0) || !fits(l, x, h, &f))
            continue;
        if (h->has_use_by && h->use_by < today) {
            x->n_past++;
            continue;
        }
        if (f.unwritten) {
            x->n_weak++;
            continue;
        }
        if (!f.per.known) {
            x->n_unlike++;
            continue;
        }
        if (h->potency > 0.0 && isfinite(h->potency)) {
            f.per.value /= h->potency;
            f.per.low /= h->potency;
            f.per.high /= h->potency;
        }
        fit[k++] = f;
    }
    if (k > 1)
        qsort(fit, (size_t)k, sizeof *fit, by_turn);
    return k;
}
