#include "unweighed.h"

#include <stdlib.h>
#include <string.h>

static bool any_read(const struct st_recipe *r)
{
    for (int i = 0; i < r->n_step; i++)
        if (r->step[i].drained_read)
            return true;
    return false;
}

static bool foretell(struct st_unweighed *x, uint64_t seed, int draws)
{
    struct st_problem problem = { .what = "" };
    const struct st_options o = { .seed = seed, .draws = draws };
    struct st_plan *plan = st_plan_create(&x->recipe, &problem);
    x->told = plan && st_plan_run(plan, &o, &x->out) >= 0;
    st_plan_free(plan);
    return x->told;
}

struct st_unweighed *st_unweighed_create(const struct st_recipe *r, uint64_t seed, int draws)
{
    struct st_unweighed *x = any_read(r) ? calloc(1, sizeof *x) : NULL; /* large */
    if (!x)
        return NULL;
    x->recipe = *r;
    x->recipe.step = calloc((size_t)r->n_step, sizeof *r->step);
    if (x->recipe.step)
        memcpy(x->recipe.step, r->step, (size_t)r->n_step * sizeof *r->step);
    for (int i = 0; x->recipe.step && i < r->n_step; i++)
        if (r->step[i].drained_read) {
            x->recipe.step[i].drained_solids_g.known = false;
            x->recipe.step[i].drained_read = false;
        }
    if (x->recipe.step && foretell(x, seed, draws))
        return x;
    st_unweighed_free(x);
    return NULL;
}

void st_unweighed_free(struct st_unweighed *x)
{
    if (!x)
        return;
    if (x->told)
        st_foretold_done(&x->out);
    free(x->recipe.step);
    free(x);
}
