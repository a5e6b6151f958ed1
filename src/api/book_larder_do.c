#include "api/book_batch.h"
#include "api/book_larder.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/strength.h"
#include "model/observation.h"
#include "text/calendar_day.h"
#include "text/quantity.h"
#include "text/stops.h"
#include "util/buf.h"

/* What is done in the larder: each a deed. */

const char *const st_lot_whys[] = { "tasted", "given", "spilt", "thrown", "counted", "poured", NULL };

void st_lot_given_init(struct st_lot_given *g)
{
    *g = (struct st_lot_given){ .kind = NULL };
    g->price = g->strength = g->sugar = g->acid = g->potency = (double)NAN;
    g->gross = -1;
}

__attribute__((format(printf, 2, 3))) static void remark(struct st_lot_told *t, const char *format, ...)
{
    va_list args;
    if (t->n_remark == ST_LOT_REMARKS)
        return;
    va_start(args, format);
    (void)vsnprintf(t->remark[t->n_remark++], sizeof t->remark[0], format, args);
    va_end(args);
}

static bool begin(struct st_desk *d, const char *words)
{
    return st_desk_good(d, book_begin(d->book, d->moment, words));
}

/* End the deed, and look at the lot anew. */
static bool finish(struct st_desk *d, bool good, const char *code, struct st_lot_told *t)
{
    return st_desk_end(d, good) && st_larder_lot(d, code, &t->lot);
}

/* ---- what is said of a lot ---- */

static bool find_batch(struct st_desk *d, const char *code, int64_t *id)
{
    struct book_batch *all;
    int n;
    char what[120];
    const struct book_wanted w = { .column = "code", .text = code };

    if (!code)
        return true;
    if (!st_desk_good(d, book_list(d->book, BOOK_BATCH, &w, d->arena, &all, &n)))
        return false;
    snprintf(what, sizeof what, "\"%.60s\"", code);
    if (n == 0)
        return st_desk_refuse(d, what, "no batch has this code", "\"stillroom batch\" lists them");
    *id = all[0].id;
    return true;
}

/* The name on the sheet that this one is to be treated like. */
static bool find_like(struct st_desk *d, const struct st_catalogue *c, const char *as, const char **slug)
{
    char what[120], try_[240];
    const struct st_ingredient *in = as ? st_catalogue_find(c, as, strlen(as)) : NULL, *near[2];

    if (!as)
        return true;
    if (in && st_stop_problem(in, &d->problem)) {
        d->status = BOOK_OK;
        return false;
    }
    if (in) {
        *slug = st_arena_strdup(d->arena, in->slug);
        return true;
    }
    snprintf(what, sizeof what, "\"%.60s\"", as);
    if (st_catalogue_near(c, as, strlen(as), near, 2) > 0)
        snprintf(try_, sizeof try_, "did you mean %s", near[0]->name);
    else
        snprintf(try_, sizeof try_, "\"stillroom ingredient --list\" shows the names");
    return st_desk_refuse(d, what, "the ingredient sheet has no such name", try_);
}

/* The currency that prices here are in: the book's own, else that of the last price. */
static bool usual_currency(struct st_desk *d, const char **currency)
{
    struct book_lot *lot;
    int n;
    if (!st_desk_good(d, book_setting(d->book, "currency", d->arena, currency)))
        return false;
    if (**currency)
        return true;
    const struct book_wanted w = { .order = "id", .backward = true };
    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, &w, d->arena, &lot, &n)))
        return false;
    for (int i = 0; i < n && !**currency; i++)
        *currency = lot[i].currency;
    return true;
}

static bool code_is_free(struct st_desk *d, const char *code, int64_t but)
{
    struct book_lot *all;
    int n;
    char what[120];
    const struct book_wanted w = { .column = "code", .text = code };

    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, &w, d->arena, &all, &n)))
        return false;
    snprintf(what, sizeof what, "\"%.60s\"", code);
    return n == 0 || all[0].id == but || st_desk_refuse(d, what, "another lot has this code", "choose another");
}

static void put_text(const char **to, const char *said)
{
    if (said)
        *to = said;
}

static void put_number(double *to, double said)
{
    if (!isnan(said))
        *to = said;
}

static bool put_given(struct st_desk *d, const struct st_catalogue *c, const struct st_lot_given *g, struct book_lot *l)
{
    put_text(&l->kind, g->kind);
    put_text(&l->code, g->code);
    put_text(&l->name, g->name);
    put_text(&l->bought_at, g->from);
    put_text(&l->since, g->on);
    put_text(&l->use_by, g->use_by);
    put_text(&l->place, g->place);
    put_text(&l->note, g->note);
    put_text(&l->currency, g->currency);
    put_number(&l->price, g->price);
    put_number(&l->strength_pct_vol, g->strength);
    put_number(&l->sugar_g_l, g->sugar);
    put_number(&l->acid_g_l, g->acid);
    put_number(&l->potency, g->potency);
    if (!isnan(g->strength))
        l->strength_u = (double)NAN;
    if (g->gross >= 0)
        l->gross = g->gross;
    if (!isnan(l->price) && (!l->currency || !*l->currency) && !usual_currency(d, &l->currency))
        return false;
    return find_like(d, c, g->as, &l->slug) && find_batch(d, g->batch, &l->from_batch) &&
           code_is_free(d, l->code, l->id);
}

/* ---- add ---- */

static const char *dim_of(const struct st_amount *a)
{
    return a->dim == ST_DIM_MASS ? "g" : a->dim == ST_DIM_VOLUME ? "mL" : "pieces";
}

static bool is_drink(const struct st_ingredient *in)
{
    return in && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE);
}

static void lot_of_line(const struct st_goods_line *line, const char *words, struct book_lot *l)
{
    l->name = line->name;
    l->slug = line->what ? line->what->slug : "";
    l->words = words;
    l->dim = dim_of(&line->amount);
    l->amount = line->amount.value;
    if (line->weighing_said)
        l->gross = line->gross;
    if (line->strength.known) {
        l->strength_pct_vol = line->strength.value;
        if (line->strength.high > line->strength.low)
            l->strength_u = (line->strength.high - line->strength.low) / 3.92;
    } else if (is_drink(line->what) && line->what->strength.known)
        l->strength_pct_vol = line->what->strength.value;
}

/* The one made before it, of the same name. */
static bool last_time(struct st_desk *d, const struct book_lot *l, struct st_lot_told *t)
{
    struct book_lot *all;
    int n;
    const struct book_wanted w = { .column = "name", .text = l->name, .order = "since", .backward = true };

    if (strcmp(l->kind, "made") != 0)
        return true;
    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, &w, d->arena, &all, &n)))
        return false;
    for (int i = 0; i < n; i++)
        if (strcmp(all[i].kind, "made") == 0 && all[i].id != l->id) {
            if (isnan(l->potency))
                remark(t,
                       "The last one was %s. If you compare them: stillroom larder change %s --potency 0.8 says that "
                       "this one has four fifths of its flavour.",
                       all[i].code, l->code);
            else
                remark(t, "Where 10 mL of the last one (%s) did, take %.3g mL of this.", all[i].code,
                       10.0 / l->potency);
            return true;
        }
    return true;
}

/* What the sheet warns of in it, the first two; and the day of what spoils soon. */
static void cautions_of(const struct st_ingredient *what, const struct book_lot *l, struct st_lot_told *t)
{
    for (int i = 0; what && i < what->n_caution && i < 2; i++)
        remark(t, "Caution: %.200s [%.40s]%s", what->caution[i].text, what->caution[i].source,
               i == 1 && what->n_caution > 2 ? "; more: stillroom ingredient" : "");
    if (what && (what->kind == ST_KIND_EGG || what->kind == ST_KIND_DAIRY) && !l->use_by)
        remark(t, "Use by when? Write it from the box: stillroom larder change %s --use-by DATE", l->code);
}

static void remarks_of(const struct st_goods_line *line, const struct book_lot *l, struct st_lot_told *t)
{
    cautions_of(line->what, l, t);
    if (!*l->slug && strstr(line->doubt.what, "which part"))
        remark(t,
               "A recipe will ask which part of it is meant, and it is kept whole here. For one alone: stillroom "
               "larder change %s "
               "--as \"lemon peel\", for example.",
               l->code);
    else if (!*l->slug)
        remark(t,
               "\"%s\" is kept under your name; the ingredient sheet does not know it. If it can be treated like "
               "something it knows: stillroom larder change %s --as NAME",
               l->name, l->code);
    if (is_drink(line->what) && isnan(l->strength_pct_vol))
        remark(t, "How strong is it? Write it from the label: stillroom larder change %s --strength 40", l->code);
    if (is_drink(line->what) && !line->strength.known && line->what->strength.known &&
        l->strength_pct_vol == line->what->strength.value)
        remark(t,
               "Taken as %.4g %% vol, which is usual; if the label says another: stillroom larder change %s "
               "--strength ...",
               l->strength_pct_vol, l->code);
    if (!isnan(l->price) && (!l->currency || !*l->currency))
        remark(t, "In which money? stillroom larder change %s --currency EUR", l->code);
}

/* Inside the deed, so that two programs cannot give the same code. */
static bool put_new(struct st_desk *d, const struct st_catalogue *c, const struct st_goods_line *read,
                    const struct st_lot_given *given, struct book_lot *l, struct st_lot_told *t)
{
    char amount[60], name[240], *code = st_arena_alloc(d->arena, 24);

    if (!given->code && !st_lot_next_code(d, code))
        return false;
    l->code = code;
    if (!put_given(d, c, given, l))
        return false;
    st_lot_amount(amount, sizeof amount, l->amount, l->dim, ST_MEASURES_METRIC);
    st_lot_name(name, sizeof name, l);
    snprintf(t->words, sizeof t->words, "%s %s %.200s (%.40s)",
             strcmp(l->kind, "made") == 0    ? "made"
             : strcmp(l->kind, "spent") == 0 ? "kept"
                                             : "added",
             amount, name, l->code);
    book_reword(d->book, t->words);
    remarks_of(read, l, t);
    return st_desk_good(d, book_put(d->book, BOOK_LOT, l, &l->id)) && last_time(d, l, t);
}

bool st_larder_add(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *line,
                   const struct st_lot_given *given, struct st_lot_told *t)
{
    struct book_lot l;
    struct st_goods_line *read = st_arena_alloc(d->arena, sizeof *read);

    *t = (struct st_lot_told){ .n_remark = 0 };
    d->status = BOOK_OK;
    if (st_goods_line_read(line, measures, c, read, &d->problem) != 0)
        return false;
    book_row_init(BOOK_LOT, &l);
    lot_of_line(read, line, &l);
    l.kind = "bought";
    l.since = d->day;
    if (!begin(d, ""))
        return false;
    const bool good = put_new(d, c, read, given, &l, t);
    return finish(d, good, l.code, t);
}

/* ---- change ---- */

static void named(struct st_buf *out, const char *what)
{
    st_buf_printf(out, "%s%s", out->length ? ", " : "", what);
}

/* Which of its facts are another now. */
static void differences(const struct book_lot *a, const struct book_lot *b, struct st_buf *out)
{
    const struct book_table_info *of = book_table_info(BOOK_LOT);
    for (size_t i = 1; i < of->n_column; i++) {
        const struct book_column *c = &of->column[i];
        bool same = true;
        if (c->type == BOOK_INTEGER)
            same = book_integer(a, c) == book_integer(b, c);
        else if (c->type == BOOK_REAL)
            same = book_real(a, c) == book_real(b, c) || (isnan(book_real(a, c)) && isnan(book_real(b, c)));
        else {
            const char *x = book_text(a, c), *y = book_text(b, c);
            same = x == y || strcmp(x ? x : "", y ? y : "") == 0;
        }
        if (same || strcmp(c->name, "strength_u") == 0)
            continue;
        named(out, strcmp(c->name, "strength_pct_vol") == 0 ? "strength"
                   : strcmp(c->name, "sugar_g_l") == 0      ? "sugar"
                   : strcmp(c->name, "acid_g_l") == 0       ? "acid"
                   : strcmp(c->name, "slug") == 0           ? "what it is like"
                   : strcmp(c->name, "bought_at") == 0      ? "where from"
                   : strcmp(c->name, "since") == 0          ? "since when"
                   : strcmp(c->name, "use_by") == 0         ? "use-by"
                   : strcmp(c->name, "gross") == 0          ? "how it was weighed"
                   : strcmp(c->name, "from_batch") == 0     ? "which batch it is from"
                                                            : c->name);
    }
}

bool st_larder_change(struct st_desk *d, const struct st_catalogue *c, const char *code,
                      const struct st_lot_given *given, struct st_lot_told *t)
{
    char name[240];
    struct st_buf what = { 0 };

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot))
        return false;
    struct book_lot l = t->lot.row;
    if (!put_given(d, c, given, &l))
        return false;
    differences(&t->lot.row, &l, &what);
    st_lot_name(name, sizeof name, &l);
    snprintf(t->words, sizeof t->words, "changed %.200s (%.40s): %.110s", name, l.code, st_buf_text(&what));
    t->nothing = what.length == 0;
    st_buf_done(&what);
    if (t->nothing)
        return true;
    return begin(d, t->words) && finish(d, st_desk_good(d, book_put(d->book, BOOK_LOT, &l, NULL)), l.code, t);
}

/* ---- take, count, open, gone ---- */

/* Grams of one mL, or of one piece, of what is in the lot; NAN when nobody knows. */
static double g_per(const struct st_catalogue *c, const struct book_lot *l, bool piece, double ml)
{
    const struct st_ingredient *in = NULL;
    double rho;

    for (size_t i = 0; *l->slug && i < st_catalogue_count(c) && !in; i++)
        if (strcmp(st_catalogue_at(c, i)->slug, l->slug) == 0)
            in = st_catalogue_at(c, i);
    if (piece)
        return in && in->piece.known ? in->piece.value : (double)NAN;
    if (in && in->kind == ST_KIND_SPIRIT && !isnan(l->strength_pct_vol) &&
        st_spirit_density(l->strength_pct_vol, &rho) >= 0)
        return 1e-3 * rho;
    const struct st_range r = in ? st_ingredient_g_per_ml(in, ml) : (struct st_range){ .known = false };
    return r.known ? r.value : (double)NAN;
}

/* An amount as said, in the lot's own dimension. */
static bool in_its_dim(struct st_desk *d, const struct st_catalogue *c, const struct book_lot *l,
                       const struct st_amount *a, double *out)
{
    const char *from = dim_of(a);
    char what[200], try_[120];

    *out = a->value;
    if (strcmp(from, l->dim) == 0)
        return true;
    const bool piece = strcmp(from, "pieces") == 0 || strcmp(l->dim, "pieces") == 0;
    const double g = g_per(c, l, piece, a->value);
    if (!isnan(g) && strcmp(from, "g") == 0)
        *out = a->value / g;
    else if (!isnan(g) && strcmp(l->dim, "g") == 0)
        *out = a->value * g;
    else {
        snprintf(what, sizeof what, "%.40s is kept in %s", l->code, l->dim);
        snprintf(try_, sizeof try_, "say it in %s", l->dim);
        return st_desk_refuse(d, what, "what one weighs of the other is not known for it", try_);
    }
    return true;
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
    if (nothing && (strcmp(said, "0") == 0 || strcmp(said, "nothing") == 0)) {
        *out = 0.0;
        return true;
    }
    return st_goods_amount(said, measures, &a, &d->problem) == 0 && in_its_dim(d, c, &l->row, &a, out);
}

static bool why_known(struct st_desk *d, const char *why)
{
    char what[100];
    for (int i = 0; st_lot_whys[i]; i++)
        if (strcmp(st_lot_whys[i], why) == 0)
            return true;
    snprintf(what, sizeof what, "--why %.60s", why);
    return st_desk_refuse(d, what, "it is none of the reasons that are told apart",
                          "write tasted, given, spilt, thrown, counted or poured; or --for BATCH");
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
    st_lot_amount(left, sizeof left, fmax(l->left, 0.0), l->row.dim, ST_MEASURES_METRIC);
    snprintf(what, sizeof what, "there is not so much of %.40s", l->row.code);
    snprintf(try_, sizeof try_, "if more was there, say first what there is: stillroom larder count %.40s \"...\"",
             l->row.code);
    char why[120];
    snprintf(why, sizeof why, "by the book %s is left", left);
    return st_desk_refuse(d, what, why, try_);
}

bool st_larder_take(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *code,
                    const char *amount, const char *why, const char *batch, const char *on, const char *note,
                    struct st_lot_told *t)
{
    int64_t batch_id = BOOK_NO;
    double x;
    char name[240], said[60];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if ((!batch && why && !why_known(d, why)) || !st_larder_lot(d, code, &t->lot) || !find_batch(d, batch, &batch_id) ||
        !read_amount(d, c, measures, &t->lot, amount, false, &x))
        return false;
    const struct st_lot *l = &t->lot;
    if (x > l->left + 0.5e-3 * l->row.amount)
        return too_much(d, l);
    if (x > l->left)
        x = l->left;
    if (!(x > 0.0))
        return too_much(d, l);
    st_lot_name(name, sizeof name, &l->row);
    st_lot_amount(said, sizeof said, x, l->row.dim, ST_MEASURES_METRIC);
    const int n = snprintf(t->words, sizeof t->words, "took %s %.200s (%.40s)", said, name, l->row.code);
    if (batch)
        snprintf(t->words + n, sizeof t->words - (size_t)n, " for %.40s", batch);
    else if (why)
        snprintf(t->words + n, sizeof t->words - (size_t)n, ": %.20s", why);
    return begin(d, t->words) && finish(d,
                                        put_use(d, l, x,
                                                batch ? "batch"
                                                : why ? why
                                                      : "counted",
                                                batch_id, on, note),
                                        t->lot.row.code, t);
}

bool st_larder_count(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *code,
                     const char *amount, const char *on, const char *note, struct st_lot_told *t)
{
    double x;
    char name[240], said[60], was[60];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot) || !read_amount(d, c, measures, &t->lot, amount, true, &x))
        return false;
    const struct st_lot *l = &t->lot;
    t->nothing = fabs(x - l->left) <= 1e-9 * l->row.amount && (!l->row.ended_on || x <= 0.0);
    st_lot_name(name, sizeof name, &l->row);
    st_lot_amount(said, sizeof said, x, l->row.dim, ST_MEASURES_METRIC);
    st_lot_amount(was, sizeof was, fmax(l->left, 0.0), l->row.dim, ST_MEASURES_METRIC);
    snprintf(t->words, sizeof t->words, "counted %.200s (%.40s): %s left, not %s", name, l->row.code, said, was);
    if (t->nothing)
        return true;
    struct book_lot row = l->row;
    row.ended_on = NULL; /* it is there after all */
    return begin(d, t->words) &&
           finish(d,
                  put_use(d, l, l->left - x, "counted", BOOK_NO, on, note) &&
                      (!l->row.ended_on || st_desk_good(d, book_put(d->book, BOOK_LOT, &row, NULL))),
                  t->lot.row.code, t);
}

bool st_larder_opened(struct st_desk *d, const char *code, const char *on, struct st_lot_told *t)
{
    char name[240];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot))
        return false;
    struct book_lot row = t->lot.row;
    row.opened_on = on ? on : d->day;
    st_lot_name(name, sizeof name, &row);
    snprintf(t->words, sizeof t->words, "opened %.200s (%.40s)", name, row.code);
    t->nothing = t->lot.row.opened_on && strcmp(t->lot.row.opened_on, row.opened_on) == 0;
    if (t->nothing)
        return true;
    return begin(d, t->words) && finish(d, st_desk_good(d, book_put(d->book, BOOK_LOT, &row, NULL)), row.code, t);
}

bool st_larder_gone(struct st_desk *d, const char *code, const char *why, const char *on, struct st_lot_told *t)
{
    char name[240], left[60];

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!why_known(d, why) || !st_larder_lot(d, code, &t->lot))
        return false;
    const struct st_lot *l = &t->lot;
    struct book_lot row = l->row;
    t->nothing = row.ended_on != NULL;
    if (t->nothing)
        return true;
    row.ended_on = on ? on : d->day;
    st_lot_name(name, sizeof name, &row);
    st_lot_amount(left, sizeof left, fmax(l->left, 0.0), row.dim, ST_MEASURES_METRIC);
    if (l->left > 0.0)
        snprintf(t->words, sizeof t->words, "%.200s (%.40s) is gone: %s %s", name, row.code, left, why);
    else
        snprintf(t->words, sizeof t->words, "%.200s (%.40s) is gone", name, row.code);
    return begin(d, t->words) && finish(d,
                                        (l->left <= 0.0 || put_use(d, l, l->left, why, BOOK_NO, on, NULL)) &&
                                            st_desk_good(d, book_put(d->book, BOOK_LOT, &row, NULL)),
                                        row.code, t);
}

/* ---- own measurements ---- */

static bool seen_named(const char *key, size_t n, enum st_seen *what)
{
    for (int i = 0; i < ST_NSEEN; i++) {
        const char *full = st_seen_info((enum st_seen)i)->key;
        if (strncmp(full, key, n) == 0 && (full[n] == '\0' || full[n] == '_')) {
            *what = (enum st_seen)i;
            return true;
        }
    }
    return false;
}

bool st_reading_of(struct st_desk *d, const char *said, struct book_reading *row)
{
    char what[120], why[200], *end;
    enum st_seen kind;
    const char *is = strchr(said, '=');

    snprintf(what, sizeof what, "\"%.60s\"", said);
    if (!is || !seen_named(said, (size_t)(is - said), &kind))
        return st_desk_refuse(d, what, "it is no measurement that is known",
                              "write for example brix=12.4, sg=1.043, strength=40, sugar=250, acid=8, ph=3.4");
    if (kind == ST_SEEN_SG || kind == ST_SEEN_BRIX || kind == ST_SEEN_STRENGTH || kind == ST_SEEN_SUGAR ||
        kind == ST_SEEN_ACID || kind == ST_SEEN_PH) {
        /* as of a batch: with a comma, a unit, +- and @22C */
        struct st_problem p = { .what = "" };
        return st_batch_reading(said, row, &p) == 0 || st_desk_refuse(d, p.what, p.why, p.try_);
    }
    const struct st_seen_info *info = st_seen_info(kind);
    const double x = strtod(is + 1, &end);
    if (end == is + 1 || *end || !(x >= info->low && x <= info->high)) {
        snprintf(why, sizeof why, "%s lies between %g and %g %s", info->name, info->low, info->high, info->unit);
        return st_desk_refuse(d, what, why, "write the figure with a point, for example brix=12.4");
    }
    row->kind = info->key;
    row->value = x;
    return true;
}

bool st_larder_measure(struct st_desk *d, const char *code, char *const reading[], int n, const char *by,
                       struct st_lot_told *t)
{
    struct book_reading row[ST_NSEEN];
    struct st_buf what = { 0 };
    char name[240];
    bool good = n > 0 && n <= ST_NSEEN;

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot))
        return false;
    if (!good)
        return st_desk_refuse(d, "measure", n ? "too many at once" : "no measurement is given",
                              "write for example: stillroom larder measure L7 brix=12.4");
    for (int i = 0; i < n; i++) {
        book_row_init(BOOK_READING, &row[i]);
        row[i].lot_id = t->lot.row.id;
        row[i].at = d->moment;
        row[i].by_whom = by ? by : "";
        row[i].words = reading[i];
        if (!st_reading_of(d, reading[i], &row[i])) {
            st_buf_done(&what);
            return false;
        }
        named(&what, reading[i]);
    }
    st_lot_name(name, sizeof name, &t->lot.row);
    snprintf(t->words, sizeof t->words, "measured %.200s (%.40s): %.110s", name, t->lot.row.code, st_buf_text(&what));
    st_buf_done(&what);
    good = begin(d, t->words);
    if (!good)
        return false;
    for (int i = 0; i < n && good; i++)
        good = st_desk_good(d, book_put(d->book, BOOK_READING, &row[i], NULL));
    return finish(d, good, t->lot.row.code, t);
}

/* ---- vessels ---- */

bool st_larder_vessel(struct st_desk *d, const char *name, double volume_ml, double empty_g, const char *note,
                      struct book_vessel *out, char words[400])
{
    struct book_vessel *all;
    struct st_amount a;
    struct st_problem none;
    int n;
    const struct book_wanted w = { .column = "name", .text = name };

    d->status = BOOK_OK;
    if (!*name)
        return st_desk_refuse(d, "the vessel", "it has no name", "write for example \"3 L jar\"");
    if (!st_desk_good(d, book_list(d->book, BOOK_VESSEL, &w, d->arena, &all, &n)))
        return false;
    book_row_init(BOOK_VESSEL, out);
    if (n > 0)
        *out = all[0];
    out->name = name;
    size_t used;
    if (isnan(volume_ml) && isnan(out->volume_ml) &&
        st_quantity_parse(name, strlen(name), ST_MEASURES_METRIC, &a, &used, &none) == 0 && a.dim == ST_DIM_VOLUME)
        volume_ml = a.value;
    put_number(&out->volume_ml, volume_ml);
    put_number(&out->empty_g, empty_g);
    put_text(&out->note, note);
    snprintf(words, 400, "%s the vessel \"%.120s\"", n ? "changed" : "added", name);
    if (!begin(d, words))
        return false;
    return st_desk_end(d, st_desk_good(d, book_put(d->book, BOOK_VESSEL, out, &out->id)));
}
