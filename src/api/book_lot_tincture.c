#include "api/book_lot_tincture.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_batch_along.h"
#include "api/book_larder.h"
#include "api/book_lot_of.h"
#include "api/book_lot_own.h"
#include "core/density_mixture.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "text/held.h"
#include "text/rules_built.h"

/* Treated like a spirit, but its name says another thing or nothing that is known, or what was written of it is no plain
 * spirit's: sugar, acid. */
static bool is_more(const struct st_catalogue *c, const struct book_lot *lot, const struct st_ingredient *in,
                    bool sweet)
{
    const struct st_ingredient *held[ST_HELD];
    const int n = st_held_names(c, lot->name, strlen(lot->name), held);
    for (int i = 0; i < n; i++)
        if (held[i] != in && held[i]->kind != ST_KIND_SPIRIT && held[i]->kind != ST_KIND_WINE)
            return true;
    return sweet || !(st_lot_is_plain(c, lot) || st_lot_is_called_so(c, lot));
}

/* As sweet as the sweetest class that law names, crème de cassis, g/L [eu_2019_787] annex I. */
enum { SWEETEST = 400, STEP = 10 };

double st_lot_sweetest(double strength)
{
    for (int g = SWEETEST; g > 0; g -= STEP) {
        const double g_l[ST_NCOMP] = { [ST_SUCROSE] = g };
        double w[ST_NCOMP], most;
        if (st_mixture_from_strength(strength, g_l, w) >= 0 && st_sucrose_solubility(w, ST_T20, &most) >= 0 &&
            w[ST_SUCROSE] <= most)
            return g;
    }
    return 0.0;
}

bool st_lot_is_tincture(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot)
{
    const struct st_ingredient *in = st_lot_ingredient(c, lot);
    struct st_lot_figures f;
    if (lot->from_batch == BOOK_NO && strcmp(lot->dim, "mL") == 0 && st_lot_has_of(a->book, lot->id))
        return st_lot_figures(a, lot, NULL, &f) == BOOK_OK && f.strength.known;
    if (lot->from_batch != BOOK_NO || strcmp(lot->dim, "mL") != 0 ||
        (in && (in->kind == ST_KIND_WINE || (in->kind != ST_KIND_SPIRIT && in->strength.known))) ||
        st_lot_figures(a, lot, NULL, &f) != BOOK_OK || !(f.strength.value > 0.0))
        return false;
    return !in || in->kind != ST_KIND_SPIRIT || is_more(c, lot, in, f.sugar.value > 0.0 || f.acid.value > 0.0);
}

/* Poisons of these, of which nobody knows how much came over. */
static void put_holds(struct st_buf *b, const struct st_lot_goods *x)
{
    struct st_problem none = { .what = "" };
    struct st_rule_books *books = st_rules_built(&none);
    int n = 0;
    for (int t = 0; books && t < books->n_toxicant; t++) {
        bool any = false;
        for (int i = 0; i < x->n; i++)
            any = any || st_toxicant_flagged(&books->toxicant[t], x->in[i]);
        if (!any)
            continue;
        st_buf_add(b, n++ ? ", " : ", holds: [");
        st_buf_printf(b, "{toxicant: \"%s\", at_most: not known, because: \"nobody wrote how much of it was steeped\"}",
                      books->toxicant[t].slug);
    }
    st_buf_add(b, n ? "]" : "");
    if (books)
        st_rule_books_free(books);
}

/* Names of the sheet, each once; of what a batch defined, what that was made of. */
static void put_made_of(struct st_buf *b, const struct st_catalogue *c, const struct st_lot_goods *x)
{
    struct st_buf all = { 0 };
    for (int i = 0; i < x->n; i++) {
        const char *said[] = { x->in[i]->slug, x->in[i]->made_of };
        for (int k = 0; k < 2; k++)
            for (const char *p = said[k]; p && *p; p += strspn(p, ", ")) {
                char slug[80];
                const size_t n = strcspn(p, ", ");
                (void)snprintf(slug, sizeof slug, "%.*s", (int)(n < sizeof slug ? n : sizeof slug - 1), p);
                if (st_catalogue_find(c, slug, strlen(slug)) && !st_rule_lists(st_buf_text(&all), slug))
                    st_buf_printf(&all, "%s%s", all.length ? ", " : "", slug);
                p += n;
            }
    }
    if (all.length)
        st_buf_printf(b, ", made_of: [%s]", st_buf_text(&all));
    st_buf_done(&all);
}

/* What their names say, as of one thing that is nothing else: told as what may be there. */
static void put_heard(const struct st_lot_goods *x, struct st_ingredient *out)
{
    static const struct st_ingredient NONE = { .slug = "",
                                               .name = "",
                                               .names = "",
                                               .botanical = "",
                                               .piece_name = "",
                                               .piece_names = "",
                                               .cup_note = "",
                                               .made_of = "",
                                               .like = "",
                                               .whole = "",
                                               .note = "",
                                               .kind = ST_KIND_WATER };
    *out = NONE;
    for (int i = 0; i < x->n_heard && i < ST_MAX_ALLERGENS; i++)
        out->allergen[out->n_allergen++] =
            (struct st_flag){ x->heard[i].code, x->heard[i].scope, "", "no source", 'm' };
}

static void put_words(struct st_buf *b, const struct st_catalogue *c, const struct st_lot_goods *x,
                      const struct book_lot *lot, const char *first)
{
    struct st_line line[ST_LOT_OF + 1];
    struct st_ingredient heard;
    struct st_step step = { .id = "", .words = "", .kind = ST_DO_BLEND, .line = line, .n_line = x->n + 1 };
    const struct st_recipe r = { .title = "", .step = &step, .n_step = 1 };
    for (int i = 0; i < x->n; i++)
        line[i] = (struct st_line){ .text = "", .what = x->in[i], .from_step = -1 };
    put_heard(x, &heard);
    line[x->n] = (struct st_line){ .text = "", .what = &heard, .from_step = -1 };
    st_batch_along(&r, NULL, lot->code, -1, "", first, b);
    put_made_of(b, c, x);
    put_holds(b, x);
}

bool st_lot_is_untold(const struct st_catalogue *c, const struct book_lot *lot)
{
    const struct st_ingredient *in = st_lot_ingredient(c, lot);
    return in && in->kind == ST_KIND_SPIRIT && !st_lot_is_plain(c, lot) && !st_lot_is_called_so(c, lot);
}

/* The stone of a cherry is in no syrup of it. */
static bool is_of_stone(const struct st_flag *f)
{
    return f->text && strncmp(f->text, "the stone", 9) == 0;
}

static bool tells(const struct st_ingredient *in)
{
    for (int i = 0; i < in->n_caution; i++)
        if (!is_of_stone(&in->caution[i]))
            return true;
    return in->n_allergen > 0;
}

bool st_lot_put_held(struct st_buf *b, const struct st_catalogue *c, const struct book_lot *lot,
                     const struct st_ingredient *in)
{
    const struct st_ingredient *held[ST_HELD];
    struct st_lot_goods x = { .n = 0 };
    const int n = lot->from_batch == BOOK_NO && !st_lot_is_plain(c, lot)
                      ? st_held_names(c, lot->name, strlen(lot->name), held)
                      : 0;
    for (int i = 0; i < n; i++)
        if (held[i] != in && strcmp(held[i]->slug, in->slug) != 0 && tells(held[i]))
            x.in[x.n++] = held[i];
    if (lot->from_batch == BOOK_NO && !st_lot_is_plain(c, lot))
        st_lot_goods_hear(c, lot->name, &x);
    if (x.n > 0 || x.n_heard > 0)
        put_words(b, c, &x, lot, "");
    return x.n > 0 || x.n_heard > 0;
}

/* Half of what nobody told the sugar of is taken as next to unsweetened, so that none is inside of several such too; common
 * practice, no source. */
static const double NEXT_TO_NONE = 0.05;

static void put_sugar(struct st_buf *b, const struct st_interval *g_l, double most, double rho)
{
    const double high = 100.0 * most / rho, value = NEXT_TO_NONE * high;
    if (g_l->known)
        st_buf_printf(b, ", sucrose: %.5f-%.5f %%", 100.0 * g_l->low / rho, 100.0 * g_l->high / rho);
    else
        st_buf_printf(b, ", sugars: %.5f (0-%.5f) %%", value, high);
}

static bool put_figures(struct st_buf *b, const struct st_lot_figures *f)
{
    const double q = f->strength.value, most = st_lot_sweetest(q);
    double g_l[ST_NCOMP] = { 0.0 }, w[ST_NCOMP], rho;
    g_l[ST_SUCROSE] = f->sugar.known ? f->sugar.value : most;
    g_l[ST_ACID] = f->acid.known ? f->acid.value : 0.0;
    if (st_mixture_from_strength(q, g_l, w) < 0 || st_density_mixture(w, ST_T20, &rho) < 0)
        return false;
    st_buf_printf(b, "{like: vodka, kind: wine, alcohol: of spirit, strength: %.5f-%.5f %%", f->strength.low,
                  f->strength.high);
    put_sugar(b, &f->sugar, most, rho);
    st_buf_printf(b, ", acid: %.5f-%.5f %%", f->acid.known ? 100.0 * f->acid.low / rho : 0.0,
                  f->acid.known ? 100.0 * f->acid.high / rho : 0.0);
    return true;
}

/* That its sugar is not known: a row of `brings`. */
static const char *unsaid(const struct st_batch_ask *a, const struct book_lot *lot, double strength)
{
    struct st_buf b = { 0 };
    st_buf_add(&b, "{level: caution, code: sugar_unsaid, what: ");
    st_batch_quoted(&b, st_arena_printf(a->arena,
                                        "how sweet %.60s (%.20s) is nobody wrote: from none to %.3g g/L is counted",
                                        lot->name, lot->code, st_lot_sweetest(strength)));
    st_buf_add(&b, ", because: ");
    st_batch_quoted(
        &b, st_arena_printf(a->arena,
                            "it has a name of its own, and of such no sheet knows the sugar; at most as sweet as "
                            "crème de cassis. Write it: stillroom larder change %.20s --sugar 0",
                            lot->code));
    st_buf_add(&b, ", source: \"[eu_2019_787]\"}");
    const char *row = st_arena_strdup(a->arena, st_buf_text(&b));
    st_buf_done(&b);
    return row;
}

enum book_status st_lot_tincture(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                                 struct st_batch_own *out)
{
    static const struct st_ingredient SPIRIT = { .kind = ST_KIND_SPIRIT };
    struct st_lot_figures f;
    struct st_lot_goods x;
    struct st_buf b = { 0 };
    *out = (struct st_batch_own){ .name = "", .definition = "" };
    enum book_status s = st_lot_figures(a, lot, &SPIRIT, &f);
    if (s == BOOK_OK)
        s = st_lot_goods(a, c, lot, &x);
    if (s != BOOK_OK)
        return s;
    out->name = st_arena_printf(a->arena, "tincture %s", st_batch_own_key(a, lot));
    st_buf_printf(&b, "\"%s\": ", out->name);
    out->known = put_figures(&b, &f);
    if (out->known) {
        st_buf_add(&b, ", called: ");
        st_batch_quoted(&b, st_arena_printf(a->arena, "%.110s", *lot->name ? lot->name : lot->code));
        if (x.n && x.n_lot == 0 && *x.in[0]->botanical) {
            st_buf_add(&b, ", botanical: ");
            st_batch_quoted(&b, x.in[0]->botanical);
        }
        put_words(&b, c, &x, lot, f.sugar.known ? "" : unsaid(a, lot, f.strength.value));
        if (x.n == 0 && x.n_untold == 0)
            out->note[out->n_note++] =
                st_arena_printf(a->arena,
                                "%.20s %.60s was not assessed: no ingredient sheet knows it; it counts as a "
                                "spirit of its strength",
                                lot->code, lot->name);
        else if (x.n_lot == 0 && st_lot_is_untold(c, lot))
            out->note[out->n_note++] =
                st_arena_printf(a->arena,
                                "%.20s %.60s was not assessed: nobody told what went into it, and its name is "
                                "no list of that; of which lots it was made: stillroom larder change %.20s "
                                "--of L2",
                                lot->code, lot->name, lot->code);
        else if (x.unknown && x.n_lot > 0)
            out->note[out->n_note++] =
                st_arena_printf(a->arena,
                                "not all that %.20s %.60s was made of is known to the ingredient sheet; what is "
                                "not was not assessed",
                                lot->code, lot->name);
    }
    st_lot_goods_done(&x);
    st_buf_add(&b, "}");
    out->definition = st_arena_strdup(a->arena, st_buf_text(&b));
    st_buf_done(&b);
    return BOOK_OK;
}
