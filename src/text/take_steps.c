#include <string.h>

#include "take_deal.h"

/* What each deed does: deeds in the order of the text become stages. */

/* ---- deeds ---- */

static bool elsewhere(const struct st_deal *deal)
{
    return st_take_has_word(deal->sentence,
                            "another jar|separate jar|second jar|separately|meanwhile|other jar|another bottle");
}

static void rest(struct st_doing *d, const struct st_deal *deal)
{
    const struct st_stage *last = d->last >= 0 ? &d->t->stage[d->last] : NULL;
    if (st_deal_names(d, deal, st_is_any))
        st_deal_blend(d, deal);
    if (last && last->kind == ST_DO_REST)
        st_deal_put(d, d->last, deal);
    else if (deal->deed->time.dim == ST_DIM_TIME || deal->deed->kind == ST_DO_REST)
        (void)st_deal_begin(d, ST_DO_REST, deal);
    if (st_take_has_word(deal->clause, "before bottling"))
        d->last = st_take_stage(d->t, ST_DO_BOTTLE);
}

static void steep_again(struct st_doing *d, const struct st_deal *deal)
{
    const int stage = st_deal_begin(d, ST_DO_STEEP, deal);
    if (stage < 0)
        return;
    struct st_stage *s = &d->t->stage[stage];
    s->spent_of = d->last_steep;
    if (d->syrup >= 0 && st_take_has_word(deal->sentence, "syrup")) {
        s->with_syrup = true;
        d->syrup = -1;
    }
    st_deal_use_all(d, stage, deal, st_is_not_late);
    d->steep = d->last_steep = stage;
}

static bool same_fruit(const char *clause)
{
    return st_take_has_word(clause,
                            "same fruit|same berries|drained fruit|strained fruit|drained berries|spent fruit|pressed "
                            "fruit|the fruit again|drained plums|same plums|same peel");
}

static void steep(struct st_doing *d, const struct st_deal *deal)
{
    const bool solids = st_deal_names(d, deal, st_kind_is_solid), spirit = st_deal_names(d, deal, st_is_drink);
    const bool more = st_deal_names(d, deal, st_is_any);
    const bool poured_off = d->liquor || (d->last_steep >= 0 && d->steep < 0);

    if ((deal->deed->spent || (d->steep < 0 && more && same_fruit(deal->clause))) && d->last_steep >= 0) {
        steep_again(d, deal);
        return;
    }
    if (d->steep >= 0 && !(elsewhere(deal) && solids && spirit)) {
        if (more && d->t->stage[d->steep].time.dim == ST_DIM_TIME)
            d->t->stage[d->steep].fresh = true;
        st_deal_use_all(d, d->steep, deal, st_is_not_late);
        st_deal_put(d, d->steep, deal);
        return;
    }
    if (d->steep < 0 && poured_off && !solids) {
        if (more && !deal->deed->spent)
            st_deal_blend(d, deal);
        if (deal->deed->time.dim == ST_DIM_TIME)
            rest(d, deal);
        return;
    }
    const int before = d->last, stage = st_deal_begin(d, ST_DO_STEEP, deal);
    if (stage < 0)
        return;
    d->t->stage[stage].onward = d->steep < 0 && poured_off && !spirit;
    d->t->stage[stage].fresh = strstr(deal->clause, "then pour") || strstr(deal->clause, "then add");
    if (d->syrup >= 0 && before == d->syrup && !poured_off &&
        (!spirit ||
         st_take_has_word(deal->clause, "add|adds|stir in|pour in"))) { /* the fruit goes into the hot syrup */
        d->t->stage[stage].with_syrup = true;
        d->syrup = -1;
    }
    st_deal_use_all(d, stage, deal, st_is_not_late);
    d->steep = d->last_steep = stage;
}

static bool is_water(enum st_kind k)
{
    return k == ST_KIND_WATER;
}

static bool is_sugar(enum st_kind k)
{
    return k == ST_KIND_SUGAR || k == ST_KIND_SWEETENER;
}

static bool makes_wet(enum st_kind k)
{
    return k == ST_KIND_WATER || k == ST_KIND_JUICE || k == ST_KIND_BREW || k == ST_KIND_DAIRY;
}

/* Is there anything to dissolve the sugar in? */
static bool wet(const struct st_doing *d, const struct st_deal *deal)
{
    if (st_deal_names(d, deal, makes_wet))
        return true;
    for (int e = 0; e < d->t->n_entry; e++)
        if (d->t->entry[e].left > 0 && !d->t->entry[e].free && is_water(d->t->entry[e].what->kind))
            return true;
    return false;
}

static void syrup(struct st_doing *d, const struct st_deal *deal)
{
    const bool sweet = st_deal_names(d, deal, st_is_sweet);
    bool sugar = sweet;

    for (int e = 0; e < d->t->n_entry; e++)
        sugar = sugar || (is_sugar(d->t->entry[e].what->kind) && d->t->entry[e].left > 0 && !d->t->entry[e].free);
    if ((d->liquor || d->steep >= 0) && sweet && !wet(d, deal)) { /* sugar stirred into the liquor itself */
        st_deal_blend(d, deal);
        return;
    }
    if (d->syrup >= 0 && (!sweet || d->last == d->syrup)) {
        st_deal_use_all(d, d->syrup, deal, st_is_no_drink);
        st_deal_put(d, d->syrup, deal);
        return;
    }
    if (!sugar && !st_deal_names(d, deal, st_is_no_drink))
        return; /* nothing to make it of: the words stay in their row */
    const int stage = st_deal_begin(d, ST_DO_SYRUP, deal);
    st_deal_use_all(d, stage, deal, st_is_no_drink);
    if (!sweet)
        st_deal_use_left(d, stage, is_sugar);
    st_deal_use_left(d, stage, is_water);
    d->syrup = stage;
    if (d->last_steep >= 0 && d->steep < 0 && same_fruit(deal->clause))
        steep_again(d, deal); /* "... and pour it over the drained berries" */
}

/* "Mix and leave": all that was listed so far. */
static void use_listed(struct st_doing *d, int stage, const struct st_deal *deal, bool (*is)(enum st_kind))
{
    for (int e = 0; e < d->t->n_entry && stage >= 0; e++) {
        const struct st_entry *o = &d->t->entry[e];
        if (o->left > 0 && !o->free && o->row < deal->row && is(o->what->kind))
            st_take_use(d->t, stage, e, -1);
    }
}

/* "add the cold syrup", which nobody made: of the sugar and water that are still there. */
static void syrup_spoken_of(struct st_doing *d, const struct st_deal *deal)
{
    bool sugar = false, water = false;
    if (d->syrup >= 0 || !st_take_has_word(deal->clause, "syrup"))
        return;
    for (int e = 0; e < d->t->n_entry; e++) {
        const struct st_entry *o = &d->t->entry[e];
        sugar = sugar || (o->left > 0 && !o->free && is_sugar(o->what->kind));
        water = water || (o->left > 0 && !o->free && is_water(o->what->kind));
    }
    if (!sugar || !water)
        return;
    d->syrup = st_take_stage(d->t, ST_DO_SYRUP);
    st_deal_use_left(d, d->syrup, is_sugar);
    st_deal_use_left(d, d->syrup, is_water);
}

void st_deal_blend(struct st_doing *d, const struct st_deal *deal)
{
    syrup_spoken_of(d, deal);
    const bool solids = st_deal_names(d, deal, st_kind_is_solid);

    if (solids || (d->steep >= 0 && st_deal_names(d, deal, st_is_not_late)) ||
        (d->steep < 0 && d->last_steep < 0 && !d->liquor)) {
        bool wet = d->steep >= 0 || d->liquor || st_deal_names(d, deal, st_is_drink);
        for (int e = 0; e < d->t->n_entry && !wet; e++)
            wet = d->t->entry[e].left > 0 && st_is_drink(d->t->entry[e].what->kind);
        bool pieces = solids || d->steep >= 0;
        for (int e = 0; e < d->t->n_entry && !pieces; e++)
            pieces = d->t->entry[e].left > 0 && st_kind_is_solid(d->t->entry[e].what->kind);
        if (wet && pieces && st_deal_names(d, deal, st_is_not_late)) {
            steep(d, deal);
            return;
        }
    }
    if (d->steep >= 0 && d->syrup >= 0 && st_take_has_word(deal->sentence, "syrup") &&
        !st_deal_names(d, deal, st_joins_late)) {
        d->t->stage[d->steep].with_syrup = true;
        d->syrup = -1;
        st_deal_put(d, d->steep, deal);
        return;
    }
    if (!st_deal_names(d, deal, st_is_any) && d->last < 0) {
        const int jar = st_deal_begin(d, ST_DO_STEEP, deal);
        use_listed(d, jar, deal, st_is_not_late);
        d->steep = d->last_steep = jar;
        return;
    }
    if (!st_deal_names(d, deal, st_is_any) && d->syrup < 0 && d->last >= 0) {
        st_deal_put(d, d->last, deal); /* "mix well" */
        return;
    }
    const bool same = d->last >= 0 && d->t->stage[d->last].kind == ST_DO_BLEND;
    const int stage = same ? d->last : st_deal_begin(d, ST_DO_BLEND, deal);
    if (stage < 0)
        return;
    st_deal_put(d, stage, deal);
    st_deal_use_all(d, stage, deal, st_is_any);
    d->steep = d->syrup = -1;
    d->liquor = true;
    if (deal->deed->time.dim == ST_DIM_TIME && d->t->stage[stage].time.dim == ST_DIM_TIME) { /* it waits afterwards */
        const int wait = st_take_stage(d->t, ST_DO_REST);
        if (wait < 0)
            return;
        d->t->stage[wait].time = d->t->stage[stage].time;
        d->t->stage[wait].words = st_take_bare(d->t->row[deal->row].own);
        d->t->stage[stage].time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
        d->last = wait;
    }
}

static bool steeps(enum st_kind k)
{
    return st_kind_is_solid(k) || st_is_drink(k);
}

static bool has_solid(const struct st_doing *d, const struct st_stage *s)
{
    for (int i = 0; i < s->n_use; i++)
        if (s->use[i].of == ST_USE_ENTRY && st_kind_is_solid(d->t->entry[s->use[i].which].what->kind))
            return true;
    return false;
}

static void strain(struct st_doing *d, const struct st_deal *deal)
{
    const struct st_taken *row = &d->t->row[deal->row];
    struct st_stage *s = d->steep >= 0 ? &d->t->stage[d->steep] : NULL;

    if (s) {
        const struct st_amount time = s->time;
        if (!has_solid(d, s) && !s->onward && s->spent_of < 0)
            use_listed(d, d->steep, deal, steeps); /* "Leave 4 weeks. Drain." with nothing named: what stood above */
        st_deal_put(d, d->steep, deal);
        if (time.dim == ST_DIM_TIME)
            s->time = time;
        s->strained = true;
        d->steep = -1;
        d->liquor = true;
        d->strained_in = row->group;
        if (st_take_has_word(deal->clause, "paper|coffee filter")) {
            const int filter = st_deal_begin(d, ST_DO_FILTER, deal);
            if (filter >= 0)
                d->t->stage[filter].time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
        }
        return;
    }
    if (deal->deed->press && d->last_steep >= 0)
        d->t->stage[d->last_steep].press = true;
    const bool fine = st_take_has_word(deal->clause, "filter|filters|paper|coffee filter|cotton|fine cloth");
    const bool just = d->last >= 0 && d->last == d->last_steep;
    if (!d->liquor || ((just || row->group == d->strained_in) && !fine)) {
        if (d->last >= 0)
            st_deal_put(d, d->last, deal);
        return;
    }
    if (d->t->stage[d->last].kind == ST_DO_FILTER)
        st_deal_put(d, d->last, deal);
    else
        (void)st_deal_begin(d, ST_DO_FILTER, deal);
}

static void treat(struct st_doing *d, const struct st_deal *deal)
{
    const enum st_do kind = deal->deed->kind;
    if (kind == ST_DO_BOTTLE && d->steep >= 0 && st_take_has_word(deal->clause, "cork|corked") &&
        !st_take_has_word(deal->sentence, "bottle|bottles|decant|flask|flasks")) { /* the jar is corked */
        st_deal_put(d, d->steep, deal);
        return;
    }
    if (deal->deed->time.dim == ST_DIM_TIME) { /* "rack after a month" */
        struct st_take_deed wait = *deal->deed;
        struct st_deal before = *deal;
        wait.kind = ST_DO_REST;
        wait.size_ml = wait.vessel_ml = 0;
        wait.bottles = 0;
        before.deed = &wait;
        before.n = 0;
        st_deal_act(d, &before);
    }
    if (d->last >= 0 && d->t->stage[d->last].kind == kind && kind != ST_DO_RACK)
        st_deal_put(d, d->last, deal);
    else if (st_deal_begin(d, kind, deal) < 0)
        return;
    if (deal->deed->time.dim == ST_DIM_TIME)
        d->t->stage[d->last].time.dim = ST_DIM_OPEN;
    if (kind == ST_DO_FINE)
        st_deal_use_all(d, d->last, deal, st_is_any);
    if (d->steep >= 0) { /* racked or bottled: so it was strained */
        d->steep = -1;
        d->liquor = true;
    }
}

static void toast(struct st_doing *d, const struct st_deal *deal)
{
    if (st_deal_names(d, deal, st_kind_is_solid)) {
        st_deal_use_all(d, st_deal_begin(d, ST_DO_TOAST, deal), deal, st_kind_is_solid);
        return;
    }
    for (int e = d->t->n_entry - 1; e >= 0; e--) { /* "toast them": what was told last */
        const struct st_entry *o = &d->t->entry[e];
        if (o->row >= deal->row || !(o->left > 0) || !st_kind_is_solid(o->what->kind))
            continue;
        if (st_take_has_word(deal->clause, "them|these|it"))
            st_take_use(d->t, st_deal_begin(d, ST_DO_TOAST, deal), e, 1);
        return;
    }
}

/* Fruit is lifted out, or the liquor poured off it. */
bool st_deal_strains(const char *clause)
{
    static const char ADJECTIVE[] =
        "the strained|the drained|the pressed|strained fruit|drained fruit|strained liquor|strained "
        "liquid|drained berries|same fruit";
    return st_take_has_word(clause,
                            "strain|strains|straining|drain|drains|sieve|press|pressing|squeeze|squeezing|wring|pour "
                            "off|pour it off|pour the liquor off|drain it off|take out|takes out|lift out|fish "
                            "out|remove|discard|thro' muslin|strane|strain.") ||
           (st_take_has_word(clause, "strained|drained|pressed|squeezed|removed|poured off") &&
            !st_take_has_word(clause, ADJECTIVE));
}

static bool lies(const char *clause)
{
    return st_take_has_word(
        clause, "steep|steeped|steeping|infuse|infused|macerate|macerated|soak|cover|covered|leave|left|let|"
                "stand|put|place|pour over|pour|fill|into the jar|in a jar|keep|wait|stood|add|combine");
}

/* To the reader of lines straining is the end of a steep, and one deed. */
static void lie_or_strain(struct st_doing *d, const struct st_deal *deal)
{
    const bool over = st_deal_strains(deal->clause);
    if (over && d->steep >= 0 && !lies(deal->clause) && st_deal_names(d, deal, st_is_sweet) &&
        !st_deal_names(d, deal, st_kind_is_solid) && !st_deal_names(d, deal, st_is_drink)) {
        strain(d, deal); /* "strain, then one part syrup to three of the liquor" */
        st_deal_blend(d, deal);
        return;
    }
    if (over && !lies(deal->clause) && d->last_steep < 0 && deal->deed->time.dim != ST_DIM_TIME)
        return; /* "take out the stones": nothing steeps yet */
    if (!over || lies(deal->clause) || st_deal_names(d, deal, st_is_any) || (d->steep < 0 && d->last_steep < 0))
        steep(d, deal);
    if (over)
        strain(d, deal);
}

static bool is_syrup(const struct st_doing *d, const struct st_deal *deal)
{
    return st_deal_names(d, deal, st_is_sweet) && st_deal_names(d, deal, is_water) &&
           !st_deal_names(d, deal, st_kind_is_solid) && !st_deal_names(d, deal, st_is_drink);
}

void st_deal_act(struct st_doing *d, const struct st_deal *deal)
{
    const enum st_do kind = deal->deed->kind;
    if ((kind == ST_DO_STEEP || kind == ST_DO_BLEND) && is_syrup(d, deal) &&
        !same_fruit(deal->clause)) { /* "stir the honey into the water" */
        syrup(d, deal);
        return;
    }
    if (kind == ST_DO_SYRUP && st_deal_names(d, deal, st_kind_is_solid) && !st_deal_names(d, deal, st_is_sweet) &&
        d->last < 0) {
        steep(d, deal); /* fruit heated with a little water */
        return;
    }
    switch (kind) {
    case ST_DO_TOAST: toast(d, deal); break;
    case ST_DO_STEEP: lie_or_strain(d, deal); break;
    case ST_DO_SYRUP: syrup(d, deal); break;
    case ST_DO_BLEND: st_deal_blend(d, deal); break;
    case ST_DO_REST:
        if (d->steep >= 0 || (!d->liquor && d->last_steep < 0) || st_deal_names(d, deal, st_kind_is_solid))
            steep(d, deal);
        else if (d->syrup == d->last && deal->deed->time.dim != ST_DIM_TIME)
            st_deal_put(d, d->last, deal); /* the syrup cools */
        else
            rest(d, deal);
        break;
    case ST_DO_FILTER: strain(d, deal); break;
    case ST_DO_RACK:
    case ST_DO_FINE:
    case ST_DO_BOTTLE: treat(d, deal); break;
    case ST_NDO: break;
    }
}
