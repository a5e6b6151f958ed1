#include "api/book_batch_text_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_instead.h"
#include "api/book_larder.h"
#include "api/book_lot_of.h"
#include "api/book_lot_own.h"
#include "api/book_lot_tincture.h"
#include "text/line.h"
#include "text/quantity.h"
#include "text/recipe_add.h"
#include "util/memory.h"

/* ---- lots of other batches ---- */

/* "300 g spent L3" of "300 g" or "300 g spent damson"; NULL where no amount stands in front. */
static const char *own_words(const struct st_batch_ask *a, const char *words, const char *name)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    if (st_quantity_parse(words, strlen(words), a->measures, &x, &used, &why) != 0 || x.open != ST_CLOSED)
        return NULL;
    return st_arena_printf(a->arena, "%.*s %s", (int)used, words, name);
}

/* Words of a pour, "300 mL of B1", say nothing where that batch cannot be reckoned: what it held is not known here either. */
static void look_for_lost(const struct st_batch_ask *a, struct st_batch_others *x, int at, const struct book_lot *lot)
{
    struct book_batch from;
    const char *of = x->w[at].line == 0 ? strstr(x->w[at].words, " of ") : NULL;
    if (of && lot->from_batch != BOOK_NO &&
        book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &from) == BOOK_OK && strcmp(of + 4, from.code) == 0)
        x->lost = from.code;
}

int st_batch_others_refuse(const char *code, struct st_problem *problem)
{
    return st_batch_refuse(problem, "its own recipe cannot be reckoned, or it holds some of this batch in turn",
                           "stillroom batch who tells what came from where; take the later pour back: stillroom undo",
                           "what was poured in from %.40s is not known", code);
}

/* "of B2: L1 spirit" of what came by a pour, whichever lot the pour was. */
static const char *behind_lot(const char *note)
{
    const char *of = strchr(note, ' ');
    return of && st_batch_note_alone(note) != note ? of : note;
}

/* Of what was poured in twice each is told once, and as many as there are. */
static void add_note(const struct st_batch_ask *a, struct st_batch_others *x, const char *note)
{
    for (int i = 0; i < x->n_note; i++)
        if (strcmp(behind_lot(x->note[i]), behind_lot(note)) == 0)
            return;
    const char **all = st_arena_alloc(a->arena, ((size_t)x->n_note + 1) * sizeof *all);
    if (x->n_note > 0)
        memcpy(all, x->note, (size_t)x->n_note * sizeof *all);
    all[x->n_note++] = note;
    x->note = all;
}

/* So much of an ingredient of its own in the place of the words; false: no amount stands in front. */
static bool put_own(const struct st_batch_ask *a, struct st_batch_others *x, int at, const struct st_batch_own *own)
{
    struct book_weighing *w = &x->w[at];
    const char *words = own_words(a, w->words, own->name);
    if (!words)
        return false;
    w->words = words;
    x->is_own[at] = true;
    for (int i = 0; i < own->n_note; i++)
        add_note(a, x, own->note[i]);
    for (int i = 0; i < x->n_own; i++)
        if (strcmp(x->own[i].name, own->name) == 0)
            return true;
    x->own[x->n_own++] = *own;
    return true;
}

/* A drink or spent fruit of another batch; false: that batch tells nothing. */
static bool take_own(const struct st_batch_ask *a, struct st_batch_others *x, int at, const struct book_lot *lot)
{
    struct st_batch_own own;
    if (st_batch_own(a, lot, &own) != BOOK_OK)
        return false;
    if (!own.known) {
        look_for_lost(a, x, at, lot);
        return false;
    }
    return put_own(a, x, at, &own);
}

/* A line that takes from a step stays there; what came besides is one more. */
static bool takes_from_step(const struct st_recipe *r, const struct book_weighing *w)
{
    struct st_problem p;
    const int step = w->line > 0 ? st_batch_step(r, w->step, &p) : -1;
    return step >= 0 && w->line <= r->step[step].n_line && !r->step[step].line[w->line - 1].what;
}

/* A house tincture; false: it is none, or the text takes no definitions. */
static bool take_tincture(const struct st_batch_ask *a, const struct st_batch_made *m, struct st_batch_others *x,
                          int at, const struct book_lot *lot)
{
    struct st_batch_own own;
    if (!st_lot_is_tincture(a, m->catalogue, lot) || st_lot_tincture(a, m->catalogue, lot, &own) != BOOK_OK ||
        !own.known || !put_own(a, x, at, &own))
        return false;
    if (takes_from_step(&m->file.recipe, &x->w[at]))
        x->w[at].line = 0;
    return true;
}

/* A lot with figures of its own, or of a strength that nobody knows; false: it is none, or the text takes no definitions.  What
 * was said of its strength where it was added counts where the lot tells none. */
static bool take_figures(const struct st_batch_ask *a, const struct st_batch_made *m, struct st_batch_others *x, int at,
                         const struct book_lot *lot)
{
    const struct st_ingredient *in = st_lot_ingredient(m->catalogue, lot);
    struct book_weighing *w = &x->w[at];
    struct st_line line = { .text = NULL };
    struct st_batch_own own;
    const bool read = st_batch_line_weighed(&m->file.recipe, m->catalogue, w, &line);
    const bool planned = read && in && st_batch_strength_planned(a, lot, in, w, &line);
    const bool said = read && w->line == 0 && line.strength.known && st_lot_strength_unsaid(a, lot, in);
    if (planned && !in->strength.known) {
        x->unsaid = st_arena_alloc(a->arena, sizeof *lot);
        *x->unsaid = *lot;
    }
    if (st_lot_own(a, m->catalogue, lot, planned, &own) != BOOK_OK || !own.known || !put_own(a, x, at, &own))
        return false;
    if (said)
        w->words = st_arena_printf(a->arena, "%s %.6g %%", w->words, line.strength.value);
    if (takes_from_step(&m->file.recipe, w))
        w->line = 0;
    return true;
}

static void take_instead(const struct st_batch_ask *a, const struct st_batch_made *m, struct st_batch_others *x, int at,
                         const struct book_lot *lot)
{
    struct st_batch_instead i;
    st_batch_instead_of(a, &m->file.recipe, m->catalogue, &x->w[at], lot, &i);
    if (i.note)
        add_note(a, x, i.note);
    if (!i.words)
        return;
    if (takes_from_step(&m->file.recipe, &x->w[at]))
        x->w[at].line = 0;
    x->w[at].words = i.words;
    x->is_own[at] = true;
}

/* Of what house stock was made of, each lot that was not assessed, however it is counted itself. */
static void note_untold(const struct st_batch_ask *a, const struct st_catalogue *c, struct st_batch_others *x,
                        const struct book_lot *lot)
{
    const char **note;
    int n;
    if (st_lot_untold_notes(a, c, lot, &note, &n) != BOOK_OK)
        add_note(a, x,
                 st_arena_printf(a->arena, "of what %.20s was made cannot be read, and was not assessed", lot->code));
    for (int i = 0; i < n; i++)
        add_note(a, x, note[i]);
}

static void take_other(const struct st_batch_ask *a, const struct st_batch_made *m, bool own, struct st_batch_others *x,
                       int at)
{
    const struct book_weighing *w = &x->w[at];
    struct book_lot lot;
    if (w->lot_id == BOOK_NO || book_get(a->book, BOOK_LOT, w->lot_id, a->arena, &lot) != BOOK_OK)
        return;
    if (lot.from_batch == BOOK_NO) {
        if (!own || (!take_tincture(a, m, x, at, &lot) && !take_figures(a, m, x, at, &lot)))
            take_instead(a, m, x, at, &lot);
        note_untold(a, m->catalogue, x, &lot);
    } else if (!own || !take_own(a, x, at, &lot))
        add_note(a, x,
                 st_arena_printf(
                     a->arena,
                     "%.20s %.80s was not assessed: its batch tells nothing of it here; it counts as the line says",
                     lot.code, lot.name));
}

static bool has_lot(const struct book_weighing w[], int n)
{
    for (int i = 0; i < n; i++)
        if (w[i].lot_id != BOOK_NO)
            return true;
    return false;
}

struct st_batch_others st_batch_others_of(const struct st_batch_ask *a, const char *text,
                                          const struct book_weighing w[], int n, bool own)
{
    struct st_batch_others x = { .n = n };
    if (!*text || !has_lot(w, n))
        return x;
    x.own = st_arena_alloc(a->arena, (size_t)n * sizeof *x.own);
    x.w = st_arena_alloc(a->arena, (size_t)n * sizeof *x.w);
    x.is_own = st_arena_alloc(a->arena, (size_t)n * sizeof *x.is_own);
    memcpy(x.w, w, (size_t)n * sizeof *x.w);
    for (int i = 0; i < n; i++)
        x.is_own[i] = false;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const bool read = st_batch_made_of(a, text, false, m);
    for (int i = 0; read && i < n; i++)
        take_other(a, m, own, &x, i);
    st_batch_made_done(m);
    free(m);
    return x;
}

static bool has_any(const struct st_batch_others *x)
{
    for (int i = 0; x->w && i < x->n; i++)
        if (x->is_own[i])
            return true;
    return false;
}

static bool has_own_kind(const struct st_batch_others *x, int at)
{
    for (int i = 0; i < x->n; i++)
        if (!x->is_own[i] && x->w[i].line == x->w[at].line && strcmp(x->w[i].step, x->w[at].step) == 0)
            return true;
    return false;
}

/* The line that nothing else was weighed of says what came in its place; 1 done, 0 there is none, -1. */
static int put_in_place(struct st_batch_work *k, struct st_batch_others *x, const struct st_recipe *r)
{
    for (int i = 0; i < x->n; i++) {
        struct st_buf out = { 0 };
        struct st_problem p = { .what = "" };
        const int step = x->is_own[i] && x->w[i].line > 0 ? st_batch_step(r, x->w[i].step, &p) : -1;
        if (step < 0 || x->w[i].line > r->step[step].n_line || has_own_kind(x, i))
            continue;
        const int done = st_recipe_reword(st_buf_text(&k->text), k->text.length, &r->step[step].line[x->w[i].line - 1],
                                          x->w[i].words, &out, k->problem);
        if (done == 0) {
            const int64_t line = x->w[i].line;
            for (int j = 0; j < x->n; j++) /* what else came of such lots stands behind it */
                if (x->w[j].line == line && strcmp(x->w[j].step, x->w[i].step) == 0)
                    x->w[j].line = 0;
            x->w[i] = x->w[--x->n];
            x->is_own[i] = x->is_own[x->n];
            st_buf_done(&k->text);
            k->text = out;
            return 1;
        }
        st_buf_done(&out);
        return -1;
    }
    return 0;
}

static int with_others(struct st_batch_work *k, struct st_batch_others *x)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const bool read = st_batch_made_of(k->a, st_buf_text(&k->text), false, m);
    const int done = read ? put_in_place(k, x, &m->file.recipe) : -1;
    if (!read)
        *k->problem = m->problem;
    st_batch_made_done(m);
    free(m);
    return done;
}

/* Their definitions, into `ingredients:`; -1: the text takes none. */
static int define_others(struct st_batch_work *k, const struct st_batch_others *x)
{
    struct st_buf out = { 0 };
    if (x->n_own == 0)
        return 0;
    if (!st_batch_own_put(st_buf_text(&k->text), x->own, x->n_own, &out)) {
        st_buf_done(&out);
        return st_batch_refuse(
            k->problem, "its `ingredients:` are written in a way that takes no more of them",
            "write each on a row of its own below `ingredients:`, two blanks in, as \"my herb: mint\"",
            "what is poured in has no place in the recipe");
    }
    st_buf_done(&k->text);
    k->text = out;
    return 0;
}

int st_batch_others_put(struct st_batch_work *k, struct st_batch_others *x)
{
    int done;
    if (!has_any(x))
        return 0;
    if (define_others(k, x) != 0)
        return -1;
    while ((done = with_others(k, x)) == 1)
        ;
    for (int i = 0; i < x->n; i++)
        if (x->is_own[i])
            x->w[i].line = 0;
    k->w = x->w;
    k->n = x->n;
    return done;
}
