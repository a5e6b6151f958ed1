#include "api/book_limits.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text/calendar_day.h"
#include "util/embedded.h"
#include "util/memory.h"

enum { NTABLE = BOOK_NTABLE + 1 };

struct st_book_limits {
    json_t *schema;
    struct st_book_limit *of[NTABLE];
};

const struct book_table_info *st_book_info(int t)
{
    return t == BOOK_NTABLE ? &book_deed_info : book_table_info((enum book_table)t);
}

void st_book_row_init(int t, void *row)
{
    static const struct book_deed_row none = { .at = "", .words = "", .undoes = BOOK_NO };
    if (t == BOOK_NTABLE)
        memcpy(row, &none, sizeof none);
    else
        book_row_init((enum book_table)t, row);
}

/* ---- from the schema ---- */

static const char DAY[] = "^[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]$";
static const char MOMENT[] = "^[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]";

static void read_number(const json_t *from, const char *name, bool is_open, double *x, bool *open)
{
    const json_t *v = json_object_get(from, name);
    if (!json_is_number(v))
        return;
    *x = json_number_value(v);
    *open = is_open;
}

static void read_length(const json_t *from, const char *name, int64_t *x)
{
    const json_t *v = json_object_get(from, name);
    if (json_is_integer(v))
        *x = json_integer_value(v);
}

/* The keywords that the schema of the book uses, and no other. */
static void read_limit(const json_t *from, struct st_book_limit *l)
{
    const json_t *pattern = json_object_get(from, "pattern"), *choice = json_object_get(from, "enum");

    read_number(from, "minimum", false, &l->low, &l->low_open);
    read_number(from, "maximum", false, &l->high, &l->high_open);
    read_number(from, "exclusiveMinimum", true, &l->low, &l->low_open);
    read_number(from, "exclusiveMaximum", true, &l->high, &l->high_open);
    read_length(from, "minLength", &l->shortest);
    read_length(from, "maxLength", &l->longest);
    if (choice)
        l->choice = choice;
    if (pattern) {
        l->day = strcmp(json_string_value(pattern), DAY) == 0;
        l->moment = strcmp(json_string_value(pattern), MOMENT) == 0;
        assert(l->day || l->moment);
    }
}

/* What "#/$defs/NAME" leads to. */
static const json_t *referred(const json_t *schema, const json_t *from)
{
    static const char START[] = "#/$defs/";
    const char *ref = json_string_value(json_object_get(from, "$ref"));

    if (!ref || strncmp(ref, START, strlen(START)) != 0)
        return NULL;
    return json_object_get(json_object_get(schema, "$defs"), ref + strlen(START));
}

static bool is_required(const json_t *table, const char *column)
{
    const json_t *all = json_object_get(table, "required");
    for (size_t i = 0; i < json_array_size(all); i++)
        if (strcmp(json_string_value(json_array_get(all, i)), column) == 0)
            return true;
    return false;
}

/* False when a column has no line in the schema. */
static bool read_table(struct st_book_limits *l, int t)
{
    const struct book_table_info *of = st_book_info(t);
    const json_t *table = json_object_get(json_object_get(l->schema, "$defs"), of->name);

    l->of[t] = x_calloc(of->n_column, sizeof *l->of[t]);
    for (size_t i = 0; i < of->n_column; i++) {
        struct st_book_limit *to = &l->of[t][i];
        const json_t *said = json_object_get(json_object_get(table, "properties"), of->column[i].name);
        if (!said)
            return false;
        *to = (struct st_book_limit){ .low = -HUGE_VAL, .high = HUGE_VAL, .longest = INT64_MAX };
        read_limit(referred(l->schema, said), to);
        read_limit(said, to);
        to->required = is_required(table, of->column[i].name);
    }
    return true;
}

struct st_book_limits *st_book_limits_create(const char **why)
{
    const struct st_embedded *e = st_embedded_find("schema/book.schema.json");
    struct st_book_limits *l = x_calloc(1, sizeof *l);
    bool good = true;

    *why = "its schema was not built into this program";
    l->schema = e ? json_loadb((const char *)e->bytes, e->size, 0, NULL) : NULL;
    if (l->schema)
        *why = "its schema in this program lacks a column";
    for (int t = 0; t < NTABLE && l->schema && good; t++)
        good = read_table(l, t);
    if (l->schema && good)
        return l;
    st_book_limits_free(l);
    return NULL;
}

void st_book_limits_free(struct st_book_limits *l)
{
    if (!l)
        return;
    for (int t = 0; t < NTABLE; t++)
        free(l->of[t]);
    json_decref(l->schema);
    free(l);
}

const struct st_book_limit *st_book_limit(const struct st_book_limits *l, int t, size_t column)
{
    assert(t >= 0 && t < NTABLE && column < st_book_info(t)->n_column);
    return &l->of[t][column];
}

/* ---- a value ---- */

static void tell_choice(const json_t *all, char *why, size_t size)
{
    size_t n = 0;

    why[0] = '\0';
    for (size_t i = 0; i < json_array_size(all) && n + 1 < size; i++) {
        const json_t *v = json_array_get(all, i);
        const char *sep = i == 0 ? "it may be " : i + 1 == json_array_size(all) ? " or " : ", ";
        const int k = json_is_string(v) ? snprintf(why + n, size - n, "%s\"%s\"", sep, json_string_value(v))
                                        : snprintf(why + n, size - n, "%s%lld", sep, (long long)json_integer_value(v));
        n += k > 0 ? (size_t)k : 0;
    }
}

bool st_book_limit_number(const struct st_book_limit *l, double x, char *why, size_t size)
{
    bool among = !l->choice;

    for (size_t i = 0; !among && i < json_array_size(l->choice); i++)
        among = x == json_number_value(json_array_get(l->choice, i));
    if (!among)
        tell_choice(l->choice, why, size);
    else if (x < l->low || (l->low_open && x <= l->low))
        snprintf(why, size, "%.15g is %s %.15g", x, l->low_open ? "not more than" : "less than", l->low);
    else if (x > l->high || (l->high_open && x >= l->high))
        snprintf(why, size, "%.15g is %s %.15g", x, l->high_open ? "not less than" : "more than", l->high);
    else
        return true;
    return false;
}

/* What each place of a day may hold. */
static bool is_day(const char *s)
{
    static const char *const MAY[10] = { "12", "0123456789", "0123456789", "0123456789", "-",
                                         "01", "0123456789", "-",          "0123",       "0123456789" };
    for (int i = 0; i < 10; i++)
        if (!s[i] || !strchr(MAY[i], s[i]))
            return false;
    return true;
}

/* The first ten letters of text are a day that the calendar has. */
static bool is_of_calendar(const char *text)
{
    char day[11] = "";
    long n = 0;
    memcpy(day, text, 10);
    return st_day_number(day, &n);
}

static int64_t letters(const char *s)
{
    int64_t n = 0;
    for (; *s; s++)
        n += ((unsigned char)*s & 0xc0) != 0x80;
    return n;
}

bool st_book_limit_text(const struct st_book_limit *l, const char *text, char *why, size_t size)
{
    const int64_t n = letters(text);
    bool among = !l->choice;

    for (size_t i = 0; !among && i < json_array_size(l->choice); i++) {
        const char *one = json_string_value(json_array_get(l->choice, i));
        among = one && strcmp(one, text) == 0;
    }
    if (!among)
        tell_choice(l->choice, why, size);
    else if ((l->day || l->moment) && !is_day(text))
        snprintf(why, size, "it is no day as the book writes them");
    else if ((l->day || l->moment) && !is_of_calendar(text))
        snprintf(why, size, "the calendar has no such day");
    else if (l->day && text[10])
        snprintf(why, size, "it is longer than a day");
    else if (n < l->shortest)
        snprintf(why, size, n == 0 ? "it is empty" : "it is too short");
    else if (n > l->longest)
        snprintf(why, size, "it has %lld letters, more than %lld", (long long)n, (long long)l->longest);
    else
        return true;
    return false;
}
