#ifndef ST_CORE_KEEPING_H
#define ST_CORE_KEEPING_H

#include "mixture.h"

/* Floors that people have named for a drink to keep.  None is a law, none covers dairy, egg, low-acid vegetables or
 * fruit above the liquid: those need their own rule. */
enum st_floor {
    ST_FLOOR_STRENGTH_ALONE, /* 17.5 % vol stops yeast in wine whatever the sugar */
    ST_FLOOR_SUGAR_ALONE,    /* 780 g/L does so whatever the strength */
    ST_FLOOR_DELLE,          /* 78 Delle units, 75..85 observed */
    ST_FLOOR_MACERATE,       /* policy: liquor in the jar over fruit, 30 % vol */
    ST_FLOOR_SHELF,          /* policy: finished drink on the shelf, 20 % vol */
    ST_FLOOR_COLD,           /* policy: finished drink in the refrigerator, 15 % vol */
    ST_FLOOR_CREAM,          /* trade practice: homogenised cream, 17 % vol */
    ST_NFLOOR
};

/* NEAR: above the stated floor, but inside the band in which the opposite was observed. */
enum st_met { ST_MET_NO, ST_MET_NEAR, ST_MET_YES };

struct st_floor_row {
    const char *name;   /* as in "below the floor of NAME" */
    const char *unit;   /* "% vol", "g/L" or "Delle units" */
    double limit;       /* met from here on */
    double clear;       /* met clearly from here on; equal to limit when no band is stated */
    const char *source; /* key, or "policy, from memory" */
    char mark;          /* 'r' read in a source, 'm' from memory, 'p' policy or practice */
};

/* By the policy floors alone, for a drink without dairy, egg or fresh matter in it. */
enum st_storage { ST_STORE_SHELF, ST_STORE_COLD, ST_STORE_PERISHABLE };

struct st_keeping {
    double strength_pct_vol;
    double sugar_g_l; /* of sugars present, at 20 C */
    double delle_units;
    enum st_met met[ST_NFLOOR];
    enum st_storage storage;
};

/* Row of a floor; NULL for a value that is no floor. */
const struct st_floor_row *st_floor_get(enum st_floor f);

/* Sugars in g/L at 20 C; the Delle units sugar/10 + 4.5 x % vol.
 * Given: w, mass fractions of the whole liquid.  Returned: g/L; Delle units.
 * Status: that of density_mixture.h and strength.h, the worse.
 * Source: [delle_floors] */
enum st_status st_sugar_g_l(const double w[ST_NCOMP], double *g_l);
enum st_status st_delle_units(const double w[ST_NCOMP], double *du);

/* Which floors the liquid meets.
 *
 * Given:
 *   w    mass fractions of the whole liquid
 * Returned:
 *   *k   figures, floors met, storage by policy; untouched when the status is negative
 * Status:
 *   as st_delle_units; ST_E_REFUSED too when fat or protein is more than a trace: the wine floors say nothing
 *   about cream or egg (Note 2)
 * Notes:
 *   1. Meeting a floor is not a promise.  Floors of wine makers are about yeast only, not about moulds on a float,
 *      nor about anything that was in the jar before the spirit.
 *   2. For cream the caller may still compare the strength with ST_FLOOR_CREAM, a practice without source.
 * Source:
 *   [delle_floors]; policy floors from memory
 */
enum st_status st_keeping(const double w[ST_NCOMP], struct st_keeping *k);

#endif
