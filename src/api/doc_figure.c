#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "doc.h"
#include "text/caution_words.h"
#include "util/memory.h"

static json_t *number(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

/* Bytes that are no UTF-8 (a text cut off inside a letter) are left out. */
json_t *st_doc_text(const char *text)
{
    json_t *whole = json_string(text);
    if (whole)
        return whole;
    const size_t n = strlen(text);
    char *good = x_malloc(n + 1);
    size_t k = 0;
    for (size_t i = 0; i < n;) {
        size_t m = (unsigned char)text[i] < 0x80 ? 1 : 2;
        json_t *letter = NULL;
        for (; m <= 4 && i + m <= n && !(letter = json_stringn(text + i, m)); m++)
            continue;
        json_decref(letter);
        if (!letter) {
            i++;
            continue;
        }
        memcpy(good + k, text + i, m);
        k += m;
        i += m;
    }
    whole = json_stringn(good, k);
    free(good);
    return whole;
}

json_t *st_doc_interval(const struct st_interval *x)
{
    if (!x->known)
        return json_null();
    json_t *o = json_object();
    json_object_set_new(o, "value", number(x->value));
    json_object_set_new(o, "low", number(x->low));
    json_object_set_new(o, "high", number(x->high));
    json_object_set_new(o, "status", st_doc_text(st_status_text(x->status)));
    return o;
}

void st_doc_figures(json_t *obj, const struct st_foretold *f)
{
    for (int i = 0; i < ST_NFIG; i++)
        json_object_set_new(obj, st_figure_info((enum st_figure)i)->key, st_doc_interval(&f->fig[i]));
}

json_t *st_doc_sources(const char *text)
{
    json_t *all = json_array();
    for (const char *p = strchr(text, '['); p; p = strchr(p, '[')) {
        const size_t n = strcspn(++p, "]");
        json_array_append_new(all, json_stringn(p, n));
    }
    return all;
}

json_t *st_doc_cautions(const struct st_cautions *list)
{
    json_t *all = json_array();
    for (int i = 0; i < list->n; i++) {
        const struct st_caution *c = &list->item[i];
        char source[120], heading[sizeof c->what];
        json_t *o =
            json_pack("{s:s, s:o, s:o, s:s, s:s}", "level", st_level_name(c->level), "what",
                      st_doc_text(st_caution_heading(c, heading, sizeof heading)), "because", st_doc_text(c->because),
                      "source", st_caution_source(c, source, sizeof source), "code", c->code);
        if (c->step >= 0)
            json_object_set_new(o, "step", json_integer(c->step + 1));
        if (c->line >= 0)
            json_object_set_new(o, "line", json_integer(c->line + 1));
        if (c->brought)
            json_object_set_new(o, "brought", json_true());
        json_array_append_new(all, o);
    }
    return all;
}
