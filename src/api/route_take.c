#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "doc_take.h"
#include "inside.h"
#include "text/take_await.h"
#include "util/memory.h"

/* Free text to a recipe, and foretold where it can be. */

enum { MOST_GIVEN = 200 };

struct given {
    struct st_take_given given;
    struct st_take_answer answer[MOST_GIVEN];
    struct st_take_change change[MOST_GIVEN];
    struct st_take_answer unknown[MOST_GIVEN]; /* answered with "don't know" */
    int n_unknown;
};

static bool refuse(struct st_call *c, unsigned status, const char *field, const char *name, const char *why,
                   const char *try_)
{
    char what[120];
    snprintf(what, sizeof what, "cannot read \"%.20s.%.60s\"", field, name);
    return st_call_refuse(c, status, field, what, why, try_);
}

/* Both are objects of texts. */
static bool read_texts(struct st_call *c, const char *field, json_t **object)
{
    if (!st_call_object(c, c->in, "", field, object))
        return false;
    if (*object && json_object_size(*object) > MOST_GIVEN)
        return st_call_refuse(c, 422, field, "too many are given at once", "there is room for 200",
                              "change the text itself");
    for (void *i = json_object_iter(*object); i; i = json_object_iter_next(*object, i)) {
        const char *name = json_object_iter_key(i);
        const json_t *v = json_object_iter_value(i);
        if (!json_is_string(v))
            return refuse(c, 400, field, name, "it is no text", "write it in quotation marks");
        if (json_string_length(v) > ST_TEXT_WORD)
            return refuse(c, 422, field, name, "it is longer than 400 bytes", "say it shorter");
    }
    return true;
}

static bool add_change(struct st_call *c, struct given *g, const char *name, const char *as)
{
    char *rest;
    const char *number = name + (*name == 'l');
    const long line = strtol(number, &rest, 10);
    const bool one = *rest == '.' && rest[1] >= '1' && rest[1] <= '9'; /* "2.3": the third thing of line 2 */
    const long item = one ? strtol(rest + 1, &rest, 10) : 0;
    if (*rest || rest == number || line < 1 || line > 100000 || item > 1000)
        return refuse(c, 422, "changes", name, "it is not the number of a line",
                      "write for example {\"6\": \"500 g plums\"}");
    g->change[g->given.n_change++] = (struct st_take_change){ (int)line, as, (int)item };
    return true;
}

static bool read_given(struct st_call *c, struct given *g)
{
    json_t *answers = NULL, *changes = NULL;

    if (!st_call_measures(c, "measures", &g->given.measures) || !read_texts(c, "answers", &answers) ||
        !read_texts(c, "changes", &changes))
        return false;
    for (void *i = json_object_iter(answers); i; i = json_object_iter_next(answers, i))
        g->answer[g->given.n_answer++] =
            (struct st_take_answer){ json_object_iter_key(i), json_string_value(json_object_iter_value(i)) };
    for (void *i = json_object_iter(changes); i; i = json_object_iter_next(changes, i))
        if (!add_change(c, g, json_object_iter_key(i), json_string_value(json_object_iter_value(i))))
            return false;
    g->given.answer = g->answer;
    g->given.change = g->change;
    return true;
}

static bool is_put(const struct st_take *t, const char *id)
{
    for (int i = 0; i < t->n_question; i++)
        if (strcasecmp(t->question[i].id, id) == 0)
            return true;
    return false;
}

/* ---- answers that are none ---- */

static bool is_not_known(const char *value)
{
    static const char *const WORDS[] = { "don't know", "don\xe2\x80\x99t know", "dont know", "do not know",
                                         "not known" };
    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
        if (strcasecmp(value, WORDS[i]) == 0)
            return true;
    return false;
}

/* "don't know" leaves the range that stands: the reader is not asked to read it. */
static void keep_back(struct given *g)
{
    int n = 0;
    for (int i = 0; i < g->given.n_answer; i++) {
        if (is_not_known(g->answer[i].value))
            g->unknown[g->n_unknown++] = g->answer[i];
        else
            g->answer[n++] = g->answer[i];
    }
    g->given.n_answer = n;
}

static const char *given_to(const struct st_take_answer *list, int n, const char *id)
{
    for (int i = 0; i < n; i++)
        if (strcasecmp(list[i].id, id) == 0)
            return list[i].value;
    return NULL;
}

/* An open question that was answered: put away where the answer was "don't know", else told what could not be read.
 * Those put away stand last. */
static void tell_answers(const struct given *g, json_t *doc)
{
    json_t *all = json_object_get(doc, "questions"), *away = json_array();
    for (size_t i = 0; i < json_array_size(all);) {
        json_t *q = json_array_get(all, i);
        const char *id = json_string_value(json_object_get(q, "id"));
        const bool open = json_is_null(json_object_get(q, "answered"));
        const char *unread = open ? given_to(g->answer, g->given.n_answer, id) : NULL;
        json_object_set_new(q, "not_read", unread ? st_doc_text(unread) : json_null());
        if (open && given_to(g->unknown, g->n_unknown, id)) {
            json_object_set_new(q, "answered", json_string("don't know"));
            json_array_append(away, q);
            json_array_remove(all, i);
        } else
            i++;
    }
    json_array_extend(all, away);
    json_decref(away);
}

/* Pages keep answers while the text is changed: an answer to a question that is not put any more is let be, and told.
 */
static void tell_unused(const struct given *g, const struct st_take *t, json_t *doc)
{
    json_t *unused = json_array();
    for (int i = 0; i < g->given.n_answer; i++)
        if (!is_put(t, g->answer[i].id))
            json_array_append_new(unused, st_doc_text(g->answer[i].id));
    json_object_set_new(doc, "unused_answers", unused);
}

/* The recipe it was written as goes the way of any recipe, so that sliders find it again by its text. */
static json_t *foretell(struct st_call *c, const struct st_take *t, const struct st_options *o, char *because,
                        size_t size)
{
    struct st_call inner = { .api = c->api, .in = c->in }; /* whom it is for is said there */
    json_t *doc = NULL;

    snprintf(because, size, "no recipe could be made of this text yet");
    if (!t->whole && t->recipe.n_problem > 0)
        snprintf(because, size, "%s: %s", t->recipe.problem[0].what, t->recipe.problem[0].why);
    struct st_problem wait;
    if (t->whole && st_take_await_problem(t, &wait))
        snprintf(because, size, "%s: %s", wait.what, wait.why);
    if (!st_take_may_be_foretold(t))
        return NULL;
    struct st_kept *k = st_kept_recipe(&inner, t->yaml, ST_MEASURES_NONE);
    if (k)
        doc = st_bottle_foretell(&inner, k, o);
    if (doc) {
        json_object_set_new(doc, "lines", st_bottle_lines(k));
        if (st_kept_dials(&inner, k, NULL, 0))
            json_object_set_new(doc, "dials", st_bottle_dials(k, NULL));
    }
    const json_t *first = json_array_get(inner.errors, 0);
    if (first && !doc)
        snprintf(because, size, "%s: %s", json_string_value(json_object_get(first, "what")),
                 json_string_value(json_object_get(first, "why")));
    json_decref(inner.errors);
    return doc;
}

static void answer(struct st_call *c, const char *text, const struct given *g, const struct st_options *o)
{
    struct st_take *t = x_calloc(1, sizeof *t);
    struct st_problem problem = { .what = "" };
    char because[500];
    struct st_catalogue *catalogue = st_api_catalogue(c);

    if (catalogue) {
        const int read = st_take_text(text, strlen(text), catalogue, &g->given, t, &problem);
        struct st_catalogue *own = st_api_catalogue_own(c->api);
        if (read < 0)
            st_call_problem(c, "text", &problem);
        else {
            json_t *foretold = foretell(c, t, o, because, sizeof because);
            c->out = st_doc_take(t, foretold, because);
            tell_answers(g, c->out);
            tell_unused(g, t, c->out);
        }
        st_take_done(t);
        st_catalogue_free(own);
    }
    free(t);
}

void st_route_take(struct st_call *c)
{
    static const char *const KNOWN[] = { "text", "measures", "answers", "changes", "seed", "draws", ST_WATCH_MEMBERS, NULL };
    struct given *g = x_calloc(1, sizeof *g);
    struct st_options o;
    const char *text;

    if (st_call_known(c, c->in, "", KNOWN) && st_call_options(c, 4000, &o) &&
        st_call_must(c, "text", ST_TEXT_TAKE, "\"1 kg damsons ...\"", &text) && read_given(c, g)) {
        keep_back(g);
        o.effects = true;
        answer(c, text, g, &o);
    }
    free(g);
}
