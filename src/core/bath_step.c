/* One step of a bath: the liquid between the sweeps.  See bath.h for the method, bath_inside.h for the symbols. */
#include <math.h>

#include "bath_inside.h"

#define GAMMA 0.29289321881345247559916 /* 1 - 1/sqrt 2 */

/* ---- the liquid ---- */

/* What each piece gives in tau while it sees the concentration C: gift - take C. */
struct offers {
    st_lanes gift[ST_BATH_PIECES], take[ST_BATH_PIECES], sees[ST_BATH_PIECES];
};

/* Piece j, which is in; to: after st_bath_outwards(), and its washed part as it was. */
ST_BATH_CLONES static void ask_piece(const struct st_bath *b, const struct st_bath_factor *f, int j, const double *to,
                                     struct offers *o)
{
    const size_t n = st_bath_row(b), at = (size_t)j * ST_BATH_LANES, here = (size_t)(b->shells - 1) * n + at;
    const struct st_bath_piece *p = &b->piece[j];
    const double tau = f->tau, root = st_bath_shell(b, j, b->shells - 1)->root;
    const double *open = f->open + at, *rest = f->rest + at, *inverse = f->inverse + here;
    const double *outer = to + here, *washed = to + here + n;
    double *restrict gift = o->gift[j], *restrict take = o->take[j];

    for (int l = 0; l < ST_BATH_LANES; l++) {
        const double wash = tau * p->wash_rate[l], w = p->washed[l] * p->volume[l] * wash / (1.0 + wash);
        const double s = (1.0 - p->washed[l]) * p->volume[l] * open[l] * root;
        gift[l] = s * outer[l] * inverse[l] + w * washed[l];
        take[l] = p->partition[l] * (s * root * rest[l] + w);
    }
}

static void ask(const struct st_bath *b, const struct st_bath_factor *f, const double *to, struct offers *o)
{
    for (int j = 0; j < b->n_piece; j++) {
        st_lanes_set(o->gift[j], 0.0);
        st_lanes_set(o->take[j], 0.0);
        if (b->piece[j].in)
            ask_piece(b, f, j, to, o);
    }
}

/* C in every lane when no cap holds; every piece sees it. */
static void mix(const struct st_bath *b, const st_lanes liquid, struct offers *o, st_lanes C)
{
    st_lanes above, below;
    st_lanes_copy(above, liquid);
    st_lanes_copy(below, b->volume);
    for (int j = 0; j < b->n_piece; j++)
        for (int l = 0; l < ST_BATH_LANES; l++) {
            above[l] += o->gift[j][l];
            below[l] += o->take[j][l];
        }
    for (int l = 0; l < ST_BATH_LANES; l++)
        C[l] = above[l] / below[l];
    for (int j = 0; j < b->n_piece; j++)
        st_lanes_copy(o->sees[j], C);
}

/* Pieces marked in gives[] give `room` together: they see what makes them.  One that could only take then is unmarked
 * and sees what makes it give nothing; true when there was one. */
static bool part_the_room(const struct st_bath *b, double room, struct offers *o, int l, bool gives[])
{
    double gift = -room, take = 0.0;
    bool changed = false;
    for (int j = 0; j < b->n_piece; j++)
        if (gives[j]) {
            gift += o->gift[j][l];
            take += o->take[j][l];
        }
    for (int j = 0; j < b->n_piece; j++)
        if (gives[j]) {
            const double silent = o->gift[j][l] / o->take[j][l];
            gives[j] = gift / take < silent;
            o->sees[j][l] = gives[j] ? gift / take : silent;
            changed = changed || !gives[j];
        }
    return changed;
}

/* Lane l at its cap: pieces that take see the cap, the others give what room is left.  True when none takes. */
static bool hold_at_cap(const struct st_bath *b, double liquid, struct offers *o, int l)
{
    const double cap = b->cap[l];
    double room = cap * b->volume[l] - liquid;
    bool gives[ST_BATH_PIECES], taken = false;
    for (int j = 0; j < b->n_piece; j++) {
        const double given = o->gift[j][l] - o->take[j][l] * cap;
        o->sees[j][l] = cap;
        gives[j] = given > 0.0;
        taken = taken || given < 0.0;
        room -= fmin(given, 0.0);
    }
    while (part_the_room(b, fmax(room, 0.0), o, l, gives)) {
        /* each turn unmarks a piece */
    }
    return !taken;
}

/* Outermost shell and washed part of piece j, which are known now that it knows what it sees; gave: in unit time. */
ST_BATH_CLONES static void settle_piece(const struct st_bath *b, const struct st_bath_factor *f, int j,
                                        const struct offers *o, double *to, double *restrict liquid,
                                        double *restrict gave)
{
    const size_t n = st_bath_row(b), at = (size_t)j * ST_BATH_LANES, here = (size_t)(b->shells - 1) * n + at;
    const struct st_bath_piece *p = &b->piece[j];
    const double tau = f->tau, root = st_bath_shell(b, j, b->shells - 1)->root;
    const double *open = f->open + at, *inverse = f->inverse + here;
    double *restrict outer = to + here, *restrict washed = to + here + n;

    for (int l = 0; l < ST_BATH_LANES; l++) {
        const double wash = tau * p->wash_rate[l], at_surface = p->partition[l] * o->sees[j][l];
        const double given = o->gift[j][l] - o->take[j][l] * o->sees[j][l];
        outer[l] = (outer[l] + open[l] * root * at_surface) * inverse[l];
        washed[l] = (washed[l] + wash * at_surface) / (1.0 + wash);
        liquid[l] += given;
        gave[l] = given / tau;
    }
}

static void settle(const struct st_bath *b, const struct st_bath_factor *f, const struct offers *o, double *to,
                   st_lanes liquid, st_lanes gave[])
{
    for (int j = 0; j < b->n_piece; j++) {
        st_lanes_set(gave[j], 0.0);
        if (b->piece[j].in)
            settle_piece(b, f, j, o, to, liquid, gave[j]);
    }
}

/* ---- steps ---- */

/* The row of washed parts: to = from + ahead (stage - from). */
static void start_washed(const struct st_bath *b, double ahead, const double *from, const double *stage, double *to)
{
    const size_t n = st_bath_row(b), at = (size_t)b->shells * n;
    for (size_t i = at; i < at + n; i++)
        to[i] = from[i] + ahead * (stage[i] - from[i]);
}

/* Both stages of a step, without regard to the cap; over[]: lanes that go past it. */
static void two_stages(struct st_bath *b, double dt, struct st_bath_move *m, bool over[])
{
    const struct st_bath_factor *f = st_bath_factor_for(b, ST_BATH_WHOLE, GAMMA * dt);
    const size_t n = st_bath_row(b);
    struct offers o;
    st_lanes C, first;

    st_bath_outwards(n, b->shells, f->pass, b->state, b->stage);
    start_washed(b, 0.0, b->state, b->state, b->stage);
    ask(b, f, b->stage, &o);
    mix(b, b->liquid, &o, C);
    st_lanes_copy(first, b->liquid);
    settle(b, f, &o, b->stage, first, m->early);
    st_bath_inwards(n, b->shells, f->pass, f->inverse, b->stage);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        over[l] = C[l] > b->cap[l] || b->liquid[l] > b->cap[l] * b->volume[l];
        m->liquid[l] = b->liquid[l] + ST_BATH_AHEAD * (first[l] - b->liquid[l]);
    }

    st_bath_outwards_ahead(n, b->shells, f->pass, b->state, b->stage, b->next);
    start_washed(b, ST_BATH_AHEAD, b->state, b->stage, b->next);
    ask(b, f, b->next, &o);
    mix(b, m->liquid, &o, C);
    settle(b, f, &o, b->next, m->liquid, m->late);
    st_bath_inwards(n, b->shells, f->pass, f->inverse, b->next);
    for (int l = 0; l < ST_BATH_LANES; l++)
        over[l] = over[l] || C[l] > b->cap[l];
}

/* One implicit Euler step, at the cap where it is met. */
static void euler(struct st_bath *b, const struct st_bath_factor *f, const double *from, double *to, st_lanes liquid,
                  st_lanes gave[], bool capped[])
{
    const size_t n = st_bath_row(b);
    struct offers o;
    st_lanes C;
    st_bath_outwards(n, b->shells, f->pass, from, to);
    start_washed(b, 0.0, from, from, to);
    ask(b, f, to, &o);
    mix(b, liquid, &o, C);
    for (int l = 0; l < ST_BATH_LANES; l++)
        capped[l] = C[l] > b->cap[l] && hold_at_cap(b, liquid[l], &o, l);
    settle(b, f, &o, to, liquid, gave);
    st_bath_inwards(n, b->shells, f->pass, f->inverse, to);
}

/* Lanes that ask for it: two implicit Euler steps of dt/2 in the place of what two_stages() did. */
static void go_carefully(struct st_bath *b, double dt, struct st_bath_move *m)
{
    const struct st_bath_factor *f = st_bath_factor_for(b, ST_BATH_HALF, 0.5 * dt);
    const size_t all = (size_t)(b->shells + 1) * st_bath_row(b);
    st_lanes liquid, early[ST_BATH_PIECES], late[ST_BATH_PIECES];
    bool half[ST_BATH_LANES];

    st_lanes_copy(liquid, b->liquid);
    euler(b, f, b->state, b->stage, liquid, early, half);
    euler(b, f, b->stage, b->spare, liquid, late, m->capped);
    for (size_t i = 0; i < all; i++)
        if (m->first_order[i % ST_BATH_LANES])
            b->next[i] = b->spare[i];
    for (int l = 0; l < ST_BATH_LANES; l++) {
        if (!m->first_order[l])
            continue;
        m->liquid[l] = liquid[l];
        for (int j = 0; j < b->n_piece; j++) {
            m->early[j][l] = early[j][l];
            m->late[j][l] = late[j][l];
        }
    }
}

bool st_bath_try(struct st_bath *b, double dt, struct st_bath_move *m)
{
    st_lanes low = { 0 };
    bool over[ST_BATH_LANES], any = false, finite = true;

    two_stages(b, dt, m, over);
    st_bath_smallest((size_t)(b->shells + 1) * st_bath_row(b), b->next, low);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        m->first_order[l] = over[l] || low[l] < 0.0 || m->liquid[l] < 0.0;
        m->capped[l] = false;
        any = any || m->first_order[l];
    }
    if (any)
        go_carefully(b, dt, m);
    for (int l = 0; l < ST_BATH_LANES; l++)
        finite = finite && isfinite(m->liquid[l]);
    return finite;
}

void st_bath_take(struct st_bath *b, const struct st_bath_move *m)
{
    double *was = b->state;
    bool any = false;
    b->state = b->next;
    b->next = was;
    st_lanes_copy(b->liquid, m->liquid);
    for (int j = 0; j < b->n_piece; j++)
        st_lanes_copy(b->gave[j], m->late[j]);
    b->gave_known = true;
    for (int l = 0; l < ST_BATH_LANES; l++)
        any = any || m->first_order[l];
    b->steps++;
    b->first_order += any;
}

enum st_status st_bath_step(struct st_bath *b, double dt)
{
    struct st_bath_move m;
    if (!(dt > 0.0 && dt < 1e150) || !st_bath_is_sound(b) || !st_bath_try(b, dt, &m))
        return ST_E_DOMAIN;
    st_bath_take(b, &m);
    return ST_OK;
}
