#ifndef ST_API_TICKS_H
#define ST_API_TICKS_H

#include "model/foresee.h"

/* Numbers of the kitchen that no physics gives, in one place.  All of them common practice, no source. */

/* The step in which a maker changes an amount (base units) of this size: 5 g, 10 mL, 1 piece, smaller ones for small
 * amounts, so that a slider has at least twenty steps to the amount as written where a finer step can be weighed. */
double st_tick(enum st_dimension dim, double amount);
enum { ST_TICKS = 4 };

/* The step of a strength, % vol. */
#define ST_TICK_STRENGTH 0.5

/* Where a slider goes: a quarter to twice the amount, rounded to ticks; a strength from half to twice, 96 % vol at
 * most. */
void st_tick_range(enum st_dial_of of, double written, double tick, double *low, double *high);

/* How near a wish of one number has to be met: 0.5 % vol, 5 g/L of sugar, 5 % of the acid (at least
 * 0.3 g/L), 2 % of anything else. */
double st_wish_tolerance(enum st_figure f, double value);

#endif
