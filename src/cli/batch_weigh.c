/* What really went in: weighings in the place of planned amounts, and lines that the recipe has not. */
#include "cli/batch_weigh.h"

#include <math.h>
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

static void done(struct batch_weighing *k)
{
    st_batch_made_done(&k->planned);
    st_batch_made_done(&k->before);
    st_batch_made_done(&k->now);
    free(k);
}

/* ---- the measures that are kept ---- */

/* What the book keeps must say the same without --units: the measures are those of the recipe itself, wherever it can be read
 * by them. */
static enum book_status by_own_measures(struct batch *b, struct batch_weighing *k)
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
void batch_weigh_plain(struct batch *b, struct batch_weighing *k, enum st_measures said)
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

bool batch_weigh_lot_existed(struct batch *b, const struct book_lot *lot, const char *day)
{
    if (!lot->since || strcmp(day, lot->since) >= 0)
        return true;
    cli_error(day, batch_text(b, "%s came into the larder later than that, %s", lot->code, lot->since),
              batch_text(b, "look at --on; if the lot is older: stillroom larder change %s --on DATE", lot->code));
    return false;
}

static int take(struct batch *b, struct batch_weighing *k)
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
    if (k->has_lot && !batch_weigh_lot_existed(b, &k->lot, k->day))
        return ST_EXIT_INPUT;
    if (k->has_lot && k->planned.whole && st_lot_stopped(k->planned.catalogue, &k->lot, &p))
        return batch_wrong(&p);
    return k->planned.whole ? ST_EXIT_DONE : batch_wrong(&k->planned.problem);
}

/* STEP LINE AMOUNT, or NAME AMOUNT where only one line of the whole recipe answers to it. */
static int take_line(struct batch *b, struct batch_weighing *k)
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
    batch_weigh_plain(b, k, r->measures);
    k->name = l->what ? l->what->name : l->text;
    (void)snprintf(k->planned_words, sizeof k->planned_words, "%s", l->text);
    return ST_EXIT_DONE;
}

/* What is weighed into what is left of a drink is no line of the recipe any more. */
static int take_planned(struct batch *b, struct batch_weighing *k)
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

/* ---- what it takes from its lot ---- */

static bool is_replaced(const struct batch_weighing *k, const struct book_weighing *w)
{
    return k->instead && w->line == k->row.line && strcmp(w->step, k->row.step) == 0;
}

/* What the lot gets back, since this is instead of it. */
static enum book_status given_back(struct batch *b, const struct batch_weighing *k, double *back)
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

static int use_lot(struct batch *b, struct batch_weighing *k)
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

static int foretell(struct batch *b, struct batch_weighing *k)
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

static enum book_status drop_old(struct batch *b, struct batch_weighing *k)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; i < k->n_old && s == BOOK_OK; i++)
        if (is_replaced(k, &k->old[i]))
            s = st_batch_unweigh(&b->ask, k->old[i].id);
    return s;
}

static int keep(struct batch *b, struct batch_weighing *k)
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

/* ---- the answer ---- */

static int tell(struct batch *b, struct batch_weighing *k)
{
    batch_weigh_look(b, k);
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

static int weigh(struct batch *b, int (*what)(struct batch *b, struct batch_weighing *k))
{
    struct batch_weighing *k = x_calloc(1, sizeof *k);
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
    return weigh(b, batch_weigh_more);
}
