#ifndef ST_TEXT_REACH_WORDS_H
#define ST_TEXT_REACH_WORDS_H

#include <stddef.h>

#include "model/reach.h"
#include "text/text_room.h"

/* What is within reach, and what it costs, as one says it.  Everything goes to buf of size bytes, always ended. */

enum { ST_REACH_WORDS = 700 };

/* Line k: "700 mL vodka 40 %: of another strength: 560 mL of the strong one (50 %) and 143 mL water".
 * held: the lots as they were given to st_reach_find. */
void st_reach_line_words(char *buf, size_t size, const struct st_recipe *r, const struct st_reach *x, int k,
                         const struct st_holding held[]);

/* "7.15 EUR the batch, 3.58 EUR a bottle of 250 mL (likely between 2.98 and 4.47), 0.57 EUR a pour of 40 mL"; what is not known
 * is said to be so, with what is missing for it. */
void st_reach_cost_words(char *buf, size_t size, const struct st_recipe *r, const struct st_reach_cost *c);

/* "of 6.00 EUR a pour 5.00 are left after tax; less what it costs, 4.43 EUR (89 %)". */
void st_margin_words(char *buf, size_t size, const struct st_margin *m, double price, const char *currency);

/* "16.60 EUR (likely between 15.20 and 18.00)"; r known. */
void st_reach_money(struct st_text_room *o, const struct st_range *r, const char *currency);

#endif
