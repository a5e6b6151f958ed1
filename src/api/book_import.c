#include "api/book_import.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_refs.h"
#include "api/json_rows.h"
#include "text/near.h"
#include "util/memory.h"

enum { NTABLE = BOOK_NTABLE + 1 };
#define MOST_ROWS ((int64_t)20000000)

struct st_book_import {
    struct st_book_limits *limits;
    struct st_book_refs *refs;
    int64_t last_id[NTABLE];
};

/* One reading of the document: to look, or with `fill` to write. */
struct reading {
    struct st_book_import *i;
    struct st_json_in in;
    struct st_problem syntax;
    struct st_row_problems *problems;
    struct book_fill *fill;
    enum book_status status; /* of the store */
    st_book_import_tick *tick;
    void *arg;
    int64_t done;
    bool has_version, seen[NTABLE], seen_ids;
};

/* ---- a row ---- */

/* What no deed of this program writes: batch end refuses it.  (A lot from which more was taken than it held is no such thing: more may be
 * weighed in than there was by the book.) */
static void look_at_days(struct reading *r, int64_t index, const struct st_place *at, const struct book_batch *b)
{
    char where[80], whole[100];

    if (!b->ended_on || strncmp(b->ended_on, b->begun_on, 10) >= 0)
        return;
    st_book_where(BOOK_BATCH, index, where);
    snprintf(whole, sizeof whole, "%s/ended_on", where);
    st_row_problem(r->problems, at, whole, b->ended_on, "look at both days",
                   "the batch cannot be over before it was begun, on %.10s", b->begun_on);
}

static bool look_at(struct reading *r, int t, int64_t index, const struct st_place *at, const void *row)
{
    char where[80];

    if (t == BOOK_NTABLE) {
        const struct book_deed_row *d = row;
        st_book_where(t, index, where);
        if (d->undoes != BOOK_NO && d->undoes >= d->id) {
            st_row_problem(r->problems, at, where, "undoes", "write the id of an earlier one",
                           "a deed takes back what was done before it");
            return true;
        }
    }
    if (t == BOOK_BATCH)
        look_at_days(r, index, at, row);
    st_book_refs_add(r->i->refs, t, index, at, row);
    if (st_book_refs_all(r->i->refs) > MOST_ROWS)
        return st_json_fail(&r->in, false, "it has too many rows", "a book holds up to twenty million",
                            "look at what it holds");
    return true;
}

static bool write(struct reading *r, int t, int64_t index, const struct st_place *at, const void *row)
{
    char where[80];

    r->status = t == BOOK_NTABLE ? book_fill_deed(r->fill, row) : book_fill_row(r->fill, (enum book_table)t, row);
    if (r->tick)
        r->tick(r->arg, ++r->done, st_book_refs_all(r->i->refs));
    if (r->status == BOOK_OK)
        return true;
    if (r->status == BOOK_E_REFUSED) {
        const struct book_said *said = book_said(book_fill_book(r->fill));
        st_book_where(t, index, where);
        st_row_problem(r->problems, at, where, NULL, said->try_, "%.220s", said->why);
    }
    return false;
}

static bool read_row(struct reading *r, int t, int64_t index)
{
    struct st_arena arena = { 0 };
    char where[80];
    json_t *v = st_json_value(&r->in, true);
    const struct st_place at = r->in.began;

    if (!v)
        return false;
    void *row = x_calloc(1, st_book_info(t)->size);
    st_book_where(t, index, where);
    bool go_on = true;
    if (st_row_in(r->i->limits, t, v, where, &at, &arena, row, r->problems))
        go_on = r->fill ? write(r, t, index, &at, row) : look_at(r, t, index, &at, row);
    else if (r->problems->n >= ST_ROW_PROBLEMS || r->fill)
        go_on = false;
    free(row);
    json_decref(v);
    st_arena_done(&arena);
    return go_on;
}

static bool read_rows(struct reading *r, int t)
{
    bool first = true;
    int64_t index = 0;

    if (r->seen[t])
        return st_json_fail(&r->in, false, "the same name twice", "each table stands there once", "put them together");
    r->seen[t] = true;
    if (!st_json_take(&r->in, '['))
        return false;
    while (st_json_more(&r->in, ']', &first))
        if (!read_row(r, t, index++))
            return false;
    return !r->in.failed;
}

/* ---- the document ---- */

static bool unknown(struct reading *r, const char *name, const char *const known[], size_t n)
{
    char what[ST_JSON_NAME + 40],
        try_[160] = "it may be a document of another program, or of a later version of this one";
    const char *near = st_near_key(name, known, n);

    snprintf(what, sizeof what, "there is no \"%s\" in a book", name);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%s\"", near);
    return st_json_fail(&r->in, false, what, "what is not understood is not passed over", try_);
}

/* The table of a name, -1 after a problem; any: the computed, and the journal, too. */
static int table_named(struct reading *r, const char *name, bool computed, bool any)
{
    const char *known[NTABLE];
    size_t n = 0;

    for (int t = 0; t < BOOK_NTABLE + any; t++) {
        if (!any && st_book_info(t)->computed != computed)
            continue;
        known[n++] = st_book_info(t)->name;
        if (strcmp(known[n - 1], name) == 0)
            return t;
    }
    unknown(r, name, known, n);
    return -1;
}

static bool read_tables(struct reading *r, bool computed)
{
    char name[ST_JSON_NAME + 1];
    bool first = true;

    if (!st_json_take(&r->in, '{'))
        return false;
    while (st_json_more(&r->in, '}', &first)) {
        const int t = st_json_name(&r->in, name) ? table_named(r, name, computed, false) : -1;
        if (t < 0 || !read_rows(r, t))
            return false;
    }
    return !r->in.failed;
}

static bool read_version(struct reading *r)
{
    char why[160];
    json_t *v = st_json_value(&r->in, false);
    const json_int_t version = json_integer_value(v);
    const bool whole = json_is_integer(v);

    json_decref(v);
    if (!v)
        return false;
    if (!whole || version < 1)
        return st_json_fail(&r->in, false, "\"stillroom_book\" is no version", "it is a whole number from 1",
                            "copy it from where the document was written");
    if (version > BOOK_VERSION) {
        snprintf(why, sizeof why, "it was written by a later version of this program (schema %lld, this one knows %d)",
                 (long long)version, BOOK_VERSION);
        return st_json_fail(&r->in, false, "cannot import it", why, "update the program");
    }
    r->has_version = true;
    return true;
}

static bool read_moment(struct reading *r)
{
    json_t *v = st_json_value(&r->in, false);
    const bool good = json_is_string(v) && json_string_length(v) <= 40;

    json_decref(v);
    return good || st_json_fail(&r->in, false, "\"exported_at\" is no moment", "it is a text such as 2026-10-04T18:30",
                                "leave it out");
}

static bool one_last_id(struct reading *r, const char *name, const json_t *v)
{
    const int t = table_named(r, name, false, true);
    const json_int_t id = json_integer_value(v);

    if (t < 0)
        return false;
    if (!json_is_integer(v) || id < 1 || id > ((json_int_t)1 << 40) - 1)
        return st_json_fail(&r->in, false, "an id in \"last_ids\" is none", "it is a whole number from 1",
                            "leave \"last_ids\" out");
    r->i->last_id[t] = id;
    return true;
}

static bool read_last_ids(struct reading *r)
{
    const char *name;
    json_t *v, *all = st_json_value(&r->in, true);
    bool good = all != NULL;

    json_object_foreach(all, name, v) good = good && one_last_id(r, name, v);
    if (good && r->seen_ids)
        good = st_json_fail(&r->in, false, "\"last_ids\" is there twice", "one of them is too many", "take one out");
    r->seen_ids = true;
    json_decref(all);
    return good;
}

static bool read_member(struct reading *r, const char *name)
{
    static const char *const KNOWN[] = { "stillroom_book", "exported_at", "tables", "computed", "last_ids", "deeds" };
    const size_t n = sizeof KNOWN / sizeof *KNOWN;
    size_t k = 0;

    while (k < n && strcmp(KNOWN[k], name) != 0)
        k++;
    switch (k) {
    case 0: return read_version(r);
    case 1: return read_moment(r);
    case 2: return read_tables(r, false);
    case 3: return read_tables(r, true);
    case 4: return read_last_ids(r);
    case 5: return read_rows(r, BOOK_NTABLE);
    default: return unknown(r, name, KNOWN, n);
    }
}

static bool read_document(struct reading *r)
{
    char name[ST_JSON_NAME + 1];
    bool first = true;

    if (!st_json_take(&r->in, '{'))
        return false;
    while (st_json_more(&r->in, '}', &first))
        if (!st_json_name(&r->in, name) || !read_member(r, name))
            return false;
    if (r->in.failed || !st_json_end(&r->in))
        return false;
    if (!r->has_version)
        return st_json_fail(&r->in, true, "\"stillroom_book\" is missing", "it tells by which version it was written",
                            "copy it from where the document was written");
    return true;
}

/* One reading from the beginning; whether all was read. */
static bool read_all(struct reading *r, FILE *file)
{
    rewind(file);
    st_json_begin(&r->in, file, &r->syntax);
    const bool whole = !r->in.failed && read_document(r);
    st_json_done(&r->in);
    return whole;
}

/* ---- looking ---- */

/* The syntax comes first: what was found in rows before it may be told as well. */
static void add_syntax(struct reading *r)
{
    struct st_row_problems *all = r->problems;
    const int kept = all->n < ST_ROW_PROBLEMS ? all->n : ST_ROW_PROBLEMS - 1;

    if (!r->in.failed)
        return;
    memmove(all->problem + 1, all->problem, (size_t)kept * sizeof *all->problem);
    all->problem[0] = r->syntax;
    all->n = kept + 1;
}

struct st_book_import *st_book_import_look(FILE *file, struct st_row_problems *problems)
{
    struct st_book_import *i = x_calloc(1, sizeof *i);
    struct reading r = { .i = i, .problems = problems };
    const char *why;

    *problems = (struct st_row_problems){ .n = 0 };
    i->refs = st_book_refs_create();
    i->limits = st_book_limits_create(&why);
    if (!i->limits) {
        const struct st_place nowhere = { 0, 0 };
        st_row_problem(problems, &nowhere, "the document", NULL, "build the program again from its sources", "%s", why);
        return i;
    }
    if (read_all(&r, file) && problems->n == 0)
        st_book_refs_check(i->refs, problems);
    add_syntax(&r);
    return i;
}

void st_book_import_free(struct st_book_import *i)
{
    if (!i)
        return;
    st_book_limits_free(i->limits);
    st_book_refs_free(i->refs);
    free(i);
}

int64_t st_book_import_rows(const struct st_book_import *i, int t)
{
    return st_book_refs_rows(i->refs, t);
}

/* ---- writing ---- */

static enum book_status write_last_ids(struct reading *r)
{
    enum book_status s = BOOK_OK;

    for (int t = 0; t < NTABLE && s == BOOK_OK; t++) {
        const int64_t last = st_book_refs_last(r->i->refs, t), said = r->i->last_id[t];
        if (said > last)
            s = book_fill_last_id(r->fill, st_book_info(t)->name, said);
    }
    return s;
}

enum book_status st_book_import_write(struct st_book_import *i, FILE *file, struct book *b, st_book_import_tick *tick,
                                      void *arg, struct st_row_problems *problems)
{
    struct reading r = { .i = i, .problems = problems, .tick = tick, .arg = arg };

    r.status = book_fill_begin(b, &r.fill);
    if (r.status != BOOK_OK)
        return r.status;
    const bool whole = read_all(&r, file);
    if (whole)
        r.status = write_last_ids(&r);
    if (whole && r.status == BOOK_OK)
        return book_fill_end(r.fill);
    add_syntax(&r); /* the file has been changed since it was looked at */
    book_fill_cancel(r.fill);
    return r.status == BOOK_OK ? BOOK_E_REFUSED : r.status;
}
