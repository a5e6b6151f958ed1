#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "aim.h"

/* Ways round: change one thing, solve again, keep what meets every wish. */

enum { MOST_TRIED = 64 };

static bool solves(struct st_aim_way *w)
{
    struct st_problem problem;
    return st_aim_solve(&w->aim, &w->found, &problem) >= 0 && w->found.met;
}

/* x rounded up or down to 1, 2 or 5 times a power of ten, about a hundredth of it; a thousandth of that is let pass. */
static double round_out(double x, bool up)
{
    if (!(x > 0.0))
        return 0.0;
    const double ten = pow(10.0, floor(log10(x)) - 2.0), lead = x / (100.0 * ten);
    const double step = ten * (lead < 2.0 ? 1.0 : lead < 5.0 ? 2.0 : 5.0);
    return step * (up ? ceil(x / step - 1e-3) : floor(x / step + 1e-3));
}

/* What a dial of 1 stands for: the amount written, so that a bound is round in its unit. */
static double unit_of(const struct st_aim *a, int k)
{
    const struct st_dial *d = &a->dial[k].dial;
    if (d->of == ST_DIAL_STRENGTH)
        return 1.0;
    const struct st_amount *m = &a->recipe->step[d->step].line[d->line].amount;
    return m->written > 0.0 && m->unit ? m->written : m->value;
}

/* ---- loosen what stops ---- */

static void open_dial(struct st_aim_dial *d, bool upper)
{
    const bool amount = d->dial.of == ST_DIAL_AMOUNT;
    if (upper)
        d->high = amount ? 100.0 : 96.0;
    else
        d->low = amount ? 0.0 : 5.0;
}

static bool loosen_dial(const struct st_aim *a, struct st_aim_way *w, const struct st_aim_stop *s)
{
    struct st_aim_dial *d = &w->aim.dial[s->dial];
    open_dial(d, s->upper);
    if (!solves(w))
        return false;
    const double unit = unit_of(a, s->dial);
    w->to = round_out(w->found.value[s->dial] * unit, s->upper) / unit;
    if (s->upper)
        d->high = fmax(w->to, d->low);
    else
        d->low = w->to;
    return solves(w);
}

static bool loosen_limit(const struct st_aim *a, struct st_aim_way *w, const struct st_aim_stop *s)
{
    const enum st_limit_of of = a->limit[s->limit].of;
    if (of == ST_LIMIT_SUGAR || of == ST_LIMIT_TAKE || of == ST_LIMIT_CARRY)
        return false; /* neither nature nor what a body bears gives way */
    w->aim.limit[s->limit].most = fmax(10.0 * a->limit[s->limit].most, 1.0);
    if (!solves(w))
        return false;
    w->to = round_out(w->found.fill[s->limit], true);
    w->aim.limit[s->limit].most = w->to;
    return solves(w);
}

static bool loosen(const struct st_aim *a, const struct st_aim_found *f, int i, struct st_aim_way *w)
{
    const int k = f->stop[i].dial;
    if (k >= 0 && f->stop[i].by == ST_BOUND_ASKED && a->dial[k].low == a->dial[k].high)
        return false; /* what the maker asked for is not taken back */
    *w = (struct st_aim_way){ .way = ST_WAY_LOOSEN, .index = i, .aim = *a };
    return f->stop[i].dial >= 0 ? loosen_dial(a, w, &f->stop[i]) : loosen_limit(a, w, &f->stop[i]);
}

/* ---- free one more ---- */

/* What the maker has little of cannot be the way out. */
static bool is_scarce(const struct st_aim *a, const struct st_ingredient *what)
{
    for (int k = 0; k < a->n_dial; k++) {
        const struct st_dial *d = &a->dial[k].dial;
        bool limited = d->of == ST_DIAL_AMOUNT && a->dial[k].high_by == ST_BOUND_HAVE;
        for (int i = 0; i < a->n_limit; i++)
            limited = limited || (a->limit[i].of == ST_LIMIT_HAVE && (a->limit[i].which & (1u << k)));
        if (limited && a->recipe->step[d->step].line[d->line].what == what)
            return true;
    }
    return false;
}

static bool has_dial(const struct st_aim *a, int step, int line, enum st_dial_of of)
{
    for (int k = 0; k < a->n_dial; k++)
        if (a->dial[k].dial.step == step && a->dial[k].dial.line == line && a->dial[k].dial.of == of)
            return true;
    return false;
}

static double change(const struct st_aim_way *w)
{
    double sum = 0.0;
    for (int k = 0; k < w->aim.n_dial; k++) {
        const struct st_dial *d = &w->aim.dial[k].dial;
        if (d->of == ST_DIAL_AMOUNT)
            sum += (w->found.value[k] - 1.0) * (w->found.value[k] - 1.0);
        else
            sum += 1.0; /* another spirit has to be bought */
    }
    return sum;
}

static void keep_better(struct st_aim_way *best, bool *any, const struct st_aim_way *w)
{
    if (!*any || change(w) < change(best))
        *best = *w;
    *any = true;
}

static void try_free(const struct st_aim *a, int step, int line, enum st_dial_of of, struct st_aim_way *best, bool *any)
{
    const struct st_line *l = &a->recipe->step[step].line[line];
    struct st_aim_way *w;
    if (has_dial(a, step, line, of) || (of == ST_DIAL_AMOUNT && l->what && is_scarce(a, l->what)))
        return;
    w = malloc(sizeof *w);
    if (!w)
        return;
    *w = (struct st_aim_way){ .way = ST_WAY_FREE, .index = a->n_dial, .dial = { step, line, of }, .aim = *a };
    const bool freed = of == ST_DIAL_AMOUNT ? st_aim_free(&w->aim, step, line)
                                            : st_aim_free_strength(&w->aim, step, line, 5.0, 96.0, ST_BOUND_NATURE);
    if (freed && w->aim.n_dial > a->n_dial && solves(w)) {
        w->to = w->found.value[a->n_dial];
        keep_better(best, any, w);
    }
    free(w);
}

static bool free_one(const struct st_aim *a, struct st_aim_way *best)
{
    bool any = false;
    int tried = 0;
    for (int s = 0; s < a->recipe->n_step; s++)
        for (int i = 0; i < a->recipe->step[s].n_line && tried < MOST_TRIED; i++, tried++) {
            try_free(a, s, i, ST_DIAL_AMOUNT, best, &any);
            const struct st_line *l = &a->recipe->step[s].line[i];
            if (l->what && l->what->kind == ST_KIND_SPIRIT)
                try_free(a, s, i, ST_DIAL_STRENGTH, best, &any);
        }
    return any;
}

/* ---- give way in one wish ---- */

static bool yield_one(const struct st_aim *a, int i, struct st_aim_way *w)
{
    *w = (struct st_aim_way){ .way = ST_WAY_YIELD, .index = i, .aim = *a };
    struct st_wish *wish = &w->aim.wish[i];
    const double tolerance = wish->tolerance;
    if (a->n_wish < 2)
        return false;
    wish->tolerance = 1e4 * tolerance; /* as good as no wish, but as near as can be */
    w->aim.wishes_only = true;         /* what nobody asked for is no reason to yield more */
    if (st_aim_solve(&w->aim, &w->found, &(struct st_problem){ .what = "" }) < 0)
        return false;
    for (int k = 0; k < a->n_wish; k++)
        if (k != i && w->found.miss[k] != 0.0)
            return false;
    w->aim.wishes_only = a->wishes_only;
    wish->tolerance = tolerance;
    wish->low = wish->high = w->low = w->high = round_out(w->found.y[wish->of], false);
    return solves(w);
}

/* ---- the best of each sort ---- */

int st_aim_ways(const struct st_aim *a, const struct st_aim_found *f, struct st_aim_way way[], int most)
{
    int n = 0, first = f->n_stop;
    if (f->met)
        return 0;
    for (int i = 0; i < f->n_stop && n < most; i++)
        if (loosen(a, f, i, &way[n])) {
            first = i + 1;
            n++;
            break;
        }
    if (n < most && free_one(a, &way[n]))
        n++;
    for (int i = first; i < f->n_stop && n < most; i++)
        if (loosen(a, f, i, &way[n]))
            n++;
    for (int i = 0; i < a->n_wish && n < most; i++)
        if (f->miss[i] != 0.0 && yield_one(a, i, &way[n]))
            n++;
    for (int i = 0; i < a->n_wish && n < most; i++)
        if (f->miss[i] == 0.0 && yield_one(a, i, &way[n]))
            n++;
    return n;
}
