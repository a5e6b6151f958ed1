#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "kitchen_inside.h"
#include "plan_inside.h"
#include "text.h"

/* How sure a way of measuring is, by linearised variance, then by draws; and what that is worth. */

void st_making_tools(const struct st_aim *a, struct st_making *m)
{
    unsigned seen = 0;
    m->tools = 0;
    m->fuss = 0.0;
    for (int k = 0; k < a->n_dial; k++) {
        m->fuss += m->item[k].fuss;
        if (m->item[k].tool == ST_TOOL_NONE || seen & (1u << m->item[k].tool))
            continue;
        seen |= 1u << m->item[k].tool;
        m->tools += m->item[k].tool != ST_TOOL_COUNT_PIECES; /* fingers */
    }
}

/* Standard deviation of an input. */
static double sd_of(const struct st_column *c)
{
    const double width = c->high - c->low;
    switch (c->shape) {
    case ST_SHAPE_EVEN: return width / sqrt(12.0);
    case ST_SHAPE_PEAK: return width / sqrt(24.0);
    case ST_SHAPE_SPLIT: return width / (2.0 * ST_Z975);
    case ST_SHAPE_NORMAL: return (c->high - c->value) / ST_Z975;
    default: return 0.0;
    }
}

static double normal_below(double z)
{
    return 0.5 * erfc(-z / sqrt(2.0));
}

/* Inside every wish, each by itself, as if the figures were normal and apart: good enough to choose whom to draw for.
 */
static double probability(const struct st_aim *a, const double y[], size_t n)
{
    double all = 1.0;
    for (int w = 0; w < a->n_wish; w++) {
        const struct st_wish *q = &a->wish[w];
        const double *at = y + (size_t)q->of * n, by = q->low == q->high ? q->tolerance : 0.0;
        double variance = 1e-12;
        for (size_t i = 1; i < n; i++)
            variance += (at[i] - at[0]) * (at[i] - at[0]);
        const double sd = sqrt(variance);
        all *= normal_below((q->high + by - at[0]) / sd) - normal_below((q->low - by - at[0]) / sd);
    }
    return all;
}

double st_making_linear(const struct st_aim *a, const struct st_plan *p)
{
    const size_t n_in = (size_t)p->program.n_in, n = n_in + 1;
    double *X = malloc((n_in * n + 1) * sizeof *X), *y = malloc(ST_NFIG * n * sizeof *y), all = (double)NAN;
    for (size_t i = 0; X && i < n_in; i++) {
        const struct st_column *c = &p->tape.column[p->program.input[i]];
        for (size_t j = 0; j < n; j++)
            X[i * n + j] = c->value + (j == i + 1 ? sd_of(c) : 0.0);
    }
    if (X && y && st_plan_evaluate(p, n, X, y) >= 0)
        all = probability(a, y, n);
    free(X);
    free(y);
    return all;
}

enum st_status st_making_draw(const struct st_aim *a, const struct st_stays *stays, const struct st_kitchen *kitchen,
                              const struct st_options *o, bool draw, struct st_making *m)
{
    struct st_problem problem;
    struct st_foretold f;
    struct st_aim_odds odds;
    struct st_recipe *r = st_kitchen_recipe(a, kitchen, m->item);
    struct st_plan *p = r ? st_plan_create(r, &problem) : NULL;
    enum st_status s = p ? ST_OK : ST_E_REFUSED;
    st_making_tools(a, m);
    m->joint = m->linear = (double)NAN;
    if (p && !draw)
        m->linear = st_making_linear(a, p);
    if (p && draw) {
        s = st_plan_run(p, o, &f);
        if (s >= 0) {
            st_aim_odds(a, &f, &odds);
            m->joint = odds.all;
            memcpy(m->each, odds.each, sizeof m->each);
            m->met = true;
            m->score = 0.0;
            for (int k = 0; k < ST_NFIG; k++)
                m->y[k] = f.fig[k].value;
            m->drift = st_stays_drift(stays, m->y, 1);
            for (int w = 0; w < a->n_wish; w++) {
                m->met = m->met && st_wish_miss(&a->wish[w], m->y[a->wish[w].of]) == 0.0;
                m->score = fmax(m->score, st_kitchen_miss(&a->wish[w], m->y[a->wish[w].of]));
            }
        }
        st_foretold_done(&f);
    }
    st_plan_free(p);
    st_aim_recipe_free(r);
    return s;
}

/* Enough to find the surest; what is told of it is drawn in full. */
enum { DRAWS_TO_SCREEN = 1000 };

static void take_point(const struct st_aim *a, const struct st_stays *stays, const struct st_kitchen_grid grid[],
                       const struct st_kitchen_point *p, struct st_making *m)
{
    memset(m, 0, sizeof *m);
    for (int k = 0; k < a->n_dial; k++)
        m->item[k] = grid[k].item[p->at[k]];
    m->score = p->score;
    memcpy(m->y, p->y, sizeof m->y);
    m->drift = st_stays_drift(stays, m->y, 1);
}

/* One making in twenty for a step. */
static const double PER_STEP = 0.05;

double st_making_worth(const struct st_making *m)
{
    return m->joint - PER_STEP * m->drift;
}

static int by_linear(const void *a, const void *b)
{
    const struct st_making *p = a, *q = b;
    const double x = p->linear - PER_STEP * p->drift, y = q->linear - PER_STEP * q->drift;
    return x > y ? -1 : x < y ? 1 : 0;
}

/* The most worth; of those that near it that draws cannot tell them apart, the one with the least fuss. */
static int surest(const struct st_making m[], int n)
{
    int best = -1;
    double top = -HUGE_VAL;
    for (int i = 0; i < n; i++)
        top = fmax(top, st_making_worth(&m[i]));
    for (int i = 0; i < n; i++)
        if (st_making_worth(&m[i]) >= top - 0.01 && (best < 0 || m[i].fuss < m[best].fuss))
            best = i;
    return best;
}

enum st_status st_kitchen_rank(const struct st_aim *a, const struct st_stays *stays, const struct st_kitchen *kitchen,
                               const struct st_kitchen_grid grid[], const struct st_kitchen_result *r, int draw,
                               const struct st_options *o, struct st_making *best, int *drawn)
{
    struct st_options few = *o;
    few.draws = o->draws < DRAWS_TO_SCREEN ? o->draws : DRAWS_TO_SCREEN;
    struct st_making *m = calloc((size_t)r->n_point + 1, sizeof *m);
    enum st_status s = m ? ST_OK : ST_E_NOCONV;
    for (int i = 0; s >= 0 && i < r->n_point; i++) {
        take_point(a, stays, grid, &r->point[i], &m[i]);
        if (r->n_point > draw)
            (void)st_making_draw(a, stays, kitchen, o, false, &m[i]);
    }
    if (s >= 0 && r->n_point > draw)
        qsort(m, (size_t)r->n_point, sizeof *m, by_linear);
    const int n = r->n_point > draw ? draw : r->n_point;
    for (int i = 0; s >= 0 && i < n; i++) {
        const double linear = m[i].linear;
        if (st_making_draw(a, stays, kitchen, &few, true, &m[i]) < 0)
            m[i].joint = -1.0;
        m[i].linear = linear;
    }
    const int i = s >= 0 && n > 0 ? surest(m, n) : -1;
    if (i >= 0)
        *best = m[i];
    if (i >= 0 && few.draws < o->draws)
        s = st_making_draw(a, stays, kitchen, o, true, best);
    else if (i < 0 && s >= 0)
        s = ST_E_REFUSED;
    if (drawn)
        *drawn = n;
    free(m);
    return s;
}
