#ifndef ST_CORE_SWEETNESS_H
#define ST_CORE_SWEETNESS_H

#include "status.h"

/* How sweet, as so much sucrose, and how much stronger a taste becomes. */

enum st_sweetener {
    ST_SWEET_SUCROSE,
    ST_SWEET_FRUCTOSE,
    ST_SWEET_GLUCOSE,
    ST_SWEET_INVERT,
    ST_SWEET_HONEY_SUGAR,
    ST_SWEET_MAPLE_SUGAR,
    ST_SWEET_LACTOSE,
    ST_SWEET_MALTODEXTRIN,
    ST_SWEET_GLUCOSE_SYRUP,
    ST_SWEET_GLYCEROL,
    ST_SWEET_SORBITOL,
    ST_NSWEETENER
};

/* Grams of sucrose as sweet as a gram of it.  All from memory but sucrose, which is 1 by definition.  low = high: no
 * range is stated. */
struct st_sweetener_row {
    const char *name;
    double low, mid, high;
};

/* The row; NULL for a value that is none. */
const struct st_sweetener_row *st_sweetener_get(enum st_sweetener s);

/* Given:
 *   n       sweeteners, 0..1000
 *   c[n]    of each, kg/m3, >= 0
 *   rs[n]   relative sweetness of each by mass, 0..20000
 * Returned:
 *   *se     kg/m3 of sucrose: sum of c rs
 * Status:
 *   ST_ESTIMATED; ST_E_DOMAIN   anything outside its limits, or NaN
 * Checks: tests/data/infusion/sweetness.tsv
 */
enum st_status st_sucrose_equivalent(int n, const double c[], const double rs[], double *se);

/* How much stronger a taste is for so many times the substance (Stevens' power law).
 *
 * Given:
 *   ratio       concentration over another, > 0
 *   power       0..5 (ST_SWEET_POWER: 1.3; 1.1..1.5, for sugars)
 * Returned:
 *   *stronger   ratio^power
 * Status:
 *   ST_ESTIMATED      ratio in 0.5..2: near the working point
 *   ST_EXTRAPOLATED   elsewhere: labelled scales give sigmoids
 *   ST_E_DOMAIN       anything outside its limits, or NaN
 * Source:
 *   [moskowitz1970].  Checks: tests/data/infusion/sweetness.tsv
 */
enum st_status st_taste_ratio(double ratio, double power, double *stronger);

#endif
