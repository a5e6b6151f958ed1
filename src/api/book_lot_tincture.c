#include "api/book_lot_tincture.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_batch_along.h"
#include "api/book_larder.h"
#include "api/book_lot_of.h"
#include "core/strength.h"
#include "text/held.h"
#include "text/rules_built.h"

/* Treated like a spirit, but its name says another thing, or what was written of it is no plain spirit's: sugar, acid. */
static bool is_more(const struct st_catalogue *c, const struct book_lot *lot, const struct st_ingredient *in)
{
    const struct st_ingredient *held[ST_HELD];
    const int n = st_held_names(c, lot->name, strlen(lot->name), held);
    for (int i = 0; i < n; i++)
        if (held[i] != in && held[i]->kind != ST_KIND_SPIRIT && held[i]->kind != ST_KIND_WINE)
            return true;
    return lot->sugar_g_l > 0.0 || lot->acid_g_l > 0.0;
}

bool st_lot_is_tincture(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot)
{
    const struct st_ingredient *in = st_lot_ingredient(c, lot);
    double q;
    if (lot->from_batch == BOOK_NO && strcmp(lot->dim, "mL") == 0 && st_lot_has_of(a->book, lot->id))
        return st_batch_lot_strength(a, lot, &q) == BOOK_OK && q >= 0.0;
    if (lot->from_batch != BOOK_NO || strcmp(lot->dim, "mL") != 0 ||
        (in && (in->kind == ST_KIND_WINE || (in->kind != ST_KIND_SPIRIT && in->strength.known))) ||
        (in && in->kind == ST_KIND_SPIRIT && !is_more(c, lot, in)))
        return false;
    return st_batch_lot_strength(a, lot, &q) == BOOK_OK && q > 0.0;
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

static void put_words(struct st_buf *b, const struct st_catalogue *c, const struct st_lot_goods *x,
                      const struct book_lot *lot)
{
    struct st_line line[ST_LOT_OF];
    struct st_step step = { .id = "", .words = "", .kind = ST_DO_BLEND, .line = line, .n_line = x->n };
    const struct st_recipe r = { .title = "", .step = &step, .n_step = 1 };
    for (int i = 0; i < x->n; i++)
        line[i] = (struct st_line){ .text = "", .what = x->in[i], .from_step = -1 };
    st_batch_along(&r, NULL, lot->code, -1, "", b);
    put_made_of(b, c, x);
    if (x->n && x->n_lot == 0 && *x->in[0]->botanical) {
        st_buf_add(b, ", botanical: ");
        st_batch_quoted(b, x->in[0]->botanical);
    }
    put_holds(b, x);
}

static bool put_figures(struct st_buf *b, const struct book_lot *lot, double q)
{
    const double u = lot->strength_u >= 0.0 ? 1.96 * lot->strength_u : 0.3; /* a label's tolerance */
    double g_l[ST_NCOMP] = { 0.0 }, w[ST_NCOMP];
    g_l[ST_SUCROSE] = lot->sugar_g_l > 0.0 ? lot->sugar_g_l : 0.0;
    g_l[ST_ACID] = lot->acid_g_l > 0.0 ? lot->acid_g_l : 0.0;
    if (st_mixture_from_strength(q, g_l, w) < 0)
        return false;
    st_buf_printf(b, "{like: vodka, kind: wine, alcohol: of spirit, strength: %.5f-%.5f %%", fmax(0.0, q - u),
                  fmin(100.0, q + u));
    st_buf_printf(b, ", sucrose: %.5f-%.5f %%, acid: %.5f-%.5f %%", 100.0 * w[ST_SUCROSE], 100.0 * w[ST_SUCROSE],
                  100.0 * w[ST_ACID], 100.0 * w[ST_ACID]);
    return true;
}

enum book_status st_lot_tincture(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                                 struct st_batch_own *out)
{
    struct st_lot_goods x;
    struct st_buf b = { 0 };
    double q;
    *out = (struct st_batch_own){ .name = "", .definition = "" };
    enum book_status s = st_batch_lot_strength(a, lot, &q);
    if (s == BOOK_OK)
        s = st_lot_goods(a, c, lot, &x);
    if (s != BOOK_OK)
        return s;
    out->name = st_arena_printf(a->arena, "tincture %s", st_batch_own_key(a, lot));
    st_buf_printf(&b, "\"%s\": ", out->name);
    out->known = put_figures(&b, lot, q);
    if (out->known) {
        st_buf_add(&b, ", called: ");
        st_batch_quoted(&b, st_arena_printf(a->arena, "%.110s", *lot->name ? lot->name : lot->code));
        put_words(&b, c, &x, lot);
        if (x.n == 0)
            out->note = st_arena_printf(a->arena,
                                        "%.20s %.60s was not assessed: no ingredient sheet knows it; it counts as a "
                                        "spirit of its strength",
                                        lot->code, lot->name);
        else if (x.unknown && x.n_lot > 0)
            out->note =
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
