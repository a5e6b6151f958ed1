#ifndef ST_TEXT_TAKE_PROSE_H
#define ST_TEXT_TAKE_PROSE_H

#include "take_whole.h"

/* What prose says of a thing apart from its place in a list: what is left out, and amounts that stand behind the name.
 */

/* --- take_denied.c --- */
/* The next words, from byte `from` on, that say that something does not go in ("I leave out the cloves"; "some people
 * add a clove; I don't"): where, and how many bytes; 0 none.  "... if you like" is no such thing. */
size_t st_take_denied(const char *text, size_t from, size_t *at);
/* A thing of the list that a sentence leaves out is left out, and says so. */
void st_take_leave_out_denied(struct st_taking *t);

/* --- take_away.c --- */
/* The first clause of a sentence that no step can say: what is taken out again ("pour away 400 ml of the liquor"), goes
 * in by a part only ("use only 700 ml of the vodka"; whole: where the rest of it may be spoken of), or is multiplied
 * ("double everything").  Returned: where it stands, and what to tell of it ("not reckoned: ..."); NULL none. */
const char *st_take_away(const char *sentence, const char *whole, size_t *at, size_t *n);

/* --- take_unknown.c --- */
/* The next thing from byte *from on that a sentence puts in ("stir in the quonk") and whose name nobody knows: *from,
 * and its bytes; false: none. */
bool st_take_unknown_in(const struct st_catalogue *c, const char *sentence, size_t *from, size_t *n);

/* --- take_behind.c --- */
/* "raspberries (maybe 400 g)", "the sugar, about 200 g, ": at a byte where a name begins that has its amount behind it.
 * Bytes, and in *out (of the arena) what is read instead: "about 400 g raspberries"; 0 none. */
size_t st_take_amount_behind(struct st_arena *a, const struct st_catalogue *c, const char *text, size_t at,
                             const char **out);

/* --- take_verbless.c --- */
/* The first time told in a text, and where. */
bool st_take_time_at(const struct st_taking *t, const char *text, struct st_amount *out, size_t *where);
/* The item becomes a deed, likely by these words; its place stays. */
void st_take_make_deed(struct st_take_item *item, enum st_do kind, const char *why);

/* --- take_part_told.c --- */
/* "10 lemons" in the list, and in the method "peel the lemons and put the peel into the jar": the peel goes in. */
void st_take_part_told(struct st_taking *t);

/* --- take_tongue.c --- */
/* Lines in another language than English are not read: said once, plainly. */
void st_take_say_tongue(struct st_taking *t);

/* --- take_unknown.c --- */
/* A weight or volume of a sentence that came into none of its items, with a name nobody knows: "600 g Schlehen" of "600 g
 * Schlehen in 700 ml gin".  Its bytes from *at on, 0 none. */
size_t st_take_amount_left(const struct st_taking *t, const char *sentence, const struct st_take_item item[], int found,
                           size_t *at);
/* What such a thing is, is asked; its amount is kept. */
void st_take_ask_what(const struct st_taking *t, struct st_take_item *item, const char *words, size_t n);

#endif
