#ifndef ST_MODEL_REVERSE_H
#define ST_MODEL_REVERSE_H

#include "model/aim.h"

/* Small questions asked the other way round. */

/* Spirit brought down with water.
 *
 * Given:
 *   from, to     % vol at 20 C, 0 < to <= from <= 100
 *   have_ml      mL at 20 C, > 0: of the spirit, all of it used (st_dilute_all), or of what is made
 *                (st_dilute_make)
 * Returned:
 *   *out         spirit and water that go together, and what they make
 * Status:
 *   ST_OK; ST_E_DOMAIN outside the limits
 * Notes:
 *   1. Exact by mass: ethanol is conserved, volumes follow from the densities; the volumes before do not add up to the
 *      volume after.
 * Source: [oiml1975] through st_p_from_strength, st_spirit_density.
 */
struct st_dilution {
    double spirit_ml, spirit_g, water_ml, water_g, made_ml, made_g;
    double shrinks_ml; /* spirit + water - made */
};
enum st_status st_dilute_all(double from, double to, double have_ml, struct st_dilution *out);
enum st_status st_dilute_make(double from, double to, double make_ml, struct st_dilution *out);

/* Whole bottles: how many of bottle_ml give times the spirit_ml of the recipe, to the nearest (at least one), and the
 * factor on everything else that follows.  ST_E_DOMAIN when something is not above 0. */
enum st_status st_whole_bottles(double spirit_ml, double bottle_ml, double times, double *bottles, double *factor);

/* Spirit in a recipe: sum of the volumes of its measured lines of spirit, mL; ST_E_REFUSED when one is not measured by
 * volume, or there is none. */
enum st_status st_spirit_in(const struct st_recipe *r, double *ml);

/* The same bottle (strength, sugar, volume; acid where fruit gives any) from a spirit of another strength: adds to the
 * aim a pinned strength for the spirit on that line and the wishes, from the figures of the recipe as written.
 * ST_E_REFUSED and *problem when the recipe cannot be done, or the line is no spirit. */
enum st_status st_aim_same_bottle(struct st_aim *a, int step, int line, double strength, struct st_problem *problem);

/* What strength of the spirit on a line leaves `strength` % vol over the fruit of that step (before straining).
 *
 * Returned:
 *   *pct_vol   the strength of the spirit to pour
 * Status:
 *   ST_OK or the caution of the figures; ST_E_REFUSED and *problem: no spirit of 1 .. 96 % vol does, or as
 *   st_plan_create
 * Notes:
 *   1. Regula falsi (Illinois) on st_plan_run_at's strength_in_steep between 1 and 96 % vol; stops at 1e-9 % vol, 60
 *      steps at most (ST_E_NOCONV).
 */
enum st_status st_spirit_for(const struct st_recipe *r, int step, int line, double strength, double *pct_vol,
                             struct st_problem *problem);

/* The factor on everything that fills the fullest step that has a vessel (or is a steep) to ml: below 1 the recipe is
 * too much for it.  *step: which.  Status as st_jars_at. */
enum st_status st_fits_jar(const struct st_recipe *r, double ml, double *factor, int *step, struct st_problem *problem);

#endif
