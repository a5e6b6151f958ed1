#ifndef ST_API_BOOK_REACH_H
#define ST_API_BOOK_REACH_H

#include <jansson.h>

#include "api/book_larder.h"
#include "model/reach.h"
#include "text/shopping.h"

/* A recipe held against the larder: what is within reach, from which lots, what to buy, and what it costs. */
struct st_within {
    struct st_larder larder;
    struct st_holding *held;  /* held[i] is larder.lot[i] */
    struct st_holding *shown; /* the same, named with their codes: "L4 vodka" */
    struct st_reach reach;
    struct st_shopping list;
    int n_short; /* lines that need something bought */
    bool priced; /* a pour was priced, and its cost is known */
    struct st_margin margin;
    double pour_price, tax;
};

/* Given:    c, the recipe's catalogue; f foretold of r, or NULL; packs, which must outlive it; us: a US shop; pour_price
 *           NAN: none; tax: share of it
 * Returned: *out, for st_within_done when true */
bool st_larder_reach(struct st_desk *d, const struct st_catalogue *c, const struct st_recipe *r,
                     const struct st_foretold *f, const struct st_packs *packs, bool us, double pour_price, double tax,
                     struct st_within *out);
void st_within_done(struct st_within *w);

/* Whether something of it must be bought before the recipe can be made. */
bool st_reach_is_short(enum st_reach_state s);

/* doc_reach.c */
/* What a bar keeps of a pour: {price, tax_share, net, kept, share}. */
json_t *st_doc_margin(double price, double tax_share, const struct st_margin *m);
json_t *st_doc_within(const struct st_recipe *r, const struct st_within *w);

#endif
