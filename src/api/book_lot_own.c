#include "api/book_lot_own.h"

#include <math.h>
#include <string.h>

#include "api/book_larder.h"
#include "api/book_lot_tincture.h"
#include "core/density_mixture.h"
#include "core/instruments.h"
#include "core/strength.h"

/* A liquid, in mass fractions, and what of it is unsure. */
struct liquid {
    double w[ST_NCOMP];
    double sugar_low, sugar_high, acid_low, acid_high;
    double rho, rho_low, rho_high; /* kg/m3 */
    bool own_sugar, own_acid;
};

/* ---- measured: all that is dissolved ---- */

/* The sheet's, f times as thick; false: there is no water left. */
static bool thicker(const struct st_range part[ST_NCOMP], double f, double w[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        w[c] = c == ST_WATER ? 0.0 : c == ST_SOLIDS || c == ST_FAT ? part[c].value : f * part[c].value;
        sum += w[c];
    }
    w[ST_WATER] = 1.0 - sum;
    return w[ST_WATER] > 0.0;
}

static double shown(const struct st_range part[ST_NCOMP], double f, const struct st_lot_figures *x)
{
    double w[ST_NCOMP], y;
    if (!thicker(part, f, w))
        return HUGE_VAL;
    const enum st_status s = x->by_brix ? st_refractometer_reading(w, x->read_T, true, &y)
                                        : st_hydrometer_reading(w, x->read_T, ST_HYDROMETER_20C, &y);
    return s < 0 ? HUGE_VAL : y;
}

/* f with which the instrument shows so much, within 1e-9: it grows with f.  Off the scale: NAN. */
static double thickness(const struct st_range part[ST_NCOMP], double read, const struct st_lot_figures *x)
{
    double low = 0.0, high = 1.0;
    while (high < 1000.0 && shown(part, high, x) < read)
        high *= 2.0;
    if (!(high < 1000.0))
        return (double)NAN;
    for (int i = 0; i < 60 && high - low > 1e-9; i++) {
        const double f = 0.5 * (low + high);
        *(shown(part, f, x) < read ? &low : &high) = f;
    }
    return isfinite(shown(part, low, x)) ? 0.5 * (low + high) : (double)NAN;
}

static double no_sugar(const double w[ST_NCOMP])
{
    return w[ST_ACID] + w[ST_POLYOL] + w[ST_PROTEIN] + w[ST_EXTRACT];
}

static bool by_reading(const struct st_range part[ST_NCOMP], const struct st_lot_figures *x, struct liquid *l)
{
    static const double OTHERWISE = 0.3; /* of what is no sugar: book_lot_own.h Note 1 */
    const double half = 1.96 * x->read_sd, f = thickness(part, x->read, x);
    double low[ST_NCOMP], high[ST_NCOMP];
    double f_low = thickness(part, x->read - half, x), f_high = thickness(part, x->read + half, x);
    f_low = isfinite(f_low) ? f_low : 0.0;
    if (!isfinite(f) || !isfinite(f_high) || !(f > 0.0) || !thicker(part, f, l->w) || !thicker(part, f_low, low) ||
        !thicker(part, f_high, high) || st_density_mixture(l->w, ST_T20, &l->rho) < 0 ||
        st_density_mixture(low, ST_T20, &l->rho_low) < 0 || st_density_mixture(high, ST_T20, &l->rho_high) < 0)
        return false;
    const double sugar = st_mixture_sugars(l->w), other = no_sugar(l->w) * fmax(OTHERWISE, fabs(1.0 - 1.0 / f));
    const double off = hypot(other, 0.5 * (st_mixture_sugars(high) - st_mixture_sugars(low)));
    l->own_sugar = true;
    l->sugar_low = fmax(0.0, sugar - off);
    l->sugar_high = sugar + off;
    l->own_acid = part[ST_ACID].value > 0.0;
    l->acid_low = f * part[ST_ACID].low;
    l->acid_high = f * part[ST_ACID].high;
    return true;
}

bool st_lot_sugar_by_reading(const struct st_ingredient *in, const struct st_lot_figures *x, struct st_interval *g_l)
{
    struct st_range part[ST_NCOMP];
    struct liquid l = { .own_sugar = false };
    const char *why;
    if (st_ingredient_parts(in, part, &why) < 0 || !by_reading(part, x, &l))
        return false;
    *g_l =
        (struct st_interval){ l.rho * st_mixture_sugars(l.w), l.rho * l.sugar_low, l.rho * l.sugar_high, ST_OK, true };
    return true;
}

/* ---- written or measured by the litre ---- */

/* Grams in a litre, the rest as of the sheet, with so much sugar and acid. */
static bool so_much(const struct st_range part[ST_NCOMP], double rho, double strength, double sugar, double acid,
                    double w[ST_NCOMP], double *out_rho)
{
    static const int SUGAR[] = { ST_SUCROSE, ST_GLUCOSE, ST_FRUCTOSE, ST_LACTOSE };
    double g_l[ST_NCOMP], sweet = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        g_l[c] = c == ST_WATER || c == ST_ETHANOL ? 0.0 : rho * part[c].value;
    for (int i = 0; i < 4; i++)
        sweet += g_l[SUGAR[i]];
    for (int i = 0; i < 4 && sugar >= 0.0; i++)
        g_l[SUGAR[i]] = sweet > 0.0 ? g_l[SUGAR[i]] * sugar / sweet : i == 0 ? sugar : 0.0;
    if (acid >= 0.0)
        g_l[ST_ACID] = acid;
    return st_mixture_from_strength(strength, g_l, w) >= 0 && st_density_mixture(w, ST_T20, out_rho) >= 0;
}

static bool by_litre(const struct st_range part[ST_NCOMP], double strength, const struct st_lot_figures *x,
                     struct liquid *l)
{
    const double sugar = x->sugar.known ? x->sugar.value : -1.0, acid = x->acid.known ? x->acid.value : -1.0;
    double w[ST_NCOMP], rho;
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = part[c].value;
    if (st_density_mixture(w, ST_T20, &rho) < 0 || !so_much(part, rho, strength, sugar, acid, l->w, &l->rho) ||
        !so_much(part, rho, strength, x->sugar.known ? x->sugar.low : -1.0, acid, w, &l->rho_low) ||
        !so_much(part, rho, strength, x->sugar.known ? x->sugar.high : -1.0, acid, w, &l->rho_high))
        return false;
    l->own_sugar = x->sugar.known;
    l->sugar_low = x->sugar.low / l->rho;
    l->sugar_high = x->sugar.high / l->rho;
    l->own_acid = x->acid.known;
    l->acid_low = x->acid.low / l->rho;
    l->acid_high = x->acid.high / l->rho;
    return true;
}

/* ---- in words ---- */

static void put_share(struct st_buf *b, const char *key, double low, double high)
{
    st_buf_printf(b, ", %s: %.5f-%.5f %%", key, 100.0 * low, 100.0 * high);
}

static void put_strength(struct st_buf *b, const struct st_lot_figures *x)
{
    if (x->strength.known && x->by_label) /* the model knows how good a label is */
        st_buf_printf(b, ", strength: %.5f %%", x->strength.value);
    else if (x->strength.known)
        st_buf_printf(b, ", strength: %.5f-%.5f %%", x->strength.low, x->strength.high);
}

/* Of what has its water on the sheet: what is dissolved was told by the lot, and the rest is water. */
static void put_rest(struct st_buf *b, const struct st_ingredient *in, const struct liquid *l)
{
    if (in->part[ST_WATER].known) {
        st_buf_printf(b, ", water: %.5f %%, extract: %.5f %%", 100.0 * l->w[ST_WATER], 100.0 * l->w[ST_EXTRACT]);
        if (!l->own_sugar)
            st_buf_printf(b, ", sugars: %.5f %%", 100.0 * st_mixture_sugars(l->w));
    }
    if (in->density.known && l->own_sugar) {
        const double low = fmin(l->rho_low, l->rho_high), high = fmax(l->rho_low, l->rho_high);
        st_buf_printf(b, ", density: %.5f-%.5f g/mL", 1e-3 * low, 1e-3 * high);
    }
}

static bool put_figures(struct st_buf *b, const struct st_ingredient *in, const struct st_lot_figures *x)
{
    const bool strong = in->kind == ST_KIND_WINE;
    struct st_ingredient as = *in;
    struct st_range part[ST_NCOMP];
    struct liquid l = { .own_sugar = false };
    const char *why;
    if (x->strength.known) {
        const struct st_interval *q = &x->strength;
        as.strength = (struct st_range){ q->value, q->low, q->high, true, 'u', "" };
    }
    put_strength(b, x);
    if (!x->sugar.known && !x->acid.known && !x->by_brix && !x->by_sg && !(strong && x->strength.known))
        return true;
    if (x->sugar.known && !as.sugars.known && !as.part[ST_SUCROSE].known)
        as.sugars = (struct st_range){ .known = true, .mark = 'u', .source = "" };
    if (st_ingredient_parts(&as, part, &why) < 0) /* nothing is known of how sweet it is: asked for where it is used */
        return x->strength.known && !x->acid.known;
    const double q = as.strength.known ? as.strength.value : 0.0;
    if (!(x->by_brix || x->by_sg ? by_reading(part, x, &l) : by_litre(part, q, x, &l)))
        return false;
    if (l.own_sugar)
        put_share(b, "sugars", l.sugar_low, l.sugar_high);
    if (l.own_acid)
        put_share(b, "acid", l.acid_low, l.acid_high);
    put_rest(b, in, &l);
    return true;
}

/* ---- one lot ---- */

static bool has_own(const struct st_ingredient *in, const struct st_lot_figures *x)
{
    switch (in->kind) {
    case ST_KIND_WINE: return x->strength.known || x->sugar.known || x->acid.known;
    case ST_KIND_JUICE:
    case ST_KIND_SYRUP: return x->sugar.known || x->acid.known || x->by_brix || x->by_sg;
    default: return false;
    }
}

static void put_unsaid(const struct st_batch_ask *a, struct st_buf *b, const struct book_lot *lot,
                       const struct st_ingredient *in)
{
    st_buf_add(b, ", brings: [{level: caution, code: strength_unsaid, what: ");
    st_batch_quoted(b,
                    st_arena_printf(a->arena,
                                    "how strong %.60s (%.20s) is nobody wrote: any from %.4g to %.4g %% vol is counted",
                                    lot->name, lot->code, in->strength.low, in->strength.high));
    st_buf_add(b, ", because: ");
    st_batch_quoted(b, st_arena_printf(a->arena,
                                       "what the recipe plans is not what this lot is; write it from the label: "
                                       "stillroom larder change %.20s --strength %.4g",
                                       lot->code, in->strength.value));
    st_buf_add(b, ", source: \"common practice, no source\"}]");
}

enum book_status st_lot_own(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                            bool planned, struct st_batch_own *out)
{
    const struct st_ingredient *in = st_lot_ingredient(c, lot);
    struct st_lot_figures x;
    struct st_buf b = { 0 };
    *out = (struct st_batch_own){ .name = "", .definition = "" };
    const enum book_status s = st_lot_figures(a, lot, in, &x);
    if (s != BOOK_OK || !in || lot->from_batch != BOOK_NO)
        return s;
    const bool unsaid = planned && (!x.strength.known || x.by_sheet) && in->strength.known;
    struct st_buf held = { 0 };
    const bool holds = !unsaid && strcmp(lot->dim, "pieces") != 0 && st_lot_put_held(&held, c, lot, in);
    if (!unsaid && !holds && !has_own(in, &x)) {
        st_buf_done(&held);
        return s;
    }
    out->name = st_arena_printf(a->arena, "lot %s", st_batch_own_key(a, lot));
    st_buf_printf(&b, "\"%s\": {like: ", out->name);
    st_batch_quoted(&b, in->slug);
    out->known = !has_own(in, &x) || put_figures(&b, in, &x);
    st_buf_add(&b, ", called: ");
    st_batch_quoted(&b, st_arena_printf(a->arena, "%.110s", *lot->name ? lot->name : in->name));
    if (unsaid)
        put_unsaid(a, &b, lot, in);
    st_buf_add(&b, st_buf_text(&held));
    st_buf_done(&held);
    st_buf_add(&b, "}");
    out->definition = st_arena_strdup(a->arena, st_buf_text(&b));
    st_buf_done(&b);
    return s;
}
