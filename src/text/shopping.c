#include "shopping.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "figure_words.h"
#include "quantity.h"
#include "several.h"
#include "stops.h"
#include "util/memory.h"

static const char ELSE[] = "what else";
static const double SPARE = 1e-6; /* of a pack: rounding */

enum { PARTS = 4 }; /* juice, peel, ... of one fruit */

/* An item while it grows: what is used whole adds up; of what is used in part, the most of the parts is bought. */
struct making {
    struct st_shop_item item;
    const struct st_pack *pack[ST_SHOP_SIZES];
    int n_pack;
    struct st_range whole;
    struct part {
        const struct st_ingredient *of;
        struct st_range need;
    } part[PARTS];
    int n_part, n_want, n_trimmed;
    char used_for[120];
    const struct st_line *line; /* the first */
};

struct list {
    const struct st_recipe *r;
    const struct st_packs *packs;
    bool us;
    struct making *of;
    int n;
};

/* ---- how much, as it is sold ---- */

static struct st_range plus(struct st_range a, struct st_range b)
{
    return (struct st_range){ a.value + b.value, a.low + b.low, a.high + b.high, a.known || b.known, 'c', "" };
}

static struct st_range times(struct st_range a, struct st_range b)
{
    return (struct st_range){ a.value * b.value, a.low * b.low, a.high * b.high, a.known && b.known, 'c', "" };
}

static struct st_range over(struct st_range a, struct st_range b)
{
    if (!a.known || !b.known || !(b.low > 0.0))
        return (struct st_range){ .known = false, .source = "" };
    return (struct st_range){ a.value / b.value, a.low / b.high, a.high / b.low, true, 'c', "" };
}

static struct st_range most(struct st_range a, struct st_range b)
{
    return (struct st_range){
        fmax(a.value, b.value), fmax(a.low, b.low), fmax(a.high, b.high), a.known || b.known, 'c', ""
    };
}

/* What is missing of a line in the measure of a pack; not known: nobody has weighed it. */
static struct st_range as_sold(const struct st_line *l, const struct st_reach_line *x, const struct st_pack *p,
                               struct st_range *trimmed)
{
    const struct st_range net = times(x->missing, st_reach_unit_of_line(l, x->net));
    const struct st_holding one = { .dim = p->dim, .kind = l->what->kind, .strength = l->strength };
    const bool as_bought = x->dim == ST_DIM_MASS && !x->net && (l->gross || l->trimmed_share.known);
    if (p->dim != ST_DIM_MASS)
        return x->dim == p->dim ? x->missing : over(net, st_reach_unit_of_lot(&one, l->what));
    if (!p->gross)
        return net;
    if (as_bought)
        return x->missing;
    if (!l->what->edible.known || !(l->what->edible.value < ST_TRIMMING_MATTERS))
        return net;
    *trimmed = net;
    return over(net, l->what->edible);
}

/* ---- what goes together ---- */

static bool same_strength(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) < 0.05;
}

static struct making *find(struct list *w, const struct st_line *l, const struct st_reach_line *x, bool known)
{
    const struct st_pack *pack[ST_SHOP_SIZES];
    const int n = st_packs_of(w->packs, l->what, w->us, pack, ST_SHOP_SIZES);
    const char *as = n > 0 ? pack[0]->as : "";
    const double strength = l->what->kind == ST_KIND_SPIRIT ? x->strength : (double)NAN;
    for (int i = 0; i < w->n; i++) {
        const struct making *m = &w->of[i];
        const bool same =
            *as ? strcmp(as, m->item.as) == 0 : !*m->item.as && strcmp(m->item.what->slug, l->what->slug) == 0;
        if (same && known == m->item.amount_known && same_strength(strength, m->item.strength) &&
            (m->n_pack > 0 || m->item.dim == x->dim))
            return &w->of[i];
    }
    w->of = x_realloc_array(w->of, (size_t)w->n + 1, sizeof *w->of);
    struct making *m = &w->of[w->n++];
    *m = (struct making){ .line = l, .n_pack = n };
    memcpy(m->pack, pack, (size_t)n * sizeof *pack);
    m->item = (struct st_shop_item){ .what = l->what,
                                     .as = as,
                                     .strength = strength,
                                     .amount_known = known,
                                     .shelf = n > 0 ? pack[0]->shelf : ELSE,
                                     .dim = n > 0 ? pack[0]->dim : x->dim };
    return m;
}

static void use_for(struct making *m, const char *name)
{
    const size_t n = strlen(m->used_for);
    if (!strstr(m->used_for, name))
        snprintf(m->used_for + n, sizeof m->used_for - n, "%s%s", n ? " and " : "", name);
}

static void want_part(struct making *m, const struct st_ingredient *of, struct st_range need)
{
    int i = 0;
    while (i < m->n_part && strcmp(m->part[i].of->slug, of->slug) != 0)
        i++;
    if (i == PARTS) { /* no room: counted as if it were used whole */
        m->whole = plus(m->whole, need);
        return;
    }
    if (i == m->n_part)
        m->part[m->n_part++] = (struct part){ .of = of };
    m->part[i].need = plus(m->part[i].need, need);
    use_for(m, of->name);
}

static void want(struct list *w, const struct st_line *l, const struct st_reach_line *x)
{
    const bool known = x->need.known;
    if (x->state == ST_REACH_TAP || (known && !(x->missing.value > 0.0)))
        return;
    if (!known && x->state != ST_REACH_NONE && x->state != ST_REACH_UNTOLD)
        return;
    struct making *m = find(w, l, x, known);
    struct st_range trimmed = { .known = false };
    if (!known)
        return;
    struct st_range need = m->n_pack > 0 ? as_sold(l, x, m->pack[0], &trimmed) : x->missing;
    if (!need.known) { /* as the recipe measures it, on a row of its own */
        if (m->n_want > 0) {
            w->of = x_realloc_array(w->of, (size_t)w->n + 1, sizeof *w->of);
            struct making *own = &w->of[w->n++];
            *own = (struct making){ .line = l, .item = { .what = l->what, .as = "", .strength = (double)NAN } };
            m = own;
        }
        m->n_pack = 0;
        m->item.as = "";
        m->item.amount_known = true;
        m->item.shelf = ELSE;
        m->item.dim = x->dim;
        need = x->missing;
    }
    m->n_want++;
    m->n_trimmed += trimmed.known;
    m->item.trimmed_g = trimmed.known ? plus(m->item.trimmed_g, trimmed) : m->item.trimmed_g;
    const struct st_pack *own[ST_SHOP_SIZES];
    const bool part = st_packs_of(w->packs, l->what, w->us, own, ST_SHOP_SIZES) > 0 && own[0]->part && m->n_pack > 0;
    if (part)
        want_part(m, l->what, need);
    else
        m->whole = plus(m->whole, need);
}

/* ---- packs ---- */

static double pick_one(const struct making *m, double need, struct st_shop_item *x)
{
    const struct st_pack *p = m->pack[0];
    const int n = (int)fmin(ceil(need / p->size - SPARE), 1e6);
    if (x) {
        x->buy[0].pack = p;
        x->buy[0].n = n;
        x->n_buy = 1;
    }
    return n * p->size;
}

/* How much is bought for that need; into x, unless it is NULL. */
static double pick(const struct making *m, double need, struct st_shop_item *x)
{
    const struct st_pack *large = m->pack[m->n_pack - 1];
    if (large->how != ST_SOLD_PACK || m->n_pack == 1)
        return pick_one(m, need, x);
    int n = (int)fmin(floor(need / large->size + SPARE), 1e6), k = 0;
    double bought = n * large->size;
    const double rest = need - bought;
    const struct st_pack *last = NULL;
    for (int i = 0; i < m->n_pack && rest > SPARE * large->size && !last; i++)
        if (m->pack[i]->size >= rest * (1.0 - SPARE))
            last = m->pack[i];
    bought += last ? last->size : 0.0;
    if (last == large)
        n++;
    if (!x)
        return bought;
    if (n > 0) {
        x->buy[k].pack = large;
        x->buy[k++].n = n;
    }
    if (last && last != large) {
        x->buy[k].pack = last;
        x->buy[k++].n = 1;
    }
    x->n_buy = k;
    return bought;
}

/* ---- words ---- */

static void measure(char *buf, size_t size, enum st_dimension dim, double x, bool us)
{
    char figure[40];
    if (dim == ST_DIM_MASS && us && x >= 28.3495) {
        const bool lb = x >= 453.0;
        st_plain_figure(figure, sizeof figure, x / (lb ? 453.59237 : 28.349523), lb || x >= 283.4 ? 3 : 2);
        snprintf(buf, size, "%s %s", figure, lb ? "lb" : "oz");
    } else if (dim == ST_DIM_MASS)
        st_grams_words(buf, size, x);
    else if (dim == ST_DIM_VOLUME) {
        st_plain_figure(figure, sizeof figure, x >= 1000.0 ? x * 1e-3 : x, 3);
        snprintf(buf, size, "%s %s", figure, x >= 1000.0 ? "L" : "mL");
    } else {
        st_plain_figure(figure, sizeof figure, x, 2);
        snprintf(buf, size, "%s", figure);
    }
}

static void goods(const struct making *m, bool many, char *buf, size_t size)
{
    const struct st_shop_item *x = &m->item;
    if (*x->as) /* lemons, eggs: how a shop writes them */
        snprintf(buf, size, "%s%s", x->as, many ? "s" : "");
    else
        st_several(x->what, many, buf, size);
    if (!isnan(x->strength)) {
        const size_t n = strlen(buf);
        snprintf(buf + n, size - n, " %.3g %%", x->strength);
    }
}

/* "1 bag of 1 kg and 1 bag of 500 g"; "1.2 kg"; "3". */
static void packs_words(const struct st_shop_item *x, bool us, char *buf, size_t size)
{
    size_t n = 0;
    buf[0] = '\0';
    if (x->buy[0].pack->how != ST_SOLD_PACK) {
        measure(buf, size, x->dim, x->bought, us);
        return;
    }
    for (int i = 0; i < x->n_buy && n < size; i++)
        n += (size_t)snprintf(buf + n, size - n, "%s%d %s%s of %s", i ? " and " : "", x->buy[i].n, x->buy[i].pack->word,
                              x->buy[i].n == 1                           ? ""
                              : strcmp(x->buy[i].pack->word, "box") == 0 ? "es"
                                                                         : "s",
                              x->buy[i].pack->said);
}

static void say_as_measured(const struct making *m, const struct list *w, struct st_shop_item *x)
{
    char name[100], text[80];
    goods(m, false, name, sizeof name);
    if (!x->amount_known) {
        snprintf(x->text, sizeof x->text, "%.90s, as much as it takes", name);
        return;
    }
    struct st_amount a = m->line->amount;
    if (a.dim != x->dim || a.open != ST_CLOSED)
        a = (struct st_amount){ .dim = x->dim, .fills = 1.0 };
    a.heaped = a.scant = false;
    a.value = a.low = a.high = x->needed.value;
    st_quantity_print(&a, w->r->measures, text, sizeof text);
    snprintf(x->text, sizeof x->text, "%.60s %.90s, as the recipe measures it", text, name);
}

static void say(const struct making *m, const struct list *w, struct st_shop_item *x)
{
    char packs[120], name[100], need[60], trimmed[60], left[60], sure[60];
    if (x->n_buy == 0) {
        say_as_measured(m, w, x);
        return;
    }
    const struct st_pack *p = x->buy[0].pack;
    const bool whole = p->how != ST_SOLD_PACK;
    packs_words(x, w->us, packs, sizeof packs);
    const bool counted = p->dim == ST_DIM_PIECE; /* a box of 6 eggs */
    goods(m, (whole && p->how == ST_SOLD_LOOSE) || ((whole || counted) && x->bought > 1.0), name, sizeof name);
    measure(need, sizeof need, x->dim, x->needed.value, w->us);
    measure(trimmed, sizeof trimmed, ST_DIM_MASS, x->trimmed_g.value, w->us);
    measure(left, sizeof left, x->dim, x->over.value, w->us);
    measure(sure, sizeof sure, x->dim, x->surely, w->us);
    int n = snprintf(x->text, sizeof x->text, "%.100s %.80s%s", packs, name, p->gross ? " as bought" : "");
    const bool exact = whole && x->over.value <= 0.01 * x->bought; /* bought is what is needed: said already */
    if (x->trimmed_g.known)
        n += snprintf(x->text + n, sizeof x->text - (size_t)n, " (for %.40s trimmed)", trimmed);
    else if (!exact)
        n += snprintf(x->text + n, sizeof x->text - (size_t)n, ", %.40s needed", need);
    if (*m->used_for)
        n += snprintf(x->text + n, sizeof x->text - (size_t)n, " for %.80s", m->used_for);
    if (x->over.value > 0.01 * x->bought && (x->dim != ST_DIM_PIECE || x->over.value >= 1.0))
        n += snprintf(x->text + n, sizeof x->text - (size_t)n, "; %.30s left over", left);
    if (x->surely > 0.0)
        snprintf(x->text + n, sizeof x->text - (size_t)n, "; to be sure %.30s", sure);
}

/* ---- the whole ---- */

static void finish(struct making *m, const struct list *w)
{
    struct st_shop_item *x = &m->item;
    struct st_range part = { .known = false };
    for (int i = 0; i < m->n_part; i++)
        part = most(part, m->part[i].need);
    x->needed = plus(m->whole, part);
    x->trimmed_g.known = m->n_trimmed > 0 && m->n_trimmed == m->n_want;
    if (x->amount_known && m->n_pack > 0 && x->needed.value > 0.0) {
        x->bought = pick(m, x->needed.value, x);
        x->over = (struct st_range){
            x->bought - x->needed.value, fmax(x->bought - x->needed.high, 0.0), x->bought - x->needed.low, true, 'c', ""
        };
        const double sure = pick(m, x->needed.high, NULL);
        x->surely = sure > x->bought * (1.0 + SPARE) ? sure : 0.0;
    }
    say(m, w, x);
}

/* Where a shelf stands in the sheet; what nobody says how it is sold comes last. */
static int shelf_at(const struct st_packs *packs, const struct st_shop_item *x)
{
    for (int i = 0; x->n_buy > 0 && i < packs->n; i++)
        if (strcmp(packs->pack[i].shelf, x->shelf) == 0)
            return i;
    return packs->n;
}

void st_shopping_make(const struct st_recipe *r, const struct st_reach *x, const struct st_packs *packs, bool us,
                      struct st_shopping *out)
{
    struct list w = { .r = r, .packs = packs, .us = us };
    *out = (struct st_shopping){ .stop = st_recipe_stop(r) };
    if (out->stop)
        return;
    for (int i = 0; i < x->n_line; i++)
        want(&w, &r->step[x->line[i].step].line[x->line[i].line], &x->line[i]);
    out->item = x_calloc((size_t)w.n + 1, sizeof *out->item);
    for (int i = 0; i < w.n; i++) {
        finish(&w.of[i], &w);
        int k = out->n++;
        for (; k > 0 && shelf_at(packs, &out->item[k - 1]) > shelf_at(packs, &w.of[i].item); k--)
            out->item[k] = out->item[k - 1];
        out->item[k] = w.of[i].item;
    }
    free(w.of);
}

void st_shopping_done(struct st_shopping *x)
{
    free(x->item);
    *x = (struct st_shopping){ 0 };
}

void st_shopping_print(const struct st_shopping *x, struct st_buf *out)
{
    const char *shelf = "";
    if (x->stop) {
        st_buf_printf(out, "No list: %s must not go into a drink.\n", x->stop->name);
        return;
    }
    if (x->n == 0)
        st_buf_add(out, "Nothing to buy.\n");
    for (int i = 0; i < x->n; i++) {
        if (strcmp(shelf, x->item[i].shelf) != 0) {
            shelf = x->item[i].shelf;
            st_buf_printf(out, "%c%s\n", *shelf >= 'a' && *shelf <= 'z' ? *shelf - 'a' + 'A' : *shelf, shelf + 1);
        }
        st_buf_printf(out, "  %s\n", x->item[i].text);
    }
}
