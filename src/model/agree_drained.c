#include "agree.h"

#include <stdlib.h>

/* What the strained solids of each steep weigh, in the draws. */

static double spent_of(const struct st_balance *b)
{
    double g = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        g += b->spent_g[c];
    return g;
}

static bool make_room(const struct st_recipe *r, const struct st_balance balance[], int draws, int step[],
                      struct st_agree_drained *out)
{
    for (int i = 0; i < r->n_step && out->n < ST_AGREE_STEEPS; i++) {
        if (!(spent_of(&balance[i]) > 0.0))
            continue;
        out->g[out->n] = calloc((size_t)draws + 1, sizeof *out->g[0]);
        if (!out->g[out->n])
            return false;
        out->jar[out->n] = r->step[i].id;
        step[out->n++] = i;
    }
    return true;
}

enum st_status st_agree_drained_of(const struct st_plan *p, const struct st_recipe *r, uint64_t seed, int draws,
                                   struct st_agree_drained *out)
{
    struct st_balance *balance = calloc((size_t)r->n_step + 1, sizeof *balance);
    int step[ST_AGREE_STEEPS] = { 0 };
    *out = (struct st_agree_drained){ .n = 0 };
    enum st_status s = balance ? st_plan_balance(p, NULL, balance) : ST_E_NOCONV;
    if (s >= 0 && !make_room(r, balance, draws, step, out))
        s = ST_E_NOCONV;
    if (s >= 0 && out->n == 0)
        s = ST_E_REFUSED;
    if (s >= 0)
        s = st_plan_spent(p, seed, (size_t)draws, step, out->n, out->g);
    free(balance);
    return s;
}

void st_agree_drained_done(struct st_agree_drained *d)
{
    for (int k = 0; k < d->n; k++)
        free(d->g[k]);
    *d = (struct st_agree_drained){ .n = 0 };
}
