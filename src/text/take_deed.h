#ifndef ST_TEXT_TAKE_DEED_H
#define ST_TEXT_TAKE_DEED_H

#include "take_inside.h"

/* A sentence of the method while it is read; what take_deed.c and take_deed_goods.c share. */

struct st_clause {
    size_t at, end;
    const struct st_word *verb; /* NULL: none */
    size_t verb_end;
};

/* The items found so far. */
struct st_deed_items {
    struct st_take_item *item;
    int n, room;
};

/* Are these words (parted by '|') in the clause? */
bool st_clause_says(const char *text, const struct st_clause *c, const char *words);
/* A time, as "6 weeks", "overnight", "another week"; s goes behind it. */
bool st_deed_time(struct st_scan *s, struct st_amount *out);

/* --- take_deed_goods.c --- */
/* What the clause names with an amount. */
void st_deed_goods(struct st_deed_items *s, const char *text, const struct st_clause *c, const struct st_catalogue *cat,
                   struct st_take_context *context);

#endif
