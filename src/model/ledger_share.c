#include <math.h>

#include "ledger_inside.h"

/* How much of what a line carries can be in the drink: no step takes any of it away; a part taken is the most it can be. */

enum { ST_LEDGER_LONG = 256 }; /* longer recipes are not followed: all of everything counts */

/* The least of each figure of the draws is that of st_interval: 39 cases of 40. */
double st_flows_least(const struct st_recipe *r, const struct st_foretold *f, int step)
{
    enum { SEED = 1 }; /* the same figure wherever it is told */
    const struct st_options o = { .seed = SEED, .draws = f->draws };
    struct st_recipe part = *r;
    struct st_problem none;
    struct st_foretold out;
    double least = 0.0;
    part.n_step = step + 1;
    struct st_plan *p = st_plan_create(&part, &none);
    if (p && st_plan_run(p, &o, &out) >= 0) {
        const struct st_interval *g = &out.fig[ST_FIG_MASS];
        least = g->known && isfinite(g->low) ? fmin(g->low, g->value) : 0.0;
    }
    if (p)
        st_foretold_done(&out);
    st_plan_free(p);
    return least;
}

/* ---- what goes on ---- */

static double over(double share, double g)
{
    return share > 0.0 ? g > 0.0 ? share / g : HUGE_VAL : 0.0;
}

/* A take of it. */
struct drawn {
    const struct st_spread *has;
    double carries, high; /* what of that may go along: with its pieces, without any */
    struct st_thinned thins;
    bool spent;
};

static const struct st_gives NOTHING = { .known = false };

static struct drawn drawn(const struct st_spread *has, double carries, double high, struct st_thinned thins, bool spent)
{
    return (struct drawn){ has, carries, fmin(high, 1.0), thins, spent };
}

/* What comes into a step that gives `to`. */
static void bring(struct drawn d, const struct st_gives *to, struct st_spread *sum)
{
    const bool solid = d.spent || d.has->solid;
    const double share = d.has->share * (solid ? d.carries : d.high);
    double per_g = over(share, to->liquid_g), high_per_g = over(share, to->least_g);
    if (!(share > 0.0))
        return;
    if (!solid && isfinite(d.thins.value))
        per_g = fmin(per_g, d.has->per_g * d.thins.value);
    if (!solid && isfinite(d.thins.high))
        high_per_g = fmin(high_per_g, d.has->high_per_g * d.thins.high);
    sum->share += share;
    sum->per_g += per_g;
    sum->high_per_g += high_per_g;
    sum->solid = sum->solid || (solid && to->pieces);
}

/* Nothing is known of how much each step gives. */
static struct st_spread arrives_all(const struct st_recipe *r, const struct st_spread has[], int first, int s)
{
    double share = st_flows_takes_before(r, s) && s - 1 >= first ? has[s - 1].share : 0.0;
    for (int i = 0; i < r->step[s].n_line; i++) {
        const struct st_line *l = &r->step[s].line[i];
        if (!l->what && l->from_step >= first && l->from_step < s)
            share += has[l->from_step].share;
    }
    return (struct st_spread){ fmin(share, 1.0), over(share, 0.0), over(share, 0.0), true };
}

/* What may be in the liquor and in the spent solids of each step: the same in both, since a steep may give it all, and may
 * keep it all. */
static struct st_spread arrives(const struct st_recipe *r, const struct st_flows *w, const struct st_spread has[],
                                int first, int s)
{
    const struct st_gives *to = &w->gives[s];
    struct st_spread sum = { .share = 0.0 };
    int at = 0;
    for (int i = 0; i < s; i++)
        at += r->step[i].n_line;
    if (st_flows_takes_before(r, s) && s - 1 >= first)
        bring(drawn(&has[s - 1], w->carries_whole[s], w->whole[s].high, w->thins_whole[s], false), to, &sum);
    for (int i = 0; i < r->step[s].n_line; i++) {
        const struct st_line *l = &r->step[s].line[i];
        if (!l->what && l->from_step >= first && l->from_step < s)
            bring(drawn(&has[l->from_step], w->carries[at + i], w->take[at + i].high, w->thins[at + i],
                        l->part == ST_SPENT),
                  to, &sum);
    }
    sum.share = fmin(sum.share, 1.0);
    sum.per_g = fmin(sum.per_g, over(sum.share, to->liquid_g));
    sum.high_per_g = fmin(sum.high_per_g, over(sum.share, to->least_g));
    return sum;
}

struct st_spread st_flows_spread(const struct st_recipe *r, const struct st_flows *w, int step, int line)
{
    struct st_spread has[ST_LEDGER_LONG];
    if (step < 0 || step >= r->n_step || line < 0 || line >= r->step[step].n_line)
        return (struct st_spread){ .share = 0.0 };
    if (r->n_step > ST_LEDGER_LONG)
        return (struct st_spread){ 1.0, HUGE_VAL, HUGE_VAL, true };
    const struct st_ingredient *what = r->step[step].line[line].what;
    const struct st_gives *in = w->fits ? &w->gives[step] : &NOTHING;
    has[step] = (struct st_spread){ 1.0, over(1.0, in->liquid_g), over(1.0, in->least_g),
                                    !w->fits || !what || (in->pieces && st_kind_is_solid(what->kind)) };
    for (int s = step + 1; s < r->n_step; s++)
        has[s] = w->fits ? arrives(r, w, has, step, s) : arrives_all(r, has, step, s);
    return has[r->n_step - 1];
}

double st_ledger_share(const struct st_recipe *r, const struct st_foretold *f, int step, int line)
{
    struct st_flows w;
    st_flows_find(r, f, &w);
    return st_flows_spread(r, &w, step, line).share;
}
