#ifndef ST_TEXT_CUT_WORDS_H
#define ST_TEXT_CUT_WORDS_H

#include "model/jar.h"

/* How a line is cut, from the maker's words; a st_cut_reader.
 *
 * Given:    r; step, line of it
 * Returned: the cut; *said: somebody said it
 * Notes:
 *   1. The line's own words rule ("40 g almonds, crushed", "4 damsons, pricked"), then what a pasted recipe said there,
 *      then the words of its step, then those of the steps that take it on.  In a step's words the deed goes to the
 * thing that its sentence names ("Prick each damson twice.", "Halve the apricots and crush the cardamom"); a sentence
 * that names no solid thing of the step is of the fruit, or of everything where there is no fruit.
 *   2. "Do not crack the damsons", "without crushing", "uncut" say whole.
 *   3. The name of the ingredient may tell it too (ground almonds, cinnamon stick: as bought, which is what its row is
 * of).
 *   4. Of peel: "zest", "zested", "thinly pared", "without the pith", "the white removed" say zest, which has no white;
 *      "peel" alone and "with the pith" have it.  In a step's words this goes to the peel that is named nearest. */
enum st_cut st_cut_of_line(const struct st_recipe *r, int step, int line, bool *said);

/* The cut that a word names: "crushed", "halve", "quarters"; false when it names none. */
bool st_cut_of_word(const char *word, size_t size, enum st_cut *cut);

#endif
