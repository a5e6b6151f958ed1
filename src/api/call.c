#include "call.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "doc.h"
#include "text/near.h"

enum { MOST_ERRORS = 20 };

/* ---- problems ---- */

static void add(struct st_call *c, unsigned status, const char *file, const struct st_place *at, const char *what,
                const char *why, const char *try_)
{
    if (!c->errors) {
        c->errors = json_array();
        c->status = status;
    }
    if (json_array_size(c->errors) >= MOST_ERRORS)
        return;
    json_t *o = json_object();
    json_object_set_new(o, "file", st_doc_text(file));
    if (at && at->line > 0) {
        json_object_set_new(o, "line", json_integer(at->line));
        json_object_set_new(o, "column", json_integer(at->column > 0 ? at->column : 1));
    }
    json_object_set_new(o, "what", st_doc_text(what));
    json_object_set_new(o, "why", st_doc_text(why));
    json_object_set_new(o, "try", st_doc_text(try_));
    json_array_append_new(c->errors, o);
}

bool st_call_refuse(struct st_call *c, unsigned status, const char *field, const char *what, const char *why,
                    const char *try_)
{
    add(c, status, field, NULL, what, why, try_);
    return false;
}

bool st_call_problem(struct st_call *c, const char *file, const struct st_problem *p)
{
    add(c, 422, file, &p->at, p->what, p->why, p->try_);
    return false;
}

/* ---- members ---- */

static bool wrong(struct st_call *c, unsigned status, const char *path, const char *name, const char *why,
                  const char *try_)
{
    char field[120], what[160];
    snprintf(field, sizeof field, "%s%s", path, name);
    snprintf(what, sizeof what, "cannot read \"%s\"", field);
    return st_call_refuse(c, status, field, what, why, try_);
}

/* NULL for a missing member and for null. */
static const json_t *member(const json_t *o, const char *name)
{
    const json_t *v = json_object_get(o, name);
    return json_is_null(v) ? NULL : v;
}

static bool unknown(struct st_call *c, const char *path, const char *name, const char *const known[])
{
    char field[120], what[160], try_[400] = "leave it out; known are ";
    size_t n = 0;

    while (known[n])
        n++;
    const char *near = st_near_key(name, known, n);
    snprintf(field, sizeof field, "%s%.60s", path, name);
    snprintf(what, sizeof what, "there is no \"%s\"", field);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%s%s\"", path, near);
    for (size_t i = 0; !near && i < n; i++)
        snprintf(try_ + strlen(try_), sizeof try_ - strlen(try_), "%s%s", i ? ", " : "", known[i]);
    return st_call_refuse(c, 400, field, what, "what is not understood is not passed over", try_);
}

bool st_call_known(struct st_call *c, const json_t *o, const char *path, const char *const known[])
{
    bool good = true;
    for (void *i = json_object_iter((json_t *)(uintptr_t)o); i; i = json_object_iter_next((json_t *)(uintptr_t)o, i)) {
        const char *name = json_object_iter_key(i);
        size_t k = 0;
        while (known[k] && strcmp(known[k], name) != 0)
            k++;
        if (!known[k])
            good = unknown(c, path, name, known);
    }
    return good;
}

bool st_call_text(struct st_call *c, const json_t *o, const char *path, const char *name, size_t most,
                  const char **text)
{
    const json_t *v = member(o, name);
    char why[80];
    if (!v)
        return true;
    if (!json_is_string(v))
        return wrong(c, 400, path, name, "it is no text", "write it in quotation marks");
    if (json_string_length(v) > most) {
        snprintf(why, sizeof why, "it is longer than %zu bytes", most);
        return wrong(c, 422, path, name, why, "send less of it");
    }
    *text = json_string_value(v);
    return true;
}

bool st_call_number(struct st_call *c, const json_t *o, const char *path, const char *name, double low, double high,
                    double *x)
{
    const json_t *v = member(o, name);
    char why[80];
    if (!v)
        return true;
    if (!json_is_number(v))
        return wrong(c, 400, path, name, "it is no number", "write a number without quotation marks, such as 12.5");
    const double y = json_number_value(v);
    if (!(y >= low && y <= high)) {
        snprintf(why, sizeof why, "it goes from %g to %g", low, high);
        return wrong(c, 422, path, name, why, "write a number between these");
    }
    *x = y;
    return true;
}

bool st_call_whole(struct st_call *c, const json_t *o, const char *path, const char *name, int low, int high, int *x)
{
    double y = (double)*x;
    if (!st_call_number(c, o, path, name, (double)low, (double)high, &y))
        return false;
    if (y != floor(y))
        return wrong(c, 422, path, name, "it is no whole number", "write one such as 2");
    *x = (int)y;
    return true;
}

bool st_call_flag(struct st_call *c, const json_t *o, const char *path, const char *name, bool *x)
{
    const json_t *v = member(o, name);
    if (!v)
        return true;
    if (!json_is_boolean(v))
        return wrong(c, 400, path, name, "it is neither true nor false",
                     "write true or false, without quotation marks");
    *x = json_is_true(v);
    return true;
}

bool st_call_list(struct st_call *c, const json_t *o, const char *path, const char *name, size_t most, json_t **list)
{
    json_t *v = json_object_get(o, name);
    char why[80];
    if (!v || json_is_null(v))
        return true;
    if (!json_is_array(v))
        return wrong(c, 400, path, name, "it is no list", "write it in square brackets");
    if (json_array_size(v) > most) {
        snprintf(why, sizeof why, "it has more than %zu entries", most);
        return wrong(c, 422, path, name, why, "send fewer");
    }
    *list = v;
    return true;
}

bool st_call_object(struct st_call *c, const json_t *o, const char *path, const char *name, json_t **object)
{
    json_t *v = json_object_get(o, name);
    if (!v || json_is_null(v))
        return true;
    if (!json_is_object(v))
        return wrong(c, 400, path, name, "it is no object", "write it in braces: {\"name\": value}");
    *object = v;
    return true;
}

bool st_call_measures(struct st_call *c, const char *name, enum st_measures *x)
{
    static const char *const WORD[] = { "us", "metric", "imperial" };
    static const enum st_measures IS[] = { ST_MEASURES_US, ST_MEASURES_METRIC, ST_MEASURES_IMPERIAL };
    const char *word = NULL;
    if (!st_call_text(c, c->in, "", name, ST_TEXT_WORD, &word))
        return false;
    for (size_t i = 0; word && i < sizeof IS / sizeof *IS; i++)
        if (strcmp(word, WORD[i]) == 0) {
            *x = IS[i];
            return true;
        }
    return !word || wrong(c, 422, "", name, "cups and ounces differ between them", "write us, metric or imperial");
}

bool st_call_options(struct st_call *c, int draws, struct st_options *x)
{
    double seed = 1.0;
    int n = draws;
    if (!st_call_number(c, c->in, "", "seed", 0.0, 9007199254740991.0, &seed) ||
        !st_call_whole(c, c->in, "", "draws", 100, ST_MOST_DRAWS, &n))
        return false;
    if (seed != floor(seed))
        return wrong(c, 422, "", "seed", "it is no whole number", "write one such as 1");
    *x = (struct st_options){ .seed = (uint64_t)seed, .draws = n };
    return true;
}

bool st_call_must(struct st_call *c, const char *name, size_t most, const char *example, const char **text)
{
    char what[80], try_[200];
    *text = NULL;
    if (!st_call_text(c, c->in, "", name, most, text))
        return false;
    if (*text)
        return true;
    snprintf(what, sizeof what, "\"%s\" is missing", name);
    snprintf(try_, sizeof try_, "send {\"%s\": %s}", name, example);
    return st_call_refuse(c, 400, name, what, "it is what the answer is about", try_);
}
