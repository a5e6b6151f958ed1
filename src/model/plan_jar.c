#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "aim.h"
#include "plan_inside.h"

/* What the sharp plan's dials are set to, and every register after them; one draw. */
static bool run_tape(const struct st_plan *p, const double factor[], double *value)
{
    const struct st_tape *t = &p->tape;
    const double **reg = malloc((size_t)t->n_reg * sizeof *reg);
    if (!reg)
        return false;
    memcpy(value, t->nominal, (size_t)t->n_reg * sizeof *value);
    for (int r = 0; r < t->n_reg; r++)
        reg[r] = &value[r];
    for (int k = 0; k < p->n_dial; k++)
        value[p->dial_reg[k]] = factor[k];
    for (int i = 0; i < t->n_op; i++)
        (void)st_op_run(&t->op[i], t->arg, reg, &value[t->op[i].dst], 1);
    free(reg);
    return true;
}

enum st_status st_plan_jar_at(const struct st_plan *p, int step, const double factor[], double *ml)
{
    if (step < 0 || step >= p->recipe->n_step)
        return ST_E_DOMAIN;
    const struct st_plan *of = p->sharp && factor ? p->sharp : p;
    const int filled = of->account[step].filled;
    double x = of->tape.nominal[filled];
    if (of == p->sharp) {
        double *value = malloc((size_t)of->tape.n_reg * sizeof *value);
        if (!value || !run_tape(of, factor, value)) {
            free(value);
            return ST_E_NOCONV;
        }
        x = value[filled];
        free(value);
    }
    if (!isfinite(x))
        return ST_E_DOMAIN;
    *ml = x;
    return of->account[step].status < 0 ? of->account[step].status : ST_OK;
}
