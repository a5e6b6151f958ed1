#include <math.h>
#include <string.h>

#include "clearing.h"
#include "clearing_inside.h"
#include "core/solvent_power.h"
#include "core/steep_constants.h"

/* Essential oils weigh 0.84 (limonene) to 1.07 (eugenol) g/mL: from memory. */
static const struct st_range OIL_DENSITY = { 0.92, 0.84, 1.07, true, 'm', "" };
/* Share of the oil that comes out in a steep: from memory; all of it is the bound. */
static const struct st_range COMES_OUT = { 0.8, 0.5, 1.0, true, 'm', "" };

/* ---- how much of an ingredient ---- */

struct st_range st_clearing_grams(const struct st_line *l)
{
    const struct st_amount *a = &l->amount;
    struct st_range per = { 1.0, 1.0, 1.0, true, 'u', "" }, net = per;
    if (!l->what || a->open != ST_CLOSED || !(a->value > 0.0))
        return (struct st_range){ .known = false };
    if (a->dim == ST_DIM_VOLUME)
        per = st_ingredient_g_per_ml(l->what, a->value / (a->fills > 0.0 ? a->fills : 1.0));
    else if (a->dim == ST_DIM_PIECE)
        per = l->what->piece;
    else if (a->dim != ST_DIM_MASS)
        per.known = false;
    if (a->dim == ST_DIM_MASS && l->trimmed_share.known)
        net = l->trimmed_share;
    else if (a->dim == ST_DIM_MASS && l->gross && l->what->edible.known)
        net = l->what->edible;
    if (!per.known)
        return per;
    return (struct st_range){ a->value * per.value * net.value,
                              fmin(a->low, a->value) * per.low * net.low,
                              fmax(a->high, a->value) * per.high * net.high,
                              true,
                              per.mark,
                              per.source };
}

/* ---- what it is made of ---- */

static const struct st_compound *marker_of(const struct st_ingredient *in, const struct st_compounds *all)
{
    for (int i = 0; i < in->n_marker; i++) {
        const struct st_compound *c = st_compound_find(all, in->marker[i].marker);
        if (c && c->action == ST_ACTION_OIL && isfinite(c->log_p) && isfinite(c->water_mg_l) && c->water_mg_l > 0.0)
            return c;
    }
    return NULL;
}

bool st_clearing_without_oil(const struct st_ingredient *in)
{
    switch (in->kind) {
    case ST_KIND_WATER:
    case ST_KIND_SUGAR:
    case ST_KIND_SYRUP:
    case ST_KIND_SWEETENER:
    case ST_KIND_ACID:
    case ST_KIND_DAIRY: /* milky of themselves */
    case ST_KIND_EGG: return true;
    default: return in->oil.known && !(in->oil.high > 0.0);
    }
}

/* The middle of independent factors, and how far they reach: distances of the logarithms add in squares. */
struct product {
    double value, down, up;
};

static void times(struct product *p, double value, double low, double high)
{
    const double d = log(value / fmax(low, value * 1e-3)), u = log(high / value);
    p->value *= value;
    p->down += d * d;
    p->up += u * u;
}

static void read_source(const struct st_line *l, const struct st_compounds *all, double reaches, double volume_ml,
                        struct st_oil_source *o)
{
    const struct st_range g = st_clearing_grams(l), oil = l->what->oil;
    o->as = marker_of(l->what, all);
    o->known = !oil.known                       ? ST_OIL_NO_CONTENT
               : !g.known || !(volume_ml > 0.0) ? ST_OIL_NO_WEIGHT
               : !o->as                         ? ST_OIL_NO_MARKER
                                                : ST_OIL_KNOWN;
    if (o->known != ST_OIL_KNOWN)
        return;
    /* g of the ingredient, mL of oil in a kg of it, g of a mL: mg; over mL of the drink: g/L */
    struct product p = { .value = reaches / volume_ml };
    times(&p, g.value, g.low, g.high);
    times(&p, oil.value, oil.low, oil.high);
    times(&p, OIL_DENSITY.value, OIL_DENSITY.low, OIL_DENSITY.high);
    times(&p, COMES_OUT.value, COMES_OUT.low, COMES_OUT.high);
    o->g_l =
        (struct st_interval){ p.value, p.value * exp(-sqrt(p.down)), p.value * exp(sqrt(p.up)), ST_ESTIMATED, true };
}

static double slope_of(const struct st_compound *c)
{
    double sigma = c->sigma;
    if (!isfinite(sigma))
        (void)st_sigma_of_log_p(c->log_p, &sigma);
    return sigma;
}

/* A jar takes up no more than its strength dissolves; its high end is not cut, since droplets may be carried along.
 * oil[first..n): those of one steep; liquor_ml: over its solids; reaches: share of it that ends in the drink. */
static void fill_the_jar(struct st_oil_source oil[], int first, int n, double strength, double liquor_ml,
                         double reaches, double volume_ml)
{
    double index = 0.0;
    if (!(strength > 0.0 && liquor_ml > 0.0 && reaches > 0.0))
        return;
    for (int i = first; i < n; i++) {
        double S;
        if (oil[i].known != ST_OIL_KNOWN ||
            st_solubility_in_spirit(oil[i].as->water_mg_l * 1e-3, slope_of(oil[i].as), strength * 0.01, &S) < 0)
            continue;
        index += oil[i].g_l.value * volume_ml / reaches / liquor_ml / S;
    }
    for (int i = first; i < n && index > 1.0; i++) {
        if (oil[i].known != ST_OIL_KNOWN)
            continue;
        oil[i].full = true;
        oil[i].g_l.value /= index;
        oil[i].g_l.low = fmin(oil[i].g_l.low, oil[i].g_l.value);
    }
}

void st_clearing_oils(const struct st_recipe *r, const struct st_foretold *f, const struct st_compounds *all,
                      struct st_clearing *out)
{
    double reach[ST_CLEARING_STEPS];
    if (r->n_step > ST_CLEARING_STEPS)
        return; /* oil_known stays false */
    st_clearing_reach(r, f, reach);
    out->oil_known = true;
    for (int s = 0; s < r->n_step; s++) {
        const struct st_step *step = &r->step[s];
        const double kept = st_clearing_kept(&f->balance[s]), reaches = kept * reach[s];
        const int first = out->n_oil;
        for (int i = 0; i < step->n_line && step->kind != ST_DO_FINE; i++) {
            const struct st_line *l = &step->line[i];
            if (!l->what || st_clearing_without_oil(l->what) || !(reaches > 0.0))
                continue;
            if (out->n_oil == ST_MAX_OILS) {
                out->oil_known = false;
                break;
            }
            struct st_oil_source *o = &out->oil[out->n_oil++];
            *o = (struct st_oil_source){ .what = l->what, .step = s, .line = i };
            read_source(l, all, reaches, out->volume_ml.value, o);
            out->oil_known = out->oil_known && o->known == ST_OIL_KNOWN;
        }
        if (step->kind == ST_DO_STEEP && kept > 0.0)
            fill_the_jar(out->oil, first, out->n_oil, f->balance[s].strength_in_steep, f->balance[s].volume_ml / kept,
                         reaches, out->volume_ml.value);
    }
    for (int i = 0; i < out->n_oil; i++)
        if (out->oil[i].known == ST_OIL_KNOWN)
            out->part[out->n_part++] =
                (struct st_oil_part){ out->oil[i].g_l.value, out->oil[i].g_l.low, out->oil[i].g_l.high,
                                      out->oil[i].as->water_mg_l * 1e-3, slope_of(out->oil[i].as) };
}
