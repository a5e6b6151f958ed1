#include <stdio.h>
#include <string.h>

#include "inside.h"
#include "text/caution_words.h"
#include "text/source_entry.h"
#include "util/embedded.h"

/* The rule behind each figure that a page shows: as the Source lines of core's headers have it
 * (density_mixture.h, strength.h, refraction.h, instruments.h), and model/figures.c for the energy. */
static const struct {
    enum st_figure figure;
    const char *keys;
} RULE[] = {
    { ST_FIG_STRENGTH, "[oiml1975], [sps4], [crc102], [choi1986]" },
    { ST_FIG_SUGAR, "[oiml1975], [sps4], [crc102], [choi1986]" },
    { ST_FIG_VOLUME, "[oiml1975], [sps4], [crc102], [choi1986]" },
    { ST_FIG_ACID, "[oiml1975], [sps4], [crc102], [choi1986]" },
    { ST_FIG_EXTRACT, "[oiml1975], [sps4], [crc102], [choi1986]" },
    { ST_FIG_SG, "[oiml1975], [sps4], [crc102], [choi1986]" },
    { ST_FIG_BRIX, "[crc102], [icumsa1974], [oiv2004]" },
    { ST_FIG_ENERGY_KJ, "[eu_1169_2011]" },
};

static json_t *title_of(const char *key)
{
    const struct st_embedded *e = st_embedded_find("docs/sources.md");
    struct st_source_entry s;
    char title[400];

    if (!e || !st_source_find((const char *)e->bytes, e->size, key, &s))
        return st_doc_text(key);
    snprintf(title, sizeof title, "%.*s", (int)s.title_size, s.title);
    return st_doc_text(title);
}

static const char *text_of(const json_t *o, const char *name)
{
    const char *text = json_string_value(json_object_get(o, name));
    return text ? text : "";
}

/* The entry of a key or, where that is "", of words that name no source; made where there is none. */
static json_t *entry(json_t *all, const char *key, const char *words)
{
    for (size_t i = 0; i < json_array_size(all); i++) {
        json_t *old = json_array_get(all, i);
        if (strcmp(text_of(old, "key"), key) == 0 && (*key || strcmp(text_of(old, "title"), words) == 0))
            return old;
    }
    json_t *o = json_pack("{s:o, s:o, s:[]}", "key", *key ? json_string(key) : json_null(), "title",
                          *key ? title_of(key) : st_doc_text(words), "of");
    json_array_append_new(all, o);
    return o;
}

static void tell(json_t *o, const char *of)
{
    json_t *list = json_object_get(o, "of");

    for (size_t i = 0; i < json_array_size(list); i++)
        if (strcmp(json_string_value(json_array_get(list, i)), of) == 0)
            return;
    json_array_append_new(list, st_doc_text(of));
}

/* text: "[usda_sr26] NDB 09032"; otherwise for what has no key. */
static void add(json_t *all, const char *text, const char *otherwise, const char *of)
{
    json_t *keys = st_doc_sources(text);
    const size_t n = json_array_size(keys);

    for (size_t i = 0; i < n; i++)
        tell(entry(all, json_string_value(json_array_get(keys, i)), ""), of);
    if (n == 0)
        tell(entry(all, "", otherwise), of);
    json_decref(keys);
}

/* The marks of the ingredient sheet: data/README.md. */
static const char *mark_words(char mark)
{
    switch (mark) {
    case 'm': return "from memory";
    case 'c': return "computed from other figures of the sheet of ingredients";
    case 'p': return "common practice, no source";
    case 'u': return "your own figure, in the recipe";
    default: return "no source is known";
    }
}

static void add_range(json_t *all, const struct st_range *r, const char *of)
{
    if (r->known)
        add(all, r->source ? r->source : "", mark_words(r->mark), of);
}

static void add_line(json_t *all, const struct st_line *l)
{
    const struct st_ingredient *in = l->what;

    if (!in)
        return;
    for (int i = 0; i < ST_NCOMP; i++)
        add_range(all, &in->part[i], in->name);
    add_range(all, &in->sugars, in->name);
    if (!l->strength.known)
        add_range(all, &in->strength, in->name);
}

static void add_cautions(json_t *all, const struct st_cautions *list)
{
    char source[120], heading[sizeof list->item[0].what];

    for (int i = 0; i < list->n; i++) {
        const char *text = st_caution_source(&list->item[i], source, sizeof source);
        add(all, text, *text ? text : "no source is known",
            st_caution_heading(&list->item[i], heading, sizeof heading));
    }
}

json_t *st_bottle_sources(const struct st_recipe *r, const struct st_cautions *cautions)
{
    json_t *all = json_array();

    for (size_t i = 0; i < sizeof RULE / sizeof *RULE; i++)
        add(all, RULE[i].keys, "", st_figure_info(RULE[i].figure)->name);
    for (int i = 0; i < r->n_step; i++)
        for (int m = 0; m < r->step[i].n_line; m++)
            add_line(all, &r->step[i].line[m]);
    add_cautions(all, cautions);
    return all;
}

json_t *st_gauge_sources(const json_t *doc, const struct st_cautions *cautions)
{
    json_t *all = json_array();
    const json_t *keys = json_object_get(doc, "source");

    for (size_t i = 0; i < json_array_size(keys); i++) {
        json_t *o = entry(all, json_string_value(json_array_get(keys, i)), "");
        tell(o, "strength");
        tell(o, "sugar");
    }
    add_cautions(all, cautions);
    return all;
}
