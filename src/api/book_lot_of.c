#include "api/book_lot_of.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_bottles.h"
#include "api/book_batch_own.h"
#include "api/book_larder_inside.h"
#include "api/book_lot_tincture.h"
#include "model/line_goods.h"
#include "text/allergen_heard.h"
#include "text/held.h"
#include "util/memory.h"

/* ---- rows ---- */

bool st_lot_has_of(struct book *book, int64_t lot)
{
    const struct book_wanted w = { .column = "lot_id", .integer = lot };
    int64_t n = 0;
    return book_count(book, BOOK_LOT_OF, &w, &n) == BOOK_OK && n > 0;
}

static enum book_status rows(struct book *book, struct st_arena *arena, int64_t lot, bool into, struct book_lot **of,
                             int *n)
{
    struct book_lot_of *row;
    int m = 0;
    const struct book_wanted w = { .column = into ? "of_lot" : "lot_id", .integer = lot, .order = "id" };
    enum book_status s = book_list(book, BOOK_LOT_OF, &w, arena, &row, &m);
    *n = 0;
    *of = s == BOOK_OK ? st_arena_alloc(arena, (size_t)(m + 1) * sizeof **of) : NULL;
    for (int i = 0; s == BOOK_OK && i < m; i++)
        if ((s = book_get(book, BOOK_LOT, into ? row[i].lot_id : row[i].of_lot, arena, &(*of)[*n])) == BOOK_OK)
            ++*n;
    return s;
}

bool st_lot_of(struct st_desk *d, int64_t lot, bool into, struct book_lot **of, int *n)
{
    return st_desk_good(d, rows(d->book, d->arena, lot, into, of, n));
}

/* ---- writing it ---- */

/* Lots that went into the batch, by its weighings. */
static bool lots_of_batch(struct st_desk *d, int64_t batch, int64_t **id, int *n)
{
    struct book_weighing *w;
    int m = 0;
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    *n = 0;
    if (!st_desk_good(d, book_list(d->book, BOOK_WEIGHING, &of, d->arena, &w, &m)))
        return false;
    *id = st_arena_alloc(d->arena, (size_t)(m + 1) * sizeof **id);
    for (int i = 0; i < m; i++)
        if (w[i].lot_id != BOOK_NO)
            (*id)[(*n)++] = w[i].lot_id;
    return true;
}

/* Whether lot is among what `of` was made of, through lots and batches; a ring of older rows ends at left. */
static bool is_within(struct st_desk *d, int64_t lot, int64_t of, int left)
{
    struct book_lot row, *all;
    int64_t *id;
    int n = 0;
    if (of == lot)
        return true;
    if (left == 0 || !st_desk_good(d, book_get(d->book, BOOK_LOT, of, d->arena, &row)) ||
        !st_lot_of(d, of, false, &all, &n))
        return false;
    for (int i = 0; i < n; i++)
        if (is_within(d, lot, all[i].id, left - 1))
            return true;
    if (row.from_batch == BOOK_NO || !lots_of_batch(d, row.from_batch, &id, &n))
        return false;
    for (int i = 0; i < n; i++)
        if (is_within(d, lot, id[i], left - 1))
            return true;
    return false;
}

enum { DEEP = 12 };

static bool may_be_of(struct st_desk *d, const struct book_lot *lot, const struct book_lot *of)
{
    char what[60], why[160];
    (void)snprintf(what, sizeof what, "--of %.40s", of->code);
    if (is_within(d, lot->id, of->id, DEEP)) {
        (void)snprintf(why, sizeof why, "%.40s was itself made of %.40s", of->code, lot->code);
        return st_desk_refuse(d, what, of->id == lot->id ? "nothing is made of itself" : why, "look at the code");
    }
    if (of->since && lot->since && strcmp(of->since, lot->since) > 0) {
        (void)snprintf(why, sizeof why, "%.40s came into the larder later than that, %.10s", of->code, of->since);
        return st_desk_refuse(d, what, why, "look at the code, or at the day with --on");
    }
    return true;
}

/* Nothing left it since: what lies in the tincture still counts as there. */
static bool is_untouched(const struct book_lot *lot, const struct st_lot *of)
{
    for (int i = 0; i < of->n_use; i++)
        if (of->use[i].batch_id == BOOK_NO && of->use[i].amount > 0.0 &&
            (!lot->since || strcmp(of->use[i].on_day, lot->since) >= 0))
            return false;
    return !of->row.ended_on;
}

enum { GRAVER = 4 }; /* remarks that follow and are graver than those */

static bool put_one(struct st_desk *d, const struct book_lot *lot, const char *code, struct st_lot_told *t)
{
    struct st_lot of;
    struct book_lot *there;
    struct book_lot_of row;
    int n = 0;
    if (!st_larder_lot(d, code, &of) || !may_be_of(d, lot, &of.row) || !st_lot_of(d, lot->id, false, &there, &n))
        return false;
    for (int i = 0; i < n; i++)
        if (there[i].id == of.row.id)
            return true;
    book_row_init(BOOK_LOT_OF, &row);
    row.lot_id = lot->id;
    row.of_lot = of.row.id;
    if (!st_desk_good(d, book_put(d->book, BOOK_LOT_OF, &row, NULL)))
        return false;
    if (is_untouched(lot, &of) && t->n_remark < ST_LOT_REMARKS - GRAVER)
        st_lot_remark(
            t,
            "By the book nothing was taken from %.40s (%.80s) for it, and all of it is still there. What went in: "
            "stillroom larder took %.40s \"...\" --note \"into %.40s\"",
            of.row.code, of.row.name, of.row.code, lot->code);
    return true;
}

static void tell_untold(const struct st_lot_goods *x, const struct book_lot *lot, struct st_lot_told *t)
{
    enum { ROOM = 150 };
    char words[ROOM + 100] = "";
    for (int i = 0; i < x->n_untold; i++) {
        const size_t n = strlen(words);
        if (n + strlen(x->untold[i].lot) + 2 > ROOM) {
            (void)snprintf(words + n, sizeof words - n, " and %d more", x->n_untold - i);
            break;
        }
        (void)snprintf(words + n, sizeof words - n, "%s%s", n ? ", " : "", x->untold[i].lot);
    }
    if (words[0])
        st_lot_remark(t, "Not assessed: %s. Of %.20s only the rest is, and that is said wherever it goes in.", words,
                      lot->code);
    if (x->unknown)
        st_lot_remark(
            t,
            "What a batch or what is too far back brings, its allergens and what of it was not assessed, is told "
            "where %.20s goes in.",
            lot->code);
}

/* Allergens of what the lots are on the sheet. */
static void tell_allergens(const struct st_lot_goods *x, struct st_lot_told *t)
{
    char words[280] = "";
    for (int k = 0; k < x->n; k++)
        for (int i = 0; i < x->in[k]->n_allergen; i++) {
            const struct st_flag *f = &x->in[k]->allergen[i];
            const size_t n = strlen(words);
            if (!st_has_word(words, f->what))
                (void)snprintf(words + n, sizeof words - n, "%s%.40s%s", n ? ", " : "", f->what,
                               st_allergen_write(f->degree));
        }
    for (int i = 0; i < x->n_heard; i++) {
        const size_t n = strlen(words);
        if (!st_has_word(words, x->heard[i].code))
            (void)snprintf(words + n, sizeof words - n, "%s%.40s%s", n ? ", " : "", x->heard[i].code,
                           st_allergen_write(x->heard[i].scope));
    }
    if (words[0])
        st_lot_remark(t, "Allergens of what it was made of: %s. They go along wherever it goes in.", words);
}

/* What a batch has of both is told where it is poured in. */
static void tell_goods(struct st_desk *d, const struct st_catalogue *c, const struct book_lot *lot,
                       struct st_lot_told *t)
{
    struct st_lot_goods x;
    struct st_batch_ask a = { .book = d->book, .arena = d->arena, .deep = ST_BATCH_DEEP }; /* no batch is read here */
    if (st_lot_goods(&a, c, lot, &x) != BOOK_OK)
        return;
    tell_untold(&x, lot, t);
    tell_allergens(&x, t);
    st_lot_goods_done(&x);
}

bool st_lot_of_put(struct st_desk *d, const struct st_catalogue *c, const struct book_lot *lot,
                   const char *const code[], int n, struct st_lot_told *t)
{
    if (n > 0 && strcmp(lot->kind, "made") != 0)
        return st_desk_refuse(d, "--of", "only what was made ahead was made of other lots",
                              "keep it with: stillroom larder made; what came of a batch, with --from-batch B14");
    if (n > 0 && lot->from_batch != BOOK_NO)
        return st_desk_refuse(d, "--of", "it is of a batch, and that knows what went in",
                              "leave --of out, or --from-batch");
    for (int i = 0; i < n; i++)
        if (!put_one(d, lot, code[i], t))
            return false;
    if (n > 0)
        tell_goods(d, c, lot, t);
    if (n > 0 && (strcmp(lot->dim, "mL") != 0 || isnan(lot->strength_pct_vol)))
        st_lot_remark(
            t,
            "What it was made of is reckoned in a batch only where it is counted in mL and its strength is known: "
            "stillroom larder change %.40s --strength 45 (0 of a syrup). Who to ring is known all the same.",
            lot->code);
    return true;
}

/* ---- as ingredients ---- */

static void add(struct st_lot_goods *x, const struct st_ingredient *in)
{
    for (int i = 0; i < x->n; i++)
        if (x->in[i] == in)
            return;
    if (x->n < ST_LOT_OF)
        x->in[x->n++] = in;
    else
        x->unknown = true;
}

void st_lot_goods_hear(const struct st_catalogue *c, const char *name, struct st_lot_goods *x)
{
    struct st_allergen_said one[ST_LOT_HEARD];
    const int n = st_allergen_heard(name, c, one, ST_LOT_HEARD);
    for (int i = 0; i < n; i++) {
        int at = 0;
        while (at < x->n_heard && strcmp(x->heard[at].code, one[i].code) != 0)
            at++;
        if (at < ST_LOT_HEARD)
            x->heard[at] = one[i];
        x->n_heard += at == x->n_heard && at < ST_LOT_HEARD;
        x->unknown = x->unknown || at == ST_LOT_HEARD;
    }
}

/* ---- what was not assessed ---- */

static void add_untold(struct st_lot_goods *x, const char *lot, const char *why)
{
    for (int i = 0; i < x->n_untold; i++)
        if (strcmp(x->untold[i].lot, lot) == 0 && strcmp(x->untold[i].why, why) == 0)
            return;
    if (x->n_untold < ST_LOT_OF)
        x->untold[x->n_untold++] = (struct st_lot_untold){ lot, why };
    else
        x->unknown = true;
}

/* One that was itself made of no lots, as the book would say where it went in alone. */
static void look_at(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                    struct st_lot_goods *x)
{
    const struct st_ingredient *held[ST_HELD];
    const char *why = NULL;
    if (!st_lot_ingredient(c, lot) &&
        (st_held_names(c, lot->name, strlen(lot->name), held) == 0 || !st_lot_is_tincture(a, c, lot)))
        why = "was not assessed: no sheet knows it";
    else if (st_lot_is_untold(c, lot))
        why = "was not assessed: nobody told what went in";
    if (why)
        add_untold(x, st_arena_printf(a->arena, "%.20s %.60s", lot->code, lot->name), why);
}

/* No more than fits, whole words. */
static const char *short_of(struct st_arena *arena, const char *text, size_t most)
{
    size_t n = strlen(text);
    if (n <= most)
        return text;
    for (n = most; n > 0 && text[n] != ' ';)
        n--;
    return st_arena_printf(arena, "%.*s", (int)(n ? n : most), text);
}

enum book_status st_lot_untold_notes(const struct st_batch_ask *a, const struct st_catalogue *c,
                                     const struct book_lot *lot, const char ***note, int *n)
{
    enum { MOST = 165 }; /* `unreckoned` takes 190 bytes, and each pour says where it is from */
    struct st_lot_goods x;
    *n = 0;
    *note = NULL;
    if (lot->from_batch != BOOK_NO || !st_lot_has_of(a->book, lot->id))
        return BOOK_OK;
    const enum book_status s = st_lot_goods(a, c, lot, &x);
    if (s != BOOK_OK)
        return s;
    *note = st_arena_alloc(a->arena, ((size_t)x.n_untold + 1) * sizeof **note);
    for (int i = 0; i < x.n_untold; i++)
        (*note)[(*n)++] = short_of(
            a->arena, st_arena_printf(a->arena, "%s, by %.20s: %s", x.untold[i].lot, lot->code, x.untold[i].why), MOST);
    st_lot_goods_done(&x);
    return BOOK_OK;
}

/* ---- one lot ---- */

static void add_plain(const struct st_catalogue *c, const struct book_lot *lot, struct st_lot_goods *x)
{
    const struct st_ingredient *held[ST_HELD], *like = st_lot_ingredient(c, lot);
    const int n = st_held_names(c, lot->name, strlen(lot->name), held);
    if (like)
        add(x, like);
    for (int i = 0; i < n; i++)
        add(x, held[i]);
    st_lot_goods_hear(c, lot->name, x);
    x->unknown = x->unknown || (!like && n == 0 && x->n_lot == 0);
}

/* All that went into the batch, as it was when the lot left it. */
static enum book_status add_batch(const struct st_batch_ask *a, const struct book_lot *lot, struct st_lot_goods *x)
{
    struct st_batch_moment then;
    struct st_batch_ask of_then = *a;
    struct book_batch batch;
    if (a->deep > ST_BATCH_DEEP || !a->catalogue || x->n_made == ST_LOT_OF) {
        x->unknown = true;
        return BOOK_OK;
    }
    enum book_status s = st_batch_lot_moment(a, lot, &then);
    of_then.until = then.day ? &then : NULL;
    struct st_batch_made *m = x->made[x->n_made++] = x_calloc(1, sizeof *m); /* large */
    if (s == BOOK_OK)
        s = book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &batch);
    if (s == BOOK_OK)
        s = st_batch_made(&of_then, &batch, true, false, m);
    const struct st_recipe *r = &m->file.recipe;
    x->unknown = x->unknown || !m->whole;
    for (int i = 0; s == BOOK_OK && lot->id != x->of && i < r->n_unreckoned; i++)
        add_untold(x, st_arena_printf(a->arena, "%.20s of %.20s", lot->code, batch.code),
                   st_arena_strdup(a->arena, r->unreckoned[i]));
    for (int i = 0; s == BOOK_OK && m->whole && i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++)
            if (r->step[i].line[k].what)
                add(x, r->step[i].line[k].what);
    return s;
}

static enum book_status gather(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                               struct st_lot_goods *x)
{
    struct st_batch_ask deeper = *a;
    struct book_lot *of;
    int n = 0;
    deeper.deep++;
    if (lot->from_batch != BOOK_NO)
        return add_batch(&deeper, lot, x);
    enum book_status s = rows(a->book, a->arena, lot->id, false, &of, &n);
    x->n_lot += x->n_lot == 0 ? n : 0;
    add_plain(c, lot, x);
    if (s == BOOK_OK && n == 0 && lot->id != x->of)
        look_at(a, c, lot, x);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (deeper.deep <= 2 * ST_BATCH_DEEP)
            s = gather(&deeper, c, &of[i], x);
        else
            x->unknown = true;
    return s;
}

enum book_status st_lot_goods(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                              struct st_lot_goods *out)
{
    *out = (struct st_lot_goods){ .of = lot->id };
    const enum book_status s = gather(a, c, lot, out);
    if (s != BOOK_OK)
        st_lot_goods_done(out);
    return s;
}

void st_lot_goods_done(struct st_lot_goods *x)
{
    for (int i = 0; i < x->n_made; i++) {
        st_batch_made_done(x->made[i]);
        free(x->made[i]);
    }
    x->n_made = x->n = 0;
}
