#ifndef ST_MODEL_CLEARING_INSIDE_H
#define ST_MODEL_CLEARING_INSIDE_H

#include "clearing.h"

/* What only clearing.c and clearing_*.c share. */

enum { ST_CLEARING_STEPS = 256 };

/* Share of the liquid of a step that goes on: by its ethanol, where there is none by its water. */
double st_clearing_kept(const struct st_balance *b);

/* Fills oil, oil_known and part; volume_ml must be there. */
void st_clearing_oils(const struct st_recipe *r, const struct st_foretold *f, const struct st_compounds *all,
                      struct st_clearing *out);

/* Fills jar[]. */
enum st_status st_clearing_jars(const struct st_recipe *r, const struct st_foretold *f, struct st_clearing *out);

#endif
