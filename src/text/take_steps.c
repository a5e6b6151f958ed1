#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "take_whole.h"

/* Deeds in the order of the text -> stages, each with the ingredients that its sentence names. */

enum { MOST_DEEDS = 16 };

/* One deed with what its part of the sentence names. */
struct deal {
    int row;
    const struct st_take_deed *deed;
    const char *sentence;
    const char *clause; /* its part of the sentence */
    size_t base;        /* where that begins */
    struct st_mention use[ST_TAKE_MENTIONS];
    int n;
};

struct doing {
    struct st_taking *t;
    int steep;      /* lies and waits; -1 none */
    int last_steep; /* the last one, strained or not */
    int syrup;      /* made, not yet used */
    int last;       /* stage of the deed before */
    bool liquor;    /* something was strained or blended */
    int strained_in; /* sentence of the last straining */
};

/* ---- stages ---- */

int st_take_stage(struct st_taking *t, enum st_do kind)
{
    if (t->n_stage >= ST_TAKE_STAGES) {
        t->too_long = true;
        return -1;
    }
    struct st_stage *s = &t->stage[t->n_stage];
    *s = (struct st_stage){ .kind = kind, .words = "", .spent_of = -1, .step = -1, .name = "" };
    s->time.dim = ST_DIM_OPEN;
    s->time.open = ST_OPEN_SOME;
    return t->n_stage++;
}

void st_take_use(struct st_taking *t, int stage, int entry, double share)
{
    struct st_stage *s = &t->stage[stage];
    struct st_entry *e = &t->entry[entry];
    if (share < 0 || share > e->left)
        share = e->left;
    if (!(share > 1e-6))
        return;
    if (share < 1 - 1e-6 && !st_take_scaled(t, e->item->as, share))
        share = e->left; /* what has no amount cannot be parted */
    e->left = e->left - share < 1e-6 ? 0 : e->left - share;
    for (int i = 0; i < s->n_use; i++)
        if (s->use[i].of == ST_USE_ENTRY && s->use[i].which == entry) {
            s->use[i].share += share;
            return;
        }
    if (s->n_use < ST_TAKE_USES)
        s->use[s->n_use++] = (struct st_use){ ST_USE_ENTRY, entry, share };
}

static void add_words(struct st_taking *t, int stage, const char *sentence)
{
    struct st_stage *s = &t->stage[stage];
    sentence = st_take_bare(sentence);
    if (strstr(s->words, sentence) || strlen(s->words) + strlen(sentence) > 3800)
        return;
    s->words = *s->words ? st_arena_printf(t->arena, "%s %s", s->words, sentence) : sentence;
}

/* Told again, a time goes on ("another week") or is made more exact. */
static void add_time(struct st_stage *s, const struct st_amount *time, const char *sentence)
{
    if (time->dim != ST_DIM_TIME)
        return;
    if (s->time.dim != ST_DIM_TIME) {
        s->time = *time;
    } else if (s->fresh || st_take_has_word(sentence, "another|further|again|more")) {
        s->fresh = false;
        s->time.value += time->value;
        s->time.low += time->low;
        s->time.high += time->high;
        s->time.unit = NULL;
    } else if (time->value > s->time.value) {
        s->time = *time;
    }
}

/* The deed's own figures and words into the stage. */
static void put(struct doing *d, int stage, const struct deal *deal)
{
    struct st_stage *s = &d->t->stage[stage];
    const struct st_take_deed *deed = deal->deed;

    add_time(s, &deed->time, deal->sentence);
    if (deed->temperature_K.known)
        s->temperature_K = deed->temperature_K;
    s->press = s->press || deed->press;
    if (deed->size_ml > 0)
        s->size_ml = deed->size_ml;
    if (deed->vessel_ml > 0)
        s->vessel_ml = deed->vessel_ml;
    if (deed->bottles > 0)
        s->bottles = deed->bottles;
    add_words(d->t, stage, deal->sentence);
    d->t->row[deal->row].stage = stage;
    d->last = stage;
}

static int begin(struct doing *d, enum st_do kind, const struct deal *deal)
{
    const int stage = st_take_stage(d->t, kind);
    if (stage >= 0)
        put(d, stage, deal);
    return stage;
}

/* ---- what a deed names ---- */

static enum st_kind kind_of(const struct doing *d, const struct st_mention *m)
{
    return d->t->entry[m->entry].what->kind;
}

static bool is_left(const struct doing *d, const struct st_mention *m)
{
    return d->t->entry[m->entry].left > 0 && !m->except;
}

static bool is_sweet(enum st_kind k)
{
    return k == ST_KIND_SUGAR || k == ST_KIND_SWEETENER || k == ST_KIND_SYRUP;
}

static bool joins_late(enum st_kind k)
{
    return k == ST_KIND_DAIRY || k == ST_KIND_EGG;
}

static bool names(const struct doing *d, const struct deal *deal, bool (*is)(enum st_kind))
{
    for (int i = 0; i < deal->n; i++)
        if (is_left(d, &deal->use[i]) && is(kind_of(d, &deal->use[i])))
            return true;
    return false;
}

static bool is_spirit(enum st_kind k)
{
    return k == ST_KIND_SPIRIT || k == ST_KIND_WINE;
}

static bool any(enum st_kind k)
{
    (void)k;
    return true;
}

static void use_all(struct doing *d, int stage, const struct deal *deal, bool (*is)(enum st_kind))
{
    for (int i = 0; i < deal->n && stage >= 0; i++)
        if (is_left(d, &deal->use[i]) && is(kind_of(d, &deal->use[i])))
            st_take_use(d->t, stage, deal->use[i].entry, deal->use[i].share);
}

static bool not_late(enum st_kind k)
{
    return !joins_late(k);
}

static void use_left(struct doing *d, int stage, bool (*is)(enum st_kind))
{
    for (int e = 0; e < d->t->n_entry && stage >= 0; e++)
        if (d->t->entry[e].left > 0 && !d->t->entry[e].free && is(d->t->entry[e].what->kind))
            st_take_use(d->t, stage, e, 1);
}

/* ---- deeds ---- */

static bool elsewhere(const struct deal *deal)
{
    return st_take_has_word(deal->sentence, "another jar|separate jar|second jar|separately|meanwhile|other jar|another bottle");
}

static void blend(struct doing *d, const struct deal *deal);

static void rest(struct doing *d, const struct deal *deal)
{
    const struct st_stage *last = d->last >= 0 ? &d->t->stage[d->last] : NULL;
    if (names(d, deal, any))
        blend(d, deal);
    if (last && last->kind == ST_DO_REST)
        put(d, d->last, deal);
    else if (deal->deed->time.dim == ST_DIM_TIME || deal->deed->kind == ST_DO_REST)
        (void)begin(d, ST_DO_REST, deal);
    if (st_take_has_word(deal->clause, "before bottling"))
        d->last = st_take_stage(d->t, ST_DO_BOTTLE);
}

static void steep_again(struct doing *d, const struct deal *deal)
{
    const int stage = begin(d, ST_DO_STEEP, deal);
    if (stage < 0)
        return;
    struct st_stage *s = &d->t->stage[stage];
    s->spent_of = d->last_steep;
    if (d->syrup >= 0 && st_take_has_word(deal->sentence, "syrup")) {
        s->with_syrup = true;
        d->syrup = -1;
    }
    use_all(d, stage, deal, not_late);
    d->steep = d->last_steep = stage;
}

static bool same_fruit(const char *clause)
{
    return st_take_has_word(clause, "same fruit|same berries|drained fruit|strained fruit|drained berries|spent fruit|pressed "
                                    "fruit|the fruit again|drained plums|same plums|same peel");
}

static void steep(struct doing *d, const struct deal *deal)
{
    const bool solids = names(d, deal, st_kind_is_solid), spirit = names(d, deal, is_spirit);
    const bool more = names(d, deal, any);
    const bool poured_off = d->liquor || (d->last_steep >= 0 && d->steep < 0);

    if ((deal->deed->spent || (d->steep < 0 && more && same_fruit(deal->clause))) && d->last_steep >= 0) {
        steep_again(d, deal);
        return;
    }
    if (d->steep >= 0 && !(elsewhere(deal) && solids && spirit)) {
        if (more && d->t->stage[d->steep].time.dim == ST_DIM_TIME)
            d->t->stage[d->steep].fresh = true;
        use_all(d, d->steep, deal, not_late);
        put(d, d->steep, deal);
        return;
    }
    if (d->steep < 0 && poured_off && !solids) {
        if (more && !deal->deed->spent)
            blend(d, deal);
        if (deal->deed->time.dim == ST_DIM_TIME)
            rest(d, deal);
        return;
    }
    const int before = d->last, stage = begin(d, ST_DO_STEEP, deal);
    if (stage < 0)
        return;
    d->t->stage[stage].onward = d->steep < 0 && poured_off && !spirit;
    d->t->stage[stage].fresh = strstr(deal->clause, "then pour") || strstr(deal->clause, "then add");
    if (d->syrup >= 0 && before == d->syrup && !spirit && !poured_off) { /* the fruit goes into the hot syrup */
        d->t->stage[stage].with_syrup = true;
        d->syrup = -1;
    }
    use_all(d, stage, deal, not_late);
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

static bool no_spirit(enum st_kind k)
{
    return !is_spirit(k);
}

static bool makes_wet(enum st_kind k)
{
    return k == ST_KIND_WATER || k == ST_KIND_JUICE || k == ST_KIND_BREW || k == ST_KIND_DAIRY;
}

/* Is there anything to dissolve the sugar in? */
static bool wet(const struct doing *d, const struct deal *deal)
{
    if (names(d, deal, makes_wet))
        return true;
    for (int e = 0; e < d->t->n_entry; e++)
        if (d->t->entry[e].left > 0 && !d->t->entry[e].free && is_water(d->t->entry[e].what->kind))
            return true;
    return false;
}

static void syrup(struct doing *d, const struct deal *deal)
{
    const bool sweet = names(d, deal, is_sweet);
    bool sugar = sweet;

    for (int e = 0; e < d->t->n_entry; e++)
        sugar = sugar || (is_sugar(d->t->entry[e].what->kind) && d->t->entry[e].left > 0 && !d->t->entry[e].free);
    if ((d->liquor || d->steep >= 0) && sweet && !wet(d, deal)) { /* sugar stirred into the liquor itself */
        blend(d, deal);
        return;
    }
    if (d->syrup >= 0 && (!sweet || d->last == d->syrup)) {
        use_all(d, d->syrup, deal, no_spirit);
        put(d, d->syrup, deal);
        return;
    }
    if (!sugar && !names(d, deal, no_spirit))
        return; /* nothing to make it of: the words stay in their row */
    const int stage = begin(d, ST_DO_SYRUP, deal);
    use_all(d, stage, deal, no_spirit);
    if (!sweet)
        use_left(d, stage, is_sugar);
    use_left(d, stage, is_water);
    d->syrup = stage;
    if (d->last_steep >= 0 && d->steep < 0 && same_fruit(deal->clause))
        steep_again(d, deal); /* "... and pour it over the drained berries" */
}

/* "Mix and leave": all that was listed so far. */
static void use_listed(struct doing *d, int stage, const struct deal *deal, bool (*is)(enum st_kind))
{
    for (int e = 0; e < d->t->n_entry && stage >= 0; e++) {
        const struct st_entry *o = &d->t->entry[e];
        if (o->left > 0 && !o->free && o->row < deal->row && is(o->what->kind))
            st_take_use(d->t, stage, e, -1);
    }
}

/* "add the cold syrup", which nobody made: of the sugar and water that are still there. */
static void syrup_spoken_of(struct doing *d, const struct deal *deal)
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
    use_left(d, d->syrup, is_sugar);
    use_left(d, d->syrup, is_water);
}

static void blend(struct doing *d, const struct deal *deal)
{
    syrup_spoken_of(d, deal);
    const bool solids = names(d, deal, st_kind_is_solid);

    if (solids || (d->steep >= 0 && names(d, deal, not_late)) || (d->steep < 0 && d->last_steep < 0 && !d->liquor)) {
        bool wet = d->steep >= 0 || d->liquor || names(d, deal, is_spirit);
        for (int e = 0; e < d->t->n_entry && !wet; e++)
            wet = d->t->entry[e].left > 0 && is_spirit(d->t->entry[e].what->kind);
        bool pieces = solids || d->steep >= 0;
        for (int e = 0; e < d->t->n_entry && !pieces; e++)
            pieces = d->t->entry[e].left > 0 && st_kind_is_solid(d->t->entry[e].what->kind);
        if (wet && pieces && names(d, deal, not_late)) {
            steep(d, deal);
            return;
        }
    }
    if (d->steep >= 0 && d->syrup >= 0 && st_take_has_word(deal->sentence, "syrup") && !names(d, deal, joins_late)) {
        d->t->stage[d->steep].with_syrup = true;
        d->syrup = -1;
        put(d, d->steep, deal);
        return;
    }
    if (!names(d, deal, any) && d->last < 0) {
        const int jar = begin(d, ST_DO_STEEP, deal);
        use_listed(d, jar, deal, not_late);
        d->steep = d->last_steep = jar;
        return;
    }
    if (!names(d, deal, any) && d->syrup < 0 && d->last >= 0) {
        put(d, d->last, deal); /* "mix well" */
        return;
    }
    const bool same = d->last >= 0 && d->t->stage[d->last].kind == ST_DO_BLEND;
    const int stage = same ? d->last : begin(d, ST_DO_BLEND, deal);
    if (stage < 0)
        return;
    put(d, stage, deal);
    use_all(d, stage, deal, any);
    d->steep = d->syrup = -1;
    d->liquor = true;
    if (deal->deed->time.dim == ST_DIM_TIME && d->t->stage[stage].time.dim == ST_DIM_TIME) { /* it waits afterwards */
        const int wait = st_take_stage(d->t, ST_DO_REST);
        if (wait < 0)
            return;
        d->t->stage[wait].time = d->t->stage[stage].time;
        d->t->stage[wait].words = st_take_bare(deal->sentence);
        d->t->stage[stage].time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
        d->last = wait;
    }
}

static bool steeps(enum st_kind k)
{
    return st_kind_is_solid(k) || is_spirit(k);
}

static bool has_solid(const struct doing *d, const struct st_stage *s)
{
    for (int i = 0; i < s->n_use; i++)
        if (s->use[i].of == ST_USE_ENTRY && st_kind_is_solid(d->t->entry[s->use[i].which].what->kind))
            return true;
    return false;
}

static void strain(struct doing *d, const struct deal *deal)
{
    const struct st_taken *row = &d->t->row[deal->row];
    struct st_stage *s = d->steep >= 0 ? &d->t->stage[d->steep] : NULL;

    if (s) {
        const struct st_amount time = s->time;
        if (!has_solid(d, s) && !s->onward && s->spent_of < 0)
            use_listed(d, d->steep, deal, steeps); /* "Leave 4 weeks. Drain." with nothing named: what stood above */
        put(d, d->steep, deal);
        if (time.dim == ST_DIM_TIME)
            s->time = time;
        s->strained = true;
        d->steep = -1;
        d->liquor = true;
        d->strained_in = row->group;
        if (st_take_has_word(deal->clause, "paper|coffee filter")) {
            const int filter = begin(d, ST_DO_FILTER, deal);
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
            put(d, d->last, deal);
        return;
    }
    if (d->t->stage[d->last].kind == ST_DO_FILTER)
        put(d, d->last, deal);
    else
        (void)begin(d, ST_DO_FILTER, deal);
}

static void act(struct doing *d, const struct deal *deal);

static void treat(struct doing *d, const struct deal *deal)
{
    const enum st_do kind = deal->deed->kind;
    if (deal->deed->time.dim == ST_DIM_TIME) { /* "rack after a month" */
        struct st_take_deed wait = *deal->deed;
        struct deal before = *deal;
        wait.kind = ST_DO_REST;
        wait.size_ml = wait.vessel_ml = 0;
        wait.bottles = 0;
        before.deed = &wait;
        before.n = 0;
        act(d, &before);
    }
    if (d->last >= 0 && d->t->stage[d->last].kind == kind && kind != ST_DO_RACK)
        put(d, d->last, deal);
    else if (begin(d, kind, deal) < 0)
        return;
    if (deal->deed->time.dim == ST_DIM_TIME)
        d->t->stage[d->last].time.dim = ST_DIM_OPEN;
    if (kind == ST_DO_FINE)
        use_all(d, d->last, deal, any);
    if (d->steep >= 0) { /* racked or bottled: so it was strained */
        d->steep = -1;
        d->liquor = true;
    }
}

static void toast(struct doing *d, const struct deal *deal)
{
    if (!names(d, deal, st_kind_is_solid))
        return;
    use_all(d, begin(d, ST_DO_TOAST, deal), deal, st_kind_is_solid);
}

/* Fruit is lifted out, or the liquor poured off it. */
static bool strains(const char *clause)
{
    static const char ADJECTIVE[] = "the strained|the drained|the pressed|strained fruit|drained fruit|strained liquor|strained "
                                    "liquid|drained berries|same fruit";
    return st_take_has_word(clause, "strain|strains|straining|drain|drains|sieve|press|pressing|squeeze|squeezing|wring|pour "
                                    "off|take out|takes out|lift out|fish out|remove|discard|thro' muslin|strane|strain.") ||
           (st_take_has_word(clause, "strained|drained|pressed|squeezed|removed|poured off") &&
            !st_take_has_word(clause, ADJECTIVE));
}

static bool lies(const char *clause)
{
    return st_take_has_word(clause, "steep|steeped|steeping|infuse|infused|macerate|macerated|soak|cover|covered|leave|left|let|"
                                    "stand|put|place|pour over|pour|fill|into the jar|in a jar|keep|wait|stood|add|combine");
}

/* To the reader of lines straining is the end of a steep, and one deed. */
static void lie_or_strain(struct doing *d, const struct deal *deal)
{
    const bool over = strains(deal->clause);
    if (over && !lies(deal->clause) && d->last_steep < 0 && deal->deed->time.dim != ST_DIM_TIME)
        return; /* "take out the stones": nothing steeps yet */
    if (!over || lies(deal->clause) || names(d, deal, any) || (d->steep < 0 && d->last_steep < 0))
        steep(d, deal);
    if (over)
        strain(d, deal);
}

static bool is_syrup(const struct doing *d, const struct deal *deal)
{
    return names(d, deal, is_sweet) && names(d, deal, is_water) && !names(d, deal, st_kind_is_solid) &&
           !names(d, deal, is_spirit);
}

static void act(struct doing *d, const struct deal *deal)
{
    const enum st_do kind = deal->deed->kind;
    if ((kind == ST_DO_STEEP || kind == ST_DO_BLEND) && is_syrup(d, deal) && !same_fruit(deal->clause)) { /* "stir the honey into the water" */
        syrup(d, deal);
        return;
    }
    if (kind == ST_DO_SYRUP && names(d, deal, st_kind_is_solid) && !names(d, deal, is_sweet) && d->last < 0) {
        steep(d, deal); /* fruit heated with a little water */
        return;
    }
    switch (kind) {
    case ST_DO_TOAST: toast(d, deal); break;
    case ST_DO_STEEP: lie_or_strain(d, deal); break;
    case ST_DO_SYRUP: syrup(d, deal); break;
    case ST_DO_BLEND: blend(d, deal); break;
    case ST_DO_REST:
        if (d->steep >= 0 || (!d->liquor && d->last_steep < 0) || names(d, deal, st_kind_is_solid))
            steep(d, deal);
        else if (d->syrup == d->last && deal->deed->time.dim != ST_DIM_TIME)
            put(d, d->last, deal); /* the syrup cools */
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

/* ---- sentences ---- */

static int part_deed(struct st_taking *t, struct deal deal[MOST_DEEDS], int n, int i);

/* Deeds of the sentence and where in it they begin. */
static int deals_of(struct st_taking *t, int from, int to, struct deal deal[MOST_DEEDS])
{
    int n = 0;
    for (int i = from; i < to && n < MOST_DEEDS; i++) {
        struct st_taken *r = &t->row[i];
        if (r->item->role != ST_TAKE_STEP || r->item->sure == ST_UNREAD)
            continue;
        deal[n].row = i;
        deal[n].deed = &r->item->deed;
        deal[n].sentence = deal[n].clause = r->sentence;
        deal[n++].n = 0;
    }
    for (int i = 0; i < n; i++) { /* from this deed to the next */
        const size_t size = strlen(deal[i].sentence), at = i ? t->row[deal[i].row].at : 0;
        size_t end = i + 1 < n ? t->row[deal[i + 1].row].at : size;
        end = end > size ? size : end;
        deal[i].base = at;
        if (at < end)
            deal[i].clause = st_arena_strndup(t->arena, deal[i].sentence + at, end - at);
    }
    for (int i = 0; i < n; i++)
        n = part_deed(t, deal, n, i);
    return n;
}

/* ---- deeds that the reader of lines did not part ---- */

/* Where one of the words begins, as a word of its own; the length of text when nowhere. */
static size_t place_of(const char *text, const char *const words[])
{
    const size_t size = strlen(text);
    size_t first = size;
    for (size_t i = 0; i < size; i++)
        for (const char *const *w = words; *w && i < first; w++)
            if ((i == 0 || text[i - 1] == ' ') && strncasecmp(text + i, *w, strlen(*w)) == 0)
                first = i;
    return first;
}

/* "strain, stir in the honey, wait six weeks": the second half is another deed; a time in it waits by itself. */
static int part_deed(struct st_taking *t, struct deal deal[MOST_DEEDS], int n, int i)
{
    static const char *const MORE[] = { "add ", "stir in", "mix in", "blend in", "sweeten ", "dissolve ", NULL };
    const enum st_do kind = deal[i].deed->kind;
    const size_t from = kind == ST_DO_SYRUP ? 1 : 0, at = from + place_of(deal[i].clause + from, MORE);
    struct st_take_deed *tail, *head;

    if (at == 0 || at >= strlen(deal[i].clause) || n >= MOST_DEEDS ||
        !((kind == ST_DO_STEEP && strains(st_arena_strndup(t->arena, deal[i].clause, at))) ||
          (kind == ST_DO_SYRUP && strncasecmp(deal[i].clause + at, "add ", 4) == 0)))
        return n;
    const size_t base = (size_t)(deal[i].base);
    memmove(deal + i + 2, deal + i + 1, (size_t)(n - i - 1) * sizeof *deal);
    deal[i + 1] = deal[i];
    deal[i + 1].clause = deal[i].clause + at;
    deal[i + 1].base = base + at;
    deal[i].clause = st_arena_strndup(t->arena, deal[i].clause, at);
    head = st_arena_alloc(t->arena, sizeof *head);
    tail = st_arena_alloc(t->arena, sizeof *tail);
    *head = *deal[i].deed;
    *tail = (struct st_take_deed){ .kind = ST_DO_BLEND, .time = { .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME } };
    if (st_take_has_time(t, deal[i + 1].clause) && !st_take_has_time(t, deal[i].clause)) {
        tail->time = head->time; /* told after the stirring in */
        head->time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
    }
    deal[i].deed = head;
    deal[i + 1].deed = tail;
    return n + 1;
}

/* A sentence that names ingredients and was read as no deed. */
static enum st_do deed_guessed(const char *s)
{
    if (st_take_has_word(s, "syrup of|syrup from|make a syrup|boil|boiled|simmer|dissolve|heat|melt"))
        return ST_DO_SYRUP;
    if (st_take_has_word(s, "put|puts|cover|covered|pour|pours|poured|place|layer|into|in the|in a|on top|jar|over"))
        return ST_DO_STEEP;
    if (st_take_has_word(s, "add|adds|added|stir|stirred|mix|blend|sweeten|combine|whisk|shake in"))
        return ST_DO_BLEND;
    return ST_NDO;
}

static bool accepts(const struct deal *deal)
{
    const enum st_do k = deal->deed->kind;
    return k == ST_DO_TOAST || k == ST_DO_STEEP || k == ST_DO_SYRUP || k == ST_DO_BLEND || k == ST_DO_FINE;
}

/* The deed whose part of the sentence holds byte at: the last that begins before it; else one that takes things in. */
static struct deal *deal_at(struct deal deal[], int n, size_t at)
{
    int k = 0;
    for (int i = 1; i < n; i++)
        if (deal[i].base <= at)
            k = i;
    return &deal[k];
}

static void give(struct deal *deal, struct st_mention m)
{
    if (deal->n < ST_TAKE_MENTIONS)
        deal->use[deal->n++] = m;
}

/* Does the row tell an amount of its own, or does it only name what was listed ("half the sugar")? */
static bool tells_amount(const struct st_taking *t, const struct st_taken *r)
{
    return r->entry >= 0 && r->in_method &&
           (t->entry[r->entry].item == r->item || strpbrk(r->words, "0123456789") != NULL);
}

/* An amount in the sentence: of a thing listed before, or its own. */
static void own_amounts(struct st_taking *t, int from, int to, struct deal deal[], int n)
{
    for (int i = from; i < to; i++) {
        const struct st_taken *r = &t->row[i];
        if (!tells_amount(t, r))
            continue;
        give(deal_at(deal, n, r->at), (struct st_mention){ r->entry, r->at, r->share, false });
    }
}

static bool is_told(const struct st_taking *t, int from, int to, int entry)
{
    for (int i = from; i < to; i++)
        if (t->row[i].entry == entry && tells_amount(t, &t->row[i]))
            return true;
    return false;
}

/* The first row of the sentence becomes a deed when its words are of one and name something that is still to be used. */
static int guess_deed(struct doing *d, int from, int to, const struct st_mention m[], int found, struct deal deal[])
{
    struct st_taken *r = &d->t->row[from];
    const enum st_do kind = deed_guessed(r->sentence);
    bool left = false;

    for (int i = 0; i < found; i++)
        left = left || is_left(d, &m[i]);
    for (int i = from; i < to; i++)
        left = left || (r[i - from].entry >= 0 && d->t->entry[r[i - from].entry].left > 0);
    if (!left || kind == ST_NDO || !r->in_method)
        return 0;
    struct st_take_item *item = st_arena_alloc(d->t->arena, sizeof *item);
    *item = (struct st_take_item){ .role = ST_TAKE_STEP, .sure = ST_LIKELY, .line = { .text = "", .from_step = -1 } };
    item->deed = (struct st_take_deed){ .kind = kind, .time = { .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME } };
    (void)st_take_find_time(d->t, r->sentence, &item->deed.time);
    (void)snprintf(item->because, sizeof item->because, "by the things it names");
    if (r->item->role == ST_TAKE_NOTE || (r->item->role == ST_TAKE_INGREDIENT && r->entry < 0)) {
        r->item = item;
        r->words = r->sentence;
        memset(r->put, 0, sizeof r->put);
    }
    deal[0] = (struct deal){ .row = from, .deed = &item->deed, .sentence = r->sentence, .clause = r->sentence };
    return 1;
}

static void sentence(struct doing *d, int from, int to)
{
    struct deal *deal = st_arena_alloc(d->t->arena, MOST_DEEDS * sizeof *deal);
    struct st_mention m[ST_TAKE_MENTIONS];
    int n = deals_of(d->t, from, to, deal), found = 0;
    d->t->now = from;

    if (d->t->row[from].in_method || n > 0)
        found = st_take_mentions(d->t, d->t->row[from].sentence, m);
    if (n == 0)
        n = guess_deed(d, from, to, m, found, deal);
    if (n == 0)
        return;
    own_amounts(d->t, from, to, deal, n);
    for (int i = 0; i < found; i++)
        if (!is_told(d->t, from, to, m[i].entry))
            give(deal_at(deal, n, m[i].at), m[i]);
    for (int i = 0; i < n; i++) {
        act(d, &deal[i]);
        if (!accepts(&deal[i]) && names(d, &deal[i], no_spirit) && !names(d, &deal[i], st_kind_is_solid))
            blend(d, &deal[i]); /* "strain, with the sugar" */
    }
}

/* Prose is a method too: an amount in a sentence that does something belongs to that sentence. */
static void mark_prose(struct st_taking *t)
{
    for (int from = 0, to; from < t->n_row; from = to) {
        bool does = false;
        for (to = from; to < t->n_row && t->row[to].group == t->row[from].group; to++)
            does = does || (t->row[to].item->role == ST_TAKE_STEP && t->row[to].item->sure != ST_UNREAD);
        for (int i = from; i < to; i++)
            t->row[i].in_method = t->row[i].in_method || does;
    }
}

void st_take_steps(struct st_taking *t)
{
    struct doing d = { .t = t, .steep = -1, .last_steep = -1, .syrup = -1, .last = -1, .strained_in = -1 };

    mark_prose(t);
    st_take_entries(t);
    for (int from = 0, to; from < t->n_row && !t->too_long; from = to) {
        for (to = from; to < t->n_row && t->row[to].group == t->row[from].group;)
            to++;
        sentence(&d, from, to);
    }
    for (t->n_order = 0; t->n_order < t->n_stage; t->n_order++)
        t->order[t->n_order] = t->n_order;
}
