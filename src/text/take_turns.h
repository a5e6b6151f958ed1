#ifndef ST_TEXT_TAKE_TURNS_H
#define ST_TEXT_TAKE_TURNS_H

#include "take_clean.h"
#include "text/ingredients.h"

/* Turns of phrase that tell an amount in two steps, said in one: "half a 70 cl bottle of gin" -> "350 mL gin"; "1.5 l, of
 * which 500 ml kept back" -> "1000 mL"; "vodka - 500, sugar - 200" -> "500 vodka, 200 sugar".
 *
 * Given: a line as st_clean_write left it, from start on (behind its bullet). Returned: the line, rewritten;
 * because[size]: what to tell of it, "" when the words are sure. */
void st_turns_write(struct st_clean *line, size_t start, const struct st_catalogue *c, char *because, size_t size);

#endif
