#ifndef ST_TEXT_WHAT_IF_H
#define ST_TEXT_WHAT_IF_H

#include "model/jar.h"
#include "model/problem.h"

/* A jar made otherwise, in a maker's words:
 *   "cloves crushed"            cut: whole, pricked, halved, quartered, sliced, strips, zest, chopped, crushed, ground
 *   "damsons frozen", "fresh"   fruit that is bought either way
 *   "half the cloves", "2 times the vanilla"
 *   "cloves out on day 3", "vanilla in on day 7"
 *   "spirit 60 %"               every spirit of the jar, the same volume of another strength
 *   "30 °C"; "in the fridge"    (4 °C, common practice, no source)
 *   "90 days", "6 weeks"        the whole time
 *   "left still", "turned"      never shaken, or turned now and then
 */

/* Change *jar accordingly.
 *
 * Given:    text, of the maker; *jar
 * Returned: *jar changed, or as it was when the result is false; until_s set by a time (else untouched);
 *           words: what was understood, a clause such as "cloves crushed", of at most size bytes
 * Result:   false and *problem (what cannot be understood, why, what to write; a name that fits several is a question)
 * Notes:
 *   1. A name is looked for among the pieces of the jar by any of its words: "vanilla" is the vanilla pod.
 *   2. "out on day 3" is counted from the beginning of the jar, and ends the stage in which the piece lies then. */
bool st_what_if(const char *text, struct st_jar *jar, double *until_s, char *words, size_t size,
                struct st_problem *problem);

/* The piece of the jar that a name means; -1 and *problem when there is none, or several. */
int st_jar_piece_named(const struct st_jar *jar, const char *name, size_t size, struct st_problem *problem);

#endif
