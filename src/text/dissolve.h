#ifndef ST_TEXT_DISSOLVE_H
#define ST_TEXT_DISSOLVE_H

#include <stdbool.h>

#include "core/mixture.h"

/* Water that must be added until all sucrose dissolves at 20 C.
 *
 * Given:
 *   g       grams of each component
 * Returned:
 *   *more   grams of water; 0 when it dissolves as it is; untouched when the status is negative
 * Status:
 *   as st_sucrose_solubility (solubility.h), at the answer
 * Notes:
 *   1. Other sugars are left out beside sucrose (solubility.h), and taken as sucrose where there is none.
 *   2. Sucrose to water and alcohol alone; halving to 0.1 g.
 */
enum st_status st_water_to_dissolve(const double g[ST_NCOMP], double *more);

/* True for sugar with next to nothing to dissolve in: less than a tenth water and alcohol (honey has 15 % and more). */
bool st_is_dry_sugar(const double g[ST_NCOMP]);

#endif
