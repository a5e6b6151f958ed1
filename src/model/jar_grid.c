#include <math.h>

#include "jar_inside.h"

/* Round times, since a stage began: minutes, hours, days as people count them, then a seventh more each time. */
static double round_time(int i)
{
    static const double H = 3600.0, D = 86400.0;
    const double t[] = { 0.25 * H, 0.5 * H, H,     2 * H, 4 * H, 8 * H, 12 * H, 18 * H, D,      1.5 * D, 2 * D,
                         2.5 * D,  3 * D,   4 * D, 5 * D, 6 * D, 7 * D, 8 * D,  10 * D, 12 * D, 14 * D };
    const int n = (int)(sizeof t / sizeof t[0]);
    return i < n ? t[i] : t[n - 1] * pow(8.0 / 7.0, i - n + 1);
}

static double ends(const struct st_jar_work *w, int s)
{
    return w->start[s] + w->length[s];
}

/* A stage begins when the last of what it takes is ready. */
static void lay_stages(struct st_jar_work *w)
{
    const struct st_jar *j = w->j;
    for (int s = 0; s < j->n_stage; s++) {
        w->start[s] = 0.0;
        w->length[s] = j->stage[s].time_s;
        for (int k = 0; k < j->stage[s].n_take; k++)
            w->start[s] = fmax(w->start[s], ends(w, j->stage[s].take[k].from));
        for (int p = 0; p < j->n_piece; p++)
            for (int e = s - 1; e >= 0; e--)
                if (j->piece[p].lies[s] > 0.0 && j->piece[p].lies[e] > 0.0) {
                    w->start[s] = fmax(w->start[s], ends(w, e));
                    break;
                }
    }
    const int last = j->n_stage - 1;
    w->length[last] = fmax(w->length[last], w->o->until_s - w->start[last]);
}

/* The way back from the last stage: each time the one that ends where it begins; with a clock of its own only the last
 * jar. */
static void mark_way(const struct st_jar_work *w, bool on[])
{
    const struct st_jar *j = w->j;
    const int filled = st_jar_filled_at(j, j->n_stage - 1);
    for (int s = 0; s < j->n_stage; s++)
        on[s] = s == j->n_stage - 1;
    for (int s = j->n_stage - 1; s > 0; s--)
        if (on[s] && w->start[s] > 0.0)
            for (int e = s - 1; e >= 0; e--)
                if (ends(w, e) == w->start[s]) {
                    on[e] = true;
                    break;
                }
    for (int s = 0; s < filled && w->o->own_clock; s++)
        on[s] = false;
}

static double next_asked(const struct st_jar_options *o, double after)
{
    for (int i = 0; i < o->n_time; i++)
        if (o->time[i] > after)
            return o->time[i];
    return (double)INFINITY;
}

/* Where the path of warmth of a stage has a corner. */
static double next_corner(const struct st_jar_stage *g, double after)
{
    for (int i = 0; i < g->n_heat; i++)
        if (g->heat[i].t_s > after)
            return g->heat[i].t_s;
    return (double)INFINITY;
}

static enum st_status put(struct st_jar_work *w, int stage, double t, double before, bool told)
{
    if (w->n_grid == ST_JAR_GRID)
        return ST_E_DOMAIN;
    w->time[w->n_grid++] = (struct st_jar_time){ t, t - before, stage, told ? w->n_told++ : -1 };
    return ST_OK;
}

static enum st_status lay_times(struct st_jar_work *w, int s, bool told)
{
    const double length = w->length[s], plan = w->j->stage[s].time_s;
    double t = 0.0;
    /* where a stage ends the next begins: both states are told, the later at the same time */
    enum st_status status = put(w, s, 0.0, 0.0, told);
    const int stride = w->o->coarse ? 2 : 1;
    for (int i = stride - 1; status >= 0 && t < length;) {
        double next = fmin(round_time(i), length);
        if (plan > t && plan < next)
            next = plan;
        next = fmin(next, next_corner(&w->j->stage[s], t));
        const double asked = next_asked(w->o, w->start[s] + t) - w->start[s];
        if (asked > t && asked < next)
            next = asked;
        if (next >= round_time(i))
            i += stride;
        status = put(w, s, next, t, told);
        t = next;
    }
    return status;
}

enum st_status st_jar_grid(struct st_jar_work *w)
{
    bool on[ST_JAR_STAGES] = { false };
    enum st_status status = ST_OK;
    w->n_grid = w->n_told = 0;
    lay_stages(w);
    mark_way(w, on);
    for (int s = 0; s < w->j->n_stage && status >= 0; s++) {
        w->first[s] = w->n_grid;
        status = lay_times(w, s, on[s]);
    }
    w->first[w->j->n_stage] = w->n_grid;
    return status;
}
