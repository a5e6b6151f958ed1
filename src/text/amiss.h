#ifndef ST_TEXT_AMISS_H
#define ST_TEXT_AMISS_H

#include <stdbool.h>
#include <stddef.h>

/* Do these n bytes tell of something that has gone wrong with a drink ("smells funny, fizzes")?  By words that name no
 * ingredient and no deed of a recipe; what it is, "stillroom rescue" finds. */
bool st_says_amiss(const char *text, size_t n);

/* The first clauses of a sentence, one behind the other, that tell of it: ", smells funny, fizzes" in "... in a jar, smells
 * funny, fizzes".  Without a figure, and no condition ("until it stops fizzing").  Bytes from *at on, 0 none. */
size_t st_amiss_clause(const char *sentence, size_t *at);

#endif
