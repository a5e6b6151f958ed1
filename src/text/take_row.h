#ifndef ST_TEXT_TAKE_ROW_H
#define ST_TEXT_TAKE_ROW_H

#include "take_whole.h"

/* The rows that a text is parted into, and what is told in rows of their own beside the things of a sentence. */

/* --- take_row.c --- */
/* A row for words of this sentence (both of the arena), by where the reading stands; NULL: the text is too long, which
 * the taking remembers. */
struct st_taken *st_take_new_row(struct st_parting *p, const char *sentence, const char *own);
/* A remark: kept, and not reckoned with. */
void st_take_note_row(struct st_parting *p, const char *sentence);
/* The row gets its number within its line; what the maker says it is instead replaces it. */
void st_take_change_row(struct st_parting *p, struct st_taken *r);

/* --- take_aside.c ---
 * Each gives the sentence with what it told blanked out, as long as before: places in it stay true. */
/* What no step can say. */
const char *st_take_put_unreckoned(struct st_parting *p, const char *own);
/* Days, which hold for the rows after them; a length of time ("after six weeks") stays in the sentence too. */
const char *st_take_put_days(struct st_parting *p, const char *own);
/* A volume that came off, which is a reading; shown: the sentence as written. */
const char *st_take_put_came_off(struct st_parting *p, const char *shown, const char *own);
/* What has gone wrong, in the maker's words. */
const char *st_take_put_amiss(struct st_parting *p, const char *own);
/* What a sentence puts in and nobody knows.  found: items whose places are those of the sentence; read: of all. */
void st_take_put_unknown(struct st_parting *p, const char *sentence, const struct st_take_item item[], int found,
                         int read);

/* --- take_joined.c --- */
/* The line that begins at *from, with those that go on from it, in joined; *from is moved behind them, *number is the
 * number of the last. */
void st_take_next_line(struct st_parting *p, const char **from, int *number, struct st_buf *joined);

#endif
