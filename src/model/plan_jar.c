#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "aim.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "plan_inside.h"

void st_jars_free(struct st_jars *j)
{
    if (!j)
        return;
    free(j->op);
    free(j->value);
    free(j->reg);
    free(j);
}

static bool gather(struct st_jars *j, const struct st_tape *t)
{
    bool *need = calloc((size_t)t->n_reg + 1, sizeof *need);
    int out[6 * ST_AIM_LIMITS + 2 * ST_MAX_TAKES], n = 0;
    if (!need)
        return false;
    for (int i = 0; i < j->n; i++) {
        const struct st_jar_of *l = &j->limit[i];
        out[n++] = l->filled;
        out[n++] = l->syrup.sucrose;
        out[n++] = l->syrup.water;
        out[n++] = l->syrup.ethanol;
        out[n++] = l->carry.per;
        out[n++] = l->carry.by;
    }
    for (int i = 0; i < j->n_take; i++) {
        out[n++] = j->take[i].want;
        out[n++] = j->take[i].left;
    }
    st_tape_needs(t, out, n, need);
    for (int i = 0; i < t->n_op; i++)
        if (need[t->op[i].dst])
            j->op[j->n_op++] = &t->op[i];
    free(need);
    memcpy(j->value, t->nominal, (size_t)t->n_reg * sizeof *j->value);
    for (int r = 0; r < t->n_reg; r++)
        j->reg[r] = &j->value[r];
    return true;
}

static bool asks_too_much(struct st_take k, const double value[])
{
    return value[k.want] > value[k.left] * (1.0 + 1e-6); /* as the notes are given */
}

bool st_jars_can_be_done(const struct st_jars *j)
{
    for (int i = 0; i < j->n_take; i++)
        if (asks_too_much(j->take[i], j->value))
            return false;
    return true;
}

/* A tape of dials holds operations only for what they change. */
static bool is_turned(const struct st_plan *p, int reg)
{
    for (int k = 0; k < p->n_dial; k++)
        if (p->dial_reg[k] == reg)
            return true;
    for (int i = 0; i < p->tape.n_op; i++)
        if (p->tape.op[i].dst == reg)
            return true;
    return false;
}

static int dial_on(const struct st_plan *p, int step, int line)
{
    for (int k = 0; k < p->n_dial; k++)
        if (p->dial[k].of == ST_DIAL_AMOUNT && p->dial[k].step == step && p->dial[k].line == line)
            return p->dial_reg[k];
    return -1;
}

static struct st_carry_of carry_of(const struct st_plan *p, const struct st_aim_limit *l)
{
    struct st_carry_of c = { .rest = l->rest, .per = p->figure[l->per], .by = ST_ONE };
    if (l->per_strength)
        c.by = p->figure[ST_FIG_STRENGTH];
    if (c.per < 0 || c.by < 0) /* not known: nothing is held */
        return (struct st_carry_of){ .per = ST_ONE, .by = ST_ONE };
    for (int i = 0; i < l->n_source; i++) {
        const int reg = dial_on(p, l->source[i].step, l->source[i].line);
        if (reg < 0) {
            c.rest += l->source[i].part;
            continue;
        }
        c.dial[c.n] = reg;
        c.part[c.n++] = l->source[i].part;
    }
    return c;
}

static struct st_jar_of limit_of(const struct st_plan *p, const struct st_aim_limit *l)
{
    struct st_jar_of at = { .of = l->of, .filled = ST_ZERO, .syrup = { ST_ZERO, ST_ZERO, ST_ZERO } };
    at.carry.per = at.carry.by = ST_ONE;
    if (l->of == ST_LIMIT_CARRY)
        at.carry = carry_of(p, l);
    if (l->step < 0 || l->step >= p->recipe->n_step)
        return at;
    if (l->of == ST_LIMIT_JAR)
        at.filled = p->account[l->step].filled;
    if (l->of == ST_LIMIT_SUGAR)
        at.syrup = p->account[l->step].syrup;
    return at;
}

struct st_jars *st_jars_create(const struct st_plan *p, const struct st_aim_limit limit[], int n)
{
    struct st_jars *j = calloc(1, sizeof *j);
    if (!j)
        return NULL;
    j->of = p->sharp ? p->sharp : p;
    j->n = n < ST_AIM_LIMITS ? n : ST_AIM_LIMITS;
    const struct st_tape *t = &j->of->tape;
    for (int i = 0; i < j->n; i++)
        j->limit[i] = limit_of(j->of, &limit[i]);
    for (int i = 0; i < j->of->n_take; i++) {
        const struct st_take *k = &j->of->take[i];
        if (asks_too_much(*k, t->nominal))
            continue;
        j->turns[j->n_take] = is_turned(j->of, k->want) || is_turned(j->of, k->left);
        j->take[j->n_take++] = *k;
    }
    j->op = malloc(((size_t)t->n_op + 1) * sizeof *j->op);
    j->value = malloc((size_t)t->n_reg * sizeof *j->value);
    j->reg = malloc((size_t)t->n_reg * sizeof *j->reg);
    if (j->op && j->value && j->reg && gather(j, t))
        return j;
    st_jars_free(j);
    return NULL;
}

double st_jars_dissolves(double water, double ethanol)
{
    const double solvent = water + ethanol;
    double w[ST_NCOMP] = { 0.0 }, most;
    if (!(solvent > 0.0))
        return -1.0;
    w[ST_WATER] = water / solvent;
    w[ST_ETHANOL] = ethanol / solvent;
    return st_sucrose_solubility(w, ST_T20, &most) < 0 ? -1.0 : solvent * most / (1.0 - most);
}

/* As a part of what dissolves, and *room: what does. */
static double dissolved(const double value[], const struct st_syrup *y, double *room)
{
    *room = st_jars_dissolves(value[y->water], value[y->ethanol]);
    return *room > 0.0 ? value[y->sucrose] / *room : 0.0;
}

/* As far as it is asked; the step that asks. */
static double most_taken(const struct st_jars *j, int *step)
{
    double most = 0.0;
    for (int i = 0; i < j->n_take; i++) {
        const double left = j->value[j->take[i].left], part = j->value[j->take[i].want] / fmax(left, 1e-9);
        if (!j->turns[i] || !(part > most))
            continue;
        most = part;
        *step = j->take[i].step;
    }
    return most;
}

/* As a part of what may be; *room: the drink it is reckoned on. */
static double carried(const double value[], const struct st_carry_of *c, double *room)
{
    double sum = c->rest;
    for (int i = 0; i < c->n; i++)
        sum += c->part[i] * value[c->dial[i]];
    *room = value[c->per] * value[c->by];
    return sum / *room;
}

static double fill_of(struct st_jars *j, int i)
{
    const struct st_jar_of *l = &j->limit[i];
    int step;
    j->room[i] = 1.0;
    switch (l->of) {
    case ST_LIMIT_JAR: return j->value[l->filled];
    case ST_LIMIT_SUGAR: return dissolved(j->value, &l->syrup, &j->room[i]);
    case ST_LIMIT_TAKE: return most_taken(j, &step);
    case ST_LIMIT_CARRY: return carried(j->value, &l->carry, &j->room[i]);
    case ST_LIMIT_HAVE:
    default: return 0.0;
    }
}

double st_jars_room(const struct st_jars *j, int i)
{
    return j->room[i];
}

enum st_status st_jars_at(struct st_jars *j, const double factor[], double fill[])
{
    const struct st_plan *p = j->of;
    double at[ST_AIM_LIMITS];
    for (int k = 0; factor && k < p->n_dial; k++)
        j->value[p->dial_reg[k]] = factor[k];
    for (int i = 0; factor && i < j->n_op; i++)
        (void)st_op_run(j->op[i], p->tape.arg, j->reg, &j->value[j->op[i]->dst], 1);
    for (int i = 0; i < j->n; i++) {
        at[i] = fill_of(j, i);
        if (!isfinite(at[i]))
            return ST_E_DOMAIN;
    }
    for (int i = 0; i < j->n; i++)
        if (j->limit[i].of != ST_LIMIT_HAVE)
            fill[i] = at[i];
    return ST_OK;
}

/* ---- only what can be made ---- */

static bool must_dissolve(enum st_do k)
{
    return k == ST_DO_STEEP || k == ST_DO_SYRUP || k == ST_DO_BLEND;
}

/* Kept in falling order of how full they are as written. */
static void add_falling(struct st_aim_limit most[], double fill[], int *n, struct st_aim_limit l, double at)
{
    int i = *n < ST_AIM_LIMITS ? (*n)++ : ST_AIM_LIMITS;
    if (i == ST_AIM_LIMITS && !(at > fill[--i]))
        return;
    for (; i > 0 && fill[i - 1] < at; i--) {
        most[i] = most[i - 1];
        fill[i] = fill[i - 1];
    }
    most[i] = l;
    fill[i] = at;
}

static void add_sugar(const struct st_plan *p, struct st_aim_limit most[], double fill[], int *n)
{
    const double *now = p->tape.nominal;
    for (int s = 0; s < p->recipe->n_step; s++) {
        const struct st_syrup y = p->account[s].syrup;
        if (!must_dissolve(p->recipe->step[s].kind) || !(is_turned(p, y.sucrose) || is_turned(p, y.water)))
            continue;
        double room;
        const double at = dissolved(now, &y, &room);
        if (at > 0.0 && at <= 1.0)
            add_falling(most, fill, n,
                        (struct st_aim_limit){
                            .of = ST_LIMIT_SUGAR, .step = s, .most = fmax(ST_AIM_DISSOLVED, at * (1.0 + 1e-6)) },
                        at);
    }
}

static void add_takes(const struct st_plan *p, struct st_aim_limit most[], double fill[], int *n)
{
    struct st_jars *j = st_jars_create(p, NULL, 0);
    int step = -1;
    if (j) {
        const double at = most_taken(j, &step);
        if (step >= 0)
            add_falling(most, fill, n, (struct st_aim_limit){ .of = ST_LIMIT_TAKE, .step = step, .most = 1.0 }, at);
    }
    st_jars_free(j);
}

void st_aim_makeable(struct st_aim *a)
{
    struct st_aim_limit most[ST_AIM_LIMITS];
    struct st_dial dial[ST_MAX_DIALS];
    struct st_problem problem;
    double fill[ST_AIM_LIMITS];
    int n = 0;
    for (int k = 0; k < a->n_dial; k++)
        dial[k] = a->dial[k].dial;
    struct st_plan *p = a->n_dial > 0 ? st_plan_create_dials(a->recipe, dial, a->n_dial, &problem) : NULL;
    if (!p) /* st_aim_solve says why */
        return;
    const struct st_plan *sharp = p->sharp ? p->sharp : p;
    add_takes(sharp, most, fill, &n);
    add_sugar(sharp, most, fill, &n);
    for (int i = 0; i < n && a->n_limit < ST_AIM_GIVEN; i++)
        a->limit[a->n_limit++] = most[i];
    st_plan_free(p);
}
