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
 *   *out         the amount; untouched unless the result is 0
 *   *used        bytes read (the name of the ingredient follows there); also set with a question, else untouched
 *   *problem     filled when the result is not 0; problem->at.column is 1-based within text
 * Result:
 *   0            read
 *   1            a question: "cup", "oz", "pint" ... and no measure system is declared (problem->is_question)
 *  -1            no quantity here, or nonsense (negative, not a number, absurdly large)
 * Notes:
 *   1. Most that is read: 1e6 g, mL or pieces, 100 years, 1300 K, 100 % vol.
 *   2. "1,000 g": the comma parts thousands under US and imperial measures, and where a decimal comma makes no sense;
 *      else it is a question.  "1,5 l" and "0,250 kg" are decimal.  "2 500 mL" is a question: two bottles, or 2500?
 *   3. "oz" is a weight here; st_line_parse takes it by volume for what is poured.
 *   4. Spoons need no measures: 15 and 5 mL, low..high covering the US ones (1.4 % less); the Australian tablespoon of
 *      20 mL only when named.  Under imperial measures "proof" is a question, since the old British one is another;
 *      so is "degrees proof", but under US measures.
 *   5. "about" is +-10 % (temperature 3 K, strength 2 % vol); "a few" 3..5, "several" 4..7: common practice, no source.
 *   6. Heaped and scant spoons and cups: value is the level measure and a flag is set, unless the amount has a range of
 *      its own (or one by note 4); then value, low and high hold the heap already and vague is set.
 *   7. A sum of several tools ("3/4 cup + 2 tbsp") has the tool of its largest part.
 */
int st_quantity_parse(const char *text, size_t size, enum st_measures measures, struct st_amount *out, size_t *used,
                      struct st_problem *problem);

/* Print an amount back in the maker's units with sensible rounding: volumes and weights to what the tool can show, cups and
 * spoons as fractions ("3/4 cup + 2 tbsp"), e.g. 354.9 mL, US -> "1 1/2 cups".  Returns bytes written (buf always ends in NUL).
 *
 * a->unit says in what: its own unit where that is metric or of these measures; otherwise, or when unit is NULL, cups and
 * spoons under US and imperial measures, g and mL under metric and none.  (To convert a recipe, set unit to NULL.)
 * Rounded to the largest of 1, 5, 10, 50 ... that is at most 1 %, in SI; cups and spoons within 1 % or an eighth of a
 * teaspoon.  st_quantity_parse reads it back. */
size_t st_quantity_print(const struct st_amount *a, enum st_measures measures, char *buf, size_t size);

#endif
