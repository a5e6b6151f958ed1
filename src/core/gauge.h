#ifndef ST_CORE_GAUGE_H
#define ST_CORE_GAUGE_H

#include <stdbool.h>

#include "instruments.h"

/* Strength and sugar of a sweetened liquid from two readings. */

enum st_gauge_mode {
    ST_GAUGE_DENSITY_BRIX,     /* density and refractometer: strength and sugar */
    ST_GAUGE_DENSITY_STRENGTH, /* density, strength known: sugar */
    ST_GAUGE_DENSITY_SUGAR,    /* density, sugar known: strength */
    ST_GAUGE_BRIX_STRENGTH,    /* refractometer, strength known: sugar */
    ST_GAUGE_BRIX_SUGAR,       /* refractometer, sugar known: strength */
    ST_GAUGE_DENSITY_BOILED    /* density before, and after the alcohol is boiled off and the volume made up */
};

/* Why a pair of readings has no answer.  A caller says "measure again", and this. */
enum st_gauge_reason {
    ST_GAUGE_FINE = 0,
    ST_GAUGE_BAD_INPUT,         /* a reading is missing, NaN, or off every scale */
    ST_GAUGE_NEGATIVE_STRENGTH, /* only a strength below 0 would fit: denser than sugar water of this Brix */
    ST_GAUGE_NEGATIVE_SUGAR,    /* only sugar below 0 would fit: lighter than spirit of this reading */
    ST_GAUGE_TOO_STRONG,        /* above 96 % vol */
    ST_GAUGE_BEYOND_SOLUBILITY, /* more sugar than such a liquid dissolves (rough limit: Note 5) */
    ST_GAUGE_TWO_VALUED,        /* the index falls again with strength here: two answers, or a flat one */
    ST_GAUGE_NO_SOLUTION        /* the search did not come to rest */
};

/* A few words for the reason; static text, never NULL. */
const char *st_gauge_reason_text(enum st_gauge_reason r);

struct st_gauge_in {
    enum st_gauge_mode mode;

    /* density, by hydrometer ... */
    double sg;                 /* reading */
    double sg_T;               /* temperature of the liquid, K */
    enum st_hydrometer sg_cal; /* what the hydrometer is marked for */
    double sg_step;            /* smallest division; <= 0 means 0.002 */
    /* ... or by a weighed flask */
    bool by_flask;
    double flask_m3;      /* volume at 20 C, m3 */
    double flask_kg;      /* mass of the liquid as the balance shows it */
    bool flask_in_vacuum; /* true when flask_kg is already corrected for the air */
    double flask_step;    /* smallest division of the balance, kg; <= 0 means 1e-4 */
    double flask_u;       /* standard uncertainty of the volume, m3; <= 0 means 0.2 % of it */

    /* refractometer */
    double brix;      /* reading */
    double brix_T;    /* temperature of the prism, K */
    bool no_atc;      /* true when the instrument does not compensate */
    double brix_step; /* smallest division; <= 0 means 0.2 */

    /* what is known */
    double strength;   /* % vol */
    double strength_u; /* its standard uncertainty */
    double sugar_g_l;
    double sugar_u;

    /* after boiling; same hydrometer or flask size, made up to the same volume at 20 C */
    double sg_boiled;
    double sg_boiled_T;

    /* other matter the maker knows of; 0 when not */
    double acid_g_l;     /* as anhydrous citric */
    double invert_share; /* share of the sugars that is glucose + fructose, half and half, 0 .. 1 */
};

struct st_gauge_out {
    double strength;  /* % vol at 20 C */
    double sugar_g_l; /* sugars at 20 C, g/L */
    double density_20; /* kg/m3 of the liquid found, at 20 C */
    double w[ST_NCOMP]; /* mass fractions, order of enum st_component */

    double strength_u; /* standard uncertainty, without the systematic part */
    double sugar_u;
    double correlation;         /* of the two, -1 .. 1 */
    double strength_systematic; /* half width of a further band: 0.5 where a refractometer is read (Note 4) */
    double sugar_systematic;    /* what that does to sugar at this density */
    double strength_low, strength_high; /* 95 %: 1.96 u plus the systematic part; not below 0 */
    double sugar_low, sugar_high;

    /* of the 2 x 2 system in 1 kg/m3 and 0.1 Brix against 1 % vol and 10 g/L; large: the two readings say nearly
     * the same */
    double condition;
    int iterations;
    enum st_gauge_reason reason;
};

/* Solve for strength and sugar.
 *
 * Given:
 *   in    readings; only those that the mode needs are looked at
 * Returned:
 *   *out  filled when the status is >= 0; when negative only out->reason is to be looked at, except that with
 *         ST_E_REFUSED strength and sugar_g_l are the pair that alone would fit: not an answer, but something
 *         to say ("only -4 % vol would fit")
 * Status:
 *   ST_OK            0 .. 60 % vol, 0 .. 500 g/L, readings at 10 .. 30 C, sugar and alcohol only
 *   ST_EXTRAPOLATED  outside these
 *   ST_ESTIMATED     acid above 5 %
 *   ST_E_REFUSED     no liquid of alcohol, sugar and water gives these readings: out->reason tells why
 *   ST_E_NOCONV      no pair near the possible ones was found (reason NO_SOLUTION, or NEGATIVE_STRENGTH where
 *                    the liquid is denser than sugar water of this Brix); strength and sugar_g_l are not set
 *   ST_E_DOMAIN      a reading is NaN or off every scale, or its temperature outside -20 .. 39.5 C
 * Notes:
 *   1. Solves (model reading - reading)/scale = 0 for the mass fractions of ethanol and sugar with Newton steps,
 *      halved until they stay in the box and the residual falls, from four starts, at most 60 steps each; stops
 *      when no step helps, and counts as found below 1e-8 of the scale (1 kg/m3, 0.1 Brix).  The density is met
 *      at sg_T, the index at brix_T.  Whether the answer lies inside the limits is asked afterwards; strength
 *      or sugar below 0 by no more than their own band are 0, and so are 1e-7 % vol or g/L above it, which
 *      is what the solver may leave of nothing: pure water gives exactly 0 and 0.
 *   2. Uncertainties: divisions of the instruments as rectangular (step/sqrt 12),
 *      temperatures 0.5 K, density and index bands of the model as 95 %, known values as given; carried
 *      through the inverse of the 2 x 2.
 *   3. Boiled: the residue holds all the sugar in the same volume, so its density gives sugar directly and
 *      the first density then the strength, by the same model.  The old rule (density of the distillate =
 *      d - d_residue + 1) is not used: against this model it is -0.2 % vol at 20 % vol and 200 g/L, but
 *      +1.1 at 30 and 300, +2.9 at 40 and 300.
 *   4. Band from the reference plus 0.5 % vol systematic: the only outside evidence, a regression on 35
 *      published fortified wines, reads 0.2 to 0.55 % vol higher than this model.  Until better data it never
 *      claims the +-0.3 % vol of a label.
 *   5. Sugar limit: g sugar per 100 g solution against ethanol in the solvent at 14 C, raised by 5 points; a
 *      rough bar against nonsense only.  Whether a liqueur keeps its sugar in solution is asked of
 *      st_sucrose_solubility.
 * Source:
 *   model: st_density_mixture, st_n_mixture; [rogerson2006] Note 4; [schrefeld1894] Note 5.
 */
enum st_status st_gauge(const struct st_gauge_in *in, struct st_gauge_out *out);

/* Readings of density and refractometer only: st_gauge with that mode, kept as a short name. */
enum st_status st_gauge_sg_brix(const struct st_gauge_in *in, struct st_gauge_out *out);

/* Extract (as sucrose, g/L at 20 C) of a liquid without alcohol from its density relative to water 20/20.
 * ST_E_DOMAIN below 1 or NaN.  Checks: the published extract table. */
enum st_status st_extract_from_residue(double d_20_20, double *g_l);

#endif
