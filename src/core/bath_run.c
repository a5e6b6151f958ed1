/* Steps as long as the tolerance lets them be. */
#include <math.h>

#include "bath_inside.h"

/* A rule of third order through the rates at the start, at gamma and at the end of the step, less the method's own
 * weights; scaled so that for a smooth linear system it is the method's own error: 0.0404/0.0143 (the method errs by
 * (0.2071 - 1/6) h^3 y''', the difference of the rules by 0.0143 h^3 y'''). */
static const double AT_START = -0.069035593728849, AT_STAGE = 0.097631072937818, AT_END = -0.028595479208968;
static const double SCALE = 2.83;

enum { MOST_STEPS = 1000000 };

/* What step m misplaced of one piece, as a multiple of what it may. */
static double worst_of_piece(const struct st_bath *b, const struct st_bath_move *m, int j, double dt,
                             const st_lanes may)
{
    double worst = 0.0;
    for (int l = 0; l < ST_BATH_LANES; l++) {
        double e = SCALE * dt * fabs(AT_START * b->gave[j][l] + AT_STAGE * m->early[j][l] + AT_END * m->late[j][l]);
        if (m->first_order[l])
            e = m->capped[l] ? 0.0 : 0.5 * dt * fabs(m->early[j][l] - m->late[j][l]);
        if (e > may[l] * worst)
            worst = may[l] > 0.0 ? e / may[l] : 0.0;
    }
    return worst;
}

static double worst(const struct st_bath *b, const struct st_bath_move *m, double dt, const st_lanes may)
{
    double most = 0.0;
    for (int j = 0; j < b->n_piece; j++)
        if (b->piece[j].in)
            most = fmax(most, worst_of_piece(b, m, j, dt, may));
    return most;
}

/* A millionth of the fastest piece's a^2/D, a thousandth of the time of the fastest washing. */
static double first_step(const struct st_bath *b, double time)
{
    double h = time;
    for (int j = 0; j < b->n_piece; j++)
        for (int l = 0; l < ST_BATH_LANES; l++)
            if (b->piece[j].in && b->piece[j].volume[l] > 0.0)
                h = fmin(h, fmin(1e-6 / b->piece[j].rate[l], 1e-3 / b->piece[j].wash_rate[l]));
    return fmax(h, 1e-9 * time);
}

/* A piece that was out gave nothing: what it gives now is no change of rate. */
static bool went_in(const struct st_bath *b)
{
    bool any = false;
    for (int j = 0; j < b->n_piece; j++)
        any = any || (b->piece[j].in && !b->was_in[j]);
    return any;
}

static void remember_who_is_in(struct st_bath *b)
{
    for (int j = 0; j < b->n_piece; j++)
        b->was_in[j] = b->piece[j].in;
}

/* The next step: what is left, half of it, or b->step. */
static double next_step(const struct st_bath *b, double left)
{
    if (b->step >= left)
        return left;
    return 2.0 * b->step > left ? 0.5 * left : b->step;
}

enum st_status st_bath_run(struct st_bath *b, double time, double tolerance)
{
    if (!(time >= 0.0 && time < 1e150) || !(tolerance >= 1e-12 && tolerance <= 0.1) || !st_bath_is_sound(b))
        return ST_E_DOMAIN;
    st_lanes may;
    st_bath_total(b, may);
    for (int l = 0; l < ST_BATH_LANES; l++)
        may[l] *= tolerance;
    const double first = first_step(b, time), least = first / 1024.0; /* where a rate jumps, no step is good enough */
    double left = time;
    if (went_in(b) || !b->gave_known || !(b->step > 0.0)) {
        b->step = first;
        b->gave_known = false;
    }
    remember_who_is_in(b);
    for (int i = 0; left > 0.0 && i < MOST_STEPS; i++) {
        struct st_bath_move m;
        const double h = next_step(b, left);
        if (!st_bath_try(b, h, &m))
            return ST_E_DOMAIN;
        const double e = b->gave_known ? worst(b, &m, h, may) : 0.5;
        if (e > 1.0 && h > least) {
            b->step = fmax(h * (e > 512.0 ? 0.125 : e > 64.0 ? 0.25 : 0.5), least);
            b->refused++;
            continue;
        }
        st_bath_take(b, &m);
        left = h < left ? left - h : 0.0;
        if (e < 1.0 / 12.0 && h >= b->step)
            b->step *= 2.0;
    }
    return left > 0.0 ? ST_E_NOCONV : ST_OK;
}
