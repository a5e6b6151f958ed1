#ifndef ST_MODEL_TAPE_H
#define ST_MODEL_TAPE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "core/mixture.h"
#include "model/range.h"

/* A calculation written down once and repeated for many draws: a flat list of operations on registers.  A register
 * is a number that differs from draw to draw: an uncertain input, a constant, or the result of one operation.
 * While the tape is written every register also gets its nominal number (all inputs at their value), so that the
 * writer can look at it, and operations on constants are worked out at once and leave no trace. */

enum st_op_code {
    ST_OP_ADD,     /* a + b */
    ST_OP_SUB,     /* a - b */
    ST_OP_MUL,     /* a b */
    ST_OP_RATIO,   /* a/b, 0 where b = 0; b is never negative */
    ST_OP_MIN,     /* the smaller of a, b */
    ST_OP_MAX,     /* the larger of a, b */
    ST_OP_MADD,    /* a b + c, rounded twice */
    ST_OP_DENSITY, /* kg/m3 at 20 C of the masses in list; water's where all are 0 */
    ST_OP_INDEX,   /* index of refraction at 20 C of the masses in list, likewise */
    ST_OP_BRIX,    /* mass per cent of the sugar scale at index a; NaN off the scale */
    ST_OP_SPIRIT,  /* mass fraction of ethanol in a spirit of a % vol */
    ST_NOP
};

struct st_op {
    enum st_op_code code;
    int dst;
    int a, b, c; /* registers, or -1; for ST_OP_DENSITY and ST_OP_INDEX a = first of ST_NCOMP entries in arg[] */
};

enum st_register { ST_REG_CONSTANT, ST_REG_INPUT, ST_REG_RESULT };

struct st_tape {
    int n_reg, n_op, n_in, n_arg;
    unsigned char *kind; /* [n_reg] enum st_register */
    double *nominal;     /* [n_reg] */
    int *input;          /* [n_reg] which input, for ST_REG_INPUT */
    struct st_op *op;
    int *arg;                 /* registers of lists */
    struct st_column *column; /* [n_in] */
    int *column_reg;          /* [n_in] */
    int *writer;              /* [n_reg] the operation that writes a register, or -1 */
    int *seen;                /* table by hash: operation + 1 of what was written before, 0 empty */
    int cap_reg, cap_op, cap_in, cap_arg, cap_seen;
    enum st_status status; /* worst of the nominal densities */
    bool sharp;            /* inputs become constants at their value; only dials move */
    bool failed;           /* memory ran out: what follows writes nothing, and the tape is of no use */
};

/* Registers that always exist. */
enum { ST_ZERO, ST_ONE };

void st_tape_init(struct st_tape *t);
void st_tape_done(struct st_tape *t);

/* Write one step and get the register of its result (an existing one where nothing needs to be done). */
int st_tape_constant(struct st_tape *t, double x);
int st_tape_input(struct st_tape *t, const struct st_column *c); /* a constant when low = high */
int st_tape_dial(struct st_tape *t, double value, uint32_t id); /* an input that is set, never drawn */
int st_add(struct st_tape *t, int a, int b);
int st_sub(struct st_tape *t, int a, int b);
int st_mul(struct st_tape *t, int a, int b);
int st_ratio(struct st_tape *t, int a, int b);
int st_min(struct st_tape *t, int a, int b);
int st_max(struct st_tape *t, int a, int b);
int st_madd(struct st_tape *t, int a, int b, int c);
int st_density(struct st_tape *t, const int mass[ST_NCOMP]);
int st_index(struct st_tape *t, const int mass[ST_NCOMP]);
int st_brix(struct st_tape *t, int n);
int st_spirit(struct st_tape *t, int strength);
int st_scaled_by(struct st_tape *t, int a, double x); /* a x */

/* Which registers an operation reads: up to ST_NCOMP into in[]; returns how many. */
int st_op_reads(const struct st_tape *t, const struct st_op *op, int in[ST_NCOMP]);

/* Run one operation on n <= ST_TAPE_BLOCK draws: reg[i] is the column of register i, y the column of the result, not
 * overlapping them.  Status: the worst of the draws; a negative one leaves NaN in the draws concerned. */
enum { ST_TAPE_BLOCK = 128 };
enum st_status st_op_run(const struct st_op *op, const int *arg, const double *const reg[], double *y, size_t n);
/* The same for count operations of one code that follow each other; out[dst] is the column of a result. */
enum st_status st_ops_run(const struct st_op *op, int count, const int *arg, const double *const reg[],
                          double *const out[], size_t n);

#endif
