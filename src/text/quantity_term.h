#ifndef ST_TEXT_QUANTITY_TERM_H
#define ST_TEXT_QUANTITY_TERM_H

#include "number.h"
#include "quantity_read.h"

/* One number with its unit, the piece of which ranges and sums are made. */

enum st_heap { ST_LEVEL, ST_HEAPED, ST_ROUNDED, ST_GENEROUS, ST_SCANT };

struct st_reading {
    struct st_scan s;
    const struct st_ask *ask;
    struct st_problem *problem;
    bool about, between, ounce, question;
    struct st_problem asked; /* the question */
    enum st_heap heap;
};

/* A number with its unit, as written. */
struct st_term {
    struct st_number n;
    struct st_pick pick; /* unit NULL: a bare count */
    double times;        /* of "2 x 50 mL" */
    bool negative;       /* a minus stood before it */
    struct st_scan word; /* for messages */
};

/* The same in base units. */
struct st_part {
    enum st_dimension dim;
    double value, low, high, written, fills;
    const struct st_unit *unit;
    enum st_tool tool;
    bool vague;
};

/* Words before a number; false: none, s stays. */
bool st_scan_about(struct st_scan *s);
bool st_scan_heap(struct st_scan *s, enum st_heap *heap);

/* Tell that this is no amount, or none that makes sense. */
enum st_got st_term_none(struct st_reading *r, const struct st_scan *from);
enum st_got st_term_nonsense(struct st_reading *r, const struct st_scan *from, const char *why);

/* Read a number with its unit at r->s: 1 read, 0 none here (r->s may have moved), -1 nonsense (told). */
int st_term_read(struct st_reading *r, struct st_term *t);

/* The term in base units; what is in doubt becomes the question of r.  False: nonsense (told). */
bool st_term_settle(struct st_reading *r, struct st_term *t, struct st_part *out);

enum st_dimension st_pick_dim(const struct st_pick *pick);
/* x of the unit picked, in base units; false when there is no such amount. */
bool st_pick_base(const struct st_pick *pick, double x, double *base);

#endif
