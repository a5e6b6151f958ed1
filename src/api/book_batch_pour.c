#include "api/book_batch_pour.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_chain.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_own.h"
#include "text/figure_words.h"
#include "util/memory.h"

/* ---- what there is ---- */

enum book_status st_batch_not_yet(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_batch_made *made, const char *day, const char **why)
{
    struct st_batch_jar *j;
    int n;
    const enum book_status s = st_batch_jars(a, batch->id, false, &j, &n);
    *why = NULL;
    for (int i = 0; s == BOOK_OK && i < n && made->whole; i++)
        if (strcmp(j[i].row.doing, "steeping") == 0 && (!j[i].row.due_on || strcmp(day, j[i].row.due_on) < 0))
            *why = st_arena_printf(
                a->arena, "its \"%s\" still steeps, and is not due yet: what stands there is not the drink yet",
                j[i].row.step);
    return s;
}

/* Of a recipe that cannot be read only what steeps is known not to be the drink. */
static bool is_drink(const struct st_batch_made *made, const struct book_jar *jar)
{
    if (strcmp(jar->doing, "steeping") == 0)
        return false;
    return !made->whole || st_batch_of_drink(&made->file.recipe, jar->step);
}

enum book_status st_batch_too_early(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *made, const char *day, const char **why)
{
    struct st_batch_jar *j;
    int n;
    const enum book_status s = st_batch_jars(a, batch->id, true, &j, &n);
    *why = strcmp(day, batch->begun_on) < 0
               ? st_arena_printf(a->arena, "it was begun later than that, on %s", batch->begun_on)
               : NULL;
    for (int i = 0; s == BOOK_OK && i < n && !*why; i++) {
        const struct book_jar *jar = &j[i].row;
        if (!jar->ended_on || strcmp(day, jar->ended_on) >= 0 || is_drink(made, jar))
            continue;
        *why = st_arena_printf(a->arena, "by the book its \"%s\" %s until %s, and before that it was not the drink yet",
                               *jar->step ? jar->step : "jar",
                               strcmp(jar->doing, "steeping") == 0 ? "steeped" : "stood", jar->ended_on);
    }
    return s;
}

double st_batch_most_left(const struct st_batch_left *left)
{
    return left->high_ml - left->lost_ml - left->bottled_ml;
}

static int refuse_amount(const struct st_batch_ask *a, const struct book_batch *from, double most,
                         struct st_problem *problem)
{
    char words[60];
    st_plain_figure(words, sizeof words, fmax(0.0, most), 3);
    return st_batch_refuse(
        problem, st_arena_printf(a->arena, "by the book at most %s mL are left, less what was lost and bottled", words),
        st_arena_printf(a->arena, "look at the amount, or tell what there is: stillroom batch read %s volume=AMOUNT",
                        from->code),
        "there is not so much of %s", from->code);
}

/* ---- what can still be reckoned ---- */

static enum book_status refuse_ring(const struct st_batch_ask *a, const struct book_batch *from,
                                    const struct book_batch *into, struct st_problem *problem)
{
    struct st_chain_link *link;
    int n;
    const enum book_status s = st_batch_chain_ever(a, false, into->id, &link, &n);
    for (int i = 1; s == BOOK_OK && i < n; i++) {
        if (link[i].is_lot || link[i].id != from->id)
            continue;
        st_batch_refuse(problem,
                        st_arena_printf(a->arena,
                                        "%s already holds some of %s (%s), and neither could be reckoned then",
                                        from->code, into->code, st_batch_chain_way(a, link, i)),
                        "begin a third batch and pour both into it, or take the first pour back: stillroom undo --list",
                        "%s cannot be poured into %s", from->code, into->code);
        return BOOK_NONE;
    }
    return s;
}

/* All that was poured from batch to batch. */
struct poured {
    struct book_lot *lot;
    struct book_weighing *weighing;
    int n_lot, n_weighing;
};

static const struct book_lot *poured_lot(const struct poured *k, int64_t id)
{
    for (int i = 0; i < k->n_lot; i++)
        if (k->lot[i].id == id && k->lot[i].from_batch != BOOK_NO && strcmp(k->lot[i].kind, "made") == 0)
            return &k->lot[i];
    return NULL;
}

/* How many pours lie behind a batch (back), or before it, at most; a ring of an older book ends at left. */
static int pours(const struct poured *k, int64_t batch, bool back, int left)
{
    int most = 0;
    for (int i = 0; left > 0 && i < k->n_weighing; i++) {
        const struct book_lot *lot = poured_lot(k, k->weighing[i].lot_id);
        if (!lot || (back ? k->weighing[i].batch_id : lot->from_batch) != batch)
            continue;
        const int n = 1 + pours(k, back ? lot->from_batch : k->weighing[i].batch_id, back, left - 1);
        most = n > most ? n : most;
    }
    return most;
}

static enum book_status refuse_deep(const struct st_batch_ask *a, const struct book_batch *from,
                                    const struct book_batch *into, struct st_problem *problem)
{
    struct poured k = { .n_lot = 0 };
    enum book_status s = book_list(a->book, BOOK_LOT, NULL, a->arena, &k.lot, &k.n_lot);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_WEIGHING, NULL, a->arena, &k.weighing, &k.n_weighing);
    if (s != BOOK_OK)
        return s;
    const int n = pours(&k, from->id, true, ST_BATCH_DEEP) + 1 + pours(&k, into->id, false, ST_BATCH_DEEP);
    if (n <= ST_BATCH_DEEP)
        return BOOK_OK;
    st_batch_refuse(problem,
                    st_arena_printf(a->arena,
                                    "%d pours from batch to batch would stand in a row, and what such a drink holds is "
                                    "followed back through %d",
                                    n, ST_BATCH_DEEP),
                    "pour from a batch with fewer before it, or take an earlier pour back: stillroom undo --list",
                    "%s cannot be poured into %s", from->code, into->code);
    return BOOK_NONE;
}

enum book_status st_batch_pour_may(const struct st_batch_ask *a, const struct book_batch *from,
                                   const struct book_batch *into, struct st_problem *problem)
{
    const enum book_status s = refuse_ring(a, from, into, problem);
    return s == BOOK_OK ? refuse_deep(a, from, into, problem) : s;
}

enum book_status st_batch_pour_lot(const struct st_batch_ask *a, const struct book_lot *lot,
                                   const struct book_batch *into, struct st_problem *problem)
{
    struct book_batch from;
    if (lot->from_batch == BOOK_NO || strcmp(lot->kind, "made") != 0)
        return BOOK_OK;
    const enum book_status s = book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &from);
    return s == BOOK_OK ? st_batch_pour_may(a, &from, into, problem) : s;
}

/* ---- its figures ---- */

static double sd_of(const struct st_interval *x)
{
    return x->known && isfinite(x->high - x->low) ? 0.5 * (x->high - x->low) / 1.959963984540054 : (double)NAN;
}

static void fill(struct book_lot *lot, const struct st_interval *strength, const struct st_interval *sugar,
                 const struct st_interval *acid)
{
    lot->strength_pct_vol = strength->known ? strength->value : (double)NAN;
    lot->strength_u = sd_of(strength);
    lot->sugar_g_l = sugar->known ? fmax(0.0, sugar->value) : (double)NAN;
    lot->acid_g_l = acid->known ? fmax(0.0, acid->value) : (double)NAN;
}

/* Readings at odds (st_agree_holds) say nothing certain: then as foretold. */
static enum book_status figures(const struct st_batch_ask *a, const struct book_batch *from,
                                const struct st_batch_made *made, struct st_batch_pour *out)
{
    struct st_problem none = { .what = "" };
    const struct st_interval *f = made->out.fig;
    struct st_batch_agree *x = x_calloc(1, sizeof *x); /* large */
    const enum book_status s = st_batch_agree(a, from, made, x, &none);
    const struct st_interval *g = x->out.after;
    out->read = s == BOOK_OK && !none.what[0] && st_agree_holds(&x->out) && g[ST_AGREE_STRENGTH].known &&
                g[ST_AGREE_SUGAR].known;
    if (out->read)
        fill(&out->lot, &g[ST_AGREE_STRENGTH], &g[ST_AGREE_SUGAR], &g[ST_AGREE_ACID]);
    else
        fill(&out->lot, &f[ST_FIG_STRENGTH], &f[ST_FIG_SUGAR], &f[ST_FIG_ACID]);
    free(x);
    return s;
}

enum book_status st_batch_pour_of(const struct st_batch_ask *a, const struct book_batch *from,
                                  const struct st_batch_made *made, double ml, const char *day,
                                  struct st_batch_pour *out, struct st_problem *problem)
{
    struct st_batch_left left = { .spare_ml = 0.0 };
    const char *why;
    memset(out, 0, sizeof *out);
    book_row_init(BOOK_LOT, &out->lot);
    enum book_status s = st_batch_not_yet(a, from, made, day, &why);
    if (s == BOOK_OK && why) {
        st_batch_refuse(problem, why, "strain it first: stillroom batch strain", "%s cannot be poured", from->code);
        return BOOK_NONE;
    }
    if (s == BOOK_OK)
        s = st_batch_too_early(a, from, made, day, &why);
    if (s == BOOK_OK && why) {
        st_batch_refuse(problem, why, "look at --on; a straining of the wrong day is taken back with stillroom undo",
                        "%s cannot have been poured on %s", from->code, day);
        return BOOK_NONE;
    }
    if (s == BOOK_OK)
        s = st_batch_left(a, from, made, &left);
    if (s == BOOK_OK && ml > st_batch_most_left(&left) * (1.0 + 1e-9)) {
        refuse_amount(a, from, st_batch_most_left(&left), problem);
        return BOOK_NONE;
    }
    if (s == BOOK_OK)
        s = st_batch_pour_row(a, from, made, ml, day, out);
    out->spare_ml = left.spare_ml;
    return s;
}

enum book_status st_batch_pour_row(const struct st_batch_ask *a, const struct book_batch *from,
                                   const struct st_batch_made *made, double ml, const char *day,
                                   struct st_batch_pour *out)
{
    char code[40];
    memset(out, 0, sizeof *out);
    book_row_init(BOOK_LOT, &out->lot);
    enum book_status s = figures(a, from, made, out);
    if (s == BOOK_OK)
        s = st_batch_next_lot(a, code);
    if (s != BOOK_OK)
        return s;
    out->lot.code = st_arena_strdup(a->arena, code);
    out->lot.kind = "made";
    out->lot.name = st_arena_printf(a->arena, "%s of %s", from->name, from->code);
    out->lot.dim = "mL";
    out->lot.amount = ml;
    out->lot.since = day;
    out->lot.from_batch = from->id;
    return BOOK_OK;
}

/* ---- into the book ---- */

const char *st_batch_pour_note(const struct st_batch_ask *a, const char *lot_code)
{
    return st_arena_printf(a->arena, "poured off as %s", lot_code);
}

bool st_batch_pour_lost(const struct st_batch_ask *a, const struct book_lot *lot, const struct book_loss *loss)
{
    return strcmp(loss->why, "drawn") == 0 && lot->from_batch == loss->batch_id &&
           strcmp(st_batch_pour_note(a, lot->code), loss->note) == 0;
}

enum book_status st_batch_pour_put(const struct st_batch_ask *a, struct st_batch_pour *pour)
{
    struct book_loss loss;
    enum book_status s = book_put(a->book, BOOK_LOT, &pour->lot, &pour->lot.id);
    book_row_init(BOOK_LOSS, &loss);
    loss.batch_id = pour->lot.from_batch;
    loss.on_day = pour->lot.since;
    loss.why = "drawn";
    loss.volume_ml = pour->lot.amount;
    loss.strength_pct_vol = pour->lot.strength_pct_vol;
    loss.note = st_batch_pour_note(a, pour->lot.code);
    return s == BOOK_OK ? book_put(a->book, BOOK_LOSS, &loss, NULL) : s;
}
