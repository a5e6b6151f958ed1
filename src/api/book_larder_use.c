#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_larder_inside.h"
#include "api/book_lot_cautions.h"
#include "api/book_lot_cross.h"

/* What happens to a lot: taken, counted, opened, gone. Each is a deed. */

const char *const st_lot_whys[] = { "tasted", "given", "spilt", "thrown", "counted", "poured", NULL };

/* An amount as said, in the lot's own dimension. */
static bool in_its_dim(struct st_desk *d, const struct st_catalogue *c, const struct st_lot *lot,
                       const struct st_amount *a, double *out)
{
    const struct book_reading *read = st_reading_last(lot->reading, lot->n_reading, ST_SEEN_STRENGTH);
    const struct book_lot *l = &lot->row;
    char what[200], try_[120];

    if (st_lot_cross(c, l, read ? read->value : l->strength_pct_vol, NULL, a, out))
        return true;
    snprintf(what, sizeof what, "%.40s is kept in %s", l->code, l->dim);
    snprintf(try_, sizeof try_, "say it in %s", l->dim);
    return st_desk_refuse(d, what, "what one weighs of the other is not known for it", try_);
}

/* "nothing", "0", "0 mL" */
static bool says_nothing(const char *said)
{
    const size_t n = strspn(said, "0.,");
    return strcmp(said, "nothing") == 0 || (n > 0 && !strpbrk(said + n, "0123456789/"));
}

static bool read_amount(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures,
                        const struct st_lot *l, const char *said, bool nothing, double *out)
{
    struct st_amount a;

    d->status = BOOK_OK;
    if (strcmp(said, "all") == 0 || strcmp(said, "the rest") == 0) {
        *out = l->left;
        return true;
    }
    if (nothing && says_nothing(said)) {
        *out = 0.0;
        return true;
    }
    return st_goods_amount(said, measures, &a, &d->problem) == 0 && in_its_dim(d, c, l, &a, out);
}

/* Nothing happens to what was not there yet. */
static bool existed(struct st_desk *d, const struct book_lot *l, const char *on)
{
    char what[40], why[120], try_[160];
    const char *day = on ? on : d->day;
    if (!l->since || strcmp(day, l->since) >= 0)
        return true;
    snprintf(what, sizeof what, "%.10s", day);
    snprintf(why, sizeof why, "%.40s came into the larder later than that, %.10s", l->code, l->since);
    snprintf(try_, sizeof try_, "look at --on; if the lot is older: stillroom larder change %.40s --on DATE", l->code);
    return st_desk_refuse(d, what, why, try_);
}

static bool why_known(struct st_desk *d, const char *why)
{
    char what[100];
    for (int i = 0; st_lot_whys[i]; i++)
        if (strcmp(st_lot_whys[i], why) == 0)
            return true;
    snprintf(what, sizeof what, "--why %.60s", why);
    return st_desk_refuse(d, what, "it is none of the reasons that are told apart",
                          "write tasted, given, spilt, thrown, counted or poured");
}

static bool put_use(struct st_desk *d, const struct st_lot *l, double amount, const char *why, int64_t batch,
                    const char *on, const char *note)
{
    struct book_lot_use use;
    book_row_init(BOOK_LOT_USE, &use);
    use.lot_id = l->row.id;
    use.batch_id = batch;
    use.amount = amount;
    use.on_day = on ? on : d->day;
    use.why = why;
    use.note = note ? note : "";
    return st_desk_good(d, book_put(d->book, BOOK_LOT_USE, &use, NULL));
}

static bool too_much(struct st_desk *d, const struct st_lot *l)
{
    char what[200], try_[200], left[60];
    st_lot_amount_short(left, sizeof left, fmax(l->left, 0.0), l->row.dim, ST_MEASURES_METRIC);
    snprintf(what, sizeof what, "there is not so much of %.40s", l->row.code);
    snprintf(try_, sizeof try_, "if more was there, say first what there is: stillroom larder count %.40s \"...\"",
             l->row.code);
    char why[120];
    snprintf(why, sizeof why, "by the book %s is left", left);
    return st_desk_refuse(d, what, why, try_);
}

/* What goes into a drink is reckoned, and warned of, where it is weighed or added: taken here it would only be gone. */
static bool goes_into_batch(struct st_desk *d, const struct st_catalogue *c, const struct st_lot *l, const char *amount,
                            const char *batch)
{
    const struct st_ingredient *in = st_lot_ingredient(c, &l->row);
    char what[120], try_[400];
    if (st_lot_stopped(c, &l->row, &d->problem))
        return false;
    snprintf(what, sizeof what, "%.40s is not taken for %.40s here", l->row.code, batch);
    snprintf(
        try_, sizeof try_,
        "stillroom batch add %.20s STEP \"%.40s %.60s\" --lot %.20s, or of a line of its recipe: stillroom batch weigh "
        "%.20s STEP LINE \"%.40s\" --lot %.20s",
        batch, amount, in ? in->name : l->row.name, l->row.code, batch, amount, l->row.code);
    return st_desk_refuse(d, what, "its cautions, allergens and figures come with it only where it is weighed or added",
                          try_);
}

bool st_larder_take(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *code,
                    const char *amount, const char *why, const char *batch, const char *on, const char *note,
                    struct st_lot_told *t)
{
    int64_t batch_id = BOOK_NO;
    double x;
    char much[320];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if ((!batch && why && !why_known(d, why)) || !st_larder_lot(d, code, &t->lot) ||
        !st_lot_find_batch(d, batch, &batch_id) || !existed(d, &t->lot.row, on) ||
        !read_amount(d, c, measures, &t->lot, amount, false, &x))
        return false;
    const struct st_lot *l = &t->lot;
    if (batch)
        return goes_into_batch(d, c, l, amount, batch);
    if (x > l->left + 0.5e-3 * l->row.amount)
        return too_much(d, l);
    if (x > l->left)
        x = l->left;
    if (!(x > 0.0))
        return too_much(d, l);
    st_lot_so_much(much, sizeof much, x, &l->row, ST_MEASURES_METRIC);
    const int n = snprintf(t->words, sizeof t->words, "took %.300s (%.40s)", much, l->row.code);
    if (why)
        snprintf(t->words + n, sizeof t->words - (size_t)n, ": %.20s", why);
    return st_lot_begin(d, t->words) &&
           st_lot_finish(d, put_use(d, l, x, why ? why : "counted", BOOK_NO, on, note), t->lot.row.code, t);
}

bool st_larder_count(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *code,
                     const char *amount, const char *on, const char *note, struct st_lot_told *t)
{
    double x;
    char name[240], said[60], was[60];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot) || !existed(d, &t->lot.row, on) ||
        !read_amount(d, c, measures, &t->lot, amount, true, &x))
        return false;
    const struct st_lot *l = &t->lot;
    t->nothing = fabs(x - l->left) <= 1e-9 * l->row.amount && (!l->row.ended_on || x <= 0.0);
    st_lot_name(name, sizeof name, &l->row);
    st_lot_amount_short(said, sizeof said, x, l->row.dim, ST_MEASURES_METRIC);
    st_lot_amount_short(was, sizeof was, fmax(l->left, 0.0), l->row.dim, ST_MEASURES_METRIC);
    snprintf(t->words, sizeof t->words, "counted %.200s (%.40s): %s left, not %s", name, l->row.code,
             x > 0.0 ? said : "nothing", was);
    if (t->nothing)
        return true;
    struct book_lot row = l->row;
    row.ended_on = NULL; /* it is there after all */
    return st_lot_begin(d, t->words) &&
           st_lot_finish(d,
                         put_use(d, l, l->left - x, "counted", BOOK_NO, on, note) &&
                             (!l->row.ended_on || st_desk_good(d, book_put(d->book, BOOK_LOT, &row, NULL))),
                         t->lot.row.code, t);
}

bool st_larder_opened(struct st_desk *d, const char *code, const char *on, struct st_lot_told *t)
{
    char name[240];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot) || !existed(d, &t->lot.row, on))
        return false;
    struct book_lot row = t->lot.row;
    row.opened_on = on ? on : d->day;
    st_lot_name(name, sizeof name, &row);
    snprintf(t->words, sizeof t->words, "opened %.200s (%.40s)", name, row.code);
    t->nothing = t->lot.row.opened_on && strcmp(t->lot.row.opened_on, row.opened_on) == 0;
    if (t->nothing)
        return true;
    return st_lot_begin(d, t->words) &&
           st_lot_finish(d, st_desk_good(d, book_put(d->book, BOOK_LOT, &row, NULL)), row.code, t);
}

bool st_larder_gone(struct st_desk *d, const char *code, const char *why, const char *on, struct st_lot_told *t)
{
    char name[240], left[60];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!why_known(d, why) || !st_larder_lot(d, code, &t->lot) || !existed(d, &t->lot.row, on))
        return false;
    const struct st_lot *l = &t->lot;
    struct book_lot row = l->row;
    t->nothing = row.ended_on != NULL;
    if (t->nothing)
        return true;
    row.ended_on = on ? on : d->day;
    st_lot_name(name, sizeof name, &row);
    st_lot_amount_short(left, sizeof left, fmax(l->left, 0.0), row.dim, ST_MEASURES_METRIC);
    if (l->left > 0.0)
        snprintf(t->words, sizeof t->words, "%.200s (%.40s) is gone: %s %s", name, row.code, left, why);
    else
        snprintf(t->words, sizeof t->words, "%.200s (%.40s) is gone", name, row.code);
    return st_lot_begin(d, t->words) &&
           st_lot_finish(d,
                         (l->left <= 0.0 || put_use(d, l, l->left, why, BOOK_NO, on, NULL)) &&
                             st_desk_good(d, book_put(d->book, BOOK_LOT, &row, NULL)),
                         row.code, t);
}
