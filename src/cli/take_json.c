#include <string.h>

#include "cli/take_page.h"

static const char *const ROLE[] = {
    [ST_TAKE_INGREDIENT] = "ingredient", [ST_TAKE_STEP] = "step", [ST_TAKE_TITLE] = "title",
    [ST_TAKE_HEADING] = "heading",       [ST_TAKE_NOTE] = "note", [ST_TAKE_NOTHING] = "nothing"
};
static const char *const SURE[] = {
    [ST_SURE] = "sure", [ST_LIKELY] = "likely", [ST_GUESS] = "guess", [ST_UNREAD] = "unread"
};

static json_t *row(const struct st_take_read_as *r)
{
    char read_as[300] = "";
    if (r->item->role == ST_TAKE_STEP)
        take_deed_text(read_as, sizeof read_as, &r->item->deed);
    else if (r->item->role == ST_TAKE_INGREDIENT)
        snprintf(read_as, sizeof read_as, "%s", r->item->sure == ST_UNREAD ? "" : r->item->as);
    json_t *o =
        json_pack("{s:i, s:s, s:s, s:s, s:s, s:s}", "line", r->line, "words", r->words, "role", ROLE[r->item->role],
                  "read_as", read_as, "sure", SURE[r->item->sure], "because", r->item->because);
    json_object_set_new(o, "step", r->step >= 0 ? json_integer(r->step + 1) : json_null());
    json_object_set_new(o, "changed", json_boolean(r->changed));
    return o;
}

static json_t *question(const struct st_take_question *q)
{
    json_t *options = json_array();
    for (int i = 0; i < q->n_option; i++)
        json_array_append_new(options, json_string(q->label[i]));
    json_t *o = json_pack("{s:s, s:s, s:s, s:o, s:b, s:i}", "id", q->id, "ask", q->ask, "why", q->why, "options",
                          options, "own_words", q->own_words, "line", q->line);
    json_object_set_new(o, "answered", q->answered ? json_string(q->answered) : json_null());
    json_object_set_new(o, "moves",
                        json_pack("{s:f, s:f, s:f}", "strength_pct_vol", q->moves[0], "sugar_g_l", q->moves[1],
                                  "volume_ml", q->moves[2]));
    return o;
}

json_t *take_json(const struct st_take *t, const struct page *p)
{
    json_t *doc = json_object(), *rows = json_array(), *questions = json_array(), *said = json_array();

    json_object_set_new(doc, "title", json_string(t->title));
    for (int i = 0; i < t->n_row; i++)
        json_array_append_new(rows, row(&t->row[i]));
    json_object_set_new(doc, "rows", rows);
    for (int i = 0; i < t->n_question; i++)
        json_array_append_new(questions, question(&t->question[i]));
    json_object_set_new(doc, "questions", questions);
    json_object_set_new(doc, "more_questions", json_integer(t->n_more));
    for (int i = 0; i < t->n_said; i++)
        json_array_append_new(said, json_string(t->said[i]));
    json_object_set_new(doc, "said", said);
    json_object_set_new(doc, "yaml", json_string(t->yaml));
    json_object_set_new(doc, "foretold", p ? page_json(p) : json_null());
    return doc;
}
