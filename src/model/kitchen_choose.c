#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "kitchen_inside.h"
#include "text.h"

/* The surest way to measure it all, and four others beside it. */

/* An eighth of a tolerance, 0.06 % vol or 0.6 g/L, or half a step of what shall change little, is less than any kitchen
 * tells. */
static const double GAP = 0.125, GAP_OTHER = 0.2;

enum { DRAW_BEST = 16, DRAW_OTHER = 4, KEEP_OTHER = 16, NODES = 10000, NODES_EXACT = 2000, NODES_OTHER = 1500 };

/* A box of many amounts costs more, about as their square, so there are fewer of them. */
static long budget(const struct st_aim *a, long boxes)
{
    return a->n_dial <= 6 ? boxes : boxes * 36 / ((long)a->n_dial * a->n_dial);
}

struct choosing {
    const struct st_aim *aim;
    const struct st_aim *near; /* the same, kept to about the batch size that was found where none is wished for */
    const struct st_kitchen *kitchen;
    const double *value;
    const struct st_options *o;
    struct st_kitchen_grid *grid; /* [n_dial] */
    struct st_kitchen_choice *out;
    struct st_problem *problem;
};

static bool lay_grids(const struct choosing *c, const struct st_aim *a, unsigned tools, enum st_kitchen_grain grain)
{
    bool all = true;
    for (int k = 0; k < a->n_dial; k++) {
        st_kitchen_grid(a, k, c->kitchen, tools, grain, &c->grid[k]);
        all = all && c->grid[k].n > 0;
    }
    return all;
}

/* With whatever tool: what half a hundredth tells apart no kitchen does. */
static bool same_amounts(const struct st_aim *a, const struct st_making *x, const struct st_making *y)
{
    for (int k = 0; k < a->n_dial; k++)
        if (fabs(x->item[k].factor - y->item[k].factor) > 0.005 * fabs(x->item[k].factor))
            return false;
    return true;
}

/* A batch may float, but a kitchen is no reason to make twice as much: four fifths to five quarters of what was found.
 */
static void keep_size(const struct st_aim *a, struct st_plan *p, const double value[], struct st_aim *near)
{
    double y[ST_NFIG];
    *near = *a;
    for (int w = 0; w < a->n_wish; w++)
        if (st_wish_sizes_batch(a->wish[w].of))
            return;
    if (st_plan_at(p, value, y) >= 0)
        (void)st_aim_wish(near, ST_FIG_VOLUME, 0.8 * y[ST_FIG_VOLUME], 1.25 * y[ST_FIG_VOLUME],
                          0.01 * y[ST_FIG_VOLUME]);
}

/* The aim as it is searched for, and what nobody asked to change. */
static void look_at_written(const struct st_aim *a, const double value[], struct st_aim *near, struct st_stays *stays)
{
    double y[ST_NFIG], written[ST_MAX_DIALS];
    struct st_dial dial[ST_MAX_DIALS];
    struct st_problem problem;
    for (int k = 0; k < a->n_dial; k++)
        dial[k] = a->dial[k].dial;
    struct st_plan *p = st_plan_create_dials(a->recipe, dial, a->n_dial, &problem);
    *near = *a;
    if (!p)
        return; /* the search tells why */
    for (int k = 0; k < a->n_dial; k++)
        written[k] = st_plan_dial_written(p, k);
    if (st_plan_at(p, written, y) >= 0)
        st_aim_stays(a, y, stays);
    keep_size(a, p, value, near);
    st_plan_free(p);
}

/* Search and rank on the grids as laid; false when nothing is within. */
static bool find_other(const struct choosing *c, const struct st_aim *search, const struct st_aim *a,
                       struct st_making *m)
{
    struct st_kitchen_result r;
    struct st_problem problem;
    const struct st_kitchen_ask ask = { .aim = search,
                                        .grid = c->grid,
                                        .stays = &c->out->stays,
                                        .keep = KEEP_OTHER,
                                        .only_within = true,
                                        .gap = GAP_OTHER,
                                        .most_nodes = budget(search, NODES_OTHER),
                                        .deep_nodes = NODES_OTHER,
                                        .near = c->value };
    bool found = false;
    if (st_kitchen_search(&ask, &r, &problem) != ST_E_REFUSED && r.n_point > 0 && r.point[0].far < ST_KITCHEN_MISSED)
        found = st_kitchen_rank(a, &c->out->stays, c->kitchen, c->grid, &r, DRAW_OTHER, c->o, m, NULL) >= 0 && m->met;
    st_kitchen_result_done(&r);
    return found;
}

static void keep_other(struct choosing *c, enum st_alternative which, const struct st_making *m)
{
    bool same = which != ST_ALT_WEIGH && same_amounts(c->aim, m, &c->out->best);
    for (int i = 0; i < ST_NALT && which != ST_ALT_WEIGH; i++)
        same = same || (i != (int)which && c->out->has[i] && same_amounts(c->aim, m, &c->out->other[i]));
    if (same)
        c->out->why[which] = ST_WHY_SAME;
    if (same || (c->out->has[which] && st_making_worth(m) <= st_making_worth(&c->out->other[which])))
        return;
    c->out->other[which] = *m;
    c->out->has[which] = true;
}

/* Each tool in turn is left in the drawer. */
static void fewer_tools(struct choosing *c)
{
    const struct st_making *best = &c->out->best;
    unsigned used = 0;
    c->out->why[ST_ALT_FEWER] = best->tools <= 1 ? ST_WHY_ALREADY : ST_WHY_NOT_INSIDE;
    for (int k = 0; k < c->aim->n_dial; k++)
        used |= 1u << best->item[k].tool;
    for (unsigned t = ST_TOOL_NONE + 1; t < ST_NTOOL; t++) {
        struct st_making m;
        if (best->tools <= 1 || !(used & (1u << t)) || t == ST_TOOL_COUNT_PIECES ||
            !lay_grids(c, c->aim, used & ~(1u << t), ST_GRAIN_FINE))
            continue;
        if (find_other(c, c->near, c->aim, &m) && m.tools < best->tools)
            keep_other(c, ST_ALT_FEWER, &m);
    }
}

/* Each amount in turn goes on the scale, the rest as in the best. */
static void weigh_one(struct choosing *c)
{
    const double step = c->kitchen->tools.scale_digit_g > 0.0 ? c->kitchen->tools.scale_digit_g : 1.0;
    c->out->why[ST_ALT_WEIGH] = ST_WHY_ALREADY;
    for (int k = 0; k < c->aim->n_dial; k++) {
        struct st_making m = c->out->best;
        if (m.item[k].tool == ST_TOOL_NONE || m.item[k].tool == ST_TOOL_SCALE ||
            !st_kitchen_weighed(c->aim, k, m.item[k].factor, step, &m.item[k]))
            continue;
        c->out->why[ST_ALT_WEIGH] = ST_WHY_NOT_SURER;
        if (st_making_draw(c->aim, &c->out->stays, c->kitchen, c->o, true, &m) < 0 ||
            !(st_making_worth(&m) > st_making_worth(&c->out->best) + 0.005))
            continue;
        if (!c->out->has[ST_ALT_WEIGH] || st_making_worth(&m) > st_making_worth(&c->out->other[ST_ALT_WEIGH]))
            c->out->weighed = k;
        keep_other(c, ST_ALT_WEIGH, &m);
    }
}

static void rounder(struct choosing *c)
{
    struct st_making m;
    c->out->why[ST_ALT_ROUND] = ST_WHY_NOT_INSIDE;
    if (!lay_grids(c, c->aim, ST_KITCHEN_ALL, ST_GRAIN_ROUND) || !find_other(c, c->near, c->aim, &m))
        return;
    if (m.fuss < c->out->best.fuss - 1e-9)
        keep_other(c, ST_ALT_ROUND, &m);
    else
        c->out->why[ST_ALT_ROUND] = ST_WHY_ALREADY;
}

/* Spirits by the bottle, fruit by the piece: when no batch of the wished size has it, the size is let go. */
static void whole_ones(struct choosing *c)
{
    struct st_making m;
    struct st_aim *free_size = malloc(sizeof *free_size);
    if (!free_size)
        return;
    *free_size = *c->aim;
    free_size->n_wish = 0;
    for (int w = 0; w < c->aim->n_wish; w++)
        if (!st_wish_sizes_batch(c->aim->wish[w].of))
            free_size->wish[free_size->n_wish++] = c->aim->wish[w];
    bool whole = false;
    const bool laid = lay_grids(c, c->aim, ST_KITCHEN_ALL, ST_GRAIN_WHOLE);
    for (int k = 0; laid && k < c->aim->n_dial; k++)
        whole = whole || c->grid[k].item[0].tool == ST_TOOL_BOTTLE || c->grid[k].item[0].tool == ST_TOOL_COUNT_PIECES;
    c->out->why[ST_ALT_WHOLE] = whole ? ST_WHY_NOT_INSIDE : ST_WHY_NOTHING_WHOLE;
    if (whole && find_other(c, c->near, c->aim, &m)) {
        keep_other(c, ST_ALT_WHOLE, &m);
    } else if (whole && free_size->n_wish > 0 && free_size->n_wish < c->near->n_wish &&
               find_other(c, free_size, free_size, &m)) {
        keep_other(c, ST_ALT_WHOLE, &m);
        c->out->volume_let_go[ST_ALT_WHOLE] = c->out->has[ST_ALT_WHOLE];
    }
    free(free_size);
}

/* What rounding amount by amount would have given. */
static void round_each(struct choosing *c)
{
    struct st_making *m = &c->out->rounded;
    memset(m, 0, sizeof *m);
    for (int k = 0; k < c->aim->n_dial; k++) {
        const struct st_kitchen_grid *g = &c->grid[k];
        int near = 0;
        for (int i = 1; i < g->n; i++)
            if (fabs(g->item[i].factor - c->value[k]) < fabs(g->item[near].factor - c->value[k]))
                near = i;
        m->item[k] = g->item[near];
    }
    (void)st_making_draw(c->aim, &c->out->stays, c->kitchen, c->o, true, m);
}

/* It may even be surer than all that lie nearer; then it is taken, if it can be done. */
static void look_at_rounded(struct choosing *c)
{
    struct st_kitchen_result r;
    struct st_problem problem;
    const struct st_making *m = &c->out->rounded;
    const struct st_kitchen_ask ask = {
        .aim = c->near, .grid = c->grid, .stays = &c->out->stays, .keep = 1, .only_within = true
    };
    if (!m->met || !(st_making_worth(m) > st_making_worth(&c->out->best) + 0.005))
        return;
    for (int k = 0; k < c->aim->n_dial; k++) {
        c->grid[k].item[0] = m->item[k];
        c->grid[k].n = 1;
    }
    if (st_kitchen_search(&ask, &r, &problem) >= 0 && r.n_point > 0 && r.point[0].far < ST_KITCHEN_MISSED)
        c->out->best = *m;
    st_kitchen_result_done(&r);
}

/* The same without spoons and cups, which err most: few of these may be among the nearest. */
static void look_at_steady(struct choosing *c)
{
    struct st_making m;
    const unsigned steady = 1u << ST_TOOL_BOTTLE | 1u << ST_TOOL_JUG | 1u << ST_TOOL_SCALE | 1u << ST_TOOL_COUNT_PIECES;
    if (lay_grids(c, c->aim, steady, ST_GRAIN_FINE) && find_other(c, c->near, c->aim, &m) &&
        st_making_worth(&m) > st_making_worth(&c->out->best) + 0.005)
        c->out->best = m;
}

static void least_far(struct choosing *c)
{
    struct st_making *m = &c->out->second;
    memset(m, 0, sizeof *m);
    for (int k = 0; k < c->aim->n_dial; k++)
        m->item[k] = c->grid[k].item[c->out->search.point[0].at[k]];
    (void)st_making_draw(c->aim, &c->out->stays, c->kitchen, c->o, true, m);
}

/* As st_kitchen_rank judges. */
static bool is_preferred(const struct st_making *m, const struct st_making *best)
{
    const double more = st_making_worth(m) - st_making_worth(best);
    return more > 0.01 || (more >= -0.01 && m->fuss < best->fuss - 1e-9);
}

/* What was looked for beside the best may be surer than all that was drawn before, or as sure with less fuss; then it
 * is the best. */
static void take_preferred(struct choosing *c)
{
    struct st_kitchen_choice *out = c->out;
    int top = -1;
    for (int i = 0; i < ST_NALT; i++)
        if (out->has[i] && !out->volume_let_go[i] &&
            is_preferred(&out->other[i], top < 0 ? &out->best : &out->other[top]))
            top = i;
    if (top < 0)
        return;
    out->best = out->other[top];
    out->has[top] = false;
    out->why[top] = ST_WHY_SAME;
    if (out->has[ST_ALT_FEWER] && out->other[ST_ALT_FEWER].tools >= out->best.tools) {
        out->has[ST_ALT_FEWER] = false;
        out->why[ST_ALT_FEWER] = out->best.tools <= 1 ? ST_WHY_ALREADY : ST_WHY_NOT_INSIDE;
    }
    if (out->has[ST_ALT_ROUND] && out->other[ST_ALT_ROUND].fuss >= out->best.fuss - 1e-9) {
        out->has[ST_ALT_ROUND] = false;
        out->why[ST_ALT_ROUND] = ST_WHY_ALREADY;
    }
    if (top != ST_ALT_FEWER && !out->has[ST_ALT_FEWER])
        fewer_tools(c);
}

static bool has_carry(const struct st_aim *a)
{
    for (int i = 0; i < a->n_limit; i++)
        if (a->limit[i].of == ST_LIMIT_CARRY)
            return true;
    return false;
}

static enum st_status choose(struct choosing *c)
{
    struct st_kitchen_choice *out = c->out;
    (void)lay_grids(c, c->aim, ST_KITCHEN_ALL, ST_GRAIN_FINE);
    const struct st_kitchen_ask ask = { .aim = c->near,
                                        .grid = c->grid,
                                        .stays = &out->stays,
                                        .keep = ST_KITCHEN_KEEP,
                                        .gap = GAP,
                                        .exact_nodes = budget(c->near, NODES_EXACT),
                                        .deep_nodes = budget(c->near, NODES_EXACT),
                                        .most_nodes = budget(c->near, NODES),
                                        .near = c->value };
    const enum st_status s = st_kitchen_search(&ask, &out->search, c->problem);
    if (s == ST_E_REFUSED)
        return s;
    if (out->search.n_point == 0) {
        st_say(c->problem->what, sizeof c->problem->what, "no amounts that this kitchen measures keep to the limits",
               NULL, NULL);
        const bool carry = has_carry(c->aim);
        st_say(c->problem->why, sizeof c->problem->why,
               carry ? "what you have, what the jar holds, or what the drink may hold at most lies below its smallest "
                       "measures"
                     : "what you have, or what the jar holds, lies below its smallest measures",
               NULL, NULL);
        st_say(c->problem->try_, sizeof c->problem->try_,
               carry ? "take a finer scale, or leave --kitchen out" : "allow more, or take a scale", NULL, NULL);
        return ST_E_REFUSED;
    }
    out->n_ranked = out->search.n_point;
    if (st_kitchen_rank(c->aim, &out->stays, c->kitchen, c->grid, &out->search, DRAW_BEST, c->o, &out->best,
                        &out->n_drawn) < 0)
        return ST_E_REFUSED;
    least_far(c);
    round_each(c);
    look_at_rounded(c);
    look_at_steady(c);
    fewer_tools(c);
    rounder(c);
    whole_ones(c);
    take_preferred(c);
    weigh_one(c);
    return s;
}

enum st_status st_kitchen_choose(const struct st_aim *a, const struct st_kitchen *kitchen, const double value[],
                                 const struct st_options *o, struct st_kitchen_choice *out, struct st_problem *problem)
{
    memset(out, 0, sizeof *out);
    memset(problem, 0, sizeof *problem);
    struct st_aim *near = malloc(sizeof *near);
    struct choosing c = { a, near, kitchen, value, o, calloc(ST_MAX_DIALS, sizeof *c.grid), out, problem };
    enum st_status s = ST_E_REFUSED;
    if (near && c.grid) {
        look_at_written(a, value, near, &out->stays);
        s = choose(&c);
    } else {
        st_say(problem->what, sizeof problem->what, "memory ran out", NULL, NULL);
    }
    free(near);
    free(c.grid);
    return s;
}

void st_kitchen_choice_done(struct st_kitchen_choice *c)
{
    st_kitchen_result_done(&c->search);
}
