#include "aim.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How far a line goes when nobody says, and what spirits there are: from a fortified wine to the strongest sold. */
static const double USUAL_LOW = 0.25, USUAL_HIGH = 4.0;

void st_aim_init(struct st_aim *a, const struct st_recipe *r)
{
    memset(a, 0, sizeof *a);
    a->recipe = r;
}

static const struct st_line *line_at(const struct st_aim *a, int step, int line)
{
    if (step < 0 || step >= a->recipe->n_step || line < 0 || line >= a->recipe->step[step].n_line)
        return NULL;
    return &a->recipe->step[step].line[line];
}

static int dial_on(const struct st_aim *a, int step, int line, enum st_dial_of of)
{
    for (int k = 0; k < a->n_dial; k++)
        if (a->dial[k].dial.step == step && a->dial[k].dial.line == line && a->dial[k].dial.of == of)
            return k;
    return -1;
}

static bool can_be_freed(const struct st_line *l)
{
    return l && l->amount.open == ST_CLOSED && l->amount.dim != ST_DIM_OPEN && l->amount.value > 0.0;
}

bool st_aim_free(struct st_aim *a, int step, int line)
{
    if (!can_be_freed(line_at(a, step, line)))
        return false;
    if (dial_on(a, step, line, ST_DIAL_AMOUNT) >= 0)
        return true;
    if (a->n_dial == ST_MAX_DIALS)
        return false;
    a->dial[a->n_dial++] = (struct st_aim_dial){ .dial = { step, line, ST_DIAL_AMOUNT },
                                                 .low = USUAL_LOW,
                                                 .high = USUAL_HIGH,
                                                 .low_by = ST_BOUND_USUAL,
                                                 .high_by = ST_BOUND_USUAL };
    return true;
}

bool st_aim_free_strength(struct st_aim *a, int step, int line, double low, double high, enum st_bound by)
{
    const struct st_line *l = line_at(a, step, line);
    if (!l || !l->what || l->what->kind != ST_KIND_SPIRIT || a->n_dial == ST_MAX_DIALS || !(low > 0.0 && low <= high))
        return false;
    a->dial[a->n_dial++] = (struct st_aim_dial){
        .dial = { step, line, ST_DIAL_STRENGTH }, .low = low, .high = high, .low_by = by, .high_by = by
    };
    return true;
}

void st_aim_keep(struct st_aim *a, int step, int line)
{
    const int k = dial_on(a, step, line, ST_DIAL_AMOUNT);
    if (k < 0)
        return;
    memmove(&a->dial[k], &a->dial[k + 1], (size_t)(a->n_dial - k - 1) * sizeof *a->dial);
    a->n_dial--;
}

static bool is_usual(const struct st_line *l, bool acid)
{
    if (!l->what)
        return false;
    switch (l->what->kind) {
    case ST_KIND_SPIRIT:
    case ST_KIND_SUGAR:
    case ST_KIND_SYRUP:
    case ST_KIND_WATER: return true;
    case ST_KIND_ACID:
    case ST_KIND_JUICE: return acid;
    default: return false;
    }
}

int st_aim_free_usual(struct st_aim *a)
{
    bool acid = false;
    for (int i = 0; i < a->n_wish; i++)
        acid = acid || a->wish[i].of == ST_FIG_ACID || a->wish[i].of == ST_FIG_SUGAR_ACID;
    for (int s = 0; s < a->recipe->n_step; s++)
        for (int i = 0; i < a->recipe->step[s].n_line; i++)
            if (is_usual(&a->recipe->step[s].line[i], acid))
                (void)st_aim_free(a, s, i);
    return a->n_dial;
}

bool st_aim_wish(struct st_aim *a, enum st_figure of, double low, double high, double tolerance)
{
    if (a->n_wish == ST_AIM_WISHES || !(low <= high) || !(tolerance > 0.0))
        return false;
    a->wish[a->n_wish++] = (struct st_wish){ of, low, high, tolerance };
    return true;
}

double st_wish_miss(const struct st_wish *w, double x)
{
    const double by = w->low == w->high ? w->tolerance : 0.0, edge = 1e-6 * w->tolerance;
    if (!(x >= w->low - by - edge))
        return x - w->low;
    return x <= w->high + by + edge ? 0.0 : x - w->high;
}

/* ---- what nobody asked to change ---- */

bool st_wish_sizes_batch(enum st_figure f)
{
    return f == ST_FIG_VOLUME || f == ST_FIG_BOTTLES || f == ST_FIG_COST || f == ST_FIG_MASS || f == ST_FIG_ETHANOL;
}

static bool is_asked(const struct st_aim *a, enum st_figure f)
{
    bool asked = false;
    for (int i = 0; i < a->n_wish; i++) {
        const enum st_figure of = a->wish[i].of;
        asked = asked || of == f || (f == ST_FIG_SUGAR && of == ST_FIG_SUGAR_INVERT) ||
                (f == ST_FIG_VOLUME && st_wish_sizes_batch(of));
    }
    return asked;
}

/* As wishes have them (src/cli/aim_options.c); but how much it makes matters less than what it is. */
static double soft_scale(enum st_figure f, double at)
{
    switch (f) {
    case ST_FIG_STRENGTH: return 0.5;
    case ST_FIG_SUGAR: return 5.0;
    case ST_FIG_ACID: return fmax(0.3, 0.05 * at);
    default: return 0.1 * fmax(at, 1.0);
    }
}

/* A range was asked for, and the recipe as written lies in it: then there is nothing to change. */
static bool is_met_range(const struct st_aim *a, enum st_figure f, double at)
{
    for (int i = 0; i < a->n_wish; i++)
        if (a->wish[i].of == f)
            return a->wish[i].low < a->wish[i].high && st_wish_miss(&a->wish[i], at) == 0.0;
    return false;
}

void st_aim_stays(const struct st_aim *a, const double y[], struct st_stays *out)
{
    static const enum st_figure STAY[ST_AIM_STAYS] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_ACID, ST_FIG_VOLUME };
    out->n = 0;
    for (int i = 0; i < ST_AIM_STAYS && !a->wishes_only; i++) {
        const double at = y[STAY[i]];
        if (isfinite(at) && (!is_asked(a, STAY[i]) || is_met_range(a, STAY[i], at)))
            out->of[out->n++] = (struct st_stay){ STAY[i], at, soft_scale(STAY[i], at) };
    }
}

double st_stays_drift(const struct st_stays *s, const double x[], size_t stride)
{
    double sum = 0.0;
    for (int i = 0; i < s->n; i++) {
        const double by = (x[(size_t)s->of[i].of * stride] - s->of[i].at) / s->of[i].step;
        sum += by * by;
    }
    return sqrt(sum);
}

/* ---- limits ---- */

bool st_aim_have(struct st_aim *a, const struct st_ingredient *what, enum st_dimension dim, double most)
{
    struct st_aim_limit l = { .of = ST_LIMIT_HAVE, .most = most };
    int n = 0, last = -1;

    for (int s = 0; s < a->recipe->n_step; s++)
        for (int i = 0; i < a->recipe->step[s].n_line; i++) {
            const struct st_line *line = &a->recipe->step[s].line[i];
            const int k = dial_on(a, s, i, ST_DIAL_AMOUNT);
            if (line->what != what)
                continue;
            if (line->amount.dim != dim || line->amount.open != ST_CLOSED || line->amount.make_up_to)
                return false;
            if (k < 0) {
                l.most -= line->amount.value;
                continue;
            }
            l.which |= 1u << k;
            l.weight[k] = line->amount.value;
            last = k;
            n++;
        }
    if (n == 1) { /* a bound on one amount */
        struct st_aim_dial *d = &a->dial[last];
        const double high = fmax(l.most, 0.0) / l.weight[last];
        if (high < d->high) {
            d->high = high;
            d->high_by = ST_BOUND_HAVE;
            d->low = fmin(d->low, d->high);
        }
        return true;
    }
    if (n == 0)
        return l.most >= 0.0;
    if (a->n_limit >= ST_AIM_GIVEN)
        return false;
    a->limit[a->n_limit++] = l;
    return true;
}

bool st_aim_jar(struct st_aim *a, int step, double ml)
{
    if (a->n_limit >= ST_AIM_GIVEN || step < 0 || step >= a->recipe->n_step || !(ml > 0.0))
        return false;
    a->limit[a->n_limit++] = (struct st_aim_limit){ .of = ST_LIMIT_JAR, .step = step, .most = ml };
    return true;
}

/* ---- the recipe so changed ---- */

struct changed {
    struct st_recipe recipe; /* first: its address is the whole's */
    struct st_step *step;
    struct st_line *line;
};

static void scale_amount(struct st_amount *m, double by)
{
    m->value *= by;
    m->low *= by;
    m->high *= by;
    m->written *= by;
    m->fills *= by;
}

static bool same_spirit(const struct st_line *a, const struct st_line *b)
{
    return a->what && a->what == b->what && a->strength.known == b->strength.known &&
           (!a->strength.known || a->strength.value == b->strength.value);
}

static void turn(struct changed *c, const struct st_aim *a, const struct st_dial *d, double value)
{
    struct st_line *const lines = c->step[d->step].line;
    if (!lines)
        return;
    struct st_line *line = &lines[d->line];
    if (d->of == ST_DIAL_AMOUNT) {
        if (!isnan(line->price) && !line->amount.make_up_to)
            line->price *= value;
        scale_amount(&line->amount, value);
        return;
    }
    const struct st_line *from = line_at(a, d->step, d->line); /* as written */
    for (int s = 0; s < a->recipe->n_step; s++)
        for (int i = 0; i < a->recipe->step[s].n_line; i++)
            if (same_spirit(&a->recipe->step[s].line[i], from))
                c->step[s].line[i].strength = (struct st_range){ value, value, value, true, 'u', "" };
}

struct st_recipe *st_aim_recipe(const struct st_aim *a, const double value[])
{
    size_t lines = 1;
    struct changed *c = calloc(1, sizeof *c);
    if (!c)
        return NULL;
    for (int s = 0; s < a->recipe->n_step; s++)
        lines += (size_t)a->recipe->step[s].n_line;
    c->recipe = *a->recipe;
    c->step = calloc((size_t)a->recipe->n_step + 1, sizeof *c->step);
    c->line = calloc(lines, sizeof *c->line);
    if (!c->step || !c->line) {
        st_aim_recipe_free(&c->recipe);
        return NULL;
    }
    struct st_line *next = c->line;
    for (int s = 0; s < a->recipe->n_step; s++) {
        c->step[s] = a->recipe->step[s];
        c->step[s].line = next;
        if (a->recipe->step[s].n_line > 0)
            memcpy(next, a->recipe->step[s].line, (size_t)a->recipe->step[s].n_line * sizeof *next);
        next += a->recipe->step[s].n_line;
    }
    c->recipe.step = c->step;
    for (int k = 0; k < a->n_dial; k++)
        turn(c, a, &a->dial[k].dial, value[k]);
    return &c->recipe;
}

void st_aim_recipe_free(struct st_recipe *r)
{
    struct changed *c = (struct changed *)r;
    if (!c)
        return;
    free(c->step);
    free(c->line);
    free(c);
}

/* ---- odds ---- */

void st_aim_odds(const struct st_aim *a, const struct st_foretold *f, struct st_aim_odds *odds)
{
    int n_each[ST_AIM_WISHES] = { 0 }, n_all = 0;
    for (int k = 0; k < f->draws; k++) {
        bool all = true;
        for (int i = 0; i < a->n_wish; i++) {
            const double *x = f->draw[a->wish[i].of];
            const bool in = x && st_wish_miss(&a->wish[i], x[k]) == 0.0;
            n_each[i] += in;
            all = all && in;
        }
        n_all += all;
    }
    const double n = f->draws;
    for (int i = 0; i < a->n_wish; i++)
        odds->each[i] = f->draws > 0 ? n_each[i] / n : (double)NAN;
    odds->all = f->draws > 0 ? n_all / n : (double)NAN;
}
