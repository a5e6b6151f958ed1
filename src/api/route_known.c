#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "inside.h"
#include "text/name_form.h"
#include "text/source_entry.h"
#include "util/embedded.h"

enum { MOST = 12, LONGEST = 80 };

/* ---- names near the letters typed ---- */

static json_t *entry(const struct st_ingredient *in)
{
    json_t *o = json_object();
    json_object_set_new(o, "slug", st_doc_text(in->slug));
    json_object_set_new(o, "name", st_doc_text(in->name));
    json_object_set_new(o, "kind", json_string(st_kind_name(in->kind)));
    return o;
}

static bool starts(const char *text, const char *with, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (tolower((unsigned char)text[i]) != tolower((unsigned char)with[i]))
            return false;
    return true;
}

/* 0: the name begins so; 1: a word of it does; 2: another of its names does; 3: none. */
static int how_near(const struct st_ingredient *in, const char *like, size_t n)
{
    if (starts(in->name, like, n))
        return 0;
    for (const char *w = strchr(in->name, ' '); w; w = strchr(w + 1, ' '))
        if (starts(w + 1, like, n))
            return 1;
    for (const char *w = in->names; w && *w; w = *w ? w + 1 : w) {
        if (starts(w, like, n))
            return 2;
        w += strcspn(w, "|");
        if (!*w)
            break;
    }
    return 3;
}

static bool is_among(const struct st_ingredient *const found[], int n, const struct st_ingredient *in)
{
    for (int i = 0; i < n; i++)
        if (found[i] == in)
            return true;
    return false;
}

/* Those that begin so, in the order of the sheet; then those that are spelt nearly so. */
static int find(const struct st_catalogue *all, const char *like, size_t n, const struct st_ingredient *found[MOST])
{
    const struct st_ingredient *near[MOST];
    int count = 0;

    for (int level = 0; level < 3; level++)
        for (size_t i = 0; i < st_catalogue_count(all) && count < MOST; i++)
            if (how_near(st_catalogue_at(all, i), like, n) == level)
                found[count++] = st_catalogue_at(all, i);
    const int more = count < MOST ? st_catalogue_near(all, like, n, near, MOST) : 0;
    for (int i = 0; i < more && count < MOST; i++)
        if (!is_among(found, count, near[i]))
            found[count++] = near[i];
    return count;
}

void st_route_ingredients(struct st_call *c, const char *like)
{
    const struct st_ingredient *found[MOST];
    const struct st_catalogue *all = st_api_catalogue(c);
    like += strspn(like, " \t");
    const size_t n = strlen(like);

    if (!all)
        return;
    if (n == 0 || n > LONGEST) {
        st_call_refuse(c, 422, "like", "no name to look for", n ? "it is longer than 80 bytes" : "no letters were sent",
                       "ask for example /api/ingredients?like=dams");
        return;
    }
    json_t *list = json_array();
    const int count = find(all, like, n, found);
    for (int i = 0; i < count; i++)
        json_array_append_new(list, entry(found[i]));
    c->out = json_object();
    json_object_set_new(c->out, "ingredients", list);
}

/* ---- the entry of docs/sources.md ---- */

void st_route_source(struct st_call *c, const char *key)
{
    const struct st_embedded *e = st_embedded_find("docs/sources.md");
    struct st_source_entry s;
    char what[120];

    if (e && st_source_find((const char *)e->bytes, e->size, key, &s)) {
        char text[8192], title[400];
        snprintf(text, sizeof text, "%.*s", (int)s.size, s.text);
        snprintf(title, sizeof title, "%.*s", (int)s.title_size, s.title);
        c->out = json_object();
        json_object_set_new(c->out, "key", st_doc_text(key));
        json_object_set_new(c->out, "title", st_doc_text(title));
        json_object_set_new(c->out, "text", st_doc_text(text));
        return;
    }
    snprintf(what, sizeof what, "no source with the key '%.60s'", key);
    st_call_refuse(c, 404, "key", what, "keys stand in brackets beside figures",
                   "take one from a caution or an ingredient");
}
