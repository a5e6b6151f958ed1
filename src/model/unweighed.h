#ifndef ST_MODEL_UNWEIGHED_H
#define ST_MODEL_UNWEIGHED_H

#include "model/foresee.h"

/* A recipe with drained solids of which only a reading tells (st_step.drained_read), as if nobody had weighed them: what
 * that reading is held against, and what a worst case still has to bear where the reading is wrong. */
struct st_unweighed {
    struct st_recipe recipe; /* lines and texts lent by the recipe it was made of */
    struct st_foretold out;  /* when told */
    bool told;
};

/* Given:    r; seed, draws: as for st_plan_run
 * Returned: x, told; or NULL: no such reading stands in it, it cannot be foretold without, or memory is out.
 *           st_unweighed_free in every case */
struct st_unweighed *st_unweighed_create(const struct st_recipe *r, uint64_t seed, int draws);
void st_unweighed_free(struct st_unweighed *x);

#endif
