#include "try_match.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/line_goods.h"
#include "util/memory.h"

/* Two things that may be the same, and how badly they fit. */
struct may {
    int a, b;
    double off;
};

struct mays {
    struct may *list;
    size_t n, room;
};

static void add(struct mays *all, int a, int b, double off)
{
    if (all->n == all->room) {
        all->room = all->room ? 2 * all->room : 64;
        all->list = x_realloc_array(all->list, all->room, sizeof *all->list);
    }
    all->list[all->n++] = (struct may){ a, b, off };
}

/* Best first; what fits alike by its place, so that the order of the two recipes does not matter. */
static int by_fit(const void *p, const void *q)
{
    const struct may *x = p, *y = q;
    if (x->off < y->off || x->off > y->off)
        return x->off < y->off ? -1 : 1;
    const int apart = abs(x->a - x->b) - abs(y->a - y->b);
    if (apart)
        return apart;
    const int least = (x->a < x->b ? x->a : x->b) - (y->a < y->b ? y->a : y->b);
    return least ? least : x->a - y->a;
}

/* Give each its best that is still free, then forget the list. */
static void settle(struct mays *all, int *of_a, int *of_b)
{
    if (all->n > 1)
        qsort(all->list, all->n, sizeof *all->list, by_fit);
    for (size_t i = 0; i < all->n; i++) {
        const struct may *x = &all->list[i];
        if (of_a[x->a] >= 0 || of_b[x->b] >= 0)
            continue;
        of_a[x->a] = x->b;
        of_b[x->b] = x->a;
    }
    all->n = 0;
}

/* ---- steps ---- */

static int things(const struct st_step *s)
{
    int n = 0;
    for (int i = 0; i < s->n_line; i++)
        n += s->line[i].what != NULL;
    return n;
}

static bool holds(const struct st_step *s, const struct st_ingredient *what)
{
    for (int i = 0; i < s->n_line; i++)
        if (s->line[i].what && strcmp(s->line[i].what->slug, what->slug) == 0)
            return true;
    return false;
}

/* Share of the lines that are of something the other has too; 1 when neither has any. */
static double common(const struct st_step *s, const struct st_step *t)
{
    const int n = things(s), k = things(t);
    int both = 0;
    for (int i = 0; i < s->n_line; i++)
        both += s->line[i].what && holds(t, s->line[i].what);
    for (int i = 0; i < t->n_line; i++)
        both += t->line[i].what && holds(s, t->line[i].what);
    return n + k > 0 ? (double)both / (n + k) : 1.0;
}

static void match_steps(struct st_try_match *m, struct mays *all)
{
    const struct st_recipe *a = m->recipe[0], *b = m->recipe[1];
    for (int i = 0; i < a->n_step; i++)
        for (int k = 0; k < b->n_step; k++) {
            const struct st_step *s = &a->step[i], *t = &b->step[k];
            const bool named = strcmp(s->id, t->id) == 0, kind = s->kind == t->kind;
            const double share = common(s, t);
            if (kind ? !named && !(share > 0.0) : !named || !(share > 0.0) || things(s) == 0)
                continue;
            const double along = fabs((double)i / a->n_step - (double)k / b->n_step);
            add(all, i, k, along - (named ? 4.0 : 0.0) - (kind ? 2.0 : 0.0) - 6.0 * share);
        }
    settle(all, m->step_of[0], m->step_of[1]);
    for (int i = 0, last = -1; i < a->n_step; i++) {
        const int k = m->step_of[0][i];
        m->order = m->order || (k >= 0 && k < last);
        last = k > last ? k : last;
    }
}

/* ---- lines ---- */

static double off_amount(const struct st_amount *x, const struct st_amount *y)
{
    if (x->dim != y->dim || x->open != y->open)
        return 10.0;
    if (!(x->value > 0.0) || !(y->value > 0.0))
        return x->value > 0.0 || y->value > 0.0 ? 5.0 : 0.0;
    return fmin(fabs(log(x->value / y->value)), 5.0);
}

static double off_line(const struct st_line *x, const struct st_line *y)
{
    const bool strength = x->strength.known && y->strength.known;
    return off_amount(&x->amount, &y->amount) + (strcmp(x->text, y->text) ? 0.01 : 0.0) +
           (strength ? 0.02 * fabs(x->strength.value - y->strength.value) : 0.0);
}

static bool same_thing(const struct st_try_match *m, const struct st_line *x, const struct st_line *y)
{
    if (x->what && y->what)
        return strcmp(x->what->slug, y->what->slug) == 0;
    return !x->what && !y->what && x->from_step >= 0 && y->from_step >= 0 && x->part == y->part &&
           m->step_of[0][x->from_step] == y->from_step;
}

static bool is_fruit(enum st_kind k)
{
    return k == ST_KIND_FRESH_FRUIT || k == ST_KIND_FROZEN_FRUIT || k == ST_KIND_TINNED_FRUIT ||
           k == ST_KIND_DRIED_FRUIT;
}

/* One thing that may be taken for another. */
static bool alike(const struct st_line *x, const struct st_line *y)
{
    if (!x->what || !y->what)
        return false;
    const enum st_goods g = st_line_goods(x), h = st_line_goods(y);
    return (x->what->kind == ST_KIND_SPIRIT && y->what->kind == ST_KIND_SPIRIT) ||
           (g == ST_GOODS_SWEET && h == ST_GOODS_SWEET) || (is_fruit(x->what->kind) && is_fruit(y->what->kind));
}

const struct st_line *st_try_line(const struct st_try_match *m, int side, int number)
{
    const int s = m->home[side][number];
    return &m->recipe[side]->step[s].line[number - m->first[side][s]];
}

/* Lines of matched steps that are free: of the same thing, or of one that may stand for it. */
static void match_inside(struct st_try_match *m, struct mays *all, bool instead)
{
    for (int i = 0; i < m->recipe[0]->n_step; i++) {
        const int k = m->step_of[0][i];
        if (k < 0)
            continue;
        const struct st_step *s = &m->recipe[0]->step[i], *t = &m->recipe[1]->step[k];
        for (int x = 0; x < s->n_line; x++)
            for (int y = 0; y < t->n_line; y++) {
                const int p = m->first[0][i] + x, q = m->first[1][k] + y;
                if (m->line_of[0][p] >= 0 || m->line_of[1][q] >= 0)
                    continue;
                if (instead ? alike(&s->line[x], &t->line[y]) : same_thing(m, &s->line[x], &t->line[y])) {
                    add(all, p, q, off_line(&s->line[x], &t->line[y]));
                    m->instead[0][p] = m->instead[1][q] = instead;
                }
            }
    }
    settle(all, m->line_of[0], m->line_of[1]);
}

/* Lines of one thing that now stand elsewhere. */
static void match_moved(struct st_try_match *m, struct mays *all)
{
    for (int p = 0; p < m->n_line[0]; p++)
        for (int q = 0; q < m->n_line[1] && m->line_of[0][p] < 0; q++) {
            const struct st_line *x = st_try_line(m, 0, p), *y = st_try_line(m, 1, q);
            if (m->line_of[1][q] < 0 && x->what && y->what && same_thing(m, x, y))
                add(all, p, q, off_line(x, y));
        }
    settle(all, m->line_of[0], m->line_of[1]);
}

static int *none(int n)
{
    int *x = x_calloc((size_t)n + 1, sizeof *x);
    for (int i = 0; i < n; i++)
        x[i] = -1;
    return x;
}

static void number(struct st_try_match *m, int side)
{
    const struct st_recipe *r = m->recipe[side];
    int n = 0;
    m->first[side] = none(r->n_step);
    for (int i = 0; i < r->n_step; i++) {
        m->first[side][i] = n;
        n += r->step[i].n_line;
    }
    m->n_line[side] = n;
    m->home[side] = none(n);
    for (int i = 0; i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++)
            m->home[side][m->first[side][i] + k] = i;
    m->step_of[side] = none(r->n_step);
    m->line_of[side] = none(n);
    m->instead[side] = x_calloc((size_t)n + 1, sizeof *m->instead[side]);
}

void st_try_match(const struct st_recipe *a, const struct st_recipe *b, struct st_try_match *m)
{
    struct mays all = { 0 };
    *m = (struct st_try_match){ .recipe = { a, b } };
    number(m, 0);
    number(m, 1);
    match_steps(m, &all);
    match_inside(m, &all, false);
    match_moved(m, &all);
    match_inside(m, &all, true);
    for (int side = 0; side < 2; side++)
        for (int i = 0; i < m->n_line[side]; i++)
            m->instead[side][i] = m->instead[side][i] && m->line_of[side][i] >= 0;
    free(all.list);
}

void st_try_match_done(struct st_try_match *m)
{
    for (int side = 0; side < 2; side++) {
        free(m->step_of[side]);
        free(m->first[side]);
        free(m->home[side]);
        free(m->line_of[side]);
        free(m->instead[side]);
    }
    *m = (struct st_try_match){ 0 };
}
