#ifndef ST_MODEL_CLEARING_H
#define ST_MODEL_CLEARING_H

#include "core/louche.h"
#include "model/compound.h"
#include "model/foresee.h"

/* Whether a drink stays clear, how long what lies in it takes to settle, what its colour and sugar do while it waits.
 * Pure: figures of a foretold recipe in, figures out.  What is not known is never called clear. */

/* ---- what a haze is made of ---- */

/* Bits of a set.  Which of them a drink may have is told by what is in it: policy, from memory. */
enum st_cloud {
    ST_CLOUD_CREAM = 1,   /* milk, cream, egg: an emulsion, cloudy by itself */
    ST_CLOUD_OIL = 2,     /* droplets of oil: the verdicts below are of it alone */
    ST_CLOUD_PULP = 4,    /* flesh of fruit */
    ST_CLOUD_PECTIN = 8,  /* of fruit */
    ST_CLOUD_TANNIN = 16, /* of fruit and every other part of a plant but peel */
    ST_CLOUD_PROTEIN = 32 /* likewise */
};

/* ---- oil ---- */

enum st_oil_known {
    ST_OIL_KNOWN,
    ST_OIL_NO_CONTENT, /* no figure of essential oil for this ingredient */
    ST_OIL_NO_MARKER,  /* none of its markers has figures of solubility */
    ST_OIL_NO_WEIGHT   /* how much of the ingredient there is, is not known */
};

/* What one line may bring. */
struct st_oil_source {
    const struct st_ingredient *what;
    const struct st_compound *as; /* the marker that stands for the whole oil; NULL unless known */
    int step, line;
    enum st_oil_known known;
    struct st_interval g_l; /* of it in a litre of the drink, dissolved or not */
    bool full;              /* the jar was full of oil: it could not take up all there was */
};

enum { ST_MAX_OILS = 24 };

/* Where and how the drink stands. */
enum st_place_of_drink { ST_IN_BOTTLE, ST_IN_FRIDGE, ST_IN_FREEZER, ST_WITH_WATER, ST_NPLACES };

/* ST_HAZE_* with one more: the content of something in it is not known. */
enum st_clearness { ST_STAYS_CLEAR, ST_MAY_CLOUD, ST_CLOUDS, ST_CLEARNESS_UNKNOWN };

struct st_clear_verdict {
    enum st_clearness is;
    double T_K, diluted;      /* temperature; volume of the drink over that in the glass */
    double strength, sugar;   /* there, % vol and g/L */
    struct st_interval index; /* oil that is there over oil that the liquid holds; known: false when it is not */
};

/* One oil as the index takes it. */
struct st_oil_part {
    double g_l, low, high; /* in the drink */
    double S_w, sigma;     /* solubility in water, g/L, and its slope */
};

/* Index and verdict of a liquid.
 *
 * Given:
 *   part[n]     oils, n <= ST_MAX_OILS
 *   strength    % vol, low <= value <= high, 0..100
 *   sugar       g/L
 *   T           K
 *   diluted     volume of the drink over that of the glass, 0 < diluted <= 1: oil, strength and sugar go down by it
 *   all_known   false: something else with oil in it is there, how much is not known
 * Returned:
 *   *v          index: sum of oil over solubility (an ideal mixture of oils parts from the liquid where the sum passes
 *               1)
 * Status:
 *   ST_ESTIMATED; ST_E_DOMAIN, ST_E_REFUSED as core says
 * Notes:
 *   1. The interval (95 %) holds what is not known of the contents, of what comes out, of the strength, of how sugar and
 *      cold drive oil out, and the error of the law of solubility, x/: 2.5 one sigma (ST_SOLUBILITY_ERROR), which is
 *      a factor of 6 and mostly decides.  Independent, so the distances of the logarithms add in squares.
 *   2. all_known false: cloudy if what is known is cloudy at its low end, else not known.
 *   3. Volumes are taken to add on dilution: less than 3 % wrong. */
enum st_status st_clear_judge(const struct st_oil_part part[], int n, const struct st_interval *strength, double sugar,
                              double T, double diluted, bool all_known, struct st_clear_verdict *v);

/* Strength from which on the oil would be clear, % vol: the middle of its index, its low end and its high end come down
 * to the limit of clear.  ST_E_NOCONV when for the high end no strength to 96 is enough.  Given as above, sharp. */
enum st_status st_clear_strength(const struct st_oil_part part[], int n, double sugar, double T,
                                 struct st_interval *strength);

/* ---- settling ---- */

enum { ST_GRAINS = 5, ST_JARS = 2 };
enum { ST_BEFORE_SUGAR, ST_AFTER_SUGAR };

struct st_grain {
    double d_m;
    const char *name; /* "flesh you can see" */
    bool oil;         /* rises */
};
extern const struct st_grain st_grain[ST_GRAINS];

struct st_settling_jar {
    bool known;
    int step;                             /* whose liquor it is; the last one is the drink */
    double strength, sugar, density, eta; /* % vol, g/L, kg/m3, Pa s at 20 C */
    enum st_status status;
    struct st_interval day[ST_GRAINS]; /* to cross 10 cm; known false: it does not */
};

/* When the sugar comes to what lies in the largest jar. */
enum st_sugar_when {
    ST_SUGAR_NONE, /* no sugar is poured, or it makes no difference */
    ST_SUGAR_LATER,
    ST_SUGAR_PART_LATER, /* some at once, some later */
    ST_SUGAR_AT_ONCE     /* all of it in the jar */
};

/* Time to cross height in a liquid.
 * Given: w, mass fractions; height, m.  Returned: *jar, but for step.  Status: of density and viscosity.
 * Notes: a soaked grain of flesh is a sixth dry matter of 1500 kg/m3 (from memory), so it sinks the slower the heavier
 * the liquid; an oil droplet has 870 kg/m3 (from memory).  Interval: viscosity by a third, the grain's excess by half.
 */
enum st_status st_settle_in(const double w[ST_NCOMP], double height, struct st_settling_jar *jar);

/* Longer than this a room's own streams keep it up: 0.1 mm a day, a policy of core/settling.h. */
#define ST_SETTLES_NEVER_DAY 1000.0

/* ---- colour ---- */

struct st_colour_left {
    int step;                 /* the steep */
    struct st_interval share; /* of the depth of colour it had in the jar, in the drink */
};
enum { ST_MAX_COLOURS = 6 };

/* ---- all of it ---- */

struct st_clearing {
    struct st_oil_source oil[ST_MAX_OILS];
    int n_oil;      /* lines that bring oil, or may */
    bool oil_known; /* all of them are known */
    struct st_oil_part part[ST_MAX_OILS];
    int n_part; /* the known ones */
    struct st_clear_verdict at[ST_NPLACES];
    struct st_interval clear_from; /* % vol from which on it is clear at 20 C; not known: not reckoned, or never */
    unsigned haze;                 /* of st_cloud: what may cloud it; of a cream nothing else */
    bool milky;                    /* cream, egg or emulsified fat: it is cloudy by itself */
    bool lemon;                    /* lemon oil near 30 % vol: droplets that stay */
    bool crystals;                 /* trans-anethole may freeze out */
    bool fruit;                    /* flesh of fruit: pectin and pulp */
    struct st_range fruit_g;       /* of it, net; known: every weight is */
    bool red;                      /* anthocyanins are among its markers */
    bool sucrose;                  /* table sugar is in it */
    double acid_g_l;               /* NAN not known */
    double freezes_K;              /* where ice begins; NAN not known */
    struct st_settling_jar jar[ST_JARS]; /* the first not known when the sugar was in from the start */
    enum st_sugar_when sugar_when;
    double plain_eta; /* the viscosity of the drink had it no sugars, Pa s at 20 C; NAN not known */
    struct st_colour_left colour[ST_MAX_COLOURS];
    int n_colour;
    double strength, sugar; /* of the drink, % vol and g/L */
    struct st_interval volume_ml;
};

/* Given: a recipe and what was foretold of it; the compounds.  Status: ST_ESTIMATED; ST_E_REFUSED when strength, sugar
 * or volume are not known.  *out is filled; what could not be reckoned in it is not known there. */
enum st_status st_clearing_of(const struct st_recipe *r, const struct st_foretold *f,
                              const struct st_compounds *compounds, struct st_clearing *out);

/* Share of the liquor of each step that ends in the last: reach[n_step]. */
void st_clearing_reach(const struct st_recipe *r, const struct st_foretold *f, double reach[]);

/* Flesh of fruit, or its juice; citrus, whose peel has oil, is not counted among it. */
bool st_clearing_is_flesh(const struct st_ingredient *in);

/* What holds no essential oil; of most things the sheet has to say so (oil 0). */
bool st_clearing_without_oil(const struct st_ingredient *in);

/* Grams (net) of a line, as far as a sheet tells; known = false when it does not. */
struct st_range st_clearing_grams(const struct st_line *l);

#endif
