#include "api/book_batch_text_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_instead.h"
#include "api/book_batch_rest.h"
#include "api/book_lot_own.h"
#include "core/strength.h"
#include "text/line.h"
#include "text/quantity.h"
#include "text/recipe_add.h"
#include "text/recipe_edit.h"
#include "util/memory.h"

/* ---- weighings of one line ---- */

/* What was weighed of one line, all together. */
struct sum {
    char words[160];
    double strength; /* of its lots; NAN */
    double total;    /* g, mL or pieces */
    enum st_dimension dim;
    int n;
};

static int wrong_so(const struct book_weighing *w, const char *why, const char *try_, struct st_problem *problem)
{
    return st_batch_refuse(problem, why, try_, "\"%.100s\" in step %.60s", w->words, w->step);
}

static int wrong(const struct book_weighing *w, const char *why, struct st_problem *problem)
{
    return wrong_so(w, why, "weigh it as 412 g or 700 mL", problem);
}

/* "6 egg yolks" for the line of the yolks: 6. */
static int more_than_amount(const struct book_weighing *w, size_t used, struct st_problem *problem)
{
    char try_[160];
    while (used > 0 && w->words[used - 1] == ' ')
        used--;
    (void)snprintf(try_, sizeof try_, "the line says what it is; write the amount alone: \"%.*s\"",
                   (int)(used < 80 ? used : 80), w->words);
    return wrong_so(w, "something stands behind the amount", try_, problem);
}

/* Grams after pieces: the one cannot be added to the other. */
static int other_measure(const struct book_weighing *w, enum st_dimension before, struct st_problem *problem)
{
    char try_[160];
    (void)snprintf(try_, sizeof try_, "say it in %s as before, or, if it is the whole of it, add --instead",
                   before == ST_DIM_MASS     ? "g"
                   : before == ST_DIM_VOLUME ? "mL"
                                             : "pieces");
    return wrong_so(w, "this line was weighed in another kind of measure before", try_, problem);
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
        return more_than_amount(w, used, problem);
    if (out->open != ST_CLOSED || (out->dim != ST_DIM_MASS && out->dim != ST_DIM_VOLUME && out->dim != ST_DIM_PIECE))
        return wrong(w, "a weighing is a weight, a volume or a count", problem);
    return 0;
}

static const char *base(enum st_dimension d)
{
    return d == ST_DIM_MASS ? " g" : d == ST_DIM_VOLUME ? " mL" : "";
}

/* Of its lot; where no lot is told, as planned. */
static enum book_status strength_of(const struct st_batch_ask *a, const struct book_weighing *w,
                                    const struct st_line *line, double *q)
{
    struct book_lot lot;
    *q = line->strength.known ? line->strength.value : (double)NAN;
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
            return other_measure(&w[i], dim, problem);
        if (strength_of(a, &w[i], &s->line[line - 1], &q) < 0)
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

/* Whether the line still is the same thing when its figure gives way to what was weighed: "peel of 90 g lemons" is not. */
static bool keeps_its_words(const struct st_batch_work *k, const struct st_recipe *r, const struct st_line *l,
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
static bool is_reworded(const struct st_batch_work *k, const struct st_recipe *r, const struct st_line *l,
                        const struct sum *sum)
{
    if (l->amount.open != ST_CLOSED || l->amount.make_up_to || !l->what)
        return true;
    return l->amount.dim == ST_DIM_PIECE && sum->n > 0 && sum->dim != l->amount.dim && !keeps_its_words(k, r, l, sum);
}

/* The edit of a line that was weighed and has a figure; 1 there is one, 0 none, -1. */
static int edit_of(struct st_batch_work *k, const struct st_recipe *r, int s, int i, struct sum *sum,
                   struct st_edit *edit)
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
static int put_amounts(struct st_batch_work *k, const struct st_recipe *r)
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
static int put_open(struct st_batch_work *k, const struct st_recipe *r)
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
static int put_more(struct st_batch_work *k, const struct st_recipe *r, const struct book_weighing *w)
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
static int with_recipe(struct st_batch_work *k, int (*put)(struct st_batch_work *k, const struct st_recipe *r))
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

/* One thing more, in the text as it is now. */
static int put_one_more(struct st_batch_work *k, const struct book_weighing *w)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const bool read = st_batch_made_of(k->a, st_buf_text(&k->text), false, m);
    const int done = read ? put_more(k, &m->file.recipe, w) : -1;
    if (!read)
        *k->problem = m->problem;
    st_batch_made_done(m);
    free(m);
    return done;
}

/* What was added before anything had left (cut -1), or into the rest that there was at a cut. */
static int put_more_of(struct st_batch_work *k, int cut, const char *step)
{
    int done = 0;
    for (int i = 0; i < k->n && done == 0; i++) {
        struct book_weighing w = k->w[i];
        if (w.line != 0 || st_batch_cut_of(&k->rests, w.id) != cut)
            continue;
        w.step = step ? step : w.step;
        done = put_one_more(k, &w);
    }
    return done;
}

static int put_all_more(struct st_batch_work *k)
{
    int done = put_more_of(k, -1, NULL);
    for (int c = 0; c < k->rests.n && done == 0; c++) {
        const char *step = NULL;
        done = st_batch_rest_put(k, &k->rests.cut[c], &step);
        if (done == 0)
            done = put_more_of(k, c, step);
    }
    return done;
}

static int put_all(struct st_batch_work *k)
{
    int done;
    while ((done = with_recipe(k, put_amounts)) == 1)
        ;
    while (done == 0 && (done = with_recipe(k, put_open)) == 1)
        done = 0;
    return done == 0 ? put_all_more(k) : done;
}

/* With others as they are; what of them is reckoned nowhere is noted. */
static int put_all_of(struct st_batch_work *k, const char *text, struct st_batch_others *x)
{
    st_buf_done(&k->text);
    st_buf_add(&k->text, text);
    if (k->n == 0 || !*text)
        return 0;
    int done = st_batch_others_put(k, x);
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

/* Weighings of the batch, and what left it. */
static enum book_status rests_of(const struct st_batch_ask *a, const char *text, const struct book_weighing w[], int n,
                                 struct st_batch_rests *out)
{
    struct st_batch_past past;
    bool any = false;
    *out = (struct st_batch_rests){ .n = 0 };
    for (int i = 0; i < n; i++)
        any = any || (w[i].line == 0 && w[i].batch_id != BOOK_NO);
    if (!any)
        return BOOK_OK;
    const enum book_status s = st_batch_past_rows(a, w[0].batch_id, &past);
    if (s != BOOK_OK)
        return s;
    past.weighed = w;
    past.n_weighed = n;
    st_batch_find_beyond(a, text, &past);
    return st_batch_rests_of(a, text, &past, out);
}

static int put_text(const struct st_batch_ask *a, const char *text, const struct book_weighing w[], int n,
                    struct st_buf *out, struct st_problem *problem)
{
    struct st_batch_rests rests;
    if (st_batch_until(a, &w, &n) != BOOK_OK || rests_of(a, text, w, n, &rests) != BOOK_OK)
        return st_batch_refuse(problem, "the book gives it not", "look the book through: stillroom backup check",
                               "what left the drink, and when, cannot be read");
    struct st_batch_others others = st_batch_others_of(a, text, w, n, true);
    struct st_batch_work k = { .a = a, .w = w, .n = n, .rests = rests, .problem = problem };
    if (others.lost)
        return st_batch_others_refuse(others.lost, problem);
    if (others.unsaid)
        return st_lot_strength_refuse(a, others.unsaid, problem);
    int done = put_all_of(&k, text, &others);
    if (done != 0 && others.n_own > 0) { /* the text cannot take them: as what the lines say */
        const struct st_problem why = *problem;
        st_buf_done(&k.text);
        others = st_batch_others_of(a, text, w, n, false);
        k = (struct st_batch_work){ .a = a, .w = w, .n = n, .rests = rests, .problem = problem };
        done = put_all_of(&k, text, &others);
        if (done != 0 && why.what[0])
            *problem = why;
    }
    if (done == 0)
        st_buf_add_n(out, st_buf_text(&k.text), k.text.length);
    st_buf_done(&k.text);
    return done == 0 ? 0 : -1;
}

/* The text is read once for each thing that is put into it: the list of ingredients only once. */
int st_batch_text(const struct st_batch_ask *a, const char *text, const struct book_weighing w[], int n,
                  struct st_buf *out, struct st_problem *problem)
{
    struct st_catalogue *spare = NULL;
    struct st_batch_ask lending = *a;
    if (!a->spare)
        lending.spare = &spare;
    const int done = put_text(&lending, text, w, n, out, problem);
    st_catalogue_free(spare);
    return done;
}
