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

/* take_bare.c: things without an amount beside others ("700 mL vodka 40 %, some wormwood").
 *
 * The words from `at` on that name one thing, or so little of one as nobody measured, and hold no figure: where they end;
 * *what it is, NULL where its name is in no list.  0: they go on with the thing before ("quartered", "zest only"). */
size_t st_goods_bare(const struct st_taken *l, size_t at, size_t end, const struct st_ingredient **what);
/* Do they begin with words for so little ("some", "a bit of")? */
bool st_goods_little(const struct st_taken *l, size_t at, size_t end);
/* What the words from `at` on begin with; NULL no name. */
const struct st_ingredient *st_goods_first_name(const struct st_taken *l, size_t at, size_t end);
/* Where the words about one thing end: at a sign or a linking word outside of brackets. */
size_t st_goods_piece_end(const struct st_taken *l, size_t at, size_t end);
/* Is what stands next..stop, behind the comma at i, the first word of one name turned round ("chocolate, milk")? */
bool st_goods_turned(const struct st_taken *l, size_t at, size_t i, size_t next, size_t stop);
/* Is byte i within a bracket that opens behind `at`? */
bool st_goods_in_brackets(const struct st_taken *l, size_t at, size_t i);

/* take_listed.c: "sugar 300 g, water 200 ml": each thing before its amount.  False: no such list, nothing is given. */
bool st_goods_listed(struct st_taken *l, size_t at, size_t end);

#endif
