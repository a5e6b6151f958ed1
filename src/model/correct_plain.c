#include <math.h>
#include <string.h>

#include "correct_inside.h"
#include "random.h"

/* The plain addition, what it leaves alone, and the search bound to both (correct.h, Notes 6 to 8). */

enum { DRAW = ST_CORRECT_THINGS };

/* What a step of drift beyond the first weighs against, of the batch.  Own: for less a cook pours in no second thing. */
static const double DRIFT = 0.01;

/* What is held stays within this part of a step: edges of a whole step would ask for a pinch of sugar and no more. */
static const double HELD_STEP = 0.2;

/* Hardly more is a twentieth; what measures and labels take is a tenth, and a little of the batch: own. */
static const double HARDLY = 1.05, MORE = 1.1, LITTLE = 0.002;

/* So little of the batch is rounding of the search. */
static const double TRACE = 1e-6;

/* ---- what nobody asked for ---- */

static bool unasked(const struct st_correct_ask *a, int f)
{
    return f != ST_CORRECT_VOLUME && !a->wish[f].asked && (f != ST_CORRECT_ACID || a->batch.is.acid_known);
}

static double was(const struct st_correct_ask *a, int f)
{
    return f == ST_CORRECT_STRENGTH ? a->batch.is.strength
           : f == ST_CORRECT_SUGAR  ? a->batch.is.sugar
           : f == ST_CORRECT_ACID   ? a->batch.is.acid
                                    : a->batch.ml;
}

double st_correct_step(const struct st_correct_ask *a, enum st_correct_figure f)
{
    return f == ST_CORRECT_STRENGTH ? 0.5
           : f == ST_CORRECT_SUGAR  ? 5.0
           : f == ST_CORRECT_ACID   ? fmax(0.3, 0.05 * a->batch.is.acid)
                                    : 0.1 * a->batch.ml;
}

/* Steps beyond the first, of all that nobody asked for. */
static double drift(const struct st_correct_ask *a, const double y[])
{
    double sum = 0.0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (unasked(a, f))
            sum += fmax(fabs(y[f] - was(a, f)) / st_correct_step(a, (enum st_correct_figure)f) - 1.0, 0.0);
    return sum;
}

static double batch_g(const struct st_correct_base *b)
{
    return b->ask->batch.ml * b->batch_g_ml;
}

static double moved_g(const struct st_correct_base *b, const double x[])
{
    double g = x[DRAW] * b->batch_g_ml;
    for (int i = 0; i < b->ask->n_thing; i++)
        g += x[i] * b->g_of[i];
    return g;
}

static bool middle_of(const struct st_correct_base *b, const double x[], double y[ST_CORRECT_NFIG])
{
    double m[ST_NCOMP];
    st_correct_masses(b, x, x[DRAW], m);
    return st_correct_figures(1, 1, m, y) >= 0;
}

/* A thing costs its grams, and what a unit of it by itself does to what nobody asked for: so water is not the least where
 * spirit is as good and moves less, and no pinch of one thing is bought to make good for another. */
static void weigh_drift(const struct st_correct_base *b, double cost[])
{
    const struct st_correct_ask *a = b->ask;
    const double h = 1e-3 * a->batch.ml;
    for (int i = 0; i < a->n_thing; i++) {
        double x[ST_CORRECT_VARIABLES] = { 0.0 }, y[ST_CORRECT_NFIG];
        cost[i] = b->g_of[i];
        x[i] = h;
        for (int f = 0; f < ST_CORRECT_NFIG && middle_of(b, x, y); f++)
            if (unasked(a, f))
                cost[i] +=
                    DRIFT * batch_g(b) * fabs(y[f] - was(a, f)) / h / st_correct_step(a, (enum st_correct_figure)f);
    }
}

/* ---- the plain addition ---- */

struct target {
    double room[ST_CORRECT_NFIG],
        half[ST_CORRECT_NFIG]; /* of each wish: what its doubt asks for, half of what is wished */
};

static void hold_within(const struct st_correct_ask *a, const double from[], const double to[], double steps,
                        struct st_correct_search *s)
{
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (unasked(a, f)) {
            const double room = steps * st_correct_step(a, (enum st_correct_figure)f);
            s->low[f] = fmin(from[f], to[f]) - room;
            s->high[f] = fmax(from[f], to[f]) + room;
        }
}

static void hold_where_it_is(const struct st_correct_ask *a, double steps, struct st_correct_search *s)
{
    double now[ST_CORRECT_NFIG];
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        now[f] = was(a, f);
    hold_within(a, now, now, steps, s);
}

/* The least that brings the middle inside: r = 0 just so, 1 as far as its doubt asks for, at most to the middle of what is
 * wished; below 0 that much beside it. */
static bool aim_at(const struct st_correct_search *way, const struct target *t, double r, double x[])
{
    struct st_correct_search s = *way;
    const struct st_correct_wish *w = way->base->ask->wish;
    s.middle = true;
    s.z = 0.0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        const double room = r * (r < 0.0 ? t->half[f] : fmin(t->room[f], 0.98 * t->half[f]));
        if (!w[f].asked)
            continue;
        s.low[f] = w[f].low + room;
        s.high[f] = w[f].high - room;
    }
    return st_correct_cheapest(&s, x) >= 0;
}

/* What the doubt asks for, as it is where the middle just comes inside: all ends share what may fail. */
static void take_doubt(struct st_correct_base *b, const double x[], struct target *t)
{
    struct st_correct_point p;
    struct st_correct_linear l;
    int asked = 0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        asked += b->ask->wish[f].asked;
    const double z = st_normal_from_uniform(1.0 - (1.0 - b->ask->certainty) / asked);
    st_correct_weighed(b, x, x[DRAW], &p);
    for (int i = 0; i < b->ask->n_thing; i++)
        p.with[i].own = x[i] > 0.0 ? p.with[i].own : 0.0;
    const bool known = st_correct_linearise(b, &p, &l) >= 0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        t->room[f] = known ? z * st_correct_sd(&l, f) : 0.0;
}

static void take_target(const struct st_correct_ask *a, struct target *t)
{
    memset(t, 0, sizeof *t);
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        const struct st_correct_wish *w = &a->wish[f];
        t->half[f] = isfinite(w->low) && isfinite(w->high) ? 0.5 * (w->high - w->low) : HUGE_VAL;
    }
}

/* Result: how far it goes for the doubt, 0 .. 1; negative: the middle does not come inside. */
static double plain_of(const struct st_correct_search *way, double x[])
{
    struct target t;
    double further[ST_CORRECT_VARIABLES], low = 0.0, high = 1.0;
    take_target(way->base->ask, &t);
    if (!aim_at(way, &t, 0.0, x))
        return -1.0;
    take_doubt(way->base, x, &t);
    if (aim_at(way, &t, 1.0, further)) {
        memcpy(x, further, sizeof further);
        return 1.0;
    }
    for (int turn = 0; turn < 4; turn++) {
        const double r = 0.5 * (low + high);
        const bool is = aim_at(way, &t, r, further);
        *(is ? &low : &high) = r;
        if (is)
            memcpy(x, further, sizeof further);
    }
    return low;
}

/* No more than the plain addition x moves, by a tenth and a little, of nothing else, and with the middle inside. */
static void bind_to(const double x[], struct st_correct_search *s)
{
    const struct st_correct_base *b = s->base;
    const struct st_correct_wish *w = b->ask->wish;
    s->moved_most_g = MORE * moved_g(b, x) + LITTLE * batch_g(b);
    for (int i = 0; i < ST_CORRECT_VARIABLES; i++)
        if (!(x[i] * (i == DRAW ? b->batch_g_ml : b->g_of[i]) > TRACE * batch_g(b)))
            s->most[i] = 0.0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (w[f].asked) {
            s->low[f] = w[f].low;
            s->high[f] = w[f].high;
        }
}

/* ---- what is chosen ---- */

static struct st_correct_search way_of(struct st_correct_base *b, enum st_correct_by by, bool draw)
{
    struct st_correct_search s;
    (void)st_correct_way(b, by, &s);
    if (!draw)
        s.most[DRAW] = 0.0;
    return s;
}

/* Note 7: whether what nobody asked for is held or left to move. */
static const struct st_correct_plain *choose(struct st_correct_base *b, bool draw)
{
    struct st_correct_plain *p = &b->plain[draw];
    if (p->known)
        return p;
    struct st_correct_search s = way_of(b, ST_BY_LEAST, draw);
    memcpy(p->cost, s.cost, sizeof p->cost);
    weigh_drift(b, p->cost);
    p->known = true;
    memcpy(s.cost, p->cost, sizeof s.cost);
    const double r = plain_of(&s, p->x);
    p->reaches = r >= 0.0 && middle_of(b, p->x, p->y);
    const double by = p->reaches ? drift(b->ask, p->y) : 0.0;
    p->moves = by > 0.0;
    if (!p->moves)
        return p;
    s = way_of(b, ST_BY_HELD, draw);
    hold_where_it_is(b->ask, HELD_STEP, &s);
    p->holds = plain_of(&s, p->held_x) >= r; /* else it is held by leaving the wish half met */
    const double held_g = moved_g(b, p->held_x), plain_g = moved_g(b, p->x);
    p->held = p->holds && held_g < plain_g + DRIFT * by * batch_g(b) && held_g < HARDLY * plain_g;
    return p;
}

enum st_correct_none st_correct_honest(struct st_correct_base *b, enum st_correct_by by, bool draw,
                                       struct st_correct_search *s)
{
    double x[ST_CORRECT_VARIABLES], now[ST_CORRECT_NFIG];
    if (!st_correct_way(b, by, s))
        return ST_NONE_NOT_APPLIES;
    if (!draw)
        s->most[DRAW] = 0.0;
    if (!b->ask->hold)
        return ST_NONE_HERE;
    const struct st_correct_plain *p = choose(b, draw);
    if (!p->reaches)
        return ST_NONE_REACHED;
    if (by == ST_BY_HELD && (p->held || !p->moves))
        return ST_NONE_NOT_APPLIES;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        now[f] = was(b->ask, f);
    if (by == ST_BY_HELD || (by == ST_BY_LEAST && p->held)) {
        if (!p->holds)
            return ST_NONE_REACHED;
        hold_where_it_is(b->ask, HELD_STEP, s);
        bind_to(p->held_x, s);
        return ST_NONE_HERE;
    }
    hold_within(b->ask, now, p->held ? now : p->y, p->held ? HELD_STEP : 1.0, s);
    if (by == ST_BY_LEAST) {
        memcpy(s->cost, p->cost, sizeof s->cost);
        bind_to(p->x, s);
        return ST_NONE_HERE;
    }
    if (plain_of(s, x) < 0.0)
        return ST_NONE_REACHED;
    bind_to(x, s);
    return ST_NONE_HERE;
}

/* ---- where nothing comes inside ---- */

void st_correct_near(struct st_correct_base *b, bool draw, struct st_correct_search *s)
{
    struct target t;
    double x[ST_CORRECT_VARIABLES], y[ST_CORRECT_NFIG], now[ST_CORRECT_NFIG], low = 0.0, high = -1.0;
    *s = way_of(b, ST_BY_LEAST, draw);
    if (!b->ask->hold)
        return;
    memcpy(s->cost, choose(b, draw)->cost, sizeof s->cost);
    for (int i = 0; i < b->ask->n_thing; i++) /* more than the batch again is another drink */
        s->most[i] = fmin(s->most[i], b->ask->batch.ml);
    take_target(b->ask, &t);
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        t.half[f] = isfinite(t.half[f]) ? t.half[f] : st_correct_step(b->ask, (enum st_correct_figure)f);
    for (int turn = 0; turn < 12 && !aim_at(s, &t, high, x); turn++) {
        low = high;
        high *= 2.0;
    }
    for (int turn = 0; turn < 6; turn++) {
        const double r = 0.5 * (low + high);
        *(aim_at(s, &t, r, x) ? &high : &low) = r;
    }
    if (!aim_at(s, &t, high, x) || !middle_of(b, x, y))
        return;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        now[f] = was(b->ask, f);
    hold_within(b->ask, now, y, 1.0, s);
    s->moved_most_g = MORE * moved_g(b, x) + LITTLE * batch_g(b);
}

bool st_correct_meets(const struct st_correct_ask *ask, double z, double x[ST_CORRECT_VARIABLES])
{
    struct st_correct_base b;
    struct st_correct_search s;
    const char *what;
    if (st_correct_begin(ask, &b, &what) < 0)
        return false;
    enum st_correct_none none = ST_NONE_REACHED;
    if (ask->hold)
        none = st_correct_honest(&b, ST_BY_LEAST, false, &s);
    if (none != ST_NONE_HERE)
        none = st_correct_honest(&b, ST_BY_LEAST, true, &s);
    s.z = z;
    return none == ST_NONE_HERE && st_correct_cheapest(&s, x) >= 0;
}
