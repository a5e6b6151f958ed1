#include "tape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- room ---- */

static void *grown(void *old, int *cap, size_t each, bool *failed)
{
    const int want = *cap ? *cap * 2 : 256;
    void *p = realloc(old, (size_t)want * each);
    if (!p) {
        *failed = true;
        return old;
    }
    *cap = want;
    return p;
}

static bool room_for_register(struct st_tape *t)
{
    if (t->n_reg < t->cap_reg)
        return true;
    int cap = t->cap_reg;
    t->kind = grown(t->kind, &cap, sizeof *t->kind, &t->failed);
    cap = t->cap_reg;
    t->nominal = grown(t->nominal, &cap, sizeof *t->nominal, &t->failed);
    cap = t->cap_reg;
    t->input = grown(t->input, &cap, sizeof *t->input, &t->failed);
    cap = t->cap_reg;
    t->writer = grown(t->writer, &cap, sizeof *t->writer, &t->failed);
    if (!t->failed)
        t->cap_reg = cap;
    return !t->failed;
}

static int new_register(struct st_tape *t, enum st_register kind, double nominal, int input)
{
    if (t->failed || !room_for_register(t))
        return ST_ZERO;
    const int r = t->n_reg++;
    t->kind[r] = (unsigned char)kind;
    t->nominal[r] = nominal;
    t->input[r] = input;
    t->writer[r] = -1;
    return r;
}

void st_tape_init(struct st_tape *t)
{
    memset(t, 0, sizeof *t);
    (void)new_register(t, ST_REG_CONSTANT, 0.0, -1);
    (void)new_register(t, ST_REG_CONSTANT, 1.0, -1);
}

void st_tape_done(struct st_tape *t)
{
    free(t->kind);
    free(t->nominal);
    free(t->input);
    free(t->writer);
    free(t->seen);
    free(t->op);
    free(t->arg);
    free(t->column);
    free(t->column_reg);
    memset(t, 0, sizeof *t);
}

int st_tape_constant(struct st_tape *t, double x)
{
    if (t->failed)
        return ST_ZERO;
    if (x == 0.0)
        return ST_ZERO;
    return x == 1.0 ? ST_ONE : new_register(t, ST_REG_CONSTANT, x, -1);
}

static int add_input(struct st_tape *t, const struct st_column *c)
{
    if (t->n_in == t->cap_in) {
        int cap = t->cap_in;
        t->column = grown(t->column, &cap, sizeof *t->column, &t->failed);
        cap = t->cap_in;
        t->column_reg = grown(t->column_reg, &cap, sizeof *t->column_reg, &t->failed);
        if (t->failed)
            return ST_ZERO;
        t->cap_in = cap;
    }
    const int r = new_register(t, ST_REG_INPUT, c->value, t->n_in);
    if (t->failed)
        return ST_ZERO;
    t->column[t->n_in] = *c;
    t->column_reg[t->n_in++] = r;
    return r;
}

int st_tape_input(struct st_tape *t, const struct st_column *c)
{
    if (t->failed || t->sharp || !(c->low < c->high))
        return st_tape_constant(t, c->value);
    return add_input(t, c);
}

int st_tape_dial(struct st_tape *t, double value, uint32_t id)
{
    const struct st_column c = { .shape = ST_SHAPE_EVEN,
                                 .value = value,
                                 .low = value,
                                 .high = value,
                                 .clip_low = value,
                                 .clip_high = value,
                                 .id = id };
    return t->failed ? ST_ZERO : add_input(t, &c);
}

/* ---- writing operations ---- */

static bool is_constant(const struct st_tape *t, int r)
{
    return t->kind[r] == ST_REG_CONSTANT;
}

int st_op_reads(const struct st_tape *t, const struct st_op *op, int in[ST_NCOMP])
{
    if (op->code == ST_OP_DENSITY || op->code == ST_OP_INDEX) {
        memcpy(in, t->arg + op->a, ST_NCOMP * sizeof *in);
        return ST_NCOMP;
    }
    int n = 0;
    in[n++] = op->a;
    if (op->b >= 0)
        in[n++] = op->b;
    if (op->c >= 0)
        in[n++] = op->c;
    return n;
}

/* The operation on nominal numbers: the same lines of code as for draws. */
static double nominal_of(struct st_tape *t, const struct st_op *op)
{
    int in[ST_NCOMP], arg[ST_NCOMP];
    double number[ST_NCOMP + 1] = { 0 }, y; /* number[0]: the register of zeros */
    const double *reg[ST_NCOMP + 1];
    const int n = st_op_reads(t, op, in);

    for (int i = 0; i <= ST_NCOMP; i++)
        reg[i] = &number[i];
    for (int i = 0; i < n; i++) {
        number[i + 1] = t->nominal[in[i]];
        arg[i] = in[i] == ST_ZERO ? ST_ZERO : i + 1;
    }
    const bool list = op->code == ST_OP_DENSITY || op->code == ST_OP_INDEX;
    const struct st_op one = { op->code, -1, list ? 0 : 1, 2, 3 };
    const enum st_status s = st_op_run(&one, arg, reg, &y, 1);
    if (op->code == ST_OP_DENSITY || op->code == ST_OP_SPIRIT)
        t->status = st_status_worse(t->status, s);
    return y;
}

/* ---- what was written before is not written again ---- */

static unsigned place_of(const struct st_tape *t, const struct st_op *op)
{
    unsigned h = 2166136261u;
    const int part[4] = { (int)op->code, op->a, op->b, op->c };
    for (int i = 0; i < 4; i++)
        h = (h ^ (unsigned)part[i]) * 16777619u;
    return (h ^ (h >> 15)) & (unsigned)(t->cap_seen - 1);
}

static bool is_same(const struct st_op *x, const struct st_op *y)
{
    return x->code == y->code && x->a == y->a && x->b == y->b && x->c == y->c;
}

/* The place of the operation in the table: taken by it, or empty. */
static unsigned find_seen(const struct st_tape *t, const struct st_op *op)
{
    unsigned h = place_of(t, op);
    while (t->seen[h] && !is_same(&t->op[t->seen[h] - 1], op))
        h = (h + 1) & (unsigned)(t->cap_seen - 1);
    return h;
}

/* The table is kept under half full. */
static bool room_to_see(struct st_tape *t)
{
    if (2 * (t->n_op + 1) < t->cap_seen)
        return true;
    free(t->seen);
    t->cap_seen = t->cap_seen ? t->cap_seen * 2 : 1024;
    t->seen = calloc((size_t)t->cap_seen, sizeof *t->seen);
    if (!t->seen) {
        t->failed = true;
        return false;
    }
    for (int i = 0; i < t->n_op; i++)
        t->seen[find_seen(t, &t->op[i])] = i + 1;
    return true;
}

static int write_op(struct st_tape *t, struct st_op op)
{
    if (t->failed || !room_to_see(t))
        return ST_ZERO;
    const unsigned at = find_seen(t, &op);
    if (t->seen[at])
        return t->op[t->seen[at] - 1].dst;
    int in[ST_NCOMP];
    const int n = st_op_reads(t, &op, in);
    bool fixed = true;
    for (int i = 0; i < n; i++)
        fixed = fixed && is_constant(t, in[i]);

    const double x = nominal_of(t, &op);
    if (fixed)
        return st_tape_constant(t, x);
    if (t->n_op == t->cap_op) {
        t->op = grown(t->op, &t->cap_op, sizeof *t->op, &t->failed);
        if (t->failed)
            return ST_ZERO;
    }
    op.dst = new_register(t, ST_REG_RESULT, x, -1);
    if (t->failed)
        return ST_ZERO;
    t->writer[op.dst] = t->n_op;
    t->op[t->n_op++] = op;
    t->seen[at] = t->n_op;
    return op.dst;
}

static int two(struct st_tape *t, enum st_op_code code, int a, int b)
{
    return write_op(t, (struct st_op){ code, -1, a, b, -1 });
}

int st_add(struct st_tape *t, int a, int b)
{
    return a == ST_ZERO ? b : b == ST_ZERO ? a : two(t, ST_OP_ADD, a, b);
}

int st_sub(struct st_tape *t, int a, int b)
{
    return b == ST_ZERO ? a : a == b ? ST_ZERO : two(t, ST_OP_SUB, a, b);
}

/* a (f x) is written as (a f) x: what many components are multiplied by, one share after another, becomes one
 * factor that is worked out once. */
int st_mul(struct st_tape *t, int a, int b)
{
    if (a == ST_ZERO || b == ST_ZERO || t->failed)
        return ST_ZERO;
    if (a == ST_ONE || b == ST_ONE)
        return a == ST_ONE ? b : a;
    if (t->writer[b] >= 0 && t->op[t->writer[b]].code == ST_OP_MUL) {
        const struct st_op inner = t->op[t->writer[b]];
        return two(t, ST_OP_MUL, st_mul(t, a, inner.a), inner.b);
    }
    return two(t, ST_OP_MUL, a, b);
}

int st_ratio(struct st_tape *t, int a, int b)
{
    if (a == ST_ZERO || b == ST_ZERO)
        return ST_ZERO;
    return b == ST_ONE ? a : two(t, ST_OP_RATIO, a, b);
}

int st_min(struct st_tape *t, int a, int b)
{
    return a == b ? a : two(t, ST_OP_MIN, a, b);
}

int st_max(struct st_tape *t, int a, int b)
{
    return a == b ? a : two(t, ST_OP_MAX, a, b);
}

int st_madd(struct st_tape *t, int a, int b, int c)
{
    if (c == ST_ZERO || a == ST_ZERO || b == ST_ZERO || a == ST_ONE || b == ST_ONE)
        return st_add(t, st_mul(t, a, b), c);
    return write_op(t, (struct st_op){ ST_OP_MADD, -1, a, b, c });
}

int st_scaled_by(struct st_tape *t, int a, double x)
{
    return st_mul(t, a, st_tape_constant(t, x));
}

static int listed(struct st_tape *t, enum st_op_code code, const int mass[ST_NCOMP])
{
    while (!t->failed && t->n_arg + ST_NCOMP > t->cap_arg)
        t->arg = grown(t->arg, &t->cap_arg, sizeof *t->arg, &t->failed);
    if (t->failed)
        return ST_ZERO;
    const int first = t->n_arg;
    memcpy(t->arg + first, mass, ST_NCOMP * sizeof *mass);
    t->n_arg += ST_NCOMP;
    return write_op(t, (struct st_op){ code, -1, first, -1, -1 });
}

int st_density(struct st_tape *t, const int mass[ST_NCOMP])
{
    return listed(t, ST_OP_DENSITY, mass);
}

int st_index(struct st_tape *t, const int mass[ST_NCOMP])
{
    return listed(t, ST_OP_INDEX, mass);
}

int st_brix(struct st_tape *t, int n)
{
    return write_op(t, (struct st_op){ ST_OP_BRIX, -1, n, -1, -1 });
}

int st_spirit(struct st_tape *t, int strength)
{
    return write_op(t, (struct st_op){ ST_OP_SPIRIT, -1, strength, -1, -1 });
}
