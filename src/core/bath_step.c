/* One step of a bath: elimination, the liquid, and back.  See bath.h for the method, bath_inside.h for the symbols. */
#include <math.h>
#include <string.h>

#include "bath_inside.h"

#define GAMMA 0.29289321881345247559916 /* 1 - 1/sqrt 2 */
#define AHEAD 2.41421356237309504880169 /* (1 - GAMMA)/GAMMA */

/* The pieces in the liquid, for loops that have nothing to ask. */
struct crowd {
    int n, shells;
    int at[ST_BATH_PIECES];           /* first figure of the piece in a row */
    const double *v[ST_BATH_PIECES];  /* shell volumes */
    const double *g[ST_BATH_PIECES];  /* conductances */
    const double *x[ST_BATH_PIECES];  /* rates */
    const double *bi[ST_BATH_PIECES]; /* Biot numbers */
    double skinless[ST_BATH_PIECES], area[ST_BATH_PIECES];
    int piece[ST_BATH_PIECES];
    size_t row;
};

static void gather(const struct st_bath *b, struct crowd *c)
{
    c->n = 0;
    c->shells = b->shells;
    c->row = st_bath_row(b);
    for (int j = 0; j < b->n_piece; j++) {
        const struct st_bath_piece *p = &b->piece[j];
        if (!p->in)
            continue;
        const size_t body = (size_t)p->body, n = (size_t)b->shells;
        c->piece[c->n] = j;
        c->at[c->n] = j * ST_BATH_LANES;
        c->v[c->n] = b->shell + body * n;
        c->g[c->n] = b->conductance + body * (n + 1);
        c->x[c->n] = p->rate;
        c->bi[c->n] = p->biot;
        c->skinless[c->n] = c->g[c->n][n];
        c->area[c->n] = p->body == ST_BODY_SPHERE ? 3.0 : p->body == ST_BODY_CYLINDER ? 2.0 : 1.0;
        c->n++;
    }
}

/* ---- the factor ---- */

static bool same(const st_lanes x, const st_lanes y)
{
    return memcmp(x, y, sizeof(st_lanes)) == 0;
}

static bool still_good(const struct st_bath *b, const struct st_bath_factor *f, double tau)
{
    bool good = f->known && f->tau == tau;
    for (int j = 0; j < b->n_piece && good; j++) {
        const struct st_bath_piece *p = &b->piece[j];
        good = f->in[j] == p->in && (!p->in || (same(f->rate[j], p->rate) && same(f->biot[j], p->biot)));
    }
    return good;
}

/* One shell of one piece: p from what is left of the shell inside it. */
ST_BATH_CLONES static void eliminate(const struct crowd *c, double tau, struct st_bath_factor *f)
{
    st_lanes left[ST_BATH_PIECES] = { 0 }; /* p less the conductance outwards, over p, of the shell inside */
    for (int k = 0; k < c->shells; k++)
        for (int i = 0; i < c->n; i++) {
            const double v = c->v[i][k], inward = c->g[i][k], outward = c->g[i][k + 1], area = c->area[i];
            const bool last = k == c->shells - 1;
            const double *x = c->x[i], *bi = c->bi[i];
            const size_t at = (size_t)k * c->row + (size_t)c->at[i];
            double *pass = f->pass + at, *inverse = f->inverse + at, *open = f->open[c->piece[i]], *held = left[i];
            for (int l = 0; l < ST_BATH_LANES; l++) {
                const double s = last ? area / (area / outward + 1.0 / bi[l]) : outward;
                const double y = tau * x[l], own = v + y * inward * held[l], p = own + y * s;
                const double one = 1.0 / p;
                inverse[l] = one;
                pass[l] = y * s * one;
                held[l] = own * one;
                open[l] = y * s;
            }
        }
    for (int i = 0; i < c->n; i++)
        memcpy(f->rest[c->piece[i]], left[i], sizeof(st_lanes));
}

static const struct st_bath_factor *factor_for(struct st_bath *b, const struct crowd *c, int which, double tau)
{
    struct st_bath_factor *f = &b->factor[which];
    if (still_good(b, f, tau))
        return f;
    eliminate(c, tau, f);
    f->tau = tau;
    f->known = true;
    for (int j = 0; j < b->n_piece; j++) {
        f->in[j] = b->piece[j].in;
        memcpy(f->rate[j], b->piece[j].rate, sizeof(st_lanes));
        memcpy(f->biot[j], b->piece[j].biot, sizeof(st_lanes));
    }
    return f;
}

/* ---- sweeps ---- */

/* From the middle outwards: to = v c + pass of the shell inside times what came of it. */
ST_BATH_CLONES static void outwards(const struct crowd *c, const struct st_bath_factor *f, const double *restrict from,
                                    double *restrict to)
{
    const double *restrict pass = f->pass;
    for (int i = 0; i < c->n; i++)
        for (int l = 0; l < ST_BATH_LANES; l++)
            to[c->at[i] + l] = c->v[i][0] * from[c->at[i] + l];
    for (int k = 1; k < c->shells; k++)
        for (int i = 0; i < c->n; i++) {
            const size_t at = (size_t)k * c->row + (size_t)c->at[i], in = at - c->row;
            const double v = c->v[i][k];
            for (int l = 0; l < ST_BATH_LANES; l++)
                to[at + (size_t)l] = v * from[at + (size_t)l] + pass[in + (size_t)l] * to[in + (size_t)l];
        }
}

/* The same of from + AHEAD (stage - from). */
ST_BATH_CLONES static void outwards_ahead(const struct crowd *c, const struct st_bath_factor *f,
                                          const double *restrict from, const double *restrict stage,
                                          double *restrict to)
{
    const double *restrict pass = f->pass;
    st_lanes before[ST_BATH_PIECES] = { 0 };
    for (int k = 0; k < c->shells; k++)
        for (int i = 0; i < c->n; i++) {
            const size_t at = (size_t)k * c->row + (size_t)c->at[i];
            const double v = c->v[i][k], *restrict y0 = from + at, *restrict y1 = stage + at;
            double *restrict y = to + at, *restrict carry = before[i];
            const double *restrict m = pass + at;
            for (int l = 0; l < ST_BATH_LANES; l++) {
                const double d = v * (y0[l] + AHEAD * (y1[l] - y0[l])) + carry[l];
                y[l] = d;
                carry[l] = m[l] * d;
            }
        }
}

/* From the surface to the middle, where the outermost shell is known; low[]: the smallest figure of each lane. */
ST_BATH_CLONES static void inwards(const struct crowd *c, const struct st_bath_factor *f, double *restrict to,
                                   double *restrict low)
{
    const double *restrict pass = f->pass, *restrict inverse = f->inverse;
    for (int k = c->shells - 2; k >= 0; k--)
        for (int i = 0; i < c->n; i++) {
            const size_t at = (size_t)k * c->row + (size_t)c->at[i], out = at + c->row;
            for (int l = 0; l < ST_BATH_LANES; l++) {
                const double y =
                    to[at + (size_t)l] * inverse[at + (size_t)l] + pass[at + (size_t)l] * to[out + (size_t)l];
                to[at + (size_t)l] = y;
                low[l] = y < low[l] ? y : low[l];
            }
        }
}

/* ---- the liquid ---- */

/* What each piece gives in tau while it sees the concentration C: gift - take C. */
struct offers {
    st_lanes gift[ST_BATH_PIECES], take[ST_BATH_PIECES], sees[ST_BATH_PIECES];
};

/* to[]: after outwards(); washed parts in the row behind the last shell, as they were. */
static void ask(const struct st_bath *b, const struct crowd *c, const struct st_bath_factor *f, const double *to,
                struct offers *o)
{
    for (int i = 0; i < c->n; i++) {
        const int j = c->piece[i];
        const struct st_bath_piece *p = &b->piece[j];
        const size_t at = (size_t)(c->shells - 1) * c->row + (size_t)c->at[i];
        for (int l = 0; l < ST_BATH_LANES; l++) {
            const double wash = f->tau * p->wash_rate[l], w = p->washed[l] * p->volume[l] * wash / (1.0 + wash);
            const double s = (1.0 - p->washed[l]) * p->volume[l] * f->open[j][l];
            const size_t here = at + (size_t)l;
            o->gift[i][l] = s * to[here] * f->inverse[here] + w * to[here + c->row];
            o->take[i][l] = p->partition[l] * (s * f->rest[j][l] + w);
        }
    }
}

/* C in every lane when no cap holds. */
static void mix(const struct st_bath *b, const struct crowd *c, const st_lanes liquid, const struct offers *o,
                st_lanes C)
{
    st_lanes above, below;
    for (int l = 0; l < ST_BATH_LANES; l++) {
        above[l] = liquid[l];
        below[l] = b->volume[l];
    }
    for (int i = 0; i < c->n; i++)
        for (int l = 0; l < ST_BATH_LANES; l++) {
            above[l] += o->gift[i][l];
            below[l] += o->take[i][l];
        }
    for (int l = 0; l < ST_BATH_LANES; l++)
        C[l] = above[l] / below[l];
}

static void all_see(const struct crowd *c, const st_lanes C, struct offers *o)
{
    for (int i = 0; i < c->n; i++)
        memcpy(o->sees[i], C, sizeof(st_lanes));
}

/* Lane l at its cap: pieces that take see the cap; those that give see what makes them give, together, `room`. */
static bool share_the_room(const struct st_bath *b, const struct crowd *c, double liquid, struct offers *o, int l)
{
    const double cap = b->cap[l];
    double room = cap * b->volume[l] - liquid;
    bool taken = false;
    for (int i = 0; i < c->n; i++) {
        const double gives = o->gift[i][l] - o->take[i][l] * cap;
        o->sees[i][l] = cap;
        room -= fmin(gives, 0.0);
        taken = taken || gives < 0.0;
    }
    room = fmax(room, 0.0);
    bool gives[ST_BATH_PIECES];
    for (int i = 0; i < c->n; i++)
        gives[i] = o->gift[i][l] - o->take[i][l] * cap > 0.0;
    for (bool changed = true; changed;) { /* each turn silences a piece, so at most n + 1 */
        double gift = -room, take = 0.0;
        changed = false;
        for (int i = 0; i < c->n; i++)
            if (gives[i]) {
                gift += o->gift[i][l];
                take += o->take[i][l];
            }
        for (int i = 0; i < c->n; i++)
            if (gives[i]) {
                const double silent = o->gift[i][l] / o->take[i][l];
                o->sees[i][l] = fmin(gift / take, silent);
                if (gift / take >= silent) {
                    gives[i] = false;
                    changed = true;
                }
            }
    }
    return !taken;
}

/* Outermost shells and washed parts, which are known now that the pieces know what they see; gave[]: in unit time. */
static void settle(const struct st_bath *b, const struct crowd *c, const struct st_bath_factor *f,
                   const struct offers *o, double *to, st_lanes low, st_lanes liquid, st_lanes gave[])
{
    for (int i = 0; i < c->n; i++) {
        const int j = c->piece[i];
        const struct st_bath_piece *p = &b->piece[j];
        const size_t at = (size_t)(c->shells - 1) * c->row + (size_t)c->at[i];
        for (int l = 0; l < ST_BATH_LANES; l++) {
            const size_t here = at + (size_t)l;
            const double wash = f->tau * p->wash_rate[l], at_surface = p->partition[l] * o->sees[i][l];
            const double given = o->gift[i][l] - o->take[i][l] * o->sees[i][l];
            to[here] = to[here] * f->inverse[here] + f->open[j][l] * f->inverse[here] * at_surface;
            to[here + c->row] = (to[here + c->row] + wash * at_surface) / (1.0 + wash);
            low[l] = fmin(low[l], fmin(to[here], to[here + c->row]));
            liquid[l] += given;
            gave[j][l] = given / f->tau;
        }
    }
}

/* ---- steps ---- */

static void copy_washed(const struct st_bath *b, const double *from, double *to)
{
    const size_t row = st_bath_row(b), at = (size_t)b->shells * row;
    memcpy(to + at, from + at, row * sizeof *to);
}

/* Both stages of a step, without regard to the cap; over[]: lanes that go past it. */
static void two_stages(struct st_bath *b, const struct crowd *c, double dt, struct st_bath_move *m, st_lanes low,
                       bool over[])
{
    const struct st_bath_factor *f = factor_for(b, c, ST_BATH_WHOLE, GAMMA * dt);
    const size_t row = c->row, washed = (size_t)b->shells * row;
    struct offers o;
    st_lanes C, first, unused;

    outwards(c, f, b->state, b->stage);
    copy_washed(b, b->state, b->stage);
    ask(b, c, f, b->stage, &o);
    mix(b, c, b->liquid, &o, C);
    all_see(c, C, &o);
    memcpy(first, b->liquid, sizeof first);
    settle(b, c, f, &o, b->stage, unused, first, m->early);
    inwards(c, f, b->stage, unused);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        over[l] = C[l] > b->cap[l] || b->liquid[l] > b->cap[l] * b->volume[l];
        m->liquid[l] = b->liquid[l] + AHEAD * (first[l] - b->liquid[l]);
    }

    outwards_ahead(c, f, b->state, b->stage, b->next);
    for (size_t i = washed; i < washed + row; i++)
        b->next[i] = b->state[i] + AHEAD * (b->stage[i] - b->state[i]);
    ask(b, c, f, b->next, &o);
    mix(b, c, m->liquid, &o, C);
    all_see(c, C, &o);
    settle(b, c, f, &o, b->next, low, m->liquid, m->late);
    inwards(c, f, b->next, low);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        over[l] = over[l] || C[l] > b->cap[l];
        low[l] = fmin(low[l], m->liquid[l]);
    }
}

/* One implicit Euler step, at the cap where it is met. */
static void euler(struct st_bath *b, const struct crowd *c, const struct st_bath_factor *f, const double *from,
                  double *to, st_lanes liquid, st_lanes gave[], bool capped[])
{
    struct offers o;
    st_lanes C, low = { 0 };
    outwards(c, f, from, to);
    copy_washed(b, from, to);
    ask(b, c, f, to, &o);
    mix(b, c, liquid, &o, C);
    all_see(c, C, &o);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        capped[l] = C[l] > b->cap[l];
        if (capped[l])
            capped[l] = share_the_room(b, c, liquid[l], &o, l);
    }
    settle(b, c, f, &o, to, low, liquid, gave);
    inwards(c, f, to, low);
}

/* Lanes that ask for it: two implicit Euler steps of dt/2 in the place of what two_stages() did. */
static void go_carefully(struct st_bath *b, const struct crowd *c, double dt, struct st_bath_move *m)
{
    const struct st_bath_factor *f = factor_for(b, c, ST_BATH_HALF, 0.5 * dt);
    st_lanes liquid, early[ST_BATH_PIECES], late[ST_BATH_PIECES];
    bool half[ST_BATH_LANES];

    memcpy(liquid, b->liquid, sizeof liquid);
    euler(b, c, f, b->state, b->stage, liquid, early, half);
    euler(b, c, f, b->stage, b->spare, liquid, late, m->capped);
    for (int l = 0; l < ST_BATH_LANES; l++)
        if (m->first_order[l])
            m->liquid[l] = liquid[l];
    for (int i = 0; i < c->n; i++)
        for (int l = 0; l < ST_BATH_LANES; l++)
            if (m->first_order[l]) {
                m->early[c->piece[i]][l] = early[c->piece[i]][l];
                m->late[c->piece[i]][l] = late[c->piece[i]][l];
                for (size_t k = 0; k <= (size_t)c->shells; k++) {
                    const size_t at = k * c->row + (size_t)(c->at[i] + l);
                    b->next[at] = b->spare[at];
                }
            }
}

/* Pieces out of the liquid stay as they are. */
static void keep_the_rest(const struct st_bath *b, struct st_bath_move *m)
{
    const size_t row = st_bath_row(b);
    for (int j = 0; j < b->n_piece; j++) {
        if (b->piece[j].in)
            continue;
        st_lanes_set(m->early[j], 0.0);
        st_lanes_set(m->late[j], 0.0);
        for (size_t k = 0; k <= (size_t)b->shells; k++) {
            const size_t at = k * row + (size_t)j * ST_BATH_LANES;
            memcpy(b->next + at, b->state + at, sizeof(st_lanes));
        }
    }
}

bool st_bath_try(struct st_bath *b, double dt, struct st_bath_move *m)
{
    struct crowd c;
    st_lanes low;
    bool over[ST_BATH_LANES], any = false, finite = true;

    gather(b, &c);
    st_lanes_set(low, 0.0);
    two_stages(b, &c, dt, m, low, over);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        m->first_order[l] = over[l] || low[l] < 0.0;
        m->capped[l] = false;
        any = any || m->first_order[l];
    }
    if (any)
        go_carefully(b, &c, dt, m);
    keep_the_rest(b, m);
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
    memcpy(b->liquid, m->liquid, sizeof(st_lanes));
    for (int j = 0; j < b->n_piece; j++)
        memcpy(b->gave[j], m->late[j], sizeof(st_lanes));
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
