#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "kitchen_search.h"
#include "text.h"

/* Branch and bound over boxes of grid items, the most promising first.
 *
 * A box is a run of items of each grid.  Its bound is st_kitchen_far of the greatest, over the wishes, of the least
 * miss that the enclosure of the figure allows, and of the least that unasked figures and amounts can be off what is
 * written. An enclosure is two points of the tape, many of which are reckoned at once: dials along which the slope has
 * one sign (it has it in every box inside, too) at their ends, the others at their low end, and what these may add by
 * the enclosure of their slopes.  A small box is not bounded but enumerated.  At first, of boxes that promise the same,
 * the smaller goes: points are found early, and what they beat is dropped.  The work is counted in boxes, never by the
 * clock, so the same question gives the same answer on any machine. */

/* Points come off the tape, enclosures must hold what the tape says elsewhere: room for rounding, relative. */
static const double PAD = 1e-9;

/* Everything within is below this. */
static const double WITHIN = ST_KITCHEN_MISSED;

/* ---- how far ---- */

static double miss_of(const struct search *s, const double y[], size_t n, size_t i)
{
    double worst = 0.0;
    for (int k = 0; k < s->aim->n_wish; k++)
        worst = fmax(worst, st_kitchen_miss(&s->aim->wish[k], y[(size_t)s->aim->wish[k].of * n + i]));
    return worst;
}

/* What shall change little, all of it. */
static double aside_of(const struct search *s, const unsigned short at[], const double y[], size_t n, size_t i)
{
    if (!s->ask->stays)
        return 0.0;
    const double drift = st_stays_drift(s->ask->stays, y + i, n);
    double sum = drift * drift;
    for (int k = 0; k < s->n_dial; k++) {
        const double by = s->ask->grid[k].item[at[k]].factor / s->written[k] - 1.0;
        sum += by * by;
    }
    return sqrt(sum);
}

/* ---- the best so far ---- */

/* Boxes above this cannot add to what is wanted. */
static double threshold(const struct search *s)
{
    if (s->n_point == 0)
        return s->ask->only_within ? fmin(s->beat, WITHIN) : s->beat;
    if (s->point[0].far >= WITHIN) /* the best alone */
        return s->point[0].far;
    const double most = s->n_point < s->ask->keep ? WITHIN : s->point[0].far;
    return s->ask->count ? WITHIN : most;
}

static bool within_limits(struct search *s, const double value[])
{
    double fill[ST_AIM_LIMITS];
    for (int i = 0; i < s->aim->n_limit; i++) {
        const struct st_aim_limit *l = &s->aim->limit[i];
        double sum = 0.0;
        for (int k = 0; k < s->n_dial && l->of == ST_LIMIT_HAVE; k++)
            sum += l->which & (1u << k) ? l->weight[k] * value[k] : 0.0;
        if (l->of == ST_LIMIT_HAVE && sum > l->most * (1.0 + 1e-9))
            return false;
    }
    if (!s->jars || st_jars_at(s->jars, value, fill) < 0)
        return true;
    if (!st_jars_can_be_done(s->jars))
        return false;
    for (int i = 0; i < s->aim->n_limit; i++)
        if (s->aim->limit[i].of != ST_LIMIT_HAVE && fill[i] > s->aim->limit[i].most * (1.0 + 1e-9))
            return false;
    return true;
}

static void offer(struct search *s, const unsigned short at[], const double y[], size_t n, size_t i)
{
    struct st_kitchen_point p = { .score = miss_of(s, y, n, i) };
    double value[ST_MAX_DIALS];
    p.far = st_kitchen_far(p.score, aside_of(s, at, y, n, i));
    if (!(p.far < HUGE_VAL) || p.far > threshold(s))
        return;
    for (int k = 0; k < s->n_dial; k++)
        value[k] = s->ask->grid[k].item[at[k]].factor;
    for (int j = 0; j < s->n_point; j++)
        if (s->point[j].far == p.far && memcmp(s->point[j].at, at, sizeof s->point[j].at) == 0)
            return; /* tried before */
    if (!within_limits(s, value))
        return;
    s->within += p.far < WITHIN;
    if (s->n_point == s->ask->keep && p.far >= s->point[0].far)
        return;
    memcpy(p.at, at, sizeof p.at);
    for (int f = 0; f < ST_NFIG; f++)
        p.y[f] = y[(size_t)f * n + i];
    s->best = p.far < s->best ? p.far : s->best;
    st_points_keep(s->point, &s->n_point, s->ask->keep, &p);
}

/* ---- boxes ---- */

static double points_in(const struct search *s, const struct st_box *b)
{
    double n = 1.0;
    for (int k = 0; k < s->n_dial; k++)
        n *= b->last[k] - b->first[k] + 1;
    return n;
}

/* No point of the box can be done: a jar runs over, or a later step asks for more than an earlier one gives. */
static bool cannot_be_done(const struct search *s, struct st_box *b)
{
    double low[ST_MAX_DIALS], high[ST_MAX_DIALS], most[ST_AIM_LIMITS];
    if (!s->hold || b->done)
        return false;
    for (int k = 0; k < s->n_dial; k++) {
        low[k] = st_search_end(s, b, k, false);
        high[k] = st_search_end(s, b, k, true);
    }
    for (int i = 0; i < s->aim->n_limit; i++)
        most[i] = s->aim->limit[i].most * (1.0 + 1e-9);
    if (st_hold_never(s->hold, low, high, most))
        return true;
    b->done = st_hold_always(s->hold, most);
    return false;
}

/* What a box cannot be below, by what there is of an ingredient. */
static bool has_too_much(const struct search *s, const struct st_box *b)
{
    for (int i = 0; i < s->aim->n_limit; i++) {
        const struct st_aim_limit *l = &s->aim->limit[i];
        double sum = 0.0;
        for (int k = 0; k < s->n_dial && l->of == ST_LIMIT_HAVE; k++)
            sum += l->which & (1u << k) ? l->weight[k] * st_search_end(s, b, k, false) : 0.0;
        if (l->of == ST_LIMIT_HAVE && sum > l->most * (1.0 + 1e-9))
            return true;
    }
    return false;
}

static void push(struct search *s, const struct st_box *b)
{
    if (st_boxes_push(&s->open, b))
        return;
    s->failed = true;
    s->closed = fmin(s->closed, b->bound);
}

/* Halve the side along which the wishes move most. */
static void split(const struct search *s, const struct st_box *b, struct st_box half[2])
{
    int at = 0;
    double most = -1.0;
    for (int k = 0; k < s->n_dial; k++) {
        const double width =
            fmax(s->weight[k] * (st_search_end(s, b, k, true) - st_search_end(s, b, k, false)), (double)b->loose[k]);
        if (b->last[k] > b->first[k] && width > most) {
            most = width;
            at = k;
        }
    }
    half[0] = half[1] = *b;
    half[0].last[at] = (unsigned short)((b->first[at] + b->last[at]) / 2);
    half[1].first[at] = (unsigned short)(half[0].last[at] + 1);
}

/* ---- points of many boxes, reckoned at once ---- */

void st_search_flush(struct search *s, struct batch *q)
{
    if (q->n == 0)
        return;
    const size_t n = q->n;
    for (size_t i = 0; i < n; i++)
        for (int k = 0; k < s->n_dial; k++)
            s->factor[(size_t)k * n + i] = s->ask->grid[k].item[q->at[i][k]].factor;
    (void)st_plan_at_n(s->plan, s->room, n, s->factor, s->y);
    s->evaluations += (long)n;
    for (size_t i = 0; i < n; i++) {
        struct st_box *b = q->corner[i].box;
        if (!b) {
            offer(s, q->at[i], s->y, n, i);
            continue;
        }
        const double y = s->y[(size_t)s->figure[q->corner[i].figure] * n + i];
        struct st_interval_of *e = &q->y[b - q->box][q->corner[i].figure];
        if (q->corner[i].high)
            e->high = isnan(y) ? HUGE_VAL : e->high + y + PAD * fabs(y); /* it held what the open dials may add */
        else
            e->low = isnan(y) ? -HUGE_VAL : e->low + y - PAD * fabs(y);
    }
    q->n = 0;
}

/* Not across a flush: a box must be bounded whole. */
unsigned short *st_search_point(struct batch *q, struct st_box *b, int figure, bool high)
{
    q->corner[q->n].box = b;
    q->corner[q->n].figure = figure;
    q->corner[q->n].high = high;
    return q->at[q->n++];
}

void st_search_enumerate(struct search *s, const struct st_box *b, struct batch *q)
{
    unsigned short at[ST_MAX_DIALS];
    memcpy(at, b->first, sizeof at);
    for (;;) {
        if (q->n == BATCH)
            st_search_flush(s, q);
        memcpy(st_search_point(q, NULL, 0, false), at, sizeof at);
        int k = 0;
        while (k < s->n_dial && at[k] == b->last[k]) {
            at[k] = b->first[k];
            k++;
        }
        if (k == s->n_dial)
            return;
        at[k]++;
    }
}

/* ---- the search ---- */

/* Exact as long as that is cheap: the best, and the others that are wanted are the next best.  Then the best but for
 * the gap, and others that are as good as any. */
static bool is_wanted(const struct search *s, double bound)
{
    const double t = threshold(s);
    const bool full = s->n_point > 0 && s->n_point == s->ask->keep && !s->ask->count; /* ties add nothing */
    if (s->ask->gap > 0.0 && s->nodes >= s->ask->exact_nodes && (full || t > WITHIN))
        return bound < s->best - s->ask->gap;
    return full || t > WITHIN ? bound < t : bound <= t;
}

static void drop(struct search *s, const struct st_box *b)
{
    s->closed = fmin(s->closed, b->bound);
}

static void open_boxes(struct search *s, struct batch *q)
{
    q->n_box = 0;
    for (int n = 0; n < MOST_POP && s->open.n > 0;) {
        struct st_box half[2];
        const struct st_box top = st_boxes_pop(&s->open);
        if (!is_wanted(s, top.bound)) {
            drop(s, &top);
            continue;
        }
        n++;
        split(s, &top, half);
        for (int i = 0; i < 2; i++) {
            s->nodes++;
            if (has_too_much(s, &half[i]) || cannot_be_done(s, &half[i]))
                continue;
            half[i].bound = top.bound;
            half[i].depth = (unsigned short)(top.depth + 1);
            if (points_in(s, &half[i]) <= LEAF) {
                st_search_enumerate(s, &half[i], q);
                continue;
            }
            q->box[q->n_box++] = half[i];
        }
    }
    if (q->n + (size_t)2 * ST_KITCHEN_FIGURES > BATCH)
        st_search_flush(s, q);
    for (int i = 0; i < q->n_box; i++) {
        if (q->n + (size_t)2 * ST_KITCHEN_FIGURES > BATCH)
            st_search_flush(s, q);
        st_search_begin_bound(s, &q->box[i], q);
    }
    st_search_flush(s, q);
    for (int i = 0; i < q->n_box; i++) {
        q->box[i].bound = fmax(q->box[i].bound, st_search_bound(s, &q->box[i], q->y[i]));
        if (is_wanted(s, q->box[i].bound))
            push(s, &q->box[i]);
        else
            drop(s, &q->box[i]);
    }
}

static int by_far(const void *a, const void *b)
{
    const struct st_kitchen_point *p = a, *q = b;
    if (p->far != q->far)
        return p->far < q->far ? -1 : 1;
    return memcmp(p->at, q->at, sizeof p->at);
}

/* How far a unit of each dial moves the figures, at the middle of the grids. */
static void weigh_dials(struct search *s)
{
    double x[ST_MAX_DIALS], y[2][ST_NFIG];
    for (int k = 0; k < s->n_dial; k++) {
        const struct st_kitchen_grid *g = &s->ask->grid[k];
        x[k] = s->ask->near ? s->ask->near[k] : g->item[g->n / 2].factor;
    }
    const bool there = st_plan_at_n(s->plan, s->room, 1, x, y[0]) >= 0;
    for (int k = 0; k < s->n_dial; k++) {
        const double was = x[k], by = 1e-3 * fmax(fabs(was), 1e-3);
        s->weight[k] = 1.0;
        x[k] = was + by;
        if (there && st_plan_at_n(s->plan, s->room, 1, x, y[1]) >= 0) {
            s->weight[k] = 1e-9;
            for (int i = 0; i < s->n_figure; i++) {
                const double d = fabs(y[1][s->figure[i]] - y[0][s->figure[i]]) / by * s->per[i];
                s->weight[k] = d > s->weight[k] ? d : s->weight[k];
            }
        }
        x[k] = was;
    }
}

static void add_figure(struct search *s, enum st_figure f, double per)
{
    int i = 0;
    while (i < s->n_figure && s->figure[i] != f)
        i++;
    s->figure[i] = f;
    s->per[i] = i < s->n_figure ? fmax(s->per[i], per) : per;
    s->n_figure += i == s->n_figure;
}

static void find_figures(struct search *s)
{
    for (int w = 0; w < s->aim->n_wish; w++)
        add_figure(s, s->aim->wish[w].of, 1.0 / s->aim->wish[w].tolerance);
    for (int i = 0; s->ask->stays && i < s->ask->stays->n; i++) {
        const struct st_stay *t = &s->ask->stays->of[i];
        add_figure(s, t->of, st_kitchen_far(0.0, 1.0) / t->step);
    }
}

static bool begin(struct search *s, struct st_problem *problem)
{
    struct st_dial dial[ST_MAX_DIALS];
    for (int k = 0; k < s->n_dial; k++) {
        dial[k] = s->aim->dial[k].dial;
        if (s->ask->grid[k].n > 0)
            continue;
        const struct st_line *l = &s->aim->recipe->step[dial[k].step].line[dial[k].line];
        *problem = (struct st_problem){ .at = l->at };
        st_say(problem->what, sizeof problem->what, "nothing in this kitchen measures that much: ", l->text, NULL);
        st_say(problem->why, sizeof problem->why, "its smallest measure is too large, or there is no such tool", NULL,
               NULL);
        st_say(problem->try_, sizeof problem->try_, "add a scale or spoons to the kitchen, or keep this line", NULL,
               NULL);
        return false;
    }
    find_figures(s);
    s->plan = st_plan_create_dials(s->aim->recipe, dial, s->n_dial, problem);
    if (!s->plan)
        return false;
    for (int k = 0; k < s->n_dial; k++)
        s->written[k] = st_plan_dial_written(s->plan, k);
    s->room = st_plan_room_create(s->plan);
    s->bound = st_enclosure_create(s->plan, s->figure, s->n_figure);
    s->jars = st_jars_create(s->plan, s->aim->limit, s->aim->n_limit);
    s->hold = s->jars ? st_hold_create(s->jars) : NULL;
    s->point = calloc((size_t)s->ask->keep + 1, sizeof *s->point);
    s->factor = malloc((size_t)BATCH * ST_MAX_DIALS * sizeof *s->factor);
    s->y = malloc((size_t)BATCH * ST_NFIG * sizeof *s->y);
    s->failed = !s->room || !s->bound || !s->point || !s->factor || !s->y || !s->jars;
    return true;
}

static void run(struct search *s, struct batch *q)
{
    const long most = s->ask->most_nodes > 0 ? s->ask->most_nodes : 1000000;
    long next_polish = s->ask->deep_nodes;
    struct st_box root = { .bound = 0.0 };
    for (int k = 0; k < s->n_dial; k++)
        root.last[k] = (unsigned short)(s->ask->grid[k].n - 1);
    weigh_dials(s);
    if (s->ask->near)
        st_search_try_near(s, q);
    s->nodes = 1;
    if (points_in(s, &root) <= LEAF) {
        st_search_enumerate(s, &root, q);
        st_search_flush(s, q);
        return;
    }
    push(s, &root);
    while (s->open.n > 0 && s->nodes < most && !s->failed) {
        if (!s->open.by_bound && s->nodes >= s->ask->deep_nodes)
            st_boxes_by_bound(&s->open);
        if (s->ask->deep_nodes > 0 && s->nodes >= next_polish && s->n_polish < MOST_POLISH) {
            next_polish = 2 * s->nodes;
            st_search_polish(s, q);
        }
        open_boxes(s, q);
    }
    s->cut = s->failed;
    for (long i = 0; i < s->open.n; i++) {
        s->cut = s->cut || is_wanted(s, s->open.box[i].bound);
        drop(s, &s->open.box[i]);
    }
}

enum st_status st_kitchen_search(const struct st_kitchen_ask *ask, struct st_kitchen_result *out,
                                 struct st_problem *problem)
{
    struct search s = {
        .ask = ask, .aim = ask->aim, .n_dial = ask->aim->n_dial, .best = HUGE_VAL, .beat = HUGE_VAL, .closed = HUGE_VAL
    };
    struct batch *q = calloc(1, sizeof *q);
    memset(out, 0, sizeof *out);
    const bool begun = begin(&s, problem);
    if (begun && q && !s.failed)
        run(&s, q);
    st_plan_room_free(s.room);
    st_enclosure_free(s.bound);
    st_hold_free(s.hold);
    st_jars_free(s.jars);
    st_plan_free(s.plan);
    free(s.open.box);
    free(s.factor);
    free(s.y);
    const bool ready = begun && q && s.point;
    free(q);
    if (!ready) {
        free(s.point);
        return begun ? ST_E_NOCONV : ST_E_REFUSED;
    }
    qsort(s.point, (size_t)s.n_point, sizeof *s.point, by_far);
    const double best = s.n_point > 0 ? s.point[0].far : HUGE_VAL;
    out->point = s.point;
    out->n_point = s.n_point;
    out->within = s.within;
    out->counted = ask->count && !s.cut;
    out->points = 1.0;
    for (int k = 0; k < s.n_dial; k++)
        out->points *= ask->grid[k].n;
    out->nodes = s.nodes;
    out->evaluations = s.evaluations;
    out->bound = fmin(s.closed, best);
    out->proven = !s.cut && s.closed >= best - ask->gap;
    return out->proven ? ST_OK : ST_E_NOCONV;
}

void st_kitchen_result_done(struct st_kitchen_result *r)
{
    free(r->point);
    memset(r, 0, sizeof *r);
}
