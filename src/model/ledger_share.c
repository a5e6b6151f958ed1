#include <math.h>

#include "ledger_inside.h"

/* How much of what a line carries can be in the drink: no step takes any of it away; a part taken is the most it can be. */

enum { ST_LEDGER_LONG = 256 }; /* longer recipes are not followed: all of everything counts */

/* What may be in the liquor and in the spent solids of each step: the same in both, since a steep may give it all, and may
 * keep it all. */
static double arrives(const struct st_recipe *r, const struct st_flows *w, const double has[], int first, int s)
{
    double sum = 0.0;
    int at = 0;
    for (int i = 0; w->fits && i < s; i++)
        at += r->step[i].n_line;
    if (st_flows_takes_before(r, s) && s - 1 >= first)
        sum += has[s - 1] * (w->fits ? w->carries_whole[s] : 1.0);
    for (int i = 0; i < r->step[s].n_line; i++) {
        const struct st_line *l = &r->step[s].line[i];
        if (!l->what && l->from_step >= first && l->from_step < s)
            sum += has[l->from_step] * (w->fits ? w->carries[at + i] : 1.0);
    }
    return sum;
}

double st_flows_share(const struct st_recipe *r, const struct st_flows *w, int step, int line)
{
    double has[ST_LEDGER_LONG];
    if (step < 0 || step >= r->n_step || line < 0 || line >= r->step[step].n_line)
        return 0.0;
    if (r->n_step > ST_LEDGER_LONG)
        return 1.0;
    has[step] = 1.0;
    for (int s = step + 1; s < r->n_step; s++)
        has[s] = fmin(arrives(r, w, has, step, s), 1.0);
    return has[r->n_step - 1];
}

double st_ledger_share(const struct st_recipe *r, const struct st_foretold *f, int step, int line)
{
    struct st_flows w;
    st_flows_find(r, f, &w);
    return st_flows_share(r, &w, step, line);
}
