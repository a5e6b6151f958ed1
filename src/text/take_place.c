#include <string.h>

#include "take_whole.h"

/* ---- what no sentence claims goes where a cook would put it ---- */

static bool is_drink(enum st_kind k)
{
    return k == ST_KIND_SPIRIT || k == ST_KIND_WINE;
}

static bool is_sugar(enum st_kind k)
{
    return k == ST_KIND_SUGAR || k == ST_KIND_SWEETENER;
}

static bool is_sweet(enum st_kind k)
{
    return is_sugar(k) || k == ST_KIND_SYRUP;
}

static bool is_water(enum st_kind k)
{
    return k == ST_KIND_WATER;
}

static bool any_left(const struct st_taking *t, bool (*is)(enum st_kind))
{
    for (int e = 0; e < t->n_entry; e++)
        if (t->entry[e].left > 0 && is(t->entry[e].what->kind))
            return true;
    return false;
}

static void use_left(struct st_taking *t, int stage, bool (*is)(enum st_kind))
{
    for (int e = 0; e < t->n_entry && stage >= 0; e++)
        if (t->entry[e].left > 0 && is(t->entry[e].what->kind))
            st_take_use(t, stage, e, -1);
}

static int first_of(const struct st_taking *t, enum st_do kind)
{
    for (int i = 0; i < t->n_order; i++)
        if (t->stage[t->order[i]].kind == kind)
            return t->order[i];
    return -1;
}

static bool is_treatment(enum st_do k)
{
    return k == ST_DO_REST || k == ST_DO_RACK || k == ST_DO_FINE || k == ST_DO_FILTER || k == ST_DO_BOTTLE;
}

/* Behind the last thing that is made, before what is done to the whole. */
static int behind_makings(const struct st_taking *t)
{
    int at = t->n_order;
    while (at > 0 && is_treatment(t->stage[t->order[at - 1]].kind))
        at--;
    return at;
}

static void put_in(struct st_taking *t, int stage, int at)
{
    if (stage < 0 || t->n_order >= ST_TAKE_STAGES)
        return;
    memmove(t->order + at + 1, t->order + at, (size_t)(t->n_order - at) * sizeof *t->order);
    t->order[at] = stage;
    t->n_order++;
}

static int make(struct st_taking *t, enum st_do kind, int at)
{
    const int stage = st_take_stage(t, kind);
    put_in(t, stage, at);
    return stage;
}

/* The blend at the end of what is made, made when there is none. */
static int last_blend(struct st_taking *t)
{
    const int at = behind_makings(t);
    if (at > 0 && t->stage[t->order[at - 1]].kind == ST_DO_BLEND)
        return t->order[at - 1];
    return make(t, ST_DO_BLEND, at);
}

static bool is_wet(const struct st_taking *t, int stage)
{
    const struct st_stage *s = &t->stage[stage];
    for (int i = 0; i < s->n_use; i++)
        if (s->use[i].of != ST_USE_ENTRY || is_drink(t->entry[s->use[i].which].what->kind))
            return true;
    return s->onward || s->with_syrup;
}

static void place_solids(struct st_taking *t)
{
    int steep = first_of(t, ST_DO_STEEP);
    const bool solids = any_left(t, st_kind_is_solid), drink = any_left(t, is_drink);

    if (steep < 0 && solids && (drink || first_of(t, ST_DO_SYRUP) < 0)) {
        const bool no_method = t->n_order == 0;
        steep = make(t, ST_DO_STEEP, first_of(t, ST_DO_TOAST) >= 0 && t->n_order ? 1 : 0);
        st_take_say(
            t, no_method
                   ? "No method was written: what is solid is taken to lie in the spirit and then to be strained off."
                   : "No steeping was written: what is solid is taken to lie in the spirit.");
    }
    if (steep >= 0) {
        use_left(t, steep, st_kind_is_solid);
        use_left(t, steep, is_drink);
        if (!is_wet(t, steep) && !drink)
            st_take_say(t, "No spirit was found for the jar.");
    } else if (solids) {
        use_left(t, first_of(t, ST_DO_SYRUP), st_kind_is_solid);
    }
}

/* Has the syrup water (or juice, wine) already? */
static bool has_water(const struct st_taking *t, int stage)
{
    for (int i = 0; i < t->stage[stage].n_use; i++) {
        const enum st_kind k = t->entry[t->stage[stage].use[i].which].what->kind;
        if (k == ST_KIND_WATER || k == ST_KIND_JUICE || k == ST_KIND_BREW || k == ST_KIND_WINE)
            return true;
    }
    return false;
}

static void place_sugar(struct st_taking *t)
{
    int syrup = first_of(t, ST_DO_SYRUP);
    const int steep = first_of(t, ST_DO_STEEP);
    const bool sugar = any_left(t, is_sugar);

    if (syrup < 0 && sugar && any_left(t, is_water)) {
        syrup = make(t, ST_DO_SYRUP,
                     behind_makings(t) > 0 && t->stage[t->order[behind_makings(t) - 1]].kind == ST_DO_BLEND
                         ? behind_makings(t) - 1
                         : behind_makings(t));
        st_take_say(t, "No syrup step was written: the sugar is dissolved in the water.");
    }
    if (syrup >= 0) {
        use_left(t, syrup, is_sugar);
        if (!has_water(t, syrup))
            use_left(t, syrup, is_water);
    }
    if (any_left(t, is_sweet) && first_of(t, ST_DO_BLEND) < 0 && steep >= 0) {
        if (sugar)
            st_take_say(t, "No syrup step was written: the sugar goes into the jar.");
        use_left(t, steep, is_sweet);
    }
}

static bool any(enum st_kind k)
{
    (void)k;
    return true;
}

void st_take_place(struct st_taking *t)
{
    place_solids(t);
    place_sugar(t);
    if (any_left(t, any))
        use_left(t, last_blend(t), any);
}

/* ---- what goes on into what ---- */

struct links {
    struct st_taking *t;
    int order[ST_TAKE_STAGES], n;
    int liquor[ST_TAKE_STAGES], n_liquor;
    int syrup[ST_TAKE_STAGES], n_syrup;
    int toasted[ST_TAKE_STAGES], n_toasted;
};

static void take_from(struct links *l, int stage, int list[], int *n)
{
    struct st_stage *s = &l->t->stage[stage];
    for (int i = 0; i < *n; i++)
        if (s->n_use < ST_TAKE_USES) {
            memmove(s->use + 1, s->use, (size_t)s->n_use * sizeof *s->use);
            s->use[0] = (struct st_use){ ST_USE_LIQUOR, list[i], 1 };
            s->n_use++;
        }
    *n = 0;
}

static void push(struct links *l, int stage, int list[], int *n)
{
    list[(*n)++] = stage;
    if (l->n < ST_TAKE_STAGES)
        l->order[l->n++] = stage;
}

static void drop(struct st_taking *t, int stage)
{
    for (int i = 0; i < t->n_row; i++)
        if (t->row[i].stage == stage)
            t->row[i].stage = -1;
}

static bool comes_later(const struct st_taking *t, int from, bool syrup)
{
    for (int i = from; i < t->n_order; i++) {
        const struct st_stage *s = &t->stage[t->order[i]];
        if (s->kind == ST_DO_BLEND || (s->kind == ST_DO_STEEP && (syrup ? s->with_syrup : s->onward)))
            return true;
    }
    return false;
}

static void link_blend(struct links *l, int stage)
{
    struct st_stage *s = &l->t->stage[stage];
    take_from(l, stage, l->syrup, &l->n_syrup);
    take_from(l, stage, l->liquor, &l->n_liquor);
    take_from(l, stage, l->toasted, &l->n_toasted);
    if (s->n_use == 0) {
        drop(l->t, stage);
    } else if (s->n_use == 1 && s->use[0].of == ST_USE_LIQUOR && s->time.dim != ST_DIM_TIME) {
        l->liquor[l->n_liquor++] = s->use[0].which; /* nothing is put together here */
        for (int i = 0; i < l->t->n_row; i++)
            if (l->t->row[i].stage == stage)
                l->t->row[i].stage = s->use[0].which;
    } else {
        push(l, stage, l->liquor, &l->n_liquor);
    }
}

static void blend_all(struct links *l)
{
    if (l->n_liquor + l->n_syrup + l->n_toasted < 2)
        return;
    const int stage = st_take_stage(l->t, ST_DO_BLEND);
    if (stage >= 0)
        link_blend(l, stage);
}

static void link_steep(struct links *l, int stage)
{
    struct st_stage *s = &l->t->stage[stage];
    if (s->onward)
        take_from(l, stage, l->liquor, &l->n_liquor);
    if (s->with_syrup)
        take_from(l, stage, l->syrup, &l->n_syrup);
    take_from(l, stage, l->toasted, &l->n_toasted);
    if (s->spent_of >= 0 && s->n_use < ST_TAKE_USES && l->t->stage[s->spent_of].n_use > 0) {
        memmove(s->use + 1, s->use, (size_t)s->n_use * sizeof *s->use);
        s->use[0] = (struct st_use){ ST_USE_SPENT, s->spent_of, 1 };
        s->n_use++;
    }
    if (s->n_use == 0)
        drop(l->t, stage);
    else
        push(l, stage, l->liquor, &l->n_liquor);
}

static void link_treatment(struct links *l, int stage, int next)
{
    struct st_stage *s = &l->t->stage[stage];
    if (l->n_liquor > 1 || (l->n_syrup + l->n_toasted > 0 && !comes_later(l->t, next, true)))
        blend_all(l);
    if (l->n_liquor == 0)
        take_from(l, stage, l->syrup, &l->n_syrup);
    take_from(l, stage, l->liquor, &l->n_liquor);
    if (s->n_use == 0)
        drop(l->t, stage);
    else
        push(l, stage, l->liquor, &l->n_liquor);
}

/* Bottling is the last: what waits in the bottle waits before it, which is the same. */
static void bottles_last(struct st_taking *t)
{
    int last = -1, n = 0;
    for (int i = 0; i < t->n_order; i++)
        if (t->stage[t->order[i]].kind == ST_DO_BOTTLE)
            last = t->order[i];
    if (last < 0)
        return;
    for (int i = 0; i < t->n_order; i++) {
        const int stage = t->order[i];
        if (t->stage[stage].kind != ST_DO_BOTTLE) {
            t->order[n++] = stage;
        } else if (stage != last) {
            for (int k = 0; k < t->n_row; k++)
                if (t->row[k].stage == stage)
                    t->row[k].stage = last;
            if (t->stage[last].size_ml <= 0)
                t->stage[last].size_ml = t->stage[stage].size_ml;
        }
    }
    t->order[n++] = last;
    t->n_order = n;
}

/* A name that stands in a line would be taken for the step: "sloes to 2/3 of the jar". */
static bool is_said(const struct st_taking *t, const char *name)
{
    for (int e = 0; e < t->n_entry; e++)
        if (st_take_has_word(t->entry[e].item->as, name))
            return true;
    return false;
}

static void name_them(struct st_taking *t)
{
    static const char *const NAME[ST_NDO] = { "toasted", "jar",   "syrup",    "drink",  "rested",
                                              "racked",  "fined", "filtered", "bottles" };
    int n[ST_NDO] = { 0 };
    for (int i = 0; i < t->n_order; i++) {
        struct st_stage *s = &t->stage[t->order[i]];
        s->name = ++n[s->kind] == 1 && !is_said(t, NAME[s->kind])
                      ? NAME[s->kind]
                      : st_arena_printf(t->arena, "%s %d", NAME[s->kind], n[s->kind]);
        s->step = i;
    }
}

/* What is taken from a stage that is gone goes with it. */
static void forget(struct st_taking *t, int stage)
{
    for (int i = 0; i < t->n_stage; i++) {
        struct st_stage *s = &t->stage[i];
        int n = 0;
        for (int k = 0; k < s->n_use; k++)
            if (s->use[k].of == ST_USE_ENTRY || s->use[k].which != stage)
                s->use[n++] = s->use[k];
        s->n_use = n;
    }
    drop(t, stage);
}

void st_take_prune(struct st_taking *t)
{
    for (int i = 0; i < t->n_order; i++) {
        const int stage = t->order[i];
        if (t->stage[stage].n_use > 0)
            continue;
        memmove(t->order + i, t->order + i + 1, (size_t)(t->n_order - i - 1) * sizeof *t->order);
        t->n_order--;
        t->stage[stage].step = -1;
        forget(t, stage);
        i = -1; /* from the beginning: others may be empty now */
    }
    name_them(t);
}

void st_take_link(struct st_taking *t)
{
    struct links l = { .t = t };

    bottles_last(t);
    for (int i = 0; i < t->n_order; i++) {
        const int stage = t->order[i];
        struct st_stage *s = &t->stage[stage];
        switch (s->kind) {
        case ST_DO_TOAST:
            if (s->n_use)
                push(&l, stage, l.toasted, &l.n_toasted);
            else
                drop(t, stage);
            break;
        case ST_DO_STEEP: link_steep(&l, stage); break;
        case ST_DO_SYRUP:
            if (s->n_use)
                push(&l, stage, l.syrup, &l.n_syrup);
            else
                drop(t, stage);
            break;
        case ST_DO_BLEND: link_blend(&l, stage); break;
        default: link_treatment(&l, stage, i + 1); break;
        }
    }
    blend_all(&l);
    memcpy(t->order, l.order, (size_t)l.n * sizeof *t->order);
    t->n_order = l.n;
    name_them(t);
}
