#include "api/book_recipe.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "store/search.h"
#include "text/near.h"

/* Which recipes and tries there are. */

/* ---- names ---- */

static const char *ref_of(struct st_desk *d, const char *recipe, const struct book_try *t)
{
    return *t->side ? st_arena_printf(d->arena, "%s/%s/%lld", recipe, t->side, (long long)t->number)
                    : st_arena_printf(d->arena, "%s/%lld", recipe, (long long)t->number);
}

static bool no_recipe(struct st_desk *d, const char *said, const struct book_recipe *all, int n)
{
    char what[140], try_[240];
    const char *near = NULL, **name = st_arena_alloc(d->arena, ((size_t)n + 1) * sizeof *name);

    for (int i = 0; i < n; i++)
        name[i] = all[i].name;
    if (n > 0)
        near = st_near_key(said, name, (size_t)n);
    snprintf(what, sizeof what, "\"%.100s\"", said);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%.100s\"; \"stillroom recipe\" lists them", near);
    else
        snprintf(try_, sizeof try_, "%s",
                 n ? "\"stillroom recipe\" lists them" : "keep one first: stillroom recipe keep FILE");
    return st_desk_refuse(d, what, "the book has no recipe of this name", try_);
}

/* The one recipe whose name begins with what stands before the first slash; how much of ref that is, 0: none, or
 * several. */
size_t st_recipe_begun(const struct book_recipe *all, int n, const char *ref, struct book_recipe *out)
{
    const size_t k = strcspn(ref, "/");
    int found = 0;
    for (int i = 0; i < n && k >= 3; i++)
        if (strncasecmp(ref, all[i].name, k) == 0) {
            *out = all[i];
            found++;
        }
    return found == 1 ? k : 0;
}

/* The recipe whose name ref begins with, the longest such name; *rest is behind it and its slash. */
static bool recipe_of(struct st_desk *d, const char *ref, struct book_recipe *out, const char **rest)
{
    struct book_recipe *all;
    size_t best = 0;
    int n;

    if (!st_desk_good(d, book_list(d->book, BOOK_RECIPE, NULL, d->arena, &all, &n)))
        return false;
    for (int i = 0; i < n; i++) {
        const size_t k = strlen(all[i].name);
        if (k > best && strncasecmp(ref, all[i].name, k) == 0 && (ref[k] == '\0' || ref[k] == '/')) {
            best = k;
            *out = all[i];
        }
    }
    if (best == 0 && (best = st_recipe_begun(all, n, ref, out)) == 0)
        return no_recipe(d, ref, all, n);
    *rest = ref[best] ? ref + best + 1 : "";
    return true;
}

/* ---- tries ---- */

static int by_id(const void *a, const void *b)
{
    const struct book_try *x = a, *y = b;
    return (x->id > y->id) - (x->id < y->id);
}

static bool rows_of(struct st_desk *d, int64_t recipe, struct book_try **rows, int *n)
{
    const struct book_wanted w = { .column = "recipe_id", .integer = recipe };
    if (!st_desk_good(d, book_list(d->book, BOOK_TRY, &w, d->arena, rows, n)))
        return false;
    qsort(*rows, (size_t)*n, sizeof **rows, by_id);
    return true;
}

static void take_figure(const struct book_foreseen *row, struct st_try *t)
{
    for (int f = 0; f < ST_NFIG; f++)
        if (strcmp(st_figure_info((enum st_figure)f)->key, row->key) == 0) {
            enum st_status s = ST_OK;
            for (int i = ST_OK; i <= ST_ESTIMATED; i++)
                if (strcmp(st_status_text((enum st_status)i), row->status) == 0)
                    s = (enum st_status)i;
            t->fig[f] = (struct st_interval){ row->value, row->low, row->high, s, true };
            t->program = row->program;
        }
}

static bool take_figures(struct st_desk *d, struct st_try *t)
{
    struct book_foreseen *row;
    int n;
    const struct book_wanted w = { .column = "try_id", .integer = t->row.id };

    if (!st_desk_good(d, book_list(d->book, BOOK_FORESEEN, &w, d->arena, &row, &n)))
        return false;
    for (int i = 0; i < n; i++)
        take_figure(&row[i], t);
    return true;
}

/* A try whole; rows[n]: those of its recipe. */
static void fill_row(struct st_desk *d, const char *recipe, const struct book_try *rows, int n,
                     const struct book_try *row, struct st_try *out)
{
    *out = (struct st_try){ .row = *row, .recipe = recipe, .ref = ref_of(d, recipe, row) };
    out->age = st_desk_age(d, row->on_day);
    for (int i = 0; i < n; i++)
        if (row->from_try != BOOK_NO && rows[i].id == row->from_try)
            out->from = ref_of(d, recipe, &rows[i]);
}

static bool fill(struct st_desk *d, const char *recipe, const struct book_try *rows, int n, const struct book_try *row,
                 struct st_try *out)
{
    fill_row(d, recipe, rows, n, row, out);
    return take_figures(d, out);
}

/* The last of a side line; NULL: there is none. */
static const struct book_try *last_of(const struct book_try *rows, int n, const char *side)
{
    const struct book_try *last = NULL;
    for (int i = 0; i < n; i++)
        if (strcasecmp(rows[i].side, side) == 0 && (!last || rows[i].number > last->number))
            last = &rows[i];
    return last;
}

static const struct book_try *numbered(const struct book_try *rows, int n, const char *side, size_t length, long number)
{
    for (int i = 0; i < n; i++)
        if (strncasecmp(rows[i].side, side, length) == 0 && rows[i].side[length] == '\0' && rows[i].number == number)
            return &rows[i];
    return NULL;
}

/* What stands behind the recipe's name: "", "2", "less sweet one", "less sweet one/2". */
static const struct book_try *try_of(const struct book_try *rows, int n, const char *rest)
{
    const char *slash = strrchr(rest, '/'), *figure = slash ? slash + 1 : rest;
    char *end;
    const long number = strtol(figure, &end, 10);
    const bool is_number = end != figure && *end == '\0';

    if (!*rest) {
        const struct book_try *t = last_of(rows, n, "");
        return t ? t : n > 0 ? &rows[n - 1] : NULL;
    }
    const struct book_try *t = is_number ? numbered(rows, n, rest, slash ? (size_t)(slash - rest) : 0, number) : NULL;
    return t ? t : last_of(rows, n, rest);
}

static bool no_try(struct st_desk *d, const char *ref, const struct book_recipe *r, const struct book_try *rows, int n)
{
    char what[160], try_[240];
    snprintf(what, sizeof what, "\"%.120s\"", ref);
    size_t k = (size_t)snprintf(try_, sizeof try_, "there %s", n == 1 ? "is" : "are");
    for (int i = 0; i < n && k + 60 < sizeof try_; i++)
        k += (size_t)snprintf(try_ + k, sizeof try_ - k, "%s %s%.40s%s%lld", i ? "," : "", *rows[i].side ? "" : "try ",
                              rows[i].side, *rows[i].side ? "/" : "", (long long)rows[i].number);
    char why[240];
    snprintf(why, sizeof why, "%.120s has no such try", r->name);
    return st_desk_refuse(d, what, why, try_);
}

bool st_try_named(struct st_desk *d, const char *ref, struct st_try *out)
{
    struct book_recipe r = { .id = BOOK_NO };
    struct book_try *rows;
    const char *rest = "";
    int n;

    if (!recipe_of(d, ref, &r, &rest) || !rows_of(d, r.id, &rows, &n))
        return false;
    const struct book_try *t = try_of(rows, n, rest);
    return t ? fill(d, r.name, rows, n, t, out) : no_try(d, ref, &r, rows, n);
}

bool st_tries_of(struct st_desk *d, const char *ref, struct st_try **out, int *n)
{
    struct book_recipe r = { .id = BOOK_NO };
    struct book_try *rows = NULL;
    const char *rest;

    if (!recipe_of(d, ref, &r, &rest) || !rows_of(d, r.id, &rows, n))
        return false;
    *out = st_arena_alloc(d->arena, ((size_t)*n + 1) * sizeof **out);
    for (int i = 0; i < *n; i++)
        if (!fill(d, r.name, rows, *n, &rows[i], &(*out)[i]))
            return false;
    return true;
}

/* ---- all recipes ---- */

static int by_recipe(const void *a, const void *b)
{
    const struct book_try *x = a, *y = b;
    if (x->recipe_id != y->recipe_id)
        return x->recipe_id < y->recipe_id ? -1 : 1;
    return by_id(a, b);
}

static int by_name(const void *a, const void *b)
{
    return strcasecmp(((const struct st_kept_recipe *)a)->row.name, ((const struct st_kept_recipe *)b)->row.name);
}

static void sides_of(struct st_desk *d, struct st_kept_recipe *r, const struct book_try *rows, int n)
{
    r->side = st_arena_alloc(d->arena, ((size_t)n + 1) * sizeof *r->side);
    for (int main_line = 1; main_line >= 0; main_line--)
        for (int i = 0; i < n; i++) {
            int k = 0;
            if ((*rows[i].side == '\0') != (main_line == 1))
                continue;
            while (k < r->n_side && strcmp(r->side[k].name, rows[i].side) != 0)
                k++;
            if (k == r->n_side)
                r->side[r->n_side++] = (struct st_side){ rows[i].side, 0 };
            r->side[k].n++;
        }
    for (int i = 0; i < n; i++)
        if (!r->last_day || strcmp(rows[i].on_day, r->last_day) > 0)
            r->last_day = rows[i].on_day;
}

/* The figures that the list shows, of the last tries alone: of all tries there are many more.  They come first of those of a try, so
 * that the rest is only read where they do not. */
static bool list_figures(struct st_desk *d, struct st_kept_recipe *all, int n)
{
    for (int i = 0; i < n; i++) {
        struct st_try *t = &all[i].last;
        struct book_foreseen *row;
        int m;
        const struct book_wanted w = { .column = "try_id", .integer = t->row.id, .most = 2 };

        if (all[i].n_try == 0)
            continue;
        if (!st_desk_good(d, book_list(d->book, BOOK_FORESEEN, &w, d->arena, &row, &m)))
            return false;
        for (int k = 0; k < m; k++)
            take_figure(&row[k], t);
        if (m == w.most && !(t->fig[ST_FIG_STRENGTH].known && t->fig[ST_FIG_SUGAR].known) && !take_figures(d, t))
            return false;
    }
    return true;
}

static void take_recipe(struct st_desk *d, const struct book_recipe *row, const struct book_try *rows, int n,
                        struct st_kept_recipe *r)
{
    *r = (struct st_kept_recipe){ .row = *row, .n_try = n };
    sides_of(d, r, rows, n);
    const struct book_try *last = try_of(rows, n, "");
    if (last)
        fill_row(d, row->name, rows, n, last, &r->last);
}

static int by_its_id(const void *a, const void *b)
{
    const struct book_recipe *x = a, *y = b;
    return (x->id > y->id) - (x->id < y->id);
}

/* The recipes in which the words stand, themselves or in a try: hit[i] for row[i]; row[n] and rows[n_rows] by id. */
static bool find_words(struct st_desk *d, const char *words, const struct book_recipe *row, int n,
                       const struct book_try *rows, int n_rows, bool *hit)
{
    struct book_hit *found;
    int n_found;
    enum { MOST = 200 };

    if (!st_desk_good(d, book_search_rows(d->book, words, MOST, d->arena, &found, &n_found)))
        return false;
    for (int i = 0; i < n_found; i++) {
        const struct book_try t = { .id = found[i].id };
        const struct book_try *in =
            found[i].table == BOOK_TRY && n_rows > 0 ? bsearch(&t, rows, (size_t)n_rows, sizeof *rows, by_id) : NULL;
        if (!in && found[i].table != BOOK_RECIPE)
            continue;
        const struct book_recipe key = { .id = in ? in->recipe_id : found[i].id };
        const struct book_recipe *of = n > 0 ? bsearch(&key, row, (size_t)n, sizeof *row, by_its_id) : NULL;
        if (of)
            hit[of - row] = true;
    }
    return true;
}

bool st_recipes_read(struct st_desk *d, const char *words, int most, struct st_kept_recipe **out, int *n, int *of)
{
    struct book_recipe *row;
    struct book_try *rows;
    int n_row, n_rows, k = 0;
    const struct book_wanted brief = { .brief = true };

    if (!st_desk_good(d, book_list(d->book, BOOK_RECIPE, NULL, d->arena, &row, &n_row)) ||
        !st_desk_good(d, book_list(d->book, BOOK_TRY, &brief, d->arena, &rows, &n_rows)))
        return false;
    bool *hit = st_arena_alloc(d->arena, (size_t)n_row + 1);
    if (words && !find_words(d, words, row, n_row, rows, n_rows, hit))
        return false;
    qsort(rows, (size_t)n_rows, sizeof *rows, by_recipe);
    *out = st_arena_alloc(d->arena, ((size_t)n_row + 1) * sizeof **out);
    *n = 0;
    for (int i = 0; i < n_row; i++) { /* recipes come by id too */
        const struct book_try *first = rows + k;
        while (k < n_rows && rows[k].recipe_id == row[i].id)
            k++;
        if (!words || hit[i])
            take_recipe(d, &row[i], first, (int)(rows + k - first), &(*out)[(*n)++]);
    }
    qsort(*out, (size_t)*n, sizeof **out, by_name);
    *of = *n;
    if (most > 0 && *n > most)
        *n = most;
    return list_figures(d, *out, *n);
}
