#include "kept.h"

#include <stdlib.h>
#include <string.h>

#include "inside.h"
#include "text/stops.h"
#include "ticks.h"
#include "util/memory.h"

static uint64_t hash_of(const char *text, size_t n, enum st_measures units)
{
    uint64_t h = 14695981039346656037u ^ (uint64_t)units; /* FNV-1a */
    for (size_t i = 0; i < n; i++)
        h = (h ^ (unsigned char)text[i]) * 1099511628211u;
    return h;
}

void st_kept_done(struct st_kept *k)
{
    if (!k)
        return;
    st_plan_free(k->plan);
    free(k->slider);
    st_recipe_done(&k->file);
    st_catalogue_free(k->own);
    free(k->text);
    free(k);
}

/* ---- what can be turned ---- */

static void add(struct st_kept *k, int step, int line, enum st_dial_of of, double written, double tick)
{
    struct st_slider *s = &k->slider[k->n_slider++];
    *s = (struct st_slider){ .dial = { step, line, of }, .written = written, .tick = tick };
    st_tick_range(of, written, tick, &s->low, &s->high);
}

/* A share of a step ("half of jar") is no amount that is measured. */
static bool amount_turns(const struct st_line *l)
{
    const struct st_amount *a = &l->amount;
    return a->open == ST_CLOSED && a->value > 0.0 &&
           (a->dim == ST_DIM_MASS || a->dim == ST_DIM_VOLUME || (a->dim == ST_DIM_PIECE && l->what));
}

/* The model says which strengths can be turned, and refuses the second dial on one spirit. */
static bool strength_turns(const struct st_kept *k, int step, int line)
{
    struct st_dial dial[ST_MAX_DIALS];
    struct st_problem problem;
    int n = 0;

    for (int i = 0; i < k->n_slider && n < ST_MAX_DIALS - 1; i++)
        if (k->slider[i].dial.of == ST_DIAL_STRENGTH)
            dial[n++] = k->slider[i].dial;
    dial[n++] = (struct st_dial){ step, line, ST_DIAL_STRENGTH };
    struct st_plan *plan = st_plan_create_dials(&k->file.recipe, dial, n, &problem);
    st_plan_free(plan);
    return plan != NULL;
}

static void find_sliders(struct st_kept *k)
{
    const struct st_recipe *r = &k->file.recipe;
    size_t n = 0;
    for (int i = 0; i < r->n_step; i++)
        n += 2 * (size_t)r->step[i].n_line;
    k->slider = x_calloc(n ? n : 1, sizeof *k->slider);
    for (int i = 0; i < r->n_step; i++)
        for (int m = 0; m < r->step[i].n_line; m++) {
            const struct st_line *l = &r->step[i].line[m];
            if (amount_turns(l))
                add(k, i, m, ST_DIAL_AMOUNT, l->amount.value, st_tick(l->amount.dim, l->amount.value));
            if (l->what && l->what->kind == ST_KIND_SPIRIT && strength_turns(k, i, m))
                add(k, i, m, ST_DIAL_STRENGTH, l->strength.known ? l->strength.value : l->what->strength.value,
                    ST_TICK_STRENGTH);
        }
}

int st_kept_slider(const struct st_kept *k, int step, int line, enum st_dial_of of)
{
    for (int i = 0; i < k->n_slider; i++)
        if (k->slider[i].dial.step == step && k->slider[i].dial.line == line && k->slider[i].dial.of == of)
            return i;
    return -1;
}

/* ---- dials: there is room for sixteen ---- */

/* What moves a bottle comes first: spirit, sugar, what is taken of a step, other liquids, fruit, spice. */
static int rank(const struct st_kept *k, int i)
{
    const struct st_slider *s = &k->slider[i];
    const struct st_ingredient *what = k->file.recipe.step[s->dial.step].line[s->dial.line].what;
    if (s->dial.of == ST_DIAL_STRENGTH)
        return 2;
    switch (what ? what->kind : ST_KIND_OTHER) {
    case ST_KIND_SPIRIT:
    case ST_KIND_WINE: return 0;
    case ST_KIND_SUGAR:
    case ST_KIND_SYRUP:
    case ST_KIND_SWEETENER: return 1;
    case ST_KIND_WATER:
    case ST_KIND_JUICE:
    case ST_KIND_BREW:
    case ST_KIND_DAIRY:
    case ST_KIND_ACID: return 3;
    case ST_KIND_FRESH_FRUIT:
    case ST_KIND_FROZEN_FRUIT:
    case ST_KIND_TINNED_FRUIT:
    case ST_KIND_DRIED_FRUIT: return 4;
    case ST_KIND_OTHER: return what ? 5 : 3;
    default: return 5;
    }
}

static bool is_on(const int on[], int n, int i)
{
    for (int k = 0; k < n; k++)
        if (on[k] == i)
            return true;
    return false;
}

static bool needs_dial(const struct st_kept *k, const int want[], int n, int slider)
{
    return k->slider[slider].dial.of == ST_DIAL_AMOUNT || is_on(want, n, slider);
}

/* The plan has a dial for all that is turned, and for no strength that is not. */
static bool fits(const struct st_kept *k, const int want[], int n)
{
    for (int i = 0; i < n; i++)
        if (!is_on(k->on, k->n_on, want[i]))
            return false;
    int needed = 0;
    for (int i = 0; i < k->n_on; i++)
        needed += needs_dial(k, want, n, k->on[i]);
    for (int i = 0; i < k->n_dial; i++)
        if (!needs_dial(k, want, n, k->on[k->dial[i]]))
            return false;
    return k->plan && needed == k->n_dial;
}

static int by_number(const void *a, const void *b)
{
    return *(const int *)a - *(const int *)b;
}

static void choose(struct st_kept *k, const int want[], int n)
{
    for (k->n_on = 0; k->n_on < n; k->n_on++)
        k->on[k->n_on] = want[k->n_on];
    for (int level = 0; level <= 5; level++)
        for (int i = 0; i < k->n_slider && k->n_on < ST_MAX_DIALS; i++)
            if (rank(k, i) == level && !is_on(k->on, k->n_on, i))
                k->on[k->n_on++] = i;
    qsort(k->on, (size_t)k->n_on, sizeof *k->on, by_number);
}

static void tell_problems(struct st_call *c, const struct st_recipe *r, const struct st_problem *first)
{
    struct st_problem all[ST_MAX_PROBLEMS];
    const int n = st_stop_plan_problems(r, all, ST_MAX_PROBLEMS);
    for (int i = 0; i < n; i++)
        st_call_problem(c, "recipe", &all[i]);
    if (n == 0)
        st_call_problem(c, "recipe", first);
}

bool st_kept_dials(struct st_call *c, struct st_kept *k, const int want[], int n)
{
    struct st_dial dial[ST_MAX_DIALS];
    struct st_problem problem = { .what = "" };

    if (n > ST_MAX_DIALS)
        return st_call_refuse(c, 422, "dials", "too many amounts are changed at once", "there is room for sixteen",
                              "write the recipe anew with some of them, and go on from there");
    if (fits(k, want, n))
        return true;
    choose(k, want, n);
    k->n_dial = 0;
    for (int i = 0; i < k->n_on; i++)
        if (needs_dial(k, want, n, k->on[i])) {
            dial[k->n_dial] = k->slider[k->on[i]].dial;
            k->dial[k->n_dial++] = i;
        }
    st_plan_free(k->plan);
    k->plan = st_plan_create_dials(&k->file.recipe, dial, k->n_dial, &problem);
    if (!k->plan)
        tell_problems(c, &k->file.recipe, &problem);
    return k->plan != NULL;
}

/* ---- the last few ---- */

static struct st_kept *find(struct st_api *a, uint64_t hash, const char *text, size_t size, enum st_measures units)
{
    for (int i = 0; i < ST_KEPT; i++) {
        struct st_kept *k = a->kept[i];
        if (k && k->hash == hash && k->size == size && k->units == units && memcmp(k->text, text, size) == 0)
            return k;
    }
    return NULL;
}

/* The place of the one that was not asked for longest. */
static int oldest(const struct st_api *a)
{
    int at = 0;
    for (int i = 0; i < ST_KEPT; i++) {
        if (!a->kept[i])
            return i;
        if (a->kept[i]->used < a->kept[at]->used)
            at = i;
    }
    return at;
}

static struct st_kept *read_new(struct st_call *c, const char *text, size_t size, enum st_measures units)
{
    struct st_catalogue *catalogue = st_api_catalogue(c);
    if (!catalogue)
        return NULL;
    struct st_kept *k = x_calloc(1, sizeof *k);
    k->text = x_strndup(text, size);
    k->size = size;
    k->units = units;
    const int read = st_recipe_read_as("recipe", k->text, size, catalogue, units, &k->file);
    k->own = st_api_catalogue_own(c->api);
    if (read == 0) {
        find_sliders(k);
        return k;
    }
    for (int i = 0; i < k->file.n_problem; i++)
        st_call_problem(c, "recipe", &k->file.problem[i]);
    st_kept_done(k);
    return NULL;
}

/* What is barred hangs on who asks: ingredients are lent by the common sheet or by a recipe's own. */
static void live_in(struct st_api *a, unsigned places)
{
    if (a->base)
        st_catalogue_live_in(a->base, places);
    for (int i = 0; i < ST_KEPT; i++)
        if (a->kept[i] && a->kept[i]->own)
            st_catalogue_live_in(a->kept[i]->own, places);
}

struct st_kept *st_kept_recipe(struct st_call *c, const char *text, enum st_measures units)
{
    const size_t size = strlen(text);
    const uint64_t hash = hash_of(text, size, units);
    struct st_kept *k = find(c->api, hash, text, size, units);

    if (!k) {
        k = read_new(c, text, size, units);
        if (!k)
            return NULL;
        k->hash = hash;
        const int at = oldest(c->api);
        st_kept_done(c->api->kept[at]);
        c->api->kept[at] = k;
    }
    k->used = ++c->api->clock;
    live_in(c->api, st_call_places(c));
    return k;
}
