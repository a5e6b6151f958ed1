#include <math.h>
#include <stdlib.h>

#include "kitchen_inside.h"

/* How far amounts are from what is wanted, the best points so far, and the boxes still open: two heaps. */

static double by_of(const struct st_wish *w)
{
    return w->low == w->high ? w->tolerance : 0.0;
}

double st_kitchen_miss_least(const struct st_wish *w, double low, double high)
{
    const double by = by_of(w);
    if (!(low <= high))
        return 0.0;
    const double wide =
        isfinite(w->low) && isfinite(w->high) ? 1.0 - 0.5 * (w->high - w->low + 2.0 * by) / w->tolerance : 0.0;
    return fmax(fmax(1.0 + fmax(w->low - by - high, low - w->high - by) / w->tolerance, wide), 0.0);
}

double st_kitchen_miss(const struct st_wish *w, double x)
{
    return isnan(x) ? HUGE_VAL : st_kitchen_miss_least(w, x, x);
}

double st_kitchen_far(double miss, double aside)
{
    const double all = fmin(0.25 * aside, 0.9 * ST_KITCHEN_MISSED); /* stays below what misses a wish */
    return miss <= ST_KITCHEN_WITHIN ? miss + all : ST_KITCHEN_MISSED + miss + 0.01 * all;
}

/* ---- points: the worst on top ---- */

static void sift_down(struct st_kitchen_point *p, int n, int i)
{
    for (;;) {
        int top = i, left = 2 * i + 1;
        if (left < n && p[left].far > p[top].far)
            top = left;
        if (left + 1 < n && p[left + 1].far > p[top].far)
            top = left + 1;
        if (top == i)
            return;
        const struct st_kitchen_point one = p[i];
        p[i] = p[top];
        p[top] = one;
        i = top;
    }
}

void st_points_keep(struct st_kitchen_point point[], int *n, int keep, const struct st_kitchen_point *p)
{
    if (p->far < ST_KITCHEN_MISSED && *n == 1 && point[0].far >= ST_KITCHEN_MISSED)
        *n = 0; /* what misses gives way to the first that does not */
    if (p->far >= ST_KITCHEN_MISSED ? *n == 1 : *n == keep) {
        point[0] = *p;
        sift_down(point, *n, 0);
        return;
    }
    int i = (*n)++;
    for (; i > 0 && point[(i - 1) / 2].far < p->far; i = (i - 1) / 2)
        point[i] = point[(i - 1) / 2];
    point[i] = *p;
}

/* ---- boxes: the most promising on top ---- */

/* Bounds that no kitchen tells apart are the same; of these the deeper box goes first. */
static const double SAME = 0.01;

static bool goes_first(const struct st_boxes *q, const struct st_box *a, const struct st_box *b)
{
    if (q->by_bound)
        return a->bound < b->bound;
    const double x = floor(a->bound / SAME), y = floor(b->bound / SAME);
    return x != y ? x < y : a->depth > b->depth;
}

bool st_boxes_push(struct st_boxes *q, const struct st_box *b)
{
    if (q->n == q->cap) {
        const long cap = q->cap ? 2 * q->cap : 1024;
        struct st_box *p = realloc(q->box, (size_t)cap * sizeof *p);
        if (!p)
            return false;
        q->box = p;
        q->cap = cap;
    }
    long i = q->n++;
    for (; i > 0 && goes_first(q, b, &q->box[(i - 1) / 2]); i = (i - 1) / 2)
        q->box[i] = q->box[(i - 1) / 2];
    q->box[i] = *b;
    return true;
}

struct st_box st_boxes_pop(struct st_boxes *q)
{
    const struct st_box top = q->box[0], last = q->box[--q->n];
    long i = 0;
    for (;;) {
        long c = 2 * i + 1;
        if (c + 1 < q->n && goes_first(q, &q->box[c + 1], &q->box[c]))
            c++;
        if (c >= q->n || !goes_first(q, &q->box[c], &last))
            break;
        q->box[i] = q->box[c];
        i = c;
    }
    q->box[i] = last;
    return top;
}

static int bound_order(const void *a, const void *b)
{
    const double x = ((const struct st_box *)a)->bound, y = ((const struct st_box *)b)->bound;
    return x < y ? -1 : x > y ? 1 : 0;
}

void st_boxes_by_bound(struct st_boxes *q)
{
    q->by_bound = true;
    if (q->n > 1)
        qsort(q->box, (size_t)q->n, sizeof *q->box, bound_order); /* what is sorted is a heap */
}
