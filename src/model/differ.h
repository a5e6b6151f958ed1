#ifndef ST_MODEL_DIFFER_H
#define ST_MODEL_DIFFER_H

#include "model/foresee.h"

/* How far the drink of one recipe differs from that of another, where both hang on the same unknowns.
 *
 * Given:
 *   a, b   plans without dials
 *   seed   of the draws
 *   n      draws, at least 2
 * Returned:
 *   d[ST_NFIG]  b less a: nominal, and where 95 % of the draws lie; known: false where one of the two figures is not, or
 *               is not in some draw
 * Status:
 *   ST_OK; ST_E_NOCONV no memory; ST_E_DOMAIN an input that cannot be drawn: d is then untouched
 * Notes:
 *   1. Draw by draw: an unknown that both have is drawn once and counts in both. That is one of the same name (range.h:
 *      st_column) which lasts (a rule, a cup, what a sieve holds back), and what was bought where both recipes give it
 *      the same figures.
 *   2. What only one of them has, what was bought with other figures, and what falls out anew each time (a filling, a
 *      reading of the scale, an amount given as a range) is drawn for each by itself.
 */
enum st_status st_plan_differ(const struct st_plan *a, const struct st_plan *b, uint64_t seed, size_t n,
                              struct st_interval d[ST_NFIG]);

#endif
