#include "api/book_batch_label.h"
#include "api/doc_batch.h"

static json_t *story(const struct st_batch_event e[], int n)
{
    json_t *list = json_array();
    for (int i = 0; i < n; i++)
        json_array_append_new(list,
                              json_pack("{s:o, s:o}", "at", st_doc_text(e[i].at), "words", st_doc_text(e[i].words)));
    return list;
}

static json_t *bottles(const struct st_batch_ask *a, const struct book_batch *row)
{
    struct book_bottling *f;
    int n = 0;
    json_t *list = json_array();
    const struct book_wanted of = { .column = "batch_id", .integer = row->id, .order = "on_day" };
    if (book_list(a->book, BOOK_BOTTLING, &of, a->arena, &f, &n) != BOOK_OK)
        return list;
    for (int i = 0; i < n; i++) {
        struct st_batch_label_line *line;
        const int m = st_batch_label_lines(a->arena, &f[i], row->name, true, &line);
        json_array_append_new(list, json_pack("{s:o, s:I, s:f, s:o, s:o}", "code", st_doc_text(f[i].code), "count",
                                              (json_int_t)f[i].count, "size_ml", f[i].size_ml, "label",
                                              *f[i].facts ? json_loads(f[i].facts, 0, NULL) : json_null(),
                                              "label_lines", st_doc_batch_label_lines(line, m)));
    }
    return list;
}

static json_t *foretold(const struct st_batch_made *m)
{
    json_t *o = m->told ? json_object() : json_null();
    if (m->told)
        st_doc_figures(o, &m->out);
    return o;
}

json_t *st_doc_batch_show(const struct st_batch_ask *a, const struct book_batch *row, const struct st_batch_event e[],
                          int n, const struct st_batch_made *planned, const struct st_batch_made *m)
{
    json_t *o = json_pack("{s:o, s:o, s:o, s:o, s:o, s:o}", "batch", st_doc_text(row->code), "name",
                          st_doc_text(row->name), "begun_on", st_doc_text(row->begun_on), "ended_on",
                          row->ended_on ? st_doc_text(row->ended_on) : json_null(), "note", st_doc_text(row->note),
                          "story", story(e, n));
    json_object_set_new(o, "bottles", bottles(a, row));
    json_object_set_new(o, "recipe", st_doc_text(st_buf_text(&m->text)));
    json_object_set_new(o, "planned", foretold(planned));
    json_object_set_new(o, "foretold", foretold(m));
    return o;
}
