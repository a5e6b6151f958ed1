#include <string.h>

#include "api/doc_batch.h"
#include "text/calendar_day.h"

static long days_since(long today, const char *iso)
{
    long n;
    return st_day_number(iso, &n) ? today - n : 0;
}

static json_t *text_or_null(const char *text)
{
    return text ? st_doc_text(text) : json_null();
}

json_t *st_doc_batch_jar(const struct st_batch_jar *j, long today)
{
    json_t *o = json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:I, s:o}", "batch", st_doc_text(j->code), "name",
                          st_doc_text(j->name), "step", st_doc_text(j->row.step), "doing",
                          st_doc_text(j->todo.waits ? j->todo.waits : j->row.doing), "vessel", st_doc_text(j->vessel),
                          "where", st_doc_text(j->row.place), "begun_on", st_doc_text(j->row.begun_on), "days",
                          (json_int_t)days_since(today, j->row.begun_on), "due_on", text_or_null(j->row.due_on));
    json_object_set_new(o, "due_in_days",
                        j->row.due_on ? json_integer(-(json_int_t)days_since(today, j->row.due_on)) : json_null());
    json_object_set_new(o, "then", st_doc_text(j->todo.then ? j->todo.then : st_batch_then(j->row.doing)));
    json_object_set_new(o, "ended_on", text_or_null(j->row.ended_on));
    json_object_set_new(o, "first", st_doc_batch_chores(j->todo.first, j->todo.n_first));
    json_object_set_new(o, "not_known_whether_in", st_doc_batch_chores(j->todo.unsure, j->todo.n_unsure));
    return o;
}

json_t *st_doc_batch_stands(const char *day, long today, const struct st_batch_jar j[], int n,
                            const struct book_batch idle[], int m)
{
    json_t *jars = json_array(), *others = json_array();
    for (int i = 0; i < n; i++)
        json_array_append_new(jars, st_doc_batch_jar(&j[i], today));
    for (int i = 0; i < m; i++)
        json_array_append_new(others, json_pack("{s:o, s:o, s:o}", "batch", st_doc_text(idle[i].code), "name",
                                                st_doc_text(idle[i].name), "begun_on", st_doc_text(idle[i].begun_on)));
    return json_pack("{s:s, s:o, s:o}", "today", day, "jars", jars, "nothing_stands", others);
}

json_t *st_doc_batch_all(const struct book_batch all[], int n, int of)
{
    json_t *list = json_array();
    for (int i = 0; i < n; i++)
        json_array_append_new(list, json_pack("{s:o, s:o, s:o, s:o}", "batch", st_doc_text(all[i].code), "name",
                                              st_doc_text(all[i].name), "begun_on", st_doc_text(all[i].begun_on),
                                              "ended_on", text_or_null(all[i].ended_on)));
    return json_pack("{s:o, s:i}", "batches", list, "left_out", of - n);
}

/* ---- what comes next ---- */

/* Lines of the recipe that nobody weighed, of the steps that were begun. */
static void unweighed(const struct st_recipe *r, const struct book_weighing w[], int n, json_t *list)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            bool known = !r->step[s].line[i].what;
            for (int k = 0; k < n && !known; k++)
                known = w[k].line == i + 1 && strcmp(w[k].step, r->step[s].id) == 0;
            if (!known)
                json_array_append_new(list, json_pack("{s:s, s:i, s:o}", "step", r->step[s].id, "line", i + 1,
                                                      "planned", st_doc_text(r->step[s].line[i].text)));
        }
}

/* Steps that take no time and lead to what comes after a jar: "make the syrup". */
static void chores(const struct st_recipe *r, const struct st_batch_jar *j, int n, json_t *list)
{
    bool ended[ST_BATCH_STEPS], begun[ST_BATCH_STEPS], after[ST_BATCH_STEPS] = { false };
    st_batch_jars_mark(r, j, n, ended, begun);
    for (int i = 0; i < r->n_step; i++) { /* what is made of a jar that is over was made */
        bool over = ended[i] || begun[i];
        after[i] = !st_batch_step_stands(&r->step[i]) && !over;
        for (int k = i + 1; k < r->n_step && after[i]; k++)
            for (int l = 0; l < r->step[k].n_line; l++)
                if (r->step[k].line[l].from_step == i && (ended[k] || begun[k]))
                    after[i] = false;
    }
    for (int i = r->n_step - 1; i >= 0; i--) /* and what went into what was made */
        for (int l = 0; l < r->step[i].n_line; l++) {
            const int from = r->step[i].line[l].from_step;
            if (from >= 0 && !st_batch_step_stands(&r->step[i]) && !after[i])
                after[from] = false;
        }
    for (int i = 0; i < r->n_step; i++)
        if (after[i])
            json_array_append_new(list,
                                  json_pack("{s:s, s:s, s:o}", "step", r->step[i].id, "do", st_do_name(r->step[i].kind),
                                            "words", st_doc_text(r->step[i].words ? r->step[i].words : "")));
}

json_t *st_doc_batch_next(const struct book_batch *row, const struct st_recipe *r, const struct st_batch_jar j[], int n,
                          const struct book_weighing w[], int n_w, long today)
{
    json_t *todo = json_array(), *open = json_array(), *jars = json_array();
    if (r) {
        chores(r, j, n, todo);
        unweighed(r, w, n_w, open);
    }
    for (int i = 0; i < n; i++)
        if (!j[i].row.ended_on)
            json_array_append_new(jars, st_doc_batch_jar(&j[i], today));
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "batch", st_doc_text(row->code), "name", st_doc_text(row->name),
                     "jars", jars, "to_be_made", todo, "not_weighed", open);
}
