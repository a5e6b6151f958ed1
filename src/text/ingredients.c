#include "ingredients.h"

#include <ctype.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "held.h"
#include "ingredient_stanza.h"
#include "name_form.h"
#include "name_index.h"
#include "near.h"
#include "rule_sheets.h"
#include "sheet.h"
#include "slip.h"
#include "util/arena.h"
#include "util/memory.h"

enum { ENTRY_LIMIT = 5000 };


struct st_catalogue {
    struct st_arena arena;
    struct st_ingredient **entry; /* each in the arena, so that lent ones stay where they are */
    size_t n, room;
    struct st_name_index index, botanical;
    bool changed; /* since it was read from its sheet */
};

void st_catalogue_free(struct st_catalogue *c)
{
    if (!c)
        return;
    st_name_index_done(&c->index);
    st_name_index_done(&c->botanical);
    free(c->entry);
    st_arena_done(&c->arena);
    free(c);
}

size_t st_catalogue_count(const struct st_catalogue *c)
{
    return c->n;
}

const struct st_ingredient *st_catalogue_at(const struct st_catalogue *c, size_t i)
{
    return i < c->n ? c->entry[i] : NULL;
}

const char *st_catalogue_keep(struct st_catalogue *c, const char *text, size_t size)
{
    c->changed = true;
    return st_arena_strndup(&c->arena, text, size);
}

void *st_catalogue_room(struct st_catalogue *c, size_t size)
{
    c->changed = true;
    return st_arena_alloc(&c->arena, size);
}

bool st_catalogue_is_changed(const struct st_catalogue *c)
{
    return c->changed;
}

static void append(struct st_catalogue *c, struct st_ingredient *in)
{
    if (c->n == c->room) {
        c->room = c->room ? c->room*2 : 512;
        c->entry = x_realloc_array(c->entry, c->room, sizeof *c->entry);
    }
    c->entry[c->n++] = in;
}

/* ---- reading ---- */

static int claim(struct st_catalogue *c, const char *name, size_t size, int what, struct st_place at,
                 struct st_problem *problem)
{
    struct st_name_words w;
    char form[ST_NAME_BYTES*2];

    st_name_split(name, size, &w);
    const size_t length = st_name_join(&w, 0, form);
    if (length == 0)
        return 0;
    const int before = st_name_index_add(&c->index, &c->arena, form, length, what);
    if (before < 0 || before == what)
        return 0;
    return st_sheet_problem(problem, at, "cannot use this name", "give each name to one ingredient",
                            "'%.*s' already means '%.60s'", size < 60 ? (int)size : 60, name, c->entry[before]->slug);
}

/* Its slug, name and names all stand for it. */
static int claim_names(struct st_catalogue *c, int what, struct st_place at, struct st_problem *problem)
{
    const struct st_ingredient *in = c->entry[what];

    if (claim(c, in->slug, strlen(in->slug), what, at, problem) ||
        claim(c, in->name, strlen(in->name), what, at, problem))
        return -1;
    for (const char *p = in->names; *p;) {
        const size_t n = strcspn(p, "|");
        if (claim(c, p, n, what, at, problem))
            return -1;
        p += n + (p[n] == '|');
    }
    return 0;
}

static bool is_slug(const char *text)
{
    return *text && text[strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789_")] == '\0';
}

static int finish_stanza(struct st_catalogue *c, const struct st_stanza_seen *seen, struct st_place at,
                         struct st_problem *problem)
{
    if (c->n == 0)
        return 0;
    return st_ingredient_complete(c->entry[c->n - 1], seen, at, problem) ||
                   claim_names(c, (int)c->n - 1, at, problem)
               ? -1
               : 0;
}

static int begin_stanza(struct st_catalogue *c, const struct st_sheet_line *line, struct st_problem *problem)
{
    if (!is_slug(line->rest))
        return st_sheet_problem(problem, line->at, "cannot begin this ingredient", "write such as: ingredient damson",
                                "its key must be of a-z, 0-9 and _");
    if (c->n >= ENTRY_LIMIT)
        return st_sheet_problem(problem, line->at, "cannot read on", "split the sheet",
                                "there is room for %d ingredients", ENTRY_LIMIT);
    struct st_ingredient *in = st_arena_alloc(&c->arena, sizeof *in);
    st_ingredient_blank(in);
    in->slug = line->rest;
    append(c, in);
    return 0;
}

static int read_sheet(struct st_catalogue *c, char *text, size_t size, struct st_problem *problem)
{
    struct st_sheet sheet;
    struct st_sheet_line line;
    struct st_stanza_seen seen = { 0 };
    struct st_place begun = { 0 };
    int got;

    if (st_sheet_open(&sheet, text, size, problem))
        return -1;
    while ((got = st_sheet_next(&sheet, &line, problem)) > 0) {
        if (strcmp(line.key, "ingredient") == 0) {
            if (finish_stanza(c, &seen, begun, problem) || begin_stanza(c, &line, problem))
                return -1;
            seen = (struct st_stanza_seen){ 0 };
            begun = line.at;
        } else if (c->n == 0) {
            return st_sheet_problem(problem, line.at, "cannot read this line", "begin with a line: ingredient SLUG",
                                    "it stands before the first ingredient");
        } else if (st_ingredient_line(&line, c->entry[c->n - 1], &seen, problem)) {
            return -1;
        }
    }
    return got < 0 ? -1 : finish_stanza(c, &seen, begun, problem);
}

/* How grave its gravest caution is; -1 none. */
static int gravest(const struct st_ingredient *in)
{
    int most = -1;
    for (int i = 0; i < in->n_caution; i++)
        if (st_flag_weight(&in->caution[i]) > most)
            most = st_flag_weight(&in->caution[i]);
    return most;
}

/* Botanical names stand for the mildest thing that bears them: elder is no elder leaf, an apricot no apricot kernel. */
static void index_botanical(struct st_catalogue *c, int what)
{
    struct st_name_words w;
    char form[ST_NAME_BYTES*2];

    for (const char *p = c->entry[what]->botanical; *p;) {
        const size_t n = strcspn(p, "/");
        st_name_split(p, n, &w);
        const size_t length = st_name_join(&w, 0, form);
        const int before = length ? st_name_index_add(&c->botanical, &c->arena, form, length, what) : -1;
        if (before >= 0 && gravest(c->entry[what]) < gravest(c->entry[before]))
            st_name_index_set(&c->botanical, &c->arena, form, length, what);
        p += n + (p[n] == '/');
    }
}

struct st_catalogue *st_catalogue_create(const char *text, size_t size, struct st_problem *problem)
{
    struct st_catalogue *c = x_calloc(1, sizeof *c);

    if (size > ST_SHEET_SIZE_LIMIT) {
        st_sheet_problem(problem, (struct st_place){ 0 }, "cannot read this sheet", "split it",
                         "it has %zu bytes, the limit is %d", size, ST_SHEET_SIZE_LIMIT);
        st_catalogue_free(c);
        return NULL;
    }
    st_arena_init(&c->arena);
    char *copy = st_arena_alloc(&c->arena, size + 1); /* zeroed: ends in NUL */
    if (size)
        memcpy(copy, text, size);
    if (read_sheet(c, copy, size, problem)) {
        st_catalogue_free(c);
        return NULL;
    }
    for (size_t i = 0; i < c->n; i++)
        index_botanical(c, (int)i);
    return c;
}

/* ---- finding ---- */

const struct st_ingredient *st_catalogue_by_form(const struct st_catalogue *c, const char *form, size_t length)
{
    int at = st_name_index_find(&c->index, form, length);
    if (at < 0)
        at = st_name_index_find(&c->botanical, form, length);
    return at < 0 ? NULL : c->entry[at];
}

static bool is_dry_kind(enum st_kind k)
{
    switch (k) {
    case ST_KIND_DRIED_FRUIT: case ST_KIND_PEEL_DRY: case ST_KIND_KERNEL: case ST_KIND_NUT: case ST_KIND_SEED:
    case ST_KIND_BARK: case ST_KIND_ROOT_DRY: case ST_KIND_HERB_DRY: case ST_KIND_FLOWER_DRY: case ST_KIND_BERRY_DRY:
    case ST_KIND_BEAN: case ST_KIND_COFFEE: case ST_KIND_NIB: case ST_KIND_WOOD: case ST_KIND_POWDER:
        return true;
    default:
        return false;
    }
}

bool st_kind_is_moist(enum st_kind k)
{
    switch (k) {
    case ST_KIND_FRESH_FRUIT: case ST_KIND_FROZEN_FRUIT: case ST_KIND_TINNED_FRUIT: case ST_KIND_GREEN_FRUIT:
    case ST_KIND_PEEL_FRESH: case ST_KIND_ROOT_FRESH: case ST_KIND_HERB_FRESH: case ST_KIND_FLOWER_FRESH:
    case ST_KIND_JUICE: case ST_KIND_SYRUP: case ST_KIND_DAIRY: case ST_KIND_EGG:
        return true;
    default:
        return false;
    }
}

/* May the words left out be left out for this kind?  "fresh sage" is not dried sage, "dried damsons" are no damsons. */
static bool may_leave_out(const struct st_name_words *w, unsigned left_out, enum st_kind kind)
{
    for (int i = 0; i < w->n; i++) {
        if (!(left_out >> i & 1u))
            continue;
        if (st_name_is_dried(w->word[i]) && !is_dry_kind(kind))
            return false;
        if (st_name_is_ground(w->word[i]) && st_kind_is_moist(kind))
            return false;
        if (strcmp(w->word[i], "fresh") == 0 && (is_dry_kind(kind) || kind == ST_KIND_TINNED_FRUIT))
            return false;
    }
    return true;
}

static int bits(unsigned x)
{
    int n = 0;
    for (; x; x &= x - 1)
        n++;
    return n;
}

/* Leave out words of preparation, as few as will do. */
static const struct st_ingredient *find_words(const struct st_catalogue *c, const struct st_name_words *w)
{
    enum { MOST_SOFT = 6 };
    char form[ST_NAME_BYTES*2];
    int soft[MOST_SOFT], n_soft = 0;

    for (int i = 0; i < w->n && n_soft < MOST_SOFT; i++)
        if (st_name_is_soft(w->word[i]) || st_name_is_dried(w->word[i]))
            soft[n_soft++] = i;
    for (int few = 0; few <= n_soft; few++) {
        for (unsigned pick = 0; pick < 1u << n_soft; pick++) {
            if (bits(pick) != few)
                continue;
            unsigned left_out = 0;
            for (int i = 0; i < n_soft; i++)
                left_out |= (pick >> i & 1u) << soft[i];
            const size_t length = st_name_join(w, left_out, form);
            const int at = length ? st_name_index_find(&c->index, form, length) : -1;
            if (at >= 0 && may_leave_out(w, left_out, c->entry[at]->kind))
                return c->entry[at];
        }
    }
    return NULL;
}

const struct st_ingredient *st_catalogue_find(const struct st_catalogue *c, const char *name, size_t size)
{
    struct st_name_words w;

    if (size > ST_NAME_BYTES)
        return NULL;
    st_name_split(name, size, &w);
    return w.n ? find_words(c, &w) : NULL;
}

/* ---- near names ---- */

/* Keep the best few, each ingredient once. */
static int keep_best(const struct st_ingredient *near[], double like[], int n, int max, const struct st_ingredient *in,
                     double how_like)
{
    int at = 0;
    while (at < n && near[at] != in)
        at++;
    if (at < n && like[at] >= how_like)
        return n;
    if (at == n) {
        if (n == max && like[n - 1] >= how_like)
            return n;
        if (n < max)
            n++;
        at = n - 1;
    }
    for (; at > 0 && like[at - 1] < how_like; at--) {
        near[at] = near[at - 1];
        like[at] = like[at - 1];
    }
    near[at] = in;
    like[at] = how_like;
    return n;
}

enum { MOST_NEAR = 16 };

/* All that are near, what must not go into a drink too. */
static int near_all(const struct st_catalogue *c, const char *name, size_t size,
                    const struct st_ingredient *near[MOST_NEAR])
{
    const int max = MOST_NEAR;
    double like[MOST_NEAR];
    struct st_name_words w;
    char form[ST_NAME_BYTES*2];
    int n = 0;

    st_name_split(name, size, &w);
    if (st_name_join(&w, 0, form) == 0)
        return 0;
    const int botanical = st_name_index_find(&c->botanical, form, strlen(form));
    if (botanical >= 0)
        n = keep_best(near, like, n, max, c->entry[botanical], 1);
    for (size_t i = 0; i < c->index.room; i++) {
        const struct st_name_entry *e = &c->index.slot[i];
        if (!e->form)
            continue;
        const double how_like = st_near_name(form, e->form);
        if (how_like > 0.4 && st_near_enough(form, e->form))
            n = keep_best(near, like, n, max, c->entry[e->what], how_like);
    }
    return n;
}

int st_catalogue_near(const struct st_catalogue *c, const char *name, size_t size, const struct st_ingredient *near[],
                      int max)
{
    const struct st_ingredient *all[MOST_NEAR];
    int n = 0;

    if (max <= 0 || st_held_stop(c, name, size)) /* a name that says yew never leads to rue */
        return 0;
    const int found = near_all(c, name, size, all);
    for (int i = 0; i < found && n < max; i++)
        if (!st_ingredient_is_stopped(all[i]))
            near[n++] = all[i];
    return n;
}

/* The likest of those that are only a slip away, if it must not go into a drink. */
static const struct st_ingredient *stop_slip(const struct st_catalogue *c, const char *name, size_t size)
{
    const struct st_ingredient *all[MOST_NEAR];
    char word[ST_NAME_BYTES];

    (void)snprintf(word, sizeof word, "%.*s", (int)(size < sizeof word ? size : sizeof word - 1), name);
    const int found = near_all(c, name, size, all);
    for (int i = 0; i < found; i++)
        if (st_is_slip_of(word, all[i]))
            return st_ingredient_is_stopped(all[i]) ? all[i] : NULL;
    return NULL;
}

const struct st_ingredient *st_catalogue_slip(const struct st_catalogue *c, const char *name, size_t size)
{
    struct st_name_words w;
    const struct st_ingredient *stop = stop_slip(c, name, size);

    st_name_split(name, size, &w);
    for (int i = 0; i < w.n && w.n > 1 && !stop; i++)
        if (strlen(w.word[i]) > 5 && !st_catalogue_find(c, w.word[i], strlen(w.word[i])))
            stop = stop_slip(c, w.word[i], strlen(w.word[i]));
    return stop;
}

/* ---- defining ---- */

static const char *slug_of(struct st_catalogue *c, const char *name)
{
    char *slug = st_arena_strdup(&c->arena, name);
    size_t n = 0;

    for (const char *p = name; *p; p++) {
        const unsigned char u = (unsigned char)*p;
        if (u < 0x80 && isalnum(u))
            slug[n++] = (char)tolower(u);
        else if (n > 0 && slug[n - 1] != '_')
            slug[n++] = '_';
    }
    while (n > 0 && slug[n - 1] == '_')
        n--;
    slug[n] = '\0';
    return n ? slug : "own";
}

/* The entry whose own name (not a further name of it) has this form, or -1. */
static int entry_named(const struct st_catalogue *c, const char *form, size_t length)
{
    const int at = length ? st_name_index_find(&c->index, form, length) : -1;
    struct st_name_words w;
    char own[ST_NAME_BYTES*2];

    if (at < 0)
        return -1;
    st_name_split(c->entry[at]->name, strlen(c->entry[at]->name), &w);
    return st_name_join(&w, 0, own) == length && strcmp(own, form) == 0 ? at : -1;
}

struct st_ingredient *st_catalogue_define(struct st_catalogue *c, const char *name, const struct st_ingredient *base)
{
    struct st_name_words w;
    char form[ST_NAME_BYTES*2];

    st_name_split(name, strlen(name), &w);
    const size_t length = st_name_join(&w, 0, form);
    const int replaced = entry_named(c, form, length);
    c->changed = true;
    struct st_ingredient *in = st_arena_alloc(&c->arena, sizeof *in);
    if (base)
        *in = *base;
    else
        st_ingredient_blank(in);
    in->like = base ? base->slug : "";
    in->name = st_arena_strdup(&c->arena, name);
    in->slug = slug_of(c, name);
    in->names = replaced < 0 ? "" : c->entry[replaced]->names;

    if (replaced >= 0) { /* all its other names go with it */
        c->entry[replaced] = in;
        return in;
    }
    append(c, in);
    if (length)
        st_name_index_set(&c->index, &c->arena, form, length, (int)c->n - 1);
    return in;
}

void st_catalogue_live_in(struct st_catalogue *c, unsigned places)
{
    for (size_t i = 0; i < c->n; i++)
        for (int k = 0; k < c->entry[i]->n_caution; k++) {
            struct st_flag *f = &c->entry[i]->caution[k];
            const bool barred = strcmp(f->what, "banned") == 0 || strcmp(f->what, "barred_elsewhere") == 0;
            const bool there = f->degree[0] == '='; /* only where the maker says to live there */
            const unsigned by = barred ? st_rule_places(f->degree + there) : 0;
            if (by)
                f->what = (by & places) && !(there && places == ST_PLACE_ALL) ? "banned" : "barred_elsewhere";
        }
}
