#include "api/book_row_in.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/json_write.h"
#include "text/near.h"
#include "util/base64.h"

static const char ENCODED[] = ":base64";
enum { ENDING = sizeof ENCODED - 1, MOST_COLUMNS = 64 };

struct in {
    const struct st_book_limits *limits;
    int t;
    const struct book_table_info *of;
    const char *where;
    const struct st_place *at;
    struct st_arena *arena;
    void *row;
    struct st_row_problems *all;
};

void st_row_problem(struct st_row_problems *all, const struct st_place *at, const char *where, const char *said,
                    const char *try_, const char *why, ...)
{
    va_list ap;

    if (all->n++ >= ST_ROW_PROBLEMS)
        return;
    struct st_problem *p = &all->problem[all->n - 1];
    *p = (struct st_problem){ .at = *at };
    snprintf(p->what, sizeof p->what, "%.120s%s%.60s", where, said ? ": " : "", said ? said : "");
    va_start(ap, why);
    vsnprintf(p->why, sizeof p->why, why, ap);
    va_end(ap);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
}

/* About one member of the row. */
static bool wrong(struct in *in, const char *name, const json_t *v, const char *try_, const char *why)
{
    char where[160], *said = v ? json_dumps(v, JSON_ENCODE_ANY | JSON_REAL_PRECISION(12)) : NULL;

    if (said && strlen(said) > 50)
        snprintf(said + 47, 4, "...");
    snprintf(where, sizeof where, "%.80s/%.60s", in->where, name);
    st_row_problem(in->all, in->at, where, said && st_json_is_utf8(said, strlen(said)) ? said : NULL, try_, "%s", why);
    free(said);
    return false;
}

static void set(struct in *in, const struct book_column *c, const void *value, size_t size)
{
    memcpy((char *)in->row + c->offset, value, size);
}

/* ---- one value ---- */

static bool take_integer(struct in *in, const struct book_column *c, const struct st_book_limit *l, const json_t *v)
{
    char why[200];
    const int64_t x = json_integer_value(v);

    if (!json_is_integer(v))
        return wrong(in, c->name, v, "write a number such as 3", "it is no whole number");
    if (!st_book_limit_number(l, (double)x, why, sizeof why))
        return wrong(in, c->name, v, "write the number that was meant", why);
    set(in, c, &x, sizeof x);
    return true;
}

static bool take_real(struct in *in, const struct book_column *c, const struct st_book_limit *l, const json_t *v)
{
    char why[200];
    const char *word = json_string_value(v);
    double x = json_number_value(v);

    if (word && strcmp(word, "inf") == 0)
        x = HUGE_VAL;
    else if (word && strcmp(word, "-inf") == 0)
        x = -HUGE_VAL;
    else if (!json_is_number(v))
        return wrong(in, c->name, v, json_is_null(v) ? "leave it out when it is not known" : "write it without quotes",
                     "it is no number");
    if (!st_book_limit_number(l, x, why, sizeof why))
        return wrong(in, c->name, v, "write the number that was meant, in the unit that the name ends with", why);
    set(in, c, &x, sizeof x);
    return true;
}

static bool take_text(struct in *in, const struct book_column *c, const struct st_book_limit *l, const json_t *v)
{
    char why[200];
    const char *x = json_string_value(v);

    if (!x)
        return wrong(in, c->name, v, json_is_null(v) ? "leave it out when it is not known" : "write it in quotes",
                     "it is no text");
    if (!st_book_limit_text(l, x, why, sizeof why))
        return wrong(in, c->name, v, l->day || l->moment ? "write it as 2026-10-04" : "write what was meant", why);
    set(in, c, &x, sizeof x);
    return true;
}

/* base64, of a column of bytes or of a text that is no UTF-8. */
static bool take_bytes(struct in *in, const struct book_column *c, const char *name, const json_t *v)
{
    struct st_buf bytes = { 0 };
    const char *letters = json_string_value(v);
    const bool good = letters && st_base64_read(&bytes, letters, json_string_length(v));
    bool fits = good;

    if (good && c->type == BOOK_BLOB) {
        char *kept = st_arena_alloc(in->arena, bytes.length + 1);
        memcpy(kept, st_buf_text(&bytes), bytes.length);
        const struct book_blob x = { kept, bytes.length };
        set(in, c, &x, sizeof x);
    } else if (good && (fits = !memchr(st_buf_text(&bytes), '\0', bytes.length))) {
        const char *x = st_arena_strndup(in->arena, st_buf_text(&bytes), bytes.length);
        set(in, c, &x, sizeof x);
    }
    st_buf_done(&bytes);
    if (!good)
        return wrong(in, name, v, "copy it from where it was written", "it is no base64 (RFC 4648, section 4)");
    return fits || wrong(in, name, v, "take it out", "a text may not hold NUL");
}

/* ---- a row ---- */

static bool take_value(struct in *in, size_t column, const char *name, bool encoded, const json_t *v)
{
    const struct book_column *c = &in->of->column[column];
    const struct st_book_limit *l = st_book_limit(in->limits, in->t, column);

    if (encoded || c->type == BOOK_BLOB)
        return take_bytes(in, c, name, v);
    switch (c->type) {
    case BOOK_INTEGER: return take_integer(in, c, l, v);
    case BOOK_REAL: return take_real(in, c, l, v);
    default: return take_text(in, c, l, v);
    }
}

/* The column of a member, its number of columns when there is none. */
static size_t column_of(const struct in *in, const char *name, bool *encoded)
{
    const size_t n = strlen(name);
    size_t i = 0;

    *encoded = n > ENDING && strcmp(name + n - ENDING, ENCODED) == 0;
    const size_t wanted = *encoded ? n - ENDING : n;
    while (i < in->of->n_column &&
           (strncmp(in->of->column[i].name, name, wanted) != 0 || in->of->column[i].name[wanted] != '\0'))
        i++;
    if (i < in->of->n_column && *encoded && in->of->column[i].type != BOOK_TEXT)
        return in->of->n_column;
    return i;
}

static bool unknown(struct in *in, const char *name)
{
    const char *known[MOST_COLUMNS];
    char try_[160] = "leave it out";
    size_t n = 0;

    for (; n < in->of->n_column && n < MOST_COLUMNS; n++)
        known[n] = in->of->column[n].name;
    const char *near = st_near_key(name, known, n);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%s\"", near);
    return wrong(in, name, NULL, try_, "the book knows no such thing, and what is not understood is not passed over");
}

bool st_row_in(const struct st_book_limits *l, int t, const json_t *from, const char *where, const struct st_place *at,
               struct st_arena *arena, void *row, struct st_row_problems *all)
{
    struct in in = { l, t, st_book_info(t), where, at, arena, row, all };
    bool good = true, given[MOST_COLUMNS] = { false };
    const char *name;
    json_t *v;

    st_book_row_init(t, row);
    json_object_foreach((json_t *)(uintptr_t)from, name, v)
    {
        bool encoded;
        const size_t i = column_of(&in, name, &encoded);
        if (i == in.of->n_column)
            good = unknown(&in, name);
        else if (given[i])
            good = wrong(&in, name, NULL, "leave one of them out", "it is there twice");
        else
            good = take_value(&in, i, name, encoded, v) && good;
        if (i < in.of->n_column)
            given[i] = true;
    }
    for (size_t i = 0; i < in.of->n_column; i++)
        if (!given[i] && st_book_limit(l, t, i)->required)
            good = wrong(&in, in.of->column[i].name, NULL, "write it in", "it is missing");
    return good;
}
