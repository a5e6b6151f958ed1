#ifndef ST_TEXT_TAKE_TAKEN_H
#define ST_TEXT_TAKE_TAKEN_H

#include "take_inside.h"

/* A whole line while it is read, and the items it has given. */
struct st_taken {
    struct st_clean plain, text; /* as pasted without its marks; the same with units written out */
    const struct st_catalogue *c;
    struct st_take_context *context;
    struct st_take_item *item;
    int n;
    size_t start; /* behind bullets and numbers */
    int hashes;   /* Markdown's marks of a heading */
    bool title;   /* "Title: ..." */
};

/* take_marks.c */
struct st_scan st_taken_from(const struct st_taken *l, size_t at);
/* A new item from bytes at..end; the last one again when there is no room. */
struct st_take_item *st_taken_give(struct st_taken *l, enum st_take_role role, size_t at, size_t end);
/* Room for one more?  Where there is none, the last item says so: nothing is left out in silence. */
bool st_taken_has_room(struct st_taken *l);
void st_taken_put(struct st_taken *l, const struct st_take_item *item, size_t at, size_t end);
int st_taken_words(const struct st_taken *l, size_t at);
/* A figure that may be of an amount: no year. */
bool st_taken_has_digit(const struct st_taken *l, size_t at);
/* Behind bullets, boxes, numbers: sets start. */
void st_taken_skip_marks(struct st_taken *l);
/* Where the words end, without signs behind them. */
size_t st_taken_end(const struct st_taken *l);
/* Where the sentence that begins at a byte ends. */
size_t st_taken_sentence(const struct st_taken *l, size_t at);

/* take_goods.c */
void st_goods_read(struct st_taken *l, size_t at, size_t end);
/* Does an amount begin here that has a name of its own? */
bool st_goods_opens(const struct st_taken *l, size_t at, size_t end);
bool st_goods_has_amount(const struct st_take_item *item);
bool st_goods_is_read(const struct st_take_item *item);

/* take_listed.c: "sugar 300 g, water 200 ml": each thing before its amount.  False: no such list, nothing is given. */
bool st_goods_listed(struct st_taken *l, size_t at, size_t end);

#endif
