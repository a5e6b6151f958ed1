#include "api.h"

#include <stdlib.h>
#include <string.h>

#include "inside.h"
#include "util/embedded.h"
#include "util/memory.h"

static const char SHEET[] = "data/ingredients.sheet";
enum { DEEPEST = 8 };

/* ---- the ingredients ---- */

static struct st_catalogue *read_sheet(struct st_problem *problem)
{
    const struct st_embedded *sheet = st_embedded_find(SHEET);
    if (sheet)
        return st_catalogue_create((const char *)sheet->bytes, sheet->size, problem);
    *problem = (struct st_problem){ .what = "the list of ingredients was not built into this program",
                                    .try_ = "build it again from its sources" };
    return NULL;
}

struct st_api *st_api_create(struct st_problem *problem)
{
    struct st_catalogue *base = read_sheet(problem);
    if (!base)
        return NULL;
    struct st_api *a = x_calloc(1, sizeof *a);
    a->base = base;
    return a;
}

void st_api_free(struct st_api *a)
{
    if (!a)
        return;
    for (int i = 0; i < ST_KEPT; i++)
        st_kept_done(a->kept[i]);
    st_steep_books_free(a->books);
    st_rule_books_free(a->rules);
    st_homes_free(a->places);
    if (a->labels)
        st_label_books_free(a->labels);
    st_catalogue_free(a->base);
    free(a);
}

struct st_catalogue *st_api_catalogue(struct st_call *c)
{
    struct st_problem problem = { .what = "" };
    if (!c->api->base)
        c->api->base = read_sheet(&problem);
    if (c->api->base)
        st_catalogue_live_in(c->api->base, st_call_places(c));
    if (!c->api->base)
        st_call_problem(c, SHEET, &problem);
    return c->api->base;
}

struct st_catalogue *st_api_catalogue_own(struct st_api *a)
{
    struct st_catalogue *own = a->base;
    if (!own || !st_catalogue_is_changed(own))
        return NULL;
    a->base = NULL;
    return own;
}

/* ---- from bytes to an object ---- */

/* Braces and brackets, outside of texts, opened and not closed. */
static bool is_too_deep(const char *body, size_t size)
{
    int depth = 0;
    bool quoted = false;
    for (size_t i = 0; i < size; i++) {
        const char ch = body[i];
        if (quoted) {
            i += ch == '\\';
            quoted = ch != '"';
        } else if (ch == '"')
            quoted = true;
        else if (ch == '{' || ch == '[') {
            if (++depth > DEEPEST)
                return true;
        } else if (ch == '}' || ch == ']')
            depth--;
    }
    return false;
}

static bool read_body(struct st_call *c, const char *body, size_t size)
{
    json_error_t e;
    if (is_too_deep(body, size))
        return st_call_refuse(c, 400, "request", "the request is nested too deeply",
                              "nothing here is more than a few levels deep", "see docs/api.md");
    c->in = json_loadb(body, size, JSON_REJECT_DUPLICATES, &e);
    if (!c->in) {
        struct st_problem p = { .at = { e.line, e.column }, .try_ = "send one JSON object; docs/api.md has examples" };
        memcpy(p.what, "the request is not JSON", sizeof "the request is not JSON");
        const size_t n = strlen(e.text);
        memcpy(p.why, e.text, n < sizeof p.why ? n : sizeof p.why - 1);
        st_call_problem(c, "request", &p);
        c->status = 400;
        return false;
    }
    if (!json_is_object(c->in))
        return st_call_refuse(c, 400, "request", "the request is no object", "every part of it has a name",
                              "write it in braces: {\"name\": value}");
    return true;
}

/* ---- from an answer to bytes ---- */

unsigned st_api_finish(struct st_call *c, char **answer, size_t *length)
{
    if (!c->errors && !c->out)
        st_call_refuse(c, 422, "request", "nothing came of this request",
                       "it was understood, and there is no figure to tell", "change the recipe");
    json_t *doc = c->out;
    if (c->errors) {
        doc = json_object();
        json_object_set(doc, "errors", c->errors);
        json_decref(c->out);
    }
    *answer = json_dumps(doc, JSON_COMPACT | JSON_REAL_PRECISION(12));
    *length = *answer ? strlen(*answer) : 0;
    json_decref(doc);
    const unsigned status = c->errors ? c->status : 200;
    json_decref(c->errors);
    json_decref(c->in);
    return *answer ? status : 500;
}

/* ---- routes ---- */

static const struct {
    const char *path;
    void (*run)(struct st_call *c);
} POST[] = {
    { "/api/take", st_route_take },   { "/api/foresee", st_route_foresee }, { "/api/turn", st_route_turn },
    { "/api/aim", st_route_aim },     { "/api/mix", st_route_mix },         { "/api/gauge", st_route_gauge },
    { "/api/steep", st_route_steep }, { "/api/clear", st_route_clear },     { "/api/cautions", st_route_cautions },
};

unsigned st_api_post(struct st_api *a, const char *path, const char *body, size_t size, char **answer, size_t *length)
{
    struct st_call c = { .api = a };
    size_t i = 0;
    while (i < sizeof POST / sizeof *POST && strcmp(POST[i].path, path) != 0)
        i++;
    if (i == sizeof POST / sizeof *POST)
        st_call_refuse(&c, 404, "request", "there is no such question", "", "see docs/api.md");
    else if (read_body(&c, body, size))
        POST[i].run(&c);
    return st_api_finish(&c, answer, length);
}

unsigned st_api_ingredients(struct st_api *a, const char *like, char **answer, size_t *length)
{
    struct st_call c = { .api = a };
    st_route_ingredients(&c, like);
    return st_api_finish(&c, answer, length);
}

unsigned st_api_places(struct st_api *a, char **answer, size_t *length)
{
    struct st_call c = { .api = a };
    st_route_places(&c);
    return st_api_finish(&c, answer, length);
}

unsigned st_api_source(struct st_api *a, const char *key, char **answer, size_t *length)
{
    struct st_call c = { .api = a };
    st_route_source(&c, key);
    return st_api_finish(&c, answer, length);
}

/* ---- for the server ---- */

static void give(struct st_res *r, unsigned status, char *answer, size_t length)
{
    if (answer)
        st_res_give(r, status, "application/json", answer, length);
}

static void post(struct st_req *q, struct st_res *r)
{
    size_t size, length;
    char *answer;
    const char *body = st_req_body(q, &size);
    const unsigned status = st_api_post(st_req_arg(q), st_req_path(q), body, size, &answer, &length);
    give(r, status, answer, length);
}

static void ingredients(struct st_req *q, struct st_res *r)
{
    size_t length;
    char *answer;
    const char *like = st_req_query(q, "like");
    const unsigned status = st_api_ingredients(st_req_arg(q), like ? like : "", &answer, &length);
    give(r, status, answer, length);
}

static void places(struct st_req *q, struct st_res *r)
{
    size_t length;
    char *answer;
    const unsigned status = st_api_places(st_req_arg(q), &answer, &length);
    give(r, status, answer, length);
}

static void source(struct st_req *q, struct st_res *r)
{
    size_t length;
    char *answer;
    const unsigned status = st_api_source(st_req_arg(q), st_req_tail(q), &answer, &length);
    give(r, status, answer, length);
}

const struct st_route st_api_routes[] = {
    { "POST", "/api/take", post },
    { "POST", "/api/foresee", post },
    { "POST", "/api/turn", post },
    { "POST", "/api/aim", post },
    { "POST", "/api/mix", post },
    { "POST", "/api/gauge", post },
    { "POST", "/api/steep", post },
    { "POST", "/api/clear", post },
    { "POST", "/api/cautions", post },
    { "GET", "/api/ingredients", ingredients },
    { "GET", "/api/places", places },
    { "GET", "/api/source/*", source },
    { NULL, NULL, NULL },
};
