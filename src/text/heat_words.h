#ifndef ST_TEXT_HEAT_WORDS_H
#define ST_TEXT_HEAT_WORDS_H

#include <stdbool.h>
#include <stddef.h>

/* Words of heat in what a maker writes, and the lists they stand in.  Whole words, capitals or not. */

/* Whether this letter belongs to a word. */
bool st_in_word(unsigned char c);
/* The word or phrase at p is in the list ("|boil|gas ring|"), as a whole; its length, 0 when it is not. */
size_t st_listed(const char *p, const char *list);

/* Something is heated or lit: simmer, boil, flame, hob, oven, water bath, set alight ... ; things of it alone: flame,
 * hob, oven, water bath, radiator ... */
size_t st_fire_word(const char *p);
size_t st_fire_thing(const char *p);
/* A temperature of 40 C (104 F) and more, as written at p: "80 C", "60 °C", "45 degrees C"; the length before C. */
size_t st_fire_degrees(const char *p);
/* Something is hot: hot, boiling, scalding, steaming; 0 before what is hot of taste or in summer. */
size_t st_hot_word(const char *p);
/* No, not, never, without, away ...: they take back what follows. */
size_t st_not_word(const char *p);

/* Something is hot as it is poured: hot, boiling, scalding, steaming, or "at once" where `fresh` (it was boiled just
 * before). A word that takes it back shortly before ("never", "away from") counts.  What is done to a pan, word by
 * word: heat_pan.h. */
bool st_says_hot(const char *words, bool fresh);

/* True when one of the four words before p, in its sentence, is in the list `by`. */
bool st_taken_back(const char *text, const char *p, const char *by);

#endif
