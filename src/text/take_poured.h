#ifndef ST_TEXT_TAKE_POURED_H
#define ST_TEXT_TAKE_POURED_H

#include "take_whole.h"

/* A spirit whose amount is told by what it does, read out of a sentence. */
struct st_take_poured {
    struct st_take_item item;
    const char *rest; /* the sentence without it, every other byte in its place */
};

/* "... filled up with gin and 200 g sugar", "covered with rum, about a bottle and a half", "and the rest gin".
 * Given: the sentence, and the n items that were read in it. Returned: *out, where a spirit is poured that is in none
 * of them. False: there is none. */
bool st_take_poured(struct st_parting *p, const char *sentence, const struct st_take_item item[], int n,
                    struct st_take_poured *out);

/* A spirit that the text names, where no drink at all is among what goes in; NULL when there is nothing to tell. */
const struct st_ingredient *st_take_lost_spirit(const struct st_taking *t);

/* Does text speak of these n bytes, as a whole word, just once? */
bool st_take_is_named_once(const char *text, const char *name, size_t n);

#endif
