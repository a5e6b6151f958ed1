#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "take_deal.h"
#include "take_inside.h"
#include "take_prose.h"

/* The deeds of a sentence, each with what its part of the sentence names. */

/* ---- sentences ---- */

static int part_deed(struct st_taking *t, struct st_deal deal[MOST_DEEDS], int n, int i);

/* Deeds of the sentence and where in it they begin. */
static int deals_of(struct st_taking *t, int from, int to, struct st_deal deal[MOST_DEEDS])
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
static int part_deed(struct st_taking *t, struct st_deal deal[MOST_DEEDS], int n, int i)
{
    static const char *const MORE[] = { "add ",      "stir in", "mix in",   "blend in", "sweeten ",
                                        "dissolve ", "put in ", "pour in ", NULL };
    const enum st_do kind = deal[i].deed->kind;
    const size_t from = kind == ST_DO_SYRUP ? 1 : 0, at = from + place_of(deal[i].clause + from, MORE);
    struct st_take_deed *tail, *head;

    if (at == 0 || at >= strlen(deal[i].clause) || n >= MOST_DEEDS ||
        !((kind == ST_DO_STEEP && st_deal_strains(st_arena_strndup(t->arena, deal[i].clause, at))) ||
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
    const char *first = s + strspn(s, " \t\"'(");
    if (strncasecmp(first, "take ", 5) == 0 && !st_take_has_word(s, "put|pour|cover|add|jar|mix|stir"))
        return ST_NDO; /* what is at hand */
    if (st_take_has_word(s, "syrup of|syrup from|make a syrup|boil|boiled|simmer|dissolve|heat|melt"))
        return ST_DO_SYRUP;
    if (st_take_has_word(s, "put|puts|cover|covered|pour|pours|poured|place|layer|into|in the|in a|on top|jar|over"))
        return ST_DO_STEEP;
    if (st_take_has_word(s, "add|adds|added|stir|stirred|mix|blend|sweeten|combine|whisk|shake in"))
        return ST_DO_BLEND;
    return ST_NDO;
}

static bool accepts(const struct st_deal *deal)
{
    const enum st_do k = deal->deed->kind;
    return k == ST_DO_TOAST || k == ST_DO_STEEP || k == ST_DO_SYRUP || k == ST_DO_BLEND || k == ST_DO_FINE;
}

/* The deed whose part of the sentence holds byte at: the last that begins before it; else one that takes things in. */
static struct st_deal *deal_at(struct st_deal deal[], int n, size_t at)
{
    int k = 0;
    for (int i = 1; i < n; i++)
        if (deal[i].base <= at)
            k = i;
    return &deal[k];
}

static void give(struct st_deal *deal, struct st_mention m)
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
static void own_amounts(struct st_taking *t, int from, int to, struct st_deal deal[], int n)
{
    for (int i = from; i < to; i++) {
        const struct st_taken *r = &t->row[i];
        if (!tells_amount(t, r))
            continue;
        give(deal_at(deal, n, r->at), (struct st_mention){ .entry = r->entry, .at = r->at, .share = r->share });
    }
}

static bool is_told(const struct st_taking *t, int from, int to, int entry)
{
    for (int i = from; i < to; i++)
        if (t->row[i].entry == entry && tells_amount(t, &t->row[i]))
            return true;
    return false;
}

/* The first row of the sentence becomes a deed when its words are of one and name something that is still to be used.
 */
static int guess_deed(struct st_doing *d, int from, int to, const struct st_mention m[], int found,
                      struct st_deal deal[])
{
    struct st_taken *r = &d->t->row[from];
    const enum st_do kind = deed_guessed(r->sentence);
    bool left = false;

    for (int i = 0; i < found; i++)
        left = left || st_deal_is_left(d, &m[i]);
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
        r->words = r->own;
        memset(r->put, 0, sizeof r->put);
    }
    deal[0] = (struct st_deal){ .row = from, .deed = &item->deed, .sentence = r->sentence, .clause = r->sentence };
    return 1;
}

/* "Simmer for 2 minutes and let it cool", right behind the making of a syrup. */
static void syrup_goes_on(struct st_doing *d, int from)
{
    const struct st_taken *r = &d->t->row[from];
    struct st_amount time;
    if (d->last < 0 || d->t->stage[d->last].kind != ST_DO_SYRUP || r->item->role != ST_TAKE_NOTE || !r->in_method ||
        !st_take_has_word(r->sentence, "simmer|boil|bubble|cook|heat") || !st_take_find_time(d->t, r->sentence, &time))
        return;
    const struct st_take_deed deed = { .kind = ST_DO_SYRUP, .time = time };
    struct st_deal *deal = st_arena_alloc(d->t->arena, sizeof *deal);
    *deal = (struct st_deal){ .row = from, .deed = &deed, .sentence = r->sentence, .clause = r->sentence };
    st_deal_put(d, d->last, deal);
}

/* "Do not press.", "Cool completely.": no step of its own, and still what the maker wrote to be done. */
static void keep_words(struct st_doing *d, int from)
{
    const struct st_taken *r = &d->t->row[from];
    if (r->item->role != ST_TAKE_NOTE || !r->in_method || r->changed || st_take_is_question(r->own))
        return;
    if (d->last >= 0)
        st_deal_words(d->t, d->last, r->own);
    else if (st_deed_begins(r->sentence, strlen(r->sentence)))
        d->early =
            *d->early ? st_arena_printf(d->t->arena, "%s %s", d->early, st_take_bare(r->own)) : st_take_bare(r->own);
}

/* The time of the deed has been taken already. */
static void blend_besides(struct st_doing *d, const struct st_deal *deal)
{
    struct st_take_deed still = *deal->deed;
    struct st_deal blend = *deal;
    still.time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
    blend.deed = &still;
    st_deal_blend(d, &blend);
}

static void sentence(struct st_doing *d, int from, int to)
{
    struct st_deal *deal = st_arena_alloc(d->t->arena, MOST_DEEDS * sizeof *deal);
    struct st_mention m[ST_TAKE_MENTIONS];
    int n = deals_of(d->t, from, to, deal), found = 0;
    d->t->now = from;

    if (d->t->row[from].in_method || n > 0)
        found = st_take_mentions(d->t, d->t->row[from].sentence, m);
    st_take_weighed(d->t, d->t->row[from].sentence, m, found);
    if (n == 0)
        n = guess_deed(d, from, to, m, found, deal);
    if (n == 0)
        syrup_goes_on(d, from);
    if (n == 0) {
        keep_words(d, from);
        return;
    }
    own_amounts(d->t, from, to, deal, n);
    for (int i = 0; i < found; i++)
        if (!is_told(d->t, from, to, m[i].entry))
            give(deal_at(deal, n, m[i].at), m[i]);
    for (int i = 0; i < n; i++) {
        st_deal_act(d, &deal[i]);
        if (deal[i].deed->kind == ST_DO_SYRUP && d->liquor && st_deal_names(d, &deal[i], st_is_drink))
            st_deal_blend(d, &deal[i]); /* "warm the cream with the sugar, stir into the whisky" */
        if (!accepts(&deal[i]) && st_deal_names(d, &deal[i], st_is_no_drink) &&
            !st_deal_names(d, &deal[i], st_kind_is_solid))
            blend_besides(d, &deal[i]); /* "strain, with the sugar" */
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
    struct st_doing d = {
        .t = t, .steep = -1, .last_steep = -1, .syrup = -1, .last = -1, .strained_in = -1, .early = ""
    };

    mark_prose(t);
    st_take_part_told(t);
    st_take_entries(t);
    st_take_leave_out_denied(t);
    for (int from = 0, to; from < t->n_row && !t->too_long; from = to) {
        for (to = from; to < t->n_row && t->row[to].group == t->row[from].group;)
            to++;
        sentence(&d, from, to);
    }
    if (*d.early && t->n_stage > 0 && strlen(d.early) + strlen(t->stage[0].words) < 3800)
        t->stage[0].words =
            *t->stage[0].words ? st_arena_printf(t->arena, "%s %s", d.early, t->stage[0].words) : d.early;
    for (t->n_order = 0; t->n_order < t->n_stage; t->n_order++)
        t->order[t->n_order] = t->n_order;
}
