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

/* Its smallest division, where somebody said by how much it may be off; 0: the usual. */
static double division(const struct book_reading *r)
{
    return isfinite(r->sd) && r->sd > 0.0 ? r->sd * sqrt(12.0) : 0.0;
}

bool st_gauged(const struct book_reading *sg, const struct book_reading *brix, double strength, double strength_sd,
               struct st_interval *out_strength, struct st_interval *out_sugar)
{
    /* a label's 0.3 % vol, [eu_1169_2011] annex XII, as 95 % */
    struct st_gauge_in in = { .strength = strength, .strength_u = strength_sd > 0.0 ? strength_sd : 0.15 };
    struct st_gauge_out out = { 0 };

    if (sg) {
        in.sg = sg->value;
        in.sg_T = kelvin(sg->temperature_c);
        in.sg_step = division(sg);
    }
    if (brix) {
        in.brix = brix->value;
        in.brix_T = kelvin(brix->temperature_c);
        in.brix_step = division(brix);
    }
    if (sg && brix)
        in.mode = ST_GAUGE_DENSITY_BRIX;
    else if (sg && !isnan(strength))
        in.mode = ST_GAUGE_DENSITY_STRENGTH;
    else if (brix && !isnan(strength))
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

const struct book_reading *st_reading_last(const struct book_reading *all, int n, enum st_seen what)
{
    for (int i = n; i-- > 0;)
        if (!all[i].doubted && strcmp(all[i].kind, st_seen_info(what)->key) == 0)
            return &all[i];
    return NULL;
}

double st_reading_sd(const struct book_reading *r, enum st_seen what)
{
    return isfinite(r->sd) && r->sd > 0.0 ? r->sd : st_seen_usual_sd(what, r->value);
}

bool st_lot_gauged(const struct st_lot *l, struct st_interval *strength, struct st_interval *sugar)
{
    const struct book_reading *q = st_reading_last(l->reading, l->n_reading, ST_SEEN_STRENGTH);
    return st_gauged(st_reading_last(l->reading, l->n_reading, ST_SEEN_SG),
                     st_reading_last(l->reading, l->n_reading, ST_SEEN_BRIX), q ? q->value : l->row.strength_pct_vol,
                     q ? st_reading_sd(q, ST_SEEN_STRENGTH) : (double)NAN, strength, sugar);
}

/* A label may be 0.3 % vol off, [eu_1169_2011] annex XII. */
static const double LABEL_OFF = 0.3;

/* By hydrometer and refractometer. */
static void liquid_doubt(const struct st_lot *l, char words[300])
{
    const struct book_reading *read = st_reading_last(l->reading, l->n_reading, ST_SEEN_STRENGTH);
    const struct book_reading *sg = st_reading_last(l->reading, l->n_reading, ST_SEEN_SG);
    const struct book_reading *brix = st_reading_last(l->reading, l->n_reading, ST_SEEN_BRIX);
    const double said = read ? read->value : l->row.strength_pct_vol;
    const double sd = read ? st_reading_sd(read, ST_SEEN_STRENGTH) : (double)NAN;
    struct st_interval strength, sugar;
    char figure[160];

    words[0] = '\0';
    const bool both = sg && brix;
    if ((!sg && !brix) || (!both && isnan(said)))
        return;
    if (!st_gauged(sg, brix, both ? (double)NAN : said, sd, &strength, &sugar)) {
        if (both)
            snprintf(words, 300,
                     "No liquid of spirit, sugar and water shows these together: read again, or it holds something "
                     "else.");
        else
            snprintf(words, 300,
                     "No liquid of spirit, sugar and water of %.4g %% vol shows %s: read again, or the strength is "
                     "another.",
                     said, !sg ? "this Brix" : "this on a hydrometer");
        return;
    }
    if (!both || isnan(said) || (said >= strength.low - LABEL_OFF && said <= strength.high + LABEL_OFF))
        return;
    st_figure_words(figure, sizeof figure, &strength, "% vol");
    snprintf(
        words, 300,
        "They do not agree: the readings say %.80s, and %s %.4g. Read again; if the strength is another: stillroom "
        "larder change %.24s --strength ...",
        figure, !read ? "what is written says" : "the strength that was read is", said, l->row.code);
}

/* 95 % of a normal law, two-sided. */
static const double Z975 = 1.959963984540054;

/* A strength that was read, against the bottle's and against what was read before. */
static void strength_doubt(const struct st_lot *l, char words[300])
{
    const struct book_reading *read = st_reading_last(l->reading, l->n_reading, ST_SEEN_STRENGTH), *before;
    if (!read)
        return;
    const double sd = st_reading_sd(read, ST_SEEN_STRENGTH), written = l->row.strength_pct_vol;
    if (isfinite(written) && fabs(read->value - written) > LABEL_OFF + Z975 * sd) {
        snprintf(words, 300,
                 "That is not what the bottle says: %.4g %% vol was read, %.4g is written, and what was read counts in "
                 "all that is reckoned, the alcohol account too. Read again; sugar hides alcohol from a hydrometer.",
                 read->value, written);
        return;
    }
    before = st_reading_last(l->reading, (int)(read - l->reading), ST_SEEN_STRENGTH);
    if (before && fabs(read->value - before->value) > Z975 * hypot(sd, st_reading_sd(before, ST_SEEN_STRENGTH)))
        snprintf(words, 300,
                 "It was read as %.4g %% vol before, and now as %.4g: one of them is wrong. The last one counts; read "
                 "again.",
                 before->value, read->value);
}

void st_lot_gauge_doubt(const struct st_lot *l, char words[300])
{
    liquid_doubt(l, words);
    if (!*words)
        strength_doubt(l, words);
}
