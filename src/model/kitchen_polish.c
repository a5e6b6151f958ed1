#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "kitchen_search.h"

/* Good points found early: what beats most boxes at once. */

enum { ABOUT_2 = 6, ABOUT_3 = 4, MOST_FOR_THREE = 8 };

static struct st_kitchen_point nearest(const struct search *s)
{
    int best = 0;
    for (int i = 1; i < s->n_point; i++)
        if (s->point[i].far < s->point[best].far)
            best = i;
    return s->point[best];
}

/* Opens a box some items to either side along dial k. */
static void widen(const struct search *s, const struct st_kitchen_point *p, int k, int about, struct st_box *b)
{
    const int last = s->ask->grid[k].n - 1, at = p->at[k];
    b->first[k] = (unsigned short)(at > about ? at - about : 0);
    b->last[k] = (unsigned short)(at + about < last ? at + about : last);
}

/* All points a few items about it in two of the grids, of every two; or in three. */
static void look_about(struct search *s, const struct st_kitchen_point *p, bool three, struct batch *q)
{
    const int about = three || s->n_dial > MOST_FOR_THREE ? ABOUT_3 : ABOUT_2;
    for (int i = 0; i < s->n_dial; i++)
        for (int j = 0; j < i; j++)
            for (int k = three ? 0 : j; k < (three ? j : j + 1); k++) {
                struct st_box b = { .bound = 0.0 };
                memcpy(b.first, p->at, sizeof b.first);
                memcpy(b.last, p->at, sizeof b.last);
                widen(s, p, i, about, &b);
                widen(s, p, j, about, &b);
                widen(s, p, k, about, &b);
                st_search_enumerate(s, &b, q);
            }
    st_search_flush(s, q);
}

/* The best that lies about a point, or the point itself. */
static struct st_kitchen_point best_about(struct search *s, const struct st_kitchen_point *p, bool three,
                                          struct batch *q)
{
    s->n_point = 0;
    look_about(s, p, three, q);
    if (s->n_point == 0)
        return *p;
    const struct st_kitchen_point best = nearest(s);
    return best.far < p->far ? best : *p;
}

/* From the best so far, later from others, to a better one near it, until there is none.  Of what is met on the way the
 * best alone is kept: the others are all much alike. */
void st_search_polish(struct search *s, struct batch *q)
{
    if (s->n_point == 0 || s->ask->count || nearest(s).far <= s->ask->gap)
        return;
    const size_t size = (size_t)s->n_point * sizeof *s->point;
    struct st_kitchen_point *kept = malloc(size), now = nearest(s);
    const int n = s->n_point;
    const double within = s->within, best = now.far;
    if (!kept)
        return;
    memcpy(kept, s->point, size);
    if (s->n_polish > 0)
        now = kept[s->n_polish % n];
    s->n_polish++;
    for (double was = HUGE_VAL; now.far < was;) {
        was = now.far;
        now = best_about(s, &now, false, q);
    }
    if (now.far > s->ask->gap && s->n_dial > 2 && s->n_dial <= MOST_FOR_THREE)
        now = best_about(s, &now, true, q);
    memcpy(s->point, kept, size);
    s->n_point = n;
    s->within = within;
    if (now.far < best)
        st_points_keep(s->point, &s->n_point, s->ask->keep, &now);
    free(kept);
}

/* The items about a point are tried first, so that there is something to beat. */
void st_search_try_near(struct search *s, struct batch *q)
{
    struct st_box b = { .bound = 0.0 };
    const bool few = s->n_dial > 9; /* one or two items of each */
    for (int k = 0; k < s->n_dial; k++) {
        const struct st_kitchen_grid *g = &s->ask->grid[k];
        int i = 0;
        while (i + 1 < g->n && g->item[i + 1].factor <= s->ask->near[k])
            i++;
        if (few && i + 1 < g->n && s->ask->near[k] - g->item[i].factor > g->item[i + 1].factor - s->ask->near[k])
            i++;
        b.first[k] = (unsigned short)i;
        b.last[k] = (unsigned short)(!few && i + 1 < g->n ? i + 1 : i);
    }
    st_search_enumerate(s, &b, q);
    st_search_flush(s, q);
    if (s->ask->deep_nodes > 0)
        st_search_polish(s, q);
    s->within = 0.0; /* they come again */
    if (s->ask->count && s->n_point > 0 && s->point[0].far < ST_KITCHEN_MISSED) {
        s->beat = ST_KITCHEN_MISSED;
        s->n_point = 0;
    }
}
