#include "api/book_batch_lasted.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text/calendar_day.h"
#include "text/quantity.h"
#include "text/recipe_edit.h"
#include "util/memory.h"

static const double DAY_S = 86400.0;

/* Whole days from its first beginning to its last end; 0: it stands still, was never begun, or ended the same day. */
static long days_of(const struct st_batch_jar *jar, int n, const char *step)
{
    long begun = 0, ended = 0;
    bool any = false;
    for (int i = 0; i < n; i++) {
        long from, to;
        if (strcmp(jar[i].row.step, step) != 0)
            continue;
        if (!jar[i].row.ended_on || !jar[i].row.begun_on || !st_day_number(jar[i].row.begun_on, &from) ||
            !st_day_number(jar[i].row.ended_on, &to))
            return 0;
        begun = any && begun < from ? begun : from;
        ended = any && ended > to ? ended : to;
        any = true;
    }
    return any && ended > begun ? ended - begun : 0;
}

enum book_status st_batch_put_lasted(const struct st_batch_ask *a, const struct book_batch *batch, struct st_recipe *r,
                                     bool *any)
{
    struct st_batch_jar *jar;
    int n;
    const enum book_status s = st_batch_jars(a, batch->id, true, &jar, &n);
    *any = false;
    for (int i = 0; s == BOOK_OK && i < r->n_step; i++) {
        const long days = r->step[i].time.dim == ST_DIM_TIME ? days_of(jar, n, r->step[i].id) : 0;
        const char *words = st_arena_printf(a->arena, "%ld day%s", days, days > 1 ? "s" : "");
        struct st_amount time;
        struct st_problem none;
        size_t used;
        if (days > 0 && st_quantity_parse(words, strlen(words), r->measures, &time, &used, &none) == 0) {
            r->step[i].time = time;
            *any = true;
        }
    }
    return s;
}

/* What was written is what is read again. */
static bool reads_so(const struct st_batch_ask *a, const char *text, const long days[], int n)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    bool so = st_batch_made_of(a, text, false, m) && m->file.recipe.n_step == n;
    for (int s = 0; so && s < n; s++) {
        const struct st_step *x = &m->file.recipe.step[s];
        so = days[s] == 0 || x->time.dim != ST_DIM_TIME || fabs(x->time.value - (double)days[s] * DAY_S) < 1.0;
    }
    st_batch_made_done(m);
    free(m);
    return so;
}

enum book_status st_batch_lasted(const struct st_batch_ask *a, const struct book_batch *batch,
                                 const struct st_batch_made *made, struct st_buf *out)
{
    const struct st_recipe *r = &made->file.recipe;
    struct st_batch_jar *jar;
    struct st_problem none = { .what = "" };
    struct st_buf text = { 0 };
    int n, n_edit = 0;
    const enum book_status s = st_batch_jars(a, batch->id, true, &jar, &n);
    struct st_edit *edit = st_arena_alloc(a->arena, ((size_t)r->n_step + 1) * sizeof *edit);
    long *days = st_arena_alloc(a->arena, ((size_t)r->n_step + 1) * sizeof *days);
    for (int i = 0; s == BOOK_OK && i < r->n_step; i++) {
        days[i] = r->step[i].time.dim == ST_DIM_TIME ? days_of(jar, n, r->step[i].id) : 0;
        if (days[i] > 0)
            edit[n_edit++] = (struct st_edit){
                .step = &r->step[i],
                .time = st_arena_printf(a->arena, "%ld day%s", days[i], days[i] > 1 ? "s" : ""),
            };
    }
    const bool good =
        n_edit > 0 &&
        st_recipe_edit(st_buf_text(&made->text), made->text.length, r->measures, edit, n_edit, &text, &none) == 0 &&
        reads_so(a, st_buf_text(&text), days, r->n_step);
    st_buf_add(out, st_buf_text(good ? &text : &made->text));
    st_buf_done(&text);
    return s;
}
