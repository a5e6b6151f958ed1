#include "api/book_lot_may_be.h"

#include <math.h>
#include <stdio.h>

#include "core/solubility.h"
#include "core/strength.h"

/* g/L; wines of dried grapes have 300 to 450, from memory. */
static const double WINE_MOST = 500.0;

static bool is_dry(const struct st_ingredient *in)
{
    return in && (in->kind == ST_KIND_JUICE || in->kind == ST_KIND_SYRUP);
}

/* Of 1, all that may be dissolved in a juice or syrup. */
static double dissolved_most(const struct st_ingredient *in)
{
    static const double WATER[ST_NCOMP] = { [ST_WATER] = 1.0 };
    struct st_range part[ST_NCOMP];
    const char *why;
    double most = 0.0;
    (void)st_sucrose_solubility(WATER, ST_T20, &most);
    most += 0.05;
    return st_ingredient_parts(in, part, &why) < 0 ? most : fmin(1.0, fmax(most, 1.05 * (1.0 - part[ST_WATER].low)));
}

/* g/L, within 10; HUGE_VAL: no bound is known. */
static double sugar_most(const struct st_ingredient *in, double strength)
{
    const bool dry = is_dry(in);
    if (!dry && !(strength >= 0.0))
        return HUGE_VAL;
    const bool wine = in && in->kind == ST_KIND_WINE && in->sugars.known;
    const double by_kind = wine ? fmax(WINE_MOST, 1.25 * 1100.0 * in->sugars.high) : 1500.0;
    for (int i = (int)(by_kind / 10.0); i > 0; i--) {
        const double g = 10.0 * i;
        const double g_l[ST_NCOMP] = { [ST_SUCROSE] = g };
        double w[ST_NCOMP], most = dry ? dissolved_most(in) : 0.0;
        if (st_mixture_from_strength(dry ? 0.0 : strength, g_l, w) < 0 ||
            (!dry && st_sucrose_solubility(w, ST_T20, &most) < 0))
            continue;
        if (w[ST_SUCROSE] <= most + (dry ? 0.0 : 0.05))
            return g;
    }
    return 0.0;
}

static double strength_of(const struct st_ingredient *in, const struct book_lot *l)
{
    return isfinite(l->strength_pct_vol) ? l->strength_pct_vol
           : in && in->strength.known    ? in->strength.value
                                         : (double)NAN;
}

static bool refuse(struct st_desk *d, const char *words, const struct book_lot *l, double g_l, double most,
                   double strength)
{
    char what[160], why[200], of[40] = "";
    if (strength > 0.0)
        (void)snprintf(of, sizeof of, " of %.4g %% vol", strength);
    (void)snprintf(what, sizeof what, "\"%.60s\" of %.20s", words, l->code);
    (void)snprintf(why, sizeof why, "that is %.3g g/L of sugar, and %.60s%s holds %.3g at most", g_l, l->name, of,
                   most);
    return st_desk_refuse(d, what, why,
                          "read again, or look which lot it is of; another thing is kept as that, with --as NAME");
}

bool st_lot_sugar_may_be(struct st_desk *d, const struct st_ingredient *in, const struct book_lot *l, double sugar)
{
    char words[40];
    const double q = strength_of(in, l), most = sugar_most(in, q);
    (void)snprintf(words, sizeof words, "--sugar %.4g", sugar);
    return sugar <= most || refuse(d, words, l, sugar, most, is_dry(in) ? 0.0 : q);
}

/* The one of it among what was read now, else in the book. */
static const struct book_reading *now_or_before(const struct st_lot *l, const struct book_reading row[], int n,
                                                enum st_seen what)
{
    const struct book_reading *r = st_reading_last(row, n, what);
    return r ? r : st_reading_last(l->reading, l->n_reading, what);
}

/* Brix of what has no alcohol is all that is dissolved. */
static bool brix_may_be(struct st_desk *d, const struct st_ingredient *in, const struct book_lot *l,
                        const struct book_reading *r)
{
    char what[100], why[160];
    const double most = 100.0 * dissolved_most(in);
    if (r->value <= most)
        return true;
    (void)snprintf(what, sizeof what, "\"%.60s\" of %.20s", r->words, l->code);
    (void)snprintf(why, sizeof why, "in %.60s no more than %.3g Brix dissolves", l->name, most);
    return st_desk_refuse(d, what, why, "read again, or look which lot it is of");
}

bool st_lot_readings_may_be(struct st_desk *d, const struct st_ingredient *in, const struct st_lot *l,
                            const struct book_reading row[], int n)
{
    const struct book_reading *strong = now_or_before(l, row, n, ST_SEEN_STRENGTH);
    const struct book_reading *sugar = st_reading_last(row, n, ST_SEEN_SUGAR);
    const double q = strong ? strong->value : strength_of(in, &l->row);
    const double most = sugar_most(in, q);
    if (sugar && sugar->value > most)
        return refuse(d, sugar->words, &l->row, sugar->value, most, is_dry(in) ? 0.0 : q);
    const bool now = st_reading_last(row, n, ST_SEEN_STRENGTH) != NULL;
    static const enum st_seen BY[] = { ST_SEEN_BRIX, ST_SEEN_SG };
    for (int i = 0; i < 2; i++) {
        const struct book_reading *r = now ? now_or_before(l, row, n, BY[i]) : st_reading_last(row, n, BY[i]);
        struct st_interval strength, g_l;
        if (r && is_dry(in) && BY[i] == ST_SEEN_BRIX && !(q > 0.0) && !brix_may_be(d, in, &l->row, r))
            return false;
        if (r && !is_dry(in) && isfinite(q) && st_gauged(i ? r : NULL, i ? NULL : r, q, (double)NAN, &strength, &g_l) &&
            g_l.low > most)
            return refuse(d, r->words, &l->row, g_l.value, most, q);
    }
    return true;
}
