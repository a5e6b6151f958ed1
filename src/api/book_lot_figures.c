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

/* Of what has alcohol: by hydrometer and refractometer, or one of them and the strength. */
static void gauge(const struct st_ingredient *in, const struct book_reading *sg, const struct book_reading *brix,
                  struct st_lot_figures *out)
{
    const struct st_range *by_sheet = &in->strength;
    struct st_interval q = out->strength, strength, sugar;
    if (!q.known && by_sheet->known)
        q = (struct st_interval){ by_sheet->value, by_sheet->low, by_sheet->high, ST_OK, true };
    const bool both = sg && brix && (!out->strength.known || out->by_sheet);
    if (!st_gauged(sg, both || !sg ? brix : NULL, both || !q.known ? (double)NAN : q.value,
                   (q.high - q.low) / (2.0 * Z), &strength, &sugar))
        return;
    if (both) {
        out->strength = strength;
        out->by_label = out->by_sheet = false;
    }
    if (out->sugar.known)
        return;
    const struct st_interval other = besides(in, strength.value);
    const double half = hypot(0.5 * (sugar.high - sugar.low), 0.5 * (other.high - other.low));
    out->sugar = around(fmax(0.0, sugar.value - other.value), half);
}

static void read_dissolved(const struct book_reading *sg, const struct book_reading *brix, struct st_lot_figures *out)
{
    const struct book_reading *r = brix ? brix : sg;
    out->by_brix = brix != NULL;
    out->by_sg = !brix;
    out->read = r->value;
    out->read_sd = st_reading_sd(r, brix ? ST_SEEN_BRIX : ST_SEEN_SG);
    out->read_T = isfinite(r->temperature_c) ? r->temperature_c + 273.15 : ST_T20;
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
    if (!in || (!sg && !brix))
        return BOOK_OK;
    const bool dry = in->kind == ST_KIND_JUICE || in->kind == ST_KIND_SYRUP;
    if (dry && !(out->strength.value > 0.0) && !out->sugar.known)
        read_dissolved(sg, brix, out);
    else if (!dry)
        gauge(in, sg, brix, out);
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
