#ifndef ST_TEXT_CAUTION_PROCESS_H
#define ST_TEXT_CAUTION_PROCESS_H

#include "cautions.h"

/* What the making itself asks one to watch, and cautions.c, caution_heat.c and the flags of the sheet do not tell.
 *
 * Given:    r; f foretold of r, or NULL: then only what the recipe's own words and ingredients show
 *           out: what was collected before; nothing of it is told again
 * Returned: out with, as codes:
 *   low_acid      garlic, vegetables, fresh herbs in a jar under 20 % vol: botulism
 *   oil_infusion  these in oil, or oil that steeps without spirit
 *   made_ahead    a weak syrup, or something without spirit, that stands for a day or longer
 *   flash         from which temperature on the vapour over a jar can be lit, where neither heat nor its strength told it
 *   glass         hot liquid into glass, warm liquid closed in
 *   vessel        lead crystal, glazes and metals that the words name
 *   denatured     spirit that is poisonous, named in the words
 *   distil        the words ask for a still, for a vacuum or for freezing out
 *   methanol      what frees it is added, or the words name it
 *   steeped_fruit how strong the strained fruit is, and how many grams of ethanol 100 g of it hold
 *   light         stone fruit and kernels: ethyl carbamate
 * Notes:
 *   1. Each has a figure where one is known; source is a key, "from memory" or "common practice, no source".
 *   2. Adding an ingredient to a recipe of which nothing is foretold never takes a caution away.
 */
void st_caution_process(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f);

/* Those that only words tell (distil, vessel, denatured, methanol), of one text; for what came into no step. */
void st_caution_words(struct st_cautions *out, const char *words, int step, int line);

/* Whether a text (NULL: none) asks for a still, a vacuum or freezing out; and the caution that none of it is supported. */
bool st_asks_for_a_still(const char *words);
void st_caution_distil(struct st_cautions *out, int step, int line);

#endif
