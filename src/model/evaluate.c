#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan_inside.h"
#include "vector.h"

enum { BLOCK = ST_TAPE_BLOCK };

/* Infinite and NaN have all bits of the exponent set. */
ST_MODEL_CLONES static bool all_finite(const double *x, size_t n)
{
    const uint64_t exponent = 0x7FF0000000000000u;
    uint64_t bad = 0;
    for (size_t i = 0; i < n; i++) {
        uint64_t bits;
        memcpy(&bits, &x[i], sizeof bits);
        bad |= (bits & exponent) == exponent ? 1u : 0u;
    }
    return bad == 0;
}

struct columns {
    const double **reg; /* [n_reg] to read */
    double **out;       /* [n_reg] to write: room only */
    double *store;
};

static size_t inputs_first(const struct st_program *p)
{
    return (size_t)p->n_constant;
}

/* Columns of constants are filled once; those of inputs and of results are room. */
static bool lay_columns(const struct st_program *p, struct columns *c)
{
    const size_t n_reg = (size_t)p->n_constant + (size_t)p->n_in + (size_t)p->n_room;
    c->reg = malloc(n_reg * sizeof *c->reg);
    c->out = calloc(n_reg, sizeof *c->out);
    c->store = aligned_alloc(64, n_reg * BLOCK * sizeof *c->store);
    if (!c->reg || !c->out || !c->store)
        return false;
    for (size_t r = 0; r < n_reg; r++) {
        c->reg[r] = c->out[r] = c->store + r * BLOCK;
        for (size_t k = 0; r < inputs_first(p) && k < BLOCK; k++)
            c->out[r][k] = p->constant[r];
    }
    return true;
}

static void drop_columns(struct columns *c)
{
    free(c->reg);
    free(c->out);
    free(c->store);
}

/* Operations of one code that follow each other run together. */
static void run_block(const struct st_program *p, const struct columns *c, size_t n)
{
    for (int i = 0; i < p->n_op;) {
        int k = i + 1;
        while (k < p->n_op && p->op[k].code == p->op[i].code)
            k++;
        (void)st_ops_run(&p->op[i], k - i, p->arg, c->reg, c->out, n);
        i = k;
    }
}

enum st_status st_program_run(const struct st_program *p, size_t n, const double *X, double *y)
{
    struct columns c = { NULL, NULL, NULL };
    enum st_status s = lay_columns(p, &c) ? ST_OK : ST_E_NOCONV;
    for (size_t first = 0; s >= 0 && first < n; first += BLOCK) {
        const size_t m = n - first < BLOCK ? n - first : BLOCK;
        for (size_t i = 0; i < (size_t)p->n_in; i++) {
            c.reg[inputs_first(p) + i] = X + i * n + first;
            if (!all_finite(X + i * n + first, m))
                s = ST_E_DOMAIN;
        }
        if (s < 0)
            break;
        run_block(p, &c, m);
        for (int o = 0; o < p->n_output; o++)
            memcpy(y + (size_t)o * n + first, c.reg[p->output[o]], m * sizeof *y);
    }
    drop_columns(&c);
    return s;
}

/* Every draw of these columns is finite: no deviate is beyond 10. */
static bool columns_finite(const struct st_program *p, const struct st_column *column)
{
    for (int i = 0; i < p->n_in; i++) {
        const struct st_column *c = &column[p->input[i]];
        if (!(fabs(c->value) < 1e300 && fabs(c->low) < 1e300 && fabs(c->high) < 1e300))
            return false;
    }
    return true;
}

/* Inputs are drawn block by block where the operations read them: they are never written to memory as a whole. */
enum st_status st_plan_draw(const struct st_plan *plan, uint64_t seed, size_t n, double *const column[])
{
    const struct st_program *p = &plan->program;
    struct columns c = { NULL, NULL, NULL };
    enum st_status s = lay_columns(p, &c) ? ST_OK : ST_E_NOCONV;
    if (!columns_finite(p, plan->tape.column))
        s = ST_E_DOMAIN;
    for (size_t first = 0; s >= 0 && first < n; first += BLOCK) {
        const size_t m = n - first < BLOCK ? n - first : BLOCK;
        for (size_t i = 0; i < (size_t)p->n_in; i++)
            st_column_draw(&plan->tape.column[p->input[i]], seed, first, m, c.out[inputs_first(p) + i]);
        run_block(p, &c, m);
        for (int o = 0; o < p->n_output; o++)
            if (column[o])
                memcpy(column[o] + first, c.reg[p->output[o]], m * sizeof **column);
    }
    drop_columns(&c);
    return s;
}

/* ---- plans ---- */

int st_plan_n_inputs(const struct st_plan *p)
{
    return p->program.n_in;
}

void st_plan_inputs(const struct st_plan *p, uint64_t seed, size_t first, size_t n, double *X)
{
    for (int i = 0; i < p->program.n_in; i++)
        st_column_draw(&p->tape.column[p->program.input[i]], seed, first, n, X + (size_t)i * n);
}

static enum st_status worst_status(const struct st_plan *p)
{
    enum st_status s = ST_OK;
    for (int f = 0; f < ST_NFIG; f++)
        if (p->figure[f] >= 0)
            s = st_status_worse(s, p->figure_status[f]);
    return s;
}

enum st_status st_plan_evaluate(const struct st_plan *p, size_t n, const double *X, double *y)
{
    const size_t outputs = (size_t)p->program.n_output;
    double *all = outputs == ST_NFIG ? y : malloc((outputs * n + 1) * sizeof *all);
    if (!all)
        return ST_E_NOCONV;
    const enum st_status s = st_program_run(&p->program, n, X, all);
    if (s >= 0) {
        if (all != y)
            memcpy(y, all, ST_NFIG * n * sizeof *y);
        for (int f = 0; f < ST_NFIG; f++)
            if (p->figure[f] < 0)
                for (size_t i = 0; i < n; i++)
                    y[(size_t)f * n + i] = (double)NAN;
    }
    if (all != y)
        free(all);
    return s < 0 ? s : worst_status(p);
}

/* ---- balance ---- */

/* Every register of the tape for one draw. */
static bool one_draw(const struct st_plan *p, const double *x, double *value)
{
    const struct st_tape *t = &p->tape;
    const double **reg = malloc((size_t)t->n_reg * sizeof *reg);
    if (!reg)
        return false;
    for (int r = 0; r < t->n_reg; r++) {
        value[r] = t->nominal[r];
        reg[r] = &value[r];
    }
    for (int i = 0; x && i < p->program.n_in; i++)
        value[t->column_reg[p->program.input[i]]] = x[i];
    for (int i = 0; x && i < t->n_op; i++)
        (void)st_op_run(&t->op[i], t->arg, reg, &value[t->op[i].dst], 1);
    free(reg);
    return true;
}

static void fill_balance(const struct st_step_account *a, const double *value, struct st_balance *out)
{
    for (int c = 0; c < ST_NCOMP; c++) {
        out->in_g[c] = value[a->in[c]];
        out->mass_g[c] = value[a->out[c]];
        out->spent_g[c] = value[a->spent[c]];
        out->lost_g[c] = value[a->lost[c]];
    }
    out->strength = value[a->strength];
    out->sugar = value[a->sugar];
    out->volume_ml = value[a->volume];
    out->density = value[a->density];
    out->strength_in_steep = value[a->strength_in_steep];
    out->lying_ethanol_g = value[a->lying];
}

enum st_status st_plan_balance(const struct st_plan *p, const double *x, struct st_balance *out)
{
    if (x && !all_finite(x, (size_t)p->program.n_in))
        return ST_E_DOMAIN;
    double *value = malloc((size_t)p->tape.n_reg * sizeof *value);
    if (!value || !one_draw(p, x, value)) {
        free(value);
        return ST_E_NOCONV;
    }
    for (int i = 0; i < p->recipe->n_step; i++) {
        memset(&out[i], 0, sizeof out[i]);
        out[i].step = i;
        out[i].status = p->account[i].status;
        fill_balance(&p->account[i], value, &out[i]);
        st_balance_close(p, i, value, &out[i]);
    }
    free(value);
    return ST_OK;
}
