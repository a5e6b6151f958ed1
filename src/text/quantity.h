#ifndef ST_TEXT_QUANTITY_H
#define ST_TEXT_QUANTITY_H

#include <stddef.h>

#include "model/amount.h"
#include "model/problem.h"

/* Read a quantity as cooks write it, from the start of text: "1 1/2 cup", "¾ cup", "2 tbsp", "5 cl", "700 mL", "3" (pods),
 * "a pinch", "heaping tsp", "scant cup", "350 °F", "10 min", "1-2 weeks", "80 proof", "40 %", "a fifth", "1,5 l", "3/4 cup + 2 tbsp".
 *
 * Given:
 *   text, size   UTF-8, need not end in NUL; read no further than size
 *   measures     the declared measure system; ST_MEASURES_NONE when none
 * Returned:
 *   *out         the amount; untouched when negative
 *   *used        bytes read (the name of the ingredient follows there)
 *   *problem     filled when the result is not 0; problem->at.column is 1-based within text
 * Result:
 *   0            read
 *   1            a question: "cup", "oz", "pint" ... and no measure system is declared (problem->is_question)
 *  -1            no quantity here, or nonsense (negative, not a number, absurdly large)
 */
int st_quantity_parse(const char *text, size_t size, enum st_measures measures, struct st_amount *out, size_t *used,
                      struct st_problem *problem);

/* Print an amount back in the maker's units with sensible rounding: volumes and weights to what the tool can show, cups and
 * spoons as fractions ("3/4 cup + 2 tbsp"), e.g. 354.9 mL, US -> "1 1/2 cups".  Returns bytes written (buf always ends in NUL). */
size_t st_quantity_print(const struct st_amount *a, enum st_measures measures, char *buf, size_t size);

#endif
