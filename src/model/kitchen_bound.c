#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/strength.h"
#include "interval.h"
#include "kitchen.h"
#include "plan_inside.h"

/* Intervals through the tape of a sharp plan (kitchen.h, "enclosures"). */

/* d(mass fraction of ethanol)/d(% vol) of a spirit lies between these; scanned in the tests. */
static const iv SPIRIT_SLOPE = { 0.0070, 0.0220 };

struct st_enclosure {
    const struct st_plan *plan, *sharp;
    enum st_figure figure[ST_KITCHEN_FIGURES];
    int n_figure, n_dial, n_value;
    int *input, *arg, *output; /* places of the dials, in lists, and of what comes out */
    struct st_op *op;          /* as of the program, but each result has a place of its own */
    iv *value, *before;        /* [n_value] */
    iv *slope;                 /* [n_value * n_dial] */
    unsigned *depends;         /* [n_value] bits of dials */
    unsigned ask;              /* slopes along these dials run along */
};

/* ---- one operation ---- */

static iv *slope(struct st_enclosure *b, int column)
{
    return b->slope + (size_t)column * (size_t)b->n_dial;
}

static iv slope_of(const struct st_enclosure *b, int column, int k)
{
    return b->depends[column] & b->ask & (1u << k) ? b->slope[(size_t)column * (size_t)b->n_dial + (size_t)k]
                                                   : (iv){ 0.0, 0.0 };
}

static void masses(const iv value[], const int *column, iv m[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        m[c] = value[column[c]];
}

iv st_interval_op(const iv value[], const struct st_op *op, const int *arg)
{
    if (op->code == ST_OP_DENSITY) {
        iv m[ST_NCOMP];
        masses(value, arg + op->a, m);
        return st_mix_density(m);
    }
    if (op->code == ST_OP_INDEX || op->code == ST_OP_BRIX)
        return EVERYTHING;
    const iv x = value[op->a], y = op->b >= 0 ? value[op->b] : x;
    double p, q;
    switch (op->code) {
    case ST_OP_ADD: return add(x, y);
    case ST_OP_SUB: return sub(x, y);
    case ST_OP_MUL: return mul(x, y);
    case ST_OP_RATIO: return over(x, y);
    case ST_OP_MIN: return (iv){ smaller(x.low, y.low), smaller(x.high, y.high) };
    case ST_OP_MAX: return (iv){ larger(x.low, y.low), larger(x.high, y.high) };
    case ST_OP_MADD: return add(mul(x, y), value[op->c]);
    case ST_OP_SPIRIT:
        if (st_p_from_strength(x.low, &p) < 0 || st_p_from_strength(x.high, &q) < 0)
            return EVERYTHING;
        return wide(p * (1.0 - 1e-12), q * (1.0 + 1e-12));
    default: return EVERYTHING;
    }
}

/* d(density) = sum (1 - rho v_c) dm_c / V */
static iv density_slope(const struct st_enclosure *b, const struct st_op *op, const int *arg, iv rho, int k)
{
    iv m[ST_NCOMP], sum = { 0.0, 0.0 };
    masses(b->value, arg + op->a, m);
    const int row = st_mix_row(m);
    const iv V = st_mix_volume(m);
    if (row < 0 || !(V.low > 0.0))
        return EVERYTHING;
    for (int c = 0; c < ST_NCOMP; c++) {
        const iv per =
            sub((iv){ 1.0, 1.0 }, scaled(mul(rho, st_mix_partial(row, c)), 1e-3)); /* v in mL/g, rho in kg/m3 */
        sum = add(sum, mul(per, slope_of(b, arg[op->a + c], k)));
    }
    return scaled(over(sum, V), 1000.0);
}

static iv slope_at(const struct st_enclosure *b, const struct st_op *op, const int *arg, iv y, int k)
{
    if (op->code == ST_OP_DENSITY)
        return density_slope(b, op, arg, y, k);
    if (op->code == ST_OP_INDEX || op->code == ST_OP_BRIX)
        return EVERYTHING;
    const iv u = b->value[op->a], v = op->b >= 0 ? b->value[op->b] : u;
    const iv du = slope_of(b, op->a, k), dv = op->b >= 0 ? slope_of(b, op->b, k) : du;
    switch (op->code) {
    case ST_OP_ADD: return add(du, dv);
    case ST_OP_SUB: return sub(du, dv);
    case ST_OP_MUL: return add(mul(du, v), mul(u, dv));
    case ST_OP_MADD: return add(add(mul(du, v), mul(u, dv)), slope_of(b, op->c, k));
    case ST_OP_RATIO: return over(sub(du, mul(y, dv)), v);
    case ST_OP_MIN: return u.high < v.low ? du : v.high < u.low ? dv : hull(du, dv);
    case ST_OP_MAX: return u.low > v.high ? du : v.low > u.high ? dv : hull(du, dv);
    case ST_OP_SPIRIT: return mul(SPIRIT_SLOPE, du);
    default: return EVERYTHING;
    }
}

static int dial_of(const struct st_plan *sharp, int input)
{
    int k = 0;
    while (k < sharp->n_dial && sharp->dial_reg[k] != sharp->tape.column_reg[input])
        k++;
    return k;
}

static unsigned depends_on(const struct st_enclosure *b, const struct st_op *op, const int *arg)
{
    unsigned d = 0;
    if (op->code == ST_OP_DENSITY || op->code == ST_OP_INDEX) {
        for (int c = 0; c < ST_NCOMP; c++)
            d |= b->depends[arg[op->a + c]];
        return d;
    }
    d = b->depends[op->a];
    if (op->b >= 0)
        d |= b->depends[op->b];
    return op->c >= 0 ? d | b->depends[op->c] : d;
}

static void run_op(struct st_enclosure *b, const struct st_op *op)
{
    b->value[op->dst] = st_interval_op(b->value, op, b->arg);
    const unsigned along = b->depends[op->dst] & b->ask;
    for (int k = 0; along >> k; k++)
        if (along & (1u << k))
            slope(b, op->dst)[k] = slope_at(b, op, b->arg, b->value[op->dst], k);
}

static void run(struct st_enclosure *b, const double low[], const double high[], unsigned ask)
{
    b->ask = ask;
    for (int k = 0; k < b->n_dial; k++)
        if (b->input[k] >= 0)
            b->value[b->input[k]] = (iv){ low[k], high[k] };
    for (int i = 0; i < b->sharp->program.n_op; i++)
        run_op(b, &b->op[i]);
}

/* ---- figures ---- */

static const double INVERT = 1.052632; /* as in figures.c */

/* X of a figure that is X/V, times what makes its unit; false: the figure is none. */
static bool is_share(enum st_figure f, double c_of[ST_NCOMP], double *factor)
{
    memset(c_of, 0, ST_NCOMP * sizeof *c_of);
    *factor = 1000.0; /* g/mL to g/L */
    switch (f) {
    case ST_FIG_STRENGTH: {
        double rho = 789.239;
        (void)st_spirit_density(100.0, &rho);
        c_of[ST_ETHANOL] = 1.0;
        *factor = 1e5 / rho;
        return true;
    }
    case ST_FIG_EXTRACT:
        c_of[ST_ACID] = c_of[ST_POLYOL] = c_of[ST_PROTEIN] = c_of[ST_EXTRACT] = 1.0;
        /* fall through */
    case ST_FIG_SUGAR: c_of[ST_SUCROSE] = c_of[ST_GLUCOSE] = c_of[ST_FRUCTOSE] = c_of[ST_LACTOSE] = 1.0; return true;
    case ST_FIG_SUGAR_INVERT:
        c_of[ST_SUCROSE] = INVERT;
        c_of[ST_GLUCOSE] = c_of[ST_FRUCTOSE] = c_of[ST_LACTOSE] = 1.0;
        return true;
    case ST_FIG_ACID: c_of[ST_ACID] = 1.0; return true;
    case ST_FIG_FAT: c_of[ST_FAT] = 1.0; return true;
    case ST_FIG_DENSITY:
        for (int c = 0; c < ST_NCOMP; c++)
            c_of[c] = 1.0;
        return true;
    default: return false;
    }
}

static bool is_volume(enum st_figure f)
{
    return f == ST_FIG_VOLUME || f == ST_FIG_BOTTLES;
}

static void drink(const struct st_enclosure *b, iv m[ST_NCOMP])
{
    masses(b->value, b->output + ST_NFIG, m);
}

static double bottle_share(const struct st_enclosure *b, enum st_figure f)
{
    const double size = b->plan->recipe->step[b->plan->recipe->n_step - 1].bottle_ml;
    return f == ST_FIG_BOTTLES && size > 0.0 ? 1.0 / size : 1.0;
}

static iv figure_of(const struct st_enclosure *b, enum st_figure f)
{
    double c_of[ST_NCOMP], factor;
    iv m[ST_NCOMP];
    if (b->sharp->figure[f] < 0)
        return EVERYTHING;
    drink(b, m);
    if (is_share(f, c_of, &factor)) {
        const iv r = st_mix_ratio(c_of, m);
        return r.high < HUGE_VAL ? scaled(r, factor) : EVERYTHING;
    }
    if (is_volume(f))
        return scaled(st_mix_volume(m), bottle_share(b, f));
    return b->value[b->output[f]];
}

void st_enclosure_run(struct st_enclosure *b, const double low[], const double high[], struct st_interval_of y[])
{
    run(b, low, high, 0u);
    for (int i = 0; i < b->n_figure; i++)
        y[i] = figure_of(b, b->figure[i]);
}

/* ---- signs ---- */

struct part {
    iv x, v; /* X and V with one dial at its low end */
};

static iv volume_slope(const struct st_enclosure *b, const iv m[ST_NCOMP], int k)
{
    const int row = st_mix_row(m);
    iv sum = { 0.0, 0.0 };
    if (row < 0)
        return EVERYTHING;
    for (int c = 0; c < ST_NCOMP; c++)
        sum = add(sum, mul(st_mix_partial(row, c), slope_of(b, b->output[ST_NFIG + c], k)));
    return sum;
}

static iv share_slope(const struct st_enclosure *b, const double c_of[ST_NCOMP], int k)
{
    iv sum = { 0.0, 0.0 };
    for (int c = 0; c < ST_NCOMP; c++)
        if (c_of[c] > 0.0)
            sum = add(sum, scaled(slope_of(b, b->output[ST_NFIG + c], k), c_of[c]));
    return sum;
}

/* The numerator X'V - XV' of the slope of X/V along dial k.  With t how far the dial is above its low end, X = X0 + x t
 * and V = V0 + v t for some slopes x, v met on the way: X'V0 - V'X0 + t (X'v - V'x), and what the dial itself brings to
 * X and to V nearly cancels in the last. */
static iv numerator(iv dx, iv dv, struct part at_low, double width)
{
    const iv first = sub(mul(dx, at_low.v), mul(dv, at_low.x));
    const iv rest = sub(mul(dx, dv), mul(dv, dx));
    return add(first, mul((iv){ 0.0, width }, rest));
}

/* X0, V0 of every share figure with dial k at its low end: only what depends on it is reckoned anew. */
static void at_low_end(struct st_enclosure *b, double low, int k, struct part part[])
{
    double c_of[ST_NCOMP], factor;
    iv m[ST_NCOMP];
    memcpy(b->before, b->value, (size_t)b->n_value * sizeof *b->value);
    if (b->input[k] >= 0)
        b->value[b->input[k]] = (iv){ low, low };
    for (int i = 0; i < b->sharp->program.n_op; i++)
        if (b->depends[b->op[i].dst] & (1u << k))
            b->value[b->op[i].dst] = st_interval_op(b->value, &b->op[i], b->arg);
    drink(b, m);
    const iv v = st_mix_volume(m);
    for (int i = 0; i < b->n_figure; i++)
        part[i] = (struct part){ is_share(b->figure[i], c_of, &factor) ? st_mix_total(c_of, m) : (iv){ 0.0, 0.0 }, v };
    memcpy(b->value, b->before, (size_t)b->n_value * sizeof *b->value);
}

void st_enclosure_slopes(struct st_enclosure *b, const double low[], const double high[], unsigned ask,
                         struct st_interval_of slope[][ST_MAX_DIALS])
{
    iv dx[ST_KITCHEN_FIGURES][ST_MAX_DIALS], dv[ST_MAX_DIALS], m[ST_NCOMP];
    double c_of[ST_NCOMP], factor;
    run(b, low, high, ask);
    drink(b, m);
    const iv v = st_mix_volume(m), v_v = mul(v, v);
    for (int k = 0; k < b->n_dial; k++)
        if (ask & (1u << k))
            dv[k] = volume_slope(b, m, k);
    for (int i = 0; i < b->n_figure; i++) {
        const enum st_figure f = b->figure[i];
        for (int k = 0; k < b->n_dial; k++) {
            if (!(ask & (1u << k)))
                continue;
            if (b->sharp->figure[f] < 0)
                slope[i][k] = EVERYTHING;
            else if (is_share(f, c_of, &factor))
                dx[i][k] = share_slope(b, c_of, k);
            else
                slope[i][k] = is_volume(f) ? scaled(dv[k], bottle_share(b, f)) : slope_of(b, b->output[f], k);
        }
    }
    for (int k = 0; k < b->n_dial; k++) {
        struct part part[ST_KITCHEN_FIGURES];
        if (!(ask & (1u << k)))
            continue;
        at_low_end(b, low[k], k, part);
        for (int i = 0; i < b->n_figure; i++)
            if (b->sharp->figure[b->figure[i]] >= 0 && is_share(b->figure[i], c_of, &factor))
                slope[i][k] = scaled(over(numerator(dx[i][k], dv[k], part[i], high[k] - low[k]), v_v), factor);
    }
}

/* ---- room ---- */

static bool make_room(struct st_enclosure *b)
{
    const struct st_program *g = &b->sharp->program;
    const size_t n = (size_t)(b->n_value = g->n_constant + g->n_in + g->n_op) + 1, n_dial = (size_t)b->n_dial + 1;
    b->input = malloc(n_dial * sizeof *b->input);
    b->arg = malloc(((size_t)g->n_arg + 1) * sizeof *b->arg);
    b->output = malloc(((size_t)g->n_output + 1) * sizeof *b->output);
    b->op = malloc(((size_t)g->n_op + 1) * sizeof *b->op);
    b->value = calloc(n, sizeof *b->value);
    b->before = calloc(n, sizeof *b->before);
    b->slope = calloc(n * n_dial, sizeof *b->slope);
    b->depends = calloc(n, sizeof *b->depends);
    return b->input && b->arg && b->output && b->op && b->value && b->before && b->slope && b->depends;
}

/* Each result gets a place of its own: where[column] is the place of what lies in a column just now. */
static void lay_op(struct st_enclosure *b, int i, int where[])
{
    const struct st_program *g = &b->sharp->program;
    struct st_op *op = &b->op[i];
    *op = g->op[i];
    if (op->code == ST_OP_DENSITY || op->code == ST_OP_INDEX) {
        for (int c = 0; c < ST_NCOMP; c++)
            b->arg[op->a + c] = where[g->arg[op->a + c]];
    } else {
        op->a = where[op->a];
        op->b = op->b >= 0 ? where[op->b] : -1;
        op->c = op->c >= 0 ? where[op->c] : -1;
    }
    op->dst = g->n_constant + g->n_in + i;
    where[g->op[i].dst] = op->dst;
    b->depends[op->dst] = depends_on(b, op, b->arg);
}

static bool lay_out(struct st_enclosure *b)
{
    const struct st_program *g = &b->sharp->program;
    int *where = malloc((size_t)(g->n_constant + g->n_in + g->n_room + 1) * sizeof *where);
    if (!where)
        return false;
    for (int i = 0; i < g->n_constant + g->n_in + g->n_room; i++)
        where[i] = i < g->n_constant + g->n_in ? i : 0;
    for (int i = 0; i < g->n_constant; i++)
        b->value[i] = (iv){ g->constant[i], g->constant[i] };
    for (int k = 0; k < b->n_dial; k++)
        b->input[k] = -1;
    for (int i = 0; i < g->n_in; i++) {
        const int column = g->n_constant + i, k = dial_of(b->sharp, g->input[i]);
        b->input[k] = column;
        b->depends[column] = 1u << k;
        slope(b, column)[k] = (iv){ 1.0, 1.0 };
    }
    for (int i = 0; i < g->n_op; i++)
        lay_op(b, i, where);
    for (int i = 0; i < g->n_output; i++)
        b->output[i] = g->output[i] >= 0 ? where[g->output[i]] : -1;
    free(where);
    return true;
}

struct st_enclosure *st_enclosure_create(const struct st_plan *p, const enum st_figure figure[], int n_figure)
{
    if (!p->sharp || n_figure > ST_KITCHEN_FIGURES)
        return NULL;
    struct st_enclosure *b = calloc(1, sizeof *b);
    if (!b)
        return NULL;
    b->plan = p;
    b->sharp = p->sharp;
    b->n_dial = p->n_dial;
    b->n_figure = n_figure;
    memcpy(b->figure, figure, (size_t)n_figure * sizeof *figure);
    if (make_room(b) && lay_out(b))
        return b;
    st_enclosure_free(b);
    return NULL;
}

void st_enclosure_free(struct st_enclosure *b)
{
    if (!b)
        return;
    free(b->input);
    free(b->arg);
    free(b->output);
    free(b->op);
    free(b->value);
    free(b->before);
    free(b->slope);
    free(b->depends);
    free(b);
}
