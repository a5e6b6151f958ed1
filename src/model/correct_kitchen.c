#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "correct_inside.h"
#include "random.h"

/* Exact amounts as a kitchen measures them: the nearest fillings of each, and of all their combinations the one that
 * keeps the certainty and costs least. */

enum { DRAW = ST_CORRECT_THINGS, MOST_NEAR = 6 };

/* What may be measured of one thing. */
struct choice {
    int thing, n;
    struct st_kitchen_item item[MOST_NEAR];
    double x[MOST_NEAR]; /* units */
};

struct choosing {
    struct st_correct_base *b;
    const struct st_correct_search *s;
    struct choice choice[ST_CORRECT_THINGS];
    int n;
    double draw_ml, z;
    double best_cost, best_z;
    bool found, reached; /* reached: the best is as sure as was asked */
    struct st_correct_point point;
    int at[ST_CORRECT_THINGS];
};

/* ---- what can be measured ---- */

static double nearest_mark(double x, double step)
{
    return step * round(x / step);
}

/* Without words of it: a liquid in a jug, what is dry on a scale. */
static void plain_grid(const struct st_correct_thing *t, const struct st_kitchen *k, double x,
                       struct st_kitchen_grid *g)
{
    const double step = t->by_weight                ? fmax(k->scale_step_g, 0.1)
                        : x < 20.0 * k->jug_step_ml ? k->jug_step_ml
                        : x < 50.0 * k->jug_step_ml ? 2.5 * k->jug_step_ml
                                                    : 5.0 * k->jug_step_ml;
    g->n = 0;
    for (int i = -3; i <= 3 && (t->by_weight || k->jug); i++) {
        const double amount = nearest_mark(x, step) + i * step;
        if (amount > 0.0)
            g->item[g->n++] =
                (struct st_kitchen_item){ .factor = amount,
                                          .amount = amount,
                                          .dim = t->by_weight ? ST_DIM_MASS : ST_DIM_VOLUME,
                                          .tool = t->by_weight ? ST_TOOL_SCALE : ST_TOOL_JUG,
                                          .unit = st_unit_by_key(t->by_weight ? "g" : "ml"),
                                          .written = amount,
                                          .fills = t->by_weight ? 1.0 : ceil(amount / k->jug_most_ml - 1e-6) };
    }
}

/* By the line of the thing, with every tool; what is dry by spoon and cup only where the sheet knows its weight. */
static void line_grid(const struct st_correct_thing *t, const struct st_kitchen *k, double x, struct st_kitchen_grid *g)
{
    struct st_aim *a = calloc(1, sizeof *a);
    struct st_line line = *t->line;
    struct st_step step = { .id = "", .words = "", .kind = ST_DO_BLEND, .line = &line, .n_line = 1 };
    const struct st_recipe r = { .file = "", .title = "", .step = &step, .n_step = 1, .measures = k->measures };
    const double written = line.amount.value;
    g->n = 0;
    if (!a)
        return;
    st_aim_init(a, &r);
    a->n_dial = 1;
    a->dial[0] =
        (struct st_aim_dial){ .dial = { 0, 0, ST_DIAL_AMOUNT }, .low = 0.6 * x / written, .high = 1.5 * x / written };
    st_kitchen_grid(a, 0, k, ST_KITCHEN_ALL, ST_GRAIN_FINE, g);
    for (int i = 0; i < g->n; i++)
        g->item[i].factor *= written;
    free(a);
}

static void nearest(const struct st_kitchen_grid *g, double x, double most, int how_many, struct choice *c)
{
    bool taken[ST_KITCHEN_GRID] = { false };
    c->n = 0;
    while (c->n < how_many) {
        int at = -1;
        for (int i = 0; i < g->n; i++)
            if (!taken[i] && g->item[i].factor <= most &&
                (at < 0 || fabs(g->item[i].factor - x) < fabs(g->item[at].factor - x)))
                at = i;
        if (at < 0)
            return;
        taken[at] = true;
        c->item[c->n] = g->item[at];
        c->x[c->n++] = g->item[at].factor;
    }
}

/* ---- how well it is measured ---- */

/* What is dry in a cup or spoon lies looser or tighter: a tenth, from memory. */
static const double PACKING = 0.10;

static struct st_correct_measure measure_of(const struct st_kitchen *k, const struct st_correct_thing *t,
                                            const struct st_kitchen_item *item, double x)
{
    const double size = item->amount / fmax(item->fills, 1.0), root3 = 1.7320508075688772;
    const struct st_tolerance tol =
        k->tools.given[item->tool] ? k->tools.of[item->tool] : st_tolerance_default(item->tool, size);
    const double fills = fmax(item->fills, 1.0), unit = x / item->amount; /* units in one of the item's */
    const double step =
        item->tool == ST_TOOL_SCALE && k->tools.scale_digit_g > 0.0 ? 0.5 * k->tools.scale_digit_g : tol.step;
    double own =
        unit * sqrt(fills) * hypot(tol.fill * size, item->tool == ST_TOOL_SCALE ? sqrt(2.0) * step : step) / root3;
    if (t->by_weight && item->dim == ST_DIM_VOLUME)
        own = hypot(own, PACKING * x / root3);
    return (struct st_correct_measure){ .own = own, .scale = tol.scale / root3, .tool = item->tool };
}

/* ---- all combinations ---- */

static double stands(const struct choosing *c, const struct st_correct_point *p)
{
    double ml = c->b->ask->batch.ml - p->draw_ml;
    for (int i = 0; i < c->b->ask->n_thing; i++)
        ml += p->x[i] * c->b->ml_of[i];
    return ml;
}

static void weigh_up(struct choosing *c, const struct st_correct_point *p, const int at[])
{
    struct st_correct_linear l;
    const double jar = c->b->ask->jar_ml;
    double cost = p->draw_ml * c->s->cost[DRAW], fuss = 0.0;
    if (jar > 0.0 && stands(c, p) > jar)
        return;
    if (st_correct_linearise(c->b, p, &l) < 0)
        return;
    for (int k = 0; k < c->n; k++) {
        cost += c->choice[k].x[at[k]] * c->s->cost[c->choice[k].thing];
        fuss += c->choice[k].item[at[k]].fuss;
    }
    cost *= 1.0 + 0.02 * fmax(fuss, 0.0);
    const double z = st_correct_deviate(c->b->ask, &l);
    const bool reached = z >= c->z;
    if (c->found && (c->reached && !reached))
        return;
    if (c->found && c->reached == reached && (reached ? cost >= c->best_cost : z <= c->best_z))
        return;
    c->found = true;
    c->reached = reached;
    c->best_cost = cost;
    c->best_z = z;
    c->point = *p;
    memcpy(c->at, at, sizeof c->at);
}

static void combine(struct choosing *c)
{
    const struct st_correct_ask *ask = c->b->ask;
    int at[ST_CORRECT_THINGS] = { 0 };
    for (bool more = true; more;) {
        struct st_correct_point p = { .draw_ml = c->draw_ml };
        if (c->draw_ml > 0.0)
            p.draw_with = st_correct_by_jug(c->draw_ml);
        for (int k = 0; k < c->n; k++) {
            const struct choice *o = &c->choice[k];
            p.x[o->thing] = o->x[at[k]];
            p.with[o->thing] = measure_of(ask->kitchen, &ask->thing[o->thing], &o->item[at[k]], o->x[at[k]]);
        }
        weigh_up(c, &p, at);
        int k = 0;
        while (k < c->n && ++at[k] == c->choice[k].n)
            at[k++] = 0;
        more = k < c->n;
    }
}

void st_correct_kitchen(struct st_correct_base *b, struct st_correct_draws *d, const struct st_correct_search *s,
                        struct st_correct_option *o)
{
    const struct st_correct_ask *ask = b->ask;
    struct choosing *c = ask->kitchen ? calloc(1, sizeof *c) : NULL;
    struct st_kitchen_grid *g = c ? malloc(sizeof *g) : NULL;
    bool good = g != NULL;
    if (good) {
        c->b = b;
        c->s = s;
        c->z = st_normal_from_uniform(ask->certainty);
        c->draw_ml = o->made.draw_ml > 0.0 ? 10.0 * ceil(o->made.draw_ml / 10.0 - 1e-6) : 0.0;
        good = c->draw_ml < 0.95 * ask->batch.ml && (c->draw_ml <= ask->draw_most_ml || !(o->made.draw_ml > 0.0));
    }
    for (int k = 0; k < o->n_order && good; k++) {
        const int i = o->order[k];
        const double x = o->made.amount[i];
        if (ask->thing[i].line)
            line_grid(&ask->thing[i], ask->kitchen, x, g);
        else
            plain_grid(&ask->thing[i], ask->kitchen, x, g);
        c->choice[c->n].thing = i;
        nearest(g, x, ask->thing[i].have, o->n_order <= 2 ? MOST_NEAR : o->n_order == 3 ? 5 : 3, &c->choice[c->n]);
        good = c->choice[c->n++].n > 0;
    }
    if (good && c->n > 0)
        combine(c);
    if (good && c->found && st_correct_draw(d, &c->point, &o->kitchen) >= 0) {
        o->has_kitchen = true;
        for (int k = 0; k < c->n; k++)
            o->item[c->choice[k].thing] = c->choice[k].item[c->at[k]];
    }
    free(g);
    free(c);
}
