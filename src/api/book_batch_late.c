#include "api/book_batch_late.h"

#include <string.h>

#include "api/book_batch_before.h"
#include "text/calendar_day.h"

struct late {
    const struct st_batch_ask *a;
    const struct book_batch *batch;
    const struct st_recipe *r;
    const char *day, **remark;
    int *n;
};

static void say(const struct late *k, const char *text)
{
    if (*k->n < ST_BATCH_REMARKS)
        k->remark[(*k->n)++] = text;
}

/* ---- jars ---- */

/* Days that a steep lay longer than the longest its recipe tells; 0: it did not, or nothing tells. */
static long too_long(const struct late *k, const struct book_jar *jar)
{
    long begun, until, due, last;
    const char *end = jar->ended_on ? jar->ended_on : k->day;
    for (int i = 0; i < k->r->n_step; i++) {
        const struct st_step *s = &k->r->step[i];
        if (strcmp(s->id, jar->step) != 0 || s->kind != ST_DO_STEEP || s->time.dim != ST_DIM_TIME)
            continue;
        if (st_day_number(jar->begun_on, &begun) && st_day_number(end, &until) && st_batch_due(s, begun, &due, &last))
            return until > last + ST_BATCH_LATE_DAYS ? until - last : 0;
    }
    return 0;
}

static void look_at_jar(const struct late *k, const struct book_jar *jar)
{
    const char *step = *jar->step ? jar->step : "a jar";
    const long days = too_long(k, jar);
    if (!jar->ended_on && strcmp(jar->doing, "steeping") == 0)
        say(k, st_arena_printf(
                   k->a->arena,
                   "By the book \"%s\" still steeps: if it is strained, say when: stillroom batch strain %s%s%s.", step,
                   k->batch->code, *jar->step ? " --step " : "", jar->step));
    if (days)
        say(k, st_arena_printf(k->a->arena,
                               "\"%s\" lay %ld days longer than its recipe has it: look at it, smell and taste a "
                               "drop before anybody gets a bottle, and ask whether the fruit was sound.",
                               step, days));
}

/* ---- what went in ---- */

static void look_at_use(const struct late *k, const struct book_lot_use *use)
{
    struct book_lot lot;
    long since, in;
    if (book_get(k->a->book, BOOK_LOT, use->lot_id, k->a->arena, &lot) != BOOK_OK)
        return;
    if (lot.use_by && strncmp(lot.use_by, use->on_day, 10) < 0)
        say(k, st_arena_printf(k->a->arena, "%s, %s, was past its day (%s) when it went in on %s.", lot.code, lot.name,
                               lot.use_by, use->on_day));
    else if (!lot.use_by && strcmp(lot.kind, "spent") == 0 && lot.since && st_day_number(lot.since, &since) &&
             st_day_number(use->on_day, &in) && in - since > ST_BATCH_SPENT_DAYS)
        say(k, st_arena_printf(k->a->arena,
                               "%s, %s, was kept %ld days before it went in, and nobody told until when it keeps: what "
                               "is drained of its liquor is weak, and spoils (common practice, no source).",
                               lot.code, lot.name, in - since));
}

enum book_status st_batch_late(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *made, const char *day, const char *remark[], int *n)
{
    struct st_batch_jar *jar;
    struct book_lot_use *use;
    struct st_batch_todo todo = { .n_first = 0 };
    int n_jar, n_use;
    const struct late k = { a, batch, &made->file.recipe, day, remark, n };
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    *n = 0;
    enum book_status s = st_batch_jars(a, batch->id, true, &jar, &n_jar);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n_use);
    if (s == BOOK_OK && made->whole)
        s = st_batch_todo_of(a, batch, &made->file.recipe, "", &todo);
    if (s != BOOK_OK)
        return s;
    for (int i = 0; i < n_jar && made->whole; i++)
        look_at_jar(&k, &jar[i].row);
    for (int i = 0; i < n_use; i++)
        look_at_use(&k, &use[i]);
    for (int i = 0; i < todo.n_first + todo.n_unsure; i++) {
        const struct st_batch_chore *c = i < todo.n_first ? &todo.first[i] : &todo.unsure[i - todo.n_first];
        if (c->own)
            say(&k,
                st_arena_printf(a->arena,
                                "Not known whether the %s went in (%s): nobody wrote it down, and the label counts it "
                                "as gone in.",
                                c->step, c->lines));
    }
    return BOOK_OK;
}
