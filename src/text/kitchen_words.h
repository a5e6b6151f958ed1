#ifndef ST_TEXT_KITCHEN_WORDS_H
#define ST_TEXT_KITCHEN_WORDS_H

#include "model/kitchen.h"

/* One measured amount as a cook says it: "1 1/4 cups", "3 tablespoons", "305 g", "1 bottle of 700 mL", "2 jiggers of 40
 * mL". Nothing ("") for what is not measured anew. */
void st_kitchen_words(const struct st_kitchen_item *item, char *buf, size_t size);

/* The same as it stands in a recipe file, so that st_quantity_parse reads it back: "1 1/4 cups", "700 mL". */
void st_kitchen_written(const struct st_kitchen_item *item, char *buf, size_t size);

/* "cup", "jug", "scale": the tools a making takes, in a row: "jug, scale and bottle"; "" none. */
void st_kitchen_tools(const struct st_making *m, int n_dial, char *buf, size_t size);

/* What dial k is in a making: as it is measured, or as it is where nothing is measured anew. */
void st_kitchen_item_words(const struct st_aim *a, const struct st_making *m, int k, char *buf, size_t size);

/* Why there is none of a kind: "none was found inside all wishes". */
void st_kitchen_none_words(enum st_alternative which, enum st_why_none why, char *buf, size_t size);

/* What it costs, or brings, in certainty: "as sure", "surer by 2 of 20", "2 of 20 less". */
void st_kitchen_sure_words(const struct st_making *m, const struct st_making *best, char *buf, size_t size);

/* ", 21.8 % vol (23.3 before)": what nobody asked to change and yet moved by more than a step; volume aside. */
void st_kitchen_moved_words(const struct st_kitchen_choice *c, const struct st_making *m, char *buf, size_t size);
/* How well the best is proven: "Proven to within 0.04 of a tolerance" ... */
void st_kitchen_proof_words(const struct st_kitchen_result *r, char *buf, size_t size);

/* "Weigh the water instead of measuring 1 1/4 cups", "Fewer tools, jug and scale". */
void st_kitchen_other_words(const struct st_aim *a, const struct st_kitchen_choice *c, enum st_alternative which,
                            char *buf, size_t size);

#endif
