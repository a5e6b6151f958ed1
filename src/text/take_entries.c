#include <math.h>
#include <stdio.h>
#include <string.h>

#include "quantity.h"
#include "take_per.h"
#include "take_whole.h"
#include "take_words.h"

/* ---- parts of an amount ---- */

const char *st_take_scaled(struct st_taking *t, const char *as, double share)
{
    struct st_problem p;
    struct st_amount a;
    size_t used = 0;
    char text[80];

    if (share >= 1 - 1e-9)
        return as;
    if (st_quantity_parse(as, strlen(as), t->measures, &a, &used, &p) != 0 || a.open != ST_CLOSED || a.make_up_to)
        return NULL;
    a.value *= share;
    a.low *= share;
    a.high *= share;
    a.written *= share;
    a.fills = a.fills * share < 1 ? 1 : a.fills * share;
    if (a.dim == ST_DIM_MASS || a.dim == ST_DIM_VOLUME) {
        const char *unit = a.dim == ST_DIM_MASS ? "g" : "mL";
        if (a.low < a.high)
            (void)snprintf(text, sizeof text, "%.5g to %.5g %s", a.low, a.high, unit);
        else
            (void)snprintf(text, sizeof text, "%.5g %s", a.value, unit);
    } else if (a.dim == ST_DIM_PIECE && a.low == a.high) {
        (void)snprintf(text, sizeof text, "%.4g", a.value);
    } else {
        return NULL;
    }
    while (as[used] == ' ')
        used++;
    return st_arena_printf(t->arena, "%s %s", text, as + used);
}

/* ---- the same thing twice ---- */

static bool is_closed(const struct st_amount *a)
{
    return a->open == ST_CLOSED && a->dim != ST_DIM_OPEN && !a->make_up_to;
}

/* What share of the entry an amount told in the method is: 1 the same again, 0.5 half of it, 0 another amount. */
static double share_of(const struct st_take_item *listed, const struct st_take_item *told)
{
    const struct st_amount *a = &listed->line.amount, *b = &told->line.amount;
    if (!is_closed(b))
        return 1; /* "the sugar", "sugar to cover": no amount of its own */
    if (!is_closed(a) || a->dim != b->dim || !(a->value > 0))
        return 0;
    const double share = b->value / a->value;
    return share > 0.9 && share < 1.1 ? 1 : share < 1 ? share : 0;
}

/* Rum was listed and vodka is told: two spirits, unless the words speak of what was named before ("the spirit"). */
static bool is_another_spirit(const struct st_taken *r, const struct st_ingredient *listed)
{
    return listed != r->item->line.what && listed->kind == ST_KIND_SPIRIT &&
           !st_take_has_word(r->words, "spirit|spirits|alcohol|liquor|booze|the|your|our|my|that|this");
}

/* "the spirit", with an amount that was guessed: it speaks of what was listed. */
static int entry_spoken_of(const struct st_taking *t, const struct st_taken *r)
{
    int best = -1;
    if (strpbrk(r->words, "0123456789") || r->item->sure < ST_GUESS)
        return -1;
    for (int e = 0; e < t->n_entry; e++) {
        const struct st_entry *o = &t->entry[e];
        if (o->free || is_another_spirit(r, o->what))
            continue;
        if (o->what == r->item->line.what || (best < 0 && o->what->kind == r->item->line.what->kind))
            best = e;
    }
    return best;
}

/* "500 ml fresh vodka", "another 100 g sugar": no part of what was listed. */
static bool is_more(const struct st_taken *r)
{
    const enum st_kind k = r->item->line.what->kind;
    return is_closed(&r->item->line.amount) &&
           (st_take_has_word(r->words, "another|extra|additional|further") ||
            ((k == ST_KIND_SPIRIT || k == ST_KIND_WINE) && st_take_has_word(r->words, "fresh|new|more")));
}

/* The entry that an amount told in the method speaks of, -1 when it is a new thing. */
static int entry_meant(const struct st_taking *t, const struct st_taken *r, double *share)
{
    const struct st_take_item *item = r->item;
    if (is_more(r))
        return -1;
    int best = entry_spoken_of(t, r);
    if (best >= 0) {
        *share = 1;
        return best;
    }
    for (int e = 0; e < t->n_entry; e++) {
        const struct st_entry *o = &t->entry[e];
        if (o->what != item->line.what || o->free)
            continue;
        const double s = share_of(o->item, item);
        if (s > 0 && (best < 0 || s > *share)) {
            best = e;
            *share = s;
        }
    }
    return best;
}

static bool says_gross(const char *sentence)
{
    for (const char *p = sentence; *p; p++) {
        struct st_scan s = { p, p + strlen(p) };
        if (p > sentence && st_take_is_word_byte(p[-1]))
            continue;
        const struct st_word *w = st_take_is_word_byte(*p) ? st_words_at(&s, ST_WORD_BIT(ST_WORD_REMARK)) : NULL;
        if (w && strcmp(w->value, "gross") == 0 && strstr(w->phrase, " and all"))
            return true;
    }
    return false;
}

void st_take_weighed(struct st_taking *t, const char *sentence, const struct st_mention m[], int n)
{
    struct st_entry *e = n == 1 ? &t->entry[m[0].entry] : NULL;
    struct st_line line;
    struct st_problem p;

    if (!e || !st_kind_is_solid(e->what->kind) || e->item->line.amount.dim != ST_DIM_MASS || e->item->line.gross ||
        strchr(e->item->as, ',') || !says_gross(sentence))
        return;
    const char *as = st_arena_printf(t->arena, "%s, as bought", e->item->as);
    if (strlen(as) >= sizeof e->item->as || st_line_parse(as, t->measures, t->catalogue, &line, &p) != 0)
        return;
    (void)snprintf(e->item->as, sizeof e->item->as, "%s", as);
    e->item->line = line;
    e->item->line.text = e->item->as;
    e->item->sure = e->item->sure < ST_LIKELY ? ST_LIKELY : e->item->sure;
    if (!*e->item->because)
        (void)snprintf(e->item->because, sizeof e->item->because, "as the method tells");
}

static void new_entry(struct st_taking *t, int row, bool in_method)
{
    struct st_taken *r = &t->row[row];
    if (t->n_entry >= ST_TAKE_ENTRIES) {
        t->too_long = true;
        return;
    }
    struct st_entry *e = &t->entry[t->n_entry];
    *e = (struct st_entry){ .row = row, .item = r->item, .what = r->item->line.what, .left = 1, .free = in_method };
    st_take_names(t->arena, e->what, e);
    r->entry = t->n_entry++;
    r->share = 1;
}

/* A thing without any amount takes the middle option of its question for the time being.  What is not known by its
 * name is nothing until the maker tells: the nearest name may be of another thing ("potatoes", vodka). */
static void stand_in(struct st_taking *t, struct st_take_item *i)
{
    struct st_problem p;
    const struct st_take_ask *ask = i->n_ask ? &i->ask[0] : NULL;
    if (*i->as || !ask || ask->n_option == 0 || ask->kind == ST_ASK_MEASURES || ask->kind == ST_ASK_WHICH)
        return;
    const int middle = ask->n_option / 2;
    if (st_line_parse(ask->option[middle].as, t->measures, t->catalogue, &i->line, &p) != 0)
        return;
    (void)snprintf(i->as, sizeof i->as, "%s", ask->option[middle].as);
    i->line.text = i->as;
    i->sure = ST_GUESS;
    if (!*i->because)
        (void)snprintf(i->because, sizeof i->because, "%s is taken until you answer", ask->option[middle].label);
}

/* "sugar", and nothing more: to taste; "vodka": so much that the fruit is covered.  Told, and it keeps its question. */
static void open_amount(struct st_taking *t, struct st_take_item *i)
{
    const struct st_ingredient *in = i->line.what;
    const struct st_amount *a = &i->line.amount;
    struct st_line line;
    struct st_problem p;

    if (!in || a->dim != ST_DIM_OPEN || a->open != ST_OPEN_SOME)
        return;
    const bool spirit = in->kind == ST_KIND_SPIRIT;
    if (!spirit && in->kind != ST_KIND_SUGAR && in->kind != ST_KIND_SYRUP && in->kind != ST_KIND_ACID)
        return;
    const char *as;
    const struct st_range *q = i->line.strength.known ? &i->line.strength : &in->strength;
    if (!spirit)
        as = st_arena_printf(t->arena, "%s to taste", in->name);
    else if (q->known && q->low < q->high)
        as = st_arena_printf(t->arena, "%s %.4g-%.4g %% until covered", in->name, q->low, q->high);
    else
        as = st_arena_printf(t->arena, "%s %.4g %% until covered", in->name, q->known ? q->value : 40.0);
    if (st_line_parse(as, t->measures, t->catalogue, &line, &p) != 0)
        return;
    (void)snprintf(i->as, sizeof i->as, "%s", as);
    i->line = line;
    i->line.text = i->as;
    i->sure = ST_GUESS;
    if (strncmp(i->because, "the amount that is written", 26) != 0)
        (void)snprintf(i->because, sizeof i->because, "no amount is written");
}

/* ---- "some rum", beside a spirit that was measured ---- */

static bool has_measured_spirit(const struct st_taking *t)
{
    for (int e = 0; e < t->n_entry; e++)
        if (t->entry[e].what->kind == ST_KIND_SPIRIT && is_closed(&t->entry[e].item->line.amount))
            return true;
    return false;
}

/* So much that all is covered would be a guess of litres where another spirit is in the jar already: it is asked about, and
 * left out until it is answered.  True: left out. */
static bool leaves_some_out(struct st_taking *t, struct st_taken *r)
{
    struct st_take_item *i = r->item;
    const struct st_line *l = &i->line;
    struct st_scan s = { r->words, r->words + strlen(r->words) };
    bool some = false;

    for (; s.at < s.end && !some; s.at++)
        some = (s.at == r->words || !st_take_is_word_byte(s.at[-1])) && st_scan_word(&s, "some|a little|a bit of");
    if (!some || !l->what || l->what->kind != ST_KIND_SPIRIT || l->amount.dim != ST_DIM_OPEN ||
        l->amount.open != ST_OPEN_COVER || i->sure != ST_GUESS || i->n_ask >= ST_TAKE_ASKS || !has_measured_spirit(t))
        return false;
    char strength[40] = "";
    if (l->strength.known)
        (void)snprintf(strength, sizeof strength, l->strength.low < l->strength.high ? " %.4g-%.4g %%" : " %.4g %%",
                       l->strength.low, l->strength.high);
    struct st_take_ask *ask = &i->ask[i->n_ask++];
    *ask = (struct st_take_ask){ .kind = ST_ASK_AMOUNT };
    (void)snprintf(ask->ask, sizeof ask->ask, "How much of the %.60s went in?", l->what->name);
    (void)snprintf(ask->with, sizeof ask->with, "%%s %.80s%s", l->what->name, strength);
    st_take_answer_row(t, r);
    if (r->answered[ST_ASK_AMOUNT])
        return false;
    i->as[0] = '\0';
    i->sure = ST_UNREAD;
    (void)snprintf(i->because, sizeof i->because, "no amount is written: left out");
    return true;
}

/* The words must be a line that a recipe file may hold. */
static bool is_readable(struct st_taking *t, struct st_take_item *i)
{
    struct st_problem p;
    struct st_line line;
    if (!*i->as || strlen(i->as) > 500)
        return false;
    const int result = st_line_parse(i->as, t->measures, t->catalogue, &line, &p);
    if (result == 0) {
        i->line = line;
        i->line.text = i->as;
        return line.what != NULL;
    }
    if (!*i->because)
        (void)snprintf(i->because, sizeof i->because, "%.110s", p.what);
    return false;
}

void st_take_ask_amount(struct st_taking *t, struct st_entry *e, const double grams[3])
{
    struct st_taken *row = &t->row[e->row];
    struct st_take_ask *ask = &e->item->ask[0];
    struct st_line line;
    struct st_problem p;

    *ask = (struct st_take_ask){ .kind = ST_ASK_AMOUNT, .n_option = 3 };
    (void)snprintf(ask->ask, sizeof ask->ask, "How much %s went in?", e->what->name);
    for (int i = 0; i < 3; i++) {
        (void)snprintf(ask->option[i].label, sizeof ask->option[i].label, "%.0f g", grams[i]);
        (void)snprintf(ask->option[i].as, sizeof ask->option[i].as, "%.0f g %.180s", grams[i], e->what->name);
    }
    (void)snprintf(ask->with, sizeof ask->with, "%%s %.180s", e->what->name);
    e->item->n_ask = 1;
    row->put[ST_ASK_AMOUNT] = true;
    row->id[ST_ASK_AMOUNT] =
        st_take_id(t->arena, row->line, ST_ASK_AMOUNT, e->row > 0 && t->row[e->row - 1].put[ST_ASK_AMOUNT] ? 2 : 1);
    const char *value = st_take_answer_to(t->given, row->id[ST_ASK_AMOUNT]);
    struct st_take_per per;
    size_t at;
    const char *plain = value ? st_take_per_said(t, value, &per, &at) : NULL;
    const char *as = value && strlen(value) < 40 ? st_arena_printf(t->arena, "%s %s", plain, e->what->name) : NULL;
    if (!as || st_line_parse(as, t->measures, t->catalogue, &line, &p) != 0) {
        if (value)
            st_take_refuse(ask, value);
        return;
    }
    if (plain != value)
        row->per = per;
    row->asked[ST_ASK_AMOUNT] = st_arena_alloc(t->arena, sizeof *ask);
    *row->asked[ST_ASK_AMOUNT] = *ask;
    row->answered[ST_ASK_AMOUNT] = value;
    e->item->n_ask = 0;
    e->fill = 0;
    (void)snprintf(e->item->as, sizeof e->item->as, "%s", as);
    e->item->line = line;
    e->item->line.text = e->item->as;
    e->item->sure = ST_LIKELY;
    (void)snprintf(e->item->because, sizeof e->item->because, "as you answered");
}

/* "Sugar", and nothing more: asked for with amounts that suit the spirit, 150, 250, 350 g to the litre: common
 * practice, no source. */
static void ask_sugar(struct st_taking *t)
{
    double ml = 0;
    for (int e = 0; e < t->n_entry; e++) {
        const struct st_amount *a = &t->entry[e].item->line.amount;
        if ((t->entry[e].what->kind == ST_KIND_SPIRIT || t->entry[e].what->kind == ST_KIND_WINE) &&
            a->dim == ST_DIM_VOLUME)
            ml += a->value;
    }
    for (int e = 0; e < t->n_entry; e++) {
        struct st_take_item *i = t->entry[e].item;
        if (t->entry[e].what->kind != ST_KIND_SUGAR || i->n_ask || i->line.amount.open != ST_OPEN_TASTE || ml < 50)
            continue;
        st_take_ask_amount(t, &t->entry[e],
                           (const double[3]){ round(ml * 0.015) * 10, round(ml * 0.025) * 10, round(ml * 0.035) * 10 });
    }
}

/* "gin", "sugar to the shoulders" in the list, and in the method how much: what is measured is the one that counts. */
static bool is_vaguer(const struct st_take_item *listed, const struct st_take_item *told)
{
    const struct st_amount *a = &listed->line.amount, *b = &told->line.amount;
    const bool unwritten = strncmp(listed->because, "no amount is written", 20) == 0;

    if (a->dim != ST_DIM_OPEN || told->sure == ST_UNREAD)
        return false;
    if (is_closed(b))
        return unwritten || a->open == ST_OPEN_SOME || a->open == ST_OPEN_FILL;
    return unwritten && b->dim == ST_DIM_OPEN && told->sure < ST_GUESS &&
           (b->open == ST_OPEN_TOP_UP || b->open == ST_OPEN_FILL || b->open == ST_OPEN_COVER);
}

static bool takes_over(struct st_taking *t, int row)
{
    struct st_taken *r = &t->row[row];
    for (int e = 0; e < t->n_entry; e++) {
        struct st_entry *o = &t->entry[e];
        if (o->free || o->what != r->item->line.what || !is_vaguer(o->item, r->item))
            continue;
        o->item->sure = ST_LIKELY;
        (void)snprintf(o->item->because, sizeof o->item->because, "line %d tells how much: that is counted", r->line);
        o->item = r->item;
        o->row = row;
        r->entry = e;
        r->share = 1;
        return true;
    }
    return false;
}

static bool is_by_hand(const struct st_taken *r)
{
    return r->item->sure == ST_GUESS && strstr(r->item->because, " of it is taken as ") != NULL;
}

/* "two handfuls for each, we are six, so about a kilo": the weight that the same line comes to is the one that counts.
 */
static void count_weight(struct st_taking *t)
{
    for (int i = 0; i < t->n_row; i++)
        for (int k = 0; k < t->n_row; k++) {
            struct st_taken *hand = &t->row[i];
            const struct st_taken *whole = &t->row[k];
            const struct st_amount *a = &whole->item->line.amount;
            if (i == k || hand->line != whole->line || hand->entry < 0 || whole->entry < 0 ||
                hand->entry == whole->entry || hand->item->line.what != whole->item->line.what || !is_by_hand(hand) ||
                is_by_hand(whole) || (a->dim != ST_DIM_MASS && a->dim != ST_DIM_VOLUME) ||
                t->entry[hand->entry].item != hand->item)
                continue;
            t->entry[hand->entry].left = 0;
            hand->entry = whole->entry;
            hand->item->n_ask = 0;
            hand->item->sure = ST_LIKELY;
            (void)snprintf(hand->item->because, sizeof hand->item->because,
                           "the same line comes to an amount: that is counted, the handfuls are not");
        }
}

void st_take_entries(struct st_taking *t)
{
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < t->n_row && !t->too_long; i++) {
            struct st_taken *r = &t->row[i];
            if (r->item->role != ST_TAKE_INGREDIENT || r->in_method != (pass == 1))
                continue;
            stand_in(t, r->item);
            if (!is_readable(t, r->item)) {
                r->item->sure = ST_UNREAD;
                continue;
            }
            open_amount(t, r->item);
            double share = 0;
            if (pass == 1 && takes_over(t, i))
                continue;
            const int same = pass == 1 ? entry_meant(t, r, &share) : -1;
            if (same >= 0) {
                r->entry = same;
                r->share = share;
                r->item->n_ask = 0;
                r->item->sure = ST_LIKELY;
                if (share < 0.999)
                    (void)snprintf(r->item->because, sizeof r->item->because, "a part of what line %d tells",
                                   t->row[t->entry[same].row].line);
                else
                    (void)snprintf(r->item->because, sizeof r->item->because, "told in line %d, and counted once",
                                   t->row[t->entry[same].row].line);
            } else if (!leaves_some_out(t, r) && is_readable(t, r->item))
                new_entry(t, i, pass == 1);
        }
    count_weight(t);
    ask_sugar(t);
}
