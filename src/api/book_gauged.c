#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_larder.h"
#include "core/gauge.h"
#include "model/observation.h"
#include "text/figure_words.h"

/* What readings in the book say of a liquid. */

static double kelvin(double c)
{
    return isfinite(c) ? c + 273.15 : 293.15;
}

static bool gauged_at(double sg, double sg_c, double brix, double brix_c, double strength,
                      struct st_interval *out_strength, struct st_interval *out_sugar)
{
    struct st_gauge_in in = { .sg = sg, .brix = brix, .strength = strength };
    struct st_gauge_out out = { 0 };

    in.sg_T = kelvin(sg_c);
    in.brix_T = kelvin(brix_c);
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

bool st_gauged(double sg, double brix, double strength, struct st_interval *out_strength, struct st_interval *out_sugar)
{
    return gauged_at(sg, (double)NAN, brix, (double)NAN, strength, out_strength, out_sugar);
}

/* Its value, and how warm it was (NAN: nobody said); NAN: it was not read. */
static double last(const struct st_lot *l, enum st_seen what, double *c)
{
    *c = (double)NAN;
    for (int i = l->n_reading; i-- > 0;)
        if (!l->reading[i].doubted && strcmp(l->reading[i].kind, st_seen_info(what)->key) == 0) {
            *c = l->reading[i].temperature_c;
            return l->reading[i].value;
        }
    return (double)NAN;
}

bool st_lot_gauged(const struct st_lot *l, struct st_interval *strength, struct st_interval *sugar)
{
    double sg_c, brix_c, none;
    const double known = last(l, ST_SEEN_STRENGTH, &none), sg = last(l, ST_SEEN_SG, &sg_c);
    const double brix = last(l, ST_SEEN_BRIX, &brix_c);
    return gauged_at(sg, sg_c, brix, brix_c, isnan(known) ? l->row.strength_pct_vol : known, strength, sugar);
}

/* A label may be 0.3 % vol off, [eu_1169_2011] annex XII. */
static const double LABEL_OFF = 0.3;

void st_lot_gauge_doubt(const struct st_lot *l, char words[300])
{
    double sg_c, brix_c, none;
    const double read = last(l, ST_SEEN_STRENGTH, &none), sg = last(l, ST_SEEN_SG, &sg_c);
    const double brix = last(l, ST_SEEN_BRIX, &brix_c), said = isnan(read) ? l->row.strength_pct_vol : read;
    struct st_interval strength, sugar;
    char figure[160];

    words[0] = '\0';
    const bool both = !isnan(sg) && !isnan(brix);
    if ((isnan(sg) && isnan(brix)) || (!both && isnan(said)))
        return;
    if (!gauged_at(sg, sg_c, brix, brix_c, both ? (double)NAN : said, &strength, &sugar)) {
        if (both)
            snprintf(words, 300,
                     "No liquid of spirit, sugar and water shows these together: read again, or it holds something "
                     "else.");
        else
            snprintf(words, 300,
                     "No liquid of spirit, sugar and water of %.4g %% vol shows %s: read again, or the strength is "
                     "another.",
                     said, isnan(sg) ? "this Brix" : "this on a hydrometer");
        return;
    }
    if (!both || isnan(said) || (said >= strength.low - LABEL_OFF && said <= strength.high + LABEL_OFF))
        return;
    st_figure_words(figure, sizeof figure, &strength, "% vol");
    snprintf(
        words, 300,
        "They do not agree: the readings say %.80s, and %s %.4g. Read again; if the strength is another: stillroom "
        "larder change %.24s --strength ...",
        figure, isnan(read) ? "what is written says" : "the strength that was read is", said, l->row.code);
}
