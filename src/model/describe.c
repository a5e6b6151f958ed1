#include <string.h>

#include "plan_inside.h"

/* The program as JSON, so that another program can repeat the arithmetic.  Numbers that must be exact are written as
 * the 16 hexadecimal digits of their IEEE 754 bits, most significant first. */

struct out {
    void (*write)(void *arg, const char *text);
    void *arg;
};

static void put(const struct out *o, const char *text)
{
    o->write(o->arg, text);
}

static void put_int(const struct out *o, int x)
{
    char buf[16], *p = buf + sizeof buf - 1;
    const bool minus = x < 0;
    unsigned u = minus ? 0u - (unsigned)x : (unsigned)x;
    *p = '\0';
    do {
        *--p = (char)('0' + u % 10);
        u /= 10;
    } while (u);
    if (minus)
        *--p = '-';
    put(o, p);
}

static void put_bits(const struct out *o, double x)
{
    static const char DIGIT[] = "0123456789abcdef";
    char buf[19] = "\"";
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    for (int i = 0; i < 16; i++)
        buf[1 + i] = DIGIT[(bits >> (60 - 4 * i)) & 15];
    buf[17] = '"';
    buf[18] = '\0';
    put(o, buf);
}

static void put_text(const struct out *o, const char *text)
{
    put(o, "\"");
    for (const char *s = text; *s; s++) {
        char one[3] = { *s, '\0', '\0' };
        if (*s == '"' || *s == '\\')
            one[0] = '\\', one[1] = *s;
        else if ((unsigned char)*s < 0x20)
            one[0] = ' ';
        put(o, one);
    }
    put(o, "\"");
}

static void put_op(const struct out *o, const struct st_program *p, const struct st_op *op)
{
    static const char *const NAME[ST_NOP] = {
        [ST_OP_ADD] = "add",   [ST_OP_SUB] = "sub",        [ST_OP_MUL] = "mul",       [ST_OP_RATIO] = "ratio",
        [ST_OP_MIN] = "min",   [ST_OP_MAX] = "max",        [ST_OP_MADD] = "madd",     [ST_OP_DENSITY] = "density_20",
        [ST_OP_BRIX] = "brix", [ST_OP_INDEX] = "index_20", [ST_OP_SPIRIT] = "spirit",
    };
    const bool list = op->code == ST_OP_DENSITY || op->code == ST_OP_INDEX;
    const int one[3] = { op->a, op->b, op->c };
    put(o, "[");
    put_text(o, NAME[op->code]);
    put(o, ",");
    put_int(o, op->dst);
    for (int i = 0; i < (list ? ST_NCOMP : 3); i++) {
        const int r = list ? p->arg[op->a + i] : one[i];
        if (r < 0)
            continue;
        put(o, ",");
        put_int(o, r);
    }
    put(o, "]");
}

static void put_inputs(const struct out *o, const struct st_plan *plan)
{
    static const char *const SHAPE[ST_NSHAPE] = { "split", "even", "peak", "normal" };
    for (int i = 0; i < plan->program.n_in; i++) {
        const struct st_column *c = &plan->tape.column[plan->program.input[i]];
        put(o, i ? ",\n {\"what\":" : "\n {\"what\":");
        put_text(o, plan->group[c->group].what);
        put(o, ",\"shape\":\"");
        put(o, SHAPE[c->shape]);
        put(o, "\",\"value\":");
        put_bits(o, c->value);
        put(o, ",\"low\":");
        put_bits(o, c->low);
        put(o, ",\"high\":");
        put_bits(o, c->high);
        put(o, ",\"clip_low\":");
        put_bits(o, c->clip_low);
        put(o, ",\"clip_high\":");
        put_bits(o, c->clip_high);
        put(o, ",\"id\":");
        put_bits(o, (double)c->id); /* exact: 32 bits */
        put(o, "}");
    }
}

void st_plan_describe(const struct st_plan *plan, void (*write)(void *arg, const char *text), void *arg)
{
    const struct out o = { write, arg };
    const struct st_program *p = &plan->program;

    put(&o, "{\"n_register\":");
    put_int(&o, p->n_constant + p->n_in + p->n_room);
    put(&o, ",\"first_input\":");
    put_int(&o, p->n_constant);
    put(&o, ",\n\"constant\":[");
    for (int i = 0; i < p->n_constant; i++) {
        put(&o, i ? "," : "");
        put_bits(&o, p->constant[i]);
    }
    put(&o, "],\n\"input\":[");
    put_inputs(&o, plan);
    put(&o, "],\n\"op\":[");
    for (int i = 0; i < p->n_op; i++) {
        put(&o, i ? ",\n " : "\n ");
        put_op(&o, p, &p->op[i]);
    }
    put(&o, "],\n\"figure\":[");
    for (int f = 0; f < ST_NFIG; f++) {
        put(&o, f ? ",\n [" : "\n [");
        put_text(&o, st_figure_info((enum st_figure)f)->key);
        put(&o, ",");
        put_int(&o, plan->figure[f] < 0 ? -1 : p->output[f]);
        put(&o, "]");
    }
    put(&o, "]}\n");
}
