#ifndef ST_TEXT_TAKE_INSIDE_H
#define ST_TEXT_TAKE_INSIDE_H

#include "line_draft.h"
#include "take_clean.h"
#include "take_line.h"
#include "take_words.h"

/* What the files take_*.c share: one item while it is read.  What was understood is blanked out of `work`, which keeps
 * its length; what is left is the name. */

/* Behind these words stands what a thing was made of. */
#define ST_MADE_OF "made with|made from|made of|brewed with|brewed from|pressed from|squeezed from"

enum { ST_ITEM_LIMIT = 400, ST_ITEM_AMOUNTS = 4, ST_ITEM_WORDS = 24 };

/* An amount found in an item. */
struct st_sum {
    size_t at, end;
    struct st_amount a;
    bool question;              /* which measures? a is one of the meanings */
    bool made;                  /* words are not those of the text */
    bool comma;                 /* question of another sort: thousands or a decimal point */
    const struct st_word *size; /* a bottle, a tin: its value tells sizes */
    double times;               /* so many of them */
    char words[96];             /* as it is read again */
};

struct st_item {
    const struct st_catalogue *c;
    struct st_take_context *context;
    struct st_take_item *out;
    struct st_draft d; /* text, work and what st_draft_strength finds */
    struct st_sum sum[ST_ITEM_AMOUNTS];
    int n_sum, main;              /* main: which amount counts, -1 none */
    const struct st_word *strong; /* "navy strength" */
    const char *part;             /* "juice", "peel", "" */
    const char *piece;            /* word for the piece, in text; NULL */
    size_t n_piece;
    char name[ST_LINE_NAME]; /* words by which it was found */
    char remark[64];         /* "topped and tailed" */
    char wrong[80];          /* why an amount that is written is none: "it is far too large"; "" none */
    double too_strong;       /* "140 %": a strength that cannot be; 0 none */
    const struct st_ingredient *what;
    const char *bare; /* the fruit whose whole is meant: "lemons"; NULL */
    bool gross, net, hot, less, same, length, conflict, whole,
        unit_like; /* unit_like: a word stands where a unit would */
};

/* Read one item from n bytes of text into *out (at and n are left to the caller).  False when the words hold neither an
 * amount nor an ingredient. */
bool st_item_read(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context,
                  struct st_take_item *out);

/* take_amount.c: find the amounts, blank them, and choose. */
void st_item_amounts(struct st_item *it);
void st_item_choose(struct st_item *it);
/* Fluid ounces, wine bottles: read the amounts again with what the ingredient tells. */
void st_item_reread(struct st_item *it);

/* take_or.c: another thing that will do ("gin or vodka"), blanked; and where the part is told, that part of it. */
void st_item_or(struct st_item *it);
void st_item_other_part(struct st_item *it);

bool st_item_amount_at(struct st_item *it, size_t at);         /* does one begin at this byte? */
bool st_item_only_blanks(const struct st_item *it, size_t at); /* nothing but blanks and brackets before it */

/* take_part.c: the part that is told, blanked. */
void st_item_part(struct st_item *it);

/* take_item.c: the bytes of "most of the " at this byte of a text, 0 none. */
size_t st_item_share(const char *text, size_t at, size_t end);

/* take_name.c: find the ingredient in what is left; false: *out tells what was near. */
bool st_item_name(struct st_item *it);

/* take_again.c: the line in the house's own words, parsed, and its questions. */
void st_item_say(struct st_item *it);

/* The options of a question about the name, as lines. */
void st_item_options(struct st_item *it);

/* Say why it is not sure, and how sure at most. */
__attribute__((format(printf, 3, 4))) void st_item_doubt(struct st_take_item *out, enum st_sure sure, const char *why,
                                                         ...);
struct st_take_ask *st_item_ask(struct st_take_item *out, enum st_take_kind kind, const char *ask);

/* The sheet of usual strengths, sizes: "37.5..43 37.5 40 43". */
struct st_usual {
    double low, high, option[ST_TAKE_OPTIONS];
    int n_option;
};
void st_usual_read(const char *value, struct st_usual *out);

/* take_deed.c: one sentence of a method; items into item[], how many of at most room.  filled: before it in the same
 * line something was put into a jar, so that "store it" is a steep. */
bool st_deed_begins(const char *text, size_t n);
int st_deed_read(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context, bool filled,
                 struct st_take_item item[], int room);

/* take_point.c: "1.000 g" is taken one way, and asked; text: the line that item->at and n are of. */
void st_item_points(struct st_take_item *item, const char *text, size_t n);

/* take_unknown.c */
/* Is there a word in these bytes that the program knows in no way, and no name of an ingredient? */
bool st_take_has_unknown(const struct st_catalogue *c, const char *text, size_t at, size_t end);

/* True where a word begins in text at i. */
bool st_word_begins(const char *text, size_t i);

#endif
