#ifndef ST_MODEL_STREAM_H
#define ST_MODEL_STREAM_H

#include "model/foresee.h"
#include "model/tape.h"

/* What flows from step to step, as registers of a tape: grams of each component (mg of each marker, and kJ
 * of energy beyond what the components account for) in the liquid,
 * and in the pieces (fruit, spice) that lie in it or are strained off. */

enum { ST_SLOT_MARKER = ST_NCOMP, ST_SLOT_ENERGY = ST_NCOMP + ST_MAX_MARKERS, ST_NSLOT };

struct st_stream {
    int liquid[ST_NSLOT];
    int pieces[ST_NSLOT]; /* water, sugar ... and insoluble matter still inside the pieces */
    int keeps;            /* grams of liquor that the pieces keep when strained, not pressed */
    bool cloudy;          /* has lain on fruit or finings and not been racked or filtered since */
};

struct st_stream st_stream_empty(void);

/* Sum of the components of one side, g (markers do not count). */
int st_mass_of(struct st_tape *t, const int side[ST_NSLOT]);

/* into += share of from (registers; share ST_ONE for all). */
void st_pour(struct st_tape *t, int into[ST_NSLOT], const int from[ST_NSLOT], int share);

/* side *= share. */
void st_shrink(struct st_tape *t, int side[ST_NSLOT], int share);

/* The opposite of a share: 1 - share. */
int st_rest_of(struct st_tape *t, int share);

/* Move share of from to into: from keeps the rest, nothing is lost or made. */
void st_move(struct st_tape *t, int from[ST_NSLOT], int into[ST_NSLOT], int share);

/* Volume at 20 C in mL of what is on one side, pores not counted. */
int st_volume_of(struct st_tape *t, const int side[ST_NSLOT]);

/* True when nothing is there, whatever the draw. */
bool st_side_is_empty(const int side[ST_NSLOT]);

/* Nominal grams of each component. */
void st_nominal_of(const struct st_tape *t, const int side[ST_NSLOT], double g[ST_NCOMP]);

#endif
