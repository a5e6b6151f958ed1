#ifndef ST_API_DOC_TAKE_H
#define ST_API_DOC_TAKE_H

#include "api/doc.h"
#include "text/take.h"

/* What a deed was read as: "steep, 6 weeks, pressed". */
void st_deed_words(char *buf, size_t size, const struct st_take_deed *d);

/* How many rows were not understood, and are in no figure. */
int st_take_left_out(const struct st_take *t);

/* A text that was read: title, rows, questions, more_questions, said, recipe.  foretold is taken over; NULL: nothing
 * could be foretold, and because says why. */
json_t *st_doc_take(const struct st_take *t, json_t *foretold, const char *because);

#endif
