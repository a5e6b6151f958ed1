#include "drink_class.h"

#include <math.h>
#include <string.h>

#include "line_goods.h"

static enum st_truth worse(enum st_truth a, enum st_truth b)
{
    return a < b ? a : b;
}

/* ---- what went in ---- */

/* Calls for each line whose matter the drink takes. */
struct each {
    const struct st_recipe *r;
    int step, line;
};

static const struct st_line *next_line(struct each *e)
{
    for (; e->step < e->r->n_step; e->step++, e->line = 0) {
        if (!st_step_reaches(e->r, e->step))
            continue;
        while (e->line < e->r->step[e->step].n_line) {
            const struct st_line *l = &e->r->step[e->step].line[e->line++];
            if (l->what)
                return l;
        }
    }
    return NULL;
}

static bool brings_alcohol(enum st_goods g)
{
    return g == ST_GOODS_SPIRIT || g == ST_GOODS_TASTY || g == ST_GOODS_FERMENTED;
}

enum st_truth st_class_base(const struct st_recipe *r)
{
    struct each e = { r, 0, 0 };
    bool spirit = false, fermented = false;
    for (const struct st_line *l; (l = next_line(&e)) != NULL;) {
        const enum st_goods g = st_line_goods(l);
        fermented = fermented || g == ST_GOODS_FERMENTED || l->what->alcohol == ST_ALCOHOL_PARTLY;
        spirit = spirit || g == ST_GOODS_SPIRIT || g == ST_GOODS_TASTY;
    }
    return !spirit ? ST_NO : fermented ? ST_UNDECIDED : ST_YES;
}

/* One of the words of the list stands in the maker's words or is the key. */
static bool is_of(const struct st_line *l, const char *list)
{
    char word[64];
    for (const char *p = list; *p;) {
        const size_t n = strcspn(p, ",");
        if (n > 0 && n < sizeof word) {
            memcpy(word, p, n);
            word[n] = '\0';
            if (strcmp(word, l->what->slug) == 0 || (l->text && st_has_word(l->text, word)))
                return true;
        }
        p += n + (p[n] == ',');
    }
    return false;
}

/* The next word of a list that ',' parts, cut to size, into slug; NULL at its end. */
static const char *next_slug(const char *p, char slug[80])
{
    p += strspn(p, ",");
    const size_t n = strcspn(p, ","), kept = n < 80 ? n : 79;
    memcpy(slug, p, kept);
    slug[kept] = '\0';
    return n ? p + n : NULL;
}

/* Whether one of these went into a drink that was made before. */
static bool is_made_of(const struct st_ingredient *in, const char *list)
{
    char slug[80];
    for (const char *p = list; in->made_of && p && (p = next_slug(p, slug)) != NULL;)
        if (st_in_list(in->made_of, ',', slug))
            return true;
    return false;
}

static enum st_truth base_of(const struct st_recipe *r, const struct st_class_need *n)
{
    struct each e = { r, 0, 0 };
    enum st_truth t = ST_YES;
    bool any = false;
    for (const struct st_line *l; (l = next_line(&e)) != NULL;) {
        if (!brings_alcohol(st_line_goods(l)))
            continue;
        any = true;
        if (!is_of(l, n->list))
            t = worse(t, st_in_list(n->maybe, ',', l->what->slug) || is_made_of(l->what, n->list) ||
                                 is_made_of(l->what, n->maybe)
                             ? ST_UNDECIDED
                             : ST_NO);
    }
    return any ? t : ST_NO;
}

static enum st_truth with(const struct st_recipe *r, const struct st_class_need *n)
{
    struct each e = { r, 0, 0 };
    enum st_truth t = ST_NO;
    for (const struct st_line *l; (l = next_line(&e)) != NULL;)
        if (st_in_list(n->list, ',', l->what->slug) || is_made_of(l->what, n->list))
            return ST_YES;
        else if (st_in_list(n->maybe, ',', l->what->slug) || is_made_of(l->what, n->maybe))
            t = ST_UNDECIDED;
    return t;
}

/* Whether a drink that was made before has its taste of something that the need does not name. */
static bool tastes_of_more(const struct st_ingredient *in, const struct st_class_need *n)
{
    char slug[80];
    for (const char *p = in->tastes; p && (p = next_slug(p, slug)) != NULL;)
        if (!st_in_list(n->list, ',', slug) && !st_in_list(n->maybe, ',', slug))
            return true;
    return false;
}

/* A spirit with a taste of its own may flavour: nobody knows from here; a drink that was made before tastes of what went into it. */
static enum st_truth only(const struct st_recipe *r, const struct st_class_need *n)
{
    struct each e = { r, 0, 0 };
    enum st_truth t = ST_YES;
    bool any = false;
    for (const struct st_line *l; (l = next_line(&e)) != NULL;) {
        const enum st_goods g = st_line_goods(l);
        if (tastes_of_more(l->what, n))
            return ST_NO;
        any = any || is_made_of(l->what, n->list);
        if (g == ST_GOODS_FLAVOUR && st_in_list(n->list, ',', l->what->slug))
            any = true;
        else if ((g == ST_GOODS_TASTY || g == ST_GOODS_FLAVOUR) && l->what->made_of && *l->what->made_of &&
                 !l->what->tastes_else)
            continue; /* what went into it is known, all of it */
        else if (g == ST_GOODS_FLAVOUR && !st_in_list(n->maybe, ',', l->what->slug))
            return ST_NO;
        else if (g == ST_GOODS_FLAVOUR || g == ST_GOODS_TASTY || g == ST_GOODS_FERMENTED)
            t = ST_UNDECIDED;
    }
    return any ? t : worse(t, t == ST_YES ? ST_NO : ST_UNDECIDED);
}

static bool holds_kind(const struct st_ingredient *in, const char *list)
{
    for (int k = 0; k < ST_NKIND; k++)
        if ((in->made_kinds >> k & 1) && st_in_list(list, ',', st_kind_name((enum st_kind)k)))
            return true;
    return false;
}

static enum st_truth without(const struct st_recipe *r, const struct st_class_need *n)
{
    struct each e = { r, 0, 0 };
    enum st_truth t = ST_YES;
    for (const struct st_line *l; (l = next_line(&e)) != NULL;)
        if (st_in_list(n->list, ',', st_kind_name(l->what->kind)) || holds_kind(l->what, n->list))
            return ST_NO;
        else if (st_in_list(n->maybe, ',', l->what->slug))
            t = ST_UNDECIDED;
    return t;
}

static enum st_truth flavoured(const struct st_recipe *r)
{
    struct each e = { r, 0, 0 };
    enum st_truth t = ST_NO;
    for (const struct st_line *l; (l = next_line(&e)) != NULL;) {
        const enum st_goods g = st_line_goods(l);
        if (g == ST_GOODS_FLAVOUR || g == ST_GOODS_RICH || l->what->tastes ||
            (l->what->made_kinds & (UINT64_C(1) << ST_KIND_DAIRY | UINT64_C(1) << ST_KIND_EGG)))
            return ST_YES;
        if (g == ST_GOODS_TASTY || g == ST_GOODS_FERMENTED)
            t = ST_UNDECIDED;
    }
    return t;
}

static enum st_truth need_met(const struct st_recipe *r, const struct st_class_need *n)
{
    switch (n->kind) {
    case ST_NEED_BASE: return base_of(r, n);
    case ST_NEED_WITH: return with(r, n);
    case ST_NEED_ONLY: return only(r, n);
    case ST_NEED_WITHOUT: return without(r, n);
    case ST_NEED_FLAVOURED: return flavoured(r);
    case ST_NNEED: break;
    }
    return ST_UNDECIDED;
}

/* ---- figures ---- */

static void hold(struct st_class_verdict *v, enum st_class_figure of, double limit, const struct st_interval *is)
{
    if (!isfinite(limit))
        return;
    struct st_class_gap *g = &v->gap[v->n_gap++];
    const bool most = of == ST_CLASS_MOST_INVERT;
    *g = (struct st_class_gap){ of, ST_UNDECIDED, limit, *is, (double)NAN, (double)NAN };
    if (is->known) {
        g->lacks = most ? is->value - limit : limit - is->value;
        g->lacks_sure = most ? is->high - limit : limit - is->low;
        const double at_best = most ? is->low - limit : limit - is->high;
        g->truth = g->lacks_sure <= 0.0 ? ST_YES : at_best > 0.0 ? ST_NO : ST_UNDECIDED;
    }
    v->figures = worse(v->figures, g->truth);
}

void st_class_judge(const struct st_class_row *row, const struct st_class_facts *facts, struct st_class_verdict *out)
{
    *out = (struct st_class_verdict){ .row = row, .needs = ST_YES, .figures = ST_YES };
    out->base = st_class_base(facts->recipe);
    for (int i = 0; i < row->n_need; i++) {
        out->need[i] = need_met(facts->recipe, &row->need[i]);
        out->needs = worse(out->needs, out->need[i]);
    }
    hold(out, ST_CLASS_STRENGTH, row->strength, &facts->strength);
    hold(out, ST_CLASS_INVERT, row->invert, &facts->invert);
    hold(out, ST_CLASS_MOST_INVERT, row->most_invert, &facts->invert);
    hold(out, ST_CLASS_MASS_PCT, row->mass_pct, &facts->mass_pct);
    hold(out, ST_CLASS_YOLK, row->yolk, &facts->yolk);
    out->truth = worse(worse(out->base, out->needs), out->figures);
    if (row->ask[0])
        out->truth = worse(out->truth, ST_UNDECIDED);
}

int st_classes_judge(const struct st_classes *all, const struct st_class_facts *facts, unsigned places,
                     struct st_class_verdict out[], int max)
{
    int n = 0;
    for (int i = 0; i < all->n && n < max; i++)
        if (all->row[i].places & places)
            st_class_judge(&all->row[i], facts, &out[n++]);
    return n;
}

/* ---- facts ---- */

/* g/L over kg/m3 is a share; the ends as if both were at their worst. */
static struct st_interval per_hundred(const struct st_interval *g_l, const struct st_interval *rho)
{
    struct st_interval r = { .status = g_l->status };
    if (!g_l->known || !rho->known || !(rho->low > 0.0))
        return r;
    r.value = 100.0 * g_l->value / rho->value;
    r.low = 100.0 * g_l->low / rho->high;
    r.high = 100.0 * g_l->high / rho->low;
    r.known = true;
    return r;
}

static struct st_interval yolk_of(const struct st_recipe *r, const struct st_interval *ml)
{
    struct each e = { r, 0, 0 };
    struct st_interval g = { .known = ml->known && ml->low > 0.0 && st_recipe_takes_all(r) };
    for (const struct st_line *l; (l = next_line(&e)) != NULL;) {
        if (l->what->kind != ST_KIND_EGG || strcmp(l->what->slug, "egg_white") == 0)
            continue;
        const struct st_range x = st_line_grams(l);
        if (strcmp(l->what->slug, "egg_yolk") != 0 || !x.known) {
            g.known = false;
            continue;
        }
        g.value += x.value;
        g.low += x.low;
        g.high += x.high;
    }
    if (g.known) {
        g.value *= 1000.0 / ml->value;
        g.low *= 1000.0 / ml->high;
        g.high *= 1000.0 / ml->low;
    }
    return g;
}

void st_class_facts_of(const struct st_recipe *r, const struct st_foretold *f, struct st_class_facts *out)
{
    *out = (struct st_class_facts){ .recipe = r };
    if (!f)
        return;
    out->strength = f->fig[ST_FIG_STRENGTH];
    out->invert = f->fig[ST_FIG_SUGAR_INVERT];
    out->mass_pct = per_hundred(&f->fig[ST_FIG_SUGAR], &f->fig[ST_FIG_DENSITY]);
    out->yolk = yolk_of(r, &f->fig[ST_FIG_VOLUME]);
}
