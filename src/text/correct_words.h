#ifndef ST_TEXT_CORRECT_WORDS_H
#define ST_TEXT_CORRECT_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include "cautions.h"
#include "model/correct.h"

/* A correction in sentences, for page and document alike.  Everything goes to buf of size bytes, which always ends in
 * NUL. */

enum { ST_CORRECT_TEXT = 640 };

const char *st_correct_way_words(enum st_correct_by by); /* "the least that is moved" */
const char *st_correct_way_code(enum st_correct_by by);  /* "least" */
const char *st_correct_none_code(enum st_correct_none n);

/* "212 mL (201 g)", "45 g", "2.5 g". */
void st_correct_amount_words(char *buf, size_t size, const struct st_correct_thing *t, double units);
/* So much of it as a line to write down has it, no finer than it can be poured or weighed: "53 mL", "4.8 g". */
void st_correct_written(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_thing *t,
                        double units);
/* "draw off 100 mL, then pour in 16 mL (16 g) of water, 212 mL (201 g) of vodka 40 %": in this order. */
void st_correct_do_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_option *o);
/* The same as a kitchen measures it; "" where it does not. */
void st_correct_kitchen_words(char *buf, size_t size, const struct st_correct_ask *a,
                              const struct st_correct_option *o);
/* "26.1 % vol (25.9 to 26.4), 218 g/L of sugar (216 to 221), 1.43 L (1.38 to 1.48)". */
void st_correct_figures_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_made *m);
/* What moves though nobody asked: "the sugar from 219 to 189 g/L"; "" nothing does by more than st_correct_step. */
void st_correct_moved_words(char *buf, size_t size, const struct st_correct_ask *a,
                            const struct st_correct_made *before, const struct st_correct_made *m);
/* "inside in 91 of 100". */
void st_correct_sure_words(char *buf, size_t size, const struct st_correct_made *m);
/* "25.5 to 26.5 % vol, 200 to 220 g/L of sugar": what is wished. */
void st_correct_wish_words(char *buf, size_t size, const struct st_correct_ask *a);
/* "the jar of 1.5 L holds it: 1.43 L stand in it"; "" without a jar. */
void st_correct_jar_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_made *m);

/* Whether it may go cloudy, crystallise; i from 0, "" behind the last.  batch: its code, for `stillroom clear`; "": none. */
void st_correct_haze_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_found *f,
                           const struct st_correct_made *m, const char *batch, int i);
/* How to pour, i from 0, "" behind the last. */
void st_correct_how_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_option *o,
                          int i);
/* Why none meets it, or the least does not, and what would: i from 0, "" behind the last. */
void st_correct_why_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_found *f,
                          int i);
/* One that is left out of the list: "without water: nothing reaches it"; "" where it is there or does not apply. */
void st_correct_left_words(char *buf, size_t size, const struct st_correct_found *f, enum st_correct_by by);
/* Where the doubt comes from: "Most of the doubt about the strength is the reading of the strength (84 of 100)". */
void st_correct_doubt_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_found *f);
/* Whether an option does nothing at all. */
bool st_correct_idle(const struct st_correct_option *o);

/* What must be read first: strength under what keeps, sugar that does not stay dissolved, strong spirit. */
void st_correct_cautions(const struct st_correct_ask *a, const struct st_correct_found *f, struct st_cautions *out);

#endif
