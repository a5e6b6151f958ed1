#include "api/book_export.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "api/book_limits.h"
#include "api/json_write.h"
#include "store/pass.h"
#include "util/base64.h"

struct out {
    struct book *b;
    FILE *to;
    struct st_buf line; /* what is not written yet: a row */
    int table;
    bool first; /* row of its table */
    int64_t done, all;
    st_book_tick *tick;
    void *arg;
};

static bool flush(struct out *o)
{
    const bool good = fwrite(st_buf_text(&o->line), 1, o->line.length, o->to) == o->line.length;
    st_buf_clear(&o->line);
    return good;
}

/* ---- a value ---- */

static void add_name(struct st_buf *line, const char *name, const char *how)
{
    st_buf_printf(line, "%s\"%s%s\": ", line->text[line->length - 1] == '{' ? "" : ", ", name, how);
}

static void add_bytes(struct st_buf *line, const void *bytes, size_t size)
{
    st_buf_char(line, '"');
    st_base64_add(line, bytes, size);
    st_buf_char(line, '"');
}

static void add_text(struct st_buf *line, const void *row, const struct book_column *c)
{
    const char *x = book_text(row, c);
    const size_t n = x ? strlen(x) : 0;

    if (!x || (c->needed && n == 0))
        return;
    const bool good = st_json_is_utf8(x, n);
    add_name(line, c->name, good ? "" : ":base64");
    if (good)
        st_json_add_text(line, x, n);
    else
        add_bytes(line, x, n);
}

static void add_real(struct st_buf *line, const void *row, const struct book_column *c)
{
    const double x = book_real(row, c);

    if (isnan(x))
        return;
    add_name(line, c->name, "");
    if (isinf(x))
        st_buf_add(line, x > 0.0 ? "\"inf\"" : "\"-inf\"");
    else
        st_json_add_number(line, x);
}

static void add_value(struct st_buf *line, const void *row, const struct book_column *c)
{
    switch (c->type) {
    case BOOK_INTEGER:
        if (book_integer(row, c) != BOOK_NO) {
            add_name(line, c->name, "");
            st_buf_printf(line, "%lld", (long long)book_integer(row, c));
        }
        break;
    case BOOK_REAL: add_real(line, row, c); break;
    case BOOK_TEXT: add_text(line, row, c); break;
    case BOOK_BLOB: {
        const struct book_blob x = book_blob(row, c);
        if (x.bytes) {
            add_name(line, c->name, "");
            add_bytes(line, x.bytes, x.size);
        }
        break;
    }
    }
}

/* ---- rows and tables ---- */

static bool each_row(void *arg, const void *row)
{
    struct out *o = arg;
    const struct book_table_info *of = st_book_info(o->table);

    st_buf_add(&o->line, o->first ? "\n{" : ",\n{");
    o->first = false;
    for (size_t i = 0; i < of->n_column; i++)
        add_value(&o->line, row, &of->column[i]);
    st_buf_char(&o->line, '}');
    o->done++;
    if (o->tick)
        o->tick(o->arg, o->done, o->all);
    return flush(o);
}

static enum book_status write_table(struct out *o, int t, bool first_table)
{
    o->table = t;
    o->first = true;
    st_buf_printf(&o->line, "%s\n\"%s\": [", first_table ? "" : ",", st_book_info(t)->name);
    const enum book_status s = book_each(o->b, (enum book_table)t, each_row, o);
    st_buf_add(&o->line, o->first ? "]" : "\n]");
    return s;
}

/* All tables that were entered, or all that were computed. */
static enum book_status write_tables(struct out *o, const char *name, bool computed)
{
    enum book_status s = BOOK_OK;
    bool first = true;

    st_buf_printf(&o->line, ",\n\"%s\": {", name);
    for (int t = 0; t < BOOK_NTABLE && s == BOOK_OK; t++)
        if (st_book_info(t)->computed == computed) {
            s = write_table(o, t, first);
            first = false;
        }
    st_buf_add(&o->line, "\n}");
    return s;
}

static enum book_status write_last_ids(struct out *o)
{
    bool first = true;

    st_buf_add(&o->line, ",\n\"last_ids\": {");
    for (int t = 0; t <= BOOK_NTABLE; t++) {
        int64_t id = 0;
        const enum book_status s = book_last_id(o->b, st_book_info(t)->name, &id);
        if (s != BOOK_OK)
            return s;
        if (id > 0)
            st_buf_printf(&o->line, "%s\"%s\": %lld", first ? "" : ", ", st_book_info(t)->name, (long long)id);
        first = first && id <= 0;
    }
    st_buf_char(&o->line, '}');
    return BOOK_OK;
}

static enum book_status write_deeds(struct out *o)
{
    o->table = BOOK_NTABLE;
    o->first = true;
    st_buf_add(&o->line, ",\n\"deeds\": [");
    const enum book_status s = book_each_deed(o->b, each_row, o);
    st_buf_add(&o->line, o->first ? "]\n}\n" : "\n]\n}\n");
    return s;
}

static enum book_status count(struct out *o)
{
    enum book_status s = BOOK_OK;
    for (int t = 0; t < BOOK_NTABLE && s == BOOK_OK; t++) {
        int64_t n = 0;
        s = book_count(o->b, (enum book_table)t, NULL, &n);
        o->all += n;
    }
    return s;
}

enum book_status st_book_export(struct book *b, FILE *to, const char *at, st_book_tick *tick, void *arg, int64_t *rows)
{
    struct out o = { .b = b, .to = to, .tick = tick, .arg = arg };
    enum book_status s = book_look_begin(b);

    if (s != BOOK_OK)
        return s;
    s = count(&o);
    st_buf_printf(&o.line, "{\n\"stillroom_book\": %d,\n\"exported_at\": ", BOOK_VERSION);
    st_json_add_text(&o.line, at, strlen(at));
    if (s == BOOK_OK)
        s = write_tables(&o, "tables", false);
    if (s == BOOK_OK)
        s = write_tables(&o, "computed", true);
    if (s == BOOK_OK)
        s = write_last_ids(&o);
    if (s == BOOK_OK)
        s = write_deeds(&o);
    book_look_end(b);
    if (!flush(&o) || fflush(to) != 0 || ferror(to))
        s = s == BOOK_OK ? BOOK_E_FULL : s;
    st_buf_done(&o.line);
    *rows = o.done;
    return s;
}
