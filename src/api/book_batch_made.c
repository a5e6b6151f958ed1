#include "api/book_batch.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_did.h"
#include "api/book_batch_instead.h"
#include "api/book_batch_lasted.h"
#include "api/book_batch_lost.h"
#include "text/stops.h"

/* ---- reading ---- */

static bool fail(struct st_batch_made *m, const struct st_problem *p)
{
    m->problem = *p;
    return false;
}

static bool foretell(const struct st_batch_ask *a, struct st_plan *plan, struct st_batch_made *m)
{
    const struct st_options o = { .seed = a->seed, .draws = a->draws };
    m->told = st_plan_run(plan, &o, &m->out) >= 0;
    st_plan_free(plan);
    if (!m->told)
        st_batch_refuse(&m->problem, "an amount is far too large or too small", "look at what was weighed",
                        "it gives no figures");
    return m->told;
}

static struct st_catalogue *lend(const struct st_batch_ask *a)
{
    struct st_catalogue *c = a->spare ? *a->spare : NULL;
    if (!c)
        return a->catalogue();
    *a->spare = NULL;
    return c;
}

static void give_back(struct st_batch_made *m)
{
    if (m->spare && !*m->spare && !st_catalogue_is_changed(m->catalogue))
        *m->spare = m->catalogue;
    else
        st_catalogue_free(m->catalogue);
}

bool st_batch_made_of(const struct st_batch_ask *a, const char *text, bool tell, struct st_batch_made *m)
{
    struct st_problem p = { .what = "" };
    memset(m, 0, sizeof *m);
    st_buf_add(&m->text, text);
    if (!*text) {
        st_batch_refuse(&p, "nobody wrote its recipe down",
                        "tell it: stillroom batch answer, or begin another from a recipe", "this batch has no recipe");
        return fail(m, &p);
    }
    m->catalogue = lend(a);
    m->spare = a->spare;
    if (!m->catalogue)
        return false;
    const int read =
        st_recipe_read_as("its recipe", st_buf_text(&m->text), m->text.length, m->catalogue, a->measures, &m->file);
    if (read != 0)
        return fail(m, &m->file.problem[0]);
    m->whole = true;
    if (!tell)
        return true;
    struct st_plan *plan = st_plan_create(&m->file.recipe, &p);
    if (!plan) {
        (void)st_stop_plan_problems(&m->file.recipe, &p, 1);
        return fail(m, &p);
    }
    return foretell(a, plan, m);
}

void st_batch_made_waits(struct st_batch_made *m, const struct st_problem *why)
{
    if (m->told)
        st_foretold_done(&m->out);
    m->told = false;
    m->problem = *why;
}

void st_batch_made_done(struct st_batch_made *m)
{
    if (m->told)
        st_foretold_done(&m->out);
    if (m->catalogue) {
        st_recipe_done(&m->file);
        give_back(m);
    }
    st_buf_done(&m->text);
    memset(m, 0, sizeof *m);
}
/* ---- a batch of the book ---- */

/* The steep of that id; of "" the only one; -1. */
static int steep_of(const struct st_recipe *r, const char *id)
{
    int found = -1;
    for (int i = 0; i < r->n_step; i++) {
        if (r->step[i].kind != ST_DO_STEEP || (*id && strcmp(r->step[i].id, id) != 0))
            continue;
        if (found >= 0)
            return -1;
        found = i;
    }
    return found;
}

static void put_drained(struct st_step *s, const struct book_reading *row)
{
    const double sd = isfinite(row->sd) && row->sd > 0.0 ? row->sd : st_seen_usual_sd(ST_SEEN_DRAINED_G, row->value);
    s->drained_solids_g = (struct st_range){ .known = true,
                                             .value = row->value,
                                             .low = fmax(row->value - 1.96 * sd, 0.0),
                                             .high = row->value + 1.96 * sd,
                                             .mark = 'u',
                                             .source = "" };
    s->drained_read = true;
}

/* The last reading of a step rules over those before it. */
static bool put_readings(struct st_recipe *r, const struct book_reading row[], int n)
{
    bool any = false;
    for (int i = 0; i < n; i++) {
        const bool drained =
            strcmp(row[i].kind, st_seen_info(ST_SEEN_DRAINED_G)->key) == 0 && row[i].doubted != 1 && row[i].value > 0.0;
        const int step = drained ? steep_of(r, row[i].step) : -1;
        if (step < 0 || (r->step[step].drained_solids_g.known && !r->step[step].drained_read))
            continue;
        put_drained(&r->step[step], &row[i]);
        any = true;
    }
    return any;
}

static void take_out(struct st_recipe *r)
{
    for (int i = 0; i < r->n_step; i++)
        if (r->step[i].drained_read)
            r->step[i].drained_read = r->step[i].drained_solids_g.known = false;
}

enum book_status st_batch_put_drained(const struct st_batch_ask *a, const struct book_batch *batch, struct st_recipe *r,
                                      bool *any)
{
    struct book_reading *row;
    struct st_problem p = { .what = "" };
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id, .order = "at" };
    int n;
    const enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &row, &n);
    *any = s == BOOK_OK && put_readings(r, row, n);
    if (!*any)
        return s;
    struct st_plan *plan = st_plan_create(r, &p);
    *any = plan != NULL;
    if (!plan)
        take_out(r);
    st_plan_free(plan);
    return s;
}

/* Foretold anew less what was lost of its jars, and with a->by_drained with the drained solids as they were weighed and the days
 * that its steps lasted; where that cannot be, as it was. */
static enum book_status as_known(const struct st_batch_ask *a, const struct book_batch *batch, struct st_batch_made *m)
{
    struct st_problem p = { .what = "" };
    bool lasted = false, drained = false, lost = false;
    enum book_status s = a->by_drained ? st_batch_put_lasted(a, batch, &m->file.recipe, &lasted) : BOOK_OK;
    if (s == BOOK_OK && a->by_drained)
        s = st_batch_put_drained(a, batch, &m->file.recipe, &drained);
    if (s == BOOK_OK)
        s = st_batch_put_lost(a, batch, &m->file, &lost);
    struct st_plan *plan = lasted || drained || lost ? st_plan_create(&m->file.recipe, &p) : NULL;
    if (plan) {
        st_foretold_done(&m->out);
        (void)foretell(a, plan, m);
        m->lost_in = lost && m->told;
    }
    return s;
}

enum book_status st_batch_made_so(const struct st_batch_ask *a, const struct book_batch *batch, const char *text,
                                  struct st_batch_made *m)
{
    return st_batch_made_of(a, text, true, m) ? as_known(a, batch, m) : BOOK_OK;
}

enum book_status st_batch_made(const struct st_batch_ask *a, const struct book_batch *batch, bool really, bool tell,
                               struct st_batch_made *m)
{
    struct book_weighing *w = NULL;
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    int n = 0;
    memset(m, 0, sizeof *m);
    if (really) {
        const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
        const enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &w, &n);
        if (s != BOOK_OK)
            return s;
    }
    enum book_status s = BOOK_OK;
    const int put = st_batch_text(a, batch->text, w, n, &text, &p);
    if (put == 0 && really && *batch->text)
        s = st_batch_also_took(a, batch->id, &text);
    if (put == 0 && s == BOOK_OK)
        (void)st_batch_made_of(a, st_buf_text(&text), tell, m);
    else
        m->problem = p;
    st_buf_done(&text);
    if (s != BOOK_OK)
        return s;
    struct st_problem waits = { .what = "" };
    if (m->told && st_batch_did_waits(a, batch, &waits))
        st_batch_made_waits(m, &waits);
    return really && m->told ? as_known(a, batch, m) : BOOK_OK;
}

/* ---- what was foreseen ---- */

static const char *status_word(enum st_status s)
{
    return s == ST_EXTRAPOLATED ? "extrapolated" : s == ST_ESTIMATED ? "estimated" : "ok";
}

enum book_status st_batch_keep_foreseen(const struct st_batch_ask *a, int64_t batch, const struct st_foretold *f,
                                        const char *program)
{
    struct book_foreseen *old;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    enum book_status s = book_list(a->book, BOOK_FORESEEN, &of, a->arena, &old, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        s = book_drop(a->book, BOOK_FORESEEN, old[i].id);
    for (int k = 0; s == BOOK_OK && k < ST_NFIG; k++) {
        const struct st_interval *x = &f->fig[k];
        struct book_foreseen row;
        if (!x->known || !isfinite(x->value) || !isfinite(x->low) || !isfinite(x->high))
            continue;
        book_row_init(BOOK_FORESEEN, &row);
        row.batch_id = batch;
        row.key = st_figure_info((enum st_figure)k)->key;
        row.value = x->value;
        row.low = x->low;
        row.high = x->high;
        row.status = status_word(x->status);
        row.program = program;
        s = book_put(a->book, BOOK_FORESEEN, &row, NULL);
    }
    return s;
}
