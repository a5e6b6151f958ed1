#include "api/book_batch.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_instead.h"
#include "api/book_batch_lasted.h"
#include "api/book_batch_own.h"
#include "core/strength.h"
#include "text/line.h"
#include "text/quantity.h"
#include "text/recipe_add.h"
#include "text/recipe_edit.h"
#include "text/stops.h"
#include "util/memory.h"

/* ---- reading ---- */

static bool fail(struct st_batch_made *m, const struct st_problem *p)
{
    m->problem = *p;
    return false;
}

static bool foretell(const struct st_batch_ask *a, struct st_plan *plan, struct st_batch_made *m)
{
    const struct st_options o = { .seed = a->seed, .draws = a->draws };
    m->told = st_plan_run(plan, &o, &m->out) >= 0;
    st_plan_free(plan);
    if (!m->told)
        st_batch_refuse(&m->problem, "an amount is far too large or too small", "look at what was weighed",
                        "it gives no figures");
    return m->told;
}

static struct st_catalogue *lend(const struct st_batch_ask *a)
{
    struct st_catalogue *c = a->spare ? *a->spare : NULL;
    if (!c)
        return a->catalogue();
    *a->spare = NULL;
    return c;
}

static void give_back(struct st_batch_made *m)
{
    if (m->spare && !*m->spare && !st_catalogue_is_changed(m->catalogue))
        *m->spare = m->catalogue;
    else
        st_catalogue_free(m->catalogue);
}

bool st_batch_made_of(const struct st_batch_ask *a, const char *text, bool tell, struct st_batch_made *m)
{
    struct st_problem p = { .what = "" };
    memset(m, 0, sizeof *m);
    st_buf_add(&m->text, text);
    if (!*text) {
        st_batch_refuse(&p, "nobody wrote its recipe down",
                        "tell it: stillroom batch answer, or begin another from a recipe", "this batch has no recipe");
        return fail(m, &p);
    }
    m->catalogue = lend(a);
    m->spare = a->spare;
    if (!m->catalogue)
        return false;
    const int read =
        st_recipe_read_as("its recipe", st_buf_text(&m->text), m->text.length, m->catalogue, a->measures, &m->file);
    if (read != 0)
        return fail(m, &m->file.problem[0]);
    m->whole = true;
    if (!tell)
        return true;
    struct st_plan *plan = st_plan_create(&m->file.recipe, &p);
    if (!plan) {
        (void)st_stop_plan_problems(&m->file.recipe, &p, 1);
        return fail(m, &p);
    }
    return foretell(a, plan, m);
}

void st_batch_made_done(struct st_batch_made *m)
{
    if (m->told)
        st_foretold_done(&m->out);
    if (m->catalogue) {
        st_recipe_done(&m->file);
        give_back(m);
    }
    st_buf_done(&m->text);
    memset(m, 0, sizeof *m);
}

/* ---- weighings of one line ---- */

/* What was weighed of one line, all together. */
struct sum {
    char words[160];
    double strength; /* of its lots; NAN */
    double total;    /* g, mL or pieces */
    enum st_dimension dim;
    int n;
};

static int wrong(const struct book_weighing *w, const char *why, struct st_problem *problem)
{
    return st_batch_refuse(problem, why, "weigh it as 412 g or 700 mL", "\"%.100s\" in step %.60s", w->words, w->step);
}

static int amount_of(const struct book_weighing *w, enum st_measures m, struct st_amount *out,
                     struct st_problem *problem)
{
    size_t used = 0;
    struct st_problem why;
    const int read = st_quantity_parse(w->words, strlen(w->words), m, out, &used, &why);
    if (read != 0)
        return wrong(w, why.why[0] ? why.why : "this is no amount", problem);
    if (w->words[used + strspn(w->words + used, " ")] != '\0')
        return wrong(w, "something stands behind the amount", problem);
    if (out->open != ST_CLOSED || (out->dim != ST_DIM_MASS && out->dim != ST_DIM_VOLUME && out->dim != ST_DIM_PIECE))
        return wrong(w, "a weighing is a weight, a volume or a count", problem);
    return 0;
}

static const char *base(enum st_dimension d)
{
    return d == ST_DIM_MASS ? " g" : d == ST_DIM_VOLUME ? " mL" : "";
}

static enum book_status strength_of(const struct st_batch_ask *a, const struct book_weighing *w, double *q)
{
    struct book_lot lot;
    *q = (double)NAN;
    if (w->lot_id == BOOK_NO)
        return BOOK_OK;
    const enum book_status s = book_get(a->book, BOOK_LOT, w->lot_id, a->arena, &lot);
    return s == BOOK_OK ? st_batch_lot_strength(a, &lot, q) : s;
}

static bool is_of(const struct book_weighing *w, const struct st_step *s, int line)
{
    return w->line == line && strcmp(w->step, s->id) == 0;
}

/* Add up what was weighed of line (from 1) of s; sum->n 0 when nothing was. */
static int add_up(const struct st_batch_ask *a, const struct st_recipe *r, const struct st_step *s, int line,
                  const struct book_weighing w[], int n, struct sum *sum, struct st_problem *problem)
{
    double total = 0.0, ethanol = 0.0;
    bool strong = true;
    enum st_dimension dim = ST_DIM_OPEN;
    memset(sum, 0, sizeof *sum);
    for (int i = 0; i < n; i++) {
        struct st_amount x;
        double q;
        if (!is_of(&w[i], s, line))
            continue;
        if (amount_of(&w[i], r->measures, &x, problem) != 0)
            return -1;
        if (sum->n > 0 && x.dim != dim)
            return wrong(&w[i], "this line was weighed in another kind of measure before", problem);
        if (strength_of(a, &w[i], &q) < 0)
            return wrong(&w[i], "its lot cannot be read from the book", problem);
        dim = x.dim;
        total += x.value;
        strong = strong && isfinite(q);
        ethanol += strong ? q * x.value : 0.0;
        sum->n++;
        (void)snprintf(sum->words, sizeof sum->words, "%s", w[i].words);
    }
    if (sum->n > 1)
        (void)snprintf(sum->words, sizeof sum->words, "%.10g%s", total, base(dim));
    sum->dim = dim;
    sum->total = total;
    sum->strength = sum->n && strong && total > 0.0 ? ethanol / total : (double)NAN;
    return 0;
}

/* ---- into the text ---- */

static bool takes_strength(const struct st_line *l)
{
    return l->what && l->what->kind == ST_KIND_SPIRIT;
}

/* "700 mL vodka 40 %" for a line whose amount was open: "vodka until covered". */
static void whole_line(const struct st_recipe *r, const struct st_line *l, const struct sum *sum, char *buf,
                       size_t size)
{
    const double q = isfinite(sum->strength) ? sum->strength : l->strength.known ? l->strength.value : (double)NAN;
    if (!l->what)
        (void)snprintf(buf, size, "%s of %s", sum->words, r->step[l->from_step].id);
    else if (takes_strength(l) && isfinite(q))
        (void)snprintf(buf, size, "%s %s %.6g %%", sum->words, l->what->name, q);
    else
        (void)snprintf(buf, size, "%s %s%s", sum->words, l->what->name, l->gross ? ", as bought" : "");
}

/* Grams of so much of it; NAN where nobody knows. */
static double grams(const struct st_line *l, enum st_dimension dim, double x)
{
    double rho;
    if (dim == ST_DIM_MASS)
        return x;
    if (dim == ST_DIM_PIECE)
        return l->what->piece.known ? x * l->what->piece.value : (double)NAN;
    if (takes_strength(l) && st_spirit_density(l->strength.known ? l->strength.value : 40.0, &rho) >= 0)
        return x * rho / 1000.0;
    const struct st_range g = st_ingredient_g_per_ml(l->what, x);
    return g.known ? x * g.value : (double)NAN;
}

/* What a line costs that was weighed in another kind of measure than it is written in: its price by weight, else as it is.
 * 0: a price of the same measure follows its amount by itself. */
static double other_price(const struct st_line *l, const struct sum *sum)
{
    if (!(l->price > 0.0) || !l->what || sum->dim == l->amount.dim)
        return 0.0;
    const double share = grams(l, sum->dim, sum->total) / grams(l, l->amount.dim, l->amount.value);
    return isfinite(share) && share > 0.0 ? l->price * share : l->price;
}

struct work {
    const struct st_batch_ask *a;
    const struct book_weighing *w;
    int n;
    struct st_buf text;
    struct st_catalogue *catalogue; /* of the recipe that is looked at, with its own ingredients */
    int edit_step, edit_line;       /* where put_amounts goes on */
    int open_step, open_line;       /* where put_open goes on: what was said anew may still be open ("half of jar") */
    struct st_problem *problem;
};

/* Whether the line still is the same thing when its figure gives way to what was weighed: "peel of 90 g lemons" is not. */
static bool keeps_its_words(const struct work *k, const struct st_recipe *r, const struct st_line *l,
                            const struct sum *sum)
{
    struct st_line alone = *l, now;
    struct st_problem p = { .what = "" };
    struct st_buf words = { 0 };
    alone.at = (struct st_place){ .line = 1, .column = 1 };
    alone.price = (double)NAN;
    alone.trimmed_share.known = false;
    const struct st_edit edit = { .line = &alone, .amount = sum->words };
    const bool same = st_recipe_edit(l->text, strlen(l->text), r->measures, &edit, 1, &words, &p) == 0 &&
                      st_line_parse(st_buf_text(&words), r->measures, k->catalogue, &now, &p) == 0 &&
                      now.what == l->what;
    st_buf_done(&words);
    return same;
}

/* A line of an open amount ("until covered", "to 1 L", "all of jar") is said anew, and so is one that counts pieces in words
 * that a weight does not fit; one that has a figure keeps all its other words. */
static bool is_reworded(const struct work *k, const struct st_recipe *r, const struct st_line *l, const struct sum *sum)
{
    if (l->amount.open != ST_CLOSED || l->amount.make_up_to || !l->what)
        return true;
    return l->amount.dim == ST_DIM_PIECE && sum->n > 0 && sum->dim != l->amount.dim && !keeps_its_words(k, r, l, sum);
}

/* The edit of a line that was weighed and has a figure; 1 there is one, 0 none, -1. */
static int edit_of(struct work *k, const struct st_recipe *r, int s, int i, struct sum *sum, struct st_edit *edit)
{
    const struct st_line *l = &r->step[s].line[i];
    if (add_up(k->a, r, &r->step[s], i + 1, k->w, k->n, sum, k->problem) != 0)
        return -1;
    if (sum->n == 0 || is_reworded(k, r, l, sum))
        return 0;
    const bool strong =
        takes_strength(l) && isfinite(sum->strength) && !(l->strength.known && l->strength.value == sum->strength);
    *edit = (struct st_edit){
        .line = l, .amount = sum->words, .price = other_price(l, sum), .strength = strong ? sum->strength : 0.0
    };
    return 1;
}

/* So many lines at once, each with its amount, price and strength, as an edit of the text has room for. */
enum { AT_ONCE = 20 };

/* The next lines with a figure; 1 there may be more, 0 these were the last, -1. */
static int put_amounts(struct work *k, const struct st_recipe *r)
{
    struct sum sum[AT_ONCE];
    struct st_edit edit[AT_ONCE];
    struct st_buf out = { 0 };
    int m = 0;
    while (k->edit_step < r->n_step && m < AT_ONCE) {
        if (k->edit_line == r->step[k->edit_step].n_line) {
            k->edit_step++;
            k->edit_line = 0;
            continue;
        }
        const int one = edit_of(k, r, k->edit_step, k->edit_line++, &sum[m], &edit[m]);
        if (one < 0)
            return -1;
        m += one;
    }
    if (m == 0)
        return 0;
    if (st_recipe_edit(st_buf_text(&k->text), k->text.length, r->measures, edit, m, &out, k->problem) != 0) {
        st_buf_done(&out);
        return -1;
    }
    st_buf_done(&k->text);
    k->text = out;
    return m == AT_ONCE;
}

/* The first open line that was weighed; 1 done, 0 there is none, -1. */
static int put_open(struct work *k, const struct st_recipe *r)
{
    for (int s = k->open_step; s < r->n_step; s++)
        for (int i = s == k->open_step ? k->open_line : 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            struct sum sum;
            struct st_buf out = { 0 };
            char words[400];
            if (add_up(k->a, r, &r->step[s], i + 1, k->w, k->n, &sum, k->problem) != 0)
                return -1;
            if (sum.n == 0 || !is_reworded(k, r, l, &sum))
                continue;
            whole_line(r, l, &sum, words, sizeof words);
            if (st_recipe_reword(st_buf_text(&k->text), k->text.length, l, words, &out, k->problem) != 0) {
                st_buf_done(&out);
                return -1;
            }
            st_buf_done(&k->text);
            k->text = out;
            k->open_step = s;
            k->open_line = i + 1;
            return 1;
        }
    return 0;
}

/* What is not in the recipe, behind the last line of its step. */
static int put_more(struct work *k, const struct st_recipe *r, const struct book_weighing *w)
{
    struct st_buf out = { 0 };
    const int step = st_batch_step(r, w->step, k->problem);
    if (step < 0 ||
        st_recipe_add_line(st_buf_text(&k->text), k->text.length, r, step, w->words, &out, k->problem) != 0) {
        st_buf_done(&out);
        return -1;
    }
    st_buf_done(&k->text);
    k->text = out;
    return 0;
}

/* Read the text as it is now, do one thing with it; what the one thing said. */
static int with_recipe(struct work *k, int (*put)(struct work *k, const struct st_recipe *r))
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    int done = -1;
    if (st_batch_made_of(k->a, st_buf_text(&k->text), false, m)) {
        k->catalogue = m->catalogue;
        done = put(k, &m->file.recipe);
        k->catalogue = NULL;
    } else {
        *k->problem = m->problem;
    }
    st_batch_made_done(m);
    free(m);
    return done;
}

static int put_all_more(struct work *k, const struct st_recipe *r)
{
    (void)r;
    for (int i = 0; i < k->n; i++) {
        struct st_batch_made *m;
        if (k->w[i].line != 0)
            continue;
        m = x_calloc(1, sizeof *m);
        const bool read = st_batch_made_of(k->a, st_buf_text(&k->text), false, m);
        const int done = read ? put_more(k, &m->file.recipe, &k->w[i]) : -1;
        if (!read)
            *k->problem = m->problem;
        st_batch_made_done(m);
        free(m);
        if (done != 0)
            return -1;
    }
    return 0;
}

/* ---- lots of other batches ---- */

/* What comes of such lots, as lines of their own. */
struct others {
    struct st_batch_own *own;
    struct book_weighing *w; /* all weighings, those of such lots in the words of their own ingredient */
    bool *is_own;            /* [n] */
    const char **note;       /* what is reckoned of none of them */
    int n_own, n, n_note;
    const char *lost; /* code of a batch that was poured in and cannot be reckoned; NULL */
};

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
static void look_for_lost(const struct st_batch_ask *a, struct others *x, int at, const struct book_lot *lot)
{
    struct book_batch from;
    const char *of = x->w[at].line == 0 ? strstr(x->w[at].words, " of ") : NULL;
    if (of && lot->from_batch != BOOK_NO &&
        book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &from) == BOOK_OK && strcmp(of + 4, from.code) == 0)
        x->lost = from.code;
}

static int refuse_lost(const char *code, struct st_problem *problem)
{
    return st_batch_refuse(problem, "its own recipe cannot be reckoned, or it holds some of this batch in turn",
                           "stillroom batch who tells what came from where; take the later pour back: stillroom undo",
                           "what was poured in from %.40s is not known", code);
}

/* A drink or spent fruit of another batch; false: that batch tells nothing. */
static bool take_own(const struct st_batch_ask *a, struct others *x, int at, const struct book_lot *lot)
{
    struct book_weighing *w = &x->w[at];
    struct st_batch_own own;
    if (st_batch_own(a, lot, &own) != BOOK_OK)
        return false;
    if (!own.known) {
        look_for_lost(a, x, at, lot);
        return false;
    }
    const char *words = own_words(a, w->words, own.name);
    if (!words)
        return false;
    w->words = words;
    x->is_own[at] = true;
    if (own.note)
        x->note[x->n_note++] = own.note;
    for (int i = 0; i < x->n_own; i++)
        if (strcmp(x->own[i].name, own.name) == 0)
            return true;
    x->own[x->n_own++] = own;
    return true;
}

/* A line that takes from a step stays there; what came besides is one more. */
static bool takes_from_step(const struct st_recipe *r, const struct book_weighing *w)
{
    struct st_problem p;
    const int step = w->line > 0 ? st_batch_step(r, w->step, &p) : -1;
    return step >= 0 && w->line <= r->step[step].n_line && !r->step[step].line[w->line - 1].what;
}

static void take_instead(const struct st_batch_ask *a, const struct st_batch_made *m, struct others *x, int at,
                         const struct book_lot *lot)
{
    struct st_batch_instead i;
    st_batch_instead_of(a, &m->file.recipe, m->catalogue, &x->w[at], lot, &i);
    if (i.note)
        x->note[x->n_note++] = i.note;
    if (!i.words)
        return;
    if (takes_from_step(&m->file.recipe, &x->w[at]))
        x->w[at].line = 0;
    x->w[at].words = i.words;
    x->is_own[at] = true;
}

static void take_other(const struct st_batch_ask *a, const struct st_batch_made *m, bool own, struct others *x, int at)
{
    const struct book_weighing *w = &x->w[at];
    struct book_lot lot;
    if (w->lot_id == BOOK_NO || book_get(a->book, BOOK_LOT, w->lot_id, a->arena, &lot) != BOOK_OK)
        return;
    if (lot.from_batch == BOOK_NO)
        take_instead(a, m, x, at, &lot);
    else if (!own || !take_own(a, x, at, &lot))
        x->note[x->n_note++] = st_arena_printf(
            a->arena, "%.20s %.80s was not assessed: its batch tells nothing of it here; it counts as the line says",
            lot.code, lot.name);
}

static bool has_lot(const struct book_weighing w[], int n)
{
    for (int i = 0; i < n; i++)
        if (w[i].lot_id != BOOK_NO)
            return true;
    return false;
}

/* own: those of other batches with their own figures, else as what the lines say. */
static struct others others_of(const struct st_batch_ask *a, const char *text, const struct book_weighing w[], int n,
                               bool own)
{
    struct others x = { .n = n };
    if (!*text || !has_lot(w, n))
        return x;
    x.own = st_arena_alloc(a->arena, (size_t)n * sizeof *x.own);
    x.w = st_arena_alloc(a->arena, (size_t)n * sizeof *x.w);
    x.is_own = st_arena_alloc(a->arena, (size_t)n * sizeof *x.is_own);
    x.note = st_arena_alloc(a->arena, (size_t)n * sizeof *x.note);
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

static bool has_any(const struct others *x)
{
    for (int i = 0; x->w && i < x->n; i++)
        if (x->is_own[i])
            return true;
    return false;
}

static bool has_own_kind(const struct others *x, int at)
{
    for (int i = 0; i < x->n; i++)
        if (!x->is_own[i] && x->w[i].line == x->w[at].line && strcmp(x->w[i].step, x->w[at].step) == 0)
            return true;
    return false;
}

/* The line that nothing else was weighed of says what came in its place; 1 done, 0 there is none, -1. */
static int put_in_place(struct work *k, struct others *x, const struct st_recipe *r)
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

static int with_others(struct work *k, struct others *x)
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
static int define_others(struct work *k, const struct others *x)
{
    struct st_buf out = { 0 };
    if (x->n_own == 0)
        return 0;
    if (!st_batch_own_put(st_buf_text(&k->text), x->own, x->n_own, &out)) {
        st_buf_done(&out);
        return -1;
    }
    st_buf_done(&k->text);
    k->text = out;
    return 0;
}

/* Define them, then say lines anew; what is left of them is a line more each. */
static int put_others(struct work *k, struct others *x)
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

static int put_all(struct work *k)
{
    int done;
    while ((done = with_recipe(k, put_amounts)) == 1)
        ;
    while (done == 0 && (done = with_recipe(k, put_open)) == 1)
        done = 0;
    return done == 0 ? put_all_more(k, NULL) : done;
}

/* With others as they are; what of them is reckoned nowhere is noted. */
static int put_all_of(struct work *k, const char *text, struct others *x)
{
    st_buf_done(&k->text);
    st_buf_add(&k->text, text);
    if (k->n == 0 || !*text)
        return 0;
    int done = put_others(k, x);
    if (done == 0)
        done = put_all(k);
    if (done == 0 && x->n_note > 0) {
        struct st_buf out = { 0 };
        st_batch_unreckoned_put(st_buf_text(&k->text), x->note, x->n_note, &out);
        st_buf_done(&k->text);
        k->text = out;
    }
    return done;
}

int st_batch_text(const struct st_batch_ask *a, const char *text, const struct book_weighing w[], int n,
                  struct st_buf *out, struct st_problem *problem)
{
    struct others others = others_of(a, text, w, n, true);
    struct work k = { .a = a, .w = w, .n = n, .problem = problem };
    if (others.lost)
        return refuse_lost(others.lost, problem);
    int done = put_all_of(&k, text, &others);
    if (done != 0 && others.n_own > 0) { /* the text cannot take them: as what the lines say */
        st_buf_done(&k.text);
        others = others_of(a, text, w, n, false);
        k = (struct work){ .a = a, .w = w, .n = n, .problem = problem };
        done = put_all_of(&k, text, &others);
    }
    if (done == 0)
        st_buf_add_n(out, st_buf_text(&k.text), k.text.length);
    st_buf_done(&k.text);
    return done == 0 ? 0 : -1;
}

/* ---- a batch of the book ---- */

/* The steep of that id; of "" the only one; -1. */
static int steep_of(const struct st_recipe *r, const char *id)
{
    int found = -1;
    for (int i = 0; i < r->n_step; i++) {
        if (r->step[i].kind != ST_DO_STEEP || (*id && strcmp(r->step[i].id, id) != 0))
            continue;
        if (found >= 0)
            return -1;
        found = i;
    }
    return found;
}

static void put_drained(struct st_step *s, const struct book_reading *row)
{
    const double sd = isfinite(row->sd) && row->sd > 0.0 ? row->sd : st_seen_usual_sd(ST_SEEN_DRAINED_G, row->value);
    s->drained_solids_g = (struct st_range){ .known = true,
                                             .value = row->value,
                                             .low = fmax(row->value - 1.96 * sd, 0.0),
                                             .high = row->value + 1.96 * sd,
                                             .mark = 'u',
                                             .source = "" };
    s->drained_read = true;
}

/* The last reading of a step rules over those before it. */
static bool put_readings(struct st_recipe *r, const struct book_reading row[], int n)
{
    bool any = false;
    for (int i = 0; i < n; i++) {
        const bool drained =
            strcmp(row[i].kind, st_seen_info(ST_SEEN_DRAINED_G)->key) == 0 && row[i].doubted != 1 && row[i].value > 0.0;
        const int step = drained ? steep_of(r, row[i].step) : -1;
        if (step < 0 || (r->step[step].drained_solids_g.known && !r->step[step].drained_read))
            continue;
        put_drained(&r->step[step], &row[i]);
        any = true;
    }
    return any;
}

static void take_out(struct st_recipe *r)
{
    for (int i = 0; i < r->n_step; i++)
        if (r->step[i].drained_read)
            r->step[i].drained_read = r->step[i].drained_solids_g.known = false;
}

enum book_status st_batch_put_drained(const struct st_batch_ask *a, const struct book_batch *batch, struct st_recipe *r,
                                      bool *any)
{
    struct book_reading *row;
    struct st_problem p = { .what = "" };
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id, .order = "at" };
    int n;
    const enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &row, &n);
    *any = s == BOOK_OK && put_readings(r, row, n);
    if (!*any)
        return s;
    struct st_plan *plan = st_plan_create(r, &p);
    *any = plan != NULL;
    if (!plan)
        take_out(r);
    st_plan_free(plan);
    return s;
}

/* Foretold anew with the drained solids as they were weighed and the days that its steps lasted; where that cannot be, as it
 * was. */
static enum book_status by_drained(const struct st_batch_ask *a, const struct book_batch *batch,
                                   struct st_batch_made *m)
{
    struct st_problem p = { .what = "" };
    bool lasted = false, drained = false;
    enum book_status s = st_batch_put_lasted(a, batch, &m->file.recipe, &lasted);
    if (s == BOOK_OK)
        s = st_batch_put_drained(a, batch, &m->file.recipe, &drained);
    struct st_plan *plan = lasted || drained ? st_plan_create(&m->file.recipe, &p) : NULL;
    if (plan) {
        st_foretold_done(&m->out);
        (void)foretell(a, plan, m);
    }
    return s;
}

enum book_status st_batch_made_so(const struct st_batch_ask *a, const struct book_batch *batch, const char *text,
                                  struct st_batch_made *m)
{
    return st_batch_made_of(a, text, true, m) && a->by_drained ? by_drained(a, batch, m) : BOOK_OK;
}

enum book_status st_batch_made(const struct st_batch_ask *a, const struct book_batch *batch, bool really, bool tell,
                               struct st_batch_made *m)
{
    struct book_weighing *w = NULL;
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    int n = 0;
    memset(m, 0, sizeof *m);
    if (really) {
        const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
        const enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &w, &n);
        if (s != BOOK_OK)
            return s;
    }
    enum book_status s = BOOK_OK;
    const int put = st_batch_text(a, batch->text, w, n, &text, &p);
    if (put == 0 && really && *batch->text)
        s = st_batch_also_took(a, batch->id, &text);
    if (put == 0 && s == BOOK_OK)
        (void)st_batch_made_of(a, st_buf_text(&text), tell, m);
    else
        m->problem = p;
    st_buf_done(&text);
    if (s != BOOK_OK)
        return s;
    return really && m->told && a->by_drained ? by_drained(a, batch, m) : BOOK_OK;
}

/* ---- what was foreseen ---- */

static const char *status_word(enum st_status s)
{
    return s == ST_EXTRAPOLATED ? "extrapolated" : s == ST_ESTIMATED ? "estimated" : "ok";
}

enum book_status st_batch_keep_foreseen(const struct st_batch_ask *a, int64_t batch, const struct st_foretold *f,
                                        const char *program)
{
    struct book_foreseen *old;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    enum book_status s = book_list(a->book, BOOK_FORESEEN, &of, a->arena, &old, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        s = book_drop(a->book, BOOK_FORESEEN, old[i].id);
    for (int k = 0; s == BOOK_OK && k < ST_NFIG; k++) {
        const struct st_interval *x = &f->fig[k];
        struct book_foreseen row;
        if (!x->known || !isfinite(x->value) || !isfinite(x->low) || !isfinite(x->high))
            continue;
        book_row_init(BOOK_FORESEEN, &row);
        row.batch_id = batch;
        row.key = st_figure_info((enum st_figure)k)->key;
        row.value = x->value;
        row.low = x->low;
        row.high = x->high;
        row.status = status_word(x->status);
        row.program = program;
        s = book_put(a->book, BOOK_FORESEEN, &row, NULL);
    }
    return s;
}
