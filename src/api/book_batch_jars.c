#include "api/book_batch_rest.h"
#include "api/book_larder.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "text/calendar_day.h"
#include "text/quantity.h"

static const double DAY_S = 86400.0;

/* ---- steps ---- */

bool st_batch_step_stands(const struct st_step *s)
{
    return s->kind != ST_DO_TOAST && s->kind != ST_DO_SYRUP && s->kind != ST_DO_BLEND && !st_batch_is_rest(s);
}

const char *st_batch_doing(const struct st_step *s)
{
    switch (s->kind) {
    case ST_DO_STEEP: return "steeping";
    case ST_DO_REST: return "resting";
    case ST_DO_FINE: return "clearing";
    case ST_DO_RACK: return "waiting to be racked";
    case ST_DO_FILTER: return "waiting to be filtered";
    case ST_DO_BOTTLE: return "waiting to be bottled";
    default: return "standing";
    }
}

/* Whether every jar that step takes from, through steps that take no time, is done. */
static bool is_ready(const struct st_recipe *r, int step, const bool ended[], bool *takes)
{
    for (int i = 0; i < r->step[step].n_line; i++) {
        const int from = r->step[step].line[i].from_step;
        if (from < 0)
            continue;
        if (st_batch_step_stands(&r->step[from])) {
            *takes = true;
            if (!ended[from])
                return false;
        } else if (!is_ready(r, from, ended, takes))
            return false;
    }
    return true;
}

int st_batch_jars_next(const struct st_recipe *r, const bool ended[], const bool begun[], int step[])
{
    int n = 0;
    for (int i = 0; i < r->n_step; i++) {
        bool takes = false;
        if (st_batch_step_stands(&r->step[i]) && !ended[i] && !begun[i] && is_ready(r, i, ended, &takes))
            step[n++] = i;
    }
    return n;
}

bool st_batch_due(const struct st_step *s, long begun, long *due, long *last)
{
    if (s->time.dim == ST_DIM_TIME) {
        *due = begun + (long)ceil(s->time.low / DAY_S - 1e-9);
        *last = begun + (long)ceil(s->time.high / DAY_S - 1e-9);
        return true;
    }
    *due = *last = begun;
    return s->kind == ST_DO_RACK || s->kind == ST_DO_FILTER || s->kind == ST_DO_BOTTLE;
}

const char *st_batch_then(const char *doing)
{
    static const char *const THEN[][2] = {
        { "steeping", "strain it" },
        { "resting", "go on with it" },
        { "clearing", "draw it off" },
        { "waiting to be racked", "rack it" },
        { "waiting to be filtered", "filter it" },
        { "waiting to be bottled", "bottle it" },
    };
    for (size_t i = 0; i < sizeof THEN / sizeof *THEN; i++)
        if (strcmp(THEN[i][0], doing) == 0)
            return THEN[i][1];
    return "look at it";
}

static int step_of(const struct st_recipe *r, const char *id)
{
    for (int i = 0; i < r->n_step && i < ST_BATCH_STEPS; i++)
        if (strcmp(r->step[i].id, id) == 0)
            return i;
    return -1;
}

void st_batch_jars_mark(const struct st_recipe *r, const struct st_batch_jar j[], int n, bool ended[], bool begun[])
{
    memset(ended, 0, ST_BATCH_STEPS * sizeof *ended);
    memset(begun, 0, ST_BATCH_STEPS * sizeof *begun);
    for (int i = 0; i < n; i++) {
        const int step = step_of(r, j[i].row.step);
        if (step < 0 || step >= ST_BATCH_STEPS)
            continue;
        if (j[i].row.ended_on)
            ended[step] = true;
        else
            begun[step] = true;
    }
    for (int i = 0; i < r->n_step && i < ST_BATCH_STEPS; i++)
        ended[i] = ended[i] && !begun[i];
}

/* ---- the jars of the book ---- */

static int by_due(const void *x, const void *y)
{
    const struct st_batch_jar *a = x, *b = y;
    if (!a->row.due_on != !b->row.due_on)
        return a->row.due_on ? -1 : 1;
    const int c = a->row.due_on ? strcmp(a->row.due_on, b->row.due_on) : 0;
    if (c)
        return c;
    return a->row.id < b->row.id ? -1 : a->row.id > b->row.id;
}

static enum book_status name_jar(const struct st_batch_ask *a, struct st_batch_jar *j)
{
    struct book_batch batch;
    struct book_vessel v;
    j->vessel = "";
    j->todo = (struct st_batch_todo){ .n_first = 0 };
    enum book_status s = book_get(a->book, BOOK_BATCH, j->row.batch_id, a->arena, &batch);
    if (s != BOOK_OK)
        return s;
    j->code = batch.code;
    j->name = batch.name;
    if (j->row.vessel_id == BOOK_NO)
        return BOOK_OK;
    s = book_get(a->book, BOOK_VESSEL, j->row.vessel_id, a->arena, &v);
    if (s == BOOK_OK)
        j->vessel = v.name;
    return s;
}

/* Jars that stand are few among all that ever stood: the store finds them by what is NULL. */
enum book_status st_batch_jars(const struct st_batch_ask *a, int64_t batch, bool ended_too, struct st_batch_jar **jar,
                               int *n)
{
    struct book_jar *row;
    int m;
    const struct book_wanted open = { .column = "ended_on", .text = NULL, .integer = BOOK_NO };
    const struct book_wanted own = { .column = "batch_id", .integer = batch };
    *n = 0;
    *jar = NULL;
    enum book_status s =
        book_list(a->book, BOOK_JAR, batch == BOOK_NO ? (ended_too ? NULL : &open) : &own, a->arena, &row, &m);
    if (s != BOOK_OK)
        return s;
    *jar = st_arena_alloc(a->arena, (size_t)(m + 1) * sizeof **jar);
    for (int i = 0; i < m && s == BOOK_OK; i++) {
        if (row[i].ended_on && !ended_too)
            continue;
        (*jar)[*n].row = row[i];
        s = name_jar(a, &(*jar)[(*n)++]);
    }
    if (s == BOOK_OK && *n > 0 && !ended_too)
        qsort(*jar, (size_t)*n, sizeof **jar, by_due);
    return s;
}

static int by_id(const void *x, const void *y)
{
    const int64_t a = *(const int64_t *)x, b = *(const int64_t *)y;
    return (a > b) - (a < b);
}

enum book_status st_batch_idle(const struct st_batch_ask *a, const struct st_batch_jar j[], int n,
                               struct book_batch **out, int *m)
{
    struct book_batch *all;
    int count, k = 0;
    const struct book_wanted open = { .column = "ended_on", .integer = BOOK_NO, .brief = true };
    const enum book_status s = book_list(a->book, BOOK_BATCH, &open, a->arena, &all, &count);
    int64_t *stands = st_arena_alloc(a->arena, (size_t)(n + 1) * sizeof *stands);
    *m = 0;
    if (s != BOOK_OK)
        return s;
    for (int i = 0; i < n; i++)
        stands[i] = j[i].row.batch_id;
    qsort(stands, (size_t)n, sizeof *stands, by_id);
    for (int i = 0; i < count; i++)
        if (!bsearch(&all[i].id, stands, (size_t)n, sizeof *stands, by_id))
            all[k++] = all[i];
    *out = all;
    *m = k;
    return BOOK_OK;
}

/* ---- vessels ---- */

enum book_status st_batch_vessel(const struct st_batch_ask *a, const char *name, int64_t *id)
{
    struct book_vessel v;
    enum book_status s =
        book_find(a->book, BOOK_VESSEL, &(struct book_wanted){ .column = "name", .text = name }, a->arena, &v);
    if (s == BOOK_OK)
        *id = v.id;
    if (s != BOOK_NONE)
        return s;
    book_row_init(BOOK_VESSEL, &v);
    v.name = name;
    (void)st_vessel_volume(name, a->measures, &v.volume_ml);
    return book_put(a->book, BOOK_VESSEL, &v, id);
}
