#include "api/book_refs.h"

#include <stdio.h>
#include <stdlib.h>

#include "util/memory.h"

enum { NTABLE = BOOK_NTABLE + 1 };

/* A row's id, or what refers to one. */
struct mark {
    int64_t id, index;
    struct st_place at;
    int table, to; /* to: where the id is sought */
    const char *column;
};

struct marks {
    struct mark *mark;
    size_t n, room;
};

struct st_book_refs {
    struct marks rows[NTABLE], referring;
    int64_t all;
};

struct st_book_refs *st_book_refs_create(void)
{
    return x_calloc(1, sizeof(struct st_book_refs));
}

void st_book_refs_free(struct st_book_refs *r)
{
    if (!r)
        return;
    for (int t = 0; t < NTABLE; t++)
        free(r->rows[t].mark);
    free(r->referring.mark);
    free(r);
}

void st_book_where(int t, int64_t index, char where[80])
{
    const char *name = st_book_info(t)->name;
    if (t == BOOK_NTABLE)
        snprintf(where, 80, "deeds/%lld", (long long)index);
    else
        snprintf(where, 80, "%s/%.40s/%lld", st_book_info(t)->computed ? "computed" : "tables", name, (long long)index);
}

static void add(struct marks *to, const struct mark *m)
{
    if (to->n == to->room) {
        to->room = to->room ? 2 * to->room : 64;
        to->mark = x_realloc_array(to->mark, to->room, sizeof *to->mark);
    }
    to->mark[to->n++] = *m;
}

void st_book_refs_add(struct st_book_refs *r, int t, int64_t index, const struct st_place *at, const void *row)
{
    const struct book_table_info *of = st_book_info(t);
    struct mark m = { .id = book_integer(row, &of->column[0]), .index = index, .at = *at, .table = t };

    add(&r->rows[t], &m);
    r->all++;
    for (size_t i = 1; i < of->n_column; i++) {
        const struct book_column *c = &of->column[i];
        if (c->refers == BOOK_NTABLE || (m.id = book_integer(row, c)) == BOOK_NO)
            continue;
        m.column = c->name;
        m.to = (int)c->refers;
        add(&r->referring, &m);
    }
    if (t == BOOK_NTABLE && (m.id = ((const struct book_deed_row *)row)->undoes) != BOOK_NO) {
        m.column = "undoes";
        m.to = t;
        add(&r->referring, &m);
    }
}

int64_t st_book_refs_rows(const struct st_book_refs *r, int t)
{
    return (int64_t)r->rows[t].n;
}

int64_t st_book_refs_all(const struct st_book_refs *r)
{
    return r->all;
}

int64_t st_book_refs_last(const struct st_book_refs *r, int t)
{
    int64_t last = 0;
    for (size_t i = 0; i < r->rows[t].n; i++)
        if (r->rows[t].mark[i].id > last)
            last = r->rows[t].mark[i].id;
    return last;
}

/* ---- against each other ---- */

static int by_id(const void *a, const void *b)
{
    const struct mark *x = a, *y = b;
    if (x->id != y->id)
        return x->id < y->id ? -1 : 1;
    return x->index < y->index ? -1 : x->index > y->index;
}

/* By where it stands in the document. */
static int by_place(const void *a, const void *b)
{
    const struct mark *x = a, *y = b;
    if (x->at.line != y->at.line)
        return x->at.line < y->at.line ? -1 : 1;
    return x->at.column < y->at.column ? -1 : x->at.column > y->at.column;
}

static void sort(struct marks *m, int (*how)(const void *, const void *))
{
    if (m->n > 1)
        qsort(m->mark, m->n, sizeof *m->mark, how);
}

static bool is_there(const struct marks *rows, int64_t id)
{
    size_t low = 0, high = rows->n;

    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (rows->mark[middle].id < id)
            low = middle + 1;
        else
            high = middle;
    }
    return low < rows->n && rows->mark[low].id == id;
}

static void tell(struct st_row_problems *all, const struct mark *m, const char *member, const char *try_,
                 const char *why)
{
    char where[80], whole[140], said[40];

    st_book_where(m->table, m->index, where);
    snprintf(whole, sizeof whole, "%s/%s", where, member);
    snprintf(said, sizeof said, "%lld", (long long)m->id);
    st_row_problem(all, &m->at, whole, said, try_, "%s", why);
}

static void check_ids(struct marks *rows, struct st_row_problems *all)
{
    sort(rows, by_id);
    for (size_t i = 1; i < rows->n; i++)
        if (rows->mark[i].id == rows->mark[i - 1].id)
            tell(all, &rows->mark[i], "id", "give one of them another id, and change what refers to it",
                 "another row of this table has the same id");
}

static void check_reference(const struct st_book_refs *r, const struct mark *m, struct st_row_problems *all)
{
    char why[120];

    if (is_there(&r->rows[m->to], m->id))
        return;
    snprintf(why, sizeof why, "there is no %s of that id", st_book_info(m->to)->name);
    tell(all, m, m->column, "write the id of a row that is there, or leave it out where it may be left out", why);
}

/* What was taken back came before, and is taken back once: the references of the journal are sorted by what they name. */
static void check_taken_back(const struct st_book_refs *r, struct marks *undoes, struct st_row_problems *all)
{
    for (size_t i = 0; i < r->referring.n; i++)
        if (r->referring.mark[i].to == BOOK_NTABLE)
            add(undoes, &r->referring.mark[i]);
    sort(undoes, by_id);
    for (size_t i = 1; i < undoes->n; i++)
        if (undoes->mark[i].id == undoes->mark[i - 1].id)
            tell(all, &undoes->mark[i], "undoes", "leave one of them out", "another deed has taken it back already");
}

void st_book_refs_check(struct st_book_refs *r, struct st_row_problems *all)
{
    struct marks undoes = { NULL, 0, 0 };

    for (int t = 0; t < NTABLE; t++)
        check_ids(&r->rows[t], all);
    sort(&r->referring, by_place);
    for (size_t i = 0; i < r->referring.n; i++)
        check_reference(r, &r->referring.mark[i], all);
    check_taken_back(r, &undoes, all);
    free(undoes.mark);
}
