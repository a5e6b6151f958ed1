#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cut_words.h"
#include "try_inside.h"
#include "util/memory.h"

/* What is not the same in two recipes whose steps and lines are matched. */

bool st_try_near(double x, double y)
{
    if (isnan(x) || isnan(y))
        return isnan(x) && isnan(y);
    return fabs(x - y) <= 1e-9 * fmax(fabs(x), fabs(y));
}

static bool same_range(struct st_range x, struct st_range y)
{
    if (!x.known || !y.known)
        return x.known == y.known;
    return st_try_near(x.value, y.value) && st_try_near(x.low, y.low) && st_try_near(x.high, y.high);
}

static bool same_words(const char *x, const char *y)
{
    return strcmp(x ? x : "", y ? y : "") == 0;
}

/* ---- amounts ---- */

static bool is_range(const struct st_amount *a)
{
    return a->low < a->high;
}

static bool same_amount(const struct st_amount *x, const struct st_amount *y)
{
    if (x->dim != y->dim || x->open != y->open || x->make_up_to != y->make_up_to || is_range(x) != is_range(y) ||
        x->heaped != y->heaped || x->scant != y->scant)
        return false;
    if (is_range(x) && (!st_try_near(x->low, y->low) || !st_try_near(x->high, y->high)))
        return false;
    if (x->open == ST_OPEN_FILL && !st_try_near(x->fill_share, y->fill_share))
        return false;
    return st_try_near(x->value, y->value);
}

static bool same_tool(const struct st_amount *x, const struct st_amount *y)
{
    return x->tool == y->tool && st_try_near(x->fills, y->fills);
}

static struct st_range strength_of(const struct st_line *l)
{
    return l->strength.known || !l->what ? l->strength : l->what->strength;
}

static bool same_trimming(const struct st_line *x, const struct st_line *y)
{
    return x->gross == y->gross && x->weighing_unsaid == y->weighing_unsaid &&
           same_range(x->trimmed_share, y->trimmed_share);
}

bool st_try_price_follows(const struct st_line *x, const struct st_line *y)
{
    const struct st_amount *a = &x->amount, *b = &y->amount;
    return a->dim == b->dim && a->open == ST_CLOSED && b->open == ST_CLOSED && a->value > 0.0 && b->value > 0.0;
}

static bool same_price(const struct st_line *x, const struct st_line *y)
{
    if (st_try_price_follows(x, y))
        return st_try_near(x->price / x->amount.value, y->price / y->amount.value);
    return st_try_near(x->price, y->price);
}

/* ---- what an ingredient is, where a recipe may say otherwise ---- */

static bool same_flags(const struct st_flag *x, int n, const struct st_flag *y, int k)
{
    if (n != k)
        return false;
    for (int i = 0; i < n; i++)
        if (!same_words(x[i].what, y[i].what) || !same_words(x[i].degree, y[i].degree) ||
            !same_words(x[i].text, y[i].text))
            return false;
    return true;
}

static bool same_ingredient(const struct st_ingredient *x, const struct st_ingredient *y)
{
    if (x == y)
        return true;
    const struct st_range of_x[] = { x->sugars, x->strength, x->density,   x->extract_share, x->cup, x->tbsp,  x->tsp,
                                     x->piece,  x->edible,   x->retention, x->sweetness,     x->oil, x->energy };
    const struct st_range of_y[] = { y->sugars, y->strength, y->density,   y->extract_share, y->cup, y->tbsp,  y->tsp,
                                     y->piece,  y->edible,   y->retention, y->sweetness,     y->oil, y->energy };
    for (size_t i = 0; i < sizeof of_x / sizeof *of_x; i++)
        if (!same_range(of_x[i], of_y[i]))
            return false;
    for (int c = 0; c < ST_NCOMP; c++)
        if (!same_range(x->part[c], y->part[c]))
            return false;
    return x->kind == y->kind && same_flags(x->allergen, x->n_allergen, y->allergen, y->n_allergen) &&
           same_flags(x->caution, x->n_caution, y->caution, y->n_caution);
}

/* ---- the list ---- */

static struct st_try_change *put(struct st_try_changes *c, enum st_try_what what, int step_a, int step_b)
{
    c->change = x_realloc_array(c->change, (size_t)c->n + 1, sizeof *c->change);
    struct st_try_change *x = &c->change[c->n++];
    *x = (struct st_try_change){ .what = what, .step = { step_a, step_b }, .line = { -1, -1 } };
    for (int f = 0; f < ST_NFIG; f++)
        x->y[f] = (double)NAN;
    c->n_wording += st_try_is_wording(what);
    return x;
}

static void put_line(struct st_try_changes *c, enum st_try_what what, int p, int q)
{
    const struct st_try_match *m = c->match;
    struct st_try_change *x = put(c, what, p < 0 ? -1 : m->home[0][p], q < 0 ? -1 : m->home[1][q]);
    x->line[0] = p < 0 ? -1 : p - m->first[0][x->step[0]];
    x->line[1] = q < 0 ? -1 : q - m->first[1][x->step[1]];
    /* what a step takes from another, and what stands in a step that the other recipe does not have */
    const struct st_line *l = p >= 0 ? st_try_line(m, 0, p) : st_try_line(m, 1, q);
    const bool loose = (p >= 0 && m->step_of[0][x->step[0]] < 0) || (q >= 0 && m->step_of[1][x->step[1]] < 0);
    x->whole = ((what == ST_TRY_ADDED || what == ST_TRY_LEFT_OUT) && !l->what) || (what == ST_TRY_MOVED && loose);
}

static bool said_before(const struct st_try_changes *c, const char *slug)
{
    for (int i = 0; i < c->n; i++) {
        const struct st_try_change *x = &c->change[i];
        const struct st_line *l = x->what == ST_TRY_FIGURES ? st_try_line_of(c, x, 0) : NULL;
        if (l && strcmp(l->what->slug, slug) == 0)
            return true;
    }
    return false;
}

static bool same_cut(const struct st_try_match *m, int p, int q)
{
    bool said;
    const int i = m->home[0][p], k = m->home[1][q];
    return st_cut_of_line(m->recipe[0], i, p - m->first[0][i], &said) ==
           st_cut_of_line(m->recipe[1], k, q - m->first[1][k], &said);
}

static void compare_things(struct st_try_changes *c, int p, int q, const struct st_line *x, const struct st_line *y)
{
    if (!same_ingredient(x->what, y->what) && !said_before(c, x->what->slug))
        put_line(c, ST_TRY_FIGURES, p, q);
    if (!same_range(strength_of(x), strength_of(y)) && !(same_range(x->strength, y->strength)))
        put_line(c, ST_TRY_STRENGTH, p, q);
    if (!same_trimming(x, y))
        put_line(c, ST_TRY_TRIMMED, p, q);
    if (!same_cut(c->match, p, q))
        put_line(c, ST_TRY_CUT, p, q);
}

static void compare_lines(struct st_try_changes *c, int p, int q)
{
    const struct st_try_match *m = c->match;
    const struct st_line *x = st_try_line(m, 0, p), *y = st_try_line(m, 1, q);
    const int before = c->n;
    if (m->step_of[0][m->home[0][p]] != m->home[1][q])
        put_line(c, ST_TRY_MOVED, p, q);
    if (m->instead[0][p]) {
        put_line(c, ST_TRY_INSTEAD, p, q);
        return;
    }
    if (!same_amount(&x->amount, &y->amount))
        put_line(c, ST_TRY_AMOUNT, p, q);
    else if (!same_tool(&x->amount, &y->amount))
        put_line(c, ST_TRY_MEASURED, p, q);
    if (x->what && y->what)
        compare_things(c, p, q, x, y);
    if (!same_range(x->temperature_K, y->temperature_K))
        put_line(c, ST_TRY_WARM, p, q);
    if (!same_price(x, y))
        put_line(c, ST_TRY_PRICE, p, q);
    if (c->n == before && x->what && !same_words(x->text, y->text))
        put_line(c, ST_TRY_SAID, p, q);
}

/* A line without a partner; in a step without a partner it is told with the step. */
static void lone_line(struct st_try_changes *c, int side, int number)
{
    if (c->match->step_of[side][c->match->home[side][number]] < 0)
        return;
    put_line(c, side == 0 ? ST_TRY_LEFT_OUT : ST_TRY_ADDED, side == 0 ? number : -1, side == 0 ? -1 : number);
}

/* ---- steps ---- */

static bool same_warmth(const struct st_step *s, const struct st_step *t)
{
    if (!same_range(s->temperature_K, t->temperature_K) || s->n_warm != t->n_warm)
        return false;
    for (int i = 0; i < s->n_warm; i++)
        if (!st_try_near(s->warm[i].T_K, t->warm[i].T_K) || !st_try_near(s->warm[i].time_s, t->warm[i].time_s))
            return false;
    return true;
}

/* Lines stand in another order, and that matters: one fills up what is there, or is left open. */
static bool order_matters(const struct st_try_match *m, int i, int k)
{
    const struct st_step *s = &m->recipe[0]->step[i];
    bool open = false, turned = false;
    for (int x = 0, last = -1; x < s->n_line; x++) {
        const struct st_line *l = &s->line[x];
        const int q = m->line_of[0][m->first[0][i] + x];
        open = open || l->amount.make_up_to || (l->what && l->amount.open != ST_CLOSED);
        if (q < 0 || m->home[1][q] != k)
            continue;
        turned = turned || q < last;
        last = q > last ? q : last;
    }
    return open && turned;
}

static void compare_steps(struct st_try_changes *c, int i, int k)
{
    const struct st_step *s = &c->recipe[0]->step[i], *t = &c->recipe[1]->step[k];
    const struct {
        enum st_try_what what;
        bool same;
    } ASKED[] = {
        { ST_TRY_NAME, same_words(s->id, t->id) },
        { ST_TRY_KIND, s->kind == t->kind },
        { ST_TRY_TIME, same_amount(&s->time, &t->time) },
        { ST_TRY_TEMPERATURE, same_warmth(s, t) },
        { ST_TRY_PRESS, s->press == t->press && same_range(s->press_share, t->press_share) },
        { ST_TRY_DRAINED, same_range(s->drained_solids_g, t->drained_solids_g) },
        { ST_TRY_EXCHANGED, same_range(s->exchanged, t->exchanged) },
        { ST_TRY_BOIL, same_range(s->boil_off_g, t->boil_off_g) && same_amount(&s->boil_down_to, &t->boil_down_to) },
        { ST_TRY_LOSS, same_range(s->loss_share, t->loss_share) && same_range(s->loss_ml, t->loss_ml) },
        { ST_TRY_VESSEL, st_try_near(s->vessel_ml, t->vessel_ml) },
        { ST_TRY_BOTTLE, st_try_near(s->bottle_ml, t->bottle_ml) && s->bottles == t->bottles },
        { ST_TRY_WORDS, same_words(s->words, t->words) },
    };
    for (size_t n = 0; n < sizeof ASKED / sizeof *ASKED; n++)
        if (!ASKED[n].same)
            put(c, ASKED[n].what, i, k);
    if (order_matters(c->match, i, k))
        put(c, ST_TRY_ORDER, i, k)->whole = true;
}

/* ---- the recipe ---- */

static bool same_tools(const struct st_tools *x, const struct st_tools *y)
{
    for (int i = 0; i < ST_NTOOL; i++) {
        const struct st_tolerance *p = &x->of[i], *q = &y->of[i];
        if (x->given[i] != y->given[i])
            return false;
        if (x->given[i] &&
            (!st_try_near(p->scale, q->scale) || !st_try_near(p->fill, q->fill) || !st_try_near(p->step, q->step)))
            return false;
    }
    return st_try_near(x->scale_digit_g, y->scale_digit_g);
}

static bool same_wish(const struct st_recipe *a, const struct st_recipe *b)
{
    if (a->wish.has_strength != b->wish.has_strength || a->wish.has_sugar != b->wish.has_sugar)
        return false;
    return (!a->wish.has_strength || (st_try_near(a->wish.strength_low, b->wish.strength_low) &&
                                      st_try_near(a->wish.strength_high, b->wish.strength_high))) &&
           (!a->wish.has_sugar ||
            (st_try_near(a->wish.sugar_low, b->wish.sugar_low) && st_try_near(a->wish.sugar_high, b->wish.sugar_high)));
}

static bool same_assays(const struct st_recipe *a, const struct st_recipe *b)
{
    if (a->n_assay != b->n_assay)
        return false;
    for (int i = 0; i < a->n_assay; i++) {
        const struct st_assay *x = &a->assay[i], *y = &b->assay[i];
        if (!same_words(x->ingredient, y->ingredient) || !same_words(x->toxicant, y->toxicant) ||
            !st_try_near(x->mg_kg, y->mg_kg) || !same_words(x->laboratory, y->laboratory) ||
            !same_words(x->date, y->date))
            return false;
    }
    return true;
}

static void compare_whole(struct st_try_changes *c)
{
    const struct st_recipe *a = c->recipe[0], *b = c->recipe[1];
    if (c->match->order)
        put(c, ST_TRY_ORDER, -1, -1)->whole = true;
    if (!st_try_near(a->serving_ml, b->serving_ml))
        put(c, ST_TRY_SERVING, -1, -1);
    if (!same_tools(&a->tools, &b->tools))
        put(c, ST_TRY_TOOLS, -1, -1);
    if (!same_wish(a, b))
        put(c, ST_TRY_WISH, -1, -1);
    if (!same_words(a->currency, b->currency))
        put(c, ST_TRY_CURRENCY, -1, -1);
    if (!same_assays(a, b))
        put(c, ST_TRY_ASSAYS, -1, -1);
    if (!same_words(a->title, b->title))
        put(c, ST_TRY_TITLE, -1, -1);
    if (!same_words(a->note, b->note))
        put(c, ST_TRY_NOTE, -1, -1);
}

void st_try_find(const struct st_recipe *a, const struct st_recipe *b, struct st_try_changes *c)
{
    *c = (struct st_try_changes){ .recipe = { a, b }, .match = x_calloc(1, sizeof *c->match) };
    struct st_try_match *m = c->match;
    st_try_match(a, b, m);
    compare_whole(c);
    for (int k = 0; k < b->n_step; k++)
        if (m->step_of[1][k] < 0)
            put(c, ST_TRY_STEP_ADDED, -1, k)->whole = true;
    for (int i = 0; i < a->n_step; i++) {
        if (m->step_of[0][i] < 0)
            put(c, ST_TRY_STEP_LEFT_OUT, i, -1)->whole = true;
        else
            compare_steps(c, i, m->step_of[0][i]);
    }
    for (int p = 0; p < m->n_line[0]; p++)
        if (m->line_of[0][p] >= 0)
            compare_lines(c, p, m->line_of[0][p]);
        else
            lone_line(c, 0, p);
    for (int q = 0; q < m->n_line[1]; q++)
        if (m->line_of[1][q] < 0)
            lone_line(c, 1, q);
    for (int i = 0; i < c->n; i++)
        st_try_say(c, &c->change[i]);
}

void st_try_changes_done(struct st_try_changes *c)
{
    if (c->match)
        st_try_match_done(c->match);
    free(c->match);
    free(c->change);
    *c = (struct st_try_changes){ 0 };
}

const struct st_line *st_try_line_of(const struct st_try_changes *c, const struct st_try_change *x, int side)
{
    return x->line[side] < 0 ? NULL : &c->recipe[side]->step[x->step[side]].line[x->line[side]];
}

const struct st_step *st_try_step_of(const struct st_try_changes *c, const struct st_try_change *x, int side)
{
    return x->step[side] < 0 ? NULL : &c->recipe[side]->step[x->step[side]];
}
