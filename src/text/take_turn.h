#ifndef ST_TEXT_TAKE_TURN_H
#define ST_TEXT_TAKE_TURN_H

#include "quantity.h"
#include "scan.h"
#include "take_clean.h"

/* What the turns of phrase of take_turns.c and take_turns_bottle.c share: places in a line, and what is put there. */

struct st_scan st_turn_from(const struct st_clean *l, size_t at);
/* Does a word begin here? */
bool st_turn_begins(const struct st_clean *l, size_t i);
/* n bytes at `at` become `with`. */
void st_turn_put(struct st_clean *l, size_t at, size_t n, const char *with);
/* The clause k..stop is taken out, with the comma or bracket round it; nothing before `least` is. */
void st_turn_cut(struct st_clean *l, size_t least, size_t k, size_t stop);
/* A weight or volume at the place, in figures and sure; its bytes, 0 none. */
size_t st_turn_quantity(const struct st_clean *l, size_t at, enum st_dimension dim, struct st_amount *a);
/* The same, of either sort. */
size_t st_turn_amount(const struct st_clean *l, size_t at, struct st_amount *a);
/* "350-400 g" */
void st_turn_say(double low, double high, enum st_dimension dim, char *out, size_t size);

/* "a mug and a half", "two bottles and a half": its bytes at s, which goes behind it, and "1.5 mug" in out; 0 none. */
size_t st_turn_and_half(struct st_scan *s, char *out, size_t size);

/* take_turns_bottle.c: "most of a 70 cl bottle", "half a bottle (70 cl)", "a 1 l bottle, nearly full"; i: where. */
void st_turn_bottle(struct st_clean *line, size_t i);

#endif
