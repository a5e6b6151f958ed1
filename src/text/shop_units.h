#ifndef ST_TEXT_SHOP_UNITS_H
#define ST_TEXT_SHOP_UNITS_H

#include "model/ingredient.h"
#include "model/problem.h"

/* How goods are sold: data/shop_units.tsv (data/README.md).  Texts are lent by the whole. */

enum st_sold_as {
    ST_SOLD_PACK,
    ST_SOLD_LOOSE,
    ST_SOLD_PIECE,
    ST_SOLD_NONE /* told as the recipe measures it: nobody is to be led to buy more of it */
};

struct st_pack {
    const char *goods; /* kinds and keys of ingredients, blanks between */
    bool us;           /* a US shop */
    const char *shelf; /* "spirits and wine": where to look for it */
    enum st_sold_as how;
    const char *word; /* "bottle"; "" of what is loose or sold by the piece */
    enum st_dimension dim;
    double size;      /* g, mL, pieces; of what is loose the step it is rounded up to */
    const char *said; /* "700 mL" */
    bool gross;       /* weighed as bought, with stones and peel */
    const char *as;   /* what is bought for it: lemons for their juice; "" itself */
    bool part;        /* of that only a part is used: the same lemon gives juice and peel */
    const char *source, *note;
};

struct st_packs {
    const struct st_pack *pack;
    int n;
};

/* NULL and *problem, with its line, when it cannot be read.  text is copied.  Freed with st_packs_free. */
struct st_packs *st_packs_create(const char *text, size_t size, struct st_problem *problem);
void st_packs_free(struct st_packs *all);

/* The sheet that is built into the program. */
struct st_packs *st_packs_built(struct st_problem *problem);

/* How an ingredient is sold: the packs of its key, else of its kind; in a US shop the US ones where there are any.
 * By rising size in pack[max]; how many. */
int st_packs_of(const struct st_packs *all, const struct st_ingredient *in, bool us, const struct st_pack *pack[],
                int max);

enum { ST_PACK_PARTS = 200 };

/* What can be cut of this one, by what a shop sells for it: of egg_whole "egg_white egg_yolk", blanks between; "" nothing. */
void st_packs_parts(const struct st_packs *all, const char *slug, char buf[ST_PACK_PARTS]);

#endif
