#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_correct.h"
#include "api/book_larder.h"
#include "api/book_lot_own.h"
#include "api/book_lot_tincture.h"
#include "core/density_mixture.h"
#include "core/strength.h"
#include "text/allergen_said.h"
#include "text/calendar_day.h"
#include "text/held.h"
#include "util/memory.h"

/* A lot of the larder that is named outright: it is poured in by its own figures, under its own name, with its cautions. */

/* "L7", or the name of something that is not plain ("wormwood tincture", "wormwood tincture 60 %"): a plain name is read as
 * the thing it names. */
static bool names_lot(const struct st_catalogue *c, const struct book_lot *l, const char *said)
{
    const size_t n = strlen(l->name);
    if (strcasecmp(l->code, said) == 0)
        return true;
    if (n == 0 || strncasecmp(l->name, said, n) != 0 || st_lot_is_plain(c, l))
        return false;
    return said[n + strspn(said + n, " 0123456789.,%")] == '\0' && (said[n] == '\0' || said[n] == ' ');
}

static const struct st_lot *find(const struct st_larder *larder, const struct st_catalogue *c, const char *said)
{
    const struct st_lot *best = NULL;
    for (int i = 0; i < larder->n_lot; i++) {
        const struct st_lot *l = &larder->lot[i];
        if (strcasecmp(l->row.code, said) == 0)
            return l;
        if (names_lot(c, &l->row, said) && (!best || (best->over && !l->over)))
            best = l;
    }
    return best;
}

static void warn(struct st_correct_task *t, const char *source, const char *what, const char *because)
{
    for (int i = 0; i < t->n_warned; i++)
        if (strcmp(t->warned[i].what, what) == 0 && strcmp(t->warned[i].because, because) == 0)
            return;
    if (t->n_warned == ST_CORRECT_WARNED)
        return;
    struct st_correct_warned *w = &t->warned[t->n_warned++];
    (void)snprintf(w->what, sizeof w->what, "%s", what);
    (void)snprintf(w->because, sizeof w->because, "%s", because);
    (void)snprintf(w->source, sizeof w->source, "%s", source);
}

/* "look alike" */
static const char *in_words(const struct st_batch_ask *a, const char *code)
{
    char *text = st_arena_strdup(a->arena, code);
    for (char *p = text; *p; p++)
        *p = *p == '_' ? ' ' : *p;
    return text;
}

/* "allergen: nuts, milk" */
static const char *allergens_of(const struct st_batch_ask *a, const struct st_ingredient *in)
{
    const char *text = "allergen:";
    for (int i = 0; i < in->n_allergen; i++)
        text = st_arena_printf(a->arena, "%s%s %s%s", text, i ? "," : "", in->allergen[i].what,
                               st_allergen_write(in->allergen[i].degree));
    return text;
}

/* One caution of one sort each, told apart by what it is: what has the same words is told once (text/caution_list.h).
 * Those of what stands in its name, of what it is treated like, and of the batch it comes from. */
static void warn_of(const struct st_batch_ask *a, const struct st_catalogue *c, const struct st_lot *l,
                    const struct st_ingredient *in, struct st_correct_task *t)
{
    const struct st_ingredient *held[ST_HELD + 1];
    int n = st_held_names(c, l->row.name, strlen(l->row.name), held);
    if (in)
        held[n++] = in;
    for (int h = 0; h < n; h++)
        for (int i = 0; i < held[h]->n_caution; i++) {
            const struct st_flag *f = &held[h]->caution[i];
            warn(t, st_arena_printf(a->arena, "[%s]", f->source),
                 st_arena_printf(a->arena, "%s holds %s: %s", l->row.name, held[h]->name, in_words(a, f->what)),
                 f->text);
        }
    for (int h = 0; h < n; h++)
        if (held[h]->n_allergen > 0)
            warn(t, st_arena_printf(a->arena, "[%s]", held[h]->allergen[0].source),
                 st_arena_printf(a->arena, "%s holds %s", l->row.name, held[h]->name), allergens_of(a, held[h]));
    if (l->row.from_batch != BOOK_NO)
        warn(t, "common practice, no source",
             st_arena_printf(a->arena, "%s (%s) was made of batch %s", l->row.name, l->row.code,
                             l->from_batch ? l->from_batch : "of this book"),
             st_arena_printf(a->arena,
                             "what went into that goes into this drink too, allergens among it: stillroom "
                             "cautions %s",
                             l->from_batch ? l->from_batch : "BATCH"));
}

/* ---- its figures ---- */

/* Sugar and acid, g/L, where nobody wrote them: as they are known of what it is, and of what that is. */
struct known {
    struct st_interval sugar, acid;
    const char *of; /* "batch B2, as foretold", "simple syrup, by the sheet"; NULL: of nothing */
};

static struct st_interval per_litre(const struct st_range *x, double g_l)
{
    return (struct st_interval){ x->value * g_l, x->low * g_l, x->high * g_l, ST_OK, x->known };
}

/* A plain thing, and wine, syrup, juice: by the sheet.  What has a name of its own and is treated like a spirit or a herb is
 * not of it, and how sweet it is stands nowhere. */
static void by_sheet(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *l,
                     const struct st_ingredient *in, double strength, struct known *k)
{
    struct st_ingredient *as = st_arena_alloc(a->arena, sizeof *as);
    struct st_range part[ST_NCOMP], sugars;
    double w[ST_NCOMP], rho;
    const char *why;
    if (in->kind == ST_KIND_SPIRIT ? !(st_lot_is_plain(c, l) || st_lot_is_called_so(c, l))
                                   : in->kind != ST_KIND_WINE && in->kind != ST_KIND_SYRUP && in->kind != ST_KIND_JUICE)
        return;
    *as = *in;
    as->strength = (struct st_range){ strength, strength, strength, true, 'u', "" };
    if (st_ingredient_parts(as, part, &why) < 0)
        return;
    for (int i = 0; i < ST_NCOMP; i++)
        w[i] = part[i].value;
    if (st_density_mixture(w, ST_T20, &rho) < 0)
        return;
    sugars = in->sugars;
    if (!sugars.known)
        for (int i = ST_SUCROSE; i <= ST_LACTOSE; i++) {
            sugars.value += part[i].value;
            sugars.low += part[i].low;
            sugars.high += part[i].high;
            sugars.known = true;
        }
    k->sugar = per_litre(&sugars, rho);
    k->acid = per_litre(&part[ST_ACID], rho);
    k->of = st_arena_printf(a->arena, "%s, by the sheet", in->name);
}

/* Of a lot of a batch: as its drink was foretold on the day it was taken. */
static enum book_status by_batch(const struct st_batch_ask *a, const struct st_lot *l, struct known *k)
{
    const struct st_batch_moment then = { .table = BOOK_LOT, .id = l->row.id, .day = l->row.since };
    struct st_batch_ask deeper = *a;
    struct book_batch batch;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    deeper.until = l->row.since ? &then : NULL;
    enum book_status s = book_get(a->book, BOOK_BATCH, l->row.from_batch, a->arena, &batch);
    if (s == BOOK_OK)
        s = st_batch_made(&deeper, &batch, true, true, m);
    if (s == BOOK_OK && m->told) {
        k->sugar = m->out.fig[ST_FIG_SUGAR];
        k->acid = m->out.fig[ST_FIG_ACID];
        k->of = st_arena_printf(a->arena, "batch %s, as foretold", batch.code);
    }
    st_batch_made_done(m);
    free(m);
    return s;
}

/* What was written or measured of it, else what is known, as wide as that is; else none. */
static void figure(const struct st_interval *own, const struct st_interval *known, double *x, double *u)
{
    const struct st_interval *from = own->known ? own : known;
    *x = from->known ? fmax(from->value, 0.0) : 0.0;
    *u = from->known ? (from->high - from->low) / 3.92 : 0.0;
}

static void tell_unwritten(struct st_correct_task *t, const struct book_lot *l, const struct st_lot_figures *f,
                           const struct known *k, double most)
{
    const bool sugar = !f->sugar.known, acid = !f->acid.known;
    const char *how = sugar && acid ? "--sugar G --acid G" : sugar ? "--sugar G" : "--acid G";
    const char *what = sugar && acid ? "sugar and acid" : sugar ? "sugar" : "acid";
    char counted[80] = "none is counted: where there is some, the figures are wrong";
    if (!sugar && !acid)
        return;
    if (k->of) {
        st_correct_assume(t,
                          "Nobody wrote down the %s of %.50s (%.12s): taken as of %.60s, and as wide. Surer: stillroom "
                          "larder change %.12s %s.",
                          what, l->name, l->code, k->of, l->code, how);
        return;
    }
    if (sugar)
        (void)snprintf(counted, sizeof counted, "from none to %.3g g/L of sugar is counted%s", most,
                       acid ? ", and no acid" : "");
    st_correct_assume(t, "Nobody knows the %s of %.50s (%.12s): %s. Tell it: stillroom larder change %.12s %s.", what,
                      l->name, l->code, counted, l->code, how);
}

/* % vol; what the sheet has as a syrup or a juice has none unless somebody wrote it; NAN not known. */
static double strength_of(const struct st_batch_ask *a, const struct st_lot *l, const struct st_ingredient *in)
{
    double q;
    if (strcmp(l->row.dim, "mL") != 0 || st_batch_lot_strength(a, &l->row, &q) != BOOK_OK)
        return (double)NAN;
    const bool none = in && (in->kind == ST_KIND_SYRUP || in->kind == ST_KIND_JUICE || in->kind == ST_KIND_WATER);
    return isfinite(q) ? q : none && l->row.from_batch == BOOK_NO ? 0.0 : (double)NAN;
}

/* False: its figures do not go together. */
static bool liquid_of(const struct st_batch_ask *a, const struct st_catalogue *c, const struct st_lot *l,
                      const struct st_ingredient *in, double strength, struct st_correct_task *t,
                      struct st_correct_thing *thing)
{
    struct st_correct_liquid x = { .acid_known = true, .strength = strength };
    struct known k = { .of = NULL };
    struct st_lot_figures f;
    if (st_lot_figures(a, &l->row, in, &f) != BOOK_OK)
        return false;
    if (l->row.from_batch != BOOK_NO)
        (void)by_batch(a, l, &k);
    else if (in)
        by_sheet(a, c, &l->row, in, strength, &k);
    /* a label's 0.3 % vol and 4 % of the sugar: as of what is named in words (text/correct_thing.h) */
    const double most = st_lot_sweetest(fmax(strength, 0.0));
    if (!k.of && !f.sugar.known) /* of a name of its own: anything from none */
        k.sugar = (struct st_interval){ 0.5 * most, 0.0, most, ST_OK, true };
    x.strength_u = !(strength > 0.0) ? 0.0 : f.strength.known ? (f.strength.high - f.strength.low) / 3.92 : 0.3 / 1.96;
    figure(&f.sugar, &k.sugar, &x.sugar, &x.sugar_u);
    figure(&f.acid, &k.acid, &x.acid, &x.acid_u);
    thing->kind = x.sugar > 0.0 || l->row.from_batch != BOOK_NO ? ST_ADD_BATCH : ST_ADD_SPIRIT;
    if (!(strength > 0.0))
        thing->kind = in && in->kind == ST_KIND_JUICE ? ST_ADD_JUICE : x.sugar > 0.0 ? ST_ADD_SYRUP : ST_ADD_OTHER;
    if (st_correct_poured(&x, thing) < 0)
        return false;
    if (!in || in->kind != ST_KIND_SPIRIT || !st_lot_is_plain(c, &l->row)) /* of plain vodka nobody writes its sugar */
        tell_unwritten(t, &l->row, &f, &k, most);
    return true;
}

static void price_of(struct st_correct_task *t, const struct book_lot *l, struct st_correct_thing *thing)
{
    thing->cost = (double)NAN;
    if (!(l->price >= 0.0) || !(l->amount > 0.0) || (*t->currency && strcmp(t->currency, l->currency) != 0))
        return;
    thing->cost = l->price / l->amount;
    (void)snprintf(t->currency, sizeof t->currency, "%s", l->currency);
}

static void take(const struct st_batch_ask *a, const struct st_catalogue *c, const struct st_lot *l,
                 struct st_correct_task *t, struct st_problem *p)
{
    const struct st_ingredient *in = st_lot_ingredient(c, &l->row);
    const int at = t->ask.n_thing;
    struct st_correct_thing thing = { .have = l->left };
    double strength;
    if (l->over) {
        st_batch_refuse(p, "it is used up", "take another one", "%.80s (%.20s) cannot be poured", l->row.name,
                        l->row.code);
        return;
    }
    strength = strength_of(a, l, in);
    if (!(strength > 0.0) && in && st_lot_is_plain(c, &l->row) && in->kind != ST_KIND_SPIRIT &&
        !(l->row.sugar_g_l >= 0.0) && !(l->row.acid_g_l >= 0.0)) { /* sugar, syrup, acid: as what they are */
        if (st_correct_task_with(t, in->name, c, p))
            t->ask.thing[at].have =
                t->ask.thing[at].by_weight == (strcmp(l->row.dim, "g") == 0) ? l->left : t->ask.thing[at].have;
        return;
    }
    if (!isfinite(strength)) {
        st_batch_refuse(p, "its strength is not known",
                        st_arena_printf(a->arena, "tell it: stillroom larder change %s --strength 60", l->row.code),
                        "%.80s (%.20s) cannot be reckoned with", l->row.name, l->row.code);
        return;
    }
    if (!liquid_of(a, c, l, in, strength, t, &thing)) {
        st_batch_refuse(
            p, "so much of all does not fit into a litre",
            st_arena_printf(a->arena, "look at its strength, sugar and acid: stillroom larder show %s", l->row.code),
            "%.80s (%.20s) cannot be reckoned with", l->row.name, l->row.code);
        return;
    }
    (void)snprintf(thing.name, sizeof thing.name, "%.60s (%.12s)", l->row.name, l->row.code);
    price_of(t, &l->row, &thing);
    if (!st_correct_task_thing(t, &thing, p)) {
        if (!p->what[0])
            st_batch_refuse(p, "eight are the most", "leave some out", "too many things may be poured in");
        return;
    }
    (void)snprintf(t->lot[at], sizeof t->lot[at], "%s", l->row.code);
    /* it is what its lot is; what is treated like a spirit goes in as that spirit, of its lot: its own name no line knows */
    if (!in || (in->kind != ST_KIND_SPIRIT && st_lot_is_tincture(a, c, &l->row)))
        (void)snprintf(t->line[at], sizeof t->line[at], "%.60s", l->row.name);
    else if (strength > 0.0)
        (void)snprintf(t->line[at], sizeof t->line[at], "%.60s %.4g %%", in->name, strength);
    else
        (void)snprintf(t->line[at], sizeof t->line[at], "%.60s", in->name);
    warn_of(a, c, l, in, t);
}

enum book_status st_correct_book_lot(const struct st_batch_ask *a, const struct st_catalogue *c, const char *said,
                                     const char *today, struct st_correct_task *task, bool *is,
                                     struct st_problem *problem)
{
    struct st_desk desk = { .book = a->book, .arena = a->arena, .day = today, .moment = today };
    struct st_larder larder;
    *is = false;
    (void)st_day_number(today, &desk.number);
    if (!st_larder_lots(&desk, true, &larder)) {
        if (desk.status == BOOK_OK)
            *problem = desk.problem;
        return desk.status;
    }
    const struct st_lot *found = find(&larder, c, said);
    struct st_lot lot;
    *is = found != NULL;
    if (!found)
        return BOOK_OK;
    if (!st_larder_lot(&desk, found->row.code, &lot)) /* with the batch it comes from */
        return desk.status;
    take(a, c, &lot, task, problem);
    return BOOK_OK;
}
