#ifndef ST_TEXT_TAKE_DIARY_H
#define ST_TEXT_TAKE_DIARY_H

#include "quantity.h"
#include "util/arena.h"

/* What a maker who tells what was done says beside the goods and deeds: when it was, and how much came off. */

/* The first volume that is told as what came off ("got 1.3 litres", "620 ml came off") in a sentence that strains, or that
 * says so itself.
 * Returned: *at, *n which bytes tell it; *out the volume.  False: none. */
bool st_take_came_off(const char *text, enum st_measures measures, size_t *at, size_t *n, struct st_amount *out);

/* Words for a day in text, from *at on: where they stand, and their bytes, 0 none.  *since as of st_day_words_at. */
size_t st_take_day_in(const char *text, size_t *at, bool *since);

/* "Two months ago I put ... and last week I strained it": two days, two sentences.
 * Given: a sentence of n bytes that opens with `day` bytes of words for a day, or 0. Result: bytes of the first of them. */
size_t st_take_before_next_day(struct st_arena *arena, const char *text, size_t day, size_t n);

#endif
