#ifndef ST_TEXT_NEAR_H
#define ST_TEXT_NEAR_H

#include <stdbool.h>
#include <stddef.h>

/* How like two words are: 0 (nothing in common) to 1 (the same).
 * Edits counted: a letter put in, left out, another one, or two neighbours swapped; over the longer length.
 * Only the first 60 bytes count. */
double st_near_word(const char *a, size_t na, const char *b, size_t nb);

/* How like two names are, word by word whatever their order: each word seeks its best partner, longer words weigh more.
 * Both as st_name_join gives them (words parted by one space). */
double st_near_name(const char *a, const char *b);

/* Whether b may be offered for a: each word of a, but for how it is (dried, fresh), has one in b that differs by no more than one edit in four letters,
 * doubled letters counting once, and these hold at least half of the letters of b.  A word without its like makes
 * another thing of it ("cow parsley" is no parsley), and so does the end of a salt.  Names as above. */
bool st_near_enough(const char *a, const char *b);

/* The one of n keys most like word, or NULL when none is more than half like it. */
const char *st_near_key(const char *word, const char *const key[], size_t n);

#endif
