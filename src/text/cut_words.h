#ifndef ST_TEXT_CUT_WORDS_H
#define ST_TEXT_CUT_WORDS_H

#include "model/jar.h"

/* How a line is cut, from the maker's words; a st_cut_reader.
 *
 * Given:    r; step, line of it
 * Returned: the cut; *said: somebody said it
 * Notes:
 *   1. The line's own words rule ("40 g almonds, crushed", "ground cinnamon", "4 damsons, pricked"), then what a pasted
 *      recipe said there, then the words of its step and of the step before it that it came through: there the word
 * must stand with the name of the ingredient ("Prick each damson twice.", "Halve the apricots"), or the sentence must
 * name no ingredient of the step, and then it is of the fruit ("chop everything").
 *   2. "Do not crack the stones", "without crushing", "uncut" say whole.
 *   3. The name of the ingredient may tell it too (ground almonds, cinnamon stick: as bought, which is what its row is
 * of). */
enum st_cut st_cut_of_line(const struct st_recipe *r, int step, int line, bool *said);

/* The cut that a word names: "crushed", "halve", "quarters"; false when it names none. */
bool st_cut_of_word(const char *word, size_t size, enum st_cut *cut);

#endif
