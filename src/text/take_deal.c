#include <string.h>

#include "take_deal.h"

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

void st_deal_words(struct st_taking *t, int stage, const char *sentence)
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
    const bool has = s->time.dim == ST_DIM_TIME;
    if (has && (s->fresh || st_take_has_word(sentence, "another|further|again|more"))) {
        s->fresh = false;
        s->time.value += time->value;
        s->time.low += time->low;
        s->time.high += time->high;
        s->time.unit = NULL;
    } else if (!has || time->value > s->time.value) {
        s->time = *time;
    }
}

/* The deed's own figures and words into the stage. */
void st_deal_put(struct st_doing *d, int stage, const struct st_deal *deal)
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
    st_deal_words(d->t, stage, d->t->row[deal->row].own);
    d->t->row[deal->row].stage = stage;
    d->last = stage;
}

int st_deal_begin(struct st_doing *d, enum st_do kind, const struct st_deal *deal)
{
    const int stage = st_take_stage(d->t, kind);
    if (stage >= 0)
        st_deal_put(d, stage, deal);
    return stage;
}

/* ---- what a deed names ---- */

static enum st_kind kind_of(const struct st_doing *d, const struct st_mention *m)
{
    return d->t->entry[m->entry].what->kind;
}

bool st_deal_is_left(const struct st_doing *d, const struct st_mention *m)
{
    return d->t->entry[m->entry].left > 0 && !m->except;
}

bool st_is_sweet(enum st_kind k)
{
    return k == ST_KIND_SUGAR || k == ST_KIND_SWEETENER || k == ST_KIND_SYRUP;
}

bool st_joins_late(enum st_kind k)
{
    return k == ST_KIND_DAIRY || k == ST_KIND_EGG;
}

bool st_deal_names(const struct st_doing *d, const struct st_deal *deal, bool (*is)(enum st_kind))
{
    for (int i = 0; i < deal->n; i++)
        if (st_deal_is_left(d, &deal->use[i]) && is(kind_of(d, &deal->use[i])))
            return true;
    return false;
}

bool st_is_drink(enum st_kind k)
{
    return k == ST_KIND_SPIRIT || k == ST_KIND_WINE;
}

bool st_is_any(enum st_kind k)
{
    (void)k;
    return true;
}

void st_deal_use_all(struct st_doing *d, int stage, const struct st_deal *deal, bool (*is)(enum st_kind))
{
    for (int i = 0; i < deal->n && stage >= 0; i++)
        if (st_deal_is_left(d, &deal->use[i]) && is(kind_of(d, &deal->use[i])))
            st_take_use(d->t, stage, deal->use[i].entry, deal->use[i].share);
}

bool st_is_not_late(enum st_kind k)
{
    return !st_joins_late(k);
}

void st_deal_use_left(struct st_doing *d, int stage, bool (*is)(enum st_kind))
{
    for (int e = 0; e < d->t->n_entry && stage >= 0; e++)
        if (d->t->entry[e].left > 0 && !d->t->entry[e].free && is(d->t->entry[e].what->kind))
            st_take_use(d->t, stage, e, 1);
}

bool st_is_no_drink(enum st_kind k)
{
    return !st_is_drink(k);
}
