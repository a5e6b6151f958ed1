#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "aim.h"
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
    int out[ST_AIM_LIMITS + 2 * ST_MAX_TAKES], n = 0;
    if (!need)
        return false;
    for (int i = 0; i < j->n; i++)
        out[n++] = j->filled[i];
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

struct st_jars *st_jars_create(const struct st_plan *p, const int step[], int n)
{
    struct st_jars *j = calloc(1, sizeof *j);
    if (!j)
        return NULL;
    j->of = p->sharp ? p->sharp : p;
    j->n = n < ST_AIM_LIMITS ? n : ST_AIM_LIMITS;
    const struct st_tape *t = &j->of->tape;
    for (int i = 0; i < j->n; i++)
        j->filled[i] = step[i] >= 0 && step[i] < p->recipe->n_step ? j->of->account[step[i]].filled : ST_ZERO;
    for (int i = 0; i < j->of->n_take; i++)
        if (!asks_too_much(j->of->take[i], t->nominal))
            j->take[j->n_take++] = j->of->take[i];
    j->op = malloc(((size_t)t->n_op + 1) * sizeof *j->op);
    j->value = malloc((size_t)t->n_reg * sizeof *j->value);
    j->reg = malloc((size_t)t->n_reg * sizeof *j->reg);
    if (j->op && j->value && j->reg && gather(j, t))
        return j;
    st_jars_free(j);
    return NULL;
}

enum st_status st_jars_at(struct st_jars *j, const double factor[], double ml[])
{
    const struct st_plan *p = j->of;
    for (int k = 0; factor && k < p->n_dial; k++)
        j->value[p->dial_reg[k]] = factor[k];
    for (int i = 0; factor && i < j->n_op; i++)
        (void)st_op_run(j->op[i], p->tape.arg, j->reg, &j->value[j->op[i]->dst], 1);
    for (int i = 0; i < j->n; i++)
        if (!isfinite(j->value[j->filled[i]]))
            return ST_E_DOMAIN;
    for (int i = 0; i < j->n; i++)
        ml[i] = j->value[j->filled[i]];
    return ST_OK;
}
