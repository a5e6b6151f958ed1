#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_limits.h"
#include "util/embedded.h"

/* The schema of a book's document against the tables of the store: the same columns, and the same limits as the SQL has, by
 * trying values at each limit and just past it. */

enum { NTABLE = BOOK_NTABLE + 1, ROOM = 1024 };

static json_t *schema;
static struct st_book_limits *limits;
static struct book *b;
static union {
    char bytes[ROOM];
    double align;
} row;

static int begin(void **state)
{
    (void)state;
    const char *why;
    const struct st_embedded *e = st_embedded_find("schema/book.schema.json");
    schema = e ? json_loadb((const char *)e->bytes, e->size, JSON_REJECT_DUPLICATES, NULL) : NULL;
    limits = st_book_limits_create(&why);
    return schema && limits && book_open(":memory:", BOOK_WRITE, &b) == BOOK_OK ? 0 : -1;
}

static int end(void **state)
{
    (void)state;
    json_decref(schema);
    st_book_limits_free(limits);
    book_close(b);
    return 0;
}

/* ---- the same columns ---- */

static const json_t *table_of(int t)
{
    return json_object_get(json_object_get(schema, "$defs"), st_book_info(t)->name);
}

static void each_column_has_its_line_and_no_line_is_over(void **state)
{
    (void)state;
    for (int t = 0; t < NTABLE; t++) {
        const struct book_table_info *of = st_book_info(t);
        const json_t *lines = json_object_get(table_of(t), "properties");
        if (json_object_size(lines) != of->n_column)
            fail_msg("%s: %zu lines, %zu columns", of->name, json_object_size(lines), of->n_column);
        for (size_t i = 0; i < of->n_column; i++)
            if (!json_object_get(lines, of->column[i].name))
                fail_msg("the schema lacks %s.%s", of->name, of->column[i].name);
        assert_true(json_is_false(json_object_get(table_of(t), "additionalProperties")));
        assert_true(of->size <= ROOM);
    }
}

static void each_type_is_that_of_its_column(void **state)
{
    (void)state;
    for (int t = 0; t < NTABLE; t++)
        for (size_t i = 0; i < st_book_info(t)->n_column; i++) {
            const struct book_column *c = &st_book_info(t)->column[i];
            const json_t *line = json_object_get(json_object_get(table_of(t), "properties"), c->name);
            const char *ref = json_string_value(json_object_get(line, "$ref"));
            const json_t *from =
                ref ? json_object_get(json_object_get(schema, "$defs"), ref + strlen("#/$defs/")) : line;
            const json_t *choice = json_array_get(json_object_get(from, "enum"), 0);
            const char *type = json_string_value(json_object_get(from, "type"));
            static const char *const WANTED[] = { "integer", "number", "string", "string" };
            if (choice)
                type = json_is_string(choice) ? "string" : "integer";
            if (json_object_get(from, "anyOf"))
                type = "number";
            if (!type || strcmp(type, WANTED[c->type]) != 0)
                fail_msg("%s.%s: type %s", st_book_info(t)->name, c->name, type ? type : "none");
        }
}

static void each_table_stands_where_it_belongs(void **state)
{
    (void)state;
    const json_t *top = json_object_get(schema, "properties");
    for (int t = 0; t < BOOK_NTABLE; t++) {
        const struct book_table_info *of = st_book_info(t);
        const json_t *in = json_object_get(json_object_get(top, of->computed ? "computed" : "tables"), "properties");
        const json_t *out = json_object_get(json_object_get(top, of->computed ? "tables" : "computed"), "properties");
        assert_non_null(json_object_get(in, of->name));
        assert_null(json_object_get(out, of->name));
    }
    assert_int_equal(json_object_size(json_object_get(json_object_get(top, "last_ids"), "properties")), NTABLE);
    assert_int_equal(json_integer_value(json_object_get(json_object_get(top, "stillroom_book"), "maximum")),
                     BOOK_VERSION);
}

/* ---- the same limits ---- */

static char *many_letters(int64_t n)
{
    char *s = calloc((size_t)n + 1, 1);
    assert_non_null(s);
    memset(s, 'a', (size_t)n);
    return s;
}

static void set(const struct book_column *c, const void *value, size_t size)
{
    memcpy(row.bytes + c->offset, value, size);
}

static void set_text(const struct book_column *c, const char *text)
{
    set(c, &text, sizeof text);
}

static void set_number(const struct book_column *c, double x)
{
    const int64_t n = (int64_t)x;
    if (c->type == BOOK_INTEGER)
        set(c, &n, sizeof n);
    else
        set(c, &x, sizeof x);
}

/* A value that fits. */
static void set_good(const struct book_column *c, const struct st_book_limit *l)
{
    static char sixty_four[65];
    static const struct book_blob one = { "x", 1 };

    memset(sixty_four, 'a', 64);
    if (c->type == BOOK_BLOB)
        set(c, &one, sizeof one);
    else if (c->type != BOOK_TEXT)
        set_number(c, l->choice ? json_number_value(json_array_get(l->choice, 0)) : 1.0);
    else if (l->choice)
        set_text(c, json_string_value(json_array_get(l->choice, 0)));
    else
        set_text(c, l->day || l->moment ? "2026-10-04" : l->shortest > 1 ? sixty_four : "a");
}

/* A row with what is required, and no more. */
static void set_row(int t)
{
    const struct book_table_info *of = st_book_info(t);
    const int64_t one = 1;

    st_book_row_init(t, row.bytes);
    for (size_t i = 0; i < of->n_column; i++)
        if (st_book_limit(limits, t, i)->required)
            set_good(&of->column[i], st_book_limit(limits, t, i));
    if (t == BOOK_PHOTO) /* of something */
        ((struct book_photo *)(void *)row.bytes)->batch_id = one;
}

/* References are looked at when a deed ends: none of these does. */
static enum book_status put(int t)
{
    assert_int_equal(book_begin(b, "2026-10-04", "try"), BOOK_OK);
    const enum book_status s = book_put_as(b, (enum book_table)t, row.bytes);
    book_cancel(b);
    return s;
}

static void demand(int t, const struct book_column *c, const char *what, bool good)
{
    const enum book_status s = put(t);
    if (s != (good ? BOOK_OK : BOOK_E_REFUSED))
        fail_msg("%s.%s, %s: the schema says %s, the book %s", st_book_info(t)->name, c->name, what,
                 good ? "yes" : "no", s == BOOK_OK ? "yes" : book_said(b)->why);
}

static void at_number(int t, const struct book_column *c, double x, const char *what, bool good)
{
    set_row(t);
    set_number(c, x);
    demand(t, c, what, good);
}

static double next(const struct book_column *c, double x, double to)
{
    return c->type == BOOK_INTEGER ? x + (to > x ? 1.0 : -1.0) : nextafter(x, to);
}

static void try_number(int t, const struct book_column *c, const struct st_book_limit *l)
{
    if (isfinite(l->low)) {
        at_number(t, c, l->low, "lowest", !l->low_open);
        at_number(t, c, next(c, l->low, -HUGE_VAL), "below the lowest", false);
        at_number(t, c, next(c, l->low, HUGE_VAL), "above the lowest", true);
    }
    if (isfinite(l->high)) {
        at_number(t, c, l->high, "highest", !l->high_open);
        at_number(t, c, next(c, l->high, HUGE_VAL), "above the highest", false);
        at_number(t, c, next(c, l->high, -HUGE_VAL), "below the highest", true);
    }
    for (size_t i = 0; i < json_array_size(l->choice); i++)
        at_number(t, c, json_number_value(json_array_get(l->choice, i)), "a choice", true);
    if (l->choice)
        at_number(t, c, 77.0, "no choice", false);
}

static void at_text(int t, const struct book_column *c, const char *text, const char *what, bool good)
{
    set_row(t);
    set_text(c, text);
    demand(t, c, what, good);
}

static void at_length(int t, const struct book_column *c, int64_t n, const char *what, bool good)
{
    char *text = many_letters(n);
    at_text(t, c, text, what, good);
    free(text);
}

static void try_text(int t, const struct book_column *c, const struct st_book_limit *l)
{
    if (l->day || l->moment) {
        at_text(t, c, "2026-1-04", "no day", false);
        at_text(t, c, "2026-12-31", "a day", true);
        at_text(t, c, "2026-12-31T23:59", "a moment", l->moment);
        at_text(t, c, "2026-12-31T23:59:59", "a longer moment", false);
        return;
    }
    for (size_t i = 0; i < json_array_size(l->choice); i++)
        at_text(t, c, json_string_value(json_array_get(l->choice, i)), "a choice", true);
    if (l->choice)
        at_text(t, c, "zzz", "no choice", false);
    if (l->shortest > 0) {
        at_length(t, c, l->shortest, "shortest", true);
        at_length(t, c, l->shortest - 1, "too short", false);
    }
    if (l->longest < INT64_MAX) {
        at_length(t, c, l->longest, "longest", true);
        at_length(t, c, l->longest + 1, "too long", false);
    }
}

static void the_book_has_the_limits_of_the_schema(void **state)
{
    (void)state;
    for (int t = 0; t < BOOK_NTABLE; t++) {
        const struct book_table_info *of = st_book_info(t);
        set_row(t);
        demand(t, &of->column[0], "with what is required alone", true);
        for (size_t i = 1; i < of->n_column; i++) {
            const struct book_column *c = &of->column[i];
            const struct st_book_limit *l = st_book_limit(limits, t, i);
            if (c->refers != BOOK_NTABLE || c->type == BOOK_BLOB)
                continue; /* ids are limited by the index of words, not by the table */
            if (t == BOOK_PICTURE && strcmp(c->name, "size") == 0)
                continue; /* the length of its data, always */
            if (c->type == BOOK_TEXT)
                try_text(t, c, l);
            else
                try_number(t, c, l);
        }
    }
}

static void values_are_refused_with_a_reason(void **state)
{
    (void)state;
    char why[200];
    const struct st_book_limit *amount = st_book_limit(limits, BOOK_LOT, 7);

    assert_string_equal(st_book_info(BOOK_LOT)->column[7].name, "amount");
    assert_true(st_book_limit_number(amount, 0.0, why, sizeof why));
    assert_false(st_book_limit_number(amount, -5.0, why, sizeof why));
    assert_string_equal(why, "-5 is less than 0");
    assert_false(st_book_limit_number(amount, 1e9, why, sizeof why));
    assert_string_equal(why, "1000000000 is not less than 1000000000");
    assert_false(st_book_limit_text(st_book_limit(limits, BOOK_LOT, 2), "stolen", why, sizeof why));
    assert_string_equal(why, "it may be \"bought\", \"made\" or \"spent\"");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_column_has_its_line_and_no_line_is_over),
        cmocka_unit_test(each_type_is_that_of_its_column),
        cmocka_unit_test(each_table_stands_where_it_belongs),
        cmocka_unit_test(the_book_has_the_limits_of_the_schema),
        cmocka_unit_test(values_are_refused_with_a_reason),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
