#ifndef ST_TEXT_PIECE_NAMED_H
#define ST_TEXT_PIECE_NAMED_H

#include "model/jar.h"
#include "model/problem.h"

/* The piece of the jar that a name means, by any of its words: "vanilla" is the vanilla pod.  One that is named in full
 * rules over others that have the words too.  -1 and *problem when there is none, or several. */
int st_jar_piece_named(const struct st_jar *jar, const char *name, size_t size, struct st_problem *problem);

/* A list of names, parted by '|', has a name with this word; NULL has none. */
bool st_name_list_has(const char *names, const char *word);

#endif
