#ifndef ST_TEXT_WHAT_IF_H
#define ST_TEXT_WHAT_IF_H

#include "model/jar.h"
#include "model/problem.h"

/* A jar made otherwise, in a maker's words:
 *   "cloves crushed"            cut: whole, pricked, halved, quartered, sliced, strips, zest, chopped, crushed, ground
 *   "damsons frozen", "fresh"   fruit that is bought either way; without a name all of it
 *   "half the cloves", "2 times the vanilla"
 *   "cloves out on day 3", "vanilla in on day 7"
 *   "spirit 60 %"               every spirit of the jar, the same volume of another strength; "rum 60 %": that one
 *   "30 °C"; "in the fridge", "in the freezer"; "30 °C for 3 days, then 12 °C" (warm_path.h)
 *   "90 days", "6 weeks", "strain on day 10"   the time in the jar
 *   "left still", "turned"      never shaken, or turned now and then
 */

/* What of a jar was changed: two changes of one sort, of one thing, cannot both be. */
enum st_what_kind {
    ST_WHAT_REST,
    ST_WHAT_SPIRIT,
    ST_WHAT_WARMTH,
    ST_WHAT_TIME,
    ST_WHAT_OUT,
    ST_WHAT_IN,
    ST_WHAT_AMOUNT,
    ST_WHAT_BOUGHT,
    ST_WHAT_CUT
};

enum { ST_WHAT_WORDS = 420 };

struct st_what_said {
    enum st_what_kind kind;
    int thing;                 /* piece of the jar; of one spirit its pour; -1 the whole jar */
    double until_s;            /* > 0: a time was said, since the jar was filled */
    char words[ST_WHAT_WORDS]; /* what was understood, a clause such as "cloves crushed" */
};

/* Change *jar accordingly.
 *
 * Given:    text, of the maker; *jar
 * Returned: *jar changed, or as it was when the result is false; *said
 * Result:   false and *problem (what cannot be understood, why, what to write; a name that fits several is a question)
 * Notes:
 *   1. A name is looked for among the pieces of the jar by any of its words: "vanilla" is the vanilla pod.
 *   2. Days are of the last jar, since it was filled; of a thing that lies only in an earlier jar, of the last one that
 *      has it.  "out on day 3" ends the part of that jar in which day 3 falls; it stays what it is in all others.
 *   3. Time and warmth are of the last jar. */
bool st_what_if(const char *text, struct st_jar *jar, struct st_what_said *said, struct st_problem *problem);

/* b, asked beside a, cannot be: the same of the same thing, told twice.  *problem then says so; text_a, text_b: as they
 * were written. */
bool st_what_contradicts(const struct st_what_said *a, const char *text_a, const struct st_what_said *b,
                         const char *text_b, struct st_problem *problem);

#endif
