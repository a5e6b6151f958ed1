#ifndef ST_MODEL_RANGE_H
#define ST_MODEL_RANGE_H

#include <stddef.h>
#include <stdint.h>

#include "model/amount.h"

/* How one uncertain number is drawn. */
enum st_shape {
    ST_SHAPE_SPLIT,  /* split normal: low, value, high are its 2.5, 50 and 97.5 % points */
    ST_SHAPE_EVEN,   /* rectangular from low to high */
    ST_SHAPE_PEAK,   /* triangular from low to high, peak in the middle: the sum of two equal rectangular errors */
    ST_SHAPE_NORMAL, /* normal: value is the mean, high - value is 1.96 standard deviations */
    ST_NSHAPE
};

/* Whose doubt it is, where the same is made a second time. */
enum st_doubt {
    ST_DOUBT_LASTING, /* of a rule, a tool, a habit of the house: the same again */
    ST_DOUBT_THING,   /* of what was bought: the same again where its figures are the same */
    ST_DOUBT_MAKING   /* of how it fell out that day: a filling, a reading of the scale */
};

struct st_column {
    double value, low, high;
    double clip_low, clip_high; /* every draw is held inside */
    enum st_shape shape;
    uint32_t id;         /* names the input to the generator */
    int group;           /* what it is told with; the caller's business */
    enum st_doubt doubt; /* for differ.c */
};

/* Standard normal deviate of 97.5 %. */
#define ST_Z975 1.959963984540054

/* A column of draws.
 *
 * Given:
 *   c            low <= value <= high, clip_low <= value <= clip_high, all finite (clips may be infinite)
 *   seed         of the run
 *   first, n     draws first .. first + n - 1
 * Returned:
 *   x[n]
 * Notes:
 *   1. One uniform number a draw, turned by the inverse of the distribution: the median of x is value for every
 *      shape whose low and high lie alike about it, and for ST_SHAPE_SPLIT always.
 */
void st_column_draw(const struct st_column *c, uint64_t seed, uint64_t first, size_t n, double x[]);

/* True when nothing varies. */
bool st_range_is_sharp(struct st_range r);

/* A 32-bit name of an input, from its parts; any order of calls, never 0.  FNV-1a. */
uint32_t st_name_hash(uint32_t hash, const char *text);
#define ST_NAME_START 2166136261u

#endif
