#include "doc_take.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "text/figure_words.h"
#include "text/take_caution.h"

/* ---- a deed in words ---- */

__attribute__((format(printf, 3, 4))) static void more(char *buf, size_t size, const char *format, ...)
{
    const size_t n = strlen(buf);
    va_list args;
    if (n + 3 >= size)
        return;
    va_start(args, format);
    snprintf(buf + n, size - n, ", ");
    (void)vsnprintf(buf + n + 2, size - n - 2, format, args);
    va_end(args);
}

void st_deed_words(char *buf, size_t size, const struct st_take_deed *d)
{
    char time[64];
    st_time_words(time, sizeof time, &d->time);
    const bool only_strains = d->strain && !*time && !d->spent;
    snprintf(buf, size, "%s", only_strains ? "strain" : d->kind < ST_NDO ? st_do_name(d->kind) : "");
    if (d->spent)
        more(buf, size, "the drained fruit again");
    if (*time)
        more(buf, size, "%s", time);
    if (d->temperature_K.known)
        more(buf, size,
             "at %.0f \xc2\xb0"
             "C",
             d->temperature_K.value - 273.15);
    if (d->strain && !only_strains)
        more(buf, size, "then strain");
    if (d->press)
        more(buf, size, "pressed");
    if (d->vessel_ml > 0.0)
        more(buf, size, "in a vessel of %.4g L", d->vessel_ml * 1e-3);
    if (d->bottles > 0)
        more(buf, size, "%d of them", d->bottles);
    if (d->size_ml > 0.0)
        more(buf, size, "%g mL each", d->size_ml);
}

/* ---- the document ---- */

static const char *const ROLE[] = {
    [ST_TAKE_INGREDIENT] = "ingredient", [ST_TAKE_STEP] = "step", [ST_TAKE_TITLE] = "title",
    [ST_TAKE_HEADING] = "heading",       [ST_TAKE_NOTE] = "note", [ST_TAKE_NOTHING] = "nothing"
};
static const char *const SURE[] = {
    [ST_SURE] = "sure", [ST_LIKELY] = "likely", [ST_GUESS] = "guess", [ST_UNREAD] = "unread"
};

/* ---- where a row went ---- */

/* Is it this row that was written on the line?  The maker's words tell; what is not in the words is told by what it is.
 */
static bool is_written_on(const struct st_take_read_as *r, const struct st_line *l)
{
    if (l->what != r->item->line.what)
        return false;
    return l->what || (r->item->line.text && l->text && strcmp(l->text, r->item->line.text) == 0);
}

/* How many rows before it, of the same step, went the same way. */
static int rows_before(const struct st_take *t, int at)
{
    int n = 0;
    for (int i = 0; i < at; i++)
        n += t->row[i].step == t->row[at].step && t->row[i].item->role == ST_TAKE_INGREDIENT &&
             t->row[i].item->line.what == t->row[at].item->line.what;
    return n;
}

/* Which line of its step a row became, or -1. */
static int line_of(const struct st_take *t, int at)
{
    const struct st_take_read_as *r = &t->row[at];
    if (!t->whole || r->step < 0 || r->step >= t->recipe.recipe.n_step || r->item->role != ST_TAKE_INGREDIENT)
        return -1;
    const struct st_step *s = &t->recipe.recipe.step[r->step];
    int skip = rows_before(t, at), last = -1;
    for (int k = 0; k < s->n_line; k++) {
        if (!is_written_on(r, &s->line[k]))
            continue;
        last = k;
        if (skip-- == 0)
            break;
    }
    return last;
}

static json_t *place(const struct st_take *t, int at)
{
    const int line = line_of(t, at);
    return line < 0 ? json_null() : json_pack("{s:i, s:i}", "step", t->row[at].step + 1, "line", line + 1);
}

int st_take_left_out(const struct st_take *t)
{
    int n = 0;
    for (int i = 0; i < t->n_row; i++)
        n += t->row[i].item->sure == ST_UNREAD && t->row[i].item->role != ST_TAKE_NOTHING;
    return n;
}

static json_t *row(const struct st_take *t, int at)
{
    const struct st_take_read_as *r = &t->row[at];
    char read_as[300] = "";
    json_t *o = json_object();

    if (r->item->role == ST_TAKE_STEP)
        st_deed_words(read_as, sizeof read_as, &r->item->deed);
    else if (r->item->role == ST_TAKE_INGREDIENT)
        snprintf(read_as, sizeof read_as, "%s", r->item->sure == ST_UNREAD ? "" : r->item->as);
    json_object_set_new(o, "id", st_doc_text(r->id));
    json_object_set_new(o, "line", json_integer(r->line));
    json_object_set_new(o, "words", st_doc_text(r->words));
    json_object_set_new(o, "role", json_string(ROLE[r->item->role]));
    json_object_set_new(o, "read_as", st_doc_text(read_as));
    json_object_set_new(o, "sure", json_string(SURE[r->item->sure]));
    json_object_set_new(o, "because", st_doc_text(r->item->because));
    json_object_set_new(o, "optional", json_boolean(r->item->optional));
    json_object_set_new(o, "step", r->step >= 0 ? json_integer(r->step + 1) : json_null());
    json_object_set_new(o, "at", place(t, at));
    json_object_set_new(o, "changed", json_boolean(r->changed));
    return o;
}

static json_t *question(const struct st_take_question *q)
{
    json_t *options = json_array(), *o = json_object();
    for (int i = 0; i < q->n_option; i++)
        json_array_append_new(options, st_doc_text(q->label[i]));
    json_object_set_new(o, "id", st_doc_text(q->id));
    json_object_set_new(o, "line", json_integer(q->line));
    json_object_set_new(o, "ask", st_doc_text(q->ask));
    json_object_set_new(o, "why", st_doc_text(q->why));
    json_object_set_new(o, "options", options);
    json_object_set_new(o, "answered", q->answered ? st_doc_text(q->answered) : json_null());
    json_object_set_new(o, "own_words", json_boolean(q->own_words));
    json_object_set_new(o, "moves",
                        json_pack("{s:f, s:f, s:f}", "strength_pct_vol", q->moves[0], "sugar_g_l", q->moves[1],
                                  "volume_ml", q->moves[2]));
    return o;
}

/* Of what is named and in no step: the bottle's own cautions stand in foretold. */
static json_t *cautions_out(const struct st_take *t)
{
    json_t *all = json_array();
    struct st_cautions one;
    for (int i = 0; i < t->n_row; i++) {
        if (!st_take_row_cautions(t, i, &one))
            continue;
        json_t *list = st_doc_cautions(&one);
        for (size_t k = 0; k < json_array_size(list); k++) {
            json_t *c = json_array_get(list, k);
            json_object_set_new(c, "step", json_null());
            json_object_set_new(c, "line", json_integer(t->row[i].line));
            json_object_set_new(c, "row", json_integer(i));
            json_array_append(all, c);
        }
        json_decref(list);
    }
    return all;
}

static void tell_dangers(const struct st_take *t, json_t *doc)
{
    char names[300], text[400];
    json_t *said = json_object_get(doc, "said");
    const struct st_ingredient *out = st_take_stop_out(t), *stop = out ? out : st_take_stop(t);
    json_object_set_new(doc, "cautions", cautions_out(t));
    json_object_set_new(doc, "stop", stop ? st_doc_text(stop->name) : json_null());
    if (stop) {
        snprintf(text, sizeof text, "STOP: %.80s is %s, and must not go into a drink. %s is not a drink to make, and no "
                 "recipe is given.", stop->name, out ? "named" : "in this recipe",
                 out ? "These figures are without it; this" : "This");
        json_array_insert_new(said, 0, st_doc_text(text));
    }
    (void)st_take_allergens_out(t, names, sizeof names);
    json_object_set_new(doc, "allergens_left_out", st_doc_text(names));
}

/* What must not go in is named and in no step: foretold does not know of it, and says the same as of one in a step. */
static void stop_foretold(const struct st_ingredient *stop, const json_t *cautions, json_t *foretold)
{
    json_t *words = json_object_get(foretold, "words"), *told = json_object_get(foretold, "cautions");

    json_object_set_new(foretold, "stop", st_doc_text(stop->name));
    json_object_set_new(foretold, st_figure_info(ST_FIG_BOTTLES)->key, json_null());
    json_object_set_new(foretold, "wish", json_null());
    json_object_set_new(foretold, "tip", json_string(""));
    json_object_set_new(foretold, "what_matters", json_array());
    (void)json_object_del(json_object_get(foretold, "pips"), "bottles");
    if (words) {
        json_object_set_new(words, "bottles", json_null());
        json_object_set_new(words, "tip", json_string(""));
    }
    for (size_t i = json_array_size(cautions); i-- > 0;) {
        json_t *c = json_array_get(cautions, i);
        const char *level = json_string_value(json_object_get(c, "level"));
        if (level && strcmp(level, "stop") == 0)
            json_array_insert_new(told, 0, json_deep_copy(c));
    }
}

json_t *st_doc_take(const struct st_take *t, json_t *foretold, const char *because)
{
    json_t *doc = json_object(), *rows = json_array(), *questions = json_array(), *said = json_array();
    char text[300];

    json_object_set_new(doc, "title", st_doc_text(t->title));
    for (int i = 0; i < t->n_row; i++)
        json_array_append_new(rows, row(t, i));
    json_object_set_new(doc, "rows", rows);
    for (int i = 0; i < t->n_question; i++)
        json_array_append_new(questions, question(&t->question[i]));
    json_object_set_new(doc, "questions", questions);
    json_object_set_new(doc, "more_questions", json_integer(t->n_more));
    for (int i = 0; i < t->n_said; i++)
        json_array_append_new(said, st_doc_text(t->said[i]));
    for (int i = 0; i < t->n_row; i++)
        if (st_take_is_unreckoned(t, i)) {
            snprintf(text, sizeof text, "Not reckoned: line %d, \"%.200s\".", t->row[i].line, t->row[i].words);
            json_array_append_new(said, st_doc_text(text));
        }
    json_object_set_new(doc, "left_out", json_integer(st_take_left_out(t)));
    json_object_set_new(doc, "said", said);
    json_object_set_new(doc, "recipe", st_doc_text(st_take_stop(t) ? "" : t->yaml));
    tell_dangers(t, doc);
    if (foretold && st_take_stop_out(t))
        stop_foretold(st_take_stop_out(t), json_object_get(doc, "cautions"), foretold);
    json_object_set_new(doc, "foretold", foretold ? foretold : json_null());
    json_object_set_new(doc, "because", st_doc_text(foretold ? "" : because));
    return doc;
}
