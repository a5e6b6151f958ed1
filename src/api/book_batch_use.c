#include "api/book_batch_use.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_batch_instead.h"
#include "api/book_larder.h"
#include "api/book_lot_cross.h"
#include "api/book_lot_own.h"
#include "api/book_lot_tincture.h"
#include "text/figure_words.h"
#include "text/quantity.h"

static void remark(struct st_batch_use *u, const char *text)
{
    const size_t n = strlen(u->remark);
    (void)snprintf(u->remark + n, sizeof u->remark - n, "%s%s", n ? " " : "", text);
}

/* How strong it is nobody wrote.  What the maker says of it where it is added counts; what the recipe plans does not: then the
 * sheet's range does, and where it has none nothing can be reckoned.  False: *problem. */
static bool look_at_strength(const struct st_batch_ask *a, const struct book_lot *lot, const struct st_ingredient *in,
                             const struct st_line *line, const char *behind, struct st_batch_use *out,
                             struct st_problem *problem)
{
    char text[300], planned[60] = "";
    const bool weighed = behind[strspn(behind, " ")] == '\0', known = line && line->strength.known;
    if (!line || !in || !st_lot_strength_unsaid(a, lot, in))
        return true;
    if (known)
        (void)snprintf(planned, sizeof planned, ", not the recipe's %.4g", line->strength.value);
    if (known && !weighed)
        (void)snprintf(
            text, sizeof text,
            "The larder does not know how strong %s is: %.4g %% counts, as was said here. For all that goes out "
            "of it: stillroom larder change %s --strength %.4g.",
            lot->code, line->strength.value, lot->code, line->strength.value);
    else if (in->strength.known)
        (void)snprintf(
            text, sizeof text,
            "How strong %s is nobody wrote: from %.4g to %.4g %% vol is counted, as of any %.60s by the sheet%s. "
            "Surer: stillroom larder change %s --strength ...",
            lot->code, in->strength.low, in->strength.high, in->name, planned, lot->code);
    else {
        (void)st_lot_strength_refuse(a, lot, problem);
        return false;
    }
    remark(out, text);
    return true;
}

/* A house stock of which nobody knows how sweet or sour it is. */
static void look_at_unwritten(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                              struct st_batch_use *out)
{
    struct st_lot_figures f;
    char text[300];
    if (!st_lot_is_tincture(a, c, lot) || st_lot_figures(a, lot, NULL, &f) != BOOK_OK)
        return;
    if (!f.acid.known) {
        (void)snprintf(text, sizeof text,
                       "The acid of %s nobody wrote: none is counted. Where there is some: stillroom larder "
                       "change %s --acid G.",
                       lot->code, lot->code);
        remark(out, text);
    }
    if (f.sugar.known)
        return;
    (void)snprintf(
        text, sizeof text,
        "How sweet %s is nobody wrote: from none to %.3g g/L of sugar is counted. Surer: stillroom larder change %s "
        "--sugar 0, or what it has.",
        lot->code, st_lot_sweetest(f.strength.value), lot->code);
    remark(out, text);
}

enum book_status st_batch_use_of(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                                 const struct st_line *line, const char *words, enum st_measures measures, double back,
                                 struct st_batch_use *out, struct st_problem *problem)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    double q, left;
    char text[200], figure[40];
    *out = (struct st_batch_use){ .lot_id = lot->id };
    if (line && !line->what && line->from_step >= 0) {
        st_batch_refuse(problem, "that line is what another step of this batch makes, and no lot is that",
                        "add the lot beside it with stillroom batch add, or weigh the line without --lot",
                        "%.80s of %.20s for \"%.80s\"", words, lot->code, line->text);
        return BOOK_NONE;
    }
    enum book_status s = st_batch_lot_strength(a, lot, &q);
    if (s == BOOK_OK)
        s = st_batch_lot_left(a, lot, &left);
    if (s != BOOK_OK)
        return s;
    left += back;
    if (st_quantity_parse(words, strlen(words), measures, &x, &used, &why) != 0 || x.open != ST_CLOSED) {
        st_batch_refuse(problem, "it is no amount that a lot can give", "write it as 412 g or 700 mL", "\"%.100s\"",
                        words);
        return BOOK_NONE;
    }
    if (!st_lot_cross(c, lot, q, line, &x, &out->amount)) {
        st_batch_refuse(problem, "the lot is counted in another measure, and nobody has weighed the one in the other",
                        "weigh it in that, or leave --lot out", "%.80s of %.40s, which is counted in %s", words,
                        lot->code, lot->dim);
        return BOOK_NONE;
    }
    const struct st_ingredient *in = lot->from_batch == BOOK_NO ? st_lot_ingredient(c, lot) : NULL;
    struct st_line own; /* of what is added under the lot's own name no line was read */
    const bool as_own = !line && in && st_line_parse(words, measures, c, &own, &why) == 0;
    if (!look_at_strength(a, lot, in, as_own ? &own : line, words + used, out, problem))
        return BOOK_NONE;
    struct st_lot_figures figures;
    if (in && st_lot_figures(a, lot, in, &figures) == BOOK_OK && figures.odds)
        remark(out, figures.odds);
    look_at_unwritten(a, c, lot, out);
    if (in && line && line->what && !st_batch_lot_is(line->what, in)) {
        (void)snprintf(text, sizeof text,
                       "%s is %s by the book, and the line says %s: what the lot is gets reckoned, and warned of.",
                       lot->code, st_lot_is_tincture(a, c, lot) ? lot->name : in->name, line->what->name);
        remark(out, text);
    }
    if (out->amount > left * (1.0 + 1e-9)) {
        st_plain_figure(figure, sizeof figure, fmax(left, 0.0), 4);
        (void)snprintf(text, sizeof text, "By the book only %s %s of %s were left; look at it in the larder.", figure,
                       lot->dim, lot->code);
        remark(out, text);
    }
    if (lot->ended_on)
        remark(out, "That lot was said to be used up.");
    return BOOK_OK;
}

enum book_status st_batch_use_taken(const struct st_batch_ask *a, int64_t weighing, int64_t lot, double *amount)
{
    struct book_lot_use *use;
    int n;
    const struct book_wanted of = { .column = "weighing_id", .integer = weighing };
    const enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    *amount = 0.0;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *amount += use[i].lot_id == lot ? use[i].amount : 0.0;
    return s;
}

enum book_status st_batch_use_put(const struct st_batch_ask *a, const struct st_batch_use *use,
                                  const struct book_weighing *w)
{
    struct book_lot_use row;
    book_row_init(BOOK_LOT_USE, &row);
    row.lot_id = use->lot_id;
    row.batch_id = w->batch_id;
    row.weighing_id = w->id;
    row.amount = use->amount;
    row.on_day = w->on_day;
    row.why = "batch";
    return book_put(a->book, BOOK_LOT_USE, &row, NULL);
}

enum book_status st_batch_unweigh(const struct st_batch_ask *a, int64_t weighing)
{
    struct book_lot_use *use;
    int n;
    const struct book_wanted of = { .column = "weighing_id", .integer = weighing };
    enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        s = book_drop(a->book, BOOK_LOT_USE, use[i].id);
    return s == BOOK_OK ? book_drop(a->book, BOOK_WEIGHING, weighing) : s;
}
