/* What whoever weighs should look at. */
#include "cli/batch_weigh.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "text/quantity.h"

__attribute__((format(printf, 2, 3))) static void remark(struct batch_weighing *k, const char *format, ...)
{
    const size_t n = strlen(k->remark);
    va_list args;
    if (n && n + 1 < sizeof k->remark)
        (void)snprintf(k->remark + n, sizeof k->remark - n, " ");
    va_start(args, format);
    (void)vsnprintf(k->remark + strlen(k->remark), sizeof k->remark - strlen(k->remark), format, args);
    va_end(args);
}

static bool amount_in(const char *words, enum st_measures m, struct st_amount *x)
{
    struct st_problem why;
    size_t used;
    return st_quantity_parse(words, strlen(words), m, x, &used, &why) == 0 && x->open == ST_CLOSED;
}

static const char *unit(enum st_dimension d)
{
    return d == ST_DIM_MASS ? " g" : d == ST_DIM_VOLUME ? " mL" : "";
}

/* Several weighings of a line add up: whoever only put a figure right hears of it. */
static void look_at_sum(struct batch_weighing *k, enum st_measures m, const struct st_amount *now)
{
    double sum = now->value;
    int n = 1;
    for (int i = 0; i < k->n_old; i++) {
        struct st_amount x;
        if (k->old[i].line != k->row.line || strcmp(k->old[i].step, k->row.step) != 0 ||
            !amount_in(k->old[i].words, m, &x) || x.dim != now->dim)
            continue;
        sum += x.value;
        n++;
    }
    if (n > 1)
        remark(k,
               "Now %.6g%s of it in %d weighings; if this was to put the figure right: the same again with --instead.",
               sum, unit(now->dim), n);
}

/* A slip of the unit or of a nought is asked about. */
static void look_at_plan(struct batch_weighing *k, const struct st_line *l, const struct st_amount *now)
{
    enum { FAR = 5 };
    if (l->amount.open != ST_CLOSED || l->amount.dim != now->dim || !(l->amount.value > 0.0) || !(now->value > 0.0))
        return;
    const double times = now->value / l->amount.value;
    if (times > FAR || times < 1.0 / FAR)
        remark(k, "The recipe has %.6g%s of it: is %s right? If not, the right figure with --instead.", l->amount.value,
               unit(l->amount.dim), k->row.words);
}

/* The juice of lemons whose peel was taken: they are gone already. */
static void look_at_pieces(struct batch_weighing *k)
{
    if (!k->has_lot || strcmp(k->lot.dim, "pieces") != 0)
        return;
    for (int i = 0; i < k->n_old; i++)
        if (k->old[i].lot_id == k->lot.id &&
            (k->old[i].line != k->row.line || strcmp(k->old[i].step, k->row.step) != 0)) {
            remark(k,
                   "%s gave to this batch before; if it was of the same pieces, as juice and peel of a lemon are, they "
                   "are "
                   "counted twice now: stillroom undo, and weigh it without --lot.",
                   k->lot.code);
            return;
        }
}

/* A lot of another batch counts with what it keeps only where that is known. */
static void look_at_lot(struct batch_weighing *k)
{
    if (k->lot_found)
        remark(k, "Taken from %s, the one lot of that name.", k->lot.code);
    if (k->has_lot && k->lot.use_by && strcmp(k->lot.use_by, k->day) < 0)
        remark(k, "%s was to be used by %s: look at it well before it goes into a drink.", k->lot.code, k->lot.use_by);
    if (k->has_lot && k->lot.from_batch != BOOK_NO && k->now.whole &&
        !strstr(st_buf_text(&k->now.text), strcmp(k->lot.kind, "spent") == 0 ? "\"spent " : "\"poured "))
        remark(k, "What %s brings along of its batch is not known here: it counts as the line says.", k->lot.code);
}

void batch_weigh_look(struct batch *b, struct batch_weighing *k)
{
    const struct st_recipe *r = &k->planned.file.recipe;
    struct st_problem p;
    struct st_amount now;
    const int step = k->row.line ? st_batch_step(r, k->row.step, &p) : -1;
    if (step >= 0 && !k->instead && amount_in(k->row.words, r->measures, &now))
        look_at_sum(k, r->measures, &now);
    if (step >= 0 && amount_in(k->row.words, r->measures, &now))
        look_at_plan(k, &r->step[step].line[k->row.line - 1], &now);
    look_at_lot(k);
    look_at_pieces(k);
    if (*k->part)
        remark(k, "%s", k->part);
    if (k->batch.ended_on)
        remark(k, "%s was said to be over since %s; this is kept all the same.", k->batch.code,
               batch_day(b, k->batch.ended_on, false));
}
