#include <math.h>
#include <string.h>

#include "kitchen_search.h"

/* What a box promises at best: two points of the tape for each figure, and what dials whose slope has no one sign may
 * add; of these the least miss, and the least that unasked figures and amounts are off what is written. */

static unsigned moving(const struct search *s, const struct st_box *b)
{
    unsigned m = 0;
    for (int k = 0; k < s->n_dial; k++)
        m |= b->last[k] > b->first[k] ? 1u << k : 0u;
    return m;
}

static unsigned open_dials(const struct st_box *b, unsigned moving, int f)
{
    return moving & ~(b->rises[f] | b->falls[f]);
}

/* Slopes of the dials whose sign some figure does not know yet. */
static void learn(struct search *s, struct st_box *b, unsigned moving, struct st_interval_of slope[][ST_MAX_DIALS])
{
    double low[ST_MAX_DIALS], high[ST_MAX_DIALS];
    unsigned ask = 0;
    for (int k = 0; k < s->n_dial; k++) {
        low[k] = st_search_end(s, b, k, false);
        high[k] = st_search_end(s, b, k, true);
    }
    for (int f = 0; f < s->n_figure; f++)
        ask |= open_dials(b, moving, f);
    if (ask == 0)
        return;
    st_enclosure_slopes(s->bound, low, high, ask, slope);
    for (int f = 0; f < s->n_figure; f++)
        for (int k = 0; k < s->n_dial; k++) {
            if (!(ask & (1u << k)))
                continue;
            b->rises[f] |= slope[f][k].low >= 0.0 ? 1u << k : 0u;
            b->falls[f] |= slope[f][k].high <= 0.0 ? 1u << k : 0u;
        }
}

/* What the dials of unknown sign may add to a figure above its value at their low ends. */
static double reach(const struct search *s, const struct st_box *b, unsigned open, const struct st_interval_of slope[],
                    bool high)
{
    double sum = 0.0;
    for (int k = 0; k < s->n_dial; k++)
        if (open & (1u << k))
            sum +=
                (high ? slope[k].high : slope[k].low) * (st_search_end(s, b, k, true) - st_search_end(s, b, k, false));
    return sum * (1.0 + 1e-9);
}

static void note_loose(const struct search *s, struct st_box *b, int f, unsigned open,
                       const struct st_interval_of slope[])
{
    for (int k = 0; k < s->n_dial; k++) {
        if (!(open & (1u << k)))
            continue;
        const double by =
            (slope[k].high - slope[k].low) * (st_search_end(s, b, k, true) - st_search_end(s, b, k, false)) * s->per[f];
        b->loose[k] = (float)fmin(fmax((double)b->loose[k], by), 1e30);
    }
}

void st_search_begin_bound(struct search *s, struct st_box *b, struct batch *q)
{
    struct st_interval_of slope[ST_KITCHEN_FIGURES][ST_MAX_DIALS] = { { { 0.0, 0.0 } } };
    const unsigned m = moving(s, b);
    memset(b->loose, 0, sizeof b->loose);
    learn(s, b, m, slope);
    for (int f = 0; f < s->n_figure; f++) {
        const unsigned open = open_dials(b, m, f);
        note_loose(s, b, f, open, slope[f]);
        for (int high = 0; high < 2; high++) {
            struct st_interval_of *e = &q->y[b - q->box][f];
            *(high ? &e->high : &e->low) = reach(s, b, open, slope[f], high);
            unsigned short *at = st_search_point(q, b, f, high);
            for (int k = 0; k < ST_MAX_DIALS; k++)
                at[k] = !(open & (1u << k)) && ((b->rises[f] >> k) & 1u) == (unsigned)high ? b->last[k] : b->first[k];
        }
    }
}

static int place_of(const struct search *s, enum st_figure f)
{
    int i = 0;
    while (s->figure[i] != f)
        i++;
    return i;
}

/* How far low .. high is from x. */
static double outside(double x, double low, double high)
{
    return low <= high ? fmax(fmax(low - x, x - high), 0.0) : 0.0;
}

static double least_aside(const struct search *s, const struct st_box *b, const struct st_interval_of y[])
{
    double sum = 0.0;
    if (!s->ask->stays)
        return 0.0;
    for (int i = 0; i < s->ask->stays->n; i++) {
        const struct st_stay *t = &s->ask->stays->of[i];
        const struct st_interval_of in = y[place_of(s, t->of)];
        const double by = outside(t->at, in.low, in.high) / t->step;
        sum += by * by;
    }
    for (int k = 0; k < s->n_dial; k++) {
        const double by =
            outside(s->written[k], st_search_end(s, b, k, false), st_search_end(s, b, k, true)) / s->written[k];
        sum += by * by;
    }
    return sqrt(sum) * (1.0 - 1e-12);
}

double st_search_bound(const struct search *s, const struct st_box *b, const struct st_interval_of y[])
{
    double worst = 0.0;
    for (int w = 0; w < s->aim->n_wish; w++) {
        const struct st_interval_of in = y[place_of(s, s->aim->wish[w].of)];
        worst = fmax(worst, st_kitchen_miss_least(&s->aim->wish[w], in.low, in.high));
    }
    return st_kitchen_far(worst, least_aside(s, b, y));
}
