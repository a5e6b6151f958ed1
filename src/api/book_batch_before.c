#include "api/book_batch_before.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_rest.h"
#include "api/doc.h"

enum { MOST_STEPS = 200 };

struct walk {
    const struct st_recipe *r;
    bool made[MOST_STEPS], first[MOST_STEPS], unsure[MOST_STEPS];
};

static int step_of(const struct st_recipe *r, const char *id)
{
    for (int i = 0; i < r->n_step && i < MOST_STEPS; i++)
        if (strcmp(r->step[i].id, id) == 0)
            return i;
    return -1;
}

static bool is_mixed(const struct st_step *s)
{
    return s->kind == ST_DO_SYRUP || s->kind == ST_DO_BLEND;
}

/* ---- what was made ---- */

static void count_made(struct walk *k, int step)
{
    k->made[step] = true;
    for (int i = 0; i < k->r->step[step].n_line; i++) {
        const int from = k->r->step[step].line[i].from_step;
        if (from >= 0 && from < step && k->r->step[from].kind == ST_DO_SYRUP && k->r->step[step].kind == ST_DO_SYRUP)
            count_made(k, from);
    }
}

static void look_at_weighing(struct walk *k, const struct book_weighing *w)
{
    const int step = step_of(k->r, w->step);
    if (step < 0)
        return;
    const struct st_step *s = &k->r->step[step];
    if (is_mixed(s))
        count_made(k, step);
    if (w->line < 1 || w->line > s->n_line)
        return;
    const int from = s->line[w->line - 1].from_step;
    if (from >= 0 && from < step && is_mixed(&k->r->step[from]))
        count_made(k, from);
}

/* A blend with nothing to weigh in it is made with what goes into it. */
static bool has_own_line(const struct st_step *s)
{
    for (int i = 0; i < s->n_line; i++)
        if (s->line[i].what)
            return true;
    return false;
}

static void look_at_blends(struct walk *k)
{
    for (int s = 0; s < k->r->n_step && s < MOST_STEPS; s++) {
        const struct st_step *step = &k->r->step[s];
        bool all = step->kind == ST_DO_BLEND && !has_own_line(step);
        for (int i = 0; i < step->n_line && all; i++) {
            const int from = step->line[i].from_step;
            all = from < 0 || from >= s || !is_mixed(&k->r->step[from]) || k->made[from];
        }
        k->made[s] = k->made[s] || all || st_batch_is_rest(step);
    }
}

/* ---- what is not ---- */

static void go_back(struct walk *k, int step, bool *found)
{
    const struct st_step *s = &k->r->step[step];
    for (int i = 0; i < s->n_line; i++) {
        const int from = s->line[i].from_step;
        if (from < 0 || from >= step)
            continue;
        const struct st_step *f = &k->r->step[from];
        if (is_mixed(f)) {
            found[from] = found[from] || !k->made[from];
            go_back(k, from, found);
        } else if (f->kind != ST_DO_STEEP && f->kind != ST_DO_TOAST)
            go_back(k, from, k->unsure);
    }
}

static int listed(const struct walk *k, const bool is[], int out[])
{
    int n = 0;
    for (int i = 0; i < k->r->n_step && i < MOST_STEPS && n < ST_BATCH_BEFORE; i++)
        if (is[i])
            out[n++] = i;
    return n;
}

void st_batch_before(const struct st_recipe *r, const struct book_weighing w[], int n, const char *jar,
                     struct st_batch_before *out)
{
    struct walk k = { .r = r };
    const int last = r->n_step < MOST_STEPS ? r->n_step - 1 : MOST_STEPS - 1;
    const int step = *jar ? step_of(r, jar) : last;
    *out = (struct st_batch_before){ .n_first = 0 };
    if (step < 0 || r->step[step].kind == ST_DO_STEEP || r->step[step].kind == ST_DO_TOAST)
        return;
    for (int i = 0; i < n; i++)
        look_at_weighing(&k, &w[i]);
    look_at_blends(&k);
    if (!*jar && is_mixed(&r->step[step]))
        k.first[step] = !k.made[step];
    go_back(&k, step, k.first);
    for (int i = 0; i <= last; i++)
        k.unsure[i] = k.unsure[i] && !k.first[i] && has_own_line(&r->step[i]);
    out->n_first = listed(&k, k.first, out->first);
    out->n_unsure = listed(&k, k.unsure, out->unsure);
}

/* ---- in words ---- */

static struct st_batch_chore chore(const struct st_batch_ask *a, const struct st_step *s)
{
    char lines[600] = "";
    for (int i = 0; i < s->n_line; i++) {
        const size_t n = strlen(lines);
        (void)snprintf(lines + n, sizeof lines - n, "%s%.90s", i ? "; " : "", s->line[i].text);
    }
    return (struct st_batch_chore){ st_arena_strdup(a->arena, s->id), st_do_name(s->kind),
                                    st_arena_strdup(a->arena, lines), has_own_line(s) };
}

static struct st_batch_chore *chores(const struct st_batch_ask *a, const struct st_recipe *r, const int which[], int n)
{
    struct st_batch_chore *out = st_arena_alloc(a->arena, (size_t)(n + 1) * sizeof *out);
    for (int i = 0; i < n; i++)
        out[i] = chore(a, &r->step[which[i]]);
    return out;
}

static void tell(const struct st_batch_ask *a, const struct st_recipe *r, const struct st_batch_before *x,
                 struct st_batch_todo *out)
{
    bool syrup = false;
    for (int i = 0; i < x->n_first; i++)
        syrup = syrup || r->step[x->first[i]].kind == ST_DO_SYRUP;
    *out = (struct st_batch_todo){ .first = chores(a, r, x->first, x->n_first),
                                   .unsure = chores(a, r, x->unsure, x->n_unsure),
                                   .n_first = x->n_first,
                                   .n_unsure = x->n_unsure };
    if (x->n_first == 0)
        return;
    out->waits = syrup ? "waiting for its syrup" : "waiting to be mixed";
    out->then = syrup ? "make the syrup and mix it in" : "mix it";
}

enum book_status st_batch_todo_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_recipe *r, const char *jar, struct st_batch_todo *out)
{
    struct book_weighing *w;
    struct st_batch_before x;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    *out = (struct st_batch_todo){ .n_first = 0 };
    if (*batch->said)
        return BOOK_OK;
    const enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &w, &n);
    if (s != BOOK_OK)
        return s;
    st_batch_before(r, w, n, jar, &x);
    tell(a, r, &x, out);
    return BOOK_OK;
}

/* ---- jars that stand ---- */

static bool may_wait(const struct st_batch_jar *j)
{
    return *j->row.step && !j->row.ended_on && strcmp(j->row.doing, "steeping") != 0;
}

static int by_batch(const void *x, const void *y)
{
    const int64_t a = (*(struct st_batch_jar *const *)x)->row.batch_id;
    const int64_t b = (*(struct st_batch_jar *const *)y)->row.batch_id;
    return (a > b) - (a < b);
}

static enum book_status of_one_batch(const struct st_batch_ask *a, struct st_catalogue *c, struct st_batch_jar *jar[],
                                     int n)
{
    struct book_batch batch;
    struct st_recipe_file file;
    enum book_status s = book_get(a->book, BOOK_BATCH, jar[0]->row.batch_id, a->arena, &batch);
    if (s != BOOK_OK || !*batch.text)
        return s;
    const bool read = st_recipe_read_as("its recipe", batch.text, strlen(batch.text), c, a->measures, &file) == 0;
    for (int i = 0; i < n && read && s == BOOK_OK; i++)
        s = st_batch_todo_of(a, &batch, &file.recipe, jar[i]->row.step, &jar[i]->todo);
    st_recipe_done(&file);
    return s;
}

enum book_status st_batch_jars_todo(const struct st_batch_ask *a, struct st_batch_jar jar[], int n)
{
    struct st_batch_jar **may = st_arena_alloc(a->arena, (size_t)(n + 1) * sizeof *may);
    enum book_status s = BOOK_OK;
    int m = 0;
    for (int i = 0; i < n; i++)
        if (may_wait(&jar[i]))
            may[m++] = &jar[i];
    struct st_catalogue *c = m ? a->catalogue() : NULL;
    if (!c)
        return BOOK_OK;
    qsort(may, (size_t)m, sizeof *may, by_batch);
    for (int i = 0, k = 1; i < m && s == BOOK_OK; i += k) {
        for (k = 1; i + k < m && may[i + k]->row.batch_id == may[i]->row.batch_id;)
            k++;
        s = of_one_batch(a, c, may + i, k);
    }
    st_catalogue_free(c);
    return s;
}

/* ---- the document ---- */

json_t *st_doc_batch_chores(const struct st_batch_chore x[], int n)
{
    json_t *list = json_array();
    for (int i = 0; i < n; i++)
        json_array_append_new(list, json_pack("{s:o, s:s, s:o}", "step", st_doc_text(x[i].step), "do", x[i].what,
                                              "lines", st_doc_text(x[i].lines)));
    return list;
}
