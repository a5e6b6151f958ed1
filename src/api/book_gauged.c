#include <math.h>
#include <string.h>

#include "api/book_larder.h"
#include "core/gauge.h"
#include "model/observation.h"

/* What readings in the book say of a liquid. */

bool st_gauged(double sg, double brix, double strength, struct st_interval *out_strength, struct st_interval *out_sugar)
{
    struct st_gauge_in in = { .sg = sg, .brix = brix, .strength = strength };
    struct st_gauge_out out = { 0 };

    in.sg_T = in.brix_T = 293.15;
    in.strength_u = 0.15; /* a label's 0.3 % vol, [eu_1169_2011] annex XII, as 95 % */
    if (!isnan(sg) && !isnan(brix))
        in.mode = ST_GAUGE_DENSITY_BRIX;
    else if (!isnan(sg) && !isnan(strength))
        in.mode = ST_GAUGE_DENSITY_STRENGTH;
    else if (!isnan(brix) && !isnan(strength))
        in.mode = ST_GAUGE_BRIX_STRENGTH;
    else
        return false;
    const enum st_status s = st_gauge(&in, &out);
    if (s < 0)
        return false;
    *out_strength = (struct st_interval){ out.strength, out.strength_low, out.strength_high, s, true };
    *out_sugar = (struct st_interval){ out.sugar_g_l, out.sugar_low, out.sugar_high, s, true };
    return true;
}

static double last(const struct st_lot *l, enum st_seen what)
{
    for (int i = l->n_reading; i-- > 0;)
        if (!l->reading[i].doubted && strcmp(l->reading[i].kind, st_seen_info(what)->key) == 0)
            return l->reading[i].value;
    return (double)NAN;
}

bool st_lot_gauged(const struct st_lot *l, struct st_interval *strength, struct st_interval *sugar)
{
    const double known = last(l, ST_SEEN_STRENGTH);
    return st_gauged(last(l, ST_SEEN_SG), last(l, ST_SEEN_BRIX), isnan(known) ? l->row.strength_pct_vol : known,
                     strength, sugar);
}
