#ifndef ST_TEXT_SHOPPING_H
#define ST_TEXT_SHOPPING_H

#include "model/reach.h"
#include "shop_units.h"
#include "util/buf.h"

/* What is missing for a recipe, as one buys it: whole packs, weight as bought, rounded up, and what is left over. */

enum { ST_SHOP_SIZES = 8 };

struct st_shop_item {
    const char *shelf;                /* "fruit and vegetables"; "what else" where nobody says how it is sold */
    const struct st_ingredient *what; /* the first, where several are bought as one */
    const char *as;                   /* "lemon", for its juice and peel; "" itself */
    double strength;                  /* of a spirit, % vol; NAN */
    bool amount_known;                /* else: as much as it takes */
    enum st_dimension dim;            /* of needed, bought, over */
    struct st_range needed;           /* as it is sold: g as bought where that is gross */
    struct st_range trimmed_g;        /* of what is sold gross and used trimmed; known only then */
    struct {
        const struct st_pack *pack;
        int n;
    } buy[ST_SHOP_SIZES]; /* largest first; of what is loose n steps */
    int n_buy;            /* 0: as the recipe measures it */
    double bought;
    struct st_range over; /* left over */
    double surely;        /* what the worse end would take, where that is more than was bought; else 0 */
    char text[360];
};

struct st_shopping {
    struct st_shop_item *item; /* by shelf, in the order of the sheet; then of the recipe */
    int n;
    const struct st_ingredient *stop; /* must not go into a drink: then there is no list */
};

/* Make the list.
 *
 * Given:
 *   r          the recipe
 *   x          what is within reach (reach.h): only what is missing is bought
 *   packs      how things are sold
 *   us         a US shop
 * Returned:
 *   *out       to be freed with st_shopping_done; lends from r and packs
 * Notes:
 *   1. Bought is enough for the middle; where the worse end of 19 cases of 20 would take another pack, that is said.
 *   2. One pack that is enough, the smallest; else as many of the largest as it takes, the last as small as will do.
 *   3. What is within reach at another strength is not bought, water neither. */
void st_shopping_make(const struct st_recipe *r, const struct st_reach *x, const struct st_packs *packs, bool us,
                      struct st_shopping *out);
void st_shopping_done(struct st_shopping *x);

/* The list as text, shelf by shelf. */
void st_shopping_print(const struct st_shopping *x, struct st_buf *out);

#endif
