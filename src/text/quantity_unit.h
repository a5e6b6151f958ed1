#ifndef ST_TEXT_QUANTITY_UNIT_H
#define ST_TEXT_QUANTITY_UNIT_H

#include "core/units.h"
#include "model/problem.h"
#include "scan.h"

/* What the reader of a quantity is told. */
struct st_ask {
    enum st_measures measures; /* declared */
    unsigned dims;             /* dimensions wanted: bits 1u << enum st_dimension */
    bool liquid;               /* "oz" is a fluid ounce */
    bool wine;                 /* "a bottle" is one of wine */
};

#define ST_DIM_BIT(d) (1u << (unsigned)(d))
#define ST_DIMS_ALL   0xffffu
#define ST_DIMS_GOODS (ST_DIM_BIT(ST_DIM_MASS) | ST_DIM_BIT(ST_DIM_VOLUME) | ST_DIM_BIT(ST_DIM_PIECE))

/* The unit that a word means. */
struct st_pick {
    const struct st_unit *unit;     /* NULL: no unit */
    const struct st_unit *other[4]; /* what else it could be; the question to ask, when n_other > 0 */
    int n_other;
    double low, high; /* factor as met, where no measures are declared and it hardly matters; 0 none */
    bool ounce;       /* "oz" and the like: its meaning hangs on the ingredient */
    bool degrees;     /* a bare degree sign */
};

/* Read the unit at s: the longest of up to four words that is one.  False: none; s stays. */
bool st_unit_read(struct st_scan *s, const struct st_ask *ask, struct st_pick *out);

/* True when the maker has to say which unit is meant; then *problem is the question. */
bool st_pick_question(const struct st_pick *pick, struct st_problem *problem);

#endif
