#include "api/book_code.h"
#include "api/book_larder_inside.h"
#include "api/book_lot_cautions.h"
#include "api/book_lot_cross.h"
#include "api/book_lot_may_be.h"
#include "api/book_lot_of.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "model/line_goods.h"
#include "text/calendar_day.h"
#include "text/slip.h"
#include "text/stops.h"
#include "util/buf.h"

/* What comes into the larder, and what is known of it: each a deed. */

void st_lot_given_init(struct st_lot_given *g)
{
    *g = (struct st_lot_given){ .kind = NULL };
    g->price = g->strength = g->sugar = g->acid = g->potency = (double)NAN;
    g->gross = -1;
}

void st_lot_remark(struct st_lot_told *t, const char *format, ...)
{
    va_list args;
    if (t->n_remark == ST_LOT_REMARKS)
        return;
    va_start(args, format);
    (void)vsnprintf(t->remark[t->n_remark++], sizeof t->remark[0], format, args);
    va_end(args);
}

bool st_lot_begin(struct st_desk *d, const char *words)
{
    return st_desk_good(d, book_begin(d->book, d->moment, words));
}

/* End the deed, and look at the lot anew. */
bool st_lot_finish(struct st_desk *d, bool good, const char *code, struct st_lot_told *t)
{
    return st_desk_end(d, good) && st_larder_lot(d, code, &t->lot);
}

/* ---- what is said of a lot ---- */

bool st_lot_find_batch(struct st_desk *d, const char *code, int64_t *id)
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
    d->status = BOOK_OK;
    if ((in && st_stop_problem(in, &d->problem)) || st_stop_in_text(c, as, strlen(as), &d->problem))
        return false;
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

    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, NULL, d->arena, &all, &n)))
        return false;
    snprintf(what, sizeof what, "\"%.60s\"", code);
    for (int i = 0; i < n; i++)
        if (all[i].id != but && strcasecmp(all[i].code, code) == 0)
            return st_desk_refuse(d, what, "another lot has this code", "choose another");
    return true;
}

void st_lot_put_text(const char **to, const char *said)
{
    if (said)
        *to = said;
}

void st_lot_put_number(double *to, double said)
{
    if (!isnan(said))
        *to = said;
}

/* A price of a book that keeps another money would be summed up with the others. */
static bool is_its_money(struct st_desk *d, const struct st_lot_given *g, const char *said)
{
    const char *own = "";
    char why[80], what[40];
    if (!g->currency_by_price)
        return true;
    if (!usual_currency(d, &own))
        return false;
    if (!*own || strcasecmp(own, said) == 0)
        return true;
    snprintf(what, sizeof what, "--price in %.8s", said);
    snprintf(why, sizeof why, "the money of this book is %.8s", own);
    return st_desk_refuse(d, what, why, "write what it is in that money; or, to keep another, say it with --currency");
}

/* A code and a currency as the book keeps them. */
static bool put_words(struct st_desk *d, const struct st_lot_given *g, struct book_lot *l)
{
    d->status = BOOK_OK;
    const char *code = g->code ? st_book_code(d->arena, g->code, &d->problem) : l->code;
    if (g->code && !code)
        return false;
    if (g->code && strspn(code, "0123456789") == strlen(code))
        return st_desk_refuse(d, "--code", "figures alone are short for L7", "put a letter in front");
    if (g->currency && !(l->currency = st_book_currency(d->arena, g->currency, &d->problem)))
        return false;
    l->code = code;
    return !g->currency || is_its_money(d, g, l->currency);
}

/* What is bought holds no alcohol unless it is a drink; what was steeped may. */
bool st_lot_may_be_strong(const struct st_ingredient *in, const struct book_lot *l)
{
    return !in || strcmp(l->kind, "bought") != 0 || in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE ||
           in->kind == ST_KIND_OTHER || in->strength.known;
}

static bool may_be_strong(struct st_desk *d, const struct st_catalogue *c, const struct st_lot_given *g,
                          const struct book_lot *l)
{
    char what[60], why[160];
    const struct st_ingredient *in = st_lot_ingredient(c, l);
    if (!(g->strength > 0.0) || st_lot_may_be_strong(in, l))
        return true;
    snprintf(what, sizeof what, "--strength %.4g", g->strength);
    snprintf(why, sizeof why, "%.80s has no alcohol of its own", in->name);
    return st_desk_refuse(d, what, why,
                          "leave it out; what lay in spirit is kept with \"stillroom larder spent\" or \"made\"");
}

static bool may_be_drunk(struct st_desk *d, const struct st_catalogue *c, const struct book_lot *l)
{
    d->status = BOOK_OK;
    return !st_lot_stopped(c, l, &d->problem);
}

static bool put_given(struct st_desk *d, const struct st_catalogue *c, const struct st_lot_given *g, struct book_lot *l)
{
    if (!put_words(d, g, l))
        return false;
    st_lot_put_text(&l->kind, g->kind);
    st_lot_put_text(&l->name, g->name);
    st_lot_put_text(&l->bought_at, g->from);
    st_lot_put_text(&l->since, g->on);
    st_lot_put_text(&l->use_by, g->use_by);
    st_lot_put_text(&l->place, g->place);
    st_lot_put_text(&l->note, g->note);
    st_lot_put_number(&l->price, g->price);
    st_lot_put_number(&l->strength_pct_vol, g->strength);
    st_lot_put_number(&l->sugar_g_l, g->sugar);
    st_lot_put_number(&l->acid_g_l, g->acid);
    st_lot_put_number(&l->potency, g->potency);
    if (!isnan(g->strength))
        l->strength_u = (double)NAN;
    if (g->gross >= 0)
        l->gross = g->gross;
    if (!isnan(l->price) && (!l->currency || !*l->currency) && !usual_currency(d, &l->currency))
        return false;
    return find_like(d, c, g->as, &l->slug) && may_be_strong(d, c, g, l) &&
           (isnan(g->sugar) || st_lot_sugar_may_be(d, st_lot_ingredient(c, l), l, g->sugar)) &&
           st_lot_find_batch(d, g->batch, &l->from_batch) && code_is_free(d, l->code, l->id);
}

/* ---- add ---- */

static bool is_drink(const struct st_ingredient *in)
{
    return in && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE);
}

static void lot_of_line(const struct st_goods_line *line, const char *words, struct book_lot *l)
{
    l->name = line->name;
    l->slug = line->what ? line->what->slug : "";
    l->words = words;
    l->dim = st_lot_dim(line->amount.dim);
    l->amount = line->amount.value;
    if (line->weighing_said)
        l->gross = line->gross;
    if (line->strength.known) {
        l->strength_pct_vol = line->strength.value;
        if (line->strength.high > line->strength.low)
            l->strength_u = (line->strength.high - line->strength.low) / 3.92;
    } else if (is_drink(line->what) &&
               line->what->strength.known) { /* nobody said it: anything that such a thing may be */
        l->strength_pct_vol = line->what->strength.value;
        l->strength_u = (line->what->strength.high - line->what->strength.low) / 3.92;
    }
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
                st_lot_remark(
                    t,
                    "The last one was %s. If you compare them: stillroom larder change %s --potency 0.8 says that "
                    "this one has four fifths of its flavour.",
                    all[i].code, l->code);
            else
                st_lot_remark(t, "Where 10 mL of the last one (%s) did, take %.3g mL of this.", all[i].code,
                              10.0 / l->potency);
            return true;
        }
    return true;
}

/* "lemon" is found, and means the peeled one: whoever treats it like that hears of it. */
static void say_like(const struct st_catalogue *c, const char *as, const struct book_lot *l, struct st_lot_told *t)
{
    const struct st_ingredient *in = as ? st_lot_ingredient(c, l) : NULL;
    if (in && strcasecmp(in->name, as) != 0)
        st_lot_remark(t, "\"%.60s\" is taken as %.80s; if another is meant: stillroom larder change %.40s --as \"...\"",
                      as, in->name, l->code);
}

/* What nobody counts. */
static bool is_poured(enum st_kind k)
{
    return k == ST_KIND_SUGAR || k == ST_KIND_POWDER || k == ST_KIND_SYRUP || k == ST_KIND_JUICE ||
           k == ST_KIND_WATER || k == ST_KIND_SPIRIT || k == ST_KIND_WINE || k == ST_KIND_DAIRY || k == ST_KIND_ACID;
}

/* "damsosn": a name of the sheet that was meant, it may be; NULL none.  No spirit is weighed: "1 kg Kirschen". */
static const struct st_ingredient *near_to(const struct st_catalogue *c, const struct book_lot *l)
{
    const struct st_ingredient *near[5];
    const int n = st_catalogue_near(c, l->name, strlen(l->name), near, 5);
    for (int i = 0; i < n; i++)
        if (st_is_near_to(l->name, near[i]) && (near[i]->kind != ST_KIND_SPIRIT || strcmp(l->dim, "mL") == 0))
            return near[i];
    return NULL;
}

static void remark_unknown(const struct st_catalogue *c, const struct book_lot *l, struct st_lot_told *t)
{
    const struct st_ingredient *near = near_to(c, l);
    if (near)
        st_lot_remark(
            t,
            "\"%.60s\" is kept under your name; the ingredient sheet does not know it, and what it may hold was not "
            "assessed. If %.60s is meant: stillroom larder change %.40s --as \"%.60s\"",
            l->name, near->name, l->code, near->name);
    else
        st_lot_remark(
            t,
            "\"%s\" is kept under your name; the ingredient sheet does not know it, and what it may hold was not "
            "assessed. If it can be treated like something it knows: stillroom larder change %s --as NAME",
            l->name, l->code);
}

/* made_of: it is told of which lots, and these say what it may hold. */
static void remarks_of(const struct st_catalogue *c, const struct st_goods_line *line, const struct book_lot *l,
                       bool made_of, struct st_lot_told *t)
{
    st_lot_warn(c, line->what, l, t);
    if (!*l->slug && strstr(line->doubt.what, "which part"))
        st_lot_remark(
            t,
            "A recipe will ask which part of it is meant, and it is kept whole here. For one alone: stillroom "
            "larder change %s "
            "--as \"lemon peel\", for example.",
            l->code);
    else if (!*l->slug && !made_of)
        remark_unknown(c, l, t);
    if (line->what && line->amount.dim == ST_DIM_PIECE && !line->amount.unit && is_poured(line->what->kind) &&
        !strstr(l->words, "cube") && !strstr(l->words, "lump"))
        st_lot_remark(
            t,
            "It is kept as %.10g pieces; if grams were meant: stillroom undo, then with its unit, \"%.10g g %.60s\".",
            l->amount, l->amount, l->name);
    if (is_drink(line->what) && isnan(l->strength_pct_vol))
        st_lot_remark(t, "How strong is it? Write it from the label: stillroom larder change %s --strength 40",
                      l->code);
    if (is_drink(line->what) && !line->strength.known && line->what->strength.known &&
        l->strength_pct_vol == line->what->strength.value)
        st_lot_remark(
            t,
            "How strong it is nobody wrote: %.4g to %.4g %% vol is counted, from the sheet. Surer: stillroom larder "
            "change %s --strength ...",
            line->what->strength.low, line->what->strength.high, l->code);
    if (!isnan(l->price) && (!l->currency || !*l->currency))
        st_lot_remark(t, "In which money? stillroom larder change %s --currency EUR", l->code);
}

/* Inside the deed, so that two programs cannot give the same code. */
static bool put_new(struct st_desk *d, const struct st_catalogue *c, const struct st_goods_line *read,
                    const struct st_lot_given *given, struct book_lot *l, struct st_lot_told *t)
{
    char much[320], *code = st_arena_alloc(d->arena, 24);

    if (!given->code && !st_lot_next_code(d, code))
        return false;
    l->code = code;
    if (!put_given(d, c, given, l) || !may_be_drunk(d, c, l))
        return false;
    st_lot_so_much(much, sizeof much, l->amount, l, ST_MEASURES_METRIC);
    snprintf(t->words, sizeof t->words, "%s %.300s (%.40s)",
             strcmp(l->kind, "made") == 0    ? "made"
             : strcmp(l->kind, "spent") == 0 ? "kept"
                                             : "added",
             much, l->code);
    book_reword(d->book, t->words);
    remarks_of(c, read, l, given->n_of > 0, t);
    say_like(c, given->as, l, t);
    return st_desk_good(d, book_put(d->book, BOOK_LOT, l, &l->id)) &&
           st_lot_of_put(d, c, l, given->of, given->n_of, t) && last_time(d, l, t);
}

/* Drained fruit lay in something before: it is no fresh fruit, neither in a recipe nor by its cautions. */
static bool is_not_spent(struct st_desk *d, const struct st_goods_line *read, const char *line, const char *kind)
{
    char what[160], try_[240];
    if (!read->drained || (kind && strcmp(kind, "spent") == 0))
        return true;
    snprintf(what, sizeof what, "is \"%.80s\" as bought, or did it lie in spirit", read->name);
    snprintf(try_, sizeof try_,
             "what was strained off is kept with: stillroom larder spent \"%.90s\" --from-batch B14; what was never "
             "in a jar is said without \"drained\"",
             line);
    (void)st_desk_refuse(d, what, "drained fruit holds liquor, and less of its own than fresh", try_);
    d->problem.is_question = 1;
    return false;
}

bool st_larder_add(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *line,
                   const struct st_lot_given *given, struct st_lot_told *t)
{
    struct book_lot l;
    struct st_goods_line *read = st_arena_alloc(d->arena, sizeof *read);

    *t = (struct st_lot_told){ .n_remark = 0 };
    d->status = BOOK_OK;
    if (st_goods_line_read(line, measures, c, read, &d->problem) != 0 || !is_not_spent(d, read, line, given->kind))
        return false;
    book_row_init(BOOK_LOT, &l);
    lot_of_line(read, line, &l);
    l.kind = "bought";
    l.since = d->day;
    if (!st_lot_begin(d, ""))
        return false;
    const bool good = put_new(d, c, read, given, &l, t);
    return st_lot_finish(d, good, l.code, t);
}

/* ---- change ---- */

void st_lot_named(struct st_buf *out, const char *what)
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
        const bool surer = strcmp(c->name, "strength_u") == 0; /* the same figure, and now somebody wrote it */
        if (same || (surer && a->strength_pct_vol != b->strength_pct_vol))
            continue;
        st_lot_named(out, surer || strcmp(c->name, "strength_pct_vol") == 0 ? "strength"
                          : strcmp(c->name, "sugar_g_l") == 0               ? "sugar"
                          : strcmp(c->name, "acid_g_l") == 0                ? "acid"
                          : strcmp(c->name, "slug") == 0                    ? "what it is like"
                          : strcmp(c->name, "bought_at") == 0               ? "where from"
                          : strcmp(c->name, "since") == 0                   ? "since when"
                          : strcmp(c->name, "use_by") == 0                  ? "use-by"
                          : strcmp(c->name, "gross") == 0                   ? "how it was weighed"
                          : strcmp(c->name, "from_batch") == 0              ? "which batch it is from"
                                                                            : c->name);
    }
}

/* A lot that gave already was there by then. */
static bool came_in_time(struct st_desk *d, const struct st_lot *l, const char *on)
{
    char what[40], why[120];
    for (int i = 0; on && i < l->n_use; i++)
        if (strcmp(l->use[i].on_day, on) < 0) {
            snprintf(what, sizeof what, "--on %.10s", on);
            snprintf(why, sizeof why, "something was taken from %.40s before, on %.10s", l->row.code, l->use[i].on_day);
            return st_desk_refuse(d, what, why, "look at the day");
        }
    return true;
}

/* Batches that took of a lot are reckoned anew with what it is now: which, and where to look. */
static bool tell_who_used(struct st_desk *d, const struct book_lot *was, const struct book_lot *now,
                          struct st_lot_told *t)
{
    const bool strength = isfinite(now->strength_pct_vol) && now->strength_pct_vol != was->strength_pct_vol;
    const bool sweet = isfinite(now->sugar_g_l) && now->sugar_g_l != was->sugar_g_l;
    const bool sour = isfinite(now->acid_g_l) && now->acid_g_l != was->acid_g_l;
    char codes[120] = "", from[120] = "";
    struct book_batch batch;
    int told = 0;
    if (!strength && !sweet && !sour)
        return true;
    if (now->from_batch != BOOK_NO && strength) {
        if (!st_desk_good(d, book_get(d->book, BOOK_BATCH, now->from_batch, d->arena, &batch)))
            return false;
        (void)snprintf(from, sizeof from, " It was poured off %.20s, whose own figures stay as they are.", batch.code);
    }
    for (int i = 0; i < t->lot.n_use; i++) {
        if (t->lot.use[i].batch_id == BOOK_NO)
            continue;
        if (!st_desk_good(d, book_get(d->book, BOOK_BATCH, t->lot.use[i].batch_id, d->arena, &batch)))
            return false;
        const size_t n = strlen(codes);
        if (st_has_word(codes, batch.code))
            continue;
        (void)snprintf(codes + n, sizeof codes - n, "%s%.20s", told++ ? ", " : "", batch.code);
    }
    if (told)
        st_lot_remark(
            t,
            "%s took of it and %s reckoned anew with that from now on: stillroom batch show tells what becomes "
            "foretold; labels that were kept stay.%s",
            codes, told > 1 ? "are" : "is", from);
    return true;
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
    if (!came_in_time(d, &t->lot, given->on))
        return false;
    if (!put_given(d, c, given, &l) || ((given->as || given->name) && !may_be_drunk(d, c, &l)))
        return false;
    differences(&t->lot.row, &l, &what);
    if (given->n_of > 0)
        st_lot_named(&what, "what it was made of");
    st_lot_name(name, sizeof name, &l);
    snprintf(t->words, sizeof t->words, "changed %.200s (%.40s): %.110s", name, l.code, st_buf_text(&what));
    t->nothing = what.length == 0;
    st_buf_done(&what);
    if (t->nothing)
        return true;
    if (given->as || given->name)
        st_lot_warn(c, st_catalogue_find(c, l.name, strlen(l.name)), &l, t);
    say_like(c, given->as, &l, t);
    if (!tell_who_used(d, &t->lot.row, &l, t))
        return false;
    if (!st_lot_begin(d, t->words))
        return false;
    const bool good =
        st_desk_good(d, book_put(d->book, BOOK_LOT, &l, NULL)) && st_lot_of_put(d, c, &l, given->of, given->n_of, t);
    return st_lot_finish(d, good, l.code, t);
}
