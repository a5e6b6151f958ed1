#ifndef ST_TEXT_LINE_DRAFT_H
#define ST_TEXT_LINE_DRAFT_H

#include "ingredients.h"
#include "model/recipe.h"
#include "quantity_read.h"

/* An ingredient line while it is read.  What has been understood is blanked out of `work`, which keeps its length, so
 * that what is left is the name and every place is still that of the text. */

enum { ST_LINE_LIMIT = 4096, ST_LINE_NAME = 240 };

struct st_draft {
    const char *text;
    size_t n;
    char work[ST_LINE_LIMIT + 1];
    struct st_ask ask;
    struct st_problem *problem;

    bool has_amount;
    struct st_amount amount;
    bool asks; /* the amount leaves a question */
    struct st_problem question;
    bool ounce; /* an ounce was read: by weight or by volume, as the ingredient is */

    struct st_range strength, temperature;
    size_t strength_at, strength_n;
    bool proof; /* the strength is told in US proof */
    bool pasted,
        dashed; /* pasted: a sign before a strength is a dash, and dashed says that there was one; else it is refused */
    bool gross, net;
    bool tinned;   /* the amount was counted in tins */
    char part[16]; /* "juice", "peel", "zest": the ingredient is that part of what is named */

    char name[ST_LINE_NAME]; /* what is left, tidied */
    size_t name_at;          /* where it begins in the text */
    const struct st_ingredient *what;
};

/* A quantity found in it: bytes at..end. */
struct st_found {
    size_t at, end;
    struct st_amount a;
    enum st_got got;
    struct st_problem problem;
};

/* Each step: 0 done, -1 stopped with *problem. */
int st_draft_strength(struct st_draft *d);
int st_draft_temperature(struct st_draft *d);
void st_draft_weighing(struct st_draft *d); /* "as bought", "pitted" */
int st_draft_amount(struct st_draft *d);
int st_draft_name(struct st_draft *d, const struct st_catalogue *c);

/* "vodka 40", "vodka ABV 40": a figure stands last in the name, which is none.  1: a spirit or wine is there without
 * it, and the figure is taken or asked about; 0: no; -1: stopped. */
int st_draft_bare_strength(struct st_draft *d, const struct st_catalogue *c);

/* "5 cm ginger", "2-inch piece of ginger", "bunch of mint": 1 found, and the amount is now a weight; 0 no. */
int st_draft_rough(struct st_draft *d, const struct st_catalogue *c, const char *name, size_t n);

/* Peeled or with its peel?  A fruit of which both are known is settled by the words of the line, or asked about. */
void st_draft_whole(struct st_draft *d, const struct st_catalogue *c);
/* What the words of the line say: 1 with its peel, -1 without, 0 nothing. */
int st_draft_part_said(const struct st_draft *d);

/* Hot, warm, cold in the name of a liquid. */
void st_draft_warmth(struct st_draft *d);

/* Used by the steps. */
struct st_scan st_draft_from(const struct st_draft *d, size_t at);
void st_draft_blank(struct st_draft *d, size_t from, size_t to);
/* True where a word or number may begin: nothing of one stands before it. */
bool st_draft_is_start(const struct st_draft *d, size_t at);
bool st_draft_is_number(const struct st_draft *d, size_t at);
/* Blank one of the words when it stands right before at. */
void st_draft_blank_before(struct st_draft *d, size_t at, const char *words);
/* The next figure of this dimension from byte `from` on, or what begins like a figure and is none (got tells). */
bool st_draft_next(const struct st_draft *d, enum st_dimension dim, size_t from, struct st_found *out);
/* The first question of a line is the one that is asked. */
void st_draft_question(struct st_draft *d, size_t at, const struct st_problem *p);
struct st_range st_draft_range(const struct st_amount *a);
/* True when one of the words stands in the text as written. */
bool st_draft_says(const struct st_draft *d, const char *words);
__attribute__((format(printf, 5, 6))) int st_draft_stop(struct st_draft *d, size_t at, const char *why,
                                                        const char *try_, const char *what, ...);

/* Words that say the weight is that of the whole fruit, and that it is not. */
#define ST_GROSS_WORDS                                                                                                 \
    "as bought|as picked|as gathered|with stones|with the stones|with stones in|stones in|stone in|with pits|pits in|" \
    "with their stones|with stalks|with stems|with peel|with the peel|with skins|with skin|in their shells|in shells|" \
    "in shell|in the shell|with shells|unpitted|unstoned|unpeeled|unshelled|unhulled|untrimmed|whole weight|gross "    \
    "weight|"                                                                                                          \
    "gross|before pitting|before stoning|before peeling|before trimming"
#define ST_NET_WORDS                                                                                                   \
    "pitted|stoned|destoned|de-stoned|trimmed|hulled|topped and tailed|peeled|shelled|cored|net weight|net|prepared|"  \
    "after pitting|after stoning|after peeling|after trimming|without stones|pitted weight"

#endif
