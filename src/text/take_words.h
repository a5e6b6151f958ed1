#ifndef ST_TEXT_TAKE_WORDS_H
#define ST_TEXT_TAKE_WORDS_H

#include "model/problem.h"
#include "scan.h"

/* The words that the reader of free recipe text knows: data/take.words, put into the program when it is built. */

enum st_word_class {
    ST_WORD_DROP,     /* says nothing that is reckoned with: "lovely" */
    ST_WORD_REMARK,   /* value: net, gross, hot, part ... : "topped and tailed" */
    ST_WORD_WRITE,    /* value: what is read instead: "gr" -> "g", "tuns" -> "tins"; sure */
    ST_WORD_NAME,     /* value: the name in the sheet */
    ST_WORD_HEADING,  /* value: method, goods, other */
    ST_WORD_NOTHING,  /* begins a line that is left out: "print this page" */
    ST_WORD_PAGE,     /* a line of nothing but these is left out: "share" */
    ST_WORD_NOTE,     /* begins a line of remarks: "serves" */
    ST_WORD_STORY,    /* within a line without a deed, makes it a note: "neighbours asked" */
    ST_WORD_DEED,     /* value: what is done; a kind of step, or decided by the other words */
    ST_WORD_LEAD,     /* stands before the verb of a clause: "then" */
    ST_WORD_TIME,     /* value: a time as st_quantity_parse reads it */
    ST_WORD_USUAL,    /* value: strengths on labels, range first: "37.5..43 40 43 50" */
    ST_WORD_STRONG,   /* value as of USUAL: "navy strength" */
    ST_WORD_BOTTLE,   /* value: sizes in mL, range first */
    ST_WORD_MAYBE,    /* "if you like" */
    ST_WORD_LESS,     /* "or a little less": the low end goes down */
    ST_WORD_MEASURES, /* value: us, metric, imperial */
    ST_WORD_NOT,      /* "no", "without", "don't" */
    ST_WORD_POISON,   /* never goes into a drink */
    ST_WORD_SAME,     /* "the same weight of" */
    ST_WORD_COUNT,    /* may begin an amount: "a", "half", "handful" */
    ST_WORD_LENGTH,   /* units of length: "inch" */
    ST_WORD_WHICH,    /* a name that means several things; value: they, parted by ; */
    ST_WORD_HAND,     /* what a hand holds, or a strip, of this sort; value: g of one, low..high middle */
    ST_WORD_PIECE,    /* a piece of something: "sprig" */
    ST_WORD_TITLE,    /* ends the name of a drink: "liqueur" */
    ST_WORD_OTHER,    /* makes another thing of what it stands beside: "dried", "juice" */
    ST_WORD_SPELL,    /* value: what is read instead in a sentence of the method: "mths" -> "months" */
    ST_WORD_PAST,     /* value: the verb as a recipe has it: "strained" -> "strain" */
    ST_WORD_FEAST,    /* a day of the year that a steep may last until: "thanksgiving" */
    ST_WORD_VESSEL,   /* what holds things, and is no amount: "pitcher" */
    ST_WORD_TONGUE,   /* of another language; value: which */
    ST_NWORD
};

#define ST_WORD_BIT(c) (1ull << (unsigned)(c))

struct st_word {
    enum st_word_class what;
    const char *phrase, *value; /* lower case; "" none */
};

/* The longest phrase of the classes (bits) that begins at s, where a word must begin; s goes behind it.
 * NULL: none, s stays. */
const struct st_word *st_words_at(struct st_scan *s, unsigned long long classes);

/* The value of just this phrase, or NULL. */
const char *st_words_value(enum st_word_class what, const char *phrase);

/* Is text a list of words in the form that data/README.md tells?  0, or -1 with *problem. */
int st_words_check(const char *text, size_t size, struct st_problem *problem);

#endif
