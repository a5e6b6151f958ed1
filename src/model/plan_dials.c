#include <math.h>

#include "plan_inside.h"

/* Dials while a plan is built: which line they turn, and what has to hold whatever they are turned to. */

bool st_dials_move(const struct st_build *b)
{
    return b->dials && b->dials->n > 0 && !b->dials->value;
}

static const struct st_line *line_of(const struct st_recipe *r, const struct st_dial *d)
{
    return &r->step[d->step].line[d->line];
}

static struct st_range strength_of(const struct st_line *l)
{
    return l->strength.known || !l->what ? l->strength : l->what->strength;
}

double st_dial_as_written(const struct st_recipe *r, const struct st_dial *d)
{
    return d->of == ST_DIAL_AMOUNT ? 1.0 : strength_of(line_of(r, d)).value;
}

/* The same spirit at the same strength, wherever it is poured. */
static bool is_same_spirit(const struct st_line *a, const struct st_line *b)
{
    return a->what && a->what == b->what && a->strength.known == b->strength.known &&
           (!a->strength.known || a->strength.value == b->strength.value);
}

int st_dial_strength(const struct st_build *b, const struct st_line *l)
{
    for (int k = 0; b->dials && k < b->dials->n; k++)
        if (b->dials->dial[k].of == ST_DIAL_STRENGTH && is_same_spirit(line_of(b->recipe, &b->dials->dial[k]), l))
            return k;
    return -1;
}

int st_dial_amount(const struct st_build *b)
{
    for (int k = 0; b->dials && k < b->dials->n; k++) {
        const struct st_dial *d = &b->dials->dial[k];
        if (d->of == ST_DIAL_AMOUNT && d->step == b->step && d->line == b->line)
            return b->plan->dial_reg[k];
    }
    return ST_ONE;
}

void st_must_hold(struct st_build *b, int reg, double above)
{
    if (!st_dials_move(b) || b->tape->kind[reg] == ST_REG_CONSTANT)
        return;
    b->plan->holds = st_min(b->tape, b->plan->holds, st_sub(b->tape, reg, st_tape_constant(b->tape, above)));
}

/* ---- which dials can be ---- */

static bool refuse(struct st_build *b, const char *what, const char *why, const char *try_)
{
    const struct st_line *l = b->line >= 0 ? &b->recipe->step[b->step].line[b->line] : NULL;
    return st_build_stop(b, what, l ? l->text : NULL, why, try_);
}

static bool check_amount(struct st_build *b, const struct st_line *l, double value)
{
    const struct st_amount *a = &l->amount;
    if (a->open != ST_CLOSED || a->dim == ST_DIM_OPEN || !(a->value > 0.0))
        return refuse(b, "cannot turn this amount: ", "it is open, or nothing", "write an amount such as 250 g");
    if (!(value >= 0.0 && value * a->value < 1e9))
        return refuse(b, "cannot turn it so far: ", "the amount is then negative, endless or no number",
                      "take a factor of 0 or more");
    return true;
}

static bool check_strength(struct st_build *b, const struct st_line *l, double value)
{
    const struct st_range q = strength_of(l);
    if (!l->what || !q.known || !(q.value > 0.0))
        return refuse(b, "cannot turn this strength: ", "it is no spirit of a known strength",
                      "write its strength, such as 40 %");
    if (!(value > 0.0 && value <= 100.0))
        return refuse(b, "no such strength: ", "strengths go from above 0 to 100 % vol", "take one between");
    return true;
}

static bool is_twice(const struct st_build *b, int k)
{
    const struct st_dial *d = &b->dials->dial[k];
    for (int i = 0; i < k; i++) {
        const struct st_dial *e = &b->dials->dial[i];
        if (e->of == d->of && ((e->step == d->step && e->line == d->line) ||
                               (d->of == ST_DIAL_STRENGTH &&
                                is_same_spirit(line_of(b->recipe, d), line_of(b->recipe, e)))))
            return true;
    }
    return false;
}

static bool check(struct st_build *b, int k, double value)
{
    const struct st_recipe *r = b->recipe;
    const struct st_dial *d = &b->dials->dial[k];
    b->step = 0;
    b->line = -1;
    if (d->step < 0 || d->step >= r->n_step || d->line < 0 || d->line >= r->step[d->step].n_line)
        return refuse(b, "no such line to turn", "the recipe has fewer", "name a step and a line of it");
    b->step = d->step;
    b->line = d->line;
    if (is_twice(b, k))
        return refuse(b, "cannot turn this twice: ", "it has a dial already", "leave one out");
    return d->of == ST_DIAL_AMOUNT ? check_amount(b, line_of(r, d), value) : check_strength(b, line_of(r, d), value);
}

bool st_dials_place(struct st_build *b)
{
    struct st_plan *p = b->plan;
    if (!b->dials)
        return true;
    if (b->dials->n < 0 || b->dials->n > ST_MAX_DIALS)
        return refuse(b, "too many amounts to turn", "there is room for sixteen", "turn fewer at a time");
    for (int k = 0; k < b->dials->n; k++) {
        const struct st_dial *d = &b->dials->dial[k];
        if (!check(b, k, b->dials->value ? b->dials->value[k] : 1.0))
            return false;
        p->dial[k] = *d;
        p->dial_reg[k] = b->dials->value ? st_tape_constant(b->tape, b->dials->value[k])
                                         : st_tape_dial(b->tape, st_dial_as_written(b->recipe, d), 0xD1A10000u + (uint32_t)k);
    }
    p->n_dial = b->dials->n;
    return true;
}
