#include "yaml_flags.h"

#include <stdio.h>
#include <string.h>

#include "allergen_list.h"
#include "allergen_said.h"
#include "built_sheet.h"
#include "cautions.h"
#include "held.h"

/* The catalogue outlives the recipe, so the texts of definitions are kept there. */
static const char *keep(struct st_reader *r, const char *text)
{
    return st_catalogue_keep(r->catalogue, text, strlen(text));
}

static const char OWN[] = ST_YAML_OWN;

/* ---- allergens and cautions: added, never removed ---- */

static bool has_flag(const struct st_flag *flag, int n, const char *what)
{
    for (int i = 0; i < n; i++)
        if (strcmp(flag[i].what, what) == 0)
            return true;
    return false;
}

static void add_flag(struct st_reader *r, const struct st_yaml *v, struct st_flag *flag, int *n, int most,
                     struct st_flag one)
{
    if (*n < most)
        flag[(*n)++] = one;
    else
        st_report(&r->report, v->at, st_arena_printf(r->report.arena, "an ingredient carries %d at most", most),
                  "join two of them into one text", "there is no room for `%s`",
                  st_report_clip(&r->report, v->text, v->size));
}

/* The flag of an author; one that the ingredient has is never lowered, and raised where the author is surer. */
static void add_allergen(struct st_reader *r, const struct st_yaml *v, struct st_ingredient *in,
                         const struct st_allergen_said *said, const char *text)
{
    static const char BY[] = "named by the maker of the recipe";
    const bool same = strcmp(said->code, text) == 0;
    const char *because = same ? BY : keep(r, st_arena_printf(r->report.arena, "%s: %s", BY, text));
    const struct st_flag f = { keep(r, said->code), said->scope, because, OWN, 'u' };
    for (int i = 0; i < in->n_allergen; i++)
        if (strcmp(in->allergen[i].what, said->code) == 0) {
            if (st_scope_weight(said->scope) > st_scope_weight(in->allergen[i].degree))
                in->allergen[i] = f;
            return;
        }
    add_flag(r, v, in->allergen, &in->n_allergen, ST_MAX_ALLERGENS, f);
}

void st_yaml_allergens_read(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_problem none;
    const struct st_embedded *e = st_built_sheet("data/allergens.tsv", &none);
    struct st_allergen_lists *lists = e ? st_allergen_list_create((const char *)e->bytes, e->size, &none) : NULL;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one)) {
        struct st_allergen_said said[8];
        const char *text;
        if (!st_value_text(r, one, ST_NAME_LIMIT, &text))
            continue;
        const int n = st_allergen_said(text, lists, r->catalogue, said, 8);
        for (int i = 0; i < n; i++)
            add_allergen(r, one, into, &said[i], text);
    }
    st_allergen_list_free(lists);
}

void st_yaml_cautions_read(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_ingredient *in = into;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one)) {
        const char *text;
        if (st_value_text(r, one, 400, &text))
            add_flag(r, one, in->caution, &in->n_caution, ST_MAX_FLAGS,
                     (struct st_flag){ "own", "", keep(r, text), OWN, 'u' });
    }
}

/* ---- what a batch brings along ---- */

struct brought {
    struct st_brought *one;
    bool level;
};

static void read_level(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct brought *b = into;
    const char *text, *known[ST_LEVEL_STOP + 1];
    if (!st_value_text(r, v, ST_NAME_LIMIT, &text))
        return;
    for (int k = ST_LEVEL_NOTE; k <= ST_LEVEL_STOP; k++) {
        known[k] = st_level_name((enum st_level)k);
        if (strcmp(text, known[k]) == 0) {
            b->one->level = k;
            b->one->flag.degree = k == ST_LEVEL_NOTE ? "low" : "";
            b->level = true;
        }
    }
    if (!b->level)
        st_report(&r->report, v->at, "levels are note, caution, over and stop", "write level: caution",
                  "the level `%s` is not known", st_report_clip(&r->report, text, v->size));
}

#define WORDS(name, member, most)                                                                                      \
    static void read_##name(struct st_reader *r, const struct st_yaml *v, void *into)                                  \
    {                                                                                                                  \
        const char *text;                                                                                              \
        if (st_value_text(r, v, most, &text))                                                                          \
            ((struct brought *)into)->one->member = keep(r, text);                                                     \
    }

WORDS(code, flag.what, ST_NAME_LIMIT)
WORDS(what, what, sizeof((struct st_caution *)0)->what)
WORDS(because, flag.text, sizeof((struct st_caution *)0)->because)
WORDS(source, flag.source, ST_NAME_LIMIT)

static const struct st_field BROUGHT[] = {
    { "level", read_level, 0 },     { "code", read_code, 0 },     { "what", read_what, 0 },
    { "because", read_because, 0 }, { "source", read_source, 0 }, { NULL, NULL, 0 },
};

void st_yaml_brings_read(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_ingredient *in = into;
    struct st_brought *all = st_catalogue_room(r->catalogue, ST_MAX_BROUGHT * sizeof *all);
    int n = 0;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one)) {
        struct brought b = { .level = false };
        if (one->kind == ST_YAML_MAP && st_yaml_get(one, "what") && n < ST_MAX_BROUGHT) {
            b.one = &all[n];
            *b.one = (struct st_brought){ { "own", "", "", OWN, 'u' }, "", ST_LEVEL_CAUTION };
            st_fields_read(r, one, BROUGHT, "a caution that it brings", 0, &b);
            n++;
            continue;
        }
        st_report(&r->report, one->at,
                  n == ST_MAX_BROUGHT ? "sixty-four are the most that are read" : "it says nothing to watch",
                  "write {level: caution, code: salmonella, what: raw egg in it}", "this is no caution");
        return;
    }
    in->brought = all;
    in->n_brought = n;
}

/* ---- what stays whatever it is like ---- */

/* More allergens than there is room for: said once, in the place of the lightest caution where those are full too. */
static void say_more(struct st_ingredient *in)
{
    static const struct st_flag MORE = { "own", "moderate",
                                         "and more allergens than there is room for here: look at what went into it, "
                                         "thing by thing",
                                         "common practice, no source", 'p' };
    int at = 0;
    for (int i = 0; i < in->n_caution; i++)
        if (in->caution[i].text == MORE.text)
            return;
    for (int i = 1; i < in->n_caution; i++)
        if (st_flag_weight(&in->caution[i]) < st_flag_weight(&in->caution[at]))
            at = i;
    if (in->n_caution < ST_MAX_FLAGS)
        at = in->n_caution++;
    else if (st_flag_weight(&in->caution[at]) > st_flag_weight(&MORE))
        return;
    in->caution[at] = MORE;
}

/* Flags of an ingredient it replaces stay with it, even if it is now like something else. */
void st_yaml_flags_keep(struct st_ingredient *in, const struct st_ingredient *was)
{
    bool more = false;
    for (int i = 0; was && i < was->n_allergen; i++) {
        if (has_flag(in->allergen, in->n_allergen, was->allergen[i].what))
            continue;
        if (in->n_allergen < ST_MAX_ALLERGENS)
            in->allergen[in->n_allergen++] = was->allergen[i];
        else
            more = true;
    }
    for (int i = 0; was && i < was->n_caution && in->n_caution < ST_MAX_FLAGS; i++)
        if (!has_flag(in->caution, in->n_caution, was->caution[i].what))
            in->caution[in->n_caution++] = was->caution[i];
    if (more)
        say_more(in);
}

/* Of a stone fruit the fruit is warned of for its stone, which no juice, syrup or spirit named after it holds. */
static bool is_of_stone(const struct st_flag *f, const struct st_ingredient *in)
{
    return !st_kind_is_solid(in->kind) && f->text && strncmp(f->text, "the stone", 9) == 0;
}

/* The graver of two cautions of one sort; in a full list the lightest gives way. */
static void keep_graver(struct st_ingredient *in, struct st_flag one)
{
    int at = 0;
    while (at < in->n_caution && strcmp(in->caution[at].what, one.what) != 0)
        at++;
    if (at == ST_MAX_FLAGS) {
        at = 0;
        for (int i = 1; i < ST_MAX_FLAGS; i++)
            if (st_flag_weight(&in->caution[i]) < st_flag_weight(&in->caution[at]))
                at = i;
    }
    if (at == in->n_caution)
        in->n_caution++;
    else if (st_flag_weight(&in->caution[at]) >= st_flag_weight(&one))
        return;
    in->caution[at] = one;
}

/* Allergens that its name says, as sure as where it is the thing itself: a tincture holds what was steeped. */
static void held_allergens(struct st_reader *r, struct st_ingredient *in, const struct st_ingredient *held)
{
    for (int i = 0; i < held->n_allergen; i++) {
        struct st_flag f = held->allergen[i];
        int at = 0;
        while (at < in->n_allergen && strcmp(in->allergen[at].what, f.what) != 0)
            at++;
        if (at == ST_MAX_ALLERGENS)
            say_more(in);
        if (at == ST_MAX_ALLERGENS ||
            (at < in->n_allergen && st_scope_weight(in->allergen[at].degree) >= st_scope_weight(f.degree)))
            continue;
        f.text = keep(r, st_arena_printf(r->report.arena, "because its name says %s%s%s", held->name,
                                         f.text && *f.text ? ": " : "", f.text ? f.text : ""));
        in->allergen[at] = f;
        in->n_allergen += at == in->n_allergen;
    }
}

/* A name that says yew is warned of as yew, hazelnut as hazelnut, whatever it is said to be like. */
void st_yaml_flags_held(struct st_reader *r, struct st_ingredient *in, const struct st_ingredient *held[ST_HELD], int n)
{
    for (int h = 0; h < n; h++) {
        held_allergens(r, in, held[h]);
        for (int i = 0; i < held[h]->n_caution; i++) {
            struct st_flag f = held[h]->caution[i];
            if (is_of_stone(&f, in))
                continue;
            f.text = keep(r, st_arena_printf(r->report.arena, "because its name says %s: %s", held[h]->name, f.text));
            keep_graver(in, f);
        }
    }
}

/* Known by its kind alone: of what such a thing may hold nobody has looked at anything. */
void st_yaml_flags_unknown(struct st_ingredient *in)
{
    static const struct st_flag UNKNOWN = { "unknown_plant", "high",
                                            "only this recipe knows it: what it may hold of poisons and allergens was "
                                            "not assessed; be sure what it is, and "
                                            "ask who knows it before you steep it",
                                            "common practice, no source", 'p' };
    const bool plain = in->kind == ST_KIND_WATER || in->kind == ST_KIND_SUGAR || in->kind == ST_KIND_SPIRIT;
    if (!plain)
        keep_graver(in, UNKNOWN);
}
