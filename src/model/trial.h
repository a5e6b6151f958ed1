#ifndef ST_MODEL_TRIAL_H
#define ST_MODEL_TRIAL_H

#include "core/mixture.h"
#include "model/foresee.h"

/* Trial glasses: a few small glasses of a batch with rising additions, tasted side by side; what was liked best is then
 * added to the rest.  Pure: no I/O, no clock. */

enum { ST_TRIAL_ADDS = 2, ST_TRIAL_GLASSES = 5 };

/* A liquid by grams of each component. */
struct st_trial_liquid {
    double g[ST_NCOMP];
    double ml; /* at 20 C */
};

/* What mL are measured with, in the glasses and into them. */
enum st_trial_with {
    ST_TRIAL_MEASURE, /* a small measure with a mark at every mL */
    ST_TRIAL_SYRINGE  /* a syringe with a mark at every 0.2 mL; the batch with it or on a scale */
};

enum st_trial_by { ST_TRIAL_BY_ML, ST_TRIAL_BY_G, ST_TRIAL_BY_DROPS };

struct st_trial_add {
    struct st_trial_liquid unit; /* what 1 mL of it holds: ml = 1 */
    enum st_trial_by by;
    double from, to;         /* in mL, g or drops, in the first and the last glass */
    struct st_range drop_ml; /* BY_DROPS: one drop, the doubt about its size */
};

struct st_trial {
    struct st_trial_liquid batch; /* all there is */
    double glass_ml;              /* of the batch in each glass, 30..100 */
    enum st_trial_with with;
    struct st_trial_add add[ST_TRIAL_ADDS];
    int n_add, n_glass; /* 3..5; two additions: five, the corners and the middle */
};

struct st_trial_dose {
    double count; /* in mL, g or drops as asked */
    struct st_interval ml, g;
};
struct st_trial_glass {
    struct st_trial_dose dose[ST_TRIAL_ADDS];
    struct st_interval strength, sugar, acid,
        volume; /* with the errors of dosing and of filling the glass, not of the batch */
};

/* One drop.  By weight of 50 on a scale that shows steps of step_g: mass/50 over the density, the step read twice, and
 * what one count of 50 differs from the next.  Without a weighing: water about 0.05 mL, spirit half of that, between by
 * strength; half as much to twice as much, as droppers and hands differ (all common practice, no source). */
struct st_range st_trial_drop(const struct st_trial_liquid *unit, double g_of_50, double step_g);

/* A liquid of a strength, % vol, and a sugar, g/L sucrose: for a batch known by its figures alone.
 * ST_E_DOMAIN: there is none such. */
enum st_status st_trial_liquid_of(double strength, double sugar_g_l, double ml, struct st_trial_liquid *out);

/* The glasses.
 *
 * Given:    t
 * Returned: glass[n_glass]
 * Status:   the worst of the mixtures; ST_E_DOMAIN numbers of glasses or additions that are not, from above to or below
 *           0, or more in the glasses than the batch holds
 * Notes:
 *   1. One addition: equal steps from the first to the last glass.  Two: low and low, high and low, low and high, high
 *      and high, and the middle.
 *   2. Errors, of half widths that are rectangular, each by itself:
 *      - a dose by the small measure 5 % ([ansi_z61_1], as household measures) and half a mark, 0.5 mL (common
 * practice, no source); by the syringe 5 % and half a mark, 0.1 mL (from memory);
 *      - in g half a tenth of a gram, read twice (common practice, no source);
 *      - in drops 10 % a drop (from memory), and the size of a drop times or divided by its own factor;
 *      - the glass as a jug, 5 % [ansi_z61_1] and reading it as st_tolerance_default has it (from memory); by syringe
 * or scale 2 % (from memory). Low and high hold 19 of 20; drops multiply and divide, so there the range is not even
 * about the figure.
 */
enum st_status st_trial_plan(const struct st_trial *t, struct st_trial_glass glass[ST_TRIAL_GLASSES]);

/* The addition of glass `pick` (0-based) for what is left of the batch.
 *
 * Given:    drunk_ml, of the batch: glasses times glass_ml where all went
 * Returned: *left_ml; dose[n_add]: for all of it; what it makes in *after, of nominal errors as in the glass
 * Status:   ST_E_DOMAIN no such glass, or nothing left
 * Notes:    Two thirds of it first: the errors of a dose in a glass go along to the batch, and what is in cannot be
 * taken out.
 */
struct st_trial_rest {
    double left_ml;
    struct st_trial_dose dose[ST_TRIAL_ADDS];
    struct st_trial_glass after;
};
enum st_status st_trial_pick(const struct st_trial *t, int pick, double drunk_ml, struct st_trial_rest *out);

#endif
