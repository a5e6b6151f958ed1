#ifndef ST_TEXT_TAKE_RUN_H
#define ST_TEXT_TAKE_RUN_H

#include "take_tokens.h"

/* A run of words of an item that names an ingredient. */
struct st_run {
    int from, n, worth; /* worth: how many words of the text it explains */
    const struct st_ingredient *what;
    char name[ST_LINE_NAME];
};

/* --- take_near.c --- */
/* No words are known: what they are a slip of, in *out, or else the item is unread and asks; proposed is what the words
 * look like and what can be measured so, never a poison. */
bool st_item_near(struct st_item *it, const struct st_tokens *t, struct st_run *out);
/* A known name stands among words that make it another thing ("dried sour cherries" where only fresh ones are known):
 * unread, and asked.  False, as what is not found. */
bool st_item_another(struct st_item *it, const struct st_tokens *t, const struct st_run *run);

#endif
