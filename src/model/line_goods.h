#ifndef ST_MODEL_LINE_GOODS_H
#define ST_MODEL_LINE_GOODS_H

#include "model/recipe.h"

/* Small questions about the lines of a recipe that labels ask. */

/* Grams of a line as put in, net where the recipe says how it was weighed.  Not known: an open amount, a measure or piece
 * nobody has weighed, a line that takes from a step.  low and high: the writer's own range and the spread of the weight. */
struct st_range st_line_grams(const struct st_line *l);

/* True when the drink (the last step) takes something that met this step. */
bool st_step_reaches(const struct st_recipe *r, int step);

/* True when no step takes only a share of another: what went in can then be told by litre. */
bool st_recipe_takes_all(const struct st_recipe *r);

/* True when word stands as a whole word in text, letter case aside. */
bool st_has_word(const char *text, const char *word);

/* True when one of the words of list (parted by `between`) is key. */
bool st_in_list(const char *list, char between, const char *key);

/* What the line is for. */
enum st_goods {
    ST_GOODS_SPIRIT,    /* distilled, without a taste of its own, or not said */
    ST_GOODS_TASTY,     /* distilled or sweetened, with a taste of its own: gin, liqueurs, bitters, extracts */
    ST_GOODS_FERMENTED, /* wine, beer, cider, mead */
    ST_GOODS_FLAVOUR,   /* gives flavour: fruit, herbs, spices, juice, coffee ... */
    ST_GOODS_SWEET,     /* sugar, plain syrups, honey, sweeteners */
    ST_GOODS_RICH,      /* milk, cream, egg */
    ST_GOODS_OTHER,     /* water, acids, finings, salt, colour */
    ST_GOODS_NONE       /* a line that takes from a step */
};
enum st_goods st_line_goods(const struct st_line *l);
enum st_goods st_ingredient_goods(const struct st_ingredient *in);

#endif
