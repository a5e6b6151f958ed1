#include <math.h>
#include <string.h>

#include "api/book_larder.h"
#include "api/book_lot_own.h"
#include "core/density_mixture.h"
#include "core/strength.h"

/* What is known of a lot's strength, sugar and acid: written, or measured. */

static const double Z = 1.959963984540054; /* 19 of 20, two-sided */

static const double LABEL_OFF = 0.3;    /* % vol, [eu_1169_2011] annex XII */
static const double WRITTEN_OFF = 0.04; /* of sugar or acid: from memory, as in text/correct_thing.h */

static struct st_interval around(double value, double half)
{
    return (struct st_interval){ value, fmax(0.0, value - half), value + half, ST_OK, true };
}

/* The last measurement of it, else what is written. */
static struct st_interval one(const struct book_reading r[], int n, enum st_seen what, double written)
{
    const struct book_reading *last = st_reading_last(r, n, what);
    if (last)
        return around(last->value, Z * st_reading_sd(last, what));
    return written >= 0.0 ? around(written, WRITTEN_OFF * written) : (struct st_interval){ .known = false };
}

bool st_lot_strength_of_sheet(const struct book_lot *lot, const struct st_ingredient *in)
{
    if (!in || !in->strength.known || !(in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE))
        return false;
    const double u = (in->strength.high - in->strength.low) / 3.92;
    return fabs(lot->strength_pct_vol - in->strength.value) < 1e-9 && fabs(lot->strength_u - u) < 1e-9 &&
           !strpbrk(lot->words, "%") && !strstr(lot->words, "proof") && !strstr(lot->words, "vol");
}

static void strength_of(const struct book_lot *lot, const struct st_ingredient *in, const struct book_reading r[],
                        int n, struct st_lot_figures *out)
{
    const struct book_reading *last = st_reading_last(r, n, ST_SEEN_STRENGTH);
    struct st_interval q = { .known = false };
    if (last)
        q = around(last->value, Z * st_reading_sd(last, ST_SEEN_STRENGTH));
    else if (st_lot_strength_of_sheet(lot, in)) {
        out->by_sheet = true;
        q = (struct st_interval){ in->strength.value, in->strength.low, in->strength.high, ST_OK, true };
    } else if (lot->strength_pct_vol >= 0.0) {
        out->by_label = !(lot->strength_u >= 0.0);
        q = around(lot->strength_pct_vol, out->by_label ? LABEL_OFF : Z * lot->strength_u);
    }
    q.high = fmin(q.high, 100.0);
    out->strength = q;
}

/* g/L of what is dissolved besides sugar, as the sheet has it at this strength: instruments count it as sugar. */
static struct st_interval besides(const struct st_ingredient *in, double strength)
{
    static const int OTHER[] = { ST_ACID, ST_POLYOL, ST_PROTEIN, ST_EXTRACT };
    struct st_interval x = { .known = true };
    struct st_ingredient as = *in;
    struct st_range part[ST_NCOMP];
    double w[ST_NCOMP], rho;
    const char *why;
    as.strength = (struct st_range){ strength, strength, strength, true, 'u', "" };
    if (st_ingredient_parts(&as, part, &why) < 0)
        return x;
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = part[c].value;
    if (st_density_mixture(w, ST_T20, &rho) < 0)
        return x;
    for (size_t i = 0; i < sizeof OTHER / sizeof *OTHER; i++) {
        x.value += rho * part[OTHER[i]].value;
        x.low += rho * part[OTHER[i]].low;
        x.high += rho * part[OTHER[i]].high;
    }
    return x;
}

/* Of what has alcohol: by hydrometer and refractometer, or one of them and the strength; known false: no liquid gives it.
 * *strength: by both, where nobody knows it otherwise. */
static struct st_interval gauged(const struct st_ingredient *in, const struct book_reading *sg,
                                 const struct book_reading *brix, const struct st_lot_figures *f,
                                 struct st_interval *strength)
{
    const struct st_range *by_sheet = &in->strength;
    struct st_interval q = f->strength, by, sugar;
    *strength = (struct st_interval){ .known = false };
    if (!q.known && by_sheet->known)
        q = (struct st_interval){ by_sheet->value, by_sheet->low, by_sheet->high, ST_OK, true };
    const bool both = sg && brix && (!f->strength.known || f->by_sheet);
    if (!st_gauged(sg, both || !sg ? brix : NULL, both || !q.known ? (double)NAN : q.value,
                   (q.high - q.low) / (2.0 * Z), &by, &sugar))
        return *strength;
    if (both)
        *strength = by;
    const struct st_interval other = besides(in, by.value);
    const double half = hypot(0.5 * (sugar.high - sugar.low), 0.5 * (other.high - other.low));
    return around(fmax(0.0, sugar.value - other.value), half);
}

static void gauge(const struct st_ingredient *in, const struct book_reading *sg, const struct book_reading *brix,
                  struct st_lot_figures *out)
{
    struct st_interval strength;
    const struct st_interval sugar = gauged(in, sg, brix, out, &strength);
    if (strength.known) {
        out->strength = strength;
        out->by_label = out->by_sheet = false;
    }
    if (!out->sugar.known)
        out->sugar = sugar;
}

static void read_dissolved(const struct book_reading *r, bool brix, struct st_lot_figures *out)
{
    out->by_brix = brix;
    out->by_sg = !brix;
    out->read = r->value;
    out->read_sd = st_reading_sd(r, brix ? ST_SEEN_BRIX : ST_SEEN_SG);
    out->read_T = isfinite(r->temperature_c) ? r->temperature_c + 273.15 : ST_T20;
}

/* ---- whether it goes together ---- */

enum { WAYS = 6 };

/* Its sugar by the ways that it is known. */
struct ways {
    struct st_interval g_l[WAYS];
    const char *words[WAYS];
    int n;
};

static void way(struct ways *w, const char *words, struct st_interval g_l)
{
    if (!g_l.known || w->n == WAYS)
        return;
    w->g_l[w->n] = g_l;
    w->words[w->n++] = words;
}

/* The one read before the last of it, where they are apart by more than chance; NULL. */
static const struct book_reading *other_before(const struct book_reading r[], int n, enum st_seen what)
{
    const struct book_reading *last = st_reading_last(r, n, what);
    const struct book_reading *before = last ? st_reading_last(r, (int)(last - r), what) : NULL;
    return before &&
                   fabs(last->value - before->value) > Z * hypot(st_reading_sd(last, what), st_reading_sd(before, what))
               ? before
               : NULL;
}

static const char *reading_words(struct st_arena *arena, const struct book_reading *r, enum st_seen what)
{
    return what == ST_SEEN_BRIX ? st_arena_printf(arena, "%.4g Brix", r->value)
           : what == ST_SEEN_SG ? st_arena_printf(arena, "sg %.5g", r->value)
                                : st_arena_printf(arena, "%.4g g/L as measured", r->value);
}

static void way_read(struct st_arena *arena, const struct st_ingredient *in, const struct book_reading *r,
                     enum st_seen what, struct ways *w)
{
    struct st_lot_figures x = { .by_label = false };
    struct st_interval g_l;
    if (!r)
        return;
    read_dissolved(r, what == ST_SEEN_BRIX, &x);
    if (st_lot_sugar_by_reading(in, &x, &g_l))
        way(w, reading_words(arena, r, what), g_l);
}

static void way_gauged(struct st_arena *arena, const struct st_ingredient *in, const struct book_reading *sg,
                       const struct book_reading *brix, const struct st_lot_figures *f, struct ways *w)
{
    struct st_interval strength;
    const char *const by_sg = sg ? reading_words(arena, sg, ST_SEEN_SG) : "";
    const char *const by_brix = brix ? reading_words(arena, brix, ST_SEEN_BRIX) : "";
    const bool alone = f->strength.known && !f->by_sheet && sg; /* then the refractometer is not asked */
    way(w, st_arena_printf(arena, "%s%s%s", by_sg, sg && brix && !alone ? " with " : "", alone ? "" : by_brix),
        gauged(in, sg, brix, f, &strength));
}

static void ways_of(struct st_arena *arena, const struct book_lot *lot, const struct st_ingredient *in,
                    const struct book_reading r[], int n, const struct st_lot_figures *f, struct ways *w)
{
    const struct book_reading *sg = st_reading_last(r, n, ST_SEEN_SG), *brix = st_reading_last(r, n, ST_SEEN_BRIX);
    const struct book_reading *sugar = st_reading_last(r, n, ST_SEEN_SUGAR);
    const struct book_reading *sugar_was = other_before(r, n, ST_SEEN_SUGAR);
    const struct book_reading *sg_was = other_before(r, n, ST_SEEN_SG), *brix_was = other_before(r, n, ST_SEEN_BRIX);
    way(w,
        sugar ? reading_words(arena, sugar, ST_SEEN_SUGAR)
              : st_arena_printf(arena, "%.4g g/L as written", lot->sugar_g_l),
        one(r, n, ST_SEEN_SUGAR, lot->sugar_g_l));
    if (sugar_was)
        way(w, reading_words(arena, sugar_was, ST_SEEN_SUGAR),
            around(sugar_was->value, Z * st_reading_sd(sugar_was, ST_SEEN_SUGAR)));
    if ((in->kind == ST_KIND_JUICE || in->kind == ST_KIND_SYRUP) && !(f->strength.value > 0.0)) {
        way_read(arena, in, brix, ST_SEEN_BRIX, w);
        way_read(arena, in, brix_was, ST_SEEN_BRIX, w);
        way_read(arena, in, sg, ST_SEEN_SG, w);
        way_read(arena, in, sg_was, ST_SEEN_SG, w);
        return;
    }
    if (in->kind == ST_KIND_JUICE || in->kind == ST_KIND_SYRUP || (!sg && !brix))
        return;
    way_gauged(arena, in, sg, brix, f, w);
    if (brix_was)
        way_gauged(arena, in, f->strength.known && !f->by_sheet ? NULL : sg, brix_was, f, w);
    if (sg_was)
        way_gauged(arena, in, sg_was, brix, f, w);
}

/* Where two of them have nothing in common a range over all counts. */
static void hold_together(struct st_arena *arena, const struct ways *w, struct st_lot_figures *out)
{
    int low = 0, high = 0;
    for (int i = 1; i < w->n; i++) {
        low = w->g_l[i].high < w->g_l[low].high ? i : low;
        high = w->g_l[i].low > w->g_l[high].low ? i : high;
    }
    if (w->n < 2 || !(w->g_l[low].high < w->g_l[high].low))
        return;
    struct st_interval all = w->g_l[0];
    for (int i = 1; i < w->n; i++) {
        all.low = fmin(all.low, w->g_l[i].low);
        all.high = fmax(all.high, w->g_l[i].high);
    }
    all.value = 0.5 * (all.low + all.high);
    out->sugar = all;
    out->by_brix = out->by_sg = false;
    out->odds = st_arena_printf(arena,
                                "%s (sugar %.3g to %.3g g/L) and %s (sugar %.3g to %.3g g/L) do not agree: from %.3g "
                                "to %.3g g/L of sugar is counted. Read again, or put right what is written: once the "
                                "last two of a kind agree, the ones before count no more.",
                                w->words[low], w->g_l[low].low, w->g_l[low].high, w->words[high], w->g_l[high].low,
                                w->g_l[high].high, all.low, all.high);
}

enum book_status st_lot_figures(const struct st_batch_ask *a, const struct book_lot *lot,
                                const struct st_ingredient *in, struct st_lot_figures *out)
{
    const struct book_wanted of = { .column = "lot_id", .integer = lot->id, .order = "at" };
    struct book_reading *r;
    int n;
    *out = (struct st_lot_figures){ .by_label = false };
    const enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &r, &n);
    if (s != BOOK_OK)
        return s;
    strength_of(lot, in, r, n, out);
    out->sugar = one(r, n, ST_SEEN_SUGAR, lot->sugar_g_l);
    out->acid = one(r, n, ST_SEEN_ACID, lot->acid_g_l);
    const struct book_reading *sg = st_reading_last(r, n, ST_SEEN_SG), *brix = st_reading_last(r, n, ST_SEEN_BRIX);
    if (!in)
        return BOOK_OK;
    struct ways w = { .n = 0 };
    ways_of(a->arena, lot, in, r, n, out, &w); /* before both readings take the place of the sheet's strength */
    const bool dry = in->kind == ST_KIND_JUICE || in->kind == ST_KIND_SYRUP;
    if (dry && (sg || brix) && !(out->strength.value > 0.0) && !out->sugar.known)
        read_dissolved(brix ? brix : sg, brix != NULL, out);
    else if (!dry && (sg || brix))
        gauge(in, sg, brix, out);
    hold_together(a->arena, &w, out);
    return BOOK_OK;
}

bool st_lot_strength_unsaid(const struct st_batch_ask *a, const struct book_lot *lot, const struct st_ingredient *in)
{
    struct st_lot_figures f;
    return lot->from_batch == BOOK_NO && in && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE) &&
           st_lot_figures(a, lot, in, &f) == BOOK_OK && (!f.strength.known || f.by_sheet);
}

int st_lot_strength_refuse(const struct st_batch_ask *a, const struct book_lot *lot, struct st_problem *problem)
{
    return st_batch_refuse(
        problem, "nobody wrote it down, and what the recipe plans is not what this bottle is",
        st_arena_printf(a->arena, "write it from the label: stillroom larder change %.20s --strength 40", lot->code),
        "how strong is %.80s (%.20s)", lot->name, lot->code);
}
