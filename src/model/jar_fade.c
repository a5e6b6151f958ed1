#include <math.h>

#include "core/arrhenius.h"
#include "jar_inside.h"

/* Red of fruit fades from the moment that its piece goes in, in the pieces and in the liquid alike (the notes on ageing
 * tell of drinks, not of fruit).  What fades everywhere at one rate, which only warmth changes, leaves the exchange as it
 * is: what is left is what there would be, times exp(-integral of the rate), and the rest is booked as faded, exactly. */

static const double LN2 = 0.69314718055994530942;

/* Rate in a stage from t0 to t1 after it began, 1/s. */
static double rate_of(const struct st_jar_work *w, const struct st_jar_set *set, int stage, double t0, double t1)
{
    return LN2 / set->fades_half_s *
           st_jar_warmth_factor(&w->j->stage[stage], set->warmth[stage], set->fades_ea, t0, t1);
}

/* Whether what is in stage e of this piece goes on to stage s, in the liquid or in the piece. */
static bool goes_on(const struct st_jar *j, int piece, int e, int s)
{
    bool on = j->piece[piece].lies[e] > 0.0 && j->piece[piece].lies[s] > 0.0;
    for (int k = 0; k < j->stage[s].n_take; k++)
        on = on || j->stage[s].take[k].from == e;
    return on;
}

/* The integral when stage s begins: of the longest way that this piece's colour came by; -1 when it is not there. */
static double so_far(const struct st_jar_work *w, const struct st_jar_set *set, int piece, int s, const double at_end[])
{
    double sum = -1.0;
    for (int e = 0; e < s; e++) {
        if (at_end[e] < 0.0 || !goes_on(w->j, piece, e, s))
            continue;
        const double waits = w->start[s] - w->start[e] - w->length[e]; /* in its jar, as warm as that was at last */
        sum = fmax(sum, at_end[e] + waits * rate_of(w, set, e, w->length[e], w->length[e]));
    }
    return sum < 0.0 && w->j->piece[piece].lies[s] > 0.0 ? 0.0 : sum;
}

double st_jar_fade(const struct st_jar_work *w, const struct st_jar_set *set, int piece, double left[])
{
    double at_end[ST_JAR_STAGES], since = -1.0, sum = 0.0;
    for (int s = 0; s < w->j->n_stage; s++) {
        sum = so_far(w, set, piece, s, at_end);
        if (since < 0.0 && sum >= 0.0)
            since = w->start[s];
        for (int i = w->first[s]; i < w->first[s + 1]; i++) {
            const struct st_jar_time *t = &w->time[i];
            if (sum >= 0.0 && t->dt_s > 0.0)
                sum += t->dt_s * rate_of(w, set, s, w->time[i - 1].t_s, t->t_s);
            left[i] = exp(-fmax(sum, 0.0));
        }
        at_end[s] = sum;
    }
    const int last = w->j->n_stage - 1;
    const double time = w->start[last] + w->length[last] - fmax(since, 0.0);
    return time > 0.0 && sum > 0.0 ? LN2 * time / sum : LN2 / rate_of(w, set, last, 0.0, 0.0);
}
