/* Part of a drink into another batch. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_batch_bottles.h"
#include "api/book_batch_late.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_rest.h"
#include "api/book_batch_use.h"
#include "cli/batch_did.h"
#include "cli/batch_lacks.h"
#include "cli/page.h"
#include "text/quantity.h"
#include "util/memory.h"

static const char *const KNOWN[] = { "--into", "--step", "--on", NULL };

struct pouring {
    struct book_batch from, into;
    struct book_weighing row;
    struct st_batch_made drink, before, now; /* large */
    struct st_batch_pour pour;
    struct st_batch_use use;
    double ml;
    const char *step;
    char day[11];
    const char *late[ST_BATCH_REMARKS]; /* what to look at first of the drink that is poured */
    int n_late;
    const char *part;        /* some of what is poured into went before; "" */
    struct book_bottling of; /* bottles of it, where count is not 0 */
    int64_t count;
    const char *said;
    const char *added; /* by `batch add`: its words; NULL: by `batch pour` */
};

static void done(struct pouring *k)
{
    st_batch_made_done(&k->drink);
    st_batch_made_done(&k->before);
    st_batch_made_done(&k->now);
    free(k);
}

/* A volume, and nothing behind it. */
static bool volume_of(const char *said, enum st_measures m, double *ml)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    if (cli_asks_amount(said, m))
        return false;
    if (st_quantity_parse(said, strlen(said), m == ST_MEASURES_NONE ? ST_MEASURES_METRIC : m, &x, &used, &why) == 0 &&
        x.open == ST_CLOSED && x.dim == ST_DIM_VOLUME && x.value > 0.0 && said[used] == '\0') {
        *ml = x.value;
        return true;
    }
    char what[120];
    (void)snprintf(what, sizeof what, "\"%.80s\"", said);
    cli_error(what, "it is no volume", "write for example: stillroom batch pour B1 \"100 mL\" --into B2");
    return false;
}

/* The step that is poured into: as said, else the last one that joins liquids. */
static int step_of(struct pouring *k, struct st_problem *p)
{
    const struct st_recipe *r = &k->before.file.recipe;
    int at = -1;
    if (k->step)
        return st_batch_step(r, k->step, p);
    for (int i = 0; i < r->n_step; i++)
        if (r->step[i].kind == ST_DO_BLEND && !st_batch_is_rest(&r->step[i]) && !st_batch_is_off(&r->step[i]))
            at = i;
    return at >= 0 ? at
                   : st_batch_refuse(p, "its recipe blends nothing", "say the step with --step",
                                     "where in %s it is poured", k->into.code);
}

static int reckon(struct batch *b, struct pouring *k)
{
    struct st_problem p = { .what = "" };
    if (k->from.id == k->into.id) {
        cli_error(
            k->from.code, "it cannot be poured into itself",
            k->added ? batch_text(b, "name another batch to add it to: stillroom batch add BATCH STEP \"%s\"", k->added)
                     : "name another batch with --into");
        return ST_EXIT_INPUT;
    }
    if (!batch_existed(b, &k->from, k->day) || !batch_existed(b, &k->into, k->day))
        return ST_EXIT_INPUT;
    if (k->into.ended_on) {
        cli_error(k->into.code, "it is over", "begin another batch, or look at the code");
        return ST_EXIT_INPUT;
    }
    enum book_status s = st_batch_pour_may(&b->ask, &k->from, &k->into, &p);
    const struct st_batch_moment then =
        k->count ? st_batch_bottles_moment(&k->of) : (struct st_batch_moment){ .table = BOOK_LOT, .day = k->day };
    struct st_batch_ask of_then = b->ask;
    of_then.until = &then; /* what was added to it on a later day was not in it */
    if (s == BOOK_OK)
        s = st_batch_made(&of_then, &k->from, true, true, &k->drink);
    if (s == BOOK_OK && !k->drink.told)
        return batch_wrong(&k->drink.problem);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, &k->into, true, true, &k->before);
    if (s == BOOK_OK && !k->before.whole)
        return batch_wrong(&k->before.problem);
    if (s == BOOK_OK && k->count)
        s = st_batch_bottles_pour(&of_then, &k->from, &k->drink, &k->of, k->count, k->day, &k->pour, &p);
    else if (s == BOOK_OK)
        s = st_batch_pour_of(&of_then, &k->from, &k->drink, k->ml, k->day, &k->pour, &p);
    if (s == BOOK_OK && !k->count)
        s = st_batch_late(&b->ask, &k->from, &k->drink, k->day, k->late, &k->n_late);
    k->part = s == BOOK_OK ? batch_part_words(b, &k->into, &k->before, k->day) : "";
    const int step = s == BOOK_OK ? step_of(k, &p) : -1;
    if (s != BOOK_OK || step < 0)
        return batch_fail(b, s, &p);
    book_row_init(BOOK_WEIGHING, &k->row);
    k->row.batch_id = k->into.id;
    k->row.step = st_arena_strdup(&b->arena, k->before.file.recipe.step[step].id);
    k->row.line = 0;
    k->row.words = batch_text(b, "%.10g mL of %.40s", k->ml, k->from.code);
    k->row.on_day = k->day;
    if (k->count)
        k->row.note = batch_text(b, "said as %s", k->said);
    return ST_EXIT_DONE;
}

/* All in one deed: the lot, what was drawn off, what went in, and what is foretold now.  What could not be reckoned any more
 * is not kept. */
static int keep(struct batch *b, struct pouring *k)
{
    struct st_problem p = { .what = "" };
    enum book_status s = k->count ? batch_deed(b, "%s: poured %.60s into %s", k->from.code, k->said, k->into.code)
                                  : batch_deed(b, "%s: poured %.10g mL into %s", k->from.code, k->ml, k->into.code);
    if (s == BOOK_OK && k->count)
        s = st_batch_bottles_put(&b->ask, &k->pour, &k->of, k->count, &k->into);
    else if (s == BOOK_OK)
        s = st_batch_pour_put(&b->ask, &k->pour);
    if (s == BOOK_OK)
        s = st_batch_foreseen_again(&b->ask, &k->from, BATCH_PROGRAM);
    k->row.lot_id = k->pour.lot.id;
    k->use = (struct st_batch_use){ .lot_id = k->pour.lot.id, .amount = k->ml };
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_WEIGHING, &k->row, &k->row.id);
    if (s == BOOK_OK)
        s = st_batch_use_put(&b->ask, &k->use, &k->row);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, &k->into, true, true, &k->now);
    if (s == BOOK_OK && k->now.told)
        s = st_batch_keep_foreseen(&b->ask, k->into.id, &k->now.out, BATCH_PROGRAM);
    else if (s == BOOK_OK && (k->before.told || !k->now.whole))
        s = batch_unreadable(b, &k->into, k->row.words, &k->now.problem, false, &p);
    return batch_end(b, s, &p);
}

static int tell(struct batch *b, struct pouring *k)
{
    const struct book_lot *lot = &k->pour.lot;
    const double left = k->pour.spare_ml - k->ml;
    if (b->c->json) {
        json_t *o = json_pack("{s:s, s:s, s:s, s:s, s:f, s:f, s:s}", "from", k->from.code, "into", k->into.code, "step",
                              k->row.step, "lot", lot->code, "volume_ml", k->ml, "strength_pct_vol",
                              lot->strength_pct_vol, "figures", k->pour.read ? "read" : "foretold");
        json_t *remarks = json_array();
        for (int i = 0; i < k->n_late; i++)
            json_array_append_new(remarks, st_doc_text(k->late[i]));
        if (*k->part)
            json_array_append_new(remarks, st_doc_text(k->part));
        json_object_set_new(o, "remarks", remarks);
        json_object_set_new(o, "left_ml", isfinite(left) ? json_real(left) : json_null());
        json_object_set_new(o, "before", k->before.told ? batch_foretold_json(&k->before.out) : json_null());
        json_object_set_new(o, "now", k->now.told ? batch_foretold_json(&k->now.out) : json_null());
        json_object_set_new(o, "cautions", batch_cautions_json(b, &k->now));
        json_object_set_new(o, "labels", st_doc_batch_lacks(batch_lacks_since(b, &k->row)));
        return cli_json_print(o);
    }
    cli_say(0, 2, "%s: %.10g mL of %.1f %% vol, %s, poured into %s in %s as lot %s.", k->from.code, k->ml,
            lot->strength_pct_vol,
            k->count && isfinite(k->of.strength_pct_vol) ? "as written of the bottles"
            : k->pour.read                               ? "by readings and recipe together"
                                                         : "as foretold",
            k->into.code, k->row.step, lot->code);
    if (k->count)
        cli_say(2, 4, "Of %s %lld bottle%s of %g mL went in, %g left at home.", k->of.code, (long long)k->count,
                k->count == 1 ? "" : "s", k->of.size_ml, left / k->of.size_ml);
    for (int i = 0; i < k->n_late; i++)
        cli_wrap(2, 4, k->late[i]);
    if (*k->part)
        cli_wrap(2, 4, k->part);
    batch_did_heard(b, &k->into);
    const bool told =
        batch_foretold_now(b, batch_text(b, "The bottle of %s that is foretold", k->into.code), &k->before, &k->now);
    batch_cautions(b, &k->now, k->into.code);
    batch_lacks_print(b, batch_lacks_since(b, &k->row));
    return told ? ST_EXIT_DONE : ST_EXIT_UNMET;
}

static int pour(struct batch *b, struct pouring *k)
{
    int code = reckon(b, k);
    if (code == ST_EXIT_DONE)
        code = keep(b, k);
    return code == ST_EXIT_DONE ? tell(b, k) : code;
}

int batch_pour(struct batch *b)
{
    struct pouring *k = x_calloc(1, sizeof *k);
    struct st_problem p = { .what = "" };
    bool bad = false;
    int code = cli_take_day(b->c, "--on", &b->now, false, k->day) ? ST_EXIT_DONE : ST_EXIT_INPUT;
    const char *into = code == ST_EXIT_DONE ? cli_option(b->c, "--into", &bad) : NULL;
    k->step = code == ST_EXIT_DONE ? cli_option(b->c, "--step", &bad) : NULL;
    if (code == ST_EXIT_DONE && (bad || !cli_no_more_options(b->c, KNOWN)))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE)
        code = batch_named(b, &k->from);
    const char *said =
        code == ST_EXIT_DONE ? batch_word(b, "no amount is given", "pour B1 \"100 mL\" --into B2") : NULL;
    if (code == ST_EXIT_DONE && (!said || !batch_no_more(b, KNOWN) || !volume_of(said, b->c->units, &k->ml)))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE && !into) {
        cli_error("--into", "nobody said which batch it went into", "write --into B2");
        code = ST_EXIT_INPUT;
    }
    if (code == ST_EXIT_DONE) {
        const enum book_status s = st_batch_find(&b->ask, into, &k->into, &p);
        code = s == BOOK_OK ? pour(b, k) : batch_fail(b, s, &p);
    }
    done(k);
    return code;
}

/* "100 mL of B1" where B1 is a batch. */
bool batch_is_poured(struct batch *b, const char *words, struct book_batch *from, const char **amount)
{
    struct st_problem p;
    const char *of = strstr(words, " of ");
    if (!of || st_batch_find(&b->ask, of + 4 + strspn(of + 4, " "), from, &p) != BOOK_OK)
        return false;
    *amount = batch_text(b, "%.*s", (int)(of - words), words);
    return true;
}

int batch_pour_into(struct batch *b, const struct book_batch *into, const char *step, const struct book_batch *from,
                    const char *amount, const char *day)
{
    struct pouring *k = x_calloc(1, sizeof *k);
    k->from = *from;
    k->into = *into;
    k->step = step;
    k->added = batch_text(b, "%s of %s", amount, from->code);
    (void)snprintf(k->day, sizeof k->day, "%s", day);
    const int code = volume_of(amount, b->c->units, &k->ml) ? pour(b, k) : ST_EXIT_INPUT;
    done(k);
    return code;
}

bool batch_bottles_into(struct batch *b, const struct book_batch *into, const char *step, const char *words,
                        const char *day, int *code)
{
    struct pouring *k = x_calloc(1, sizeof *k);
    bool is = false;
    enum book_status s = st_batch_bottles_said(&b->ask, words, &is, &k->of, &k->count);
    if (s == BOOK_OK && is)
        s = book_get(b->book, BOOK_BATCH, k->of.batch_id, &b->arena, &k->from);
    if (s == BOOK_OK && is) {
        k->into = *into;
        k->step = step;
        k->said = k->added = words;
        k->ml = k->of.size_ml * (double)k->count;
        (void)snprintf(k->day, sizeof k->day, "%s", day);
        *code = pour(b, k);
    } else if (s != BOOK_OK)
        *code = batch_fail(b, s, NULL);
    done(k);
    return is || s != BOOK_OK;
}
