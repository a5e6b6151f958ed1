#include <math.h>
#include <string.h>

#include "agree_search.h"
#include "core/strength.h"

static const double THERMOMETER = 0.5, UNSAID = 2.0; /* K; common practice, no source */
static const double WARM_MATTERS = 0.25; /* of a reading's own: from here on the missing temperature is told */

static enum st_agree_use use_of(const struct agree_drink *d, const struct st_observation *o, struct agree_reading *r)
{
    static const bool SAYS[ST_NSEEN] = {
        [ST_SEEN_DRAINED_G] = true, [ST_SEEN_LIQUOR_ML] = true, [ST_SEEN_LIQUOR_G] = true, [ST_SEEN_SG] = true,
        [ST_SEEN_BRIX] = true,      [ST_SEEN_STRENGTH] = true,  [ST_SEEN_SUGAR] = true,    [ST_SEEN_ACID] = true,
        [ST_SEEN_FLASK_G] = true,   [ST_SEEN_SG_BOILED] = true
    };
    double y;
    if (!SAYS[o->what])
        return ST_AGREE_OTHER_KIND;
    if (o->of && *o->of)
        return ST_AGREE_OF_ONE;
    if (o->what == ST_SEEN_DRAINED_G && d->n_drained > 1 && r->steep < 0)
        return ST_AGREE_WHICH_STEEP;
    return st_agree_shown(d, d->x0, r, &y) < 0 ? ST_AGREE_NOT_FORETOLD : ST_AGREE_USED;
}

/* What an error of the thermometer does to the reading. */
static double by_warmth(const struct agree_drink *d, const struct agree_reading *r, double u_T)
{
    struct agree_reading warm = *r, cold = *r;
    double up, down;
    if (!st_agree_is_warm(r->what))
        return 0.0;
    warm.T += 0.5;
    cold.T -= 0.5;
    if (st_agree_shown(d, d->x0, &warm, &up) < 0 || st_agree_shown(d, d->x0, &cold, &down) < 0)
        return 0.0;
    return (up - down) * u_T;
}

static int how_many(const struct agree_drink *d, const struct agree_reading *of)
{
    int n = 0;
    for (int i = 0; i < d->n; i++)
        n += d->reading[i].what == of->what && d->reading[i].steep == of->steep;
    return n;
}

/* What each counts with, once all are known. */
static void weigh_in(struct agree_search *s, const struct st_observation seen[], struct st_agreement *out)
{
    struct agree_drink *d = &s->drink;
    for (int i = 0; i < d->n; i++) {
        struct agree_reading *r = &d->reading[i];
        const struct st_observation *o = &seen[s->at[i]];
        struct st_agree_reading *a = &out->reading[s->at[i]];
        const bool told = isfinite(o->temperature_K);
        const double own = o->sd > 0.0 ? o->sd : st_seen_usual_sd(o->what, o->value);
        const double warm = by_warmth(d, r, told ? THERMOMETER : UNSAID);
        a->u = r->u = hypot(own * st_agree_as_one_of(s->of[r->what], how_many(d, r)), warm);
        a->warm_unsaid = !told && st_agree_is_warm(o->what) && fabs(warm) >= WARM_MATTERS * own;
        out->warm_unsaid = out->warm_unsaid || a->warm_unsaid;
    }
}

/* The steep whose drained solids were weighed; -1: nobody said, and there are several. */
static int steep_of(const struct st_observation *o, const struct st_agree_drained *drained)
{
    if (o->what != ST_SEEN_DRAINED_G || !drained)
        return -1;
    for (int k = 0; k < drained->n; k++)
        if (o->jar && strcmp(o->jar, drained->jar[k]) == 0)
            return k;
    return drained->n == 1 ? 0 : -1;
}

enum st_status st_agree_take_in(struct agree_search *s, const struct st_observation seen[], int n,
                                const struct st_agree_drained *drained, struct st_agreement *out)
{
    struct agree_drink *d = &s->drink;
    for (int i = 0; i < n; i++) {
        const struct st_observation *o = &seen[i];
        const bool told = isfinite(o->temperature_K);
        if (!st_seen_info(o->what) || !isfinite(o->value) || isnan(o->sd))
            return ST_E_DOMAIN;
        struct agree_reading r = { .what = o->what,
                                   .T = told ? o->temperature_K : ST_T20,
                                   .flask_ml = o->flask_ml,
                                   .y = o->value,
                                   .steep = steep_of(o, drained) };
        struct st_agree_reading *a = &out->reading[i];
        *a = (struct st_agree_reading){ .standard = (double)NAN, .what = o->what, .steep = r.steep };
        a->use = use_of(d, o, &r);
        if (a->use != ST_AGREE_USED)
            continue;
        out->refractometer = out->refractometer || o->what == ST_SEEN_BRIX;
        s->at[d->n] = i;
        d->reading[d->n++] = r;
    }
    weigh_in(s, seen, out);
    static const enum st_seen FIGURE[ST_AGREE_NFIG] = { ST_SEEN_STRENGTH, ST_SEEN_SUGAR, ST_SEEN_LIQUOR_ML,
                                                        ST_SEEN_ACID };
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        d->reading[d->n + f] = (struct agree_reading){ .what = FIGURE[f], .T = ST_T20, .u = 1.0 };
    return ST_OK;
}
