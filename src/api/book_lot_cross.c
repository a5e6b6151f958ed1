#include "api/book_lot_cross.h"

#include <math.h>
#include <string.h>

#include "api/book_larder.h"
#include "core/density_mixture.h"
#include "core/strength.h"

const char *st_lot_dim(enum st_dimension d)
{
    return d == ST_DIM_MASS ? "g" : d == ST_DIM_VOLUME ? "mL" : "pieces";
}

static double known(struct st_range r)
{
    return r.known && r.value > 0.0 ? r.value : (double)NAN;
}

/* A house tincture: so strong and so sweet, next to unsweetened where nobody wrote it. */
static double sweetened_g_per_ml(double strength, double sugar_g_l)
{
    const double g_l[ST_NCOMP] = { [ST_SUCROSE] = sugar_g_l > 0.0 ? sugar_g_l : 0.0 };
    double w[ST_NCOMP], rho;
    return st_mixture_from_strength(strength, g_l, w) >= 0 && st_density_mixture(w, ST_T20, &rho) >= 0 ? 1e-3 * rho
                                                                                                       : (double)NAN;
}

/* Grams of one mL; ml: how much of it is measured at once. */
static double g_per_ml(const struct st_ingredient *in, const struct book_lot *lot, double strength, double ml)
{
    double rho;
    const bool liquid = in && (in->kind == ST_KIND_WINE || (in->kind != ST_KIND_SPIRIT && in->strength.known));
    if (strcmp(lot->dim, "mL") == 0 && strength > 0.0 && lot->from_batch == BOOK_NO && !liquid &&
        (!in || in->kind != ST_KIND_SPIRIT || lot->sugar_g_l > 0.0))
        return sweetened_g_per_ml(strength, lot->sugar_g_l);
    if (in && in->kind == ST_KIND_SPIRIT && lot->sugar_g_l > 0.0)
        return (double)NAN; /* sweetened, its strength not known: nobody has weighed it */
    if (in && in->kind == ST_KIND_SPIRIT && strength > 0.0 && st_spirit_density(strength, &rho) >= 0)
        return 1e-3 * rho;
    return in ? known(st_ingredient_g_per_ml(in, ml)) : (double)NAN;
}

static double grams_of_one(const struct st_ingredient *in, const struct book_lot *lot, double strength, const char *dim,
                           double ml)
{
    if (strcmp(dim, "g") == 0)
        return 1.0;
    if (strcmp(dim, "mL") == 0)
        return g_per_ml(in, lot, strength, ml);
    return in ? known(in->piece) : (double)NAN;
}

/* The share of it that is left when it is trimmed. */
static double trimmed_share(const struct st_ingredient *in, const struct book_lot *lot)
{
    if (lot->trimmed_share > 0.0)
        return lot->trimmed_share;
    return in && in->edible.known && in->edible.value > 0.0 ? in->edible.value : 1.0;
}

static bool is_trimmed(const struct st_line *line, enum st_dimension dim)
{
    if (dim != ST_DIM_MASS) /* cups and pieces of the sheet are what is used of it */
        return true;
    return line && !line->gross && !line->weighing_unsaid;
}

bool st_lot_cross(const struct st_catalogue *c, const struct book_lot *lot, double strength, const struct st_line *line,
                  const struct st_amount *x, double *out)
{
    const struct st_ingredient *own = st_lot_ingredient(c, lot), *used = line && line->what ? line->what : own;
    const struct st_ingredient *in = own ? own : used;
    const bool pieces = strcmp(lot->dim, "pieces") == 0;
    double y = x->value;

    if (pieces && used) /* juice of lemons that are counted: what one of them gives */
        in = used;
    if (strcmp(st_lot_dim(x->dim), lot->dim) != 0) {
        const double cup_ml = 236.588; /* a weight from a jar of it: as the largest measure takes it */
        y *= grams_of_one(in, lot, strength, st_lot_dim(x->dim), x->value / (x->fills > 0.0 ? x->fills : 1.0)) /
             grams_of_one(in, lot, strength, lot->dim, cup_ml);
    }
    if (!isfinite(y))
        return false;
    if (lot->gross == 1 && strcmp(lot->dim, "g") == 0 && is_trimmed(line, x->dim))
        y /= trimmed_share(in, lot);
    *out = y;
    return true;
}
