#include "api/book_batch_label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/doc_label.h"
#include "model/line_goods.h"
#include "text/caution_brought.h"
#include "text/figure_words.h"
#include "util/memory.h"

enum { MOST_BYTES = 262144 }; /* of the column */

static const char *word(const json_t *o, const char *key)
{
    const char *text = json_string_value(json_object_get(o, key));
    return text ? text : "";
}

/* What follows from the rest is not kept: headings, and how many of each country's standard drinks the strength and the
 * size make. */
static json_t *leaner(json_t *label)
{
    json_t *facts = json_object_get(label, "facts"), *x;
    for (size_t i = 0; (x = json_array_get(facts, i)) != NULL;) {
        const char *text = word(x, "text");
        if (strcmp(word(x, "code"), "drinks") == 0 && strncmp(text, "a serving", 9) != 0 &&
            strncmp(text, "alcohol", 7) != 0) {
            (void)json_array_remove(facts, i);
            continue;
        }
        json_object_del(x, "heading");
        if (!json_is_true(json_object_get(x, "far")))
            json_object_del(x, "far");
        i++;
    }
    return label;
}

/* What ends with the making is none of the bottle's, unless that is strong enough to burn itself (from memory: 50 % vol and more). */
static void without_making(struct st_cautions *all, const struct st_foretold *f)
{
    static const double BURNS_PCT_VOL = 50.0;
    const struct st_interval *q = &f->fig[ST_FIG_STRENGTH];
    int n = 0;
    if (!q->known || !(q->high < BURNS_PCT_VOL))
        return;
    for (int i = 0; i < all->n; i++)
        if (!st_caution_ends_with_making(&all->item[i]))
            all->item[n++] = all->item[i];
    all->n = n;
}

const char *st_batch_label(struct st_arena *arena, const struct st_recipe *r, const struct st_foretold *f,
                           const struct st_watch *watch, const struct st_label_books *books,
                           const struct st_batch_labelled *of)
{
    struct st_cautions *cautions = x_calloc(1, sizeof *cautions); /* large, all three */
    struct st_ledger *ledger = x_calloc(1, sizeof *ledger);
    struct st_label_facts *facts = x_calloc(1, sizeof *facts);

    st_cautions_collect(r, f, watch, cautions);
    without_making(cautions, f);
    if (st_ledger_make(r, f, watch->books, watch->place->places, &watch->who, r->assay, r->n_assay, ledger) < 0)
        memset(ledger, 0, sizeof *ledger);
    st_label_told(books, r, f, ledger, watch, cautions, facts);
    json_t *o = json_pack("{s:o, s:o, s:o, s:o}", "code", st_doc_text(of->code), "name", st_doc_text(of->name),
                          "begun_on", st_doc_text(of->begun), "label", leaner(st_doc_label(facts)));
    json_object_set_new(o, "cautions", st_doc_cautions(cautions));
    json_object_set_new(o, "strength_measured_pct_vol", isfinite(of->strength) ? json_real(of->strength) : json_null());
    if (of->read->is.known) {
        json_object_set_new(o, "strength_read_pct_vol", st_doc_interval(&of->read->is));
        json_object_set_new(o, "strength_read_by", st_doc_text(of->read->by));
    }
    st_doc_figures(o, f);
    char *text = json_dumps(o, JSON_COMPACT | JSON_REAL_PRECISION(12));
    const char *kept = text && strlen(text) <= MOST_BYTES ? st_arena_strdup(arena, text) : "";
    free(text);
    json_decref(o);
    free(facts);
    free(ledger);
    free(cautions);
    return kept;
}

/* ---- read back ---- */

struct lines {
    struct st_arena *arena;
    struct st_batch_label_line *line;
    int n;
    bool whole;
};

static void add(struct lines *k, const char *what, const char *text)
{
    if (*text)
        k->line[k->n++] = (struct st_batch_label_line){ what, st_arena_strdup(k->arena, text) };
}

/* The figure as it was told that day; known false where it was not. */
static struct st_interval figure(const json_t *o, const char *key)
{
    const json_t *x = json_object_get(o, key);
    const json_t *low = json_object_get(x, "low"), *high = json_object_get(x, "high"), *v = json_object_get(x, "value");
    return (struct st_interval){ .value = json_number_value(v),
                                 .low = json_number_value(low),
                                 .high = json_number_value(high),
                                 .known = json_is_number(v) && json_is_number(low) && json_is_number(high) };
}

/* What it may be called where, as far as the rules that were looked into say. */
static void add_classes(struct lines *k, const json_t *facts)
{
    const json_t *x;
    size_t i;
    json_array_foreach(facts, i, x)
    {
        if (strcmp(word(x, "code"), "class") == 0 && strcmp(word(x, "truth"), "yes") == 0)
            add(k, "name", word(x, "text"));
    }
}

static void add_strength(struct lines *k, const json_t *o, double measured)
{
    char words[120];
    const struct st_interval told = figure(o, "strength_pct_vol"), read = figure(o, "strength_read_pct_vol");
    if (read.known) {
        st_figure_words(words, sizeof words, &read, "% vol");
        add(k, "strength",
            st_arena_printf(k->arena, "%s, by what was read (%s) and what went in", words,
                            word(o, "strength_read_by")));
    } else if (told.known) {
        st_figure_words(words, sizeof words, &told, "% vol");
        add(k, "strength", st_arena_printf(k->arena, "%s, as foretold that day", words));
    }
    if (isfinite(measured))
        add(k, "strength", st_arena_printf(k->arena, "%.4g %% vol, as measured", measured));
}

/* Where something that went in was not assessed, nobody can say that none is there. */
static bool is_reckoned(const json_t *cautions)
{
    const json_t *x;
    size_t i;
    json_array_foreach(cautions, i, x)
    {
        if (strcmp(word(x, "code"), ST_CAUTION_UNRECKONED) == 0)
            return false;
    }
    return true;
}

static void add_allergens(struct lines *k, const json_t *facts, bool reckoned)
{
    const json_t *x;
    size_t i;
    const int had = k->n;
    json_array_foreach(facts, i, x)
    {
        if (strcmp(word(x, "code"), "allergen") == 0)
            add(k, "allergens", word(x, "text"));
    }
    if (!reckoned)
        add(k, "allergens", "something that went in was not assessed for them: see the cautions");
    if (k->n == had)
        add(k, "allergens", "none of what is listed among what went in is on the lists that were looked into");
}

static void add_more(struct lines *k, int more)
{
    if (more > 0)
        add(k, "caution", st_arena_printf(k->arena, "and %d more", more));
}

/* Notes of what the recipe itself says of an ingredient of its own, and of what a drink of another batch brought. */
static bool is_own(const json_t *x)
{
    const bool brought = json_is_true(json_object_get(x, "brought"));
    return (brought || strcmp(word(x, "code"), "own") == 0) && strcmp(word(x, "level"), "note") == 0 &&
           *word(x, "because");
}

enum { PEOPLE, OTHER, KEEPING, N_KIND };

/* Who must know comes before what its looks suffer from. */
static int kind_of(const json_t *x)
{
    static const char WHO[] = "allergen|allergens|cross_reactive|drug_interaction|pregnancy|infants|phenylketonuria|"
                              "kidney|liver|" ST_CAUTION_UNRECKONED;
    static const char KEPT[] = "light|crystallises|curdles";
    const char *code = word(x, "code");
    return st_in_list(WHO, '|', code) ? PEOPLE : st_in_list(KEPT, '|', code) ? KEEPING : OTHER;
}

static bool is_level(const json_t *x, const char *level)
{
    return strncmp(word(x, "level"), level, strlen(level)) == 0;
}

static const char *of_own(const struct lines *k, const json_t *x)
{
    const char *what = word(x, "what"), *because = word(x, "because");
    return strstr(what, because) ? what : st_arena_printf(k->arena, "%s: %s", what, because);
}

/* One level of the list, kind by kind; returns how many beyond most were left out. */
static int add_level(struct lines *k, const json_t *list, const char *level, int *told, int most)
{
    const bool own = strcmp(level, "note") == 0, limit = strcmp(level, "caution") != 0 && !own;
    const json_t *x;
    size_t i;
    int more = 0;
    for (int kind = 0; kind < N_KIND; kind++)
        json_array_foreach(list, i, x)
        {
            if (!is_level(x, level) || kind_of(x) != kind || (own && !is_own(x)))
                continue;
            if (k->whole || limit || kind == PEOPLE || *told < most)
                add(k, "caution", own ? of_own(k, x) : word(x, "what"));
            else
                more++;
            *told += kind != PEOPLE;
        }
    return more;
}

static void add_cautions(struct lines *k, const json_t *list)
{
    enum { MOST = 12, MOST_OWN = 4 };
    int told = 0, own = 0;
    int more = add_level(k, list, "stop", &told, MOST);
    more += add_level(k, list, "over", &told, MOST);
    more += add_level(k, list, "caution", &told, MOST);
    add_more(k, more);
    add_more(k, add_level(k, list, "note", &own, MOST_OWN));
}

int st_batch_label_lines(struct st_arena *arena, const struct book_bottling *row, const char *name, bool whole,
                         struct st_batch_label_line **line)
{
    struct lines k = { .arena = arena, .whole = whole };
    json_t *o = *row->facts ? json_loads(row->facts, 0, NULL) : NULL;
    *line = NULL;
    if (!o)
        return 0;
    const json_t *facts = json_object_get(json_object_get(o, "label"), "facts"), *list = json_object_get(o, "cautions");
    /* a fact is a name or an allergen, a caution one line; 8: the other lines that are added one by one */
    *line = k.line = st_arena_alloc(arena, (json_array_size(facts) + json_array_size(list) + 8) * sizeof *k.line);
    add(&k, "name", *word(o, "name") ? word(o, "name") : name);
    add_classes(&k, facts);
    add_strength(&k, o, row->strength_pct_vol);
    add_allergens(&k, facts, is_reckoned(list));
    add(&k, "use by", row->use_by ? row->use_by : "no day was told");
    add_cautions(&k, list);
    json_decref(o);
    return k.n;
}

json_t *st_doc_batch_label_lines(const struct st_batch_label_line line[], int n)
{
    json_t *list = json_array();
    for (int i = 0; i < n; i++)
        json_array_append_new(list, json_pack("{s:s, s:o}", "what", line[i].what, "text", st_doc_text(line[i].text)));
    return list;
}
