#ifndef ST_TEXT_TRY_INSIDE_H
#define ST_TEXT_TRY_INSIDE_H

#include "try_changes.h"
#include "try_match.h"

/* For the files try_*.c of text only. */

/* Two figures that are one but for rounding; both not a number counts. */
bool st_try_near(double x, double y);
/* The price of what is on a line follows its amount: both lines have one, in the same measure. */
bool st_try_price_follows(const struct st_line *x, const struct st_line *y);
/* The line of a change in the recipe of that side; NULL none. */
const struct st_line *st_try_line_of(const struct st_try_changes *c, const struct st_try_change *x, int side);
const struct st_step *st_try_step_of(const struct st_try_changes *c, const struct st_try_change *x, int side);
/* try_words.c: fill x->text. */
void st_try_say(const struct st_try_changes *c, struct st_try_change *x);

/* try_figures.c: the figures that are told, in this order; to which place; how much of one is as much as how much of
 * another, for the order of the changes alone (share: of the figure itself). */
enum { ST_TRY_NTOLD = 7 };
struct st_try_told {
    const char *name;
    double place, much;
    enum st_figure of;
    bool share;
    const char *less, *more; /* "weaker", "stronger" */
};
extern const struct st_try_told st_try_told[ST_TRY_NTOLD];
/* "sugar 212 -> 188 g/L"; false when it does not move as it is told. */
bool st_try_moves(const struct st_try_changes *c, int k, double was, double is, enum st_measures units, char *buf,
                  size_t size);
/* What the drinks of the two recipes differ by; false where that cannot be drawn. */
bool st_try_differ(const struct st_try_changes *c, uint64_t seed, size_t n, struct st_interval by[ST_NFIG]);
/* Fill the rest of *g, of which is and by are given; false when it does not move. */
bool st_try_figure(const struct st_try_changes *c, int k, enum st_measures units, struct st_try_figure *g);

#endif
