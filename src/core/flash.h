#ifndef ST_CORE_FLASH_H
#define ST_CORE_FLASH_H

#include "mixture.h"

/* Closed-cup flash point: from this temperature on the vapour over the liquid can be lit.
 *
 * Given:
 *   w     mass fractions of the whole liquid
 * Returned:
 *   *T_K  K
 * Status:
 *   ST_OK            ethanol-water, 5..96 % vol
 *   ST_EXTRAPOLATED  ethanol-water above 96 % vol: falls to 13 C for pure ethanol (from memory)
 *   ST_ESTIMATED     with sugars or other solutes: the table at the strength of ethanol and water alone (Note 2)
 *   ST_E_REFUSED     no ethanol, or that strength below 5 % vol: the table ends there.  It does not say "cannot burn"
 *   ST_E_DOMAIN
 * Notes:
 *   1. One copy of the table is headed % mass, another % vol.  It is read as % vol: the lower, warier figure.  Straight
 *      lines between its points; take +-4 K.
 *   2. Leaving the sugar out gives the lower flash point, since sugar drives ethanol out of the liquid.
 *   3. A spill on warm metal, a wick, a spray or a flame flashes below this.
 * Source:
 *   [flash_table]
 */
enum st_status st_flash_point(const double w[ST_NCOMP], double *T_K);

#endif
