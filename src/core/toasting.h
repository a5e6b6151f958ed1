#ifndef ST_CORE_TOASTING_H
#define ST_CORE_TOASTING_H

#include "status.h"

/* What an oven does to a kernel, a nut or a spice.  Three things, kept apart: flavour (an index, to compare two
 * toastings), the enzyme (nothing is known, and nothing is claimed), the glycoside (an estimate between wide ends).
 *
 * No figure of this header may lower a bound on a poison.  The bound is in cyanogen.h, which takes no toasting. */

/* A piece that is as warm inside as outside: a slab that gets its heat through both faces. */
struct st_piece_heat {
    double half_thickness; /* m, 1e-5..0.1 */
    double h;              /* heat transfer, W/(m2 K), 1..500; still oven air 10..25 (from memory) */
    double rho;            /* kg/m3, 100..3000 */
    double cp;             /* J/(kg K), 500..5000 */
};

/* The oven runs straight from point to point, and stays as it is before the first and after the last.  Two points of
 * one time are a jump. */
struct st_oven_point {
    double t; /* s, 0..86400, not falling */
    double T; /* K, 253.15..573.15 */
};
enum { ST_OVEN_POINTS = 64 };

/* Temperature of the piece.
 *
 * Given:
 *   p          the piece
 *   n, oven[n] 1..ST_OVEN_POINTS points
 *   T0         temperature of the piece at t = 0, K, 253.15..573.15
 *   t          s, 0..86400
 * Returned:
 *   *T         K: exact solution of tau dT/dt = T_oven - T, tau = rho cp a/h
 * Status:
 *   ST_ESTIMATED   an upper estimate: water that boils off keeps the piece cooler (Note 1)
 *   ST_E_DOMAIN    anything outside its limits, or NaN
 * Notes:
 *   1. A whole kernel (h a/conductivity about 0.5) is cooler in the middle than this mean while it warms.
 *   2. Never above the hottest oven yet, never below the coldest.
 * Source:
 *   lumped body, standard heat transfer.  Checks: tests/data/infusion/roast_core.tsv
 */
enum st_status st_toast_core(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                             double t, double *T);

/* How much toasted flavour, as a number that compares two toastings of one thing: 1 is 10 minutes with the core at 150
 * C.
 *
 * Given:
 *   as st_toast_core; t_end s, 0..86400: how long it stays in
 *   Ea       J/mol, 0..300e3 (ST_EA_FLAVOUR: 100e3; 80e3..120e3)
 * Returned:
 *   *index   integral of exp(-Ea/R (1/T - 1/423.15)) dt over 600 s, within 1e-6 of it
 * Status:
 *   ST_ESTIMATED   Ea from memory; the index says nothing of colour, bitterness or burning
 *   ST_E_DOMAIN    anything outside its limits, or NaN
 * Notes:
 *   1. That benzaldehyde and pyrazines rise with 15 min at 120 to 150 C is read; how fast is not.
 * Source:
 *   [jin_2018] (that they rise).  Checks: tests/unit/test_toasting.c
 */
enum st_status st_toast_index(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                              double t_end, double Ea, double *index);

/* What is known of beta-glucosidase after dry heat: no number for dry heat was found, so the only value says that.  (20
 * min in boiling water sufficed for whole seeds: [tuncel_1998]; dry kernels protect their enzymes, from memory.) */
enum st_toast_enzyme { ST_ENZYME_NO_NUMBER };

struct st_toasted {
    double core_K;                           /* when it comes out */
    double core_peak_K;                      /* the most on the way */
    double index_low, index_mid, index_high; /* over the range of Ea: least, middle Ea, most */
    enum st_toast_enzyme enzyme;
    double glycoside_low, glycoside_high; /* share of the amygdalin that may be left: an estimate, never for a bound */
};

/* All of it.
 *
 * Given, Status:
 *   as st_toast_core, at t_end; ST_EXTRAPOLATED never: all of it is ESTIMATED
 * Returned:
 *   *out
 * Notes:
 *   1. Glycoside: one published run, 27.64 to 9.77 mg/g in 10 min at 160 C, gives 0.104 a minute; Ea 60..140 kJ/mol
 * assumed, speed x/: 2.  Low end: the piece as hot as the oven all the time, twice that speed.  High end: the piece as
 * warm as st_toast_core says, half that speed, and never below 0.1: one run cannot show that nothing is left.
 *   2. It is no way to take a poison out.
 * Source:
 *   [nalcaci_2025].  Checks: tests/data/infusion/roasting.tsv, tests/unit/test_toasting.c
 */
enum st_status st_toast(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                        double t_end, struct st_toasted *out);

/* Speed of a first-order loss from one run: ln(before/after)/t.
 * Given: before >= after > 0; t > 0.  Returned: *k, 1/unit of t.  Status: ST_OK; ST_E_DOMAIN otherwise, or NaN. */
enum st_status st_apparent_rate(double before, double after, double t, double *k);

#endif
