#ifndef ST_TEXT_TAKE_TOKENS_H
#define ST_TEXT_TAKE_TOKENS_H

#include "take_inside.h"

/* The words of an item that are left when its amounts and remarks are blanked: what its name is sought in. */

struct st_token {
    char word[40]; /* as looked up: small letters, or what the words list writes instead */
    size_t at, n;  /* in work */
    int part;      /* 0 before the first comma, bracket or "for"; then 1, 2 ... */
    bool drop, renamed;
};

struct st_tokens {
    struct st_token of[ST_ITEM_WORDS];
    int n;
};

/* The words, in order; rename: phrases of class `name` give what the words list writes instead. */
void st_tokens_split(const struct st_item *it, struct st_tokens *t, bool rename);
/* Mark words that say nothing: phrases of the list, from where they begin. */
void st_tokens_drop(const struct st_item *it, struct st_tokens *t);
/* n of them from `from` on, parted by blanks; bytes. */
size_t st_tokens_join(const struct st_tokens *t, int from, int n, char *out, size_t size);
bool st_token_is_piece(const struct st_token *k);
bool st_token_is_number(const struct st_token *k);
/* Words of the rest that may be a name, without what says nothing; pieces: "stick" is kept. */
size_t st_tokens_bare(const struct st_tokens *t, bool pieces, char *out, size_t size);

#endif
