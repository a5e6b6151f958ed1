/* What really went in: weighings in the place of planned amounts, and lines that the recipe has not. */
#include "cli/batch.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_behind.h"
#include "api/book_batch_bottles.h"
#include "api/book_batch_instead.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_use.h"
#include "api/book_larder.h"
#include "api/book_lot_called.h"
#include "api/book_lot_cautions.h"
#include "api/book_lot_cross.h"
#include "api/book_lot_own.h"
#include "api/book_lot_tincture.h"
#include "cli/batch_did.h"
#include "cli/batch_lacks.h"
#include "cli/page.h"
#include "text/goods_line.h"
#include "text/line.h"
#include "text/quantity.h"
#include "text/stops.h"
#include "util/memory.h"

static const char *const KNOWN[] = { "--lot", "--on", "--instead", "--words", NULL };

struct weighing {
    struct book_batch batch;
    struct book_weighing row, *old; /* old[n_old]: all that were weighed of the batch before */
    int n_old;
    struct book_lot lot;
    bool has_lot, instead, lot_found; /* lot_found: by its name, nobody said which */
    struct st_batch_ask alone;        /* as whoever asks later: by the measures that the recipe itself names */
    enum st_measures own;             /* those */
    char day[11];
    struct st_batch_made planned, before, now; /* large */
    struct st_batch_use use;
    const char *name; /* of what was weighed */
    char planned_words[200];
    char remark[1400];
    const char *part;       /* some of the drink went before; "" */
    struct st_line added;   /* what is not in the recipe, as it was read */
    struct book_batch from; /* what was added is of another batch: so much of it */
    const char *poured;
    bool bottles; /* what was added is bottles of another batch */
};

static void done(struct weighing *k)
{
    st_batch_made_done(&k->planned);
    st_batch_made_done(&k->before);
    st_batch_made_done(&k->now);
    free(k);
}

/* ---- the measures that are kept ---- */

/* What the book keeps must say the same without --units: the measures are those of the recipe itself, wherever it can be read
 * by them. */
static enum book_status by_own_measures(struct batch *b, struct weighing *k)
{
    k->alone = b->ask;
    k->own = k->planned.file.recipe.measures;
    if (b->ask.measures == ST_MEASURES_NONE || !k->planned.whole)
        return BOOK_OK;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    k->alone.measures = ST_MEASURES_NONE;
    const enum book_status s = st_batch_made(&k->alone, &k->batch, false, false, m);
    if (s == BOOK_OK && !m->whole)
        k->alone.measures = b->ask.measures;
    else if (s == BOOK_OK)
        k->own = m->file.recipe.measures;
    st_batch_made_done(m);
    free(m);
    return s;
}

/* "1 cup sugar" of --units us on a recipe that names no measures: "236.588 mL sugar"; what was said stands in the note. */
static void plain_amount(struct batch *b, struct weighing *k, enum st_measures said)
{
    struct st_amount x, own;
    struct st_problem why;
    const char *words = k->row.words;
    size_t used, n;
    if (st_quantity_parse(words, strlen(words), said, &x, &used, &why) != 0 || x.open != ST_CLOSED || x.low < x.high ||
        (x.dim != ST_DIM_MASS && x.dim != ST_DIM_VOLUME))
        return;
    if (st_quantity_parse(words, strlen(words), k->own, &own, &n, &why) == 0 && own.dim == x.dim &&
        own.value == x.value)
        return;
    const char *rest = words + used + strspn(words + used, " ");
    k->row.words = batch_text(b, "%.6g %s%s%s", x.value, x.dim == ST_DIM_MASS ? "g" : "mL", *rest ? " " : "", rest);
    if (!*k->row.note)
        k->row.note = batch_text(b, "said as %.*s", (int)used, words);
}

/* ---- the command line ---- */

static bool lot_existed(struct batch *b, const struct book_lot *lot, const char *day)
{
    if (!lot->since || strcmp(day, lot->since) >= 0)
        return true;
    cli_error(day, batch_text(b, "%s came into the larder later than that, %s", lot->code, lot->since),
              batch_text(b, "look at --on; if the lot is older: stillroom larder change %s --on DATE", lot->code));
    return false;
}

static int take(struct batch *b, struct weighing *k)
{
    struct st_problem p = { .what = "" };
    bool bad = false;
    book_row_init(BOOK_WEIGHING, &k->row);
    if (!cli_take_day(b->c, "--on", &b->now, false, k->day))
        return ST_EXIT_INPUT;
    const char *lot = cli_option(b->c, "--lot", &bad), *words = cli_option(b->c, "--words", &bad);
    k->instead = cli_flag(b->c, "--instead");
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    const int code = batch_named(b, &k->batch);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_existed(b, &k->batch, k->day))
        return ST_EXIT_INPUT;
    enum book_status s = lot ? st_batch_lot(&b->ask, lot, &k->lot, &p) : BOOK_OK;
    k->has_lot = lot != NULL;
    const struct book_wanted of = { .column = "batch_id", .integer = k->batch.id };
    if (s == BOOK_OK)
        s = book_list(b->book, BOOK_WEIGHING, &of, &b->arena, &k->old, &k->n_old);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, &k->batch, false, false, &k->planned);
    if (s == BOOK_OK)
        s = by_own_measures(b, k);
    if (s != BOOK_OK)
        return batch_fail(b, s, &p);
    k->row.batch_id = k->batch.id;
    k->row.on_day = k->day;
    k->row.note = words ? words : "";
    k->row.lot_id = k->has_lot ? k->lot.id : BOOK_NO;
    if (k->has_lot && !lot_existed(b, &k->lot, k->day))
        return ST_EXIT_INPUT;
    if (k->has_lot && k->planned.whole && st_lot_stopped(k->planned.catalogue, &k->lot, &p))
        return batch_wrong(&p);
    return k->planned.whole ? ST_EXIT_DONE : batch_wrong(&k->planned.problem);
}

/* STEP LINE AMOUNT, or NAME AMOUNT where only one line of the whole recipe answers to it. */
static int take_line(struct batch *b, struct weighing *k)
{
    const struct st_recipe *r = &k->planned.file.recipe;
    struct st_problem p = { .what = "" };
    int step = -1;
    if (b->c->argc < 2 || b->c->argc > 3) {
        cli_error(k->batch.code, "a weighing is a step, a line and an amount",
                  "write for example: stillroom batch weigh B14 jar damsons \"412 g\"");
        return ST_EXIT_INPUT;
    }
    if (b->c->argc == 3 && (step = st_batch_step(r, batch_word(b, "", ""), &p)) < 0)
        return batch_wrong(&p);
    const int line = st_batch_line(r, k->planned.catalogue, &step, batch_word(b, "", ""), &p);
    if (line < 0)
        return batch_wrong(&p);
    const struct st_line *l = &r->step[step].line[line];
    k->row.step = r->step[step].id;
    k->row.line = line + 1;
    k->row.words = batch_word(b, "", "");
    if (st_amount_asks(k->row.words, r->measures, &p))
        return batch_wrong(&p);
    plain_amount(b, k, r->measures);
    k->name = l->what ? l->what->name : l->text;
    (void)snprintf(k->planned_words, sizeof k->planned_words, "%s", l->text);
    return ST_EXIT_DONE;
}

/* What is weighed into what is left of a drink is no line of the recipe any more. */
static int take_planned(struct batch *b, struct weighing *k)
{
    const char *gone = NULL;
    struct st_problem p = { .what = "" };
    const int code = take_line(b, k);
    if (code != ST_EXIT_DONE)
        return code;
    const enum book_status s =
        st_batch_gone_before(&b->ask, &k->batch, &k->planned.file.recipe, k->row.step, k->day, &gone);
    if (s != BOOK_OK)
        return batch_fail(b, s, &p);
    if (!gone || k->instead)
        return ST_EXIT_DONE;
    cli_error(
        k->row.words,
        batch_text(b, "part of the drink is gone (%s): a line of the recipe counts as in all of it", gone),
        batch_text(b,
                   "what went into the rest: stillroom batch add %s %s \"%.60s %.60s\"; if it was in before, say the "
                   "day: --on DATE",
                   k->batch.code, k->row.step, k->row.words, k->name));
    return ST_EXIT_INPUT;
}

/* A spirit from a lot is as strong as the lot says, where its words do not. */
static bool with_strength(struct batch *b, struct weighing *k, enum st_measures m)
{
    struct st_problem p;
    struct st_line line = { .text = NULL };
    double q = (double)NAN;
    if (!k->has_lot || st_batch_lot_strength(&b->ask, &k->lot, &q) != BOOK_OK || !(q > 0.0))
        return false;
    const bool read = st_line_parse(k->row.words, m, k->planned.catalogue, &line, &p) == 0;
    if (read && line.strength.known)
        return false;
    const char *words = batch_text(b, "%s %.4g %%", k->row.words, q);
    if (st_line_parse(words, m, k->planned.catalogue, &line, &p) != 0 || !line.what ||
        line.what->kind != ST_KIND_SPIRIT)
        return false;
    k->row.words = words;
    k->added = line;
    return true;
}

static bool has_figures(struct batch *b, struct weighing *k)
{
    struct st_batch_own own;
    return k->has_lot && (st_lot_is_tincture(&b->ask, k->planned.catalogue, &k->lot) ||
                          (st_lot_own(&b->ask, k->planned.catalogue, &k->lot, false, &own) == BOOK_OK && own.known));
}

/* Its own measure, or one that can be crossed into it. */
static bool crosses(struct batch *b, struct weighing *k, const struct st_amount *x)
{
    double q, y;
    return strcmp(st_lot_dim(x->dim), k->lot.dim) == 0 || x->dim == ST_DIM_VOLUME ||
           (x->dim == ST_DIM_MASS && k->lot.from_batch == BOOK_NO &&
            st_batch_lot_strength(&b->ask, &k->lot, &q) == BOOK_OK &&
            st_lot_cross(k->planned.catalogue, &k->lot, q, NULL, x, &y));
}

/* "63 mL hazelnut tincture" of a lot that is reckoned by its own figures: its amount counts, and the lot tells what it is. */
static bool is_of_lot(struct batch *b, struct weighing *k, enum st_measures m)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    bool bare;
    const bool own = k->has_lot && (strcmp(k->lot.kind, "made") == 0 && k->lot.from_batch != BOOK_NO);
    if (!own && !has_figures(b, k))
        return false;
    if (st_quantity_parse(k->row.words, strlen(k->row.words), m, &x, &used, &why) != 0 || x.open != ST_CLOSED ||
        (x.dim != ST_DIM_VOLUME && x.dim != ST_DIM_MASS) || !crosses(b, k, &x) ||
        !st_lot_said(&k->lot, k->row.words + used, &bare))
        return false;
    if (bare && !own && *k->lot.name)
        k->row.words = batch_text(b, "%.*s %s", (int)used, k->row.words, k->lot.name);
    return true;
}

/* "20 mL", "20 mL of L3" or its own name, of a lot that is a thing of the sheet: the sheet's name in its place. */
static void say_as_sheet(struct batch *b, struct weighing *k, enum st_measures m)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    bool bare;
    const struct st_ingredient *in =
        k->has_lot && k->lot.from_batch == BOOK_NO ? st_lot_ingredient(k->planned.catalogue, &k->lot) : NULL;
    if (!in || st_quantity_parse(k->row.words, strlen(k->row.words), m, &x, &used, &why) != 0 || x.open != ST_CLOSED ||
        !st_lot_said(&k->lot, k->row.words + used, &bare))
        return;
    const char *rest = k->row.words + used + strspn(k->row.words + used, " ");
    const bool known = *rest && st_line_parse(k->row.words, m, k->planned.catalogue, &k->added, &why) == 0;
    k->added = (struct st_line){ .text = NULL };
    if (known)
        return;
    const struct st_ingredient *by = st_catalogue_find(k->planned.catalogue, k->lot.name, strlen(k->lot.name));
    k->row.words = batch_text(b, "%.*s %s", (int)used, k->row.words, by == in ? k->lot.name : in->name);
}

/* Without --lot: a name that the sheet does not know, and exactly one lot bears. */
static int find_lot(struct batch *b, struct weighing *k, enum st_measures m)
{
    struct st_line line;
    struct st_problem p = { .what = "" };
    struct book_lot lot;
    const char *codes;
    int n;
    if (k->has_lot || st_line_parse(k->row.words, m, k->planned.catalogue, &line, &p) == 0 ||
        strncmp(p.what, "unknown ingredient", 18) != 0)
        return ST_EXIT_DONE;
    const enum book_status s = st_lot_called(&b->ask, k->row.words, &lot, &n, &codes);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (n == 0)
        return ST_EXIT_DONE;
    if (n > 1) {
        cli_error(k->row.words, batch_text(b, "%d lots bear that name: %s%s", n, codes, n > 4 ? " and more" : ""),
                  "say which, with --lot and its code");
        return ST_EXIT_INPUT;
    }
    k->lot = lot;
    k->has_lot = k->lot_found = true;
    k->row.lot_id = lot.id;
    if (!lot_existed(b, &k->lot, k->day))
        return ST_EXIT_INPUT;
    return st_lot_stopped(k->planned.catalogue, &k->lot, &p) ? batch_wrong(&p) : ST_EXIT_DONE;
}

/* STEP "50 g sugar". */
static int take_more(struct batch *b, struct weighing *k)
{
    const struct st_recipe *r = &k->planned.file.recipe;
    struct st_problem p = { .what = "" };
    if (b->c->argc != 2) {
        cli_error(k->batch.code, "what was added is a step and a line",
                  "write for example: stillroom batch add B14 drink \"50 g sugar\"");
        return ST_EXIT_INPUT;
    }
    const int step = st_batch_step(r, batch_word(b, "", ""), &p);
    if (step < 0)
        return batch_wrong(&p);
    k->row.step = r->step[step].id;
    k->row.line = 0;
    k->row.words = batch_word(b, "", "");
    struct book_bottling of;
    int64_t count;
    if (!k->has_lot && st_batch_bottles_said(&b->ask, k->row.words, &k->bottles, &of, &count) == BOOK_OK && k->bottles)
        return ST_EXIT_DONE;
    if (!k->has_lot && batch_is_poured(b, k->row.words, &k->from, &k->poured))
        return ST_EXIT_DONE;
    if (k->has_lot && st_amount_asks(k->row.words, r->measures, &p))
        return batch_wrong(&p);
    plain_amount(b, k, r->measures);
    const int found = find_lot(b, k, r->measures);
    if (found != ST_EXIT_DONE)
        return found;
    const bool of_lot = is_of_lot(b, k, r->measures);
    if (!of_lot)
        say_as_sheet(b, k, r->measures);
    if (st_stop_in_text(k->planned.catalogue, k->row.words, strlen(k->row.words), &p) ||
        (!of_lot && !with_strength(b, k, r->measures) &&
         st_line_parse(k->row.words, r->measures, k->planned.catalogue, &k->added, &p) != 0)) {
        p.at.line = 0;
        if (strncmp(p.what, "unknown ingredient", 18) == 0)
            (void)snprintf(p.why, sizeof p.why,
                           "the ingredient sheet does not know it, and what it may hold was not assessed");
        return batch_wrong(&p);
    }
    k->name = k->row.words;
    return ST_EXIT_DONE;
}

/* ---- what it takes from its lot ---- */

static bool is_replaced(const struct weighing *k, const struct book_weighing *w)
{
    return k->instead && w->line == k->row.line && strcmp(w->step, k->row.step) == 0;
}

/* What the lot gets back, since this is instead of it. */
static enum book_status given_back(struct batch *b, const struct weighing *k, double *back)
{
    enum book_status s = BOOK_OK;
    *back = 0.0;
    for (int i = 0; i < k->n_old && s == BOOK_OK; i++) {
        double amount = 0.0;
        if (is_replaced(k, &k->old[i]))
            s = st_batch_use_taken(&b->ask, k->old[i].id, k->lot.id, &amount);
        *back += amount;
    }
    return s;
}

static int use_lot(struct batch *b, struct weighing *k)
{
    const struct st_recipe *r = &k->planned.file.recipe;
    struct st_problem p = { .what = "" };
    if (!k->has_lot)
        return ST_EXIT_DONE;
    const struct st_line *l = k->row.line     ? &r->step[st_batch_step(r, k->row.step, &p)].line[k->row.line - 1]
                              : k->added.what ? &k->added
                                              : NULL;
    double back;
    enum book_status s = given_back(b, k, &back);
    if (s == BOOK_OK)
        s = st_batch_use_of(&b->ask, k->planned.catalogue, &k->lot, l, k->row.words, r->measures, back, &k->use, &p);
    return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, &p);
}

/* ---- what it makes of the bottle ---- */

static int foretell(struct batch *b, struct weighing *k)
{
    struct book_weighing *w = st_arena_alloc(&b->arena, (size_t)(k->n_old + 1) * sizeof *w);
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    int n = 0;
    enum book_status s = k->has_lot ? st_batch_pour_lot(&b->ask, &k->lot, &k->batch, &p) : BOOK_OK;
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, &k->batch, true, true, &k->before);
    if (s != BOOK_OK)
        return batch_fail(b, s, &p);
    k->part = k->row.line == 0 ? batch_part_words(b, &k->batch, &k->before, k->day) : "";
    for (int i = 0; i < k->n_old; i++)
        if (!is_replaced(k, &k->old[i]))
            w[n++] = k->old[i];
    w[n++] = k->row;
    const int put = st_batch_text(&k->alone, k->batch.text, w, n, &text, &p);
    if (put == 0)
        s = st_batch_also_took(&b->ask, k->batch.id, &text);
    if (put == 0 && s == BOOK_OK)
        s = st_batch_made_so(&k->alone, &k->batch, st_buf_text(&text), &k->now);
    st_buf_done(&text);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (put == 0 && (k->now.told || (k->now.whole && !k->before.told)))
        return ST_EXIT_DONE;
    const struct st_problem because = put != 0 ? p : k->now.problem;
    return batch_fail(b, batch_unreadable(b, &k->batch, k->row.words, &because, !k->before.whole, &p), &p);
}

/* ---- into the book ---- */

static enum book_status drop_old(struct batch *b, struct weighing *k)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; i < k->n_old && s == BOOK_OK; i++)
        if (is_replaced(k, &k->old[i]))
            s = st_batch_unweigh(&b->ask, k->old[i].id);
    return s;
}

static int keep(struct batch *b, struct weighing *k)
{
    const char *of = k->row.line ? batch_text(b, "%s %s", k->row.words, k->name) : k->row.words;
    enum book_status s = BOOK_OK;
    s = batch_deed(b, "%s: %s %.200s%s%s", k->batch.code, k->row.line ? "weighed" : "added", of,
                   k->has_lot ? " of " : "", k->has_lot ? k->lot.code : "");
    if (s == BOOK_OK && k->instead)
        s = drop_old(b, k);
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_WEIGHING, &k->row, &k->row.id);
    if (s == BOOK_OK && k->has_lot)
        s = st_batch_use_put(&b->ask, &k->use, &k->row);
    if (s == BOOK_OK && k->now.told)
        s = st_batch_keep_foreseen(&b->ask, k->batch.id, &k->now.out, BATCH_PROGRAM);
    return batch_end(b, s, NULL);
}

/* ---- what the maker should know ---- */

__attribute__((format(printf, 2, 3))) static void remark(struct weighing *k, const char *format, ...)
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
static void look_at_sum(struct weighing *k, enum st_measures m, const struct st_amount *now)
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
static void look_at_plan(struct weighing *k, const struct st_line *l, const struct st_amount *now)
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
static void look_at_pieces(struct weighing *k)
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
static void look_at_lot(struct weighing *k)
{
    if (k->lot_found)
        remark(k, "Taken from %s, the one lot of that name.", k->lot.code);
    if (k->has_lot && k->lot.use_by && strcmp(k->lot.use_by, k->day) < 0)
        remark(k, "%s was to be used by %s: look at it well before it goes into a drink.", k->lot.code, k->lot.use_by);
    if (k->has_lot && k->lot.from_batch != BOOK_NO && k->now.whole &&
        !strstr(st_buf_text(&k->now.text), strcmp(k->lot.kind, "spent") == 0 ? "\"spent " : "\"poured "))
        remark(k, "What %s brings along of its batch is not known here: it counts as the line says.", k->lot.code);
}

static void look_at_it(struct batch *b, struct weighing *k)
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

/* ---- the answer ---- */

static int tell(struct batch *b, struct weighing *k)
{
    look_at_it(b, k);
    if (b->c->json) {
        json_t *o = json_pack("{s:s, s:s, s:I, s:o, s:s}", "batch", k->batch.code, "step", k->row.step, "line",
                              (json_int_t)k->row.line, "words", st_doc_text(k->row.words), "planned", k->planned_words);
        json_object_set_new(o, "lot", k->has_lot ? st_doc_text(k->lot.code) : json_null());
        json_object_set_new(o, "remark",
                            st_doc_text(batch_text(b, "%s%s%s", k->use.remark,
                                                   k->use.remark[0] && k->remark[0] ? " " : "", k->remark)));
        json_object_set_new(o, "before", k->before.told ? batch_foretold_json(&k->before.out) : json_null());
        json_object_set_new(o, "now", k->now.told ? batch_foretold_json(&k->now.out) : json_null());
        json_object_set_new(o, "cautions", batch_cautions_json(b, &k->now));
        json_object_set_new(o, "labels", st_doc_batch_lacks(batch_lacks_since(b, &k->row)));
        return cli_json_print(o);
    }
    if (k->row.line)
        cli_say(0, 2, "%s: weighed %s %s%s%s (planned: %s).", k->batch.code, k->row.words, k->name,
                k->has_lot ? " of " : "", k->has_lot ? k->lot.code : "", k->planned_words);
    else
        cli_say(0, 2, "%s: added %s%s%s in %s.", k->batch.code, k->row.words, k->has_lot ? " of " : "",
                k->has_lot ? k->lot.code : "", k->row.step);
    if (k->use.remark[0])
        cli_wrap(2, 2, k->use.remark);
    if (k->remark[0])
        cli_wrap(2, 2, k->remark);
    /* what was planned had its cautions when the batch was begun */
    const bool came_in = !k->row.line || k->has_lot || !k->before.told;
    batch_did_heard(b, &k->batch);
    const bool told = batch_foretold_now(b, "The bottle that is foretold", &k->before, &k->now);
    if (came_in)
        batch_cautions(b, &k->now, k->batch.code);
    batch_lacks_print(b, batch_lacks_since(b, &k->row));
    return told ? ST_EXIT_DONE : ST_EXIT_UNMET;
}

static int weigh(struct batch *b, int (*what)(struct batch *b, struct weighing *k))
{
    struct weighing *k = x_calloc(1, sizeof *k);
    int code = take(b, k);
    if (code == ST_EXIT_DONE)
        code = what(b, k);
    if (code == ST_EXIT_DONE && !batch_no_more(b, KNOWN))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE && k->bottles) {
        (void)batch_bottles_into(b, &k->batch, k->row.step, k->row.words, k->day, &code);
        done(k);
        return code;
    }
    if (code == ST_EXIT_DONE && k->poured) {
        code = batch_pour_into(b, &k->batch, k->row.step, &k->from, k->poured, k->day);
        done(k);
        return code;
    }
    if (code == ST_EXIT_DONE)
        code = use_lot(b, k);
    if (code == ST_EXIT_DONE)
        code = foretell(b, k);
    if (code == ST_EXIT_DONE)
        code = keep(b, k);
    if (code == ST_EXIT_DONE)
        code = tell(b, k);
    done(k);
    return code;
}

int batch_weigh(struct batch *b)
{
    return weigh(b, take_planned);
}

int batch_add(struct batch *b)
{
    return weigh(b, take_more);
}
