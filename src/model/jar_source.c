#include <stdlib.h>
#include <string.h>

#include "jar_inside.h"
#include "plan_inside.h"

/* The amounts of a recipe as foresee draws them: a program that ends in the registers a jar asked for. */

struct st_jar_source {
    struct st_plan *plan;
    struct st_program program;
    int *reg, n, cap;
    bool ready;
};

struct st_jar_source *st_jar_source_create(struct st_plan *plan)
{
    struct st_jar_source *s = calloc(1, sizeof *s);
    if (!s) {
        st_plan_free(plan);
        return NULL;
    }
    s->plan = plan;
    return s;
}

void st_jar_source_free(struct st_jar_source *s)
{
    if (!s)
        return;
    if (s->ready)
        st_program_done(&s->program);
    st_plan_free(s->plan);
    free(s->reg);
    free(s);
}

struct st_plan *st_jar_source_plan(const struct st_jar_source *s)
{
    return s->plan;
}

int st_jar_source_columns(const struct st_jar_source *s)
{
    return s->n;
}

int st_jar_source_column(struct st_jar_source *s, int reg, double *value)
{
    *value = s->plan->tape.nominal[reg];
    for (int i = 0; i < s->n; i++)
        if (s->reg[i] == reg)
            return i;
    if (s->n == s->cap) {
        const int cap = s->cap ? 2 * s->cap : 64;
        int *more = realloc(s->reg, (size_t)cap * sizeof *more);
        if (!more)
            return -1;
        s->reg = more;
        s->cap = cap;
    }
    s->reg[s->n] = reg;
    return s->n++;
}

bool st_jar_source_ready(struct st_jar_source *s)
{
    s->ready = s->n == 0 || st_program_create(&s->plan->tape, s->reg, s->n, &s->program);
    return s->ready && !s->plan->tape.failed;
}

enum st_status st_jar_source_draw(const struct st_jar_source *s, uint64_t seed, size_t n, double x[])
{
    const struct st_program *p = &s->program;
    double *in = malloc(((size_t)p->n_in * n + 1) * sizeof *in);
    if (!in)
        return ST_E_NOCONV;
    for (int i = 0; i < p->n_in; i++)
        st_column_draw(&s->plan->tape.column[p->input[i]], seed, 0, n, in + (size_t)i * n);
    const enum st_status status = st_program_run(p, n, in, x);
    free(in);
    return status < 0 ? status : ST_OK;
}
