#include <stdlib.h>
#include <string.h>

#include "plan_inside.h"

/* A tape becomes a program: what no result needs is left out, and results share columns once nobody reads them any
 * more. */

void st_tape_needs(const struct st_tape *t, const int *result, int n_result, bool *need)
{
    memset(need, 0, (size_t)t->n_reg * sizeof *need);
    for (int i = 0; i < n_result; i++)
        need[result[i]] = true;
    for (int i = t->n_op - 1; i >= 0; i--) {
        int in[ST_NCOMP];
        if (!need[t->op[i].dst])
            continue;
        for (int k = st_op_reads(t, &t->op[i], in) - 1; k >= 0; k--)
            need[in[k]] = true;
    }
    need[ST_ZERO] = need[ST_ONE] = true;
}

struct layout {
    const struct st_tape *t;
    struct st_program *p;
    bool *need;
    int *column; /* of a register */
    int *last;   /* the last operation that reads it; n_op for results */
    int *spare;  /* columns free again */
    int n_spare;
};

static void place_constants(struct layout *l)
{
    const struct st_tape *t = l->t;
    for (int r = 0; r < t->n_reg; r++)
        if (l->need[r] && t->kind[r] == ST_REG_CONSTANT) {
            l->column[r] = l->p->n_constant;
            l->p->constant[l->p->n_constant++] = t->nominal[r];
        }
}

static void place_inputs(struct layout *l)
{
    for (int i = 0; i < l->t->n_in; i++) {
        const int r = l->t->column_reg[i];
        if (l->need[r]) {
            l->column[r] = l->p->n_constant + l->p->n_in;
            l->p->input[l->p->n_in++] = i;
        }
    }
}

static void find_last_uses(struct layout *l, const int *result, int n_result)
{
    const struct st_tape *t = l->t;
    int in[ST_NCOMP];
    for (int i = 0; i < t->n_op; i++)
        if (l->need[t->op[i].dst])
            for (int k = st_op_reads(t, &t->op[i], in) - 1; k >= 0; k--)
                l->last[in[k]] = i;
    for (int i = 0; i < n_result; i++)
        l->last[result[i]] = t->n_op;
}

static int take_column(struct layout *l)
{
    if (l->n_spare)
        return l->spare[--l->n_spare];
    return l->p->n_constant + l->p->n_in + l->p->n_room++;
}

/* The result gets its column before the operands give up theirs: they must not overlap. */
static void place_op(struct layout *l, int i)
{
    const struct st_tape *t = l->t;
    const struct st_op *op = &t->op[i];
    struct st_op *out = &l->p->op[l->p->n_op++];
    int in[ST_NCOMP];
    const int n = st_op_reads(t, op, in);

    *out = *op;
    if (op->code == ST_OP_DENSITY || op->code == ST_OP_INDEX) {
        out->a = l->p->n_arg;
        for (int k = 0; k < n; k++)
            l->p->arg[l->p->n_arg++] = l->column[in[k]];
    } else {
        out->a = l->column[op->a];
        out->b = op->b < 0 ? -1 : l->column[op->b];
        out->c = op->c < 0 ? -1 : l->column[op->c];
    }
    out->dst = l->column[op->dst] = take_column(l);
    for (int k = 0; k < n; k++)
        if (t->kind[in[k]] == ST_REG_RESULT && l->last[in[k]] == i) {
            l->spare[l->n_spare++] = l->column[in[k]];
            l->last[in[k]] = -1; /* read twice by the same operation: given up once */
        }
}

bool st_program_create(const struct st_tape *t, const int *result, int n_result, struct st_program *p)
{
    const size_t n_reg = (size_t)t->n_reg, n_op = (size_t)t->n_op + 1;
    struct layout l = { .t = t, .p = p };
    memset(p, 0, sizeof *p);
    l.need = calloc(n_reg, sizeof *l.need);
    l.column = calloc(n_reg, sizeof *l.column);
    l.last = calloc(n_reg, sizeof *l.last);
    l.spare = calloc(n_reg, sizeof *l.spare);
    p->op = calloc(n_op, sizeof *p->op);
    p->arg = calloc((size_t)t->n_arg + 1, sizeof *p->arg);
    p->input = calloc((size_t)t->n_in + 1, sizeof *p->input);
    p->output = calloc((size_t)n_result + 1, sizeof *p->output);
    p->constant = calloc(n_reg, sizeof *p->constant);
    const bool room =
        l.need && l.column && l.last && l.spare && p->op && p->arg && p->input && p->output && p->constant;
    if (room) {
        st_tape_needs(t, result, n_result, l.need);
        place_constants(&l);
        place_inputs(&l);
        find_last_uses(&l, result, n_result);
        for (int i = 0; i < t->n_op; i++)
            if (l.need[t->op[i].dst])
                place_op(&l, i);
        for (int i = 0; i < n_result; i++)
            p->output[i] = l.column[result[i]];
        p->n_output = n_result;
    }
    free(l.need);
    free(l.column);
    free(l.last);
    free(l.spare);
    return room;
}

void st_program_done(struct st_program *p)
{
    free(p->op);
    free(p->arg);
    free(p->input);
    free(p->output);
    free(p->constant);
    memset(p, 0, sizeof *p);
}
